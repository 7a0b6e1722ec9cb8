"""Checks of a crew's look: a colour that white letters can be read on, a mark that is a picture and nothing else."""

from __future__ import annotations

import re
from typing import Any

from generators.facts.problem import shown

LEAST = 4.5  # contrast of white letters, WCAG 2.2 success criterion 1.4.3
_MORE_THAN_A_DRAWING = re.compile(rb"<script|<foreignObject|\son\w+\s*=|(?:href|src)\s*=\s*[\"'](?!#|data:image/)|@import|<!ENTITY|javascript:", re.IGNORECASE)
_MOST = 200_000  # bytes of a mark: it goes into every page's head and every copy without signal


def contrast_with_white(colour: str) -> float:
    """1 to 21, as WCAG 2.2 defines it, for a colour such as #0b3d45."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)


def check_look(reader: Any, tree: Any, handbook: Any) -> None:
    """Problems at the lines of look_colour and look_logo."""
    colour, logo = handbook.look_colour, handbook.look_logo
    if colour and (found := contrast_with_white(colour)) < LEAST:
        reader.tell(tree, ("look_colour",), f"a colour that white letters can be read on (contrast of {LEAST} or more)", f"{shown(colour)}, with {found:.1f}", "take a darker one")
    if not logo:
        return
    path = reader.root / logo
    if not re.fullmatch(r"look/[A-Za-z0-9._-]+\.(svg|png)", logo) or not path.is_file() or not path.resolve().is_relative_to(reader.root.resolve()):
        reader.tell(tree, ("look_logo",), "a picture in the folder look/ beside site_data, .svg or .png", shown(logo), "lay it there, and write look/ and its name")
        return
    content = path.read_bytes()
    if len(content) > _MOST:
        reader.tell(tree, ("look_logo",), f"a picture under {_MOST // 1000} kB", f"{len(content) // 1000} kB", "make it smaller")
    elif logo.endswith(".png") and not content.startswith(b"\x89PNG\r\n\x1a\n"):
        reader.tell(tree, ("look_logo",), "a PNG picture", "another file of that name", "save it as PNG")
    elif logo.endswith(".svg") and (b"<svg" not in content or _MORE_THAN_A_DRAWING.search(content)):
        reader.tell(tree, ("look_logo",), "an SVG that is a drawing and nothing else", "one without a drawing, or with scripts or links in it", "save it as a plain SVG or as PNG")
