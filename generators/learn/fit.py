"""Fits of a crew's measurements, each with its own 90 % band, or with the reason why there is none.

A measurement scatters; a band is Student's, from the scatter of the measurements themselves and nothing assumed. Numbers in, numbers out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

# Student's t that leaves 5 % on either side, by degrees of freedom: tables of statistics, from memory; between two the larger.
STUDENT = {1: 6.314, 2: 2.920, 3: 2.353, 4: 2.132, 5: 2.015, 6: 1.943, 7: 1.895, 8: 1.860, 9: 1.833, 10: 1.812, 12: 1.782, 15: 1.753, 20: 1.725, 30: 1.697, 60: 1.671}
LEAST = 3  # measurements under which nothing is said


@dataclass(frozen=True)
class Fit:
    """One figure: likely, with the ends of its 90 % band, from so many measurements. `why` says why there is none.

    `next_low` and `next_high`, where a figure has them: between these the next one measured alone lies, nine times in ten. What is worked for a
    single pot has to reckon with that pot, and not with the middle of all.
    """

    name: str
    unit: str
    count: int
    likely: float = math.nan
    low: float = math.nan
    high: float = math.nan
    why: str = ""
    x: tuple[float, ...] = ()
    y: tuple[float, ...] = ()
    next_low: float = math.nan
    next_high: float = math.nan

    @property
    def known(self) -> bool:
        return not self.why


def student(freedom: int) -> float:
    """t for a 90 % band; ValueError under one degree of freedom."""
    if freedom < 1:
        raise ValueError("no scatter to judge by")
    return STUDENT[max(known for known in STUDENT if known <= freedom)]


def _few(name: str, unit: str, count: int, least: int = LEAST) -> Fit:
    return Fit(name, unit, count, why=f"{count} measured, and {least} are needed")


def ratio(name: str, unit: str, values: Sequence[float], widest: float = 1.5) -> Fit:
    """A figure above nought, measured again and again: the middle of its logs. Refused where the band is wider than `widest` times either way."""
    good = np.array([value for value in values if math.isfinite(value) and value > 0])
    if len(good) < LEAST:
        return _few(name, unit, len(good))
    logs = np.log(good)
    middle, each = float(logs.mean()), student(len(good) - 1) * float(logs.std(ddof=1))
    half, alone = each / math.sqrt(len(good)), each * math.sqrt(1 + 1 / len(good))
    if math.exp(half) > widest:
        return Fit(name, unit, len(good), why=f"the {len(good)} scatter so that they say no more than a factor of {math.exp(half):.1f} either way: measure more", y=tuple(good))
    return Fit(name, unit, len(good), math.exp(middle), math.exp(middle - half), math.exp(middle + half), x=tuple(range(1, len(good) + 1)), y=tuple(good),
               next_low=math.exp(middle - alone), next_high=math.exp(middle + alone))


def line(x: Any, y: Any) -> tuple[float, float, float, float, int]:
    """(slope, its standard error, middle of y, its standard error, degrees of freedom) of a straight line through points."""
    ax, ay = np.asarray(x, float), np.asarray(y, float)
    spread = float(((ax - ax.mean()) ** 2).sum())
    slope = float(((ax - ax.mean()) * (ay - ay.mean())).sum()) / spread
    rest = ay - ay.mean() - slope * (ax - ax.mean())
    freedom = len(ax) - 2
    error = math.sqrt(float((rest**2).sum()) / freedom)
    return slope, error / math.sqrt(spread), float(ay.mean()), error / math.sqrt(len(ax)), freedom


def slope(name: str, unit: str, x: Sequence[float], y: Sequence[float], least_span: float, what: str, sign: float = 1.0, widest: float = math.inf) -> Fit:
    """The slope of y against x. Refused where x does not span enough to tell, or the band is wider than `widest`."""
    pairs = [(a, b) for a, b in zip(x, y, strict=True) if math.isfinite(a) and math.isfinite(b)]
    if len(pairs) < LEAST + 1:
        return _few(name, unit, len(pairs), LEAST + 1)
    ax, ay = (np.array(column) for column in zip(*pairs, strict=True))
    if float(np.ptp(ax)) < least_span:
        return Fit(name, unit, len(pairs), why=f"{what} differed by {float(np.ptp(ax)):.2g}, and {least_span:g} is needed to tell", x=tuple(ax), y=tuple(ay))
    found, error, _, _, freedom = line(ax, ay)
    half = student(freedom) * error
    if half > widest:
        return Fit(name, unit, len(pairs), why=f"the band would be ±{half:.2g}, wider than what anybody would guess: measure more", x=tuple(ax), y=tuple(ay))
    likely = sign * found
    return Fit(name, unit, len(pairs), likely, likely - half, likely + half, x=tuple(ax), y=tuple(ay))


def at(name: str, unit: str, x: Any, y: Any, where: float, widest: float = 1.5) -> Fit:
    """exp of a curve of ln y against x, read at `where`; nothing is read outside the measurements.

    A straight line, and with six measurements or more its bend too: no law of flow is straight over a wide range, and a line's band would not know it.
    """
    pairs = [(a, b) for a, b in zip(x, y, strict=True) if math.isfinite(a) and math.isfinite(b) and b > 0]
    if len(pairs) < LEAST + 1:
        return _few(name, unit, len(pairs), LEAST + 1)
    ax, ay = np.array([a for a, _ in pairs]), np.log([b for _, b in pairs])
    if float(np.ptp(ax)) < 1e-6:  # all at one place: their middle, if that is the place
        return ratio(name, unit, [b for _, b in pairs], widest)
    if not ax.min() - 0.15 <= where <= ax.max() + 0.15:
        return Fit(name, unit, len(pairs), why="asked for where nothing was measured", x=tuple(ax), y=tuple(np.exp(ay)))
    u = ax - where
    design = np.stack([np.ones_like(u), u, u**2][: 3 if len(u) >= 6 and len(set(u.tolist())) > 3 else 2], axis=1)
    solved, *_ = np.linalg.lstsq(design, ay, rcond=None)
    freedom = len(u) - design.shape[1]
    scatter = float(((ay - design @ solved) ** 2).sum()) / freedom
    value, half = float(solved[0]), student(freedom) * math.sqrt(scatter * float(np.linalg.pinv(design.T @ design)[0, 0]))
    if math.exp(half) > widest:
        return Fit(name, unit, len(pairs), why=f"they say no more than a factor of {math.exp(half):.1f} either way: measure more", x=tuple(ax), y=tuple(np.exp(ay)))
    return Fit(name, unit, len(pairs), math.exp(value), math.exp(value - half), math.exp(value + half), x=tuple(ax), y=tuple(np.exp(ay)))


def half_height(name: str, places: Sequence[float], films: Sequence[float], width: float) -> Fit:
    """Width of the fan at half its middle's film, % of the whole fan: a rounded profile (1 − (2x/w)²)^q fitted to comb readings across one stroke.

    ln(film) is straight in ln(1 − (2x/w)²); its slope q gives the share: k = √(1 − ½^(1/q)).
    """
    pairs = [(1 - (2 * place / width) ** 2, film) for place, film in zip(places, films, strict=True) if film > 0 and abs(2 * place / width) < 0.95]
    if len(pairs) < LEAST + 2:
        return _few(name, "%", len(pairs), LEAST + 2)
    x, y = np.log([a for a, _ in pairs]), np.log([b for _, b in pairs])
    if float(np.ptp(x)) < 0.5:
        return Fit(name, "%", len(pairs), why="all readings are near the middle: read the edges of the fan too")
    found, error, _, _, freedom = line(x, y)
    half = student(freedom) * error
    low, high = found - half, found + half
    if low <= 0.2:
        return Fit(name, "%", len(pairs), why="the film does not fall towards the edges as a fan's does: look at the air cap")

    def share(power: float) -> float:
        return 100 * math.sqrt(1 - 0.5 ** (1 / power))

    return Fit(name, "%", len(pairs), share(found), share(high), share(low), x=tuple(np.exp(x)), y=tuple(np.exp(y)))


def scatter(name: str, sets: Sequence[Sequence[float]], gap: float = 0.0, least: int = 12) -> Fit:
    """Standard deviation over mean (%) of readings that belong together, set by set, each round its own mean; what a comb's teeth, `gap` apart, add of their own is taken out.

    The band is chi-squared's, by Wilson and Hilferty's root (from memory). Refused under `least` readings over the sets, and where the teeth are all that is seen.
    """
    good = [np.array([value for value in some if math.isfinite(value) and value > 0]) for some in sets]
    good = [some for some in good if len(some) >= LEAST]
    count, freedom = sum(len(some) for some in good), sum(len(some) - 1 for some in good)
    if count < least:
        return Fit(name, "%", count, why=f"{count} measured in threes or more on one surface, and {least} are needed")
    squares = sum(float(((some / some.mean() - 1) ** 2).sum()) for some in good)
    teeth = sum(float((len(some) - 1) * gap**2 / 12 / some.mean() ** 2) for some in good)
    share = squares / freedom
    each = tuple(float(value) for some in good for value in 100 * some / some.mean())
    one_leap = gap > 0 and all(float(np.ptp(some)) <= 1.01 * gap for some in good)  # from one tooth to its neighbour, and no farther
    if one_leap or share <= 2 * teeth / freedom:
        return Fit(name, "%", count, why="the comb's teeth lie as far apart as the film varies: read it with a finer one", y=each)

    def end(z: float) -> float:
        part = 2 / (9 * freedom)
        return max(share / (1 - part + z * math.sqrt(part)) ** 3 - teeth / freedom, 0.0)

    low, likely, high = (100 * math.sqrt(one) for one in (end(1.645), share - teeth / freedom, end(-1.645)))
    if high > 60:
        return Fit(name, "%", count, why="they scatter so that no mean holds a minimum: read them again, one surface at a time", y=each)
    return Fit(name, "%", count, likely, low, high, x=tuple(range(1, count + 1)), y=each)


def drift(times: Sequence[float], values: Sequence[float], least: int = 6) -> float:
    """How far ln(values) has moved over the span of `times`, where the last third stands outside the scatter of the first two; nought where nothing moved."""
    order = np.argsort(times)
    logs = np.log(np.asarray(values, float)[order])
    if len(logs) < least:
        return 0.0
    cut = len(logs) - max(2, len(logs) // 3)
    old, new = logs[:cut], logs[cut:]
    moved = float(new.mean() - old.mean())
    doubt = student(len(logs) - 2) * math.sqrt((float(old.var(ddof=1)) * (len(old) - 1) + float(new.var(ddof=1)) * (len(new) - 1)) / (len(logs) - 2) * (1 / len(old) + 1 / len(new)))
    return moved if abs(moved) > max(doubt * 1.3, 0.03) else 0.0
