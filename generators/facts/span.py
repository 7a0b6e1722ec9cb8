"""A figure as the least, the likely and the most that it can be: what relations between facts are worked in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Span:
    """`low` ≤ `likely` ≤ `high`, in a unit that whoever asks knows."""

    low: float
    likely: float
    high: float

    @classmethod
    def of(cls, value: Any, unit: str, scale: float = 1.0) -> Span | None:
        """A fact's value in a unit, times a scale; None where the file does not say it."""
        if value is None:
            return None
        low, high = value.ends(unit)
        return cls(low * scale, value.to(unit) * scale, high * scale)

    def _with(self, other: Span | float, act: Any) -> Span:
        other = other if isinstance(other, Span) else Span(other, other, other)
        ends = [act(a, b) for a in (self.low, self.high) for b in (other.low, other.high)]
        return Span(min(ends), act(self.likely, other.likely), max(ends))

    def __add__(self, other: Span | float) -> Span:
        return self._with(other, lambda a, b: a + b)

    def __sub__(self, other: Span | float) -> Span:
        return self._with(other, lambda a, b: a - b)

    def __mul__(self, other: Span | float) -> Span:
        return self._with(other, lambda a, b: a * b)

    def __truediv__(self, other: Span | float) -> Span:
        return self._with(other, lambda a, b: a / b if b else math.copysign(math.inf, a))

    def rest(self) -> Span:
        """What is left of one."""
        return Span(1 - self.high, 1 - self.likely, 1 - self.low)

    def least(self, bottom: float) -> Span:
        """The same, never under a bottom."""
        return Span(*(max(bottom, value) for value in (self.low, self.likely, self.high)))


def fixed(value: float) -> Span:
    """One figure."""
    return Span(value, value, value)
