"""Tables of the gun."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from generators import units
from generators.chart import Chart, Line, Scale
from generators.studies import overlap
from generators.table import Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, first_paint, frame
from generators.tables.sweep import Along, day_of, side_by_side, situation_of, sweep

# Width at half the centre's film, as a share (%) of the whole fan, for the idealised shapes that a kit may name.
PATTERNS = {name: (overlap.FANS[name].label, 100 * overlap.half_height(overlap.FANS[name])) for name in ("taper", "bell", "flat-core")}


def _distances(book: Book) -> tuple[str, np.ndarray]:
    return book.pick("mm", "in"), np.array(book.pick((75, 100, 125, 150, 175, 200, 225, 250, 300), (3, 4, 5, 6, 7, 8, 9, 10, 12)), float)


def fan_width(book: Book, kit: str | None = None) -> Table:
    """Fan width over distance and fan angle."""
    unit, distances = _distances(book)
    angles = np.array((30, 40, 45, 50, 60, 70, 80), float)
    values, why = compute(book.formulas["fan-width"], {"distance": distances[:, None], "fan-angle": angles[None, :]}, unit, {"distance": unit})
    return Table(
        "fan-width", "Distance and fan width", f"Width of the fan on the surface, in {unit}. Find the column that gives the width you measured; then read down.",
        Axis.of("Distance", unit, distances), Axis.of("Fan angle", "°", angles, "°"), frame(values), unit,
        Rounding("nearest", book.pick(5, 0.5)), book.system, reasons=frame(why), formulas=("fan-width",),
    )


def stroke_spacing(book: Book, kit: str) -> Table:
    """Fan width, the step from one stroke to the next for the kit's own shape of fan, and how even that is, over distance."""
    rig = book.facts.kits[kit]
    unit, distances = _distances(book)
    coating = first_paint(book)
    base = {"kit": kit, "coating": coating, "instruments": "exact"}
    if book.facts.coatings[coating].two_pack is not None:
        base["hardener"] = book.facts.coatings[coating].hardener
    rows, round_down = Along("distance", distances, unit, "Distance"), Rounding("down", book.pick(5, 0.25))
    share_down = Rounding("down", 1)
    words = {"fine": "in this kit's reach", "care": "nearer or farther than this kit likes"}
    columns = [sweep(book, "stroke-spacing", "", "", answer, base, rows, None, own, rounding, words) for answer, own, rounding in (
        ("fan", unit, round_down), ("step", unit, round_down), ("evenness", "%", share_down))]
    return replace(
        side_by_side(columns, Axis("", unit, ("Fan width", "Step", "Even, %"))), title=f"Stroke spacing: {rig.name}",
        caption=f"Fan width, the step from one stroke to the next, in {unit}, and the thinnest place in % of the thickest. {rig.name}: fan of {rig.fan_angle.value:g}°, {PATTERNS[rig.pattern][0]}. Another shape of fan wants another step: see the page on strokes.",
        roundings=(round_down, round_down, share_down), formulas=("fan-width", "stroke-spacing"), notes=("Second coat: move over by half a step.",),
    )


SPACINGS = (30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90)
FILMS = ((40, 50, 60, 75, 90, 100, 120, 150), (1.5, 2, 2.5, 3, 3.5, 4, 5, 6))


def _evenness_zones(book: Book, values: np.ndarray) -> np.ndarray:
    fine, least = (book.facts.value(f"limits.evenness_{key}").to("%") for key in ("fine", "least"))
    return np.where(values >= fine, "fine", np.where(values >= least, "care", "stop"))


def overlap_evenness(book: Book) -> Table:
    """Thinnest over thickest film, by shape of fan and step, with a perfect hand."""
    body = np.array([[100 * overlap.evenness(overlap.side_by_side(fan, share / 100)).least for share in SPACINGS] for fan in overlap.FANS.values()])
    return Table(
        "overlap-evenness", "How even, by the step between strokes", "Thinnest place in % of the thickest, for a perfect hand. The step is in % of the whole width of the fan.",
        Axis("Fan", "", tuple(fan.label for fan in overlap.FANS.values())), Axis.of("Step", "% of fan", SPACINGS), frame(body), "%", Rounding("down", 1), book.system,
        zones=frame(_evenness_zones(book, body)), zone_words={"fine": "even", "care": "stripes in a low light", "stop": "stripes anyone sees"},
        notes=("Idealised shapes: measure yours.",),
    )


