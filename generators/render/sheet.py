"""A table as CSV, safe to open in a spreadsheet."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator

from generators.table import Table, TextTable

_NUMBER = re.compile(r"-\d+(\.\d+)?( \((care|stop)\))?")


def _safe(text: str) -> str:
    """A cell that a spreadsheet will not run as a formula. A dash in front is fine on a number, and on nothing else."""
    first = text.lstrip()[:1]
    runs = first in ("=", "+", "@", "＝", "＋", "＠") or text[:1] in ("\t", "\r", "\n") or (first == "-" and not _NUMBER.fullmatch(text))
    return "'" + text if runs else text


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
