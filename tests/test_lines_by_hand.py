"""How lines of a chart are graduated, worked a second time: slopes and areas of polynomials whose answer is known, strokes counted on even lines, and cut level by level in fractions on crooked ones.

Nothing of `generators` works an expected value. That strokes are 1, 2 or 5 and their tens, that a clock is cut in halves, thirds and fifths, and how near two strokes may stand: common practice of
scales, no source.
"""

from __future__ import annotations

import bisect
import itertools
import math
from fractions import Fraction

import numpy as np
import pytest

from generators.studies import edge
from generators.studies.edge import Line, clock_values, round_values

# Slopes and areas


@pytest.mark.parametrize("step", [0.01, 0.25, 0.5])
def test_a_slope_of_the_sixth_order_is_exact_up_to_the_sixth_power(step):
    """Of each power of x and y up to the sixth the slope is known (calculus); past it, what is missed falls by 64 where the step is halved. Would notice: a weight or a place that moved, one
    direction taken for the other."""
    for power in range(7):
        for x, y in ((0.7, 1.3), (-1.0, 0.4), (2.0, -1.0)):
            across, along = edge._slope(lambda a, b, n=power: a**n * (1 + b), x, y, step, 0.0), edge._slope(lambda a, b, n=power: (1 + a) * b**n, x, y, 0.0, step)
            assert across == pytest.approx(power * x ** max(0, power - 1) * (1 + y), abs=1e-9 if step > 0.1 else 1e-7), (power, x, y)
            assert along == pytest.approx((1 + x) * power * y ** max(0, power - 1), abs=1e-9 if step > 0.1 else 1e-7), (power, x, y)
    misses = [edge._slope(lambda a, b: np.sin(a) * b, 0.3, 2.0, wide, 0.0) - 2 * math.cos(0.3) for wide in (0.4, 0.2)]
    assert misses[0] / misses[1] == pytest.approx(64, rel=0.1)
    assert edge._slope(lambda a, b: a * a * b, np.array([1.0, 2.0]), np.array([3.0, 3.0]), step, 0.0) == pytest.approx([6.0, 12.0])


def test_an_area_under_straight_pieces():
    """Trapezia by hand, on uneven places: 0, then 2·(1+3)/2, then 0.5·(3+2)/2, then 3·(2−2)/2. Would notice: a first place that is lost, a half that is a third."""
    assert edge._grown(np.array([1.0, 3.0, 2.0, -2.0]), np.array([0.0, 2.0, 2.5, 5.5])).tolist() == pytest.approx([0.0, 4.0, 5.25, 5.25])


# Strokes


def even(low, high, mm):
    """A line on which every unit is as long as every other."""
    return Line(np.array([low, high], float), np.array([0.0, mm * (high - low)]))


CROOKED = {
    "logarithmic": (np.geomspace(3, 900, 60), 60 * np.log(np.geomspace(3, 900, 60))),
    "falling": (np.linspace(2, 47, 40), 300 / (1 + np.linspace(2, 47, 40) / 7)),
    "squared": (np.linspace(31.7, 98.4, 50), np.linspace(31.7, 98.4, 50) ** 2 / 80),
    "long": (np.linspace(180, 2900, 90), 12 * np.sqrt(np.linspace(180, 2900, 90))),
    "under nought": (np.linspace(-13, 38, 30), np.linspace(-13, 38, 30) * 2 + np.exp(np.linspace(-13, 38, 30) / 9)),
}
CROOKED = {name: (values.tolist(), places.tolist()) for name, (values, places) in CROOKED.items()}


def place(curve, value):
    """Where a value stands between the two points next to it."""
    values, places = curve
    right = min(max(bisect.bisect_left(values, value), 1), len(values) - 1)
    share = min(1.0, max(0.0, (float(value) - values[right - 1]) / (values[right] - values[right - 1])))
    return places[right - 1] + (places[right] - places[right - 1]) * share


def apart(curve, strokes, gap):
    where = [place(curve, one) for one in strokes]
    return all(abs(there - here) >= gap for here, there in itertools.pairwise(where))


