"""The finished pages and files of a handbook, made anew or taken from the last time the same inputs were seen.

The key is a digest of every input byte: facts, words, the code itself, the region and the versions it runs on. A change anywhere makes everything anew, but for
one: where only files of paints differ, what rests on what has changed in them is made anew, by the notes of the last time (`rests.py`).
`ALMANAC_ANEW`, which `publish` sets, asks for everything.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
import zipfile
from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass, replace
from importlib import metadata
from pathlib import Path
from typing import Any

import generators
from generators import layers

_PACKAGES = ("pandas", "numpy", "sympy", "pint", "pydantic", "jinja2", "typst", "latex2mathml", "qrcode", "segno")
_CODE = Path(generators.__file__).parent


_PAINTS = "site_data/coatings/"


Rests = dict[str, Any]


@dataclass(frozen=True)
class Finished:
    """Pages by address, files by address, and what the site door says about the edition."""

    pages: dict[str, str]
    assets: dict[str, bytes]
    about: dict[str, Any]


@dataclass(frozen=True)
class Made:
    """What was made, all of it or what had to be, and the record of what all of it rests on."""

    finished: Finished
    record: dict[str, Any]

    def over(self, old: Finished) -> Made:
        """All of it: what was made lies over what was there."""
        new = self.finished
        return Made(Finished({**old.pages, **new.pages}, {**old.assets, **new.assets}, new.about), self.record)


def _inputs(root: Path) -> Iterator[tuple[str, Path]]:
    below = layers.under(root)
    stock = [(f"stock/{name}", below / name) for name in ("site_data", "handbook")] if below else []
    stock.append(("look", root / "look"))
    for name, base in (("site_data", root / "site_data"), ("handbook", root / "handbook"), *stock, ("generators", _CODE)):
        for path in sorted(base.rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                yield f"{name}/{path.relative_to(base).as_posix()}", path


def _keys(root: Path, region: str | None, base_url: str | None) -> tuple[str, str]:
    """Hexadecimal digests of every input but the crew's own paints, and of those."""
    found, paints = hashlib.sha256(f"{sys.version}|{region}|{base_url}".encode()), hashlib.sha256()
    for name in _PACKAGES:
        try:
            found.update(f"{name}={metadata.version(name)}".encode())
        except metadata.PackageNotFoundError:
            continue
    for name, path in _inputs(root):
        into = paints if name.startswith(_PAINTS) else found
        into.update(os.fsencode(name) + b"\0")  # a name that is no text in this terminal, too
        into.update(hashlib.sha256(path.read_bytes()).digest())
    return found.hexdigest(), paints.hexdigest()


def _opened(root: Path, region: str | None, base_url: str | None) -> Any:
    """Facts with their own cups. Rooms are imported late, so that `serve` sees changed code and a kept copy costs no import at all."""
    from generators.formulas.own_cups import open_handbook

    facts = open_handbook(root, region)
    if base_url:  # one address for pages, cards and their codes
        facts = replace(facts, handbook=facts.handbook.model_copy(update={"base_url": base_url.rstrip("/")}))
    return facts


def some_pages(root: Path, region: str | None, base_url: str | None, wanted: Container[str]) -> dict[str, str]:
    """Only the pages at these addresses, made anew: what somebody looks at while all the others wait. Raises as `finished` does."""
    from generators.pages import build_pages

    return build_pages(_opened(root, region, base_url), only=wanted.__contains__)


def _aside(page: str) -> bool:
    """Pages that ask for few tables and still take half of the time of all: a second process fills them. Trade words are linked only where the page of words is among the pages."""
    return page.startswith(("train/", "reference/", "answers"))


