"""The gun: fan, stroke, and what lands."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Condition, Formula, Symbol

_GEOMETRY = Origin(Basis.PUBLISHED, "geometry")
_BALANCE = Origin(Basis.PUBLISHED, "mass-balance")

fan_width = Formula(
    "fan-width", "Fan width at a distance",
    inputs=(
        Symbol("distance", "d", "mm", 25, 1000, "gun to surface", 200),
        Symbol("fan-angle", "a", "deg", 5, 110, "full angle of the fan", 60, "\\theta"),
    ),
    answer=Symbol("fan-width", "w", "mm", 1, 3000, "width of the fan on the surface"),
    expression="2*d*tan(a/2)", origin=_GEOMETRY,
    notes=("Real fans are a little narrower than their angle says. Measure yours once, at one distance.",),
)

fan_angle = Formula(
    "fan-angle", "Fan angle from one measured width",
    inputs=(
        Symbol("fan-width", "w", "mm", 10, 1000, "measured width of the fan", 230),
        Symbol("distance", "d", "mm", 25, 1000, "gun to surface", 200),
    ),
    answer=Symbol("fan-angle", "a", "deg", 1, 150, "full angle of the fan", tex="\\theta"),
    expression="2*atan(w/(2*d))", origin=_GEOMETRY,
)

stroke_spacing = Formula(
    "stroke-spacing", "Stroke spacing from the fan",
    inputs=(
        Symbol("fan-width", "w", "mm", 10, 1000, "width of the fan on the surface", 200),
        Symbol("half-height-share", "k", "%", 20, 100, "width at half the centre's film, as a share of the fan", 50),
    ),
    answer=Symbol("stroke-spacing", "s", "mm", 2, 1000, "from one stroke to the next"),
    expression="k*w", origin=Origin(Basis.COMMON, "mass-balance"),
    notes=("Half the fan is right for a fan that tapers to its edges. A fan with a flat core wants wider steps, or it stripes.",),
)

stroke_film = Formula(
    "stroke-film", "Wet film from flow, speed and spacing",
    inputs=(
        Symbol("flow", "Q", "mL/min", 10, 1000, "what leaves the gun", 150),
        Symbol("transfer-efficiency", "E", "%", 5, 100, "share that lands", 70),
        Symbol("gun-speed", "v", "m/s", 0.02, 2, "speed of the gun", 0.2),
        Symbol("stroke-spacing", "s", "mm", 10, 600, "from one stroke to the next", 125),
    ),
    answer=Symbol("wet-film", "h", "µm", 0.5, 1000, "mean wet film"),
    expression="Q*E/(v*s)", origin=_BALANCE,
    notes=("The mean over the panel. Stripes, edges and runs are on top of it.",),
)

landed_volume = Formula(
    "landed-volume", "Paint that lands",
    inputs=(
        Symbol("sprayed", "V", "L", 0, 1000, "what leaves the gun", 1),
        Symbol("transfer-efficiency", "E", "%", 5, 100, "share that lands", 65),
    ),
    answer=Symbol("landed", "U", "L", 0, 1000, "paint on the surface"),
    expression="V*E", origin=_BALANCE,
)

material_saving = Formula(
    "material-saving", "Paint saved by a better transfer efficiency, for the same film",
    inputs=(
        Symbol("transfer-efficiency-before", "E0", "%", 5, 100, "share that lands now", 30, "E_0"),
        Symbol("transfer-efficiency-after", "E1", "%", 5, 100, "share that lands then", 65, "E_1"),
    ),
    answer=Symbol("saving", "x", "%", 0, 100, "share of the paint saved"),
    expression="1 - E0/E1",
    conditions=(Condition("E1 - E0", "the second figure is no better: nothing is saved"),), origin=_BALANCE,
)

ALL = (fan_width, fan_angle, stroke_spacing, stroke_film, landed_volume, material_saving)
