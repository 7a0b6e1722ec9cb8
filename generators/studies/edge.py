"""From a law of two readings to graduated lines on paper, and how well a person reads them.

An answer w of x and y stands between two upright lines where w = g(a(x) + b(y)): then an edge laid from x to y crosses the middle line at
w. Whether it does is asked of the law itself (Saint-Robert: log of the ratio of its two slopes is a part of x and a part of y); a law that
does not is fitted, and what the fit misses counts as error of reading.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

Law = Callable[[Any, Any], Any]
OFF = 0.3  # mm, at each end of the edge and at the eye
READINGS, SEED = 10_000, 20_261_126
ON_A_GRID = 200_000  # more of them where an answer lies far out on the line of two dots: its tail is long
_POINTS = 801


@dataclass(frozen=True)
class Line:
    """Values, ascending, and where each stands on its line, mm from the foot."""

    values: Any
    places: Any

    def place(self, value: Any) -> Any:
        """Where a value stands."""
        return np.interp(value, self.values, self.places)

    def value(self, place: Any) -> Any:
        """What stands at a place."""
        way = 1 if self.places[-1] > self.places[0] else -1
        return np.interp(place, self.places[::way], self.values[::way])


def _slope(law: Law, x: Any, y: Any, dx: float, dy: float) -> Any:
    """dw/dx (or dw/dy) by differences of the sixth order; one of dx and dy is 0."""
    return sum(weight * (law(x + step * dx, y + step * dy) - law(x - step * dx, y - step * dy)) for step, weight in ((1, 45), (2, -9), (3, 1))) / (60 * (dx + dy))


def _grown(slope: Any, axis: Any) -> Any:
    """An integral along an axis, from nothing, by trapezia."""
    return np.concatenate([[0.0], np.cumsum((slope[:-1] + slope[1:]) / 2 * np.diff(axis))])


@dataclass(frozen=True)
class Parallel:
    """Three upright lines, `width` apart and `height` high, for a law over x and y. `answers` are the least and most that are graduated."""

    law: Law
    x: tuple[float, float]
    y: tuple[float, float]
    width: float
    height: float
    answers: tuple[float, float] | None = None
    fitted: bool = False

    @cached_property
    def _axes(self) -> tuple[Any, Any]:
        return np.linspace(*self.x, _POINTS), np.linspace(*self.y, _POINTS)

    @cached_property
    def _parts(self) -> tuple[Any, Any, Any, Any]:
        """(a over x, b over y, answers, a + b of each answer)."""
        xs, ys = self._axes
        if self.fitted:
            return self._fit()
        hx, hy = (xs[1] - xs[0]) / 4, (ys[1] - ys[0]) / 4
        x0, y0 = xs[_POINTS // 2], ys[_POINTS // 2]
        along_x = np.gradient(self.law(xs, np.full_like(xs, y0)), xs, edge_order=2) / _slope(self.law, xs, np.full_like(xs, y0), 0.0, hy)
        along_y = np.gradient(self.law(np.full_like(ys, x0), ys), ys, edge_order=2) / _slope(self.law, np.full_like(ys, x0), ys, hx, 0.0)
        a, b = _grown(along_x, xs), _grown(along_x[_POINTS // 2] * along_y, ys)
        w = np.concatenate([self.law(xs, self.y[0] + 0 * xs), self.law(xs, self.y[1] + 0 * xs), self.law(self.x[0] + 0 * ys, ys), self.law(self.x[1] + 0 * ys, ys)])
        s = np.concatenate([a + b[0], a + b[-1], a[0] + b, a[-1] + b])
        order = np.argsort(w)
        return a, b, w[order], s[order]

    def _fit(self) -> tuple[Any, Any, Any, Any]:
        """The parallel lines that miss least: the largest share of the answers' spread that a part of x and a part of y explain together."""
        xs, ys = self._axes
        gx, gy = (one.ravel() for one in np.meshgrid(xs[::10], ys[::10], indexing="ij"))
        w = np.log(self.law(gx, gy))
        low, high = (np.log(self.answers) if self.answers else (w.min(), w.max()))
        keep = np.isfinite(w) & (w >= low) & (w <= high)
        gx, gy, w = gx[keep], gy[keep], w[keep]
        degree = 7

        def powers(value: Any, ends: tuple[float, float]) -> Any:
            unit = 2 * (np.asarray(value) - ends[0]) / (ends[1] - ends[0]) - 1
            return np.polynomial.chebyshev.chebvander(unit, degree)[:, 1:]

        inside = np.hstack([np.ones((len(w), 1)), powers(gx, self.x), powers(gy, self.y)])
        outside = powers(w, (low, high))
        outside = outside - outside.mean(0)
        guess, *_ = np.linalg.lstsq(inside, outside, rcond=None)
        missed = outside - inside @ guess
        root = np.linalg.cholesky(outside.T @ outside)
        turned = np.linalg.solve(root, np.linalg.solve(root, missed.T @ missed).T)
        best = np.linalg.solve(root.T, np.linalg.eigh((turned + turned.T) / 2)[1][:, 0])
        parts = guess @ best
        a, b = powers(xs, self.x) @ parts[1:1 + degree], powers(ys, self.y) @ parts[1 + degree:]
        values = np.linspace(low, high, _POINTS)
        level = np.mean(inside[:, 1:] @ parts[1:] - powers(w, (low, high)) @ best)
        return a, b, np.exp(values), powers(values, (low, high)) @ best + level

    @cached_property
    def _set(self) -> tuple[float, float, float, float, float]:
        """(share of the width where the answers stand, mm for each of a and of b, and where both begin)."""
        a, b, *_ = self._parts
        up, side = self.height / np.ptp(a), self.height / np.ptp(b)
        share = up / (up + side)
        if share < 0.25:
            side = up * 3
        elif share > 0.75:
            up = side * 3
        return up / (up + side), up, side, (self.height - up * np.ptp(a)) / 2 - up * a.min(), (self.height - side * np.ptp(b)) / 2 - side * b.min()

    @cached_property
    def ends(self) -> tuple[float, float]:
        """Least and most answer that are graduated: those asked for, as far as the two readings reach."""
        w = [float(self.law(x, y)) for x in self.x for y in self.y]
        low, high = self.answers or (min(w), max(w))
        return max(low, min(w)), min(high, max(w))

    @property
    def middle(self) -> float:
        """Where the line of answers stands, mm from the first."""
        return self._set[0] * self.width

    @cached_property
    def lines(self) -> tuple[Line, Line, Line]:
        """The graduated lines: x, y, and the answers between them."""
        share, up, side, x0, y0 = self._set
        a, b, w, s = self._parts
        xs, ys = self._axes
        return Line(xs, up * a + x0), Line(ys, side * b + y0), Line(w, share * side * s + (1 - share) * x0 + share * y0)

    def read(self, x: Any, y: Any, off: tuple[Any, Any, Any] = (0.0, 0.0, 0.0)) -> Any:
        """What a person reads whose edge and eye are so far off (mm)."""
        share = self._set[0]
        first, second, answers = self.lines
        return answers.value((1 - share) * (first.place(x) + off[0]) + share * (second.place(y) + off[1]) + off[2])

    def error(self, keep: Callable[[Any, Any, Any], Any] | None = None) -> float:
        """What 95 in 100 of READINGS keep, places on both lines taken evenly; `keep` says which of (x, y, answer) are in use."""
        rng = np.random.default_rng(SEED)
        first, second, _ = self.lines
        x, y = (line.value(rng.uniform(line.places.min(), line.places.max(), READINGS)) for line in (first, second))
        true = self.law(x, y)
        low, high = self.ends
        used = np.isfinite(true) & (true >= low) & (true <= high)
        if keep:
            used &= keep(x, y, true)
        off = tuple(rng.uniform(-OFF, OFF, READINGS) for _ in range(3))
        return float(np.percentile(np.abs(self.read(x, y, off) - true)[used], 95))  # type: ignore[arg-type]


