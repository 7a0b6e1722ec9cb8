"""The stock as a crew last looked through it, kept in its folder: so that the next edition can say what it changes."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from generators import layers

NAME = ".almanac-seen.zip"
_NOT_TEXT = ("schemas", "weather", *layers.THEIRS)


def texts() -> dict[str, str]:
    """{name: text} of the stock that lies under a crew's folder."""
    base, found = layers.stock(), {}
    for place in [*(base / "handbook").rglob("*.md"), *(base / "site_data").rglob("*"), base / "mkdocs.yml"]:
        name = place.relative_to(base).as_posix()
        parts = name.split("/")
        if place.is_file() and place.suffix in (".md", ".yaml", ".yml", ".csv") and not (parts[0] == "site_data" and parts[1] in _NOT_TEXT) and name != "site_data/handbook.yaml":
            found[name] = place.read_text(encoding="utf-8")
    return dict(sorted(found.items()))


def keep(root: Path) -> None:
    """Write down the stock as it is now."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as kept:
        for name, text in texts().items():
            kept.writestr(zipfile.ZipInfo(name, (2020, 1, 1, 0, 0, 0)), text, zipfile.ZIP_DEFLATED)
    (root / NAME).write_bytes(out.getvalue())


def seen(root: Path) -> dict[str, str] | None:
    """{name: text} as it was, or None where that is not known."""
    try:
        with zipfile.ZipFile(root / NAME) as kept:
            return {one.filename: kept.read(one).decode("utf-8") for one in kept.infolist() if one.file_size < 4_000_000}
    except (OSError, zipfile.BadZipFile, UnicodeDecodeError, KeyError):
        return None
