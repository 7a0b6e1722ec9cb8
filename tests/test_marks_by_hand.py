"""Marks with power worked a second time: chances by scipy's own tables or by counting, limits by trying every round one in fractions, a trainee's figures by the statistics of a school book.

Nothing of `generators` works an expected value. That nine of ten good hands pass and nine of ten bad ones do not, how many readings a mark may ask for, and that a limit is round, are choices:
common practice, no source.
"""

from __future__ import annotations

import functools
import itertools
import math
import random
import statistics
from fractions import Fraction

import numpy as np
import pytest
from scipy import stats

from generators.studies import marks
from generators.studies.boards import Boards

SILENT = math.nan


# Chances


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 6, 7, 9, 14, 19, 24, 29, 39])
def test_chi_squared_is_scipys(freedom):
    """scipy's incomplete gamma function, from far under the mean to far over it. Would notice: a term too many or too few, a degree of freedom more."""
    for x in (-3.0, 0.0, 1e-9, 0.01, 0.3, 1.0, freedom / 2, freedom - 0.5, float(freedom), freedom * 1.5, freedom * 3.0):
        assert marks.chi_squared(x, freedom) == pytest.approx(stats.chi2.cdf(x, freedom), abs=1e-12), x


def test_the_bell_and_the_count_are_scipys():
    """scipy's normal and binomial laws. Would notice: a side for the other, exactly for at least."""
    for z in (-4, -1.2816, -0.3, 0, 0.5, 1, 1.645, 3):
        assert marks._normal(z) == pytest.approx(stats.norm.cdf(z), abs=1e-12)
    for tries, chance in ((1, 0.3), (5, 0.9), (12, 0.5), (40, 0.07), (6, 1.0), (6, 0.0)):
        for right in range(tries + 1):
            assert marks._at_least(tries, right, chance) == pytest.approx(stats.binom.sf(right - 1, tries, chance), abs=1e-12), (tries, right)


# Round limits


ROUND = sorted(Fraction(lead) * Fraction(10) ** power for lead in (1, 2, 5) for power in range(-6, 7))


def round_under(most):
    """The largest of 1, 2, 5 and their tens that is no more."""
    return max(step for step in ROUND if step <= most)


def limits(low, high, step):
    """Whole steps that lie between two figures and on neither."""
    return [one * step for one in range(300) if low < one * step < high]


SPANS = ("0.9", "1", "2", "4", "5", "8", "10", "12", "20", "37", "40", "80", "0.03", "0.4", "0.05", "199", "200", "201")


@pytest.mark.parametrize("span", SPANS)
def test_a_coarse_and_a_fine_step(span):
    """A quarter and a tenth of the span, or the next round figure under it, in fractions; just at a round figure it is taken. Would notice: a step that is not round, a span cut in fifths."""
    coarse, fine = marks._round_steps(float(span))
    assert (coarse, fine) == (pytest.approx(float(round_under(Fraction(span) / 4))), pytest.approx(float(round_under(Fraction(span) / 10))))


@pytest.mark.parametrize(("low", "high", "step"), [("0", "10", "1"), ("0.3", "0.9", "0.1"), ("5", "12", "0.5"), ("5.2", "11.7", "2"), ("1", "1.5", "0.05"), ("12.01", "12.99", "0.2")])
def test_limits_lie_between_the_two_hands(low, high, step):
    """Each whole step between, neither hand's own figure. Would notice: a good hand's own mean as the limit, the first one left out."""
    assert list(marks._limits(float(low), float(high), float(step))) == pytest.approx([float(one) for one in limits(Fraction(low), Fraction(high), Fraction(step))])


# The mark of all that could be


def told_apart(good, bad):
    return min(good, 1 - bad)


def best_by_hand(numbers, low, high, chance, sure):
    """The first number of readings for which a round limit is sure, the coarse limits before the fine ones, and of those the one that tells best; where none is sure, the best of all."""
    every = []
    for number in numbers:
        for parts in (4, 10):
            step = round_under((high - low) / parts)
            found = [(number, limit, *chance(number, float(limit))) for limit in limits(low, high, step)]
            top = max(found, key=lambda one: told_apart(*one[2:]))
            if told_apart(*top[2:]) >= sure:
                return top
            every.append(top)
    return max(every, key=lambda one: told_apart(*one[2:]))


