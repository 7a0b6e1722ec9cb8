"""What a table builder is given, and the two helpers they all use."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Literal

import numpy as np
import pandas as pd

from generators import noted, units
from generators.formula import Formula
from generators.formula.numeric import evaluate
from generators.table import TextTable


@dataclass(frozen=True)
class Book:
    """The facts at hand, the formulas with this handbook's cups, and the system of units wanted."""

    facts: Any
    formulas: Mapping[str, Formula]
    system: str
    kept: dict[Any, noted.Kept] = field(default_factory=dict, compare=False, repr=False)
    either: dict[Any, noted.Kept] = field(default_factory=dict, compare=False, repr=False)  # what is the same in both systems: both books hold this one

    def once(self, key: tuple[Any, ...], make: Callable[[], Any]) -> Any:
        """What `make` gives, worked once for this book's facts: kits share cups, and pages share tables."""
        return noted.once(self.kept, key, make)

    def once_for_both(self, key: tuple[Any, ...], make: Callable[[], Any]) -> Any:
        """What `make` gives whatever the system of units: worked once for both books."""
        return noted.once(self.either, key, make)

    def forget(self, kind: str, slugs: Collection[str]) -> None:
        """Drop the tables of some kits or paints: nobody is going to ask for them again."""
        about = {repr((kind, slug)) for slug in slugs}
        for key in [key for key in self.kept if isinstance(key[-1], str) and any(one in key[-1] for one in about)]:
            del self.kept[key]

    @property
    def metric(self) -> bool:
        """True for metric tables, false for US ones."""
        return self.system == "metric"

    def label(self, one: Any) -> str:
        """A thing's name in the region's own trade words."""
        return str(one.us_label if self.facts.handbook.words == "us" else one.label)

    def said(self, measure: Any) -> str:
        """A quantity of the facts with its unit, in this book's system."""
        value, unit = units.turned(measure.value, measure.unit, self.system)
        return f"{value:g} {unit}" if unit == measure.unit else units.said(value, unit)

    def room(self) -> float:
        """The usual room in m³; for US readers a round one, no larger, so that the air in it is no cleaner than told."""
        room = float(self.facts.value("limits.room_volume").to("m³"))
        return room if self.metric else float(units.convert(math.floor(units.convert(room, "m³", "ft³") / 100 + 1e-9) * 100, "ft³", "m³"))

    def pick(self, metric: Any, us: Any) -> Any:
        """One of two, by system of units."""
        return metric if self.metric else us


def books(facts: Any, formulas: Mapping[str, Formula]) -> dict[str, Book]:
    """One book for each system of units."""
    either: dict[Any, noted.Kept] = {}
    return {system: Book(facts, formulas, system, either=either) for system in ("metric", "us")}


def nozzle_words(measure: Any, system: str) -> str:
    """A nozzle by what is stamped on it; one that is stamped in millimetres in inches too, for US readers."""
    stamped = f"{measure.value:g} {measure.unit}"
    if system != "us":
        return f"{measure.to('mm'):g} mm" if measure.unit == "mm" else units.said(measure.to("mm"), "mm")
    return stamped if measure.unit == "in" else f"{units.said(measure.to('in'), 'in')}, marked {stamped}"


@dataclass(frozen=True)
class Builder:
    """How a table or picture is made: once, or for each kit or coating (whose file name it then takes after the book).

    `twins` is false where metric and US readers see the very same table.
    """

    make: Callable[..., Any]
    per: Literal["handbook", "kit", "coating"] = "handbook"
    twins: bool = True

    def key(self, *given: Any, **wanted: Any) -> tuple[Any, ...]:
        """Under what a book keeps the table of such a wish."""
        return (self.make, given, repr(sorted(wanted.items())))

    def on_shelf(self, slug: str) -> tuple[Any, ...]:
        """Under what a book keeps the table of a kit or coating, or ("") the handbook's one."""
        return self.key(**({self.per: slug} if slug else {}))

    def __call__(self, book: Book, *arguments: Any, **wanted: Any) -> Any:
        """Made once for each book and wish: a page and the file of the same table share it."""
        given: list[Any] = list(arguments)
        if len(given) == 1 and self.per != "handbook":
            wanted = {self.per: given.pop(), **wanted}
        return book.once(self.key(*given, **wanted), lambda: worded(self.make(book, *given, **wanted), book.system))


def worded(made: Any, system: str) -> Any:
    """A table whose words say a measure both ways, with that of one system alone."""
    def told(text: Any) -> Any:
        return units.one_system(text, system) if isinstance(text, str) else text

    if isinstance(made, TextTable):
        return replace(made, title=told(made.title), caption=told(made.caption), heads=tuple(map(told, made.heads)), rows=tuple(tuple(map(told, row)) for row in made.rows), notes=tuple(map(told, made.notes)))
    return replace(made, title=told(made.title), caption=told(made.caption), notes=tuple(map(told, made.notes)))


def compute(formula: Formula, inputs: Mapping[str, Any], unit: str, given: Mapping[str, str] | None = None) -> tuple[Any, Any]:
    """(values in `unit`, reasons): `given` names the unit of inputs that are not in the declared one.

    Values are a numpy array, NaN where there is no answer; reasons is an array of texts, empty where there is one.
    """
    declared = {symbol.name: symbol.unit for symbol in formula.inputs}
    ready = {name: (units.convert(np.asarray(value, float), (given or {})[name], declared[name]) if name in (given or {}) else value)
             for name, value in inputs.items()}
    answer, codes, _, reasons = evaluate(formula, ready)
    told = np.array([*reasons, ""], dtype=object)[codes]  # code −1 picks the last, empty one
    return units.convert(answer, formula.answer.unit, unit), told


def frame(values: Any) -> pd.DataFrame:
    """A two-dimensional array as a frame; positions are the axes."""
    return pd.DataFrame(np.asarray(values))


def first_paint(book: Book) -> str:
    """The paint that a table of the whole handbook stands on: the first that may be sprayed and thinned, a water paint where there is one."""
    fit = [slug for slug, tin in book.facts.coatings.items() if not tin.stops and tin.supplied and (tin.trial or tin.steepness)]
    return min(fit or book.facts.coatings, key=lambda slug: book.facts.classes[book.facts.coatings[slug].class_key].family != "waterborne")


def no_figures(name: str, title: str, why: str) -> TextTable:
    """A table that holds only the reason why it has no numbers: a stop sign travels with its coating, into the CSV too."""
    return TextTable(name, title, "", ("No figures",), ((why,),))


def stop_words(book: Book, tin: Any) -> str:
    """The first hard stop of a coating in one line, with who decides."""
    stop = book.facts.stops[tin.stops[0]]
    return f"STOP. {stop.title}. {stop.who_decides}"
