"""What one piece has to be covered with, from its sizes: one source for every page, form and job."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators.formula import Formula

# Shape → (formula, its inputs by the field of pieces.yaml that holds each, in which unit).
SHAPES: Mapping[str, tuple[str, Mapping[str, tuple[str, str]]]] = {
    "flat": ("piece-area", {"width": ("width", "m"), "height": ("height", "m"), "edge": ("edge", "mm"), "faces": ("faces", ""), "profile": ("profile", "×")}),
    "panelled": ("panelled-area", {"width": ("width", "m"), "height": ("height", "m"), "edge": ("edge", "mm"), "faces": ("faces", ""), "panels": ("panels", ""), "panel-width": ("panel_width", "mm"),
                                   "panel-height": ("panel_height", "mm"), "moulding": ("moulding", "mm")}),
    "louvred": ("louvred-area", {"width": ("width", "m"), "height": ("height", "m"), "edge": ("edge", "mm"), "frame": ("frame", "mm")}),
    "turned": ("turned-area", {"length": ("height", "m"), "girth": ("girth", "mm")}),
    "bars": ("bars-area", {"run": ("width", "m"), "height": ("height", "m"), "girth": ("girth", "mm"), "pitch": ("pitch", "mm"), "rails": ("rails", ""), "rail-girth": ("rail_girth", "mm")}),
    "boards": ("boards-area", {"run": ("width", "m"), "height": ("height", "m"), "board": ("slat", "mm"), "gap": ("gap", "mm"), "edge": ("edge", "mm"), "faces": ("faces", "")}),
    "lapped": ("lapped-area", {"run": ("width", "m"), "height": ("height", "m"), "exposed": ("pitch", "mm"), "edge": ("edge", "mm")}),
    "waved": ("waved-area", {"run": ("width", "m"), "height": ("height", "m"), "pitch": ("pitch", "mm"), "depth": ("depth", "mm"), "faces": ("faces", "")}),
}
_SLATS = {"slat-width": ("slat", "mm"), "slat-thickness": ("thickness", "mm"), "slat-pitch": ("pitch", "mm")}


def _given(piece: Any, wanted: Mapping[str, tuple[str, str]]) -> dict[str, float]:
    found = {}
    for name, (field, unit) in wanted.items():
        value = getattr(piece, field)
        if value is None:
            raise ValueError(f"a {piece.shape} piece wants {field}")
        found[name] = value.to(unit) if unit else float(value)
    return found


def wanted_fields(shape: str) -> set[str]:
    """Fields of pieces.yaml that a shape is worked from."""
    return {field for field, _ in SHAPES[shape][1].values()} | ({field for field, _ in _SLATS.values()} if shape == "louvred" else set())


def piece_area(formulas: Mapping[str, Formula], piece: Any) -> float:
    """Surface of one piece in m², all that is sprayed of it; NaN where its formula has no answer."""
    name, wanted = SHAPES[piece.shape]
    given = _given(piece, wanted)
    if piece.shape == "louvred":
        given["area-factor"] = float(formulas["louvre-area-factor"].column(_given(piece, _SLATS)))
    return float(formulas[name].column(given))


def surface_figures(facts: Any, formulas: Mapping[str, Formula], row: Any) -> dict[str, float]:
    """{"face", "sides", "profile"} of one row of surfaces.csv: a piece counts whole, with both sides and its edges in it."""
    if row.piece:
        return {"face": piece_area(formulas, facts.pieces[row.piece]), "sides": 1.0, "profile": 1.0}
    return {"face": row.face.to("m²"), "sides": row.sides.to("1"), "profile": row.profile.to("×")}
