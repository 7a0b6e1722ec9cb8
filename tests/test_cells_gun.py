"""Every cell of the gun's tables, worked a second time: school geometry, paint that is neither made nor lost, and a hand that shakes as the bell curve has it.

Nothing of `generators` works an expected value: it only prints what is looked at. Where no source stands beside a check, it is geometry or the definition of a unit.
What is good enough and what is not (88 and 75 % of the film meant, 115 and 135 % of it, 1.3 and 1.6 times from edge to edge, slower than 0.1 m/s) is common practice, no source.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from by_hand import CLASSES, FLUID_OUNCE, FOOT, GALLON, INCH, KITS, MIL, OUNCE, POUND, QUART, every, legend, limit, number, said, stands
from fans_by_hand import HALF, HANDS, OF_KIT, SHAPES, evenness, film, half, middle_fan, row_of_strokes, two_coats

from generators import tables


def made(book, name, *more):
    return tables.BUILDERS[name](book, *more)


def mm(book):
    """Millimetres in the unit of length that the book's gun tables print."""
    return 1 if book.metric else INCH


def with_kit(book, kit, **changes):
    """The same book where a kit's file says something else."""
    kits = {**book.facts.kits, kit: book.facts.kits[kit].model_copy(update=changes)}
    return tables.Book(replace(book.facts, kits=kits), book.formulas, book.system)


def litres(book, kit, value):
    """A pot of another size, as a fact."""
    return type(book.facts.kits[kit].pot).exact(value, "L")


def graded(value, *edges):
    """The zone of a value that is the worse the more it has: ("fine", 1.3, "care", 1.6, "stop") is fine up to 1.3, and stop over 1.6."""
    return next(zone for zone, edge in zip(edges[::2], (*edges[1::2], math.inf), strict=True) if value <= edge * (1 + 1e-12))


def grade_of_evenness(even):
    return "fine" if even >= limit("evenness_fine") else "care" if even >= limit("evenness_least") else "stop"


def even_cell(cell, even):
    stands(cell, even, "down", 1, slack=0.06)
    if min(abs(even - limit("evenness_fine")), abs(even - limit("evenness_least"))) > 0.05:
        assert cell.zone == grade_of_evenness(even), (cell, even)


def test_fan_width_is_a_triangle(book):
    """Would notice: the whole angle for the half, another step of rounding."""
    for distance, angle, cell in every(made(book, "fan-width")):
        stands(cell, 2 * float(distance) * math.tan(math.radians(float(angle.rstrip("°")) / 2)), "nearest", 5 if book.metric else 0.5)


SHAPED = [*((kit, rig["pattern"]) for kit, rig in KITS.items()), ("two-stage-tote", "bell")]  # the kits, and a third shape of fan


@pytest.mark.parametrize(("kit", "pattern"), SHAPED)
def test_strokes_step_by_the_fans_half_height(book, kit, pattern):
    """Would notice: a fan or a step rounded up, another kit's shape, a distance out of its reach called good, one inside it called bad."""
    rig, place, table = KITS[kit], 5 if book.metric else 0.25, made(with_kit(book, kit, pattern=pattern), "stroke-spacing", kit)
    shape, angle = OF_KIT[pattern], math.radians(number(rig["fan_angle"]))
    # The chain looks evenness up at even per cents of the fan, and takes the worse of the two beside a step.
    worse = min(evenness(shape, share / 100)[0] for share in (2 * math.floor(50 * HALF[shape] + 1e-9), 2 * math.ceil(50 * HALF[shape] - 1e-9)))
    assert worse >= limit("evenness_fine")
    for distance, head, cell in every(table):
        width = 2 * float(distance) * math.tan(angle / 2)
        if head == "Even, %":
            stands(cell, worse, "down", 1, slack=0.06)
        else:
            stands(cell, width * (1 if head == "Fan width" else HALF[shape]), "down", place, slack=1e-4 * width)
        inside = number(rig["near"]) <= float(distance) * mm(book) <= number(rig["far"])
        assert cell.zone == ("fine" if inside else "care"), (distance, cell)
    assert f"{number(rig['fan_angle']):g}°, {shape}" in table.caption
    words = legend(table)
    assert "in this kit's reach" in words["fine"] and "nearer or farther" in words["care"]