def in_cells(curve, low, high, gap, cells, cut):
    """Strokes of a line, cell by cell in fractions: `cut` gives, for the size of a cell, the sizes it may be cut into, finest wish first. A cell whose strokes would stand too near stays whole."""
    strokes, queue = set(), list(cells)
    for start, size in queue:
        strokes |= {end for end in (start, start + size) if low <= end <= high}
    while queue:
        start, size = queue.pop()
        if start + size <= low or start >= high:
            continue
        for part in cut(size):
            ends = [start + part * index for index in range(int(size / part) + 1)]
            inside = [end for end in ends if low <= end <= high]
            if apart(curve, inside, gap):
                strokes |= set(inside)
                queue += [(end, part) for end in ends[:-1]]
                break
    return sorted(strokes)


def round_parts(size):
    """Of a one: tenths, fifths, halves; of a two: halves, quarters; of a five: fifths."""
    lead = size
    while lead >= 10:
        lead /= 10
    while lead < 1:
        lead *= 10
    return {1: (size / 10, size / 5, size / 2), 2: (size / 2, size / 4), 5: (size / 5,)}[int(lead)]


def rounds_by_hand(curve, low, high, gap):
    low, high = Fraction(low), Fraction(high)
    size = Fraction(1)
    while size < high - low:
        size *= 10
    while size / 10 >= high - low:
        size /= 10
    first = math.floor(low / size)
    cells = [(cell * size, size) for cell in range(first, math.ceil(high / size))]
    return [float(one) for one in in_cells(curve, low, high, gap, cells, round_parts)]


def clock_parts(size):
    """Four hours by halves to a quarter of an hour, a quarter into three, five minutes into five."""
    return {240: (120,), 120: (60,), 60: (30,), 30: (15,), 15: (5,), 5: (1,)}.get(size, ())


def clock_by_hand(curve, low, high, gap):
    cells = [(240 * cell, 240) for cell in range(math.floor(low / 240), math.ceil(high / 240))]
    return [float(one) for one in in_cells(curve, low, high, gap, cells, clock_parts)]


def ends_of(curve):
    """Ends that lie inside a crooked line, some of them round, and some narrow stretches."""
    first, last = math.ceil(curve[0][0]), math.floor(curve[0][-1])
    middle = (first + last) // 2
    return [(first, last), (first + 1, last - 1), (middle, last), (first, middle), (middle, middle + 1), (middle - 3, middle + 7), (first, first + 10)]


@pytest.mark.parametrize("name", CROOKED)
@pytest.mark.parametrize("gap", [0.7, 1.0, 2.3, 6.0, 40.0])
def test_round_strokes_of_a_crooked_line(name, gap):
    """Level by level in fractions: a cell is cut where all its parts keep the gap, and as finely as it may be. Would notice: strokes too near, a cell left whole that could be cut, a stroke past
    the end, one at the very end that is lost to a hair."""
    for low, high in ends_of(CROOKED[name]):
        told = round_values(Line(*map(np.array, CROOKED[name])), low, high, gap)
        assert told == pytest.approx(rounds_by_hand(CROOKED[name], low, high, gap)), (low, high)
        assert apart(CROOKED[name], told, gap) or len(told) == 2, (low, high)  # but for two ends of one cell


@pytest.mark.parametrize("name", [name for name in CROOKED if name != "under nought"])
@pytest.mark.parametrize("gap", [0.7, 1.0, 2.3, 6.0, 40.0])
def test_clock_strokes_of_a_crooked_line(name, gap):
    """The same for minutes that are read as hours and minutes. Would notice: a quarter of an hour cut into fives that stand too near, a day that begins at another four hours."""
    for low, high in ends_of(CROOKED[name]):
        told = clock_values(Line(*map(np.array, CROOKED[name])), low, high, gap)
        assert told == pytest.approx(clock_by_hand(CROOKED[name], low, high, gap)), (low, high)


STEPS = sorted(lead * Fraction(10) ** power for lead in (1, 2, 5) for power in range(-6, 5))


