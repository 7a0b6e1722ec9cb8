"""The gun: fan, stroke, and what lands."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Condition, Constant, Formula, Let, Symbol

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

film_at = Formula(
    "film-across", "Film at one place between strokes, from the fan's own half-height share",
    inputs=(
        Symbol("place", "a", "1", 0, 4, "where, in steps from a stroke's middle", 0.5), Symbol("edge", "b", "1", 0, 1, "1: as far back as the fan reaches; 0: there", 0),
        Symbol("step-share", "s", "%", 20, 110, "step from one stroke to the next, as a share of the fan", 50),
        Symbol("half-height-share", "k", "%", 20, 95, "width at half the centre's film, as a share of the fan", 50),
    ),
    answer=Symbol("film", "h", "1", 0, 20, "film, in films of one stroke's middle"),
    steps=(
        Let("q", "1", "log(1/2)/log(1 - k**2)", "roundness of the fan's profile"),
        *(Let(f"r{n}", "1", f"1 - (2*s*(a + {n - 4}) - b)**2", f"room left in stroke {n} of seven", f"r_{{{n}}}") for n in range(1, 8)),
    ),
    # Outside the fan no room is left, and there is nothing: the log of nought is minus infinity in both languages, and its exponential is nought.
    expression=" + ".join(f"exp(q*log((r{n} + 0 + sqrt((r{n} - 0)**2))/2))" for n in range(1, 8)), origin=Origin(Basis.COMMON, "mass-balance"),
    notes=("A rounded fan, measured with a comb across one stroke: (1 − (2x/w)²) to a power that its half-height share gives. Seven strokes of a perfect hand.",),
)
film_evenness = Formula(
    "film-evenness", "Thinnest over thickest", inputs=(Symbol("thinnest", "a", "1", 0, 20, "least film of all places", 0.9), Symbol("thickest", "b", "1", 0.01, 20, "most film of all places", 1)),
    answer=Symbol("evenness", "e", "%", 0, 100, "thinnest place over thickest"), expression="a/b", origin=_BALANCE,
)
efficiency_there = Formula(
    "efficiency-at-distance", "What lands at another distance",
    inputs=(
        Symbol("transfer-efficiency", "E", "%", 5, 100, "share that lands at the middle of the kit's reach", 65),
        Symbol("fall", "f", "%", -20, 60, "how much less lands for each 100 mm (4 in) farther", 5),
        Symbol("distance", "d", "mm", 50, 1000, "gun to surface", 220), Symbol("middle", "m", "mm", 50, 1000, "distance it was weighed at", 187.5),
    ),
    answer=Symbol("transfer-efficiency", "X", "%", 1, 100, "share that lands there"), constants=(Constant("each", 100, "mm", "step of the fall", "d_{100}"),
    Constant("most", 1, "1", "no more than all of it lands", "E_\\mathrm{most}")),
    steps=(Let("free", "1", "E - f*(d - m)/each", "by the line"),),
    expression="(free + most - sqrt((free - most)**2))/2", origin=Origin(Basis.COMMON, "mass-balance"),
    notes=("No good source gives the fall: weigh boards at two distances.",),
)
flow_there = Formula(
    "flow-at-viscosity", "Flow of thinner or thicker paint",
    inputs=(
        Symbol("flow", "Q", "mL/min", 5, 1000, "flow at the kit's limit", 150), Symbol("limit-viscosity", "v0", "mm²/s", 1, 5000, "viscosity at the kit's limit", 183, "\\nu_0"),
        Symbol("viscosity", "nu", "mm²/s", 1, 5000, "viscosity in the pot", 120, "\\nu"), Symbol("power", "n", "1", 0, 1.2, "how steeply flow falls with viscosity: ½ to 1", 0.7),
    ),
    answer=Symbol("flow", "R", "mL/min", 1, 5000, "what leaves the gun"), expression="Q*exp(-n*log(nu/v0))", origin=Origin(Basis.COMMON, "own-weighings"),
    notes=("A passage and a head together lie between a power of ½ and of 1; two weighed flows give the kit's own.",),
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

gun_speed = Formula(
    "gun-speed", "Gun speed for a wet film",
    inputs=(
        Symbol("flow", "Q", "mL/min", 10, 1000, "what leaves the gun", 150),
        Symbol("transfer-efficiency", "E", "%", 5, 100, "share that lands", 70),
        Symbol("wet-film", "h", "µm", 5, 1000, "wet film wanted", 75),
        Symbol("stroke-spacing", "s", "mm", 10, 600, "from one stroke to the next", 125),
    ),
    answer=Symbol("gun-speed", "v", "m/s", 0.01, 3, "speed of the gun"),
    expression="Q*E/(h*s)", origin=_BALANCE,
    notes=("Faster than about 0.6 m/s (24 in/s) nobody keeps even. Then close the fluid control instead.",),
)

stroke_beat = Formula(
    "stroke-beat", "Strokes a minute for a panel",
    inputs=(
        Symbol("gun-speed", "v", "m/s", 0.01, 3, "speed of the gun", 0.2),
        Symbol("stroke-length", "L", "m", 0.1, 10, "panel, with what you overshoot at both ends", 1.1),
        Symbol("turn", "T", "s", 0, 5, "time to turn and step over", 0.5),
    ),
    answer=Symbol("beat", "b", "1/min", 0.1, 400, "strokes in a minute"),
    expression="1/(L/v + T)", origin=Origin(Basis.PUBLISHED, "geometry"),
)

paint_for_area = Formula(
    "paint-for-area", "Paint through the gun for an area",
    inputs=(
        Symbol("area", "A", "m²", 0.01, 5000, "area", 10),
        Symbol("wet-film", "h", "µm", 5, 1000, "wet film, one coat", 75),
        Symbol("transfer-efficiency", "E", "%", 5, 100, "share that lands", 65),
    ),
    answer=Symbol("paint", "V", "L", 0, 5000, "mix through the gun"),
    expression="A*h/E", origin=_BALANCE,
    notes=("Smooth, sealed surface. What stays in pot, strainer and hose comes on top.",),
)

pot_minutes = Formula(
    "pot-minutes", "How long a pot lasts",
    inputs=(
        Symbol("pot", "V", "L", 0.05, 100, "mix in the pot", 1),
        Symbol("flow", "Q", "mL/min", 10, 1000, "what leaves the gun", 150),
    ),
    answer=Symbol("time", "t", "min", 0, 2000, "minutes of open trigger"),
    expression="V/Q", origin=_BALANCE,
)

flow_by_weight = Formula(
    "flow-by-weight", "Flow, from the pot on a scale",
    inputs=(
        Symbol("weight-lost", "m", "g", 1, 5000, "weight lost by the pot", 90),
        Symbol("density", "rho", "kg/L", 0.6, 3, "density of the mix", 1.2, "\\rho"),
        Symbol("time", "t", "s", 5, 600, "trigger held for", 30),
    ),
    answer=Symbol("flow", "Q", "mL/min", 1, 2000, "what leaves the gun"),
    expression="m/(rho*t)", origin=_BALANCE,
)

transfer_efficiency = Formula(
    "transfer-efficiency", "Your own transfer efficiency, from pot and board",
    inputs=(
        Symbol("board-gain", "b", "g", 0.1, 5000, "weight gained by the board, weighed at once, wet", 52),
        Symbol("pot-loss", "m", "g", 1, 10000, "weight lost by the pot over the same strokes", 80),
        Symbol("flight-loss", "f", "%", 0, 60, "share that evaporates on the way and before you weigh", 5),
    ),
    answer=Symbol("transfer-efficiency", "E", "%", 1, 100, "share that lands"),
    expression="b/(m*(1 - f))", origin=Origin(Basis.PUBLISHED, "en-13966"),
    conditions=(Condition("m*(1 - f) - b", "more landed than left the gun: weigh again"),),
    notes=("The standard weighs the solids after drying. Then weigh the board dry and put the solids' share in by hand: 1 − f is the weight solids.",),
)

transfer_efficiency_dry = Formula(
    "transfer-efficiency-dry", "Your own transfer efficiency, board weighed dry",
    inputs=(
        Symbol("board-gain", "b", "g", 0.05, 5000, "weight gained by the board, dried hard", 26), Symbol("pot-loss", "m", "g", 1, 10000, "weight lost by the pot over the same strokes", 80),
        Symbol("weight-solids", "w", "%", 2, 100, "weight solids of the mix", 50),
    ),
    answer=Symbol("transfer-efficiency", "E", "%", 1, 100, "share that lands"), expression="b/(m*w)", origin=Origin(Basis.PUBLISHED, "en-13966"),
    conditions=(Condition("m*w - b", "more landed than left the gun: weigh again, and look at the solids of the mix"),), notes=("As the standard does it: what flew off on the way does not matter.",),
)

distance_film = Formula(
    "distance-film", "Film in the middle of one stroke after the gun drifts",
    inputs=(
        Symbol("distance", "d", "mm", 50, 500, "distance the speed was set for", 200),
        Symbol("drift", "x", "mm", -200, 300, "farther by (nearer: below zero)", 50),
    ),
    answer=Symbol("film-share", "f", "%", 10, 400, "film, against the film wanted"),
    expression="d/(d + x)", conditions=(Condition("d + x", "the gun would be in the wall"),), origin=_GEOMETRY,
    notes=("The middle of one lone stroke, by geometry alone. Strokes laid side by side at an unchanged step keep the panel's mean: nearer stripes it, farther lands less.",),
)

arc_film = Formula(
    "arc-film", "Film at the end of one swung stroke",
    inputs=(
        Symbol("distance", "d", "mm", 50, 500, "gun to surface, in the middle", 200),
        Symbol("pivot", "r", "mm", 0, 2000, "from the nozzle back to the joint that turns", 150),
        Symbol("swing", "a", "deg", 0, 60, "angle from the middle", 20, "\\alpha"),
    ),
    answer=Symbol("film-share", "f", "%", 0, 100, "film at that end, against the middle"),
    expression="d*cos(a)**2/((r + d)/cos(a) - r)", origin=_GEOMETRY,
    notes=("Farther away and faster at once: the two multiply.",),
)

swing_film = Formula(
    "swing-film", "Film at the end of swung strokes laid at an unchanged step",
    inputs=(Symbol("swing", "a", "deg", 0, 60, "angle from the middle", 20, "\\alpha"),),
    answer=Symbol("film-share", "f", "%", 0, 100, "mean film there, against the middle"),
    expression="cos(a)**2", origin=_GEOMETRY,
    notes=("Strokes side by side at one step: the fan spreads, but its neighbours spread too, so only the speed of the spot counts.",),
)

arc_reach = Formula(
    "arc-reach", "Reach of a swung stroke",
    inputs=(
        Symbol("distance", "d", "mm", 50, 500, "gun to surface, in the middle", 200),
        Symbol("pivot", "r", "mm", 0, 2000, "from the nozzle back to the joint that turns", 150),
        Symbol("swing", "a", "deg", 0, 60, "angle from the middle", 20, "\\alpha"),
    ),
    answer=Symbol("reach", "x", "mm", 0, 6000, "from the middle to that end"),
    expression="(r + d)*tan(a)", origin=_GEOMETRY,
)

tilt_ratio = Formula(
    "tilt-ratio", "Near edge against far edge of a tilted fan",
    inputs=(
        Symbol("tilt", "a", "deg", 0, 45, "tilt of the gun, in the plane of the fan", 10, "\\alpha"),
        Symbol("fan-angle", "q", "deg", 5, 110, "full angle of the fan", 60, "\\theta"),
    ),
    answer=Symbol("ratio", "k", "×", 1, 1000, "film at the near edge over film at the far edge"),
    expression="(cos(q/2 - a)/cos(q/2 + a))**2",
    conditions=(Condition("cos(q/2 + a) - 1/20", "the far edge of the fan misses the wall"),), origin=_GEOMETRY,
)

louvre_area_factor = Formula(
    "louvre-area-factor", "Paint surface of a louvre, against its face",
    inputs=(
        Symbol("slat-width", "w", "mm", 10, 200, "slat, front edge to back edge", 45),
        Symbol("slat-thickness", "t", "mm", 1, 40, "slat, thickness", 6),
        Symbol("slat-pitch", "p", "mm", 5, 200, "from one slat to the next", 35),
    ),
    answer=Symbol("area-factor", "k", "×", 0.3, 100, "surface of all slats, both sides and edges, over the area of one face"),
    expression="2*(w + t)/p", origin=_GEOMETRY, conditions=(Condition("p - t", "the slats would overlap: they cannot be thicker than their pitch"),),
    notes=("The tilt of the slats does not matter. A flat leaf's two sides are 2 ×. Add the frame as flat work.",),
)

piece_area = Formula(
    "piece-area", "Surface of one piece with its edges",
    inputs=(
        Symbol("width", "b", "m", 0.01, 100, "width", 0.76),
        Symbol("height", "h", "m", 0.01, 100, "height", 1.98),
        Symbol("edge", "t", "mm", 0, 500, "thickness of its edges (0: edges not sprayed)", 35),
        Symbol("faces", "n", "1", 1, 2, "faces sprayed", 2),
        Symbol("profile", "k", "×", 0.5, 20, "one face against flat", 1.15),
    ),
    answer=Symbol("area", "A", "m²", 0, 500000, "surface to cover"),
    expression="n*k*b*h + 2*(b + h)*t", origin=_GEOMETRY,
    notes=("Flat is 1. Mouldings, laps and waves are more: see the table.",),
)

_RUN = Symbol("run", "L", "m", 0.01, 2000, "its length", 3)
_HIGH = Symbol("height", "h", "m", 0.01, 100, "its height", 1)
_SIDES = Symbol("faces", "n", "1", 1, 2, "faces sprayed", 2)
_WHOLE = Symbol("area", "A", "m²", 0, 500000, "surface to cover")

panelled_area = Formula(
    "panelled-area", "Surface of a panelled piece",
    inputs=(Symbol("width", "b", "m", 0.01, 100, "width", 0.762), Symbol("height", "h", "m", 0.01, 100, "height", 1.981), Symbol("edge", "t", "mm", 0, 500,
        "thickness of its edges (0: edges not sprayed)", 35), _SIDES,
            Symbol("panels", "m", "1", 1, 60, "panels", 6), Symbol("panel-width", "p", "mm", 10, 3000, "a panel, width", 240), Symbol("panel-height", "q", "mm", 10, 3000, "a panel, height", 480),
            Symbol("moulding", "g", "mm", 0, 100, "girth of the moulding round it, over what it covers of the face", 12)),
    answer=_WHOLE, expression="n*(b*h + 2*m*(p + q)*g) + 2*(b + h)*t", origin=_GEOMETRY, notes=("Lay a tape over the moulding, and take off what it measures straight across: that is what it adds.",),
)

louvred_area = Formula(
    "louvred-area", "Surface of a louvred piece",
    inputs=(Symbol("width", "b", "m", 0.05, 100, "width", 0.6), Symbol("height", "h", "m", 0.05, 100, "height", 1.2), Symbol("edge", "t", "mm", 0, 500, "thickness of its frame", 30),
            Symbol("frame", "f", "mm", 1, 500, "width of its frame", 50), Symbol("area-factor", "k", "×", 0.3, 100, "surface of the slats over the face that they fill", 2.9)),
    answer=_WHOLE, expression="2*(b*h - (b - 2*f)*(h - 2*f)) + 2*(b + h)*t + 2*(b + h - 4*f)*t + k*(b - 2*f)*(h - 2*f)", origin=_GEOMETRY,
    conditions=(Condition("b - 2*f", "the frame is wider than the piece"), Condition("h - 2*f", "the frame is higher than the piece")),
)

turned_area = Formula(
    "turned-area", "Surface of spindles, rails and casings", inputs=(Symbol("length", "l", "m", 0.01, 2000, "length of one", 0.9), Symbol("girth", "u", "mm", 1, 5000,
    "all the way round, by a tape", 128)),
    answer=_WHOLE, expression="l*u", origin=_GEOMETRY, notes=("A casing or a skirting: the girth of what shows.",),
)

bars_area = Formula(
    "bars-area", "Surface of a railing, by bar and gap",
    inputs=(_RUN, _HIGH, Symbol("girth", "u", "mm", 1, 2000, "a bar, all the way round", 50), Symbol("pitch", "p", "mm", 5, 2000, "from one bar to the next", 110),
            Symbol("rails", "r", "1", 0, 20, "rails along it", 2), Symbol("rail-girth", "v", "mm", 0, 2000, "a rail, all the way round", 120)),
    answer=_WHOLE, expression="L/p*u*h + r*v*L", origin=_GEOMETRY, notes=("All round each bar: both sides are in it. Never times two.",),
)

boards_area = Formula(
    "boards-area", "Surface of boards with gaps",
    inputs=(_RUN, _HIGH, Symbol("board", "b", "mm", 10, 2000, "a board, width", 100), Symbol("gap", "g", "mm", 0, 2000, "between two boards", 20),
            Symbol("edge", "t", "mm", 0, 200, "thickness, where the edges are sprayed", 20), _SIDES),
    answer=_WHOLE, expression="L/(b + g)*h*(n*b + 2*t)", origin=_GEOMETRY, notes=("No gap: the edges do not show, and their thickness is nought.",),
)

lapped_area = Formula(
    "lapped-area", "Surface of lapped boards",
    inputs=(_RUN, _HIGH, Symbol("exposed", "e", "mm", 10, 1000, "of each board, what shows", 150), Symbol("edge", "t", "mm", 0, 100, "lower edge of each board", 18)),
    answer=_WHOLE, expression="L*h*(1 + t/e)", origin=_GEOMETRY,
)

waved_area = Formula(
    "waved-area", "Surface of a corrugated sheet",
    inputs=(_RUN, _HIGH, Symbol("pitch", "p", "mm", 5, 1000, "from one wave to the next", 76), Symbol("depth", "d", "mm", 0, 500, "valley to crest", 18), _SIDES),
    steps=(Let("w", "1", "sqrt(1 + (pi*d/p)**2)"), Let("y", "1", "((w - 1)/(w + 1))**2")),
    answer=_WHOLE, expression="n*L*h*(1 + w)/2*(1 + 3*y/(10 + sqrt(4 - 3*y)))", origin=_GEOMETRY,
    notes=("A sine wave is as long as an ellipse is round; the ellipse by Ramanujan's second fit: right to a millionth up to waves half as deep again as they are long, "
           "and under 4 parts in 10,000 short beyond.",),
)

ALL = (film_at, film_evenness, efficiency_there, flow_there, fan_width, fan_angle, stroke_spacing, stroke_film, landed_volume, material_saving, gun_speed, stroke_beat, paint_for_area,
       pot_minutes, flow_by_weight, transfer_efficiency, transfer_efficiency_dry, distance_film, arc_film, swing_film, arc_reach, tilt_ratio, louvre_area_factor, piece_area,
       panelled_area, louvred_area, turned_area, bars_area, boards_area, lapped_area, waved_area)