def _make(root: Path, region: str | None, base_url: str | None) -> Made:
    from generators import formulas, noted, tables
    from generators.beside import Beside
    from generators.pages import PageError, build_assets, build_drawn, build_pages
    from generators.pages.linking import WORDS

    facts = _opened(root, region, base_url)
    noted.of_paints(facts.coatings)
    books = tables.books(facts, formulas.catalogue(facts))
    rests: Rests = {}
    beside = Beside(lambda: tables.shelved(books["us"]), lambda: _with_rests(lambda rests: build_pages(facts, books=books, only=_aside, rests=rests)),
                    lambda: _with_rests(lambda rests: build_drawn(facts, rests=rests)))
    tables.shelved(books["metric"])
    tables.put(books["us"], beside.heard() or tables.shelved(books["us"]))
    problems, traces = list[str](), list[str]()
    pages: dict[str, str] = {}
    assets: dict[str, bytes] = {}
    gives: dict[str, list[str]] = {}

    def of_pages(wanted: Callable[[str], bool]) -> None:
        try:
            pages.update(build_pages(facts, books=books, only=wanted, rests=rests))
        except PageError as error:
            problems.extend(error.problems)
            traces.extend(error.traces)

    of_pages(lambda page: page == WORDS or not _aside(page))
    theirs = beside.heard()
    if theirs is None:
        of_pages(_aside)
    else:
        pages |= theirs[0]
        rests |= theirs[1]
    drawn = beside.heard()
    try:
        assets = _bytes(build_assets(facts, books, drawn and drawn[0], rests=rests, gives=gives))
    except PageError as error:
        problems += error.problems
        traces += error.traces
    if problems:  # of pages and of tables, all at once
        raise PageError(list(dict.fromkeys(problems)), list(dict.fromkeys(traces)))
    if drawn:
        rests |= drawn[1]
    return Made(Finished({address: pages[address] for address in sorted(pages)}, assets, _about(facts)), _record(facts, rests, gives))


def _with_rests(make: Callable[[Rests], Any]) -> tuple[Any, Rests]:
    """What a second process gives, and what it rests on."""
    rests: Rests = {}
    return make(rests), rests


def _bytes(assets: Mapping[str, bytes | str]) -> dict[str, bytes]:
    return {address: content.encode() if isinstance(content, str) else content for address, content in assets.items()}


def _record(facts: Any, rests: Rests, gives: dict[str, list[str]]) -> dict[str, Any]:
    from generators import formulas
    from generators.chain.day import Day
    from generators.site.rests import Record

    return Record.of(facts, Day(facts, formulas.catalogue(facts)), rests, gives).plain()


def _about(facts: Any) -> dict[str, Any]:
    from generators.pages.look import colour_of, logo_name

    handbook = facts.handbook
    asked = dict(facts.search.asked)
    for key, fault in facts.faults.items():  # a fault is asked for by every name it has
        asked[f"faults/{key}.md"] = [*asked.get(f"faults/{key}.md", []), fault.name, *fault.others, fault.then]
    question = {**facts.search.question, **{f"faults/{key}.md": f"{fault.name}: why, and what now?" for key, fault in facts.faults.items()},
                **{f"coatings/{slug}.md": f"How do I spray {coating.name}?" for slug, coating in facts.coatings.items()},
                **{f"safety/ppe-{key}.md": f"What do I wear for {facts.classes[key].label.lower()}?" for key in facts.protection if key in facts.classes},
                **{f"kits/{slug}.md": f"What can the {kit.name} do?" for slug, kit in facts.kits.items()}}
    return {"colour": colour_of(facts), "logo": logo_name(facts), "title": handbook.title,
            "revision": handbook.revision, "date": handbook.date, "region": handbook.region, "search": {**facts.search.model_dump(), "asked": asked, "question": question}}


def _touched(root: Path, region: str | None, base_url: str | None, old: Path) -> Made | None:
    """Only the pages and files that rest on what has changed in paints since `old` was written; None where its notes cannot tell. Raises as `_make`."""
    from generators import formulas, noted
    from generators.chain.day import Day
    from generators.pages import build_assets, build_pages
    from generators.pages.linking import WORDS
    from generators.site.rests import Record

    try:
        with zipfile.ZipFile(old) as kept:
            record = Record.from_plain(json.loads(kept.read("rests.json")))
    except (OSError, zipfile.BadZipFile, KeyError, ValueError, TypeError):
        return None
    facts = _opened(root, region, base_url)
    noted.of_paints(facts.coatings)
    units = record.touched(facts, Day(facts, formulas.catalogue(facts)))
    if units is None:
        return None
    rests: Rests = {}
    gives: dict[str, list[str]] = {}
    pages = build_pages(facts, only=lambda page: page in units or (page == WORDS and bool(units)), rests=rests) if units else {}
    assets = _bytes(build_assets(facts, only=units.__contains__, rests=rests, gives=gives))
    if any(gives[unit] != record.gives.get(unit) for unit in gives):
        return None  # a table that became words, or the other way
    return Made(Finished(pages, assets, _about(facts)), _record(facts, {**record.rests, **rests}, {**record.gives, **gives}))


