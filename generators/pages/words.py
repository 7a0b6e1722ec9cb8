"""What a page can call: table, work, value, protection, stop. Each returns one raw block or one phrase."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from markupsafe import Markup

from generators import noted, render, tables, units
from generators.chain.answers import ask, printed
from generators.chain.day import Day, answer_named
from generators.facts import old_values
from generators.facts.sketch import panels
from generators.formula import Formula, OutOfRange
from generators.formula.guards import number
from generators.formulas import by_chapter
from generators.pages.drills import quiz_html
from generators.pages.forms import FORMS, recipe_line
from generators.pages.lessons import lesson_html, try_html
from generators.pages.system import example, rounded
from generators.situation import read as read_situation
from generators.table import TextTable
from generators.tables.sweep import day_of

# Marks that HTML or Markdown would read, as entities that both leave alone. One pass, so that no entity is made twice.
_MARKS = str.maketrans({mark: f"&#{ord(mark)};" for mark in "&<>\"'\\`*_{}[]|#~!"})


def text(value: Any) -> str:
    """A text from facts made safe in Markdown: whatever HTML or Markdown would read as a mark is made plain."""
    return " ".join(str(value).translate(_MARKS).split())


def nearest(name: str, names: Any) -> str:
    """«… is not one of …» with the nearest name, for a typing slip."""
    close = difflib.get_close_matches(name, list(names), 1)
    return f"{name!r} is not known" + (f"; did you mean {close[0]!r}?" if close else "; there are: " + ", ".join(sorted(names)))


# Limits that a page prints as "at least" or "at most": rounding them for US readers never loosens one.
_SAFE = {f"limits.{name}": side for side, names in (("up", ("dew_margin_min", "dew_margin_waterborne", "dew_margin_lacquer", "frost_waterborne", "store_min", "eyewash_flow", "not_below_before_dry")),
                                                      ("down", ("wind_go", "wind_max_near_cars", "wind_max", "store_max", "tape_bleed"))) for name in names}


@dataclass(frozen=True)
class Desk:
    """The facts and formulas of one build, and the calls a page can make on them."""

    facts: Any
    formulas: Mapping[str, Formula]
    press: Any = render  # what turns values into the page's own language: HTML, or marks for the typesetter
    shared: Mapping[str, tables.Book] | None = None
    fragments: dict[str, noted.Kept] = field(default_factory=dict)

    @cached_property
    def books(self) -> Mapping[str, tables.Book]:
        """One book for each system of units, so that what one table worked out the next can use."""
        return self.shared or tables.books(self.facts, self.formulas)

    @cached_property
    def day(self) -> Day:
        """The day's chain over these facts: what it says of a situation is what every page says."""
        return day_of(self.books[self.facts.handbook.system])

    def names(self) -> dict[str, Any]:
        """The names a page can use."""
        default = self.facts.handbook.default_kit
        return {"table": self.table, "picture": self.table, "work": self.work, "figure": self.figure, "live": self.live, "value": self.value, "protection": self.protection,
                "stop": self.stop, "says": self.says,
                "origin": self.origin, "plan": self.plan, "drawing": self.drawing, "sight": self.sight, "signs": self.signs, "measure": self.measure,
                "facts": self.facts, "region": self.facts.handbook.region,
                "law": self.facts.region, "as_supplied": self.as_supplied,
                "us_words": self.facts.handbook.words == "us", "system": self.facts.handbook.system, "subjects": tables.law.shown(self.facts), "rule": self.rule, "old": old_values(self.facts),
                "kit": self.facts.kits[default], "kit_slug": default, "formulas": self.formulas, "chapters": by_chapter(self.formulas),
                "quiz": self.quiz, "form": self.form, "coin": self.facts.handbook.coin,
                "lesson": self.lesson, "drill_try": self.drill_try, "drill_mark": self.drill_mark,
                "recipe_line": lambda one: recipe_line(one, self.facts), "sprayable": lambda: tables.mix.sprayable(self.facts)}

    def table(self, name: str, kit: str | None = None, coating: str | None = None, **wanted: Any) -> str:
        """A table or picture in the region's units, and a number table in the other system's folded under it."""
        def make() -> str:
            return self._table(name, kit, coating, **wanted)

        return make() if self.press is not render else self.once(f"table {name} {kit} {coating} {sorted(wanted.items())}", make)

    def once(self, what: str, make: Callable[[], str]) -> str:
        """HTML that is the same wherever it is asked for, with what it rests on."""
        return str(noted.once(self.fragments, what, make))

    def _table(self, name: str, kit: str | None, coating: str | None, **wanted: Any) -> str:
        known_tables = {**tables.BUILDERS, **tables.EDGES}
        if name not in known_tables:
            raise ValueError("table " + nearest(name, known_tables))
        build = known_tables[name]
        for noun, slug, known in (("kit", kit, self.facts.kits), ("coating", coating, self.facts.coatings)):
            if slug is not None and slug not in known:
                raise ValueError(f"{noun} " + nearest(slug, known))
        if build.per == "kit" or kit is not None:
            wanted["kit"] = kit or self.facts.handbook.default_kit
        if build.per == "coating":
            if coating is None:
                raise ValueError(f"table {name!r} wants coating=, one of: " + ", ".join(self.facts.coatings))
            wanted["coating"] = coating
        first = self.facts.handbook.system
        shown = build(self.books[first], **wanted)
        if not build.twins or isinstance(shown, TextTable) or getattr(self.press, "one_system", False):
            return f"\n{self.press.html(shown)}\n"
        other = "us" if first == "metric" else "metric"
        folded = build(self.books[other], **wanted)
        title = "The same in US units" if other == "us" else "The same in metric units"
        inside = self.press.html(replace(folded, name=f"{folded.name}-{other}", title=f"{folded.title}, {title.lower()}"))
        return f"\n{self.press.html(shown)}\n\n<details class=\"alm-how alm-other\"><summary>{title}</summary>{inside}</details>\n"

    def work(self, name: str, sheet: bool = False, **inputs: Any) -> str:
        """A formula in print, worked with the inputs given, or with its own example; for US readers with round figures of theirs, but for those of a `sheet`."""
        def make() -> str:
            return self._work(name, sheet, **inputs)

        return make() if self.press is not render else self.once(f"work {name} {sheet} {sorted(inputs.items())}", make)

    def _work(self, name: str, sheet: bool, **inputs: Any) -> str:
        formula = self._formula(name)
        given: dict[str, Any] = {symbol.name: symbol.example for symbol in formula.inputs}
        if formula.choice:
            given[formula.choice.name] = formula.choice.example
        given |= {key.replace("_", "-"): value for key, value in inputs.items()}
        try:
            worked = example(formula, given, self.facts.handbook.system, sheet)
        except OutOfRange as error:
            raise ValueError(f"{name} has no answer here: {error}") from None
        return f"\n{self.press.formula_html(formula, worked, self.facts.sources.get(formula.origin.source), self.facts.handbook.system)}\n"

    def figure(self, name: str, **inputs: Any) -> str:
        """A formula's answer as one phrase, number and unit, for the middle of a sentence."""
        formula = self._formula(name)
        given: dict[str, Any] = {symbol.name: symbol.example for symbol in formula.inputs}
        if formula.choice:
            given[formula.choice.name] = formula.choice.example
        try:
            worked = rounded(formula, given | {key.replace("_", "-"): value for key, value in inputs.items()}, self.facts.handbook.system)
        except OutOfRange as error:
            raise ValueError(f"{name} has no answer here: {error}") from None
        value, unit = units.turned(worked.value, worked.unit, self.facts.handbook.system)
        return f"{float(f'{value:.3g}'):g} {'' if unit == '1' else unit.replace('Δ', '')}".strip()

    def live(self, name: str, **inputs: Any) -> str:
        """Keys that work a formula with the reader's own numbers, beginning at those given, in the default kit's cup."""
        formula = self._formula(name)
        kit = self.facts.kits[self.facts.handbook.default_kit]
        given = {key.replace("_", "-"): value for key, value in inputs.items()}
        given.setdefault("target-time", kit.limit.seconds)
        return f"\n{self.press.live_html(formula, self.facts.handbook.system, given, str(given.pop(formula.choice.name, kit.limit.cup)) if formula.choice else None, self.facts.handbook.coin)}\n"

    def _formula(self, name: str) -> Formula:
        if name not in self.formulas:
            raise ValueError("formula " + nearest(name, self.formulas))
        return self.formulas[name]

    def value(self, key: str) -> str:
        """A fact with its unit, in the region's system where it has one; a limit on its safe side."""
        return self.measure(self.facts.value(key), _SAFE.get(key, ""))

    def says(self, answer: str, **readings: str) -> dict[str, Any]:
        """One answer of the day's chain at a situation: `text` as it is printed, `number` in metric, rounded to its safe side (None: no figure there), `verdict` and `because`."""
        situation = read_situation([(name.replace("_", "-"), value) for name, value in readings.items()], self.day.names())
        shown, system = answer_named(answer), self.facts.handbook.system
        told = ask(self.day, situation, answer, system)
        number = float(f"{shown.metric[1](told['value']):.9g}") if "value" in told and shown.metric else None
        return {"text": text(printed(shown, told, system)), "number": number, "verdict": told["verdict"], "because": told["because"]}

    def rule(self, subject: str, key: str) -> str:
        """One rule in force here as a phrase with its basis and dates; that there is none, where there is none."""
        found = self.facts.rule(None, subject, key)
        return text(f"{found} ({found.dated})" if found else "no rule known here (look it up)")

    def measure(self, measure: Any, side: str = "") -> str:
        """A measure as print: number and unit, converted for US readers where the unit has a usual twin; a limit on its safe `side`, "up" or "down"."""
        if measure.unit == "1/K":  # a share for each degree is said as a percentage
            degree = "°F" if self.facts.handbook.system == "us" else "°C"
            return f"{number(round(100 * measure.value * units.convert(1.0, 'Δ' + degree, 'Δ°C'), 2))} % for each {degree}"
        value, unit = units.turned(measure.value, measure.unit, self.facts.handbook.system)
        return f"{number(value)} {unit.replace('Δ', '')}" if unit == measure.unit else units.said(value, unit, side)

    def as_supplied(self, slug: str) -> str:
        """Which kits spray a coating as it comes from the tin, by one timing and each kit's limit, both as viscosities."""
        tin = self.facts.coatings[slug]
        law = self._formula("cup-viscosity")
        told = []
        for kit in self.facts.kits.values():
            have, most = (float(law.column({"cup": one.cup, "time": one.seconds})) for one in (tin.supplied, kit.limit))
            words = "not known: out of the times its cup can be read at" if have != have or most != most else "sprays as supplied" if have <= most else "too thick as supplied"
            told.append(f"{kit.name}: {words}")
        return f"{tin.supplied.text.replace(tin.supplied.cup, self._cup(tin.supplied.cup))}. {'. '.join(told)}."

    def _cup(self, slug: str) -> str:
        return str(self.facts.cups[slug].label) if slug in self.facts.cups else slug

    def protection(self, *classes: str) -> str:
        """Protective equipment, for all types or for those named."""
        book = self.books[self.facts.handbook.system]
        return f"\n{self.press.html(tables.BUILDERS['protection'](book, classes or None))}\n"

    def stop(self, key: str) -> str:
        """A hard stop sign."""
        if key not in self.facts.stops:
            raise ValueError("hard stop " + nearest(key, self.facts.stops))
        return f"\n{self.press.stop_html(self.facts.stops[key])}\n"

    def signs(self, *codes: str) -> str:
        """Safety signs by their code in the standards."""
        for code in codes:
            if code not in render.SIGNS:
                raise ValueError("sign " + nearest(code, render.SIGNS))
        return f"\n{self.press.signs_html(codes)}\n"

    def plan(self, key: str) -> str:
        """The drawing of one surface's strokes."""
        if key not in self.facts.techniques:
            raise ValueError("technique " + nearest(key, self.facts.techniques))
        technique = self.facts.techniques[key]
        label = technique.us_label if self.facts.handbook.words == "us" else technique.label
        return f'\n<figure class="alm-figure alm-plan">{self.press.plan_svg(key, label, technique.plan)}</figure>\n'

    def drawing(self, key: str) -> str:
        """One fault from the front and cut through, or nothing where it names no drawing."""
        fault = self.facts.faults[key]
        if fault.drawing is None:
            return ""
        shown = self.press.fault_svg(key, fault.name, self.facts.fault_drawings[fault.drawing])
        return f'\n<figure class="alm-figure alm-fault-figure" data-search-exclude>{shown}<figcaption>Thickness is drawn far larger than life.</figcaption></figure>\n'

    def sight(self, key: str, small: bool = False) -> str:
        """The picture of one fault, lit from the side as on a job; nothing where it names no drawing. `small`: to be tapped in the finder."""
        fault = self.facts.faults[key]
        if fault.drawing is None:
            return ""
        drawing = self.facts.fault_drawings[fault.drawing]
        front = panels(drawing.way)[0]
        shown = f'<img src="../assets/faults/{key}.png" alt="{text(drawing.front.seen)}" width="{front.width * 3:g}" height="{front.height * 3:g}" loading="lazy">'
        if small:
            return shown
        return f'\n<figure class="alm-figure alm-sight alm-screen" data-search-exclude>{shown}<figcaption>Lit from the side, as with a lamp held flat to the work.</figcaption></figure>\n'

    def quiz(self) -> str:
        """The first exercise sheets, to try on the page."""
        return f"\n{quiz_html(self.facts, self.formulas, self.once)}\n"

    def lesson(self, *scripts: str) -> str:
        """Whose record the drills of this page go into, and scripts that use it. For the screen."""
        return f"\n{lesson_html(scripts)}\n"

    def drill_try(self, key: str) -> str:
        """Where one drill's readings go in, and its verdict comes out. For the screen."""
        return f"\n{try_html(self.facts, key)}\n"

    def drill_mark(self, drill: Any) -> dict[str, str]:
        """One drill's mark in words, the hands that it tells apart, and how well it does."""
        found, system = tables.train.chosen(self.facts, drill), self.facts.handbook.system
        good, bad = tables.train.power_words(found) if found else ("", "")
        return {"words": tables.train.mark_words(drill, found, system), "hands": tables.train.hands_words(drill, system), "good": good, "bad": bad}

    def form(self, kind: str) -> str:
        """A record to fill in, by its kind."""
        if kind not in FORMS:
            raise ValueError("form " + nearest(kind, FORMS))
        return f"\n{self.press.form_html(FORMS[kind](self.facts), self.facts.handbook.system, self.facts.handbook.coin)}\n"

    def origin(self, origin: Any) -> Markup:
        """The mark that says where a value comes from."""
        return Markup(self.press.origin_html(origin, self.facts.sources.get(origin.source)))