def fan_shapes(book: Book) -> Table:
    """Half-height width by shape of fan, and how even it is at half and at that width."""
    rows = []
    for fan in overlap.FANS.values():
        wide = overlap.half_height(fan)
        rows.append((100 * wide, 100 * overlap.evenness(overlap.side_by_side(fan, 0.5)).least, 100 * overlap.evenness(overlap.side_by_side(fan, wide)).least))
    body = np.array(rows)
    zones = np.concatenate([np.full((len(rows), 1), ""), _evenness_zones(book, body[:, 1:])], axis=1)
    return Table(
        "fan-shapes", "Half is right for one shape only", "The width where the film is half the middle's, and the thinnest place in % of the thickest, stepping by half the fan and by that width.",
        Axis("Fan", "", tuple(fan.label for fan in overlap.FANS.values())), Axis("", "", ("half-height width, % of fan", "even at half, %", "even at that width, %")),
        frame(body), "%", Rounding("down", 1), book.system, zones=frame(zones), zone_words={"fine": "even", "care": "stripes in a low light", "stop": "stripes anyone sees"},
        notes=("A split or one-sided fan is a fault: mend the gun, no step helps.",),
    )


def hands(rig: Any) -> tuple[overlap.Hand, overlap.Hand]:
    """A trained and a new hand, as shares of a kit's fan at the middle of its reach. Common practice, no source."""
    width = 2 * (rig.near.to("mm") + rig.far.to("mm")) / 2 * np.tan(np.radians(rig.fan_angle.to("deg") / 2))
    trained, new = (overlap.Hand(f"{name}: {place:g} mm, {100 * speed:g} %", place / width, speed) for name, (place, speed) in (("trained", overlap.TRAINED), ("new", overlap.NEW)))
    return trained, new


def second_coat(book: Book, kit: str) -> Table:
    """One coat and two, second on the same lines, across, or half a step over; perfect, trained and new hands."""
    rig = book.facts.kits[kit]
    fan, rows = overlap.FANS[rig.pattern], []
    roundings = (Rounding("down", 1), Rounding("up", 0.5), Rounding("up", 1), Rounding("down", 1), Rounding("up", 1), Rounding("down", 1))
    for coats in overlap.COATS:
        perfect = overlap.ideal(fan, 0.5, coats)
        spread = [overlap.by_hand(rig.pattern, 0.5, hand, coats) for hand in hands(rig)]
        rows.append((100 * perfect.least, 100 * perfect.scatter, *(figure for one in spread for figure in (100 * one.scatter, 100 * one.low))))
    return Table(
        "second-coat", f"The second coat: {rig.name}", f"Stepping by half of a fan that is: {fan.label}. Scatter is the standard deviation in % of the mean; low is what 95 places in 100 reach.",
        Axis("Coats", "", tuple(overlap.COATS.values())),
        Axis("", "", ("perfect hand: thinnest % of thickest", "perfect: scatter %", "trained: scatter %", "trained: low % of mean", "new: scatter %", "new: low % of mean")),
        frame(rows), "%", roundings[0], book.system, roundings=roundings,
        notes=("Trained: strokes placed within {} and speed within {:g} %. New: {} and {:g} % (one standard deviation). A seeded simulation of 4,000 strokes.".format(
            *(figure for (place, speed), us in ((overlap.TRAINED, "½ in"), (overlap.NEW, "1 in")) for figure in (book.pick(f"{place:g} mm", us), 100 * speed))),),
    )


