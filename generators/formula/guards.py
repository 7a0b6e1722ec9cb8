"""The guards of a formula, in the order both languages test them, each with the sentence it refuses with."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generators import units
from generators.formula.declare import Formula
from generators.formula.parts import Symbol


@dataclass(frozen=True)
class Guard:
    """`symbol` must lie in [low, high] in its declared unit."""

    symbol: Symbol
    low: float
    high: float
    reason: str

    @property
    def reach(self) -> tuple[float, float]:
        """How far below `low` and above `high` an answer is still taken for that end: the last digits of a sum are rounding."""
        return self.low - _hair(self.low, self.high), self.high + _hair(self.high, self.low)


def _hair(end: float, other: float) -> float:
    """A thousand-millionth of an end. Nought has no size of its own: a million-millionth of the other end, and never more than a millionth."""
    return 1e-9 * abs(end) if end else min(1e-12 * abs(other), 1e-6)


def number(value: float) -> str:
    """A number as people write it: at most six significant digits, no trailing zeros."""
    return f"{value:.6g}".replace("-", "−")


def brief(value: float) -> str:
    """A number for reading: four significant digits."""
    return f"{float(f'{value:.4g}'):.10g}".replace("-", "−") if abs(value) < 1e9 else number(value)


def told(value: float, unit: str, system: str) -> str:
    """A figure of a worked example with its unit, for reading: four digits, or as US readers say it."""
    if system != "us" or unit in ("1", "×", "%"):
        return f"{brief(value)} {unit}"
    return units.said(value, unit)


def spaced(value: float, unit: str) -> str:
    """A number with its unit; plain numbers and factors get no space-less surprises."""
    return number(value) if unit == "1" else f"{number(value)} {unit}"


def guards(formula: Formula, option: str | None) -> list[Guard]:
    """Range guards of the inputs, narrowed by the chosen option, and last that of the answer."""
    kept = formula._cache.setdefault("guards", {})
    if option not in kept:
        kept[option] = _guards(formula, option)
    return kept[option]


def _guards(formula: Formula, option: str | None) -> list[Guard]:
    narrowed: Mapping[str, tuple[float, float]] = {}
    where = ""
    if formula.choice and option is not None:
        chosen = formula.choice.options[option]
        narrowed, where = chosen.ranges, f" for {chosen.label}"
    found = []
    for symbol in (*formula.inputs, formula.answer):
        low, high = narrowed.get(symbol.name, (symbol.low, symbol.high))
        told = where if symbol.name in narrowed else ""
        subject = symbol.meaning if symbol is not formula.answer else f"the answer ({symbol.meaning})"
        least, most, unit = units.turned_range(low, high, symbol.unit, formula.system)
        reason = f"{subject} must lie between {number(least)} and {spaced(most, unit)}{told}"
        found.append(Guard(symbol, low, high, reason))
    return found
