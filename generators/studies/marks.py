"""Marks with power: how many readings, and which limit, so that nine of ten good hands pass and nine of ten bad ones do not.

Numbers in, numbers out. Chances are exact for counts (binomial), means (normal) and scatters of single readings (chi-squared); boards come from the simulation of strokes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from generators.studies import boards, overlap

SURE = 0.9
SURE_DRAWN = 0.92  # where the chance is itself drawn, a little more is asked for
_SETS = (5, 6, 8, 10, 12, 15, 20, 25, 30, 40)


@dataclass(frozen=True)
class Chosen:
    """A mark: readings to take (boards, where it is boards), the limit, and how often a good and a bad hand pass it.

    `limit` is a count for a count; a share in % for boards; else in the mark's own unit.
    """

    readings: int
    limit: float
    good: float
    bad: float

    @property
    def strong(self) -> bool:
        """Nine of ten good hands pass, and nine of ten bad ones do not."""
        return self.good >= SURE and self.bad <= 1 - SURE + 1e-12


def _normal(z: float) -> float:
    return 0.5 * math.erfc(-z / math.sqrt(2))


def chi_squared(x: float, freedom: int) -> float:
    """Chance that a chi-squared figure with a whole number of degrees of freedom is at most `x`: the finite sums for even and odd ones."""
    if x <= 0:
        return 0.0
    half = x / 2
    if freedom % 2 == 0:
        term = total = math.exp(-half)
        for k in range(1, freedom // 2):
            term *= half / k
            total += term
        return 1 - total
    total, term = math.erfc(math.sqrt(half)), math.exp(-half) * math.sqrt(half) / math.gamma(1.5)
    for k in range(1, (freedom + 1) // 2):
        total += term
        term *= half / (k + 0.5)
    return 1 - total


def _at_least(tries: int, right: int, chance: float) -> float:
    return sum(math.comb(tries, k) * chance**k * (1 - chance) ** (tries - k) for k in range(right, tries + 1))


def _round_steps(span: float) -> tuple[float, float]:
    """A coarse and a fine round step (1, 2 or 5 and noughts) for a limit that lies somewhere in `span`."""
    def under(most: float) -> float:
        power = 10.0 ** math.floor(math.log10(most))
        return max(step * power for step in (1, 2, 5) if step * power <= most * (1 + 1e-9))

    return under(span / 4), under(span / 10)


def _limits(low: float, high: float, step: float) -> Iterable[float]:
    """Whole steps between the two, neither of them: 0.3 is three tenths, though their floats' quotient is a hair under 3."""
    return (round(k * step, 9) for k in range(math.floor(low / step + 1e-9) + 1, math.ceil(high / step - 1e-9)))


def _best(counts: Iterable[int], low: float, high: float, chance: Callable[[int, float], tuple[float, float]], sure: float = SURE) -> Chosen:
    """The fewest readings, and among its round limits the one that tells best; the best of all where none is sure."""
    best: Chosen | None = None
    for readings in counts:
        for step in _round_steps(high - low):
            found = [Chosen(readings, limit, *chance(readings, limit)) for limit in _limits(low, high, step)]
            top = max(found, key=lambda one: min(one.good, 1 - one.bad), default=None)
            if top and min(top.good, 1 - top.bad) >= sure:
                return top
            if top and (best is None or min(top.good, 1 - top.bad) > min(best.good, 1 - best.bad)):
                best = top
    assert best is not None
    return best