@pytest.mark.parametrize("kit", KITS)
def test_film_after_a_drift(book, kit):
    """A lone stroke's fan spreads with distance, so its film falls with it. Would notice: nearer called thinner, a run called fine, another kit's reach."""
    table = made(book, "distance-drift", kit)
    for meant, drift, cell in every(table):
        share = 100 * float(meant) / (float(meant) + said(drift))
        stands(cell, share, "nearest", 1)
        assert cell.zone == ("fine" if 88 <= share <= 115 else "care" if 75 <= share <= 135 else "stop"), (meant, drift, cell)
    inside = [float(head) for head in table.rows.heads if number(KITS[kit]["near"]) <= float(head) * mm(book) <= number(KITS[kit]["far"])]
    assert f"This kit likes {inside[0]:g} to {inside[-1]:g} {'mm' if book.metric else 'in'}." in table.caption
    words = legend(table)
    assert words["fine"] == "fine" and "begin" in words["care"] and "run" in words["stop"] and "dry" in words["stop"]


def test_how_even_every_shape_is_at_every_step(book):
    """Would notice: a ratio upside down, a stripe called even, a step that is no share of the fan, rounding up."""
    table = made(book, "overlap-evenness")
    assert list(table.rows.heads) == list(SHAPES)
    for shape, step, cell in every(table):
        even_cell(cell, evenness(shape, float(step) / 100)[0])
    words = legend(table)
    assert words["fine"] == "even" and "low light" in words["care"] and "anyone" in words["stop"]


def test_half_is_right_for_one_shape_only(book):
    """Would notice: evenness at another step than the head says, a half height of the wrong half, a mark on a width."""
    table = made(book, "fan-shapes")
    for shape, head, cell in every(table):
        wide = half(shape)
        if head.startswith("half-height"):
            stands(cell, 100 * wide, "down", 1, slack=0.02)
            assert not cell.zone
        else:
            even_cell(cell, evenness(shape, 0.5 if head == "even at half, %" else wide)[0])
    words = legend(table)
    assert words["fine"] == "even" and "low light" in words["care"] and "anyone" in words["stop"]


@pytest.mark.parametrize(("kit", "pattern"), SHAPED)
def test_the_second_coat_by_other_dice(book, kit, pattern):
    """The shaken hand drawn anew, place by place, by dice of our own: the table's may lie two hundredths to the safe side and next to nothing to the other. Would notice: a hand
    twice as sure, a fan of another width, scatter rounded down, a low rounded up, shares told as they are and not in %."""
    shape, width = OF_KIT[pattern], middle_fan(kit)[1]
    table = made(with_kit(book, kit, pattern=pattern), "second-coat", kit)
    for coats, head, cell in every(table):
        if head.startswith("perfect"):
            even, scatter = evenness(shape, 0.5, 2 if "half a step over" in coats else 1)
            if "across" in coats:  # two rows that know nothing of each other: the worst of both, and scatter over the root of two
                scatter /= math.sqrt(2)
            stands(cell, even if "thinnest" in head else scatter, "down" if "thinnest" in head else "up", 1 if "thinnest" in head else 0.5, slack=0.06)
            continue
        placing, slow = HANDS[head.split(":")[0]]
        scatter, low = two_coats(shape, 0.5, placing / width, slow, coats)
        safer = said(cell.text) - scatter if "scatter" in head else low - said(cell.text)
        assert re.fullmatch(r"\d+", cell.text) and -0.3 <= safer <= 1.9, (coats, head, cell, scatter, low)
    for (place, slow), us in zip(HANDS.values(), ("½ in", "1 in"), strict=True):
        assert f"{f'{place:g} mm' if book.metric else us}" in table.notes[0] and f"{100 * slow:g} %" in table.notes[0]
    assert np.isclose(12, INCH / 2, atol=1) and np.isclose(25, INCH, atol=1)


