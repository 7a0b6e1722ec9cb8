"""The Table: a frozen value that renderers read and nobody edits.

Numbers stay unrounded in `body`; each table says how its cells round, to its own safe side.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

import pandas as pd

FINE, CARE, UNKNOWN, STOP, NONE = "fine", "care", "unknown", "stop", "none"
_PLAIN = {FINE: "go", CARE: "take care", UNKNOWN: "not known: measure, or ask", STOP: "do not"}
MARKS = {FINE: "✓", CARE: "△", UNKNOWN: "?", STOP: "✕", NONE: "", "": ""}


@dataclass(frozen=True)
class Axis:
    """Heads of the rows or columns, as printed, with what they are and their unit."""

    label: str
    unit: str
    heads: tuple[str, ...]
    values: tuple[float, ...] = ()  # where it is a scale: what the sum takes, in `unit`

    @classmethod
    def of(cls, label: str, unit: str, values: Iterable[float], suffix: str = "") -> Axis:
        """An axis that is a scale: heads are its values as people write them."""
        held = tuple(float(value) for value in values)
        return cls(label, unit, tuple(f"{value:g}{suffix}".replace("-", "−") for value in held), held)


@dataclass(frozen=True)
class Rounding:
    """`side` is "down", "up" or "nearest"; cells are whole multiples of `step`."""

    side: str
    step: float

    def __call__(self, value: float) -> float:
        steps = value / self.step
        hair = 1e-9 * max(1.0, abs(steps))
        whole = {"down": lambda: math.floor(steps + hair), "up": lambda: math.ceil(steps - hair), "nearest": lambda: round(steps)}
        return float(whole[self.side]()) * self.step

    @property
    def decimals(self) -> int:
        """Decimals that a multiple of `step` needs: two for a quarter, so that 3.75 is never printed as 3.8."""
        return len(f"{self.step:.9f}".rstrip("0").partition(".")[2])

    @property
    def words(self) -> str:
        """How the page says it."""
        return {"down": "rounded down to the safe side, in steps of", "up": "rounded up to the safe side, in steps of", "nearest": "rounded to the nearest"}[self.side]


Readings = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Swept:
    """What a swept table stands on: the answer it shows, the one situation it assumes, and the readings that each row and each column puts in.

    `scale` and `offset` take the chain's figure to the table's unit, so that a phone can sweep it again for another kit or paint; None where it cannot.
    """

    answer: str
    base: Readings
    rows: tuple[Readings, ...]
    columns: tuple[Readings, ...]
    scale: tuple[float, float] | None = None
    each: tuple[tuple[str, tuple[float, float] | None], ...] = ()  # (answer, scale) of each column, where they show different answers

    def situation(self, row: int, column: int) -> dict[str, str]:
        """The situation of one cell, as a person would type it."""
        return {**dict(self.base), **dict(self.rows[row]), **dict(self.columns[column])}


@dataclass(frozen=True)
class Cell:
    """One printed cell. `reason` is set where there is no answer."""

    text: str
    zone: str
    reason: str


@dataclass(frozen=True)
class Table:
    """A table of numbers over two axes, with zones, reasons, and where it comes from.

    Where each column is a quantity of its own, `roundings` gives each its own step, `unit` is empty and the heads say the units.
    """

    name: str
    title: str
    caption: str
    rows: Axis
    columns: Axis
    body: pd.DataFrame
    unit: str
    rounding: Rounding
    system: str
    zones: pd.DataFrame | None = None
    zone_words: dict[str, str] = field(default_factory=dict)
    reasons: pd.DataFrame | None = None
    formulas: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    roundings: tuple[Rounding, ...] = ()
    lights: tuple[str, str, str] = ("", "", "")  # formula, and its inputs along the rows and the columns: a live answer lights its cell
    swept: Swept | None = None

    def __post_init__(self) -> None:
        """A table whose parts do not fit each other is refused where it is made.

        Raises:
            ValueError: its name, and each part that does not fit.
        """
        shape = len(self.rows.heads), len(self.columns.heads)
        parts = {"body": self.body, "zones": self.zones, "reasons": self.reasons}
        wrong = [f"{what} is {part.shape[0]} × {part.shape[1]}" for what, part in parts.items() if part is not None and part.shape != shape]
        if self.roundings and len(self.roundings) != shape[1]:
            wrong.append(f"{len(self.roundings)} roundings")
        if self.zones is not None:
            unknown = sorted({str(zone) for zone in self.zones.to_numpy().ravel()} - set(MARKS))
            wrong += [f"zone {zone!r}, which has no mark" for zone in unknown]
        for axis in (self.rows, self.columns):
            wrong += [f"axis {axis.label!r} holds {len(axis.values)} values for {len(axis.heads)} heads"] if axis.values and len(axis.values) != len(axis.heads) else []
            wrong += [f"axis {axis.label!r} says {head!r} twice" for head in sorted({head for head in axis.heads if axis.values and axis.heads.count(head) > 1})]
        if wrong:
            raise ValueError(f"table {self.name}: its heads are {shape[0]} × {shape[1]}; {'; '.join(wrong)}")

    @cached_property
    def _plain(self) -> tuple[list[list[float]], list[list[str]], list[list[str]]]:
        """(numbers, zones, reasons) as plain lists: a frame costs a hundred times a list for one cell."""
        blank = [[""] * self.body.shape[1]] * self.body.shape[0]
        return (self.body.to_numpy(float).tolist(), self.zones.to_numpy().tolist() if self.zones is not None else blank,
                self.reasons.to_numpy().tolist() if self.reasons is not None else blank)

    def cell(self, row: int, column: int) -> Cell:
        """The printed cell: a number on its step, or a dash with its reason."""
        numbers, zones, reasons = self._plain
        value, zone = numbers[row][column], str(zones[row][column])
        if math.isnan(value):
            return Cell("–", zone or NONE, str(reasons[row][column]) or "outside the range this holds for")
        rounding = self.roundings[column] if self.roundings else self.rounding
        text = f"{rounding(value) + 0.0:.{rounding.decimals}f}".replace("-", "−")
        return Cell("0" if text == "−0" else text, zone, "")

    @cached_property
    def _cells(self) -> list[list[Cell]]:
        return [[self.cell(row, column) for column in range(len(self.columns.heads))] for row in range(len(self.rows.heads))]

    def grid(self) -> Iterator[tuple[str, list[Cell]]]:
        """(row head, cells) in order."""
        yield from zip(self.rows.heads, self._cells, strict=True)

    def zones_used(self) -> list[tuple[str, str, str]]:
        """(zone, mark, word) of the zones that appear, for the legend: a shade never stands without a word, whatever facts brought it up."""
        seen = {cell.zone for _, cells in self.grid() for cell in cells}
        words = {**_PLAIN, **self.zone_words} if self.zone_words else {}
        return [(zone, MARKS[zone], words[zone]) for zone in (FINE, CARE, UNKNOWN, STOP) if zone in seen and zone in words]

    def reasons_used(self) -> list[str]:
        """Each reason for a dash, once."""
        return list(dict.fromkeys(cell.reason for _, cells in self.grid() for cell in cells if cell.reason))


@dataclass(frozen=True)
class TextTable:
    """A table of words: a head for each column, and rows whose first cell names the row.

    `zones` names a zone for each cell after the first (its mark stands in the cell's own text). A `grid` keeps rows and
    columns on a narrow screen, and scrolls: for one or two words in a cell.
    """

    name: str
    title: str
    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()
    zones: tuple[tuple[str, ...], ...] = ()
    grid: bool = False