@pytest.mark.parametrize(("low", "high"), [("0", "10"), ("30", "99"), ("8", "35"), ("0", "1"), ("0.1", "0.7"), ("-20", "40"), ("1000000.5", "1000001.5"), ("0.0002", "0.0003"), ("0", "100"),
                                           ("0.3", "0.6"), ("250", "2000")])
def test_an_even_line_has_every_multiple_of_its_finest_round_step(low, high):
    """Closed form: the finest of 1, 2, 5 and their tens that is at least the gap, all of its multiples from end to end, both ends with them. Would notice: ends that a float's hair leaves out, a
    stroke beyond an end on a line that is very short or far from nought."""
    first, last = Fraction(low), Fraction(high)
    span = float(last - first)
    for mm, gap in ((100 / span, 1.1), (100 / span, 2.4), (100 / span, 4.9), (100 / span, 11.3), (100 / span, 0.7)):
        size = Fraction(1)
        while size < last - first:
            size *= 10
        while size / 10 >= last - first:
            size /= 10
        step = min(one for one in STEPS if float(one) * mm >= gap)
        if step > size:
            continue
        wanted = [float(step * turn) for turn in range(math.floor(first / step), math.ceil(last / step) + 1) if first <= step * turn <= last]
        assert round_values(even(float(first), float(last), mm), float(first), float(last), gap) == pytest.approx(wanted, abs=1e-9), (mm, gap)


@pytest.mark.parametrize(("low", "high"), [(0, 240), (0, 700), (60, 480), (37, 400), (500, 1300), (240, 480), (241, 479), (15, 30)])
def test_an_even_clock_has_every_multiple_of_its_finest_step(low, high):
    """Closed form: every multiple of the finest of 240, 120, 60, 30, 15, 5 and 1 minutes whose strokes keep the gap; one that keeps it exactly counts. Would notice: a gap that must be more."""
    for step, coarser in zip((1, 5, 15, 30, 60, 120), (5, 15, 30, 60, 120, 240), strict=True):
        if step > high - low:
            continue  # a stroke that is alone stands near to none
        for gap in (4.0 * step, 3.3 * step):  # four mm for each minute
            told = clock_values(even(low, high, 4.0), low, high, gap)
            assert told == [float(one) for one in range(low, high + 1) if one % step == 0], (step, gap)
        if high - low >= 240 and low % 240 == 0:
            told = clock_values(even(low, high, 4.0), low, high, 4.0 * step + 1e-6)
            assert told == [float(one) for one in range(low, high + 1) if one % coarser == 0], (step, "a hair too near")


# What the lines are for


@pytest.mark.parametrize(("law", "x", "y"), [(lambda x, y: x * y, (2.0, 9.0), (1.0, 4.0)), (lambda x, y: x + 3 * y, (0.0, 10.0), (0.0, 5.0)), (lambda x, y: 60 * x / (y + 0.0), (1.0, 5.0), (2.0, 8.0)),
                                            (lambda x, y: np.sqrt(x * x + y * y), (1.0, 5.0), (2.0, 6.0))], ids=["product", "sum", "quotient", "hypotenuse"])
def test_an_edge_across_three_lines_crosses_at_the_answer(law, x, y):
    """Laws that three upright lines hold whole (Saint-Robert's condition, published): an edge from x to y, by similar triangles, crosses the middle line at the answer. Would notice: a line upside
    down, answers a hair off their place."""
    chart = edge.Parallel(law, x, y, 100.0, 80.0)
    first, second, answers = chart.lines
    for one in np.linspace(*x, 7):
        for other in np.linspace(*y, 7):
            left, right = float(first.place(one)), float(second.place(other))
            crossed = left + (right - left) * chart.middle / 100.0
            assert float(answers.value(crossed)) == pytest.approx(float(law(one, other)), rel=2e-3), (one, other)
            assert float(chart.read(one, other)) == pytest.approx(float(law(one, other)), rel=2e-3)
    assert 25 - 1e-6 <= chart.middle <= 75 + 1e-6 and chart.ends == (pytest.approx(min(float(law(a, b)) for a in x for b in y)), pytest.approx(max(float(law(a, b)) for a in x for b in y)))