@dataclass(frozen=True)
class Ladder:
    """One upright line with a reading on its left and the answer on its right."""

    law: Callable[[Any], Any]
    x: tuple[float, float]
    height: float

    @cached_property
    def lines(self) -> tuple[Line, Line]:
        """The reading's side and the answer's: even in the answer's logarithm."""
        xs = np.linspace(*self.x, _POINTS)
        w = self.law(xs)
        span = np.log(w) - np.log(w[0])
        places = self.height * span / span[-1]
        way = 1 if w[-1] > w[0] else -1
        return Line(xs, places), Line(w[::way], places[::way])

    def error(self) -> float:
        """What 95 in 100 readings keep, with the place found and the eye each OFF."""
        rng = np.random.default_rng(SEED)
        side, answers = self.lines
        x = side.value(rng.uniform(0, self.height, READINGS))
        read = answers.value(side.place(x) + rng.uniform(-OFF, OFF, READINGS) + rng.uniform(-OFF, OFF, READINGS))
        return float(np.percentile(np.abs(read - self.law(x)), 95))


@dataclass(frozen=True)
class Grid:
    """Seconds upwards on the cup's own scale of log viscosity, thinner across: a paint that thins on a log line is a straight line here."""

    viscosity: Callable[[Any], Any]
    seconds: tuple[float, float]
    most: float
    width: float
    height: float

    @cached_property
    def upright(self) -> Line:
        """Seconds, mm from the foot."""
        times = np.linspace(*self.seconds, _POINTS)
        height = np.log(self.viscosity(times))
        return Line(times, self.height * (height - height[0]) / (height[-1] - height[0]))

    def across(self, thinner: Any) -> Any:
        """Per cent of thinner, mm from the left."""
        return np.asarray(thinner) * self.width / self.most

    def dose(self, dots: Any, wanted: Any) -> Any:
        """Where an edge through two dots ((x, y), (x, y)) in mm meets the wanted height; per cent."""
        (x0, y0), (x1, y1) = dots
        return (x0 + (x1 - x0) * (wanted - y0) / (y1 - y0)) * self.most / self.width

    def error(self, wanted: float, past: float = 0.5) -> float:
        """What 95 in 100 readings keep, where the last dot is at least `past` of the way to the answer; per cent of paint."""
        rng = np.random.default_rng(SEED)
        line, foot = self.upright, float(self.upright.place(wanted))
        first = line.value(rng.uniform(foot + 0.15 * (self.height - foot), self.height, ON_A_GRID))
        total = rng.uniform(1.0, self.most, ON_A_GRID)
        last = total * rng.uniform(past, 1.0, ON_A_GRID)
        high = line.place(first)
        on = high + (foot - high) * last / total
        off = rng.uniform(-OFF, OFF, (5, ON_A_GRID))
        read = self.dose(((off[0], high + off[1]), (self.across(last) + off[2], on + off[3])), foot) + off[4] * self.most / self.width
        return float(np.percentile(np.abs(read - total), 95))