@pytest.mark.parametrize("kit", KITS)
def test_the_picture_of_stripes(book, kit):
    """Film across two fans, in % of its mean. Would notice: strokes stacked instead of laid side by side, a share told as such, a step that is not the one named."""
    shape, chart = OF_KIT[KITS[kit]["pattern"]], made(book, "stripes", kit)
    steps = [0.7 if abs(HALF[shape] - 0.5) < 0.01 else 0.5, HALF[shape]]  # where half is right, a longer step shows what it does
    for step, line in zip(steps, chart.lines, strict=True):
        assert (min(line.xs), max(line.xs)) == (chart.x.low, chart.x.high) == (0, 2)
        x = np.array(line.xs) - 1  # the middle of a stroke stands in the middle of the picture
        mean = film(shape, np.linspace(-0.5, 0.5, 20_001)).mean() / step  # what one stroke holds, spread over its step
        assert np.allclose(line.ys, 100 * row_of_strokes(shape, step, x) / mean, atol=0.15), (kit, step)
        even = evenness(shape, step)[0]
        told = int(re.fullmatch(rf"step {100 * step:.0f} %: (\d+) % even", line.label)[1])
        assert abs(told - even) <= 0.55 and re.search(rf"by {100 * step:.0f} % of the fan[^:.]*: (thinnest )?{told} %", chart.description), (line.label, even, chart.description)
    assert chart.lines[1].strong and not chart.lines[0].strong


def test_a_swung_stroke_by_small_turns(book):
    """The joint stands behind the nozzle; a small turn moves the spot along the wall, and the fan is as wide as the gun is far. Would notice: an arm forgotten, one speed
    for all angles, bare ends called thin, an inch of another length than the caption's."""
    table, hair = made(book, "wrist-arc"), 1e-6
    off, arms = (200, {"wrist": 150, "elbow": 550}) if book.metric else (8, {"wrist": 6, "elbow": 22})
    assert f"at {off} {'mm' if book.metric else 'in'}." in table.caption and re.findall(r"\d+", table.notes[0]) == [str(arm) for arm in arms.values()]
    for swing, head, cell in every(table):
        arm, angle = arms[head.split(":")[0]], math.radians(float(swing.rstrip("°")))
        if "reach" in head:
            stands(cell, (arm + off) * math.tan(angle), "nearest", 5 if book.metric else 0.25)
            assert not cell.zone
            continue

        def spot(turned, arm=arm):
            return (arm + off) * math.tan(turned)

        away = math.hypot(arm + off, spot(angle)) - arm
        quicker = (spot(angle + hair) - spot(angle - hair)) / (spot(hair) - spot(-hair))
        share = 100 * off / away / quicker
        stands(cell, share, "down", 1, slack=1e-3)
        assert cell.zone == ("fine" if share >= 88 else "care" if share >= 75 else "stop"), (swing, head, cell)
    words = legend(table)
    assert "good enough" in words["fine"] and "thin" in words["care"] and "bare" in words["stop"]


def test_a_tilted_gun_by_small_angles_everywhere(book):
    """A fan that sends the same paint into each small angle: film is paint over the wall that it meets. Would notice: near for far, the half angle for the whole."""
    def laid(angle):
        small = 1e-5
        return 2 * small / (math.tan(angle + small) - math.tan(angle - small))

    table = made(book, "gun-tilt")
    for tilt, fan, cell in every(table):
        spread, tilted = math.radians(said(fan)) / 2, math.radians(said(tilt))
        ratio = laid(spread - tilted) / laid(spread + tilted)
        stands(cell, ratio, "up", 0.05, slack=1e-4)
        assert cell.zone == graded(ratio, "fine", 1.3, "care", 1.6, "stop"), (tilt, fan, cell, ratio)
    words = legend(table)
    assert "nobody" in words["fine"] and "low light" in words["care"] and "anyone" in words["stop"]


