"""The Chart: a frozen picture of numbers that renderers draw and nobody edits.

Lines are told apart by their dash and a label beside them, bands by a hatch and a word: never by colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Scale:
    """One axis: what it is, its unit, from where to where, and the ticks that are printed."""

    label: str
    unit: str
    low: float
    high: float
    ticks: tuple[float, ...]
    log: bool = False


@dataclass(frozen=True)
class Line:
    """One curve. `label` is printed beside it, `at` that share of its length, or nowhere where empty."""

    label: str
    xs: tuple[float, ...]
    ys: tuple[float, ...]
    strong: bool = False
    at: float = 1.0


@dataclass(frozen=True)
class Band:
    """The area between two curves over the same xs, in one of the table's zones."""

    label: str
    zone: str
    xs: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True)
class Chart:
    """Curves and bands over two axes. `description` says in words what the picture shows."""

    name: str
    title: str
    caption: str
    description: str
    x: Scale
    y: Scale
    lines: tuple[Line, ...] = ()
    bands: tuple[Band, ...] = ()
    formulas: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.description.strip():
            raise ValueError(f"{self.name}: a picture wants a description for those who cannot see it")