_HOURS = {240.0: 2, 120.0: 2, 60.0: 2, 30.0: 2, 15.0: 3, 5.0: 5}  # minutes, and into how many equal parts each is cut


def clock_values(line: Line, low: float, high: float, gap: float) -> list[float]:
    """As `round_values`, for minutes that are read as hours and minutes."""
    found: set[float] = set()

    def cut(start: float, size: float) -> None:
        parts = _HOURS.get(size)
        if parts is None or start + size <= low or start >= high:
            return
        ends = [start + size * index / parts for index in range(parts + 1)]
        used = [end for end in ends if low <= end <= high]
        if len(used) < 2 or np.all(np.abs(np.diff(line.place(np.array(used)))) >= gap):
            found.update(used)
            for end in ends[:-1]:
                cut(end, size / parts)

    start = np.floor(low / 240) * 240
    while start < high:
        found.update(end for end in (start, start + 240) if low <= end <= high)
        cut(float(start), 240.0)
        start += 240
    return sorted(found)


_SPLITS = {1: ((10, 1, -1), (5, 2, -1), (2, 5, -1)), 2: ((2, 1, 0), (4, 5, -1)), 5: ((5, 1, 0),)}


def round_values(line: Line, low: float, high: float, gap: float) -> list[float]:
    """Round values whose places keep `gap` mm from each other: an interval is cut only where all its parts keep it."""
    found: set[float] = set()
    hair = 1e-9 * (high - low)

    def inside(value: float) -> bool:
        return low - hair <= value <= high + hair

    def cut(start: float, lead: int, power: int) -> None:
        size = lead * 10.0 ** power
        if start + size <= low + hair or start >= high - hair:
            return
        for parts, next_lead, shift in _SPLITS[lead]:
            ends = [start + size * index / parts for index in range(parts + 1)]
            used = [end for end in ends if inside(end)]
            if len(used) < 2 or np.all(np.abs(np.diff(line.place(np.array(used)))) >= gap):
                found.update(round(end, 9) for end in used)
                for end in ends[:-1]:
                    cut(end, next_lead, power + shift)
                return

    power = int(np.ceil(np.log10(high - low)))
    size = 10.0 ** power
    start = np.floor(low / size) * size
    while start < high:
        found.update(round(end, 9) for end in (start, start + size) if inside(end))
        cut(float(start), 1, power)
        start += size
    return sorted(found)
