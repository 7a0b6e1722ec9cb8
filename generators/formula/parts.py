"""What a formula is declared from: symbols, constants, steps, conditions, choices."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generators.basis import Origin


@dataclass(frozen=True)
class Symbol:
    """An input or an answer. `low` and `high` bound the valid range, both included, in `unit`."""

    name: str
    letter: str
    unit: str
    low: float
    high: float
    meaning: str
    example: float | None = None
    tex: str = ""


@dataclass(frozen=True)
class Constant:
    """A fixed number with its unit. Its value is in `unit`; the formula computes with it in base units."""

    letter: str
    value: float
    unit: str
    meaning: str
    tex: str = ""


@dataclass(frozen=True)
class Let:
    """A named intermediate value, worked before the answer."""

    letter: str
    unit: str
    expression: str
    meaning: str = ""
    tex: str = ""


@dataclass(frozen=True)
class Root:
    """An intermediate value defined by `residual = 0`, found by a fixed number of Newton steps from `start`.

    A fixed count, with no early stop, so that numpy and JavaScript do exactly the same work. `slope` is how the residual grows with the letter;
    sympy works it where none is declared.
    """

    letter: str
    unit: str
    residual: str
    start: str
    meaning: str = ""
    tex: str = ""
    count: int = 12
    slope: str = ""


@dataclass(frozen=True)
class Condition:
    """`expression` must be above zero, or there is no answer and `reason` says why."""

    expression: str
    reason: str


@dataclass(frozen=True)
class Option:
    """One choice (a cup): its constants, and the ranges it narrows, by symbol name, in that symbol's unit."""

    label: str
    constants: Mapping[str, float]
    ranges: Mapping[str, tuple[float, float]]
    origin: Origin


@dataclass(frozen=True)
class Choice:
    """An input picked by name. `constants` are the letters (with units) that an option gives a value."""

    name: str
    meaning: str
    constants: tuple[Constant, ...]
    example: str
    options: Mapping[str, Option] = field(default_factory=dict)


class DeclarationError(ValueError):
    """A formula that is declared wrongly: it fails at import and never reaches a page."""


class OutOfRange(ValueError):
    """No answer, and the reason in one sentence."""


class InputError(ValueError):
    """An input that is missing, unknown or not a value of the wanted kind."""
