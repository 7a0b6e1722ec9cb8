"""The EdgeChart: a frozen picture that computes. One laid edge joins two readings, and where it crosses the third line stands the answer.

All places are millimetres on the sheet, from its upper left corner, as it is printed at its own size. Renderers draw it and nobody edits it.
"""

from __future__ import annotations

from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True)
class Mark:
    """One stroke of a graduated line: how far along it (mm), what it stands for, and its figure, or none where there is no room for one."""

    at: float
    value: float
    text: str = ""


@dataclass(frozen=True)
class Rule:
    """A graduated line. `across` lies flat and is read along x at height `stands`; the others stand upright at x `stands`.

    `side` is +1 where figures stand to the right (or below), −1 to the left. `reach` lengthens every stroke into a line of a grid (mm).
    """

    name: str
    head: tuple[str, ...]
    stands: float
    start: float
    end: float
    marks: tuple[Mark, ...]
    side: int = 1
    across: bool = False
    reach: float = 0.0


@dataclass(frozen=True)
class Barred:
    """A part that must not be used, hatched, with its word at `at`; upright where `turned`."""

    corners: tuple[Point, ...]
    word: str
    at: Point
    turned: bool = False
    anchor: str = "middle"


@dataclass(frozen=True)
class EdgeChart:
    """Rules, what is barred, and one worked line. `error` is what 95 readings in 100 keep, in the answer's unit, at this size or larger."""

    name: str
    title: str
    caption: str
    description: str
    width: float
    height: float
    rules: tuple[Rule, ...]
    worked: tuple[Point, ...]
    how: tuple[str, ...]
    take: str
    error: float
    bar: float
    unit: str
    barred: tuple[Barred, ...] = ()
    strong: tuple[tuple[Point, Point, str], ...] = ()
    words: tuple[tuple[Point, str, str], ...] = ()
    formulas: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    off: str = "0.3 mm"  # how far an edge and an eye are off, as its readers measure

    def __post_init__(self) -> None:
        if self.error > self.bar:
            raise ValueError(f"{self.name}: read to {self.error:g} {self.unit}, coarser than its table's {self.bar:g}: a chart that is not printed")
        if not self.description.strip():
            raise ValueError(f"{self.name}: a picture wants a description for those who cannot see it")

    @property
    def reading_error(self) -> str:
        """How far off a reading is, in words."""
        return f"An edge and an eye each {self.off} off: 95 readings in 100 are within {self.error:g} {self.unit}, at this size or larger."
