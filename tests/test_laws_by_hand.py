"""Every declared formula against its law by hand (laws_by_hand/, a file for each chapter, each law with its source): at points spread over what may be typed, at both ends of each
span, and on both sides of every place where the law stops to answer. To a millionth, where the law beside says nothing else.

Would notice: a number, a sign, a unit, a letter, a limit or a condition that is not the law's; a range drawn in or out; the wrong reason for a refusal; a formula without a law.
"""

from __future__ import annotations

import math
import re
from statistics import NormalDist

import numpy as np
import pytest
from laws_by_hand import LAWS, compare

from generators import formulas
from generators.basis import Basis, Origin
from generators.formula import Formula, Root, Symbol
from generators.formula.javascript import script
from generators.formula.numeric import evaluate


def test_every_formula_has_a_law_and_every_law_a_formula():
    assert set(LAWS) == set(formulas.DECLARED)


@pytest.mark.parametrize("name", sorted(LAWS))
def test_a_formula_says_what_its_law_says(catalogue, name):
    law, formula = LAWS[name], catalogue[name]
    assert {one.name.replace("-", "_"): one.unit for one in formula.inputs} == {key: span.unit for key, span in law.spans.items()}
    assert formula.answer.unit == law.gives.unit
    assert sum(law.answers(point) for point, _ in law.points()) >= 12, "its law is hardly asked anything"
    told = compare(law, lambda columns: evaluate(formula, columns))
    assert told is None, told


def test_the_chance_of_loss_is_that_of_a_bell_curve(catalogue):
    """Published: Page's fit lies within 0.00014 of the bell curve; asked here of the bell curve of the standard library."""
    costs = np.linspace(1200, 2800, 81)
    chances = catalogue["chance-of-loss"].column({"offered": 2400, "tax": 20, "cost": costs, "hour-cost": 40, "spread": 5})
    bell = [100 * NormalDist(0, 200).cdf(cost - 2000) for cost in costs]
    assert np.abs(chances - bell).max() < 0.0145


def test_the_chance_to_overshoot_is_near_that_of_a_bell_curve(catalogue):
    """The formula says: a logistic curve, within one per cent of the bell."""
    doses = np.linspace(4, 14, 81)
    chances = catalogue["overshoot-chance"].column({"dose": doses, "low": 7, "likely": 8.5, "high": 11})
    bell = [100 * NormalDist(0, (1.5 if dose < 8.5 else 2.5) / 1.645).cdf(dose - 8.5) for dose in doses]
    assert np.abs(chances - bell).max() < 1.0


# Where a formula and its own words once parted.


def test_an_empty_pot_that_wants_no_thinner_wants_none(catalogue):
    assert catalogue["topped-up-thinner"].work({"left": 0, "thinner-now": 0, "fresh": 1, "thinner": 0}).value == 0


def test_a_pot_that_has_its_thinner_wants_none(catalogue):
    """So much paint and so many per cent of thinner; with more paint to a whole number of times as much, a like fraction of the per cent is what is in it already."""
    # The first by hand: 0.936 L at 4 % is 0.9 L of paint and 36 mL of thinner; with 0.3 L more, 3 % of 1.2 L is 36 mL.
    pots = [(0.936, 4, 0.3, 3), *((paint * (100 + now) / 100, now, paint * more / 10, now * 10 / (10 + more)) for paint in (0.1, 0.3, 0.7, 0.9, 1.1, 2.3, 5.7, 19, 50)
                                  for now in (1, 3, 4, 7, 12, 33, 150) for more in (1, 2, 3, 5, 10))]
    columns = dict(zip(("left", "thinner-now", "fresh", "thinner"), np.array([pot for pot in pots if pot[0] <= 100]).T, strict=True))
    assert (catalogue["topped-up-thinner"].column(columns) >= 0).all() and catalogue["topped-up-thinner"].column(columns).max() < 1e-6
    columns["thinner"] = columns["thinner"] - 1e-6  # a millionth of a per cent less: there is too much in it
    assert np.isnan(catalogue["topped-up-thinner"].column(columns)).all()


AT_THE_END = [("dry-film", {"wet-film": 1000, "volume-solids": 100, "thinner": 0}, 1000), ("least-film", {"wet-film": 1000, "low-share": 100}, 1000),
              ("breathing-air", {"vapour": 0.01, "limit": 10000}, 1)]


@pytest.mark.parametrize("name,given,answer", AT_THE_END)
def test_the_very_end_of_an_answer_is_an_answer(catalogue, name, given, answer):
    assert catalogue[name].work(given).value == answer


def one_letter(low, high, expression="a"):
    return Formula("told-back", "What was given", inputs=(Symbol("given", "a", "1", -10**9, 10**9, "given", 1),), answer=Symbol("answer", "x", "1", low, high, "given"),
                   expression=expression, origin=Origin(Basis.COMMON))


