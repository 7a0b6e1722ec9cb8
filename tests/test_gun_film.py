"""Gun and film: strokes that add up, swung and tilted guns, and a balance of volume from the gun to the panel."""

from __future__ import annotations

import csv
import dataclasses
import math
from types import SimpleNamespace

import numpy as np
import pytest
from conftest import ROOT
from hypothesis import given, settings
from hypothesis import strategies as st

from generators import formulas
from generators.chain.day import Day
from generators.learn import fit as learnt
from generators.quantity import Quantity
from generators.situation import read
from generators.studies import overlap, thinnest
from generators.tables import BUILDERS, Book

DECLARED = formulas.DECLARED


def test_every_row_of_the_published_fan_table_is_checked():
    """A generic spray-angle table, inches: within 0.07 in, and its misprinted cells are listed as such."""
    with (ROOT / "tests/reference/spray-fan.csv").open() as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    inches = [row for row in rows if row["unit"] == "in"]
    assert sum(row["how"] == "formula:fan-width" for row in inches) >= 40
    assert all(float(row["tolerance"]) <= 0.07 for row in inches if row["how"] == "formula:fan-width")
    assert sum("misprint" in row["reason"] for row in inches) == 3


def test_a_triangle_at_half_its_width_is_flat():
    """Closed form: two straight sides add to a level."""
    film = overlap.side_by_side(overlap.FANS["taper"], 0.5)
    assert film.max() / film.min() - 1 < 0.001


def test_a_flat_core_at_half_shows_two_to_one():
    """Closed form: flat tops overlap to double."""
    assert overlap.evenness(overlap.side_by_side(overlap.FANS["flat-core"], 0.5)).least == pytest.approx(0.5, abs=0.001)
    assert overlap.evenness(overlap.side_by_side(overlap.FANS["flat-core"], 0.75)).least == pytest.approx(1.0, abs=0.001)


@pytest.mark.parametrize(("fan", "wide", "half", "best"), [
    ("taper", 0.50, 1.00, 1.00), ("bell", 0.42, 0.75, 0.89), ("narrow-bell", 0.33, 0.41, 0.89), ("parabola", 0.71, 0.67, 0.83),
    ("flat-core", 0.75, 0.50, 1.00), ("wide-core", 0.85, 0.50, 1.00)])
def test_half_height_widths_agree_with_an_independent_working(fan, wide, half, best):
    """Figures worked by another hand from the same idealised shapes, to two decimals; no published source."""
    shape = overlap.FANS[fan]
    width = overlap.half_height(shape)
    assert width == pytest.approx(wide, abs=0.006)
    assert overlap.evenness(overlap.side_by_side(shape, 0.5)).least == pytest.approx(half, abs=0.006)
    assert overlap.evenness(overlap.side_by_side(shape, width)).least == pytest.approx(best, abs=0.006)


def test_film_is_neither_made_nor_lost_by_overlapping():
    """The mean film is one stroke's film over the step, whatever the shape (mass balance)."""
    x = np.linspace(-0.5, 0.5, 200_001)
    for fan in overlap.FANS.values():
        whole = float(np.trapezoid(fan.film(x), x))
        for step in (0.3, 0.5, 0.8):
            assert float(np.mean(overlap.side_by_side(fan, step, 20_000))) == pytest.approx(whole / step, rel=1e-3), fan.name


# A drop's place across the fan, in shares of its width, for shapes that have a law of their own: thrown from two numbers between 0 and 1, none is integrated.
DROPS = {
    "taper": lambda one, other: 0.5 * (one - 0.5) + 0.5 * (other - 0.5),  # a triangle is the sum of two even ones
    "flat-core": lambda one, other: 0.75 * (one - 0.5) + 0.25 * (other - 0.5),  # a trapezoid, the sum of a wide and a narrow one
}


