"""A crew's folder lies over the stock that comes with the program: what the crew does not hold is read from under it.

A folder with `almanac.yaml` is such a folder. One without (this project itself, and folders of before) is whole in itself.
A page of the crew's takes the place of the stock's. A file of named entries, or of rows with a key, holds only what is
theirs: their entry takes the place of the stock's of that name, and all others come from under it. So law and safety
text that the crew never touched is always that of the program.
"""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from pathlib import Path

from generators.version import NUMBER

SETTINGS = "almanac.yaml"
FORMAT = 2
_CODE = Path(__file__).resolve().parent
THEIRS = ("kits", "coatings", "recipes", "templates")  # folders of site_data of which nothing of the stock's shows
# Files of rows, and what tells one row from another. A row of theirs takes the place of all stock rows with that key.
_KEYS: Mapping[str, tuple[str, ...]] = {
    "site_data/cups.csv": ("name",), "site_data/gloves.csv": ("family",), "site_data/solvents.csv": ("key",), "site_data/over.csv": ("new", "old"),
}
_LAW = ("region", "key", "scope")
_ALONE = ("site_data/handbook.yaml", "mkdocs.yml")  # one file, one owner: nothing is joined
_REGIONS = "site_data/regions/"


def stock() -> Path:
    """Folder with `handbook`, `site_data` and `mkdocs.yml`: packed in an installed package, beside it in a checkout."""
    packed = _CODE / "starter" / "stock"
    return packed if packed.is_dir() else _CODE.parent


def settings(root: Path) -> dict[str, str] | None:
    """What almanac.yaml says, or None for a folder that is whole in itself."""
    try:
        text = (root / SETTINGS).read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError):
        return None
    return {match[1]: match[2] for match in re.finditer(r"^(\w+):[ \t]*([^#\n]*?)[ \t]*(?:#.*)?$", text, re.MULTILINE)}


def under(root: Path) -> Path | None:
    """The stock that lies under this folder; None where it is whole in itself."""
    return stock() if os.path.lexists(Path(root) / SETTINGS) else None


def settings_text() -> str:
    """almanac.yaml of a folder that was made, or carried over, by this edition."""
    return ("# What `almanac upgrade` goes by. Leave it to that command.\n"
            f"format: {FORMAT}\nstock: {NUMBER}  # the edition of the stock pages and law that this folder has seen\n")


def wrong_format(root: Path) -> tuple[str, int, str, str, str] | None:
    """A folder that this program cannot read, told as path, line, wanted, came, mend."""
    said = settings(root)
    if said is None and not os.path.lexists(Path(root) / SETTINGS):
        return None
    came = (said or {}).get("format", "")
    if came.isascii() and came.isdigit() and 2 <= int(came) <= FORMAT:
        return None
    mend = "bring the program up to date" if came.isascii() and came.isdigit() and int(came) > FORMAT else f"write format: {FORMAT}"
    return SETTINGS, 1, f"a folder of format {FORMAT}", f"format {came!r}" if came else "none that can be read", mend


def below(root: Path, name: str) -> Path | None:
    """The stock's file of this name, where the crew's folder lies over one."""
    base = under(root)
    parts = name.split("/")
    if base is None or name == "site_data/handbook.yaml" or name == "site_data/coatings.csv" or (len(parts) > 2 and parts[0] == "site_data" and parts[1] in THEIRS):
        return None
    place = base / name
    return place if place.is_file() else None


def find(root: Path, name: str) -> Path:
    """The file of this name: the crew's own, else the stock's, else where the crew's would be."""
    own = Path(root) / name
    return own if os.path.lexists(own) else below(root, name) or own


def there(root: Path, name: str) -> bool:
    """True where the crew or the stock has this file."""
    return find(root, name).is_file()


def home(path: Path, root: Path) -> tuple[Path, str]:
    """The layer that a file lies in, and its name there."""
    # The program may be installed inside the crew's folder, and a folder may lie inside the project: the nearer one has it.
    layers = [one for one in (Path(root), under(root)) if one is not None and path.is_relative_to(one)]
    base = max(layers, key=lambda one: len(one.parts), default=Path(root))
    return base, path.relative_to(base).as_posix()


def is_own(path: Path, root: Path) -> bool:
    """True for a file of the crew's folder, False for one of the stock under it."""
    return home(path, root)[0] == Path(root)


def shown(path: Path, root: Path) -> str:
    """A file as problems name it."""
    base, name = home(path, root)
    return name if base == Path(root) else f"stock: {name}"


def listed(root: Path, folder: str, pattern: str = "*") -> dict[str, Path]:
    """{name within the folder: path} of both layers, in the order of names; folders below it too for a pattern with `**`."""
    base, own = under(root), Path(root) / folder
    found = {path.relative_to(own).as_posix(): path for path in own.glob(pattern)} if own.is_dir() else {}
    kind = folder.removeprefix("site_data/").split("/")[0] if folder.startswith("site_data/") else ""
    if base is not None and kind not in THEIRS and not (kind == "weather" and found):
        found = {path.relative_to(base / folder).as_posix(): path for path in (base / folder).glob(pattern)} | found
    return dict(sorted(found.items()))


def joined(name: str) -> bool:
    """True for a file of named entries, of which a crew holds only its own."""
    return name.endswith(".yaml") and name.startswith("site_data/") and name.count("/") == 1 and name not in _ALONE


def key_of(name: str) -> tuple[str, ...] | None:
    """The columns that tell one row from another; None for a file that the crew holds whole or not at all."""
    return _LAW if name.startswith("site_data/law/") else _KEYS.get(name)
