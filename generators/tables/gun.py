"""Tables of the gun."""

from __future__ import annotations

import numpy as np

from generators import units
from generators.table import Axis, Rounding, Table
from generators.tables.book import Book, Builder, compute, frame, heads

# Width at half the centre's film, as a share of the whole fan, for idealised fans (worked from their shapes).
PATTERNS = {"taper": ("tapers to its edges", 50.0), "bell": ("bell, soft edges", 42.0), "flat-core": ("flat core, feathered", 75.0)}


def _distances(book: Book) -> tuple[str, np.ndarray]:
    return book.pick("mm", "in"), np.array(book.pick((75, 100, 125, 150, 175, 200, 225, 250, 300), (3, 4, 5, 6, 7, 8, 9, 10, 12)), float)


def fan_width(book: Book, kit: str | None = None) -> Table:
    """Fan width over distance and fan angle."""
    unit, distances = _distances(book)
    angles = np.array((30, 40, 45, 50, 60, 70, 80), float)
    values, why = compute(book.formulas["fan-width"], {"distance": distances[:, None], "fan-angle": angles[None, :]}, unit, {"distance": unit})
    return Table(
        "fan-width", "Distance and fan width", f"Width of the fan on the surface, in {unit}. Find the column that gives the width you measured; then read down.",
        Axis("Distance", unit, heads(distances)), Axis("Fan angle", "°", heads(angles, "°")), frame(values), unit,
        Rounding("nearest", book.pick(5, 0.5)), book.system, reasons=frame(why), formulas=("fan-width",),
    )


def stroke_spacing(book: Book, kit: str) -> Table:
    """Fan width and stroke spacing over distance, for a kit's fan and for the three shapes of fan."""
    rig = book.facts.kits[kit]
    unit, distances = _distances(book)
    width, why = compute(book.formulas["fan-width"], {"distance": distances, "fan-angle": rig.fan_angle.to("deg")}, unit, {"distance": unit})
    columns = [width]
    for _, share in PATTERNS.values():
        columns.append(compute(book.formulas["stroke-spacing"], {"fan-width": units.convert(width, unit, "mm"), "half-height-share": share}, unit)[0])
    reach = units.convert(distances, unit, "mm")
    near, far = rig.near.to("mm"), rig.far.to("mm")
    zones = np.where(reach < near - 0.5, "care", np.where(reach > far + 0.5, "care", "fine"))
    return Table(
        "stroke-spacing", f"Stroke spacing: {rig.name}",
        f"Fan width, then the step from one stroke to the next for three shapes of fan, in {unit}. {rig.name}: fan of {rig.fan_angle.value:g}°, "
        f"{PATTERNS[rig.pattern][0]}.",
        Axis("Distance", unit, heads(distances)),
        Axis("", unit, ("Fan width", *(f"Step: {words}" for words, _ in PATTERNS.values()))),
        frame(np.array(columns).T), unit, Rounding("down", book.pick(5, 0.25)), book.system,
        zones=frame(np.repeat(zones[:, None], 4, axis=1)), reasons=frame(np.repeat(why[:, None], 4, axis=1)),
        zone_words={"fine": "in this kit's reach", "care": "nearer or farther than this kit likes"},
        formulas=("fan-width", "stroke-spacing"), notes=("Second coat: move over by half a step.",),
    )


BUILDERS = {
    "fan-width": Builder(fan_width),
    "stroke-spacing": Builder(stroke_spacing, per="kit"),
}
