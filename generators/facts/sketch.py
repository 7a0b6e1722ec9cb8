"""The kinds that a drawing of a fault is made of: marks on a panel, lines of height, words. One mark is one line of text.

A drawing has two panels. `front` is what the eye meets. `cut` is a slice through the film and what it lies on. Both share
one axis, so what stands above a place in the one is the same place in the other. Lengths are units of the sheet, 108 wide.
A height in the cut is in wanted films: 1 is as thick as it should be, 0 is the face of the work, below 0 is inside it.
"""

from __future__ import annotations

import difflib
import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema

from generators.facts.kinds import refuse

WIDE, TALL, FILM = 108.0, 93.0, 7.0  # the sheet, and one wanted film, in its units
LETTER = 2.45  # width of a letter of a word, at the least that holds it
LOW, HIGH = -1.4, 3.4  # how deep and how high a cut reaches, in wanted films

# What can be drawn, and what its numbers are: a p is a place of two numbers, b a box of four, r a radius, n a count, * any more places.
MARKS = {
    "dot": "pr", "ring": "pr", "rim": "pr", "oval": "prr",
    "line": "pp*", "dash": "pp*", "arrow": "pp", "curve": "ppp*",
    "patch": "ppp*", "bare": "ppp*", "solid": "ppp*", "flat": "ppp*",
    "hatch": "b", "band": "b", "gap": "b", "drape": "b", "cracks": "bn", "crinkles": "bn", "grains": "bnr", "bubbles": "bnr", "bursts": "bnr", "pebbles": "bn", "fan": "bn", "bow": "bn",
}
ROWS, MANY = 20, 1500  # the most rows of a net, and the most dots of a mark: more would be a blot, and a page too heavy for a phone
_NUMBER = r"[-−]?(?:\d+\.?\d*|\.\d+)"
_WORD = re.compile(rf"^\s*({_NUMBER})\s+({_NUMBER})(?:\s*>\s*({_NUMBER})\s+({_NUMBER}))?\s*:\s*(\S.{{0,39}})$")


@dataclass(frozen=True)
class Mark:
    """One mark: its kind and its numbers, in the order that MARKS gives."""

    kind: str
    numbers: tuple[float, ...]

    def split(self) -> tuple[list[tuple[float, float]], tuple[float, ...]]:
        """Its places, and the numbers after them. A box is two opposite corners."""
        pattern, values = MARKS[self.kind], list(self.numbers)
        if pattern[0] == "b":
            x, y, w, h = values[:4]
            return [(x, y), (x + w, y + h)], tuple(values[4:])
        places = len(values) // 2 if pattern.endswith("*") else pattern.count("p")
        return [(values[2 * i], values[2 * i + 1]) for i in range(places)], tuple(values[2 * places:])


@dataclass(frozen=True)
class Label:
    """Words at a place, and the place they speak of where it is another."""

    at: tuple[float, float]
    to: tuple[float, float] | None
    words: str


def _floats(text: str) -> tuple[float, ...] | None:
    try:
        found = tuple(float(part.replace("−", "-")) for part in text.split())
    except ValueError:
        return None
    return found if all(abs(number) <= MANY for number in found) else None  # also refuses nan


def _mark(typed: Any) -> Mark:
    if isinstance(typed, Mark):
        return typed
    kind, _, rest = str(typed).strip().partition(" ")
    if kind not in MARKS:
        close = difflib.get_close_matches(kind, MARKS, 1)
        raise refuse("a mark and its numbers, such as dot 50 20 2", typed, f"did you mean {close[0]!r}?" if close else "begin with one of: " + ", ".join(MARKS))
    pattern, numbers = MARKS[kind], _floats(rest)
    least = sum({"p": 2, "b": 4}.get(part, 1) for part in pattern.rstrip("*"))
    if numbers is None or len(numbers) < least or (pattern.endswith("*") and len(numbers) % 2) or (not pattern.endswith("*") and len(numbers) != least) or len(numbers) > 120:
        many = f"{least} or more, in pairs" if pattern.endswith("*") else f"{least} numbers"
        raise refuse(f"{kind} and {many}", typed, "write the numbers with blanks between")
    after = Mark(kind, numbers).split()[1]
    most = ROWS if kind in ("cracks", "crinkles", "pebbles") else MANY
    if any(not 0 < number <= most for number in after) or (pattern[0] == "b" and min(numbers[2:4]) <= 0):
        raise refuse(f"{kind} with sizes above zero, and at most {most:g} of them", typed, "mend the numbers")
    return Mark(kind, numbers)


def _label(typed: Any) -> Label:
    if isinstance(typed, Label):
        return typed
    match = _WORD.match(str(typed))
    if not match:
        raise refuse("a place and words, such as '40 8: bead' or '40 8 > 30 20: bead'", typed, "write x y, a colon, at most 40 letters; `> x y` before the colon points at something")
    x, y, tx, ty = (None if part is None else float(part.replace("−", "-")) for part in match.groups()[:4])
    return Label((x or 0.0, y or 0.0), None if tx is None or ty is None else (tx, ty), match[5].strip())