@pytest.mark.parametrize("kit", ["two-stage-tote", "five-stage-trolley"])
@pytest.mark.parametrize("step_share", [0.4, 0.5, 0.6])
def test_mean_and_evenness_against_drops_that_fall(facts, catalogue, kit, step_share):
    """Drops thrown one by one by a gun at the chain's own speed, on a panel of many strokes: mean film and thinnest over thickest within 1 %.

    A simulation of the test's own: nothing is taken from the studies but the name of the fan's shape.
    """
    rig = facts.kits[kit]
    day = Day(facts, catalogue)
    base = {"kit": kit, "coating": "gannet-trim-satin", "thinner-wanted": "0 %"}
    fan = float(day.walk(read(list(base.items()), day.names()), ["fan"]).held["fan"].likely)
    step = fan * step_share
    out = day.walk(read([*base.items(), ("step", f"{step!r} mm")], day.names()), ["speed", "wet-film", "evenness"]).held
    speed, wanted, even = (float(out[name].likely) for name in ("speed-wanted", "film-wet", "evenness-share"))
    landed = rig.flow.to("mL/min") * 1e3 / 60 * rig.transfer_efficiency.to("%") / 100  # mm³ each second
    count, bins = 2_000_000, 200
    one = (np.arange(count) + 0.5) / count
    places = fan * DROPS[rig.pattern](one, np.arange(count) * 0.6180339887498949 % 1)  # the golden share fills the square evenly
    # An endless row of strokes, all alike: where a drop falls between two of them is all that matters.
    counted = np.bincount(((places / step) % 1 * bins).astype(int), minlength=bins)
    drop = landed / (speed * 1000) / count  # mm² of film's section in one drop: a stroke lays landed / speed
    film = counted.mean() * drop / (step / bins) * 1000  # µm
    assert film == pytest.approx(wanted, rel=0.01), (film, wanted)
    assert rig.half_height is None, "its own fan was measured: its shape is not the study's"
    assert even == pytest.approx(100 * counted.min() / counted.max(), abs=1.0)


def sprayed(pattern: str, step: float, placing: float, speed: float, seed: int, strokes: int = 6000) -> np.ndarray:
    """Films at places drawn by chance along an endless row of strokes, each placed and paced by hand: a second working, stroke by stroke, with no part of the study's.

    Shares of the fan's width; a stroke that would be slower than two fifths of its pace, or quicker than twice, is drawn again.
    """
    shape = {"taper": lambda x: 1 - 2 * abs(x), "bell": lambda x: np.exp(-((x / 0.18) ** 2) / 2), "flat-core": lambda x: np.minimum(1, (0.5 - abs(x)) / 0.25)}[pattern]
    rng = np.random.default_rng(seed)
    centres = np.sort(np.arange(strokes) * step + rng.normal(0, placing, strokes))
    pace = np.concatenate([one[(one > 0.4) & (one < 2)] for one in [1 + rng.normal(0, speed, 2 * strokes)]])[:strokes]
    at = rng.uniform(2, strokes * step - 2, 20_000)
    first, last = np.searchsorted(centres, at - 0.5), np.searchsorted(centres, at + 0.5)
    return np.array([sum(shape(place - centres[k]) / pace[k] for k in range(a, b)) for place, a, b in zip(at, first, last, strict=True)])


@pytest.mark.parametrize("pattern", ["taper", "bell", "flat-core"])
@pytest.mark.parametrize("step_share", [0.4, 0.5, 0.6])
def test_the_thinnest_film_of_a_trained_hand_is_what_a_simulation_finds(facts, catalogue, pattern, step_share):
    """The chain's figure where nobody measured, on a fan of 150 mm: within two and a half of a hundred of what 95 places in 100 reach."""
    kit = facts.kits["two-stage-tote"].model_copy(update={"pattern": pattern})
    changed = dataclasses.replace(facts, kits={**facts.kits, "two-stage-tote": kit})
    day = Day(changed, catalogue)
    base = {"kit": "two-stage-tote", "coating": "gannet-trim-satin", "thinner-wanted": "0 %", "instruments": "exact"}
    fan = float(day.walk(read(list(base.items()), day.names()), ["fan"]).held["fan"].likely)
    out = day.walk(read([*base.items(), ("step", f"{fan * step_share!r} mm")], day.names()), ["least-film"]).held
    film = sprayed(pattern, step_share, 12 / 150, 0.10, 7)
    reached = 100 * np.percentile(film, 5) / film.mean()
    told = 100 * float(out["film-least"].likely) / float(out["film-wet"].likely)
    assert told == pytest.approx(reached, abs=2.5)


@pytest.mark.parametrize(("placing", "speed"), [(0.03, 0.06), (0.08, 0.10), (0.10, 0.18)])
def test_a_hand_that_was_read_with_the_comb_counts_for_more_than_the_studys(facts, catalogue, placing, speed):
    """Twenty readings on each of five surfaces, by a comb of 10 µm: the chain's thinnest film then is that hand's, within its band, whatever the study says of a trained one."""
    film = sprayed("taper", 0.5, placing, speed, 3)
    rng = np.random.default_rng(8)
    sets = [(np.floor(rng.choice(film, 20) / film.mean() * mean / 10) + 0.5) * 10 for mean in (80, 90, 100, 110, 120)]
    one = learnt.scatter("hand_scatter", sets, 10.0)
    assert one.known and one.low <= 100 * film.std() / film.mean() <= one.high
    kit = facts.kits["two-stage-tote"].model_copy(update={"hand_scatter": Quantity(one.low, one.likely, one.high, "%")})
    day = Day(dataclasses.replace(facts, kits={**facts.kits, "two-stage-tote": kit}), catalogue)
    base = {"kit": "two-stage-tote", "coating": "gannet-trim-satin", "thinner-wanted": "0 %", "instruments": "exact"}
    out = day.walk(read(list(base.items()), day.names()), ["least-film"]).held
    reached = np.percentile(film, 5) / film.mean() * float(out["film-wet"].likely)
    assert float(out["film-least"].low) <= reached + 1 and reached <= float(out["film-least"].high) + 5


