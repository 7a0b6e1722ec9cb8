"""The file that is taken out of a phone (assets/takeout.js), read into tables: one row for each line of a record."""

from __future__ import annotations

import hashlib
import json
import re
from collections import defaultdict
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pandas as pd

_HEAD = re.compile(rb'^\{"sprayers-almanac-journal":(\d{1,6}),"sha256":"([0-9a-f]{64})"\}$')
EDITION = 1
_PARTS = {"dev", "n", "at", "rec", "row", "field", "text", "unit", "when", "prev"}


class RecordsError(ValueError):
    """A file that cannot be trusted: what was wanted, what came, how to mend."""


@dataclass
class _Place:
    heads: set[str] = field(default_factory=set)
    replaced: set[str] = field(default_factory=set)


def _edits(path: Path) -> list[dict[str, Any]]:
    data = path.read_bytes()
    first, _, body = data.partition(b"\n")
    found = _HEAD.match(first)
    if not found:
        raise RecordsError(f"{path}:1: wanted the file that a phone takes out; came {first[:40]!r}; take it out again on the records page")
    if int(found[1]) != EDITION:
        raise RecordsError(f"{path}:1: wanted edition {EDITION}; came {int(found[1])}; get the newest edition of this handbook first")
    if hashlib.sha256(body).hexdigest().encode() != found[2]:
        raise RecordsError(f"{path}:2: wanted the file as it was taken out; came one in which something changed since; take it out again")
    edits = []
    for number, line in enumerate(body.decode().splitlines(), 2):
        try:
            one = json.loads(line)
        except json.JSONDecodeError:
            raise RecordsError(f"{path}:{number}: wanted a line of JSON; came {line[:40]!r}; take the file out again") from None
        if isinstance(one, dict) and isinstance(one.get("edit"), dict):
            if set(one["edit"]) != _PARTS:
                raise RecordsError(f"{path}:{number}: wanted an edit with {len(_PARTS)} parts; came {sorted(one['edit'])}; get the newest edition of this handbook first")
            edits.append(one["edit"])
    return edits


def standing(paths: list[Path]) -> pd.DataFrame:
    """What stands in all files together: columns record, row, field, text, unit, when. Files may overlap: an edit counts once.

    Two edits that did not see each other both stand in the journal; the later by its logical clock is taken here, as a phone shows it.
    """
    edits: dict[str, dict[str, Any]] = {}
    for path in paths:
        for edit in _edits(path):
            name = f"{edit['dev']}.{edit['n']}"
            if name in edits and edits[name] != edit:
                raise RecordsError(f"{path}:1: wanted one edit of the name {name}; came two; one of the devices is a copy of the other")
            edits[name] = edit
    places: dict[tuple[str, str, str], _Place] = defaultdict(_Place)
    for name, edit in edits.items():
        place = places[edit["rec"], edit["row"], edit["field"]]
        place.replaced |= set(edit["prev"])
        place.heads.add(name)
    rows: list[Any] = []
    alive: dict[tuple[str, str], set[str]] = defaultdict(set)
    for (record, row, _), place in places.items():
        alive[record, row] |= place.heads - place.replaced
    for (record, row, named), place in places.items():
        heads = [edits[name] for name in place.heads - place.replaced]
        if not heads or _gone(edits, places, alive, record, row) or _gone(edits, places, alive, record, "*"):
            continue
        last = max(heads, key=lambda edit: (edit["at"], edit["dev"], edit["n"]))
        if last["text"].strip():
            rows.append((record, row, named, last["text"].strip(), last["unit"], last["when"]))
    return pd.DataFrame(rows, columns=["record", "row", "field", "text", "unit", "when"])


def _gone(edits: dict[str, Any], places: dict[tuple[str, str, str], _Place], alive: dict[tuple[str, str], set[str]], record: str, row: str) -> bool:
    """A line (or a whole record, row "*") that was taken out by an edit which saw all that stands in it."""
    place = places.get((record, "" if row == "*" else row, "~gone"))
    removals = [edits[name] for name in place.heads - place.replaced] if place else []
    if not removals or any(edit["text"] != "yes" for edit in removals):
        return False
    saw = {name for edit in removals for name in (f"{edit['dev']}.{edit['n']}", *edit["prev"])}
    here = set().union(*(some for (other, _), some in alive.items() if other == record)) if row == "*" else alive[record, row]
    return here <= saw