def same_mark(told, wanted):
    """The same number of readings, limit and chances."""
    assert told.readings == wanted[0], (told, wanted)
    assert told_apart(told.good, told.bad) == pytest.approx(told_apart(*wanted[2:]), abs=1e-9), (told, wanted)
    assert (told.limit, told.good, told.bad) == (pytest.approx(float(wanted[1])), pytest.approx(wanted[2], abs=1e-9), pytest.approx(wanted[3], abs=1e-9)), (told, wanted)
    assert told.strong == (wanted[2] >= 0.9 and wanted[3] <= 0.1 + 1e-9)


HANDS = [(0.95, 0.5, None), (0.99, 0.2, None), (0.9, 0.6, None), (0.9, 0.7, None), (0.8, 0.7, None), (0.62, 0.5, None), (0.56, 0.5, None), (0.55, 0.52, None), (0.45, 0.1, None), (0.45, 0.3, None),
         (0.95, 0.6, 12), (0.9, 0.8, 7), (0.7, 0.4, 6), (0.88, 0.79, None)]


@pytest.mark.parametrize(("good", "bad", "tries"), HANDS)
def test_so_many_right_of_so_many(good, bad, tries):
    """Every number of tries from 5 to 40 and every limit over a half of them is tried, by scipy's binomial law. Would notice: a limit of half the tries, one try too many, a bad hand that passes."""
    every = [[(number, right, float(stats.binom.sf(right - 1, number, good)), float(stats.binom.sf(right - 1, number, bad))) for right in range(number // 2 + 1, number + 1)]
             for number in ([tries] if tries else range(5, 41))]
    tops = [max(found, key=lambda one: told_apart(*one[2:])) for found in every]
    strong = [top for top in tops if top[2] >= 0.9 and top[3] <= 0.1 + 1e-12]
    same_mark(marks.count(good, bad, tries), strong[0] if strong else max(tops, key=lambda one: told_apart(*one[2:])))


@pytest.mark.parametrize(("good", "bad"), [(0.99, 0.5), (0.97, 0.7), (0.9, 0.85), (0.999, 0.1)])
def test_every_one_right(good, bad):
    """All of them or none: powers. Would notice: one wrong that is let pass."""
    tops = [(number, number, good**number, bad**number) for number in range(5, 41)]
    strong = [top for top in tops if top[2] >= 0.9 and top[3] <= 0.1 + 1e-12]
    same_mark(marks.count(good, bad, every=True), strong[0] if strong else max(tops, key=lambda one: told_apart(*one[2:])))


def whole(*figures):
    return [Fraction(one) for one in figures]


@pytest.mark.parametrize(("good", "bad", "tries"), [("10", "20", None), ("1", "3.7", None), ("12", "25", None), ("5", "40", None), ("10", "12", None), ("8", "16", 5), ("8", "16", 20),
                                                   ("0.4", "0.9", 12)])
def test_a_standard_deviation_at_most(good, bad, tries):
    """Single readings of 5 to 40, scipy's chi-squared law. Would notice: one degree of freedom more, a limit under the good hand's own."""
    low, high = whole(good, bad)

    def chance(number, limit):
        return tuple(float(stats.chi2.cdf((number - 1) * (limit / float(own)) ** 2, number - 1)) for own in (low, high))

    same_mark(marks.spread(float(good), float(bad), tries), best_by_hand([tries] if tries else (5, 6, 8, 10, 12, 15, 20, 25, 30, 40), low, high, chance, 0.9))


@pytest.mark.parametrize(("good", "bad", "scatter", "tries"), [("10", "20", 0.1, None), ("10", "20", 0.4, None), ("10", "12", 0.2, None), ("10", "11", 0.3, None), ("30", "45", 0.5, None),
                                                              ("10", "30", 0.6, 1), ("10", "30", 0.6, 2), ("10", "22", 0.5, 1), ("10", "50", 0.9, 1), ("10", "14", 0.5, 1),
                                                              ("10", "20", 0.3, 3), ("2", "3", 0.9, 6)])
def test_a_mean_at_most(good, bad, scatter, tries):
    """Means of 1 to 12 readings by scipy's normal law. Would notice: a scatter that is not shared by the root, a hand's scatter by the other's mean."""
    low, high = whole(good, bad)

    def chance(number, limit):
        return tuple(float(stats.norm.cdf(limit, float(own), scatter * float(own) / math.sqrt(number))) for own in (low, high))

    same_mark(marks.most(float(good), float(bad), scatter, tries), best_by_hand([tries] if tries else range(1, 13), low, high, chance, 0.9))


@pytest.mark.parametrize(("bad", "scatter", "tries"), [("10", 2.0, None), ("10", 5.0, None), ("8", 12.0, None), ("5", 20.0, None), ("5", 25.0, None), ("10", 8.0, 4), ("12", 30.0, 9)])
def test_a_mean_off_the_aim_either_way(bad, scatter, tries):
    """Means of 1 to 40 readings: what lies between the two limits, by Python's own normal law. Would notice: one side only, a bad hand that is off the other way and passes twice."""
    def chance(number, limit):
        bells = [statistics.NormalDist(mean, scatter / math.sqrt(number)) for mean in (0.0, float(bad))]
        return tuple(bell.cdf(limit) - bell.cdf(-limit) for bell in bells)

    same_mark(marks.within(float(bad), scatter, tries), best_by_hand([tries] if tries else range(1, 41), *whole("0", bad), chance, 0.9))


# Boards


def with_boards(monkeypatch, trained, new, coats):
    def given(asked, *thing):
        assert (asked, *thing) == (coats, "bell", 200.0, 0.1)
        return trained, new

    monkeypatch.setattr(marks, "_boards", given)


def in_sets(values, together):
    return [values[place : place + together] for place in range(0, len(values) // together * together, together)]


@pytest.mark.parametrize(("mean", "scatter", "bad"), [(1.0, 0.02, 10), (0.985, 0.03, 10), (1.015, 0.03, 10), (0.98, 0.06, 15), (1.02, 0.06, 15), (1.0, 0.1, 12), (1.0, 0.15, 6),
                                                       (1.03, 0.002, 4), (0.9, 0.2, 8)])
def test_a_board_s_weight_off_the_aim(monkeypatch, mean, scatter, bad):
    """Made-up boards, weighed one, two, three or four together, each counted. A bad hand is as steady, but so much too heavy or too light: the worse of the two is what passes. Would notice: only
    one of them, another board, five boards, a hand of nine in ten where the boards are drawn (more is asked for: 92 in 100)."""
    dice = random.Random(13)
    weighed = [dice.gauss(mean, scatter) for _ in range(400)]
    with_boards(monkeypatch, Boards(np.array(weighed), None), None, 1)

    def chance(number, limit):
        means = [statistics.fmean(one) for one in in_sets(weighed, number)]
        passes = {times: statistics.fmean(abs(100 * one * times - 100) <= limit for one in means) for times in (1.0, 1 + bad / 100, 1 - bad / 100)}
        return passes[1.0], max(passes[1 + bad / 100], passes[1 - bad / 100])

    same_mark(marks.weight(float(bad), "bell", 200.0, 0.1), best_by_hand(range(1, 5), Fraction(0), Fraction(bad), chance, 0.92))


@pytest.mark.parametrize(("coats", "trained", "new", "drift"), [(1, 8.0, 20.0, 0.0), (1, 6.0, 30.0, 0.0), (2, 8.0, 12.0, 0.0), (1, 10.0, 11.5, 0.0), (2, 9.0, 9.8, 0.0),
                                                               (1, 5.0, 9.0, 25.0), (2, 4.0, 16.0, 30.0)])
def test_a_board_s_scatter_at_most(monkeypatch, coats, trained, new, drift):
    """Twelve made-up readings on each of 300 boards, taken one to five together, each set's scatter in % of its mean counted; limits between the middle good board and the middle bad one, whose
    boards may also drift apart. Would notice: six boards, boards taken together for the span, another number of coats."""
    dice = random.Random(29)
    combed = [[[dice.gauss(level, wide) for _ in range(12)] for level in (max(40.0, dice.gauss(100, more)) for _ in range(300))] for wide, more in ((trained, 0.0), (new, drift))]
    with_boards(monkeypatch, *(Boards(None, np.array(one)) for one in combed), coats)

    @functools.cache
    def scatters(hand, together):
        sets = [list(itertools.chain(*one)) for one in in_sets(combed[hand], together)]
        return [100 * math.sqrt(sum((each - sum(one) / len(one)) ** 2 for each in one) / (len(one) - 1)) / (sum(one) / len(one)) for one in sets]

    def chance(number, limit):
        return tuple(statistics.fmean(one <= limit for one in scatters(hand, number)) for hand in (0, 1))

    low, high = (Fraction(statistics.median(scatters(hand, 1))) for hand in (0, 1))
    same_mark(marks.scattered(coats, "bell", 200.0, 0.1), best_by_hand(range(1, 6), low, high, chance, 0.92))


def test_the_span_of_a_board_s_limits_is_between_the_middle_boards(monkeypatch):
    """Six readings each side of 100 by the same, so that each board's scatter is what is written: 4.1 to 5.9, middle 5; 20 to 29.9, middle 24.95. A quarter of 19.95 is 4.99, so the coarse step is 2,
    not 5, and 6 is the first limit that all good boards and no bad one keep. Would notice: a span that is one in a hundred too long."""
    def board(scatter):
        return [100 + side * scatter * math.sqrt(11 / 12) for side in (1, -1) for _ in range(6)]

    hands = [[board(low + (high - low) * place / 100) for place in range(101)] for low, high in ((4.1, 5.9), (20.0, 29.9))]
    with_boards(monkeypatch, *(Boards(None, np.array(one)) for one in hands), 1)
    assert marks.scattered(1, "bell", 200.0, 0.1) == marks.Chosen(1, 6.0, 1.0, 0.0)


# A trainee's readings


TEETH = (25.0, 50.0, 75.0, 100.0, 125.0)


@pytest.mark.parametrize(("how", "readings", "more", "figure"), [
    ("count", [9], {}, 9), ("count", [0], {}, 0),
    ("spread", [4.0, 6.0], {}, math.sqrt(2)), ("spread", [1.0, 2.0, 3.0, 4.0], {}, math.sqrt(5 / 3)), ("spread", [-1.0, 1.0], {}, math.sqrt(2)), ("spread", [-3.0, -5.0], {}, math.sqrt(2)),
    ("spread-share", [4.0, 6.0], {}, 100 * math.sqrt(2) / 5), ("spread-share", [9.0, 10.0, 11.0], {}, 10.0),
    ("combed", [50.0, 75.0], {"teeth": TEETH}, 100 * math.sqrt(312.5) / 75), ("combed", [75.0, 125.0, 130.0], {"teeth": TEETH}, 100 * statistics.stdev([87.5, 125, 130]) / 114.16666666666667),
    ("most", [3.0, 4.0, 8.0], {}, 5.0), ("most", [7.25], {}, 7.25),
    ("off", [9.0, 12.0], {"aim": 12.0}, 1.5), ("off", [13.0, 14.0], {"aim": 12.0}, 1.5), ("off", [1.0, -3.0], {"aim": 0.0}, 1.0), ("off", [-6.0], {"aim": -5.0}, 1.0),
    ("off-share", [9.0, 12.0], {"aim": 12.0}, 12.5), ("off-share", [30.0], {"aim": 25.0}, 20.0)])
def test_a_trainees_figure_and_whether_it_passes(how, readings, more, figure):
    """Sums of a school book. On its limit a hand passes, a hair past it it does not. Would notice: a share of the wrong mean, a spread over all readings, a limit that is itself a fail."""
    turn = -1 if how == "count" else 1
    for limit, passes in ((figure, True), (figure + turn * 1e-6, True), (figure - turn * 1e-6, False), (figure + turn * 5, True)):
        told, passed = marks.judged(how, limit, readings, **more)
        assert told == pytest.approx(figure, abs=1e-9) and passed is passes, limit


@pytest.mark.parametrize("how", marks.HOWS)
def test_what_cannot_be_judged_has_not_passed(how):
    """No readings, a reading that is not known, no aim, one reading of a spread, a share of nothing. Would notice: a pass for an empty sheet."""
    more = {"aim": 12.0, "teeth": TEETH}
    cases = [([], more), ([50.0, SILENT], more), ([50.0, math.inf], more)]
    cases += [([50.0, 75.0], {"teeth": TEETH})] if how.startswith("off") else []
    cases += [([50.0], {"aim": 0.0}), ([50.0], {"aim": -12.0})] if how == "off-share" else []
    cases += [([50.0], more)] if how in ("spread", "spread-share", "combed") else []
    cases += [([-1.0, 1.0], {"teeth": ()}), ([-3.0, -5.0], {"teeth": ()})] if how in ("spread-share", "combed") else []
    for readings, given in cases:
        told, passed = marks.judged(how, 1e9 if how != "count" else -1e9, readings, **given)
        assert math.isnan(told) and passed is False, (readings, given)
    assert marks.judged(how, 1e9 if how != "count" else -1e9, [50.0, 75.0], **more)[1] is True
