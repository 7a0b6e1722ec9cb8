"""A crew's folder carried to this edition: what the stock changed, what that touches of theirs, and older folders taken to pieces.

A folder of before held a copy of everything. Whatever in it was ever stock is left to the stock; the rest is theirs and
stays, with its notes and the way it was typed. All that was there goes whole into `before-upgrade`, so nothing can be lost.
"""

from __future__ import annotations

import difflib
import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from generators import layers
from generators.starter import before
from generators.starter.known import known
from generators.starter.pieces import blocks, cells, digest, entries, notes, row_text
from generators.starter.seen import keep, seen, texts
from generators.version import NUMBER

BEFORE = "before-upgrade"
_READ = ("handbook/safety/", "site_data/law/", "site_data/stops.yaml", "site_data/protection.yaml", "site_data/limits.yaml")  # shown line by line
_SOURCES = ("handbook", "site_data", "mkdocs.yml")


@dataclass
class Told:
    """What an upgrade has to say: a line for each thing kept, left to the stock, changed by the stock, or for a person to see to."""

    since: str
    changed: dict[str, list[str]] = field(default_factory=dict)  # {stock file: lines of difference}
    touches: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    see_to: list[str] = field(default_factory=list)

    def as_json(self) -> dict[str, object]:
        """The same as plain data."""
        return {"since": self.since, "edition": NUMBER, "changed": self.changed, "touches_yours": self.touches, "kept": self.kept, "left_to_the_stock": self.left, "see_to": self.see_to}

    def lines(self) -> Iterator[str]:
        """For a person: yours first, then the stock's."""
        yield f"from {self.since} to edition {NUMBER}"
        yield from changes_since(self.since)
        for head, said in (("to see to", self.see_to), ("yours, and the stock changed beneath it", self.touches), ("yours, kept", self.kept)):
            if said:
                yield f"{head}:"
                yield from (f"  {line}" for line in said)
        if self.left:
            yield f"left to the stock from now on: {len(self.left)} files that were copies of it"
        if self.changed:
            yield f"the stock changed {len(self.changed)} files:"
            shown = {line.partition(":")[0] for line in self.touches}
            for name, said in self.changed.items():
                yield f"  {name}: {len(said)} lines"
                if name in shown or name.startswith(_READ):
                    yield from (f"    {line[:400]}" for line in said)
            yield "every line of them: almanac upgrade --look --json, before it is carried over"