@pytest.mark.parametrize("flow", [0.33, 0.9, 1, 2.4])
@pytest.mark.parametrize("kit", KITS)
def test_gun_speed_by_what_lands(book, kit, flow):
    """What lands in a second is film × step × speed; with the kit's own flow, with less of it and with more. Would notice: minutes for seconds, another step than the
    caption's, a panel or a run-out of another length, a turn forgotten, a race called a speed that a hand can hold."""
    rig = KITS[kit]
    table = made(with_kit(book, kit, flow=type(book.facts.kits[kit].flow).exact(flow * number(rig["flow"]), "mL/min")), "speed-and-beat", kit)
    thick, long, step_of = (1e-6, 1, 0.01) if book.metric else (MIL * 1e-6, FOOT, 0.5)
    landed = flow * number(rig["flow"]) * 1e-6 / 60 * number(rig["transfer_efficiency"]) / 100  # m³ in a second
    shape, width = middle_fan(kit)
    step, past = HALF[shape] * width / 1000, 0.1 if book.metric else 4 * INCH / 1000  # what a stroke runs past the panel, as the caption says
    for head, row in table.grid():
        speed = landed / (float(head) * thick * step)
        shown = dict(zip(table.columns.heads, row, strict=True))
        stands(shown.pop("m/s" if book.metric else "in/s"), speed if book.metric else speed * 1000 / INCH, "nearest", step_of, slack=2e-4)
        assert row[0].zone == ("fine" if 0.1 <= speed <= limit("reach_speed_max") else "care"), (head, row[0], speed)
        stands(shown.pop("s for 1 m" if book.metric else "s for 1 ft"), long / speed, "nearest", 0.1, slack=1e-3)
        assert [said(panel) for panel in shown] == ([0.6, 1, 2] if book.metric else [2, 3, 6])
        for panel, cell in shown.items():
            assert not cell.zone
            stands(cell, 60 / ((said(panel) * long + past) / speed + limit("turn_time")), "nearest", 1, slack=1e-3)
    unit, middle = ("mm", 1) if book.metric else ("in", INCH)
    told = re.search(r"([\d.]+) (?:mm|in) off, stepping by ([\d.]+) (mm|in)", table.caption)
    assert told[3] == unit and float(told[1]) == pytest.approx((number(rig["near"]) + number(rig["far"])) / 2 / middle, rel=0.005) and float(told[2]) == pytest.approx(1000 * step / middle, rel=0.005)
    assert f"{number(rig['transfer_efficiency']):g} % landing" in table.caption
    assert ("100 mm" if book.metric else "4 in") + " past its two ends" in table.caption and f"{limit('turn_time'):g} s to turn" in table.caption
    minutes = float(re.search(r"([\d.]+) minutes", table.notes[0])[1])
    whole = number(rig["pot"]) * 1000 / number(rig["flow"]) / flow
    assert whole - 0.5 < minutes <= whole + 1e-9 and minutes % 0.5 == 0
    words = legend(table)
    assert words.get("fine", "a hand can hold").endswith("a hand can hold") and words.get("care", "change the flow").endswith("change the flow")


@pytest.mark.parametrize("pot", [None, 0.6])
@pytest.mark.parametrize("kit", KITS)
def test_pots_for_an_area(book, kit, pot):
    """Area × film is what lands; the rest goes past; from the kit's own pot and from a smaller one. Would notice: pots for litres, a share that shrinks a pot, rounding down."""
    share, thick, area = number(KITS[kit]["transfer_efficiency"]) / 100, *((1e-6, 1) if book.metric else (MIL * 1e-6, FOOT**2))
    table = made(with_kit(book, kit, pot=litres(book, kit, pot)) if pot else book, "pots", kit)
    whole = pot or number(KITS[kit]["pot"]) * (QUART if "qt" in KITS[kit]["pot"] else 1)
    for wide, thin, cell in every(table):
        stands(cell, float(wide) * area * float(thin) * thick * 1000 / share / whole, "up", 0.1)


