"""Where nothing may be written: what handbooks are made from."""

from __future__ import annotations

import os
import unicodedata
from pathlib import Path

_CODE = Path(__file__).resolve().parents[1]


class NotOurs(Exception):
    """A place that may not be written to; `lines` say what was wanted, what came and how to mend it. Nothing was touched."""

    def __init__(self, *lines: str) -> None:
        self.lines = list(lines)
        super().__init__("\n".join(lines))


def _sources(root: Path) -> list[Path]:
    found = [_CODE]
    for base in (root, _CODE.parent):
        if (base / "mkdocs.yml").is_file() or (base / "site_data").is_dir():
            found += [base / name for name in ("handbook", "site_data", "generators", "look", "before-upgrade") if (base / name).exists()]
    return found


def _same(one: Path, other: Path) -> bool:
    """The same place: by the file system where both exist, else by name, so that a stick carried to another system keeps its files."""
    try:
        if os.path.samefile(one, other):
            return True
    except OSError:
        pass
    return _folded(one) == _folded(other)


def _folded(path: Path) -> str:
    return unicodedata.normalize("NFC", str(path)).casefold()


def resolved(target: Path) -> Path:
    """The place itself, links followed. NotOurs where they lead round in a circle."""
    try:
        return target.resolve()
    except (OSError, RuntimeError):
        raise NotOurs(f"{target}: wanted a place to write to; came links that lead in a circle; name another place") from None


def outside_sources(target: Path, root: Path) -> Path:
    """`target` with links followed, if it neither is, holds nor lies in what handbooks are made from. NotOurs if not."""
    place, root = resolved(target), root.resolve()
    for source in _sources(root):
        real = source.resolve()
        for way, wrong in (("is", _same(place, real)), ("lies in", any(_same(above, real) for above in place.parents)), ("holds", any(_same(place, above) for above in real.parents))):
            if wrong:
                raise NotOurs(f"{target}: wanted a place outside the sources; came one that {way} {source}; name another place, such as {root / 'site'}")
    if ((root / "mkdocs.yml").is_file() or (root / "site_data").is_dir()) and (_same(place, root) or any(_same(place, above) for above in root.parents)):
        raise NotOurs(f"{target}: wanted a place outside the sources; came the folder of the handbook or one that holds it; name another place, such as {root / 'site'}")
    return place


def links_that_lead_out(root: Path) -> list[str]:
    """A line for each link inside handbook/ that leads out of it or round in a circle: its target would be published unasked."""
    base = root / "handbook"
    inside = base.resolve()
    problems = []
    for folder, folders, files in os.walk(base):
        for name in sorted([*folders, *files]):
            link = Path(folder) / name
            if not link.is_symlink():
                continue
            try:
                real = link.resolve(strict=True)
                wrong = f"leads out of it, to {real}" if not real.is_relative_to(inside) else "leads to a folder that holds it" if link.parent.resolve().is_relative_to(real) else ""
            except (OSError, RuntimeError):
                wrong = "leads nowhere"
            if wrong:
                problems.append(f"{link.relative_to(root).as_posix()}:1: wanted a file of this folder; came a link that {wrong}; put a copy there instead")
    return problems
