"""A file of facts taken to pieces: entries of a YAML, rows of a CSV, notes; so that what is a crew's own can be told from what was copied.

Text in, text out: comments and the way a value was typed are kept as they are.
"""

from __future__ import annotations

import csv
import hashlib
import io
import re
from collections.abc import Iterable


def digest(text: str) -> str:
    """Ten hexadecimal digits; line ends and blanks at the edges do not count."""
    return hashlib.sha256("\n".join(line.rstrip() for line in text.strip().splitlines()).encode()).hexdigest()[:10]


def rows(text: str) -> list[str]:
    """Lines, whatever ends them."""
    return text.removeprefix("\ufeff").splitlines()


def entries(text: str) -> dict[str, str]:
    """{top-level key: its lines, without notes that stand alone}; a key given twice keeps both."""
    found: dict[str, list[str]] = {}
    key = ""
    for line in rows(text):
        if re.match(r"\s*#", line):
            continue
        if head := re.match(r"([^\s#\-][^:]*):(\s|$)", line):
            key = head[1].strip("\"'")
        if key:
            found.setdefault(key, []).append(line)
    return {key: "\n".join(lines).rstrip() for key, lines in found.items()}


def blocks(text: str) -> dict[str, str]:
    """{top-level key: its lines with the notes above and inside it}."""
    found: dict[str, list[str]] = {}
    key, above = "", list[str]()
    for line in rows(text):
        if head := re.match(r"([^\s#\-][^:]*):(\s|$)", line):
            key = head[1].strip("\"'")
            found.setdefault(key, []).extend([*above, line])
            above = []
        elif line.startswith("#") or not line.strip():
            above.append(line)
        elif key:
            found[key].extend([*above, line])
            above = []
    if key:
        found[key].extend(above)
    return {key: "\n".join(lines).strip("\n") for key, lines in found.items()}


def notes(text: str) -> list[str]:
    """Lines that are nothing but a note."""
    return [line.strip() for line in rows(text) if line.lstrip().startswith("#")]


def cells(text: str) -> tuple[list[str], list[list[str]], list[str]]:
    """(heads, rows of cells, notes) of a CSV, whichever mark stands between its cells."""
    text = text.removeprefix("\ufeff")
    first = next((line for line in text.splitlines() if line.strip() and not line.startswith("#")), "")
    read = [row for row in csv.reader(io.StringIO(text, newline=""), delimiter=";" if first.count(";") > first.count(",") else ",") if any(cell.strip() for cell in row)]
    data = [[cell.strip() for cell in row] for row in read if not row[0].startswith("#")]
    return (data[0] if data else []), data[1:], notes(text)


def row_text(cells_of: Iterable[str]) -> str:
    """One row as our CSV files are written."""
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow(list(cells_of))
    return out.getvalue()


def pieces(name: str, text: str) -> set[str]:
    """Digests of a whole file and of its entries, rows and notes."""
    found = {digest(text), *map(digest, notes(text))}
    if name.endswith(".yaml"):
        found |= set(map(digest, entries(text).values()))
    elif name.endswith(".csv"):
        heads, data, _ = cells(text)
        found |= {digest(row_text(row)) for row in [heads, *data]}
    return found
