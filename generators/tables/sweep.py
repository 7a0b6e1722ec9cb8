"""A table of a reading: the day's chain swept over two of them, each cell with the verdict of the answer that it shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from generators import units
from generators.chain.answers import filled, missing_words
from generators.chain.day import Day, answer_named
from generators.situation import Situation, read
from generators.table import CARE, FINE, STOP, UNKNOWN, Axis, Readings, Rounding, Swept, Table
from generators.tables.book import Book, frame
from generators.verdict import OUTCOMES
from generators.verdict.ask import Answered

ZONES = dict(zip(OUTCOMES, (FINE, CARE, UNKNOWN, STOP), strict=True))
# What a table of one paint takes for granted where it says nothing else: a sound, tested, empty place, and instruments that read true.
ASSUMED = {"people-out": "yes", "flames-out": "yes", "old-finish": "none", "asbestos": "no", "ground": "coated", "instruments": "exact"}
INDOORS = {**ASSUMED, "place": "room"}
OUTDOORS = {**ASSUMED, "place": "outdoors", "wind": "0", "gust": "0", "rain-at": "none", "night-low": "15 °C"}


@dataclass(frozen=True)
class Along:
    """One side of a table: a reading, its round values in the reader's unit, and what the head is called.

    `more` are readings that move with it: {reading: (texts, values in the chain's unit)}. `texts` say what each place puts into a
    situation, where that is more than the value (a dose and its time).
    """

    reading: str
    values: Any  # a column of floats
    unit: str
    label: str
    suffix: str = ""
    more: Mapping[str, tuple[Sequence[str], Any]] = field(default_factory=dict)
    texts: tuple[tuple[str, str], ...] = ()

    @property
    def axis(self) -> Axis:
        """As it is printed."""
        return Axis.of(self.label, self.unit, self.values, self.suffix)

    def columns(self, day: Day) -> dict[str, Any]:
        """Values in the chain's units, by reading."""
        own = units.convert(np.asarray(self.values, float), self.unit, day.units.get(self.reading, self.unit))
        return {self.reading: own, **{name: np.asarray(values, float) for name, (_, values) in self.more.items()}}

    def readings(self) -> tuple[Readings, ...]:
        """What each place along it puts into a situation."""
        unit = "" if self.unit in ("1", "×", "1/h") else f" {self.unit}"
        return tuple(((self.texts[place] if self.texts else (self.reading, f"{value:.10g}{unit}")), *((name, texts[place]) for name, (texts, _) in self.more.items())) for place, value in enumerate(self.values))


def typed(values: Any, unit: str) -> list[str]:
    """Numbers as a person types them, whole to the last digit, so that a situation says exactly what was swept."""
    return [f"{value!r} {unit}".strip() for value in np.asarray(values, float).tolist()]


def day_of(book: Book) -> Day:
    """The day's chain over this book's facts, made once."""
    return book.once_for_both(("day",), lambda: Day(book.facts, book.formulas))  # type: ignore[no-any-return]


def situation_of(book: Book, told: Mapping[str, str]) -> Situation:
    """Readings as texts, read as a person's would be."""
    return read(pairs_of(told), day_of(book).names())


def pairs_of(told: Mapping[str, str]) -> list[tuple[str, str]]:
    """A situation as NAME, VALUE pairs: doses stand in one text, with semicolons between."""
    return [(name, part.strip()) for name, value in told.items() for part in (value.split(";") if name == "dose" else [value])]


def sweep(book: Book, name: str, title: str, caption: str, answer: str, base: Mapping[str, str], rows: Along, columns: Along | None, unit: str, rounding: Rounding,
          words: Mapping[str, str], given: Mapping[str, Any] | None = None, heads: tuple[str, ...] = ("",), **more: Any) -> Table:
    """One table of one answer. `given` puts figures of the chain in their place (a droplet, which is no reading). Zones, reasons and
    notes come from the chain; `words` say what each zone means here.
    """
    day, declared = day_of(book), answer_named(answer)
    figure = declared.shows
    situation = situation_of(book, base)
    brought: dict[str, Any] = {name: values[:, None] for name, values in rows.columns(day).items()}
    if columns is not None:
        brought |= {name: values[None, :] for name, values in columns.columns(day).items()}
    brought |= dict(given or {})
    out = day.walk(situation, [answer], brought)
    shape = (len(rows.values), len(columns.values) if columns is not None else 1)
    held = out.held[figure]
    values = units.convert(np.broadcast_to(np.asarray(held.likely, float), shape), day.units[figure], unit)
    answered = [out.verdicts[one] for one in declared.verdicts]
    codes = np.zeros(shape, int)
    for one in answered:
        codes = np.maximum(codes, np.broadcast_to(one.codes, shape))
    zones = np.array([ZONES[word] for word in OUTCOMES], dtype=object)[codes]
    why = np.broadcast_to(np.asarray(held.why if np.any(np.asarray(held.why) != "") else (missing_words(held.missing)[0] if held.missing else "no figure for it"), dtype=object), shape)
    reasons = np.where(np.isnan(values), why, "")
    for one in answered:
        for asked_test in one.tests:
            if asked_test.test.name in declared.dash:
                stopped = np.broadcast_to(asked_test.codes, shape) == OUTCOMES.index("stop")
                reasons = np.where(stopped & ~np.isnan(values), np.array(_short(asked_test.test.because, out, day, book), dtype=object), reasons)
                values = np.where(stopped, np.nan, values)
    notes = (*_said(answered, codes, out, day, book), *more.pop("notes", ()))
    table = Table(name, title, caption, rows.axis, columns.axis if columns is not None else Axis("", "", heads), frame(values), unit, rounding, book.system, zones=frame(zones),
                  zone_words=dict(words), reasons=frame(reasons), notes=notes, **more)
    scale = None if given else units.linear(day.units[figure], unit)
    return replace(table, swept=Swept(answer, tuple(base.items()), rows.readings(), columns.readings() if columns is not None else ((),), scale))


def _short(because: str, out: Any, day: Day, book: Book) -> str:
    """The part of a reason that holds for a whole table: what follows the last semicolon or colon, with the figures of the facts."""
    part = because.rpartition("; ")[2].rpartition(": ")[2].rstrip(".")
    return filled(part, out, day.units, book.system)


def side_by_side(columns: Sequence[Table], axis: Axis) -> Table:
    """Swept tables of one column each, over the same rows, as one: what each assumed goes to its column."""
    first, swept = columns[0], [table.swept for table in columns]
    assert all(one is not None for one in swept)
    shared = [pair for pair in swept[0].base if all(pair in one.base for one in swept)]  # type: ignore[union-attr]
    own = tuple(tuple(pair for pair in one.base if pair not in shared) for one in swept)  # type: ignore[union-attr]

    def joined(part: str) -> Any:
        return frame(np.concatenate([getattr(table, part).to_numpy() for table in columns], axis=1))

    alike = len({one.answer for one in swept}) == 1  # type: ignore[union-attr]
    return replace(first, columns=axis, body=joined("body"), zones=joined("zones"), reasons=joined("reasons"),
                   swept=Swept(swept[0].answer, tuple(shared), swept[0].rows, own, swept[0].scale, () if alike else tuple((one.answer, one.scale) for one in swept)))  # type: ignore[union-attr]


def on_its_side(columns: Sequence[Table], axis: Axis) -> Table:
    """Swept tables of one column each, over the same rows, as one whose rows are what each assumed: the rows that they had go along the top."""
    joined = side_by_side(columns, axis)
    assert joined.swept is not None and joined.zones is not None and joined.reasons is not None
    return replace(joined, rows=axis, columns=columns[0].rows, body=joined.body.T, zones=joined.zones.T, reasons=joined.reasons.T,
                   swept=replace(joined.swept, rows=joined.swept.columns, columns=joined.swept.rows, scale=None))


def _said(answered: Sequence[Answered], codes: Any, out: Any, day: Day, book: Book) -> list[str]:
    """Why cells are not go: each test that decides one, with the figures of the first cell where it does."""
    found: dict[str, str] = {}
    for one in answered:
        for asked in one.tests:
            mine = np.broadcast_to(asked.codes, codes.shape)
            for place in (3, 2, 1):
                cells = np.argwhere((mine == place) & (codes == place))
                if len(cells) and asked.test.name not in found:
                    cell = tuple(int(at) for at in cells[0])
                    said = missing_words(asked.missing)[0] if place == 2 and asked.missing else filled(asked.test.because, out, day.units, book.system, cell, codes.shape)
                    found[asked.test.name] = f"{ {3: '✕', 2: '?', 1: '△'}[place] } For example: {said}"
    return list(found.values())