@pytest.mark.sweep
def test_the_table_of_thinnest_films_is_drawn_again_alike():
    """What stands in the study is what its simulation draws."""
    assert thinnest.worked() == (thinnest.LOW, thinnest.SPREADS)


def test_a_hands_scatter_holds_the_truth_and_refuses_what_teeth_hide():
    """Films drawn from a skewed law that is not the one of the band: nine in ten hold it; a comb too coarse, and too few readings, are refused with their reason."""
    rng, inside, told = np.random.default_rng(12), 0, 0
    for _ in range(600):
        truth = rng.uniform(0.12, 0.3)
        sets = [np.floor(rng.gamma(1 / truth**2, 100 * truth**2, 6) / 10) * 10 + 5 for _ in range(4)]
        one = learnt.scatter("hand_scatter", sets, 10.0)
        told += one.known
        inside += one.known and one.low <= 100 * truth <= one.high
    assert told >= 590 and 0.84 <= inside / told <= 0.96
    assert "12 are needed" in learnt.scatter("hand_scatter", [[100, 110, 95, 105]], 25.0).why
    assert "teeth" in learnt.scatter("hand_scatter", [[87.5, 112.5, 87.5, 112.5, 87.5]] * 3, 25.0).why


def test_halving_the_grid_changes_nothing_printed(facts, catalogue):
    """The printed evenness is rounded down to whole per cents: a grid half as fine prints the same."""
    changed = []
    for fan in overlap.FANS.values():
        for share in range(30, 95, 5):
            fine, coarse = (100 * overlap.evenness(overlap.side_by_side(fan, share / 100, points)).least for points in (overlap.POINTS, overlap.POINTS // 2))
            if abs(fine - coarse) > 0.25:
                changed.append((fan.name, share, fine, coarse))
    assert not changed


def test_half_a_step_over_cancels_and_across_does_not():
    """Crossed coats keep thinnest and thickest and lower scatter by the square root of two; half a step over cancels (closed forms; bell fan: 10.5 → 7.4 and 0.3 %)."""
    fan = overlap.FANS["bell"]
    one, crossed, shifted = (overlap.ideal(fan, 0.5, coats) for coats in ("one", "crossed", "shifted"))
    assert crossed.least == pytest.approx(one.least, abs=0.002)
    assert crossed.scatter == pytest.approx(one.scatter / math.sqrt(2), rel=0.01)
    assert (round(100 * one.scatter, 1), round(100 * crossed.scatter, 1), round(100 * shifted.scatter, 1)) == (10.5, 7.4, 0.3)


@pytest.mark.parametrize("coats", ["same", "shifted"])
def test_a_second_coat_evens_out_a_hand(coats):
    """Two coats scatter less than one, and a trained hand less than a new one, for every usual fan."""
    trained, new = overlap.Hand("t", 0.05, 0.10), overlap.Hand("n", 0.11, 0.20)
    for fan in ("taper", "bell", "flat-core"):
        one, two = overlap.by_hand(fan, 0.5, trained, "one"), overlap.by_hand(fan, 0.5, trained, coats)
        assert two.scatter < one.scatter and two.low > one.low
        assert overlap.by_hand(fan, 0.5, new, coats).scatter > two.scatter


def test_a_hand_that_never_strays_is_perfect():
    still = overlap.Hand("still", 0.0, 0.0)
    for fan in ("taper", "bell", "flat-core"):
        perfect = overlap.ideal(overlap.FANS[fan], 0.5, "one").scatter
        assert overlap.by_hand(fan, 0.5, still, "one").scatter == pytest.approx(perfect, abs=0.01)


@pytest.mark.parametrize(("swing", "film", "reach"), [(10, 94, 62), (15, 88, 94), (20, 79, 127), (30, 59, 202), (45, 29, 350)])
def test_a_swung_wrist(swing, film, reach):
    """Worked by another hand: pivot 150 mm behind a gun at 200 mm; no published source."""
    given = {"distance": 200.0, "pivot": 150.0, "swing": float(swing)}
    assert float(DECLARED["arc-film"].column(given)) == pytest.approx(film, abs=0.6)
    assert float(DECLARED["arc-reach"].column(given)) == pytest.approx(reach, abs=0.6)


def test_a_swung_elbow():
    """Worked by another hand: 550 mm, ±30°: 47 % at 433 mm; distance ×1.27 and speed ×1.33 at a wrist's 30°."""
    given = {"distance": 200.0, "pivot": 550.0, "swing": 30.0}
    assert float(DECLARED["arc-film"].column(given)) == pytest.approx(47, abs=0.6)
    assert float(DECLARED["arc-reach"].column(given)) == pytest.approx(433, abs=0.6)
    assert (350 / math.cos(math.radians(30)) - 150) / 200 == pytest.approx(1.27, abs=0.005)


@pytest.mark.parametrize(("tilt", "ratio"), [(10, 1.5), (15, 1.9), (30, 4.0)])
def test_a_tilted_gun(tilt, ratio):
    """Worked by another hand for a 60° fan; no published source."""
    assert float(DECLARED["tilt-ratio"].column({"tilt": float(tilt), "fan-angle": 60.0})) == pytest.approx(ratio, abs=0.05)


@given(flow=st.floats(40, 400), share=st.floats(20, 90), film=st.floats(30, 200), step=st.floats(30, 300), area=st.floats(0.5, 50))
@settings(max_examples=300, deadline=None)
def test_what_leaves_the_gun_and_lands_is_on_the_panel(flow, share, film, step, area):
    """Mass balance within 0.1 %: time at the table's speed × flow × share = area × film; the pots' litres say the same."""
    speed = float(DECLARED["gun-speed"].column({"flow": flow, "transfer-efficiency": share, "wet-film": film, "stroke-spacing": step}))
    if math.isnan(speed):
        return
    seconds = area / (speed * step / 1000)
    landed = flow / 1000 / 60 * seconds * share / 100  # litres
    on_panel = area * film / 1000  # m² × µm = mL; /1000 → litres
    assert landed == pytest.approx(on_panel, rel=1e-3)
    assert float(DECLARED["paint-for-area"].column({"area": area, "wet-film": film, "transfer-efficiency": share})) * share / 100 == pytest.approx(on_panel, rel=1e-3)
    back = float(DECLARED["stroke-film"].column({"flow": flow, "transfer-efficiency": share, "gun-speed": speed, "stroke-spacing": step}))
    assert math.isnan(back) or back == pytest.approx(film, rel=1e-9)


def test_the_planning_row_of_the_trade(catalogue):
    """150 mL/min, 70 % landing, 11.2 m/min, 125 mm: 75 µm (worked example, common practice)."""
    assert float(catalogue["stroke-film"].column({"flow": 150, "transfer-efficiency": 70, "gun-speed": 11.2 / 60, "stroke-spacing": 125})) == pytest.approx(75, rel=0.002)


def test_the_window_is_where_the_formulas_say(facts, catalogue):
    """On the line that levels, the ripple is at a twentieth after the open time; on the line that holds, it has slid the stated way."""
    from generators.tables import film as chapter

    book = Book(facts, catalogue, "metric")
    for family in chapter.WINDOWS:
        films, levels, holds, open_time = chapter.window(book, family)
        for index in (10, 60, 100):
            if levels[index] <= 100:
                tau = catalogue["levelling-time"].column({"viscosity": levels[index], "wavelength": chapter.RIPPLE, "surface-tension": chapter.TENSION, "wet-film": films[index]})
                assert math.exp(-open_time / float(tau)) == pytest.approx(1 / 20, rel=1e-6)
            if holds[index] <= 100:
                speed = catalogue["sag-speed"].column({"viscosity": holds[index], "density": chapter.DENSITY, "wet-film": films[index]})
                assert float(speed) * open_time == pytest.approx(chapter.SAG, rel=1e-6)


def test_the_comb_never_points_at_the_wrong_tooth(facts, catalogue):
    for system in ("metric", "us"):
        table = BUILDERS["comb-teeth"](Book(facts, catalogue, system))
        for wet, low, high in ((0, 1, 2), (3, 4, 5)):
            known = table.body[low].notna()
            assert (table.body[low][known] <= table.body[wet][known] + 1e-9).all()
            assert (table.body[high][known] > table.body[wet][known]).all()


def test_plans_are_drawn_inside_their_sheet_and_described(facts):
    from xml.etree import ElementTree

    from generators.render import plan_svg

    assert len(facts.techniques) >= 11
    for key, technique in facts.techniques.items():
        drawn = ElementTree.fromstring(plan_svg(key, technique.label, technique.plan))
        assert len(drawn.find("desc").text) > 30
        for x0, y0, x1, y1 in technique.plan.strokes:
            assert max(x0, x1) <= 102 and max(y0, y1) <= technique.plan.height + 2, key
    evil = SimpleNamespace(height=10, shapes=[], strokes=[], seen='"><script>alert(1)</script>')
    assert "<script" not in plan_svg("a", "<b>", evil)
