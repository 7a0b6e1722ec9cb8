"""A crew's look: its colour and its mark, on the site, the card, the book and the app's icon."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

import typst

from generators import beside

ICONS = (192, 512)  # pixels of the sides that phones ask for
_DARK = 0.62  # of the colour, behind a dark page


def colour_of(facts: Any) -> str:
    """The crew's colour, or the almanac's own."""
    return str(facts.handbook.look_colour or "#0b3d45")


def _darker(colour: str, share: float) -> str:
    return "#" + "".join(f"{round(int(colour[at : at + 2], 16) * share):02x}" for at in (1, 3, 5))


def logo_name(facts: Any) -> str:
    """Address of the mark in the site; "" for none."""
    return f"assets/logo{Path(facts.handbook.look_logo).suffix.lower()}" if facts.handbook.look_logo else ""


def mark_data(facts: Any) -> dict[str, Any]:
    """The mark for the typesetter, to be joined to a sheet's data: its bytes as numbers and their kind, under "mark"; nothing for a crew without one."""
    if not facts.handbook.look_logo:
        return {}
    return {"mark": {"bytes": list((facts.root / facts.handbook.look_logo).read_bytes()), "format": Path(facts.handbook.look_logo).suffix.lower().lstrip(".")}}


def look_assets(facts: Any) -> dict[str, bytes | str]:
    """Style sheet, mark and icons by address; nothing for a crew that chose neither."""
    made: dict[str, bytes | str] = {}
    if facts.handbook.look_colour:
        colour = colour_of(facts)
        made["assets/look.css"] = (
            "/* The crew's own colour. */\n"
            f'[data-md-color-scheme="default"] {{ --md-primary-fg-color: {colour}; --md-primary-fg-color--dark: {_darker(colour, 0.8)}; }}\n'
            f'[data-md-color-scheme="slate"] {{ --md-primary-fg-color: {_darker(colour, _DARK)}; --md-primary-fg-color--dark: {_darker(colour, _DARK * 0.8)}; }}\n')
    if facts.handbook.look_logo:
        mark = (facts.root / facts.handbook.look_logo).read_bytes()
        made[logo_name(facts)] = mark
        for side in ICONS:
            made[f"assets/icon-{side}.png"] = _icon(mark, logo_name(facts), side)
    return made


def _icon(mark: bytes, name: str, side: int) -> bytes:
    """The mark on white, with the room round it that phones cut away."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        file = Path(name).name
        (root / file).write_bytes(mark)
        points = side * 72 / 96
        source = f'#set page(width: {points}pt, height: {points}pt, margin: 12%, fill: white)\n#align(center + horizon, image("{file}", width: 100%, height: 100%, fit: "contain"))\n'
        (root / "icon.typ").write_text(source, encoding="utf-8", newline="\n")
        beside.threads()
        made = typst.Compiler(root / "icon.typ", root=root, ignore_system_fonts=True).compile(format="png", ppi=96)
        assert isinstance(made, bytes)  # one page
        return made
