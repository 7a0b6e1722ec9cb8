"""Files that older folders had and this edition has no more: their own rows carried to where they are read now."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generators.facts.law import COLUMNS
from generators.facts.law_before import FILES_BEFORE
from generators.starter.pieces import cells, digest, entries, row_text

_LAW = {f"site_data/{file}": (subject, turn) for subject, (file, _, turn) in FILES_BEFORE.items()}
MOVED = (*_LAW, "site_data/regions.yaml")


def moved(name: str, text: str, known: frozenset[str]) -> Iterator[tuple[str, str, str]]:
    """(file it belongs to now, head and rows as text, what to say) for the rows that were never the stock's."""
    if name not in _LAW:
        return
    subject, turn = _LAW[name]
    heads, data, _ = cells(text)
    rows: list[dict[str, Any]] = []
    for row in data:
        if digest(row_text(row)) in known:
            continue
        was = dict(zip(heads, row, strict=False))
        try:
            rows.append(dict.fromkeys(COLUMNS, "") | {key: was[key] for key in ("region", "checked", "basis", "source")} | turn(was))
        except KeyError:
            continue  # told by `unmoved`
    if rows:
        yield f"site_data/law/{subject}.csv", "\n".join([row_text(COLUMNS), *(row_text(row[column] for column in COLUMNS) for row in rows)]) + "\n", f"{len(rows)} rows of yours"


def unmoved(name: str, text: str, known: frozenset[str], place: str) -> list[str]:
    """What nobody can carry over without asking."""
    if name == "site_data/regions.yaml":
        theirs = [key for key, entry in entries(text).items() if digest(entry) not in known]
        first = theirs[0] if theirs else ""
        said = f"{name}: your words for {', '.join(theirs)} lie in {place}; put what still holds into site_data/regions/{first}.yaml (`almanac own regions/{first}.yaml` makes it yours)"
        return [said] if theirs else []
    heads, data, _ = cells(text)
    wanted = FILES_BEFORE[_LAW[name][0]][1]
    strange = [row for row in data if digest(row_text(row)) not in known and len(row) != len(wanted)]
    return [f"{name}: {len(strange)} rows could not be read and lie in {place}"] if strange or tuple(heads) != wanted else []


def mended(name: str, text: str, see_to: list[str]) -> str:
    """A crew's own file with what this edition reads otherwise."""
    return text
