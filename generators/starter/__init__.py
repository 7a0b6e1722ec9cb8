"""A handbook of one's own: a small folder that builds at once, to be filled in line by line."""

from __future__ import annotations

import shutil
import tempfile
from datetime import date
from pathlib import Path

_OWN = Path(__file__).parent / "own"
_PACKED = Path(__file__).parent / "stock"
# A crew's own kits, paints and name come from `own`; the rest (cups, limits, protection, words, pages) from this project.
_NOT_SHARED = ("kits", "coatings", "recipes", "templates", "handbook.yaml", "coatings.csv")


class NotEmpty(Exception):
    """The folder named already holds something. Nothing was written."""


class UnknownRegion(Exception):
    """No file in site_data/regions has that name. Nothing was written."""


def stock() -> Path:
    """Folder with `handbook`, `site_data` and `mkdocs.yml`: packed in an installed package, beside it in a checkout."""
    return _PACKED if _PACKED.is_dir() else Path(__file__).resolve().parents[2]


def write(target: Path, region: str | None = None, today: date | None = None) -> int:
    """Make a handbook folder at `target`, whole or not at all; the number of files. NotEmpty where something is there, UnknownRegion where no file has that name."""
    target = Path(target)
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise NotEmpty(f"{target}: wanted a new or an empty folder; came a file or a link of that name; name another folder")
    held = sorted(path.name for path in target.iterdir()) if target.exists() else []
    if held:
        raise NotEmpty(f"{target}: wanted a new or an empty folder; came one that holds {held[0]!r}"
                       + (f" and {len(held) - 1} more" if len(held) > 1 else "") + "; name another folder")
    known = sorted(path.stem for path in (stock() / "site_data" / "regions").glob("*.yaml"))
    if region and region not in known:
        raise UnknownRegion(f"--region: wanted one of {', '.join(known)}; came {region!r}; take the nearest, then write your own file into site_data/regions")
    target.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(prefix=f".{target.name}-", dir=target.parent) as temporary:
        made = Path(temporary) / "made"
        source = stock()
        shutil.copytree(source / "site_data", made / "site_data", ignore=lambda folder, names: _NOT_SHARED if Path(folder) == source / "site_data" else ())
        shutil.copytree(source / "handbook", made / "handbook")
        shutil.copyfile(source / "mkdocs.yml", made / "mkdocs.yml")
        shutil.copytree(_OWN, made, dirs_exist_ok=True, ignore=shutil.ignore_patterns("__pycache__"))
        settings = made / "site_data" / "handbook.yaml"
        text = settings.read_text(encoding="utf-8").replace("date: 2026-01-01", f"date: {(today or date.today()).isoformat()}")
        settings.write_text(text.replace("region: uk", f"region: {region}") if region else text, encoding="utf-8")
        if target.exists():
            target.rmdir()  # it is empty, or this fails and nothing is lost
        made.rename(target)
    return sum(path.is_file() for path in target.rglob("*"))