def test_flow_from_the_scale(book):
    """Would notice: half a minute taken for a whole, avoirdupois for fluid ounces, weight × density."""
    weight, dense, volume = (1, 1, 1) if book.metric else (OUNCE, POUND / 1000 / GALLON, FLUID_OUNCE)
    table = made(book, "flow-by-weight")
    assert "for 30 s" in table.caption
    for lost, density, cell in every(table):
        stands(cell, 2 * float(lost) * weight / (float(density) * dense) / volume, "nearest", 5 if book.metric else 0.25)


def test_paint_saved(book):
    """For one litre on the wall a gun takes 1 over its share. Would notice: a loss called a saving, another share than the head says, rounding up."""
    table = made(book, "saving")
    for own, other, cell in every(table):
        theirs = float(re.search(r"(\d+) %", other)[1])
        taken, saved = 100 / theirs, 100 / theirs - 100 / float(own)
        stands(cell, 100 * saved / taken, "down", 1)
        assert cell.zone == ("fine" if saved > 1e-12 else "care"), (own, other, cell)
    words = legend(table)
    assert "less" in words["fine"] and "more" in words["care"] and "as much" in words["care"]


def test_nozzles_and_kits_are_their_files(book):
    """Would notice: a window of cup seconds where the class has none, a nozzle in the wrong unit, a kit nearer than its own nearest, kits in another order."""
    nozzles = {row[0]: row[1:] for row in made(book, "nozzles").rows}
    for kind in CLASSES.values():
        nozzle, window = nozzles[kind["label"]]
        ends = [number(kind[key]) for key in ("nozzle_fine", "nozzle_coarse")]
        assert f"{ends[0]:g} to {ends[1]:g} mm" in nozzle and (book.metric or nozzle.startswith(f"{ends[0] / INCH:.3f} to {ends[1] / INCH:.3f} in"))
        thin, thick = kind.get("spray_thin"), kind.get("spray_thick")
        assert window == (f"{number(thin):g} to {number(thick):g} s in Ford cup 4" if thin and thick else "no cup: judge the fan"), kind
    key, kind = next((key, kind) for key, kind in book.facts.classes.items() if kind.spray_thin)  # a class of which only one end is known
    half_known = tables.Book(replace(book.facts, classes={**book.facts.classes, key: kind.model_copy(update={"spray_thick": None})}), book.formulas, book.system)
    assert dict((row[0], row[2]) for row in made(half_known, "nozzles").rows)[kind.label] == "no cup: judge the fan"
    rows = made(book, "kit-choice").rows
    assert [row[0] for row in rows] == sorted((rig["name"] for rig in KITS.values()), key=lambda name: next(number(rig["limit"]) for rig in KITS.values() if rig["name"] == name))
    for name, cup, flow, reach, noise, stages in rows:
        rig = next(rig for rig in KITS.values() if rig["name"] == name)
        assert cup == f"{number(rig['limit']):g} s in Ford cup 4" and noise == rig["noise"] and stages == str(rig["stages"])
        assert said(flow) == pytest.approx(number(rig["flow"]) / (1 if book.metric else FLUID_OUNCE), rel=0.005)
        for told, key in zip(re.findall(r"[\d.]+", reach), ("near", "far"), strict=True):
            assert float(told) == pytest.approx(number(rig[key]) / mm(book), rel=0.002), (name, reach)


def test_four_shapes_of_fan(book):
    """Each drawn line, point by point, in % of its own highest. Would notice: a shape under another's name."""
    chart = made(book, "profiles")
    for line, shape in zip(chart.lines, ("tapers to its edges", "bell", "flat core with soft edges", "heavy at one side"), strict=True):
        laid = film(shape, np.array(line.xs) / 100 - 0.5)
        assert np.allclose(line.ys, 100 * laid / laid.max(), atol=0.01), line.label
