"""Sizes of a piece against each other: what its shape has to be told, and what cannot lie on or in its face; and a hand's two paces on one surface."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generators.facts.relate import DOUBTFUL, REFUSED, Found

# Sizes that a shape wants beside those that every piece has; `studies/areas.py` works from them.
WANTS = {"panelled": ("panels", "panel_width", "panel_height", "moulding"), "louvred": ("frame", "slat", "thickness", "pitch"), "turned": ("girth",),
         "bars": ("girth", "pitch", "rails", "rail_girth"), "boards": ("slat", "gap"), "lapped": ("pitch",), "waved": ("pitch", "depth")}
LONG = 6.0  # a leaf whose edges are sprayed (a door, a front, a shutter) is seldom longer by its width
THIN = 6.0  # mm: thinner than any board that is painted as a leaf

ROLLED = (0.8, 4.0)  # a roller is about as fast as a brush on narrow work, and two to three times on a wall


def _mm(piece: Any, name: str) -> float:
    value = getattr(piece, name)
    return 0.0 if value is None else float(value.to("mm"))


def shaped(piece: Any) -> Iterator[Found]:
    """What the sizes of one piece say against each other. Shape and sizes: common practice, no source."""
    wants = WANTS.get(piece.shape, ())
    if lacking := [name for name in wants if getattr(piece, name) is None]:
        yield Found(("shape",), REFUSED, f"{', '.join(lacking)} for a {piece.shape} piece", "none", "write them, or shape: flat")
        return
    width, height, edge = (_mm(piece, name) for name in ("width", "height", "edge"))
    for name in wants:  # a size that the shape is worked from; no rails, and boards with no gap, are as good as any
        if name not in ("panels", "rails", "gap") and not _mm(piece, name):
            yield Found((name,), REFUSED, f"a {name.replace('_', ' ')} over nought for a {piece.shape} piece", "0 mm", "measure it, or write shape: flat")
    if 0 < edge < THIN:
        yield Found(("edge",), DOUBTFUL, f"an edge of {THIN:g} mm and more, or 0 where it is not sprayed", f"{edge:g} mm", "measure how thick it is")
    if edge and min(width, height) and max(width, height) / min(width, height) > LONG:
        yield Found(("width" if width < height else "height",), DOUBTFUL, f"a leaf at most {LONG:g} times as long as it is wide", f"{width:g} by {height:g} mm", "measure it again")
    if piece.shape == "panelled" and piece.panels * _mm(piece, "panel_width") * _mm(piece, "panel_height") > width * height:
        came = f"{piece.panels} of {_mm(piece, 'panel_width'):g} by {_mm(piece, 'panel_height'):g} mm on {width:g} by {height:g} mm"
        yield Found(("panel_width",), REFUSED, "panels that lie within the face", came, "count and measure them again")
    for name in ("frame", "slat", "pitch", "gap", "depth"):
        if _mm(piece, name) * 2 > max(width, height):
            yield Found((name,), REFUSED, f"a {name} under half the piece", f"{_mm(piece, name):g} mm", "measure it again")


def paced(surface: Any) -> Iterator[Found]:
    """How fast a surface is rolled against how fast it is brushed, by the same hand. Common practice, no source."""
    times = surface.roll_rate.to("m²/h") / surface.brush_rate.to("m²/h")
    if not ROLLED[0] <= times <= ROLLED[1]:
        came = f"{surface.roll_rate.text} and {surface.brush_rate.text}"
        yield Found(("roll_rate",), DOUBTFUL, f"a roller {ROLLED[0]:g} to {ROLLED[1]:g} times as fast as a brush", came, "check both rates")