def _wave(fan: overlap.Fan, share: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    across = np.linspace(0, 2, 241)
    film = sum(fan.film(across - 1 - k * share) for k in range(-8, 9))
    mean = float(np.mean(fan.film(np.linspace(-0.5, 0.5, 2001)))) / share  # what one stroke holds, spread over its step: the picture ends in the middle of one
    return tuple(across.tolist()), tuple((100 * film / mean).tolist())


def stripes(book: Book, kit: str) -> Chart:
    """Film across the strokes for a kit's fan: stepping by half, and by the half-height width."""
    rig = book.facts.kits[kit]
    fan = overlap.FANS[rig.pattern]
    wide = overlap.half_height(fan)
    other = 0.5 if abs(wide - 0.5) > 0.03 else 0.7  # where half is right, show what a longer step does
    worst, good = (round(100 * overlap.evenness(overlap.side_by_side(fan, share)).least) for share in (other, wide))
    said = (f"Film across the strokes, in % of the mean. Stepping by {100 * other:.0f} % of the fan: thinnest {worst} % of thickest. "
            f"Stepping by {100 * wide:.0f} % of the fan, its half-height width: {good} %.")
    return Chart(
        "stripes", f"Film across the strokes: {rig.name}", f"A fan that is: {fan.label}. Across two widths of the fan, % of the mean film.", said,
        Scale("Across the strokes", "widths of the fan", 0, 2, (0, 0.5, 1, 1.5, 2)), Scale("Film", "% of mean", 0, 160, (0, 25, 50, 75, 100, 125, 150)),
        lines=(Line(f"step {100 * other:.0f} %: {worst} % even", *_wave(fan, other), at=0.02), Line(f"step {100 * wide:.0f} %: {good} % even", *_wave(fan, wide), strong=True)),
    )


def profiles(book: Book) -> Chart:
    """The shapes of fan, film across."""
    x = np.linspace(-0.5, 0.5, 121)
    shown = [overlap.FANS[name] for name in ("taper", "bell", "flat-core", "crescent")]
    return Chart(
        "profiles", "Four shapes of fan", "Film across one stroke, in % of its highest.",
        "Film across one stroke. Tapering: a straight-sided peak. Bell: a rounded peak with thin skirts. "
        "Flat core: level over the middle half, then straight down. Heavy at one side: a peak off the centre, a fault.",
        Scale("Across the fan", "% of its width", 0, 100, (0, 25, 50, 75, 100)), Scale("Film", "% of highest", 0, 110, (0, 25, 50, 75, 100)),
        lines=tuple(
            Line(("tapers", "bell", "flat core", "one side")[index], tuple((100 * (x + 0.5)).tolist()), tuple((100 * fan.film(x) / fan.film(x).max()).tolist()),
                 strong=index == 0, at=(0.5, 0.33, 0.12, 0.62)[index])
            for index, fan in enumerate(shown)),
    )


def wrist_arc(book: Book) -> Table:
    """Film left at the ends of a swung stroke, and its reach."""
    swings = np.array((5, 10, 15, 20, 25, 30, 45), float)
    unit = book.pick("mm", "in")
    distance, *pivots = book.pick((200.0, 150.0, 550.0), (8.0, 6.0, 22.0))
    columns = []
    for pivot in pivots:
        given = {"distance": distance, "swing": swings, "pivot": pivot}
        columns += [compute(book.formulas[name], given, told, {"distance": unit, "pivot": unit})[0] for name, told in (("arc-film", "%"), ("arc-reach", unit))]
    body = np.stack(columns, axis=1)
    zones = np.where(body >= 88, "fine", np.where(body >= 75, "care", "stop")).astype(object)  # common practice, no source
    zones[:, 1::2] = ""  # a reach is neither good nor bad
    roundings = (Rounding("down", 1), Rounding("nearest", book.pick(5, 0.25))) * len(pivots)
    return Table(
        "wrist-arc", "A swung stroke", f"Film left at the ends of one lone stroke in % of the middle, and how far that end is from the middle in {unit}, at {book.pick('200 mm', '8 in')}.",
        Axis.of("Swing, either way", "°", swings, "°"), Axis("", "", ("wrist: film %", f"wrist: reach {unit}", "elbow: film %", f"elbow: reach {unit}")), frame(body), "",
        roundings[0], book.system, zones=frame(zones), zone_words={"fine": "good enough", "care": "thin ends", "stop": "bare ends"}, roundings=roundings, formulas=("arc-film", "arc-reach"),
        notes=(book.pick("Wrist: 150 mm behind the nozzle. Elbow: 550 mm.", "Wrist: 6 in behind the nozzle. Elbow: 22 in."),),
    )


def gun_tilt(book: Book) -> Table:
    """Near edge over far edge of a tilted fan."""
    tilts, angles = np.array((2, 5, 8, 10, 15, 20, 30), float), np.array((30, 40, 50, 60, 70), float)
    values, why = compute(book.formulas["tilt-ratio"], {"tilt": tilts[:, None], "fan-angle": angles[None, :]}, "×")
    zones = np.where(np.isnan(values), "", np.where(values <= 1.3, "fine", np.where(values <= 1.6, "care", "stop")))  # common practice, no source
    return Table(
        "gun-tilt", "A tilted gun", "Film at the near edge of the fan, as times the far edge.", Axis.of("Tilt", "°", tilts, "°"), Axis.of("Fan angle", "°", angles, "°"),
        frame(values), "×", Rounding("up", 0.05), book.system, zones=frame(zones), reasons=frame(why), formulas=("tilt-ratio",),
        zone_words={"fine": "nobody sees it", "care": "stripes in a low light", "stop": "stripes anyone sees"},
    )


def distance_drift(book: Book, kit: str) -> Table:
    """Film after drift from the kit's distance."""
    rig = book.facts.kits[kit]
    unit = book.pick("mm", "in")
    distances = np.array(book.pick((100, 125, 150, 175, 200, 225, 250), (4, 5, 6, 7, 8, 9, 10)), float)
    drifts = np.array(book.pick((-50, -25, 25, 50, 75, 100), (-2, -1, 1, 2, 3, 4)), float)
    values, why = compute(book.formulas["distance-film"], {"distance": distances[:, None], "drift": drifts[None, :]}, "%", {"distance": unit, "drift": unit})
    share = np.round(values, 9)  # a limit that is met to the digit is met, whatever the sum left after it
    zones = np.where(np.isnan(share), "", np.where((share >= 88) & (share <= 115), "fine", np.where((share >= 75) & (share <= 135), "care", "stop")))  # common practice, no source
    reach = (units.convert(distances, unit, "mm") >= rig.near.to("mm") - 0.5) & (units.convert(distances, unit, "mm") <= rig.far.to("mm") + 0.5)
    return Table(
        "distance-drift", f"What drift does to the film: {rig.name}", f"Film in the middle of one lone stroke, in % of what you meant, when the gun drifts from its distance by so many {unit}. Strokes side by side at an unchanged step keep their mean: nearer stripes, farther lands less. "
        f"This kit likes {distances[reach][0]:g} to {distances[reach][-1]:g} {unit}.",
        Axis.of("Meant", unit, distances), Axis.of("Drift, − nearer", unit, drifts), frame(values), "%", Rounding("nearest", 1), book.system, zones=frame(zones), reasons=frame(why),
        zone_words={"fine": "fine", "care": "runs or thin film begin", "stop": "a run, or dry spray"}, formulas=("distance-film",),
        notes=("The fan's spread alone, for a spot or a single stroke.",),
    )


def speed_and_beat(book: Book, kit: str) -> Table:
    """Speed, time for a metre or foot, and strokes a minute, over wet film, for a kit's flow, share and step."""
    rig = book.facts.kits[kit]
    film, speed, length = book.pick(("µm", "m/s", "m"), ("mil", "in/s", "ft"))
    films = np.array(book.pick(*FILMS), float)
    middle = (rig.near.to("mm") + rig.far.to("mm")) / 2
    # Step and landing are the chain's, so that a kit's own measured fan and boards reach this table.
    out = day_of(book).walk(situation_of(book, {"kit": kit, "instruments": "exact"}), ["step", "speed"])
    step, lands = float(out.held["gun-step"].likely), float(out.held["efficiency"].likely)
    values, why = compute(book.formulas["gun-speed"], {
        "flow": rig.flow.to("mL/min"), "transfer-efficiency": lands, "wet-film": films, "stroke-spacing": step}, "m/s", {"wet-film": film})
    panels = np.array(book.pick((0.6, 1.0, 2.0), (2, 3, 6)), float)
    over = book.pick("100 mm", "4 in")  # past both ends of the panel together: common practice, no source
    strokes = units.convert(panels, length, "m") + units.convert(book.pick(100.0, 4.0), book.pick("mm", "in"), "m")
    turn, fastest = book.facts.value("limits.turn_time").to("s"), book.facts.value("limits.reach_speed_max").to("m/s")
    beats = [compute(book.formulas["stroke-beat"], {"gun-speed": values, "stroke-length": stroke, "turn": turn}, "1/min")[0] for stroke in strokes]
    each = units.convert(1.0, length, "m") / values
    body = np.stack([units.convert(values, "m/s", speed), each, *beats], axis=1)
    zones = np.array([["fine" if 0.1 <= v <= fastest else "care" if np.isfinite(v) else "", *[""] * (len(body[0]) - 1)] for v in values], dtype=object)
    roundings = (Rounding("nearest", book.pick(0.01, 0.5)), Rounding("nearest", 0.1), *(Rounding("nearest", 1),) * len(panels))
    pot = book.formulas["pot-minutes"].work({"pot": rig.pot.to("L"), "flow": rig.flow.to("mL/min")}).value
    return Table(
        "speed-and-beat", f"Gun speed: {rig.name}",
        f"At {book.said(rig.flow)}, {lands:.3g} % landing, {units.convert(middle, 'mm', book.pick('mm', 'in')):.3g} {book.pick('mm', 'in')} off, "
        f"stepping by {units.convert(step, 'mm', book.pick('mm', 'in')):.3g} {book.pick('mm', 'in')}. Then strokes a minute for a panel of each length, running {over} past its two ends together, with {turn:g} s to turn.",
        Axis.of("Wet film", film, films), Axis("", "", (speed, f"s for 1 {length}", *(f"{panel:g} {length} panel, strokes/min" for panel in panels))), frame(body), "",
        roundings[0], book.system, zones=frame(zones), reasons=frame(np.repeat(why[:, None], body.shape[1], axis=1)),
        zone_words={"fine": "a speed a hand can hold", "care": "too fast or too slow to hold: change the flow"},
        roundings=roundings, formulas=("gun-speed", "stroke-beat"),
        notes=(f"A full pot lasts {Rounding('down', 0.5)(pot):g} minutes of open trigger.",),
    )


def pots(book: Book, kit: str) -> Table:
    """Pots of mix for an area, one coat."""
    rig = book.facts.kits[kit]
    film, area = book.pick(("µm", "m²"), ("mil", "ft²"))
    films = np.array(book.pick(*FILMS), float)
    areas = np.array(book.pick((1, 2, 5, 10, 15, 20, 30, 40, 60), (10, 20, 50, 100, 150, 200, 300, 400, 600)), float)
    values, why = compute(book.formulas["paint-for-area"], {"area": areas[:, None], "wet-film": films[None, :], "transfer-efficiency": rig.transfer_efficiency.to("%")}, "L",
                          {"area": area, "wet-film": film})
    return Table(
        "pots", f"Pots for an area: {rig.name}", f"Full pots of {book.said(rig.pot)}, one coat, when {rig.transfer_efficiency.value:g} % lands.",
        Axis.of("Area", area, areas), Axis.of("Wet film", film, films), frame(values / rig.pot.to("L")), "pots", Rounding("up", 0.1), book.system,
        reasons=frame(why), formulas=("paint-for-area",),
        notes=(f"What stays in pot, strainer and hose comes on top: {book.pick('0.15 to 0.35 L', '5 to 12 fl oz')} for each fill and clean.",),
    )


def flow_by_weight(book: Book) -> Table:
    """Flow from the weight a pot loses in 30 s."""
    mass, flow, density = book.pick(("g", "mL/min", "kg/L"), ("oz", "fl oz/min", "lb/gal"))
    lost = np.array(book.pick((20, 30, 40, 50, 60, 80, 100, 120, 150), (0.75, 1, 1.5, 2, 2.5, 3, 3.5, 4, 5)), float)
    densities = np.array(book.pick((0.9, 1.0, 1.1, 1.2, 1.3, 1.4), (7.5, 8.5, 9, 10, 11, 12)), float)
    values, why = compute(book.formulas["flow-by-weight"], {"weight-lost": lost[:, None], "density": densities[None, :], "time": 30.0}, flow, {"density": density, "weight-lost": mass})
    return Table(
        "flow-by-weight", "Your flow, from the scale", f"Weigh the pot, hold the trigger open for 30 s into a bucket, weigh it again. Flow in {flow}.",
        Axis.of("Lost in 30 s", mass, lost), Axis.of("Density of the mix", density, densities), frame(values), flow, Rounding("nearest", book.pick(5, 0.25)), book.system,
        reasons=frame(why), formulas=("flow-by-weight",),
    )


def efficiency_by_method(book: Book) -> TextTable:
    """Published transfer efficiencies by method, with what each figure is."""
    def source(key: str) -> str:
        return book.facts.sources[key].title if key in book.facts.sources else "common practice, no source"

    return TextTable("efficiency-by-method", "What others measured or ruled", "None of these is your gun on your work. Weigh yours.", ("Method", "Lands", "What the figure is", "Source"),
                     tuple((row.method, row.efficiency.text, row.kind, source(row.source)) for row in book.facts.efficiencies))


def saving(book: Book) -> Table:
    """Paint saved against another way of putting it on, for equal film."""
    own = np.array((45, 50, 55, 60, 65, 70, 75), float)
    other = {"conventional spray, 25 %": 25.0, "conventional, 40 %": 40.0, "conventional, 50 %": 50.0, "airless, 45 %": 45.0, "brush or roller, 95 %": 95.0}
    values = np.array([[100 * (1 - before / mine) for before in other.values()] for mine in own])
    return Table(
        "saving", "What low pressure saves, for equal film", "Paint saved in %. Below zero: you use more.", Axis.of("Yours lands", "%", own), Axis("Against", "", tuple(other)), frame(values), "%",
        Rounding("down", 1), book.system, zones=frame(np.where(values > 0, "fine", "care")), zone_words={"fine": "you use less", "care": "you use as much, or more"}, formulas=("material-saving",),
        notes=("Equal film. A thinner coat always looks like a saving: it buys less cover and less life.",),
    )


def nozzles(book: Book) -> TextTable:
    """Nozzle and cup window by class."""
    rows = []
    for one in book.facts.classes.values():
        low, high = one.spray_thin, one.spray_thick
        window = f"{low.seconds:g} to {high.seconds:g} s in {book.facts.cups[low.cup].label}" if low and high else "no cup: judge the fan"
        rows.append((book.label(one), book.pick("", f"{one.nozzle_fine.to('in'):.3f} to {one.nozzle_coarse.to('in'):.3f} in, marked ") + f"{one.nozzle_fine.to('mm'):g} to {one.nozzle_coarse.to('mm'):g} mm", window))
    return TextTable("nozzles", "Nozzle by class", "Starting points, common practice. The data sheet comes first.", ("Class", "Nozzle", "Sprays well at"), tuple(rows))


def kit_choice(book: Book) -> TextTable:
    """Each kit by what decides: the longest cup time, what it lays down, how far off it works, how loud it is."""
    flow, length = book.pick("mL/min", "fl oz/min"), book.pick("mm", "in")
    rows = tuple((kit.name, f"{kit.limit.seconds:g} s in {book.facts.cups[kit.limit.cup].label}",
                  f"{float(f'{kit.flow.to(flow):.3g}'):g} {flow}", f"{float(f'{kit.near.to(length):.3g}'):g} to {float(f'{kit.far.to(length):.3g}'):g} {length}",
                  f"{kit.noise.to('dBA'):g} dBA", str(kit.stages)) for kit in sorted(book.facts.kits.values(), key=lambda kit: kit.limit.seconds))
    return TextTable("kit-choice", "The kits side by side", "The smallest kit stands first. From each kit's own file: measure yours.", ("Kit", "Sprays up to", "Lays down", "From the work", "Noise", "Stages"), rows)


BUILDERS = {
    "fan-width": Builder(fan_width),
    "stroke-spacing": Builder(stroke_spacing, per="kit"),
    "distance-drift": Builder(distance_drift, per="kit"),
    "overlap-evenness": Builder(overlap_evenness, twins=False),
    "fan-shapes": Builder(fan_shapes, twins=False),
    "second-coat": Builder(second_coat, per="kit", twins=False),
    "stripes": Builder(stripes, per="kit", twins=False),
    "profiles": Builder(profiles, twins=False),
    "wrist-arc": Builder(wrist_arc),
    "gun-tilt": Builder(gun_tilt, twins=False),
    "speed-and-beat": Builder(speed_and_beat, per="kit"),
    "pots": Builder(pots, per="kit"),
    "flow-by-weight": Builder(flow_by_weight),
    "efficiency-by-method": Builder(efficiency_by_method, twins=False),
    "saving": Builder(saving, twins=False),
    "nozzles": Builder(nozzles, twins=False),
    "kit-choice": Builder(kit_choice, twins=False),
}
