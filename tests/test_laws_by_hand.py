"""Every declared formula against its law by hand (laws_by_hand/, a file for each chapter, each law with its source): at points spread over what may be typed, at both ends of each
span, and on both sides of every place where the law stops to answer. To a millionth, where the law beside says nothing else.

Would notice: a number, a sign, a unit, a letter, a limit or a condition that is not the law's; a range drawn in or out; the wrong reason for a refusal; a formula without a law.
"""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
from laws_by_hand import LAWS, compare

from generators import formulas
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
    chances = catalogue["overshoot-chance"].column({"dose": doses, "low": 7, "likely": 8.5, "high": 11, "now": 3})
    bell = [100 * NormalDist(0, (1.5 if dose < 8.5 else 2.5) / 1.645).cdf(dose - 8.5) for dose in doses]
    assert np.abs(chances - bell).max() < 1.0
