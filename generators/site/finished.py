"""The finished pages and files of a handbook, made anew or taken from the last time the same inputs were seen.

The key is a digest of every input byte: facts, words, the code itself, the region and the versions it runs on. A change anywhere makes everything anew, but for
one: where only files of paints differ, what rests on what has changed in them is made anew, by the notes of the last time (`rests.py`).
`ALMANAC_ANEW`, which `publish` sets, asks for everything.
"""

from __future__ import annotations

import hashlib
import itertools
import json
import os
import sys
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Any, NoReturn, TypeVar

import generators
from generators import layers
from generators.beside import Beside, can_part
from generators.site.made import Finished, Made, Touch, make, touch, touched

_PACKAGES = ("pandas", "numpy", "sympy", "pint", "pydantic", "jinja2", "typst", "latex2mathml", "qrcode", "segno")
_CODE = Path(generators.__file__).parent
_PAINTS = "site_data/coatings/"
T = TypeVar("T")


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


def _recorded(path: Path) -> tuple[dict[str, Any], dict[str, str]]:
    """(what all of it rests on, pieces of its pages): empty where there is no such record."""
    try:
        with zipfile.ZipFile(path) as kept:
            return json.loads(kept.read("rests.json")), json.loads(kept.read("fragments.json"))
    except (OSError, zipfile.BadZipFile, KeyError, ValueError):
        return {}, {}


def _write(path: Path, whole: Made) -> None:
    made = whole.finished
    part = path.with_name(f".{os.getpid()}.part")
    try:
        path.parent.mkdir(exist_ok=True)
        with zipfile.ZipFile(part, "w", zipfile.ZIP_STORED) as kept:
            kept.writestr("about.json", json.dumps(made.about))
            kept.writestr("rests.json", json.dumps(whole.recorded()))
            kept.writestr("fragments.json", json.dumps(whole.fragments))
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


class Anew(Exception):
    """What was begun with the pages of before is to be begun again: all is made, and whoever asks `begun` again has it at once."""


_Given = tuple[Path, "str | None", "str | None"]  # a handbook, its region and its address


@dataclass(frozen=True)
class Begun:
    """What is at hand at once; and what is to take its place, where something is. `anew`: all of it has just been made."""

    finished: Finished
    change: Change | None = None
    anew: bool = False


class Change:
    """A second process that makes what rests on a changed paint, beside the pages of before."""

    def __init__(self, given: _Given, place: Path, old: Finished, kept: Path) -> None:
        touches: list[Touch] = []
        made: list[Made] = []

        def which() -> tuple[frozenset[str] | None] | None:
            touches.extend(filter(None, [touch(*given, *_recorded(kept))]))
            return (None if touches[0].shown else touches[0].names,) if touches else None

        def there() -> Finished | None:
            made.extend(filter(None, [touches[0].make()]))
            return made[0].finished if made else None

        def keep() -> None:
            if made:
                _write(place, made[0].over(old))

        self._given, self._place, self._old = given, place, old
        self._beside = Beside((which, there, keep))  # it keeps it while the first process writes the site

    def _heard(self) -> Any:
        found = self._beside.heard()
        if found is None:
            whole = make(*self._given)
            _write(self._place, whole)
            self._again(whole.finished)
        return found

    def _again(self, whole: Finished) -> NoReturn:
        _ahead[self._given] = Begun(whole)
        raise Anew

    def touches(self) -> frozenset[str] | None:
        """Pages and pieces by name; None where every page shows the change, in its menu. Raises FactsError, PageError, Anew."""
        found: frozenset[str] | None = self._heard()[0]
        return found

    def made(self) -> Finished:
        """The pages and files that take the place of those of before. Raises FactsError, PageError, Anew."""
        found: Finished = self._heard()
        return found

    def shown_by_all(self, made: Finished) -> NoReturn:
        """Said of what was made where pages that stand already show it after all. Raises Anew."""
        self._again(Finished({**self._old.pages, **made.pages}, {**self._old.assets, **made.assets}, made.about))


class Making:
    """A second process that makes everything, while this one takes in MkDocs and reads its settings. It keeps it at `place`, where one is given, while this one
    writes the site."""

    def __init__(self, given: _Given, place: Path | None) -> None:
        made: list[Made] = []

        def whole() -> dict[str, Any] | Exception:
            try:
                made.append(make(*given))
            except Exception as error:
                if not getattr(error, "problems", None):
                    raise  # made here once more, where it can be told with its trace
                return error
            return made[0].finished.about

        def makes() -> Iterator[Callable[[], Any]]:
            yield whole
            if not made:
                return
            # A few at a time: in one letter they would take as much memory again, here and there.
            yield from ((lambda some=some: (some, {})) for some in _batched(made[0].finished.pages))
            yield from ((lambda some=some: ({}, some)) for some in _batched(made[0].finished.assets))
            yield lambda: "all"
            if place is not None:
                yield lambda: _write(place, made[0])

        self._beside = Beside(makes(), watched=True)

    def finished(self) -> Finished | None:
        """Pages and files; None where the second process came to grief. Raises FactsError or PageError."""
        about = self._beside.heard()
        if isinstance(about, Exception):
            raise about
        if about is None:
            return None
        found = Finished({}, {}, about)
        while (some := self._beside.heard()) not in (None, "all"):
            found.pages.update(some[0])
            found.assets.update(some[1])
        return found if some else None


def _batched(many: dict[str, T]) -> Iterator[dict[str, T]]:
    names = iter(many)
    while some := list(itertools.islice(names, 50)):
        yield {name: many[name] for name in some}


_ahead: dict[_Given, Begun | Making] = {}


def ahead(root: Path, region: str | None, base_url: str | None = None) -> None:
    """Begins what `begun` is going to be asked for, where it is not at hand: before MkDocs is even imported."""
    if not can_part():
        return
    given = (root, region, base_url)
    if os.environ.get("ALMANAC_ANEW"):
        _ahead[given] = Making(given, None)
        return
    place, others = _places(*given)
    if not place.is_file():
        old = _read(others[0]) if others else None
        _ahead[given] = Begun(old, Change(given, place, old, others[0])) if old else Making(given, place)


def begun(root: Path, region: str | None, base_url: str | None = None) -> Begun:
    """Pages and files for these inputs; where only paints have changed, those of before, and the change. Raises as `finished`."""
    found = _ahead.pop((root, region, base_url), None)
    if isinstance(found, Making):
        made = found.finished()
        found = None if made is None else Begun(made, anew=True)
    return found or Begun(*_finished(root, region, base_url))


def finished(root: Path, region: str | None, base_url: str | None = None) -> Finished:
    """Pages and files for these inputs. Raises FactsError or PageError as they do."""
    return _finished(root, region, base_url)[0]


def _finished(root: Path, region: str | None, base_url: str | None) -> tuple[Finished, None, bool]:
    """(pages and files, no change, whether all was made anew)."""
    if os.environ.get("ALMANAC_ANEW"):
        return make(root, region, base_url).finished, None, True
    place, others = _places(root, region, base_url)
    found = _read(place) if place.is_file() else None
    if found is not None:
        return found, None, False
    old = _read(others[0]) if others else None
    some = touched(root, region, base_url, *_recorded(others[0])) if old else None
    made = some.over(old) if some and old else make(root, region, base_url)
    _write(place, made)
    return made.finished, None, some is None
