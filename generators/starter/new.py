"""A new folder: name, one kit, two paints. All else comes from the stock under it."""

from __future__ import annotations

import shutil
import tempfile
from datetime import date
from pathlib import Path

from generators import layers
from generators.starter.pieces import rows
from generators.starter.seen import keep

_OWN = Path(__file__).parent / "own"
_OWN_US = Path(__file__).parent / "own_us"  # the same files, in gallons and inches


class NotEmpty(Exception):
    """The folder named already holds something. Nothing was written."""


class UnknownRegion(Exception):
    """No file in site_data/regions has that name. Nothing was written."""


def _free(target: Path) -> None:
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise NotEmpty(f"{target}: wanted a new or an empty folder; came a file or a link of that name; name another folder")
    held = sorted(path.name for path in target.iterdir()) if target.exists() else []
    if held:
        raise NotEmpty(f"{target}: wanted a new or an empty folder; came one that holds {held[0]!r}"
                       + (f" and {len(held) - 1} more" if len(held) > 1 else "") + "; name another folder")


def write(target: Path, region: str | None = None, today: date | None = None) -> int:
    """Make a handbook folder at `target`, whole or not at all; the number of files. NotEmpty where something is there, UnknownRegion where no file has that name."""
    target = Path(target)
    _free(target)
    known = sorted(path.stem for path in (layers.stock() / "site_data" / "regions").glob("*.yaml"))
    if region and region not in known:
        from generators.nearest import near

        raise UnknownRegion(f"--region: wanted one of {', '.join(known)}; came {region!r}; {near(region, known)}, or take the nearest and write your own file into site_data/regions")
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=f".{target.name}-", dir=target.parent) as temporary:
        made = Path(temporary) / "made"
        for own in (_OWN, *([_OWN_US] if region == "us" else [])):
            shutil.copytree(own, made, dirs_exist_ok=True, ignore=shutil.ignore_patterns("__pycache__"))
        (made / "handbook").mkdir()
        (made / layers.SETTINGS).write_text(layers.settings_text(), encoding="utf-8", newline="\n")
        keep(made)
        settings = made / "site_data" / "handbook.yaml"
        text = settings.read_text(encoding="utf-8").replace("date: 2026-01-01", f"date: {(today or date.today()).isoformat()}")
        settings.write_text(text.replace("region: uk", f"region: {region}") if region else text, encoding="utf-8", newline="\n")
        if target.exists():
            target.rmdir()  # it is empty, or this fails and nothing is lost
        made.rename(target)
    return sum(path.is_file() for path in target.rglob("*"))


def starters_own(root: Path) -> list[str]:
    """`path:line: …` for each value that is still as the starter came: it says nothing about this crew."""
    found = []
    for base in (_OWN, _OWN_US):
        for theirs in sorted((root / "site_data").rglob("*")):
            came = base / theirs.relative_to(root)
            if not (theirs.is_file() and came.is_file() and theirs.suffix == ".yaml"):
                continue
            there = set(rows(came.read_text(encoding="utf-8")))
            for line, text in enumerate(rows(theirs.read_text(encoding="utf-8", errors="replace")), 1):
                if text in there and text.partition(":")[0] in _TELLING.get(theirs.parent.name, ()):
                    found.append(f"{theirs.relative_to(root).as_posix()}:{line}: still the starter's: {text.split('#')[0].strip()}")
    return list(dict.fromkeys(found))


# The lines that are a crew's own in any handbook; the others may well be right as they came.
_TELLING = {
    "site_data": ("title", "crew", "town", "base_url"),
    "kits": ("name", "basis", "limit", "fan_angle", "flow", "transfer_efficiency"),
    "coatings": ("name", "basis", "supplied", "trial"),
}