def count(good: float, bad: float, tries: int | None = None, every: bool = False) -> Chosen:
    """So many right of so many tries. `good` and `bad`: each hand's share of right tries, as a fraction."""
    best: Chosen | None = None
    for number in [tries] if tries else range(5, 41):
        found = [Chosen(number, right, _at_least(number, right, good), _at_least(number, right, bad)) for right in ([number] if every else range(number, number // 2, -1))]
        top = max(found, key=lambda one: min(one.good, 1 - one.bad))
        if top.strong:
            return top
        if best is None or min(top.good, 1 - top.bad) > min(best.good, 1 - best.bad):
            best = top
    assert best is not None
    return best


def spread(good: float, bad: float, tries: int | None = None) -> Chosen:
    """Standard deviation of readings, at most. `good` and `bad`: each hand's own."""
    return _best([tries] if tries else _SETS, good, bad, lambda number, limit: (
        chi_squared((number - 1) * (limit / good) ** 2, number - 1), chi_squared((number - 1) * (limit / bad) ** 2, number - 1)))


def most(good: float, bad: float, scatter: float, tries: int | None = None) -> Chosen:
    """Mean of readings, at most. `good` and `bad`: each hand's mean; both scatter by `scatter` of it, a fraction."""
    return _best([tries] if tries else range(1, 13), good, bad, lambda number, limit: (
        _normal((limit - good) / (scatter * good / math.sqrt(number))), _normal((limit - bad) / (scatter * bad / math.sqrt(number)))))


def within(bad: float, scatter: float, tries: int | None = None) -> Chosen:
    """Mean of readings, off the aim either way, at most. A good hand is on it, a bad one `bad` off it; both scatter by `scatter`."""
    def chance(number: int, limit: float) -> tuple[float, float]:
        wide = scatter / math.sqrt(number)
        return 2 * _normal(limit / wide) - 1, _normal((limit - bad) / wide) - _normal((-limit - bad) / wide)

    return _best([tries] if tries else range(1, 41), 0.0, bad, chance)


def _boards(coats: int, fan: str, width: float, tooth: float) -> tuple[boards.Boards, boards.Boards]:
    trained, new = (boards.boards(fan, round(width, 3), coats, hand, round(tooth, 4)) for hand in (overlap.TRAINED, overlap.NEW))
    return trained, new


def weight(bad: float, fan: str, width: float, tooth: float) -> Chosen:
    """Mean film by weight, off the aim either way, in %. A bad hand is `bad` % too heavy, or as much too light, and steady for all that."""
    trained, _ = _boards(1, fan, width, tooth)

    def chance(number: int, limit: float) -> tuple[float, float]:
        off = 100 * (boards.means(trained.weighed, number) - 1)
        wrong = max(float(np.mean(np.abs((off / 100 + 1) * (1 + side * bad / 100) * 100 - 100) <= limit)) for side in (1, -1))
        return float(np.mean(np.abs(off) <= limit)), wrong

    return _best(range(1, 5), 0.0, bad, chance, SURE_DRAWN)


def scattered(coats: int, fan: str, width: float, tooth: float) -> Chosen:
    """Scatter of comb readings, at most, in % of their mean; `readings` counts boards, twelve readings on each."""
    hands = _boards(coats, fan, width, tooth)

    def chance(number: int, limit: float) -> tuple[float, float]:
        trained, new = (float(np.mean(100 * boards.scatter(hand.combed, number) <= limit)) for hand in hands)
        return trained, new

    low, high = (float(np.median(100 * boards.scatter(hand.combed, 1))) for hand in hands)
    return _best(range(1, 6), low, high, chance, SURE_DRAWN)


HOWS = ("count", "spread", "spread-share", "most", "off", "off-share", "combed")


def judged(how: str, limit: float, readings: Sequence[float], aim: float = math.nan, teeth: Sequence[float] = ()) -> tuple[float, bool]:
    """(figure, passed) of a trainee's readings. The phone works the same (assets/drill.js); a test holds the two together.

    count: `readings` is one number, right. spread: standard deviation; spread-share: in % of the mean; combed: the same of last wet `teeth`, each counted
    halfway to the next. most: mean. off: mean off `aim`; off-share: in % of it. NaN and not passed where it cannot be judged.
    """
    values = np.asarray(readings, float)
    if not len(values) or not np.all(np.isfinite(values)) or (how.startswith("off") and not math.isfinite(aim)) or (how == "off-share" and aim <= 0):
        return math.nan, False
    if how == "combed":
        values = np.asarray([_between(value, teeth) for value in values])
    if how == "count":
        figure = float(values.sum())
        return figure, figure >= limit - 1e-9
    if how in ("spread", "spread-share", "combed"):
        mean = float(values.mean())
        if len(values) < 2 or (how != "spread" and mean <= 0):
            return math.nan, False
        figure = float(values.std(ddof=1)) * (1 if how == "spread" else 100 / mean)
    elif how == "most":
        figure = float(values.mean())
    else:
        figure = abs(float(values.mean()) - aim) if how == "off" else abs(float(values.mean()) / aim - 1) * 100
    return figure, bool(figure <= limit + 1e-9)


def _between(wet: float, teeth: Sequence[float]) -> float:
    """Halfway between the last wet tooth and the next one."""
    above = [tooth for tooth in teeth if tooth > wet + 1e-9]
    return (wet + min(above)) / 2 if above else wet