def changes_since(since: str) -> Iterator[str]:
    """What changes.md says of the editions after this one."""
    text = (Path(__file__).parent / "changes.md").read_text(encoding="utf-8")
    for number, said in re.findall(r"^## (\S+)\n(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL):
        if since.endswith(f" {number}"):
            return
        if number != "0.1.0":
            yield f"edition {number}:"
            yield from (f"  {line}" for line in said.strip().splitlines())


def difference(old: str, new: str) -> list[str]:
    """Lines gone and come, each with its sign."""
    return [line for line in difflib.unified_diff(old.splitlines(), new.splitlines(), lineterm="", n=0) if line[:1] in "+-" and not line.startswith(("+++", "---"))]


def upgrade(root: Path, write: bool = True) -> Told:
    """Carry the folder over, or only say what that would do. FileNotFoundError where it is no handbook folder."""
    if not (root / "site_data" / "handbook.yaml").is_file():
        raise FileNotFoundError(2, "wanted a handbook folder; came one without site_data/handbook.yaml; name the folder with --handbook", str(root))
    return _over_stock(root, write) if layers.under(root) else _whole(root, write)


def _over_stock(root: Path, write: bool) -> Told:
    was, now = seen(root), texts()
    told = Told(f"edition {(layers.settings(root) or {}).get('stock', '?')}")
    if was is None:
        told.see_to.append(".almanac-seen.zip: not there or not whole, so nobody can say what the stock changed since; read the safety pages and the law once")
    seen_then = was or {}
    for name in sorted({*seen_then, *now}) if was is not None else []:
        old, new = seen_then.get(name, ""), now.get(name, "")
        if old != new:
            told.changed[name] = difference(old, new) or ["(blanks only)"]
            if (root / name).is_file():
                told.touches.append(_touched(root, name, old, new))
    told.kept = [name for name in _own_files(root)]
    told.touches = [line for line in told.touches if line]
    if write:
        keep(root)
        (root / layers.SETTINGS).write_text(layers.settings_text(), encoding="utf-8", newline="\n")
    return told


def _touched(root: Path, name: str, old: str, new: str) -> str:
    own = (root / name).read_text(encoding="utf-8")
    if layers.joined(name):
        was, now = entries(old), entries(new)
        theirs = [key for key in entries(own) if was.get(key) != now.get(key)]
        return f"{name}: {', '.join(theirs)}: yours goes before the stock's, which changed" if theirs else ""
    if key := layers.key_of(name):
        def by_key(text: str) -> dict[tuple[str, ...], list[str]]:
            heads, data, _ = cells(text)
            at = [heads.index(column) for column in key if column in heads]
            return {tuple(row[index] for index in at): row for row in data}

        was_rows, now_rows = by_key(old), by_key(new)
        theirs = [" ".join(one) for one in by_key(own) if was_rows.get(one) != now_rows.get(one)]
        return f"{name}: {', '.join(theirs)}: yours goes before the stock's, which changed" if theirs else ""
    return f"{name}: yours takes the whole page's place; carry over what you want of the lines below"


def _own_files(root: Path) -> list[str]:
    found = [path for base in ("handbook", "site_data", "look") for path in (root / base).rglob("*") if path.is_file() and "schemas" not in path.relative_to(root).parts]
    return sorted(path.relative_to(root).as_posix() for path in [*found, *([root / "mkdocs.yml"] if (root / "mkdocs.yml").is_file() else [])])


def _whole(root: Path, write: bool) -> Told:
    """A folder of before there was anything under it."""
    told = Told("a folder that held a copy of everything")
    made: dict[str, str | Path] = {}
    for base in ("handbook", "site_data"):
        for path in sorted((root / base).rglob("*")):
            if path.is_file() and not path.is_symlink():
                _sort(root, path, path.relative_to(root).as_posix(), made, told)
            elif path.is_symlink():
                told.see_to.append(f"{path.relative_to(root).as_posix()}: is a link and was not carried over; it lies in {BEFORE}")
    menu = root / "mkdocs.yml"
    if menu.is_file() and digest(text := menu.read_text(encoding="utf-8", errors="replace")) not in known():
        mine = [line.strip() for line in text.splitlines() if line.strip() and digest(line) not in set(map(digest, texts()["mkdocs.yml"].splitlines()))]
        told.see_to.append(f"mkdocs.yml: yours lies in {BEFORE}; pages of your own stand in the menu under 'Our own' by themselves. Lines that the stock's does not have: " + " | ".join(mine))
    now = texts()
    for name in [name for name in made if name in now and name.endswith(".md")]:
        told.touches.append(f"{name}: yours takes the whole page's place; the stock's differs by the lines below")
        told.changed[name] = difference(str(made[name]), now[name])
    if write:
        _put(root, made)
    return told


def _sort(root: Path, path: Path, name: str, made: dict[str, str | Path], told: Told) -> None:
    """Decide about one file of an old folder: theirs, in part theirs, or the stock's."""
    kind = name.split("/")[1] if name.startswith("site_data/") else ""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        text = None  # a picture, or a packed year of weather
    if kind == "schemas":
        told.left.append(name)
    elif name == "site_data/handbook.yaml" or kind in layers.THEIRS or name == "site_data/coatings.csv":
        made[name] = before.mended(name, text, told.see_to) if text is not None else path
        told.kept.append(name)
    elif text is None or path.suffix not in (".md", ".yaml", ".csv"):
        stock = layers.stock() / name
        if stock.is_file() and stock.read_bytes() == path.read_bytes():
            told.left.append(name)
        else:
            made[name] = path
            told.kept.append(name)
    elif digest(text) in known():
        told.left.append(name)
        stock = layers.stock() / name
        if stock.is_file() and (lines := difference(text, stock.read_text(encoding="utf-8"))):
            told.changed[name] = lines
    elif name in before.MOVED:
        for target, rows, said in before.moved(name, text, known()):
            made[target] = _merged(str(made.get(target, "")), rows)
            told.kept.append(f"{name} → {target}: {said}")
        told.see_to += before.unmoved(name, text, known(), BEFORE)
    elif layers.joined(name):
        _entries(name, text, made, told)
    elif layers.key_of(name):
        _rows(name, text, made, told)
    else:
        made[name] = text
        told.kept.append(name)


def _merged(there: str, rows: str) -> str:
    return there.rstrip("\n") + "\n" + "\n".join(rows.rstrip("\n").split("\n")[1:]) + "\n" if there else rows


def _entries(name: str, text: str, made: dict[str, str | Path], told: Told) -> None:
    plain, whole = entries(text), blocks(text)
    theirs = [key for key in whole if digest(plain.get(key, "")) not in known()]
    said = [line for line in notes(text) if digest(line) not in known() and not any(line in whole[key] for key in theirs)]
    if theirs or said:
        made[name] = "\n".join([f"# Ours, laid over the stock's {name}.", *said, *(whole[key] for key in theirs)]) + "\n"
        told.kept.append(f"{name}: {', '.join(theirs)}" + (f"; {len(said)} notes" if said else ""))
    else:
        told.left.append(name)
    stock = entries((layers.stock() / name).read_text(encoding="utf-8")) if (layers.stock() / name).is_file() else {}
    told.touches += [f"{name}: {key}: yours goes before the stock's: {' '.join(stock[key].split())[:160]}" for key in theirs if key in stock]


def _rows(name: str, text: str, made: dict[str, str | Path], told: Told) -> None:
    heads, data, said = cells(text)
    theirs = [row for row in data if digest(row_text(row)) not in known()]
    said = [line for line in said if digest(line) not in known()]
    if not theirs and not said:
        told.left.append(name)
        return
    stock = layers.stock() / name
    wanted = cells(stock.read_text(encoding="utf-8"))[0] if stock.is_file() else heads
    lost = [column for column in heads if column not in wanted]
    made[name] = "\n".join([*said, row_text(wanted), *(row_text([dict(zip(heads, row, strict=False)).get(column, "") for column in wanted]) for row in theirs)]) + "\n"
    told.kept.append(f"{name}: {len(theirs)} rows of yours" + (f"; {len(said)} notes" if said else ""))
    if lost:
        told.see_to.append(f"{name}: the columns {', '.join(lost)} are no longer read; what stood in them lies in {BEFORE}")


def _put(root: Path, made: dict[str, str | Path]) -> None:
    """Write the new folder aside, then let it and the old one change places."""
    with tempfile.TemporaryDirectory(prefix=".upgrade-", dir=root) as aside:
        new = Path(aside)
        (new / "handbook").mkdir()
        (new / "site_data").mkdir()
        for name, what in made.items():
            (new / name).parent.mkdir(parents=True, exist_ok=True)
            if isinstance(what, Path):
                shutil.copyfile(what, new / name)
            else:
                (new / name).write_text(what, encoding="utf-8", newline="\n")
        place, number = root / BEFORE, 1
        while os.path.lexists(place):
            number += 1
            place = root / f"{BEFORE}-{number}"
        place.mkdir()
        for name in _SOURCES:
            if os.path.lexists(root / name):
                (root / name).rename(place / name)
        for name in ("handbook", "site_data"):
            (new / name).rename(root / name)
    keep(root)
    (root / layers.SETTINGS).write_text(layers.settings_text(), encoding="utf-8", newline="\n")
