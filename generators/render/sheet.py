"""A table as CSV, safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from generators.table import Table, TextTable


def _safe(text: str) -> str:
    """A cell that a spreadsheet will not run as a formula."""
    return "'" + text if text[:1] in ("=", "+", "@", "\t", "\r") or (text[:1] == "-" and not text[1:2].isdigit()) else text


def _rows(table: Table | TextTable) -> Iterator[list[str]]:
    if isinstance(table, TextTable):
        yield list(table.heads)
        yield from map(list, table.rows)
        return
    yield [f"{table.rows.label} [{table.rows.unit}]" if table.rows.unit else table.rows.label, *table.columns.heads]
    for head, cells in table.grid():
        yield [head, *(cell.text.replace("−", "-") + (f" ({cell.zone})" if cell.zone in ("care", "stop") else "") for cell in cells)]


def csv_text(table: Table | TextTable) -> str:
    """Heads, then rows; dashes stay dashes; zones follow the number as a word."""
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(map(_safe, row) for row in _rows(table))
    return out.getvalue()
