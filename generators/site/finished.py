"""The finished pages and files of a handbook, made anew or taken from the last time the same inputs were seen.

The key is a digest of every input byte: facts, words, the code itself, the region and the versions it runs on. A change anywhere makes everything anew, but for
one: where only files of paints differ, what rests on what has changed in them is made anew, by the notes of the last time (`rests.py`).
`ALMANAC_ANEW`, which `publish` sets, asks for everything.
"""

from __future__ import annotations

import atexit
import contextlib
import hashlib
import json
import os
import sys
import zipfile
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path
from typing import Any, NoReturn

import generators
from generators import layers
from generators.beside import Beside, can_part
from generators.site.made import Finished, Made, Touch, make, touch, touched

_PACKAGES = ("pandas", "numpy", "sympy", "pint", "pydantic", "jinja2", "typst", "latex2mathml", "qrcode", "segno")
_CODE = Path(generators.__file__).parent
_PAINTS = "site_data/coatings/"


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
            names = sorted(kept.namelist())
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


def _part_of(path: Path) -> Path:
    return path.with_name(f".{os.getpid()}.part")


def _away(part: Path) -> None:
    with contextlib.suppress(OSError):
        part.unlink(missing_ok=True)


def _part_elsewhere(path: Path) -> Path:
    """For a second process that is going to be begun, and may be stopped: the last thing done here is to take away what it left."""
    part = _part_of(path)
    atexit.register(_away, part)
    return part


class _Keeping:
    """Pages and files on their way into the kept copy at `path`, which is there when all are. A folder that cannot be written to costs time, nothing else."""

    def __init__(self, path: Path, part: Path | None = None) -> None:
        self._path, self._part = path, part or _part_of(path)
        self._zip: zipfile.ZipFile | None = None
        with self._trying():
            path.parent.mkdir(exist_ok=True)
            self._zip = zipfile.ZipFile(self._part, "w", zipfile.ZIP_STORED)

    @contextlib.contextmanager
    def _trying(self) -> Iterator[None]:
        try:
            yield
        except OSError:
            self.drop()

    def drop(self) -> None:
        """There will be no copy."""
        with contextlib.suppress(OSError):
            if self._zip is not None:
                self._zip.close()
        self._zip = None
        _away(self._part)

    def put(self, pages: Mapping[str, str], assets: Mapping[str, bytes]) -> None:
        """Some of them."""
        with self._trying():
            if self._zip is not None:
                for name, page in pages.items():
                    self._zip.writestr(f"pages/{name}", page)
                for name, asset in assets.items():
                    self._zip.writestr(f"assets/{name}", asset)

    def end(self, about: Mapping[str, Any], record: Mapping[str, Any], fragments: Mapping[str, str]) -> None:
        """All are there."""
        with self._trying():
            if self._zip is None:
                return
            for name, told in (("about", about), ("rests", record), ("fragments", fragments)):
                self._zip.writestr(f"{name}.json", json.dumps(told))
            self._zip.close()
            self._part.replace(self._path)
            for other in sorted(self._path.parent.glob(f"{'[0-9a-f]' * 32}.zip"), key=lambda one: one.stat().st_mtime)[:-4]:
                other.unlink()


def _write(path: Path, whole: Made, part: Path | None = None) -> None:
    keeping = _Keeping(path, part)
    keeping.put(whole.finished.pages, whole.finished.assets)
    keeping.end(whole.finished.about, whole.recorded(), whole.fragments)


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
        part = _part_elsewhere(place)

        def work(give: Callable[[Any], None]) -> None:
            give(which())
            give(there())
            if made:  # kept while the first process writes the site
                _write(place, made[0].over(old), part)

        def which() -> tuple[frozenset[str] | None] | None:
            touches.extend(filter(None, [touch(*given, *_recorded(kept))]))
            return (None if touches[0].shown else touches[0].names,) if touches else None

        def there() -> Finished | None:
            made.extend(filter(None, [touches[0].make()]))
            return made[0].finished if made else None

        self._given, self._place, self._old = given, place, old
        self._beside = Beside(work)

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
    """A second process that makes everything, while this one takes in MkDocs and reads its settings. It tells of each round as it is made, and keeps it at `place`,
    where one is given."""

    def __init__(self, given: _Given, place: Path | None) -> None:
        part = None if place is None else _part_elsewhere(place)
        self._beside = Beside(lambda give: self._make(given, place, part, give), watched=True)

    def _make(self, given: _Given, place: Path | None, part: Path | None, give: Callable[[Any], None]) -> None:
        keeping = _Keeping(place, part) if place is not None else None

        def aside(pages: dict[str, str], assets: dict[str, bytes]) -> None:
            give((pages, assets))
            if keeping is not None:
                keeping.put(pages, assets)

        try:
            made = make(*given, aside)
        except Exception as error:
            if keeping is not None:
                keeping.drop()
            if not getattr(error, "problems", None):
                raise  # made by the first process once more, where it can be told with its trace
            give(error)
            return
        give(made.finished.about)
        if keeping is not None:
            keeping.end(made.finished.about, made.recorded(), made.fragments)

    def finished(self) -> Finished | None:
        """Pages and files; None where the second process came to grief. Raises FactsError or PageError."""
        pages, assets = dict[str, str](), dict[str, bytes]()
        while isinstance(told := self._beside.heard(), tuple):
            pages |= told[0]
            assets |= told[1]
        if isinstance(told, Exception):
            raise told
        return Finished({address: pages[address] for address in sorted(pages)}, assets, told) if told else None


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
    return found or _begun_here(root, region, base_url)


def finished(root: Path, region: str | None, base_url: str | None = None) -> Finished:
    """Pages and files for these inputs. Raises FactsError or PageError as they do."""
    return _begun_here(root, region, base_url).finished


def _begun_here(root: Path, region: str | None, base_url: str | None) -> Begun:
    if os.environ.get("ALMANAC_ANEW"):
        return Begun(make(root, region, base_url).finished, anew=True)
    place, others = _places(root, region, base_url)
    found = _read(place) if place.is_file() else None
    if found is not None:
        return Begun(found)
    old = _read(others[0]) if others else None
    some = touched(root, region, base_url, *_recorded(others[0])) if old else None
    made = some.over(old) if some and old else make(root, region, base_url)
    _write(place, made)
    return Begun(made.finished, anew=some is None)
