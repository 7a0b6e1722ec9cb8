"""Spreadsheets of any dialect as rows of text: commas, semicolons or tabs, UTF-8 or UTF-16, .xlsx and .ods. A row keeps the number it has there."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from generators import layers

BOOKS = (".xlsx", ".ods")
MOST_ROWS, MOST_COLUMNS = 20_000, 200


class SheetError(Exception):
    """What is wrong with a sheet, at which line, and how to mend it."""

    def __init__(self, line: int, wanted: str, came: str, mend: str) -> None:
        self.line, self.wanted, self.came, self.mend = line, wanted, came, mend
        super().__init__(came)


def place_of(path: Path) -> Path:
    """The file that stands for a CSV: itself, or a workbook of the same name where there is no CSV."""
    if path.is_file() or path.is_symlink() or path.exists():
        return path
    return next((path.with_suffix(suffix) for suffix in BOOKS if path.with_suffix(suffix).is_file()), path)


def there(root: Path, name: str) -> bool:
    """True where the crew has this CSV or a workbook of its name, or where the stock under it has it."""
    return place_of(Path(root) / name).is_file() or layers.there(root, name)


def decoded(raw: bytes) -> str:
    """Text of a file in UTF-8 or in UTF-16 as spreadsheets save it; UnicodeDecodeError for all else."""
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return raw.decode("utf-16")
    half = raw[:400]
    if len(half) >= 4 and half[1::2].count(0) > 0.4 * len(half) / 2 and half[::2].count(0) == 0:
        return raw.decode("utf-16-le")
    return raw.decode("utf-8-sig")


def _divider(text: str) -> str:
    """What stands between cells: whichever is most in the first line that is no note, outside quotes."""
    first = next((line for line in text.splitlines() if line.strip() and not line.lstrip('"').startswith("#")), "")
    bare = "".join(part for place, part in enumerate(first.split('"')) if place % 2 == 0)
    return max((",", ";", "\t"), key=lambda mark: (bare.count(mark), mark == ","))


def _text_rows(text: str) -> Iterator[tuple[int, list[str]]]:
    if text[:4].lower() == "sep=":  # a first line that some spreadsheets write
        divider, skip = text[4:5], 1
        text = text.partition("\n")[2]
    else:
        divider, skip = _divider(text), 0
    reader = csv.reader(io.StringIO(text, newline=""), strict=True, delimiter=divider)
    end = 0
    try:
        for cells in reader:
            line, end = end + 1, reader.line_num
            yield line + skip, cells
    except csv.Error as error:
        raise SheetError(reader.line_num + skip, "CSV", str(error), "mend the quotes on that line") from None


def _cell(value: Any) -> str:
    """A workbook's cell as it would be typed: whole numbers without a point, days as year-month-day."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:.12g}" if "e" not in f"{value:.12g}" else f"{value:f}"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    if isinstance(value, (date, time, timedelta)):
        return value.isoformat() if isinstance(value, (date, time)) else f"{value.total_seconds() / 3600:g} h"
    return str(value)


def _book_rows(path: Path) -> Iterator[tuple[int, list[str]]]:
    """Rows of a workbook's first sheet. Rows as they are numbered there, empty ones at the end of a row left off."""
    from python_calamine import CalamineWorkbook

    try:
        book = CalamineWorkbook.from_path(str(path))
        names = book.sheet_names
        if not names:
            raise SheetError(1, "a workbook with a sheet", "none", "put the table on its first sheet")
        sheet = book.get_sheet_by_name(names[0])
        if sheet.total_height > MOST_ROWS or sheet.total_width > MOST_COLUMNS:
            raise SheetError(1, f"at most {MOST_ROWS} rows and {MOST_COLUMNS} columns", f"{sheet.total_height} and {sheet.total_width}", "clear what stands far down or far right")
        rows = sheet.to_python(skip_empty_area=False)
    except SheetError:
        raise
    except Exception as error:  # a damaged archive shows itself in many ways
        raise SheetError(1, "a workbook that can be opened", " ".join(str(error).split())[:80] or type(error).__name__, "save it anew, or as CSV") from None
    wide = max((len(row) for row in rows if any(str(cell).strip() for cell in row)), default=0)
    wide = next((place for place in range(wide, 0, -1) if any(len(row) >= place and str(row[place - 1]).strip() for row in rows)), 0)
    for line, row in enumerate(rows, 1):
        yield line, [_cell(cell) for cell in row[:wide]]


def rows_of(path: Path, text: str | None) -> Iterator[tuple[int, list[str]]]:
    """(line, cells) of a workbook, or of a text."""
    return _book_rows(path) if text is None else _text_rows(text)
