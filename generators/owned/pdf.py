"""One file that a command writes: a PDF, over nothing but a PDF of ours."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from generators.owned.mark import marked
from generators.owned.sources import NotOurs, outside_sources

KEYWORD = "made by almanac"  # stands in every PDF of ours


def pdf(target: Path, root: Path) -> Path:
    """`target`, links followed, if a PDF may be put there: a new name, or a PDF that we made. NotOurs if not."""
    place = outside_sources(target, root)
    if place.is_dir():
        raise NotOurs(f"{target}: wanted a file to write to; came a folder; name a file in it")
    if not place.parent.is_dir():
        raise NotOurs(f"{target}: wanted a file in a folder that is there; came {place.parent}, which is none; make the folder first")
    for above in place.parents:
        known = marked(above)
        if known:
            raise NotOurs(f"{target}: wanted a file of its own; came one inside {above}, which `almanac {known[0]}` makes anew each time; name another place")
    if os.path.lexists(place) and not (place.is_file() and _is_our_pdf(place, root)):
        raise NotOurs(f"{target}: wanted a new file, or a PDF that almanac made; came a file that it did not make; name another file, or remove that one yourself")
    return place


def _is_our_pdf(path: Path, root: Path) -> bool:
    """By the keyword that ours carry; those of before by the program that set them and the handbook's title."""
    content = path.read_bytes()
    if not content.startswith(b"%PDF-"):
        return False
    if f"<pdf:Keywords>{KEYWORD}</pdf:Keywords>".encode() in content:
        return True
    title = _title(root)
    typeset = bool(title) and b"/Creator(Typst " in content and f'<rdf:li xml:lang="x-default">{title}'.encode() in content
    printed = b"/Producer (Skia/PDF " in content and f"/Title <FEFF{'The Sprayer’s Almanac'.encode('utf-16-be').hex().upper()}>".encode() in content
    return typeset or printed


def _title(root: Path) -> str:
    try:
        found = re.search(r"^title:\s*[\"']?(.*?)[\"']?\s*$", (root / "site_data" / "handbook.yaml").read_text(encoding="utf-8"), re.MULTILINE)
    except (OSError, ValueError):
        return ""
    return found[1].replace("&", "&amp;").replace("<", "&lt;").replace("'", "&apos;").replace('"', "&quot;") if found else ""


def write(place: Path, content: bytes) -> None:
    """Put `content` at `place` in one step: a full disk or a stop leaves what was there."""
    handle, name = tempfile.mkstemp(prefix=f".{place.name}-", dir=place.parent)
    part = Path(name)
    try:
        with os.fdopen(handle, "wb") as out:
            out.write(content)
        mask = os.umask(0)
        os.umask(mask)
        os.chmod(part, 0o666 & ~mask)
        part.replace(place)
    finally:
        part.unlink(missing_ok=True)


@contextmanager
def whole_file(target: Path, root: Path, known: bytes = b"made by almanac publish") -> Iterator[Path]:
    """A file beside `target` to fill, which then takes its place: a new name, or one of ours, known by these bytes near its end. NotOurs if not."""
    place = outside_sources(target, root)
    if place.is_dir():
        raise NotOurs(f"{target}: wanted a file to write to; came a folder; name a file in it")
    if not place.parent.is_dir():
        raise NotOurs(f"{target}: wanted a file in a folder that is there; came {place.parent}, which is none; make the folder first")
    if os.path.lexists(place) and not (place.is_file() and place.read_bytes()[-200:].endswith(known)):
        raise NotOurs(f"{target}: wanted a new file, or one that almanac made; came a file that it did not make; name another file, or remove that one yourself")
    handle, name = tempfile.mkstemp(prefix=f".{place.name}-", dir=place.parent)
    os.close(handle)
    part = Path(name)
    try:
        yield part
        os.chmod(part, 0o644)
        part.replace(place)
    finally:
        part.unlink(missing_ok=True)