def _heights(typed: Any) -> tuple[tuple[float, float], ...]:
    if isinstance(typed, tuple):
        return typed
    pairs = [_floats(part) for part in str(typed).split(",")]
    found = tuple((pair[0], pair[1]) for pair in pairs if pair and len(pair) == 2)
    if len(found) != len(pairs) or not 2 <= len(found) <= 120 or any(b[0] < a[0] for a, b in itertools.pairwise(found)):
        raise refuse("places and heights, left to right, such as 0 1, 40 1, 50 2.5, 100 1", typed, "write each pair with a blank, and commas between; the same pair twice makes a corner")
    return found


MarkField = Annotated[Mark, BeforeValidator(_mark), WithJsonSchema({"type": "string", "pattern": rf"^({'|'.join(MARKS)})( {_NUMBER})+$", "examples": ["dot 50 20 2", "line 0 10 100 10"]})]
LabelField = Annotated[Label, BeforeValidator(_label), WithJsonSchema({"type": "string", "examples": ["40 8: bead", "40 8 > 30 20: bead"]})]
Heights = Annotated[tuple[tuple[float, float], ...], BeforeValidator(_heights), WithJsonSchema({"type": "string", "examples": ["0 1, 40 1, 50 2.5, 100 1"]})]


@dataclass(frozen=True)
class Panel:
    """Where one panel lies on the sheet, and how its own places come there."""

    left: float
    top: float
    width: float
    height: float
    face: float | None = None  # of a cut: where the face of the work is, down the sheet, or across it where the work is upright
    upright: bool = False

    def place(self, x: float, y: float) -> tuple[float, float]:
        """A place of this panel on the sheet. In a cut, x goes along the work and y is a height."""
        if self.face is None:
            return self.left + x, self.top + y
        return (self.face + FILM * y, self.top + x) if self.upright else (self.left + x, self.face - FILM * y)

    @property
    def along(self) -> float:
        """How far the shared axis goes."""
        return self.height if self.upright else self.width

    def holds(self, x: float, y: float, beside: float = 0.0, above: float | None = None) -> bool:
        """Whether a place of the sheet is on this panel, with so much room beside it and above and below."""
        above = beside if above is None else above
        return self.left - 1e-6 <= x - beside and x + beside <= self.left + self.width + 1e-6 and self.top - 1e-6 <= y - above and y + above <= self.top + self.height + 1e-6


def panels(way: str) -> tuple[Panel, Panel]:
    """The front and the cut: one above the other, or side by side where the work is upright."""
    if way == "upright":
        return Panel(4, 9, 50, 80, upright=True), Panel(60, 9, 44, 80, face=72, upright=True)
    return Panel(4, 9, 100, 36), Panel(4, 55, 100, 34, face=79)


def label_box(panel: Panel, label: Label) -> tuple[float, float, float, float]:
    """What a label takes up on the sheet: left, top, right, bottom."""
    x, y = panel.place(*label.at)
    return x, y - 3.4, x + LETTER * len(label.words), y + 1.0


def outside(drawing: Any) -> Iterator[tuple[tuple[Any, ...], str, str, str]]:
    """(keys, wanted, came, how to mend) for all that would be drawn beside its panel."""
    for name, panel in zip(("front", "cut"), panels(drawing.way), strict=True):
        view = getattr(drawing, name)
        reach = f"x from 0 to {panel.width:g}, y from 0 to {panel.height:g}" if name == "front" else f"places from 0 to {panel.along:g}, heights from {LOW:g} to {HIGH:g}"
        for index, mark in enumerate(view.marks):
            places, after = mark.split()
            room = after if MARKS[mark.kind].startswith("pr") else ()
            if not all(panel.holds(*panel.place(*place), *room) for place in places):
                yield (name, "marks", index), f"a mark on its panel: {reach}", " ".join((mark.kind, *(f"{number:g}" for number in mark.numbers))), "move it, or make it smaller"
        for index, label in enumerate(view.words):
            left, top, right, bottom = label_box(panel, label)
            if not (panel.holds(left, top) and panel.holds(right, bottom)) or (label.to and not panel.holds(*panel.place(*label.to))):
                yield (name, "words", index), f"words on their panel: {reach}, {LETTER:g} for each letter", label.words, "move them to the left, or use fewer letters"
        for line in ("film", "under", "ground") if name == "cut" else ():
            heights = getattr(view, line)
            if heights and not (all(LOW <= y <= HIGH for _, y in heights) and heights[0][0] == 0 and heights[-1][0] == panel.along):
                yield (name, line), f"{reach}, from the first place to the last", ", ".join(f"{x:g} {y:g}" for x, y in heights), "mend the pairs"