# (least, most, given, what is said): a thousand-millionth of an end beyond it is that end, a little more is refused; the hair of nought is far smaller, and nought has no sign.
HAIRS = [(1, 1000, 1000 * (1 + 0.9e-9), 1000), (1, 1000, 1000 * (1 + 1.1e-9), None), (1, 1000, 1 - 0.9e-9, 1), (1, 1000, 1 - 1.1e-9, None), (-500, 500, -500 * (1 + 0.9e-9), -500),
         (-500, 500, -500 * (1 + 1.1e-9), None), (0, 1000, -0.9e-9, 0), (0, 1000, -1.1e-9, None), (-1000, 0, 0.9e-9, 0), (-1000, 0, 1.1e-9, None), (0, 10**9, -0.9e-6, 0), (0, 10**9, -1.1e-6, None),
         (0, 10, -0.0, 0), (-10, 10, -0.0, 0), (1, 10, math.nan, None)]


@pytest.mark.parametrize("low,high,given,said", HAIRS)
def test_a_hair_beyond_an_end_is_that_end(low, high, given, said):
    formula = one_letter(low, high)
    answer = float(formula.column({"given": given}))
    assert math.isnan(answer) if said is None else answer == said and math.copysign(1, answer) == (-1 if said < 0 else 1)
    assert said is not None or math.isnan(given) or formula.reason({"given": given}).startswith("the answer")


def test_the_other_language_has_the_same_hair(browser, catalogue):
    """The same points in Chromium: the same answers to the last digit and the sign of nought, and the same refusals."""
    page = browser.new_page()
    page.goto("about:blank")
    page.add_script_tag(content=script(catalogue, [name for name, _, _ in AT_THE_END]))
    for name, given, answer in AT_THE_END:
        assert page.evaluate("([name, given]) => almanacFormulas[name].work(given)", [name, given]) == [answer, None]
    for low, high, given, said in HAIRS:
        formula = one_letter(low, high)
        page.evaluate(script({"told-back": formula}) + "window.told = almanacFormulas['told-back'];")
        answer, reason = page.evaluate("given => told.work({given})", given)
        assert math.isnan(answer) if said is None else answer == said and math.copysign(1, answer) == (-1 if said < 0 else 1), (low, high, given)
        assert reason == formula.reason({"given": given})
    page.close()


@pytest.mark.parametrize("half_height", [20, 50, 80, 95])
def test_outside_a_fan_there_is_nothing(catalogue, half_height):
    """A step wider than the fan: between two strokes lies nothing at all, however square the fan."""
    assert catalogue["film-across"].work({"place": 0.5, "edge": 0, "step-share": 110, "half-height-share": half_height}).value == 0


def test_a_deep_wave_is_as_long_as_its_note_says(catalogue):
    """Added up bit by bit: right to a millionth up to one and a half pitches deep; beyond, short, by less than four parts in ten thousand."""
    note = catalogue["waved-area"].notes[0]
    assert "to a millionth up to waves half as deep again as they are long" in note and "under 4 parts in 10,000 short beyond" in note
    for pitch, depth in ((10, 1), (76, 18), (100, 100), (100, 150), (200, 300), (100, 160), (100, 200), (100, 500), (50, 500), (5, 250), (5, 500)):
        point = {"run": 1, "height": 1, "pitch": pitch, "depth": depth, "faces": 1}
        short = 1 - catalogue["waved-area"].work(point).value / LAWS["waved-area"](point)
        assert -1e-9 < short < (1e-6 if depth <= 1.5 * pitch else 4e-4), point


def test_two_kinds_of_steepness_are_not_mixed_up(catalogue):
    """One is over paint, the other over the mix: other names, and words that say which. The same paint by both, by hand: e-fold thinner at 25 % of paint, which is a fifth of the mix."""
    over_paint, over_mix = (next(one for one in catalogue[name].inputs if one.letter == "k") for name in ("thinner-by-steepness", "viscosity-by-steepness"))
    assert over_paint.name != over_mix.name and over_mix.name == "steepness"
    assert "over paint, not over the mix" in over_paint.meaning and "in the mix, not over paint" in over_mix.meaning
    thin = catalogue["viscosity-by-steepness"].work({"first-viscosity": 100 * math.e, "thinner": 25, "steepness": 5}).value
    assert thin == pytest.approx(100)
    assert catalogue["thinner-by-steepness"].work({"first-viscosity": 100 * math.e, "wanted-viscosity": 100, "steepness-by-paint": 4}).value == pytest.approx(25)


def test_no_formula_asks_for_what_it_does_not_use(catalogue):
    """Each input and each constant stands in an expression, a step or a condition."""
    for formula in catalogue.values():
        texts = [formula.expression, *(one.expression for one in formula.conditions),
                 *(text for step in formula.steps for text in ((step.residual, step.start) if isinstance(step, Root) else (step.expression,)))]
        used = set(re.findall(r"[A-Za-z_]\w*", " ".join(texts)))
        assert {one.letter for one in (*formula.inputs, *formula.all_constants)} <= used, formula.name
