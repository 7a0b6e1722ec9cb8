"""A table as CSV, safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import io

from generators.table import Table


def _safe(text: str) -> str:
    """A cell that a spreadsheet will not run as a formula."""
    return "'" + text if text[:1] in ("=", "+", "@", "\t", "\r") or (text[:1] == "-" and not text[1:2].isdigit()) else text


def table_csv(table: Table) -> str:
    """Heads, then rows; dashes stay dashes; zones follow the number as a word."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([_safe(f"{table.rows.label} [{table.rows.unit}]" if table.rows.unit else table.rows.label), *map(_safe, table.columns.heads)])
    for head, cells in table.grid():
        writer.writerow([_safe(head), *(_safe(cell.text.replace("−", "-")) + (f" ({cell.zone})" if cell.zone in ("care", "stop") else "") for cell in cells)])
    return out.getvalue()