def _read(path: Path) -> Finished | None:
    try:
        with zipfile.ZipFile(path) as kept:
            about = json.loads(kept.read("about.json"))
            names = kept.namelist()
            pages = {name[6:]: kept.read(name).decode() for name in names if name.startswith("pages/")}
            assets = {name[7:]: kept.read(name) for name in names if name.startswith("assets/")}
    except (OSError, zipfile.BadZipFile, KeyError, ValueError):
        return None  # a broken copy is as good as none
    return Finished(pages, assets, about)


def _write(path: Path, whole: Made) -> None:
    made = whole.finished
    part = path.with_name(f".{os.getpid()}.part")
    try:
        path.parent.mkdir(exist_ok=True)
        with zipfile.ZipFile(part, "w", zipfile.ZIP_STORED) as kept:
            kept.writestr("about.json", json.dumps(made.about))
            kept.writestr("rests.json", json.dumps(whole.record))
            for name, page in made.pages.items():
                kept.writestr(f"pages/{name}", page)
            for name, content in made.assets.items():
                kept.writestr(f"assets/{name}", content)
        part.replace(path)
        for other in sorted(path.parent.glob(f"{'[0-9a-f]' * 32}.zip"), key=lambda one: one.stat().st_mtime)[:-4]:
            other.unlink()
    except OSError:
        part.unlink(missing_ok=True)  # a folder that cannot be written to costs time, nothing else


def _places(root: Path, region: str | None, base_url: str | None) -> tuple[Path, list[Path]]:
    """Where these very inputs are kept, and where they are but for paints: the newest first."""
    base, paints = _keys(root, region, base_url)
    folder = root / ".almanac"
    place = folder / f"{base[:16]}{paints[:16]}.zip"
    return place, sorted((one for one in folder.glob(f"{base[:16]}*.zip") if one != place), key=lambda one: -one.stat().st_mtime)


def is_kept(root: Path, region: str | None, base_url: str | None = None) -> bool:
    """Whether these very inputs were seen before."""
    return _places(root, region, base_url)[0].is_file()


@dataclass(frozen=True)
class Begun:
    """What is at hand at once, and what takes its place when it is asked for: None where nothing does. `rest()` raises FactsError or PageError, and Anew where
    all has been made anew after all: then it is kept, and whoever asks again has it at once."""

    finished: Finished
    rest: Callable[[], Finished] | None = None


class Anew(Exception):
    """Notes could not tell what a change touches."""


def begun(root: Path, region: str | None, base_url: str | None = None) -> Begun:
    """Pages and files for these inputs; where only paints have changed, those of before, while a second process makes what rests on the change. Raises as `finished`."""
    from generators.beside import Beside, can_part

    place, others = _places(root, region, base_url)
    old = _read(others[0]) if others and not place.is_file() and not os.environ.get("ALMANAC_ANEW") and can_part() else None
    if old is None:
        return Begun(finished(root, region, base_url))
    beside = Beside(lambda: _touched(root, region, base_url, others[0]))

    def rest() -> Finished:
        made = beside.heard()
        if made is None:
            finished(root, region, base_url)
            raise Anew
        _write(place, made.over(old))
        return made.finished  # type: ignore[no-any-return]

    return Begun(old, rest)


def finished(root: Path, region: str | None, base_url: str | None = None) -> Finished:
    """Pages and files for these inputs. Raises FactsError or PageError as they do."""
    if os.environ.get("ALMANAC_ANEW"):
        return _make(root, region, base_url).finished
    place, others = _places(root, region, base_url)
    found = _read(place) if place.is_file() else None
    if found is not None:
        return found
    old = _read(others[0]) if others else None
    made = _touched(root, region, base_url, others[0]) if old else None
    made = made.over(old) if made and old else _make(root, region, base_url)
    _write(place, made)
    return made.finished
