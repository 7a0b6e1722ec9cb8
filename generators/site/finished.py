"""The finished pages and files of a handbook, made anew or taken from the last time the same inputs were seen.

The key is a digest of every input byte: facts, words, the code itself, the region and the versions it runs on. So a
change anywhere makes everything anew, and no rule about what depends on what can be wrong.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
import zipfile
from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass, replace
from importlib import metadata
from pathlib import Path
from typing import Any

import generators
from generators import layers

_PACKAGES = ("pandas", "numpy", "sympy", "pint", "pydantic", "jinja2", "typst", "latex2mathml", "qrcode", "segno")
_CODE = Path(generators.__file__).parent


@dataclass(frozen=True)
class Finished:
    """Pages by address, files by address, and what the site door says about the edition."""

    pages: dict[str, str]
    assets: dict[str, bytes]
    about: dict[str, Any]


def _inputs(root: Path) -> Iterator[tuple[str, Path]]:
    below = layers.under(root)
    stock = [(f"stock/{name}", below / name) for name in ("site_data", "handbook")] if below else []
    stock.append(("look", root / "look"))
    for name, base in (("site_data", root / "site_data"), ("handbook", root / "handbook"), *stock, ("generators", _CODE)):
        for path in sorted(base.rglob("*")):
            if path.is_file() and "__pycache__" not in path.parts:
                yield f"{name}/{path.relative_to(base).as_posix()}", path


def digest(root: Path, region: str | None, base_url: str | None = None) -> str:
    """Hexadecimal digest of every input."""
    found = hashlib.sha256(f"{sys.version}|{region}|{base_url}".encode())
    for name in _PACKAGES:
        try:
            found.update(f"{name}={metadata.version(name)}".encode())
        except metadata.PackageNotFoundError:
            continue
    for name, path in _inputs(root):
        found.update(os.fsencode(name) + b"\0")  # a name that is no text in this terminal, too
        found.update(hashlib.sha256(path.read_bytes()).digest())
    return found.hexdigest()


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


def _make(root: Path, region: str | None, base_url: str | None) -> Finished:
    from generators import formulas, tables
    from generators.beside import Beside
    from generators.pages import PageError, build_assets, build_drawn, build_pages
    from generators.pages.linking import WORDS
    from generators.pages.look import colour_of, logo_name

    facts = _opened(root, region, base_url)
    books = tables.books(facts, formulas.catalogue(facts))
    beside = Beside(lambda: tables.shelved(books["us"]), lambda: build_pages(facts, books=books, only=_aside), lambda: build_drawn(facts))
    tables.shelved(books["metric"])
    tables.put(books["us"], beside.heard() or tables.shelved(books["us"]))
    problems, traces = list[str](), list[str]()
    pages: dict[str, str] = {}
    assets: dict[str, bytes] = {}

    def of_pages(wanted: Callable[[str], bool]) -> None:
        try:
            pages.update(build_pages(facts, books=books, only=wanted))
        except PageError as error:
            problems.extend(error.problems)
            traces.extend(error.traces)

    of_pages(lambda page: page == WORDS or not _aside(page))
    theirs = beside.heard()
    if theirs is None:
        of_pages(_aside)
    else:
        pages |= theirs
    try:
        assets = {address: content.encode() if isinstance(content, str) else content for address, content in build_assets(facts, books, beside.heard()).items()}
    except PageError as error:
        problems += error.problems
        traces += error.traces
    if problems:  # of pages and of tables, all at once
        raise PageError(list(dict.fromkeys(problems)), list(dict.fromkeys(traces)))
    handbook = facts.handbook
    asked = dict(facts.search.asked)
    for key, fault in facts.faults.items():  # a fault is asked for by every name it has
        asked[f"faults/{key}.md"] = [*asked.get(f"faults/{key}.md", []), fault.name, *fault.others, fault.then]
    question = {**facts.search.question, **{f"faults/{key}.md": f"{fault.name}: why, and what now?" for key, fault in facts.faults.items()},
                **{f"coatings/{slug}.md": f"How do I spray {coating.name}?" for slug, coating in facts.coatings.items()},
                **{f"safety/ppe-{key}.md": f"What do I wear for {facts.classes[key].label.lower()}?" for key in facts.protection if key in facts.classes},
                **{f"kits/{slug}.md": f"What can the {kit.name} do?" for slug, kit in facts.kits.items()}}
    about = {"colour": colour_of(facts), "logo": logo_name(facts), "title": handbook.title,
             "revision": handbook.revision, "date": handbook.date, "region": handbook.region, "search": {**facts.search.model_dump(), "asked": asked, "question": question}}
    return Finished({address: pages[address] for address in sorted(pages)}, assets, about)


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


def _write(path: Path, made: Finished) -> None:
    part = path.with_name(f".{os.getpid()}.part")
    try:
        path.parent.mkdir(exist_ok=True)
        with zipfile.ZipFile(part, "w", zipfile.ZIP_STORED) as kept:
            kept.writestr("about.json", json.dumps(made.about))
            for name, page in made.pages.items():
                kept.writestr(f"pages/{name}", page)
            for name, content in made.assets.items():
                kept.writestr(f"assets/{name}", content)
        part.replace(path)
        for other in sorted(path.parent.glob(f"{'[0-9a-f]' * 32}.zip"), key=lambda one: one.stat().st_mtime)[:-4]:
            other.unlink()
    except OSError:
        part.unlink(missing_ok=True)  # a folder that cannot be written to costs time, nothing else


def _place(root: Path, region: str | None, base_url: str | None) -> Path:
    return root / ".almanac" / f"{digest(root, region, base_url)[:32]}.zip"


def is_kept(root: Path, region: str | None, base_url: str | None = None) -> bool:
    """Whether these very inputs were seen before."""
    return _place(root, region, base_url).is_file()


def finished(root: Path, region: str | None, base_url: str | None = None) -> Finished:
    """Pages and files for these inputs. Raises FactsError or PageError as they do."""
    if os.environ.get("ALMANAC_ANEW"):
        return _make(root, region, base_url)
    kept = _place(root, region, base_url)
    found = _read(kept) if kept.is_file() else None
    if found is None:
        found = _make(root, region, base_url)
        _write(kept, found)
    return found
