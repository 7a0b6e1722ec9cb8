"""What a law by hand is: its words, the spans it is asked over, and the points at which a declared formula is held to it.

A law is a plain function of readings in the units that its spans name. It gives a number in its answer's unit, or, where it has no answer, a few of the
words that the reader must be told. Nothing here asks `generators` for a figure.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np

SPREAD = 24  # points spread over a law's spans: nine tell a wrong sign, and more cost a thousandth of a second
STEP_OFF = 1e-6  # how far inside and outside a border a point stands, as a share of the way between two points
CLOSE = 1e-6  # how close a formula must come, as a share of what the law says
REACH = 1e-9  # nearer than this to the end of what may be answered, either is right


@dataclass(frozen=True)
class Span:
    """From one end to the other, both included, in a unit."""

    low: float
    high: float
    unit: str

    def at(self, share: float) -> float:
        """So far along: by ratio where the ends lie far apart, else evenly."""
        if self.low > 0 and self.high / self.low >= 50:
            return float(self.low * (self.high / self.low) ** share)
        return self.low + (self.high - self.low) * share


def span(text: str) -> Span:
    """`0.5 to 1000 µm`, as it is written beside a law."""
    low, high, unit = re.fullmatch(r"(\S+) to (\S+) (\S+)", text).groups()
    return Span(float(low), float(high), unit)


@dataclass(frozen=True)
class Law:
    """One law: `work` gives a number in the unit of `gives`, or words that say why there is none."""

    name: str
    gives: Span
    spans: dict[str, Span]
    work: Callable[..., float | str]
    usual: Callable[[str | None], dict[str, Span]]
    cups: tuple[str | None, ...]
    also: tuple[dict, ...]
    slack: Callable[..., float] | None
    _kept: dict = field(default_factory=dict)

    def __call__(self, point: dict) -> float | str:
        return self.work(**point)

    def answers(self, point: dict) -> bool:
        """True where the law gives a number, and one that the handbook prints."""
        found = self(point)
        return not isinstance(found, str) and self.gives.low <= found <= self.gives.high

    def points(self) -> list[tuple[dict, float | str]]:
        """(readings, what the law says), worked once."""
        if "points" not in self._kept:
            self._kept["points"] = [(point, self(point)) for point in points(self)]
        return self._kept["points"]


LAWS: dict[str, Law] = {}


def law(name: str, gives: str, mostly: dict[str, str] | Callable[[str | None], dict[str, Span]] | None = None, cups: tuple[str | None, ...] = (None,), also: tuple[dict, ...] = (),
        slack: Callable[..., float] | None = None, **spans: str) -> Callable:
    """A law by the name of the formula that it is held against. `mostly`: spans in which it usually answers; `also`: points of its own; `slack`: how far off it may be, where
    a millionth is too close."""
    assert name not in LAWS, f"{name} has two laws"

    def kept(work: Callable[..., float | str]) -> Callable[..., float | str]:
        usual = mostly if callable(mostly) else lambda cup: {key: span(text) for key, text in (mostly or {}).items()}
        LAWS[name] = Law(name, span(gives), {key: span(text) for key, text in spans.items()}, work, usual, cups, also, slack)
        return work

    return kept


def _shares(count: int, ways: int) -> Iterator[list[float]]:
    """Points that fill a box of so many ways evenly, always the same: multiples of powers of the root of x^(n+1) = x + 1, without their whole parts."""
    root = 1.5
    for _ in range(60):
        root = (1 + root) ** (1 / (ways + 1))
    for number in range(1, count + 1):
        yield [math.modf(0.5 + number / root ** (way + 1))[0] for way in range(ways)]


def points(one: Law) -> list[dict]:
    """Spread over all its spans and over those in which it usually answers; each end of each span; both sides of every border of what it answers; and its own."""
    found = []
    for cup in one.cups:
        chosen = {} if cup is None else {"cup": cup}
        usual = {**one.spans, **one.usual(cup)}
        spread = [{**chosen, **{name: way.at(share) for (name, way), share in zip(spans.items(), shares, strict=True)}}
                  for spans in ((one.spans, usual) if one.usual(cup) else (one.spans,)) for shares in _shares(SPREAD, len(one.spans))]
        spread += [{**chosen, **point} for point in one.also if "cup" not in point or point["cup"] == cup]
        answered = [point for point in spread if one.answers(point)]
        begin = answered[0] if answered else spread[0]
        # From a few points that have an answer, each reading alone to both ends of its span.
        ends = [{**start, name: end} for start in [begin, *answered[1:-1:max(1, len(answered) // 3)]] for name, way in one.spans.items() for end in (way.low, way.high)]
        corners = [furthest(one, start, way) for start in ([begin, answered[-1]] if answered else ()) for way in (1, -1)]
        ends += [*corners, *(between(corner, begin, 1e-3) for corner in corners)]
        refused = [point for point in [*spread, *ends] if not one.answers(point)]
        borders = []
        for place, point in enumerate(refused):
            for start in {id(begin): begin, id(answered[place % len(answered)]): answered[place % len(answered)]}.values() if answered else ():
                borders += border(one, start, point)
        found += [*spread, *ends, *borders]
    return found


def furthest(one: Law, start: dict, way: int) -> dict:
    """From a point, each reading in turn to whichever end of its span takes the answer furthest up (1) or down (−1): the corner where a rising or falling law has its most or its least."""
    def reached(point: dict) -> float:
        said = one(point)
        return -math.inf if isinstance(said, str) or math.isnan(said) else way * said

    for _ in range(2):
        for name, span_ in one.spans.items():
            start = max((start, {**start, name: span_.low}, {**start, name: span_.high}), key=reached)
    return start


def between(start: dict, end: dict, share: float) -> dict:
    """A point on the way from one to the other."""
    return {name: value if isinstance(value, str) else value + (end[name] - value) * share for name, value in start.items()}


def border(one: Law, start: dict, end: dict) -> list[dict]:
    """Both sides of the place where the law stops to answer, on the way from a point that it answers to one that it does not."""
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if one.answers(between(start, end, middle)) else (low, middle)
    inside, outside = max(0.0, low - STEP_OFF), min(1.0, high + STEP_OFF)
    return [between(start, end, share) for share in (inside, outside)]


def beyond(one: Law) -> list[dict]:
    """Just outside each end of each span, from a point that has an answer: a formula must refuse there."""
    found = []
    for point, said in one.points():
        if not isinstance(said, str) and one.gives.low <= said <= one.gives.high:
            for name, way in one.spans.items():
                hair = 1e-6 * (way.high - way.low)
                found += [{**point, name: way.low - hair}, {**point, name: way.high + hair}]
            break
    return found


def halving(miss: Callable[[float], float], low: float, high: float) -> float:
    """Where something that rises passes nought, to the last digit."""
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if miss(middle) < 0 else (low, middle)
    return (low + high) / 2


_PLACES, _WEIGHTS = np.polynomial.legendre.leggauss(24)


def area_under(curve: Callable, low: float, high: float, strips: int = 16) -> float:
    """The area under a curve, strip by strip."""
    edges = np.linspace(low, high, strips + 1)
    half = (edges[1:] - edges[:-1]) / 2
    x = (edges[:-1] + half)[:, None] + half[:, None] * _PLACES
    return float((curve(x) * _WEIGHTS * half[:, None]).sum())


def slope_of(curve: Callable[[float], float], at: float, step: float) -> float:
    """How steeply a curve rises, from four places about it."""
    return (8 * (curve(at + step) - curve(at - step)) - (curve(at + 2 * step) - curve(at - 2 * step))) / (12 * step)


def grown(start: float, rate: float, time: float, steps: int = 200) -> float:
    """What something becomes that grows by `rate` of itself for each unit of time: in small steps, each to its seventh order; no exponential is called."""
    x = rate * time / steps
    return start * (1 + x * (1 + x / 2 * (1 + x / 3 * (1 + x / 4 * (1 + x / 5 * (1 + x / 6)))))) ** steps


def compare(one: Law, evaluate: Callable[[dict], tuple]) -> str | None:
    """None where a formula says what the law says at all points, else the first that differs, in words.

    `evaluate` takes columns of readings and gives (answers, codes, letters, reasons), as the formula itself does.
    """
    said = one.points()
    outside = beyond(one)
    for cup in one.cups:
        mine = [(point, value) for point, value in said if point.get("cup") == cup]
        off = [point for point in outside if point.get("cup") == cup]
        columns = {name.replace("_", "-"): np.array([point[name] for point in [*(point for point, _ in mine), *off]]) for name in one.spans}
        if cup is not None:
            columns["cup"] = cup
        answers, codes, _, reasons = evaluate(columns)
        typical = float(np.median([abs(value) for _, value in mine if not isinstance(value, str) and one.gives.low <= value <= one.gives.high] or [1.0]))
        for (point, value), answer, code in zip(mine, answers, codes, strict=False):
            reason = None if code < 0 else reasons[code]
            if isinstance(value, str):
                if reason is None or value not in reason:
                    return f"{one.name} at {point}: the law has none, since “{value}”; the formula says {answer} ({reason})"
                continue
            allowed = CLOSE * abs(value) + 1e-10 * typical + (one.slack(**point) if one.slack else 0.0)
            exactly = value in (one.gives.low, one.gives.high)
            at_end = any(abs(value - end) <= max(REACH * max(abs(end), 1e-3 * typical), allowed if one.slack else 0.0) for end in (one.gives.low, one.gives.high))
            if at_end and not exactly and (reason is None or "the answer" in reason):
                continue  # nearer to the end than either can tell
            if not one.gives.low <= value <= one.gives.high:
                if reason is None or "the answer" not in reason:
                    return f"{one.name} at {point}: {value} is no answer that is printed; the formula says {answer} ({reason})"
                continue
            if reason is not None or not abs(answer - value) <= allowed:
                return f"{one.name} at {point}: by hand {value}; the formula says {answer} ({reason})"
        for point, code in zip(off, codes[len(mine):], strict=True):
            if code < 0 or "must lie between" not in reasons[code]:
                return f"{one.name} at {point}: outside its span, and an answer all the same"
    return None
