"""The one reader of typed values: walks grammar.json as typed.js does. No rule about figures or spellings stands here."""

from __future__ import annotations

import difflib
import json
import math
import re
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Literal

from generators import units
from generators.units import UnitError


@dataclass(frozen=True)
class Typed:
    """What a text says, in `unit`. One figure has low = likely = high; an open end is infinite, and likely is then the figure given.

    `bare`: no unit was written. `given`: one figure, a range, a figure with ±, or a bound such as < 50.
    """

    text: str
    low: float
    likely: float
    high: float
    unit: str
    bare: bool = False
    given: Literal["figure", "range", "spread", "bound"] = "figure"

    @property
    def single(self) -> bool:
        """True where one figure was given, with no range and no bound."""
        return self.low == self.high

    @property
    def said(self) -> str:
        """The figures alone, as the grammar would have them written."""
        if self.single:
            return plain(self.likely)
        ends = [plain(end) for end in (self.low, self.high) if math.isfinite(end)]
        return "–".join(ends) if len(ends) == 2 else ("<" if self.low == -math.inf else ">") + ends[0]

    def to(self, unit: str) -> Typed:
        """The same in another unit of its kind; UnitError where the kinds differ."""
        if unit == self.unit:
            return self
        low, likely, high = (float(units.convert(value, self.unit, unit)) for value in (self.low, self.likely, self.high))
        return replace(self, low=low, likely=likely, high=high, unit=unit)


class TwoReadings(UnitError):
    """One comma before exactly three digits: `readings` are the decimal one and the one in thousands."""

    def __init__(self, text: str, readings: tuple[Typed, Typed]) -> None:
        self.readings = readings
        super().__init__("a figure that can be read in one way", repr(text[:60]), f"write {readings[0].said} or {readings[1].said}: the comma can mean either")


def plain(value: float) -> str:
    """A figure with a point and without powers of ten, short."""
    text = f"{value:.12g}"
    return text if "e" not in text else f"{value:f}".rstrip("0").rstrip(".")


@cache
def grammar() -> dict[str, Any]:
    """The grammar as it lies in the file."""
    found: dict[str, Any] = json.loads((Path(__file__).parent / "grammar.json").read_text(encoding="utf-8"))
    return found


@cache
def spellings() -> tuple[dict[str, list[str]], dict[str, list[str]]]:
    """Spelling → the units it may mean; and the same for spellings in small letters, where case tells nothing apart."""
    exact: dict[str, list[str]] = {}
    folded: dict[str, list[str]] = {}
    for unit, others in grammar()["units"].items():
        for spelling in (unit, *others):
            if unit not in exact.setdefault(spelling, []):
                exact[spelling].append(unit)
            small = folded.setdefault(spelling.lower(), [])
            if len(spelling) > 1 and unit not in grammar()["case_counts"] and unit not in small:
                small.append(unit)
    return exact, folded


@cache
def _shape() -> re.Pattern[str]:
    """Bound, sign, figure, unit; then ± figure unit, or to sign figure unit. Built from the grammar's parts; typed.js builds the same."""
    g = grammar()
    figure = f"((?:{'|'.join(form['pattern'] for form in g['forms'])}){g['after']})"
    unit, bound = f"({g['unit']})", "|".join(re.escape(word) for word in sorted([*g["below"], *g["above"], *g["nearly"]], key=len, reverse=True))
    one = rf"({g['sign']})?\s?{figure}(?:\s*{unit})??"
    return re.compile(rf"^\s*(?:({bound})\s*)?{one}(?:\s*(?:{g['either']})\s*{figure}(?:\s*{unit})??|(?:{g['to']}){one})?\s*$", re.IGNORECASE)


@cache
def _joined() -> re.Pattern[str]:
    g = grammar()
    figure = f"((?:{'|'.join(form['pattern'] for form in g['forms'])}){g['after']})"
    return re.compile(rf"^\s*([0-9]+)\s*({g['unit']})\s*{figure}\s*({g['unit']})\s*$")


class _Two(Exception):
    """A figure that can be read in two ways."""


def _figure(text: str, comma: str | None) -> float:
    for form in grammar()["forms"]:
        if not re.fullmatch(form["pattern"], text):
            continue
        if form.get("is") == "fraction":
            *whole, top, bottom = (int(part) for part in re.split("[ /-]", text))
            if bottom not in grammar()["bottoms"] or top >= bottom:
                raise ValueError
            return sum(whole) + top / bottom
        if form.get("ask"):
            if comma is None:
                raise _Two
            if comma == "thousands" and not re.fullmatch(grammar()["thousands"], text):
                raise ValueError
            return float(text.replace(",", "." if comma == "decimal" else ""))
        return float(text.replace(form.get("drop", "\0"), "").replace(form.get("point", "."), "."))
    raise ValueError


def _meant(spelling: str, wanted: str, text: str) -> str:
    """The unit that a spelling means where one of the wanted kind is asked for."""
    for old, new in grammar()["letters"]:
        spelling = spelling.replace(old, new)
    spelling = " ".join(spelling.split())
    exact, folded = spellings()
    found = exact.get(spelling) or folded.get(spelling.lower()) or []
    if not found:
        if re.search(grammar()["powers"], text, re.IGNORECASE):
            raise UnitError(*_wanted(text, wanted))
        raise UnitError(f"a value in {wanted}" if wanted else "a value with its unit", repr(text[:60]), f"{spelling[:30]!r} is no unit here; " + _near(spelling, wanted))
    if not wanted:
        return spelling if spelling in found else found[0]
    if wanted in found:
        return wanted
    for unit in found:
        if units.same_kind(unit, wanted):
            return unit
    raise UnitError(f"a value in {wanted}, or in a unit like it", repr(text[:60]), f"{spelling[:30]!r} measures something else: {_near(spelling, wanted)}")


def _near(spelling: str, wanted: str) -> str:
    """The two nearest units of the wanted kind."""
    kind = [unit for unit in grammar()["units"] if not wanted or units.same_kind(unit, wanted)]
    names = {one: unit for unit in kind for one in (unit, *grammar()["units"][unit])}
    close = [names[name] for name in difflib.get_close_matches(spelling, names, 6)] + ([wanted] if wanted else []) + kind
    told = [one for one in dict.fromkeys(close) if one not in ("1", "×")][:2]
    return "write it in " + " or ".join(told) if told else "write the figure alone"


def _same(text: str) -> str:
    for old, new in grammar()["same"].items():
        text = text.replace(old, new)
    for old, new in grammar()["parts"].items():
        text = re.sub(rf"([0-9])[ -]?{old}", rf"\g<1> {new}", text).replace(old, new)
    return text


def read(text: str, unit: str = "", comma: str | None = None) -> Typed:
    """What `text` says, in the unit it was written in; a bare figure is in `unit`.

    `comma` is "decimal" or "thousands" where somebody has said what one comma before three digits means.
    TwoReadings where nobody has; UnitError, with what was wanted, what came and how to mend, for all that is no value of the wanted kind.
    """
    try:
        return _read(text, unit, comma)
    except _Two:
        pass
    try:
        decimal, thousands = (_read(text, unit, choice) for choice in ("decimal", "either"))
    except UnitError:
        raise UnitError(*_wanted(text, unit)) from None
    raise TwoReadings(text, (decimal, thousands))


def _wanted(text: str, unit: str) -> tuple[str, str, str]:
    if re.search(grammar()["powers"], text, re.IGNORECASE):
        return ("a figure written out", repr(text[:60]), "write 1000, not a power of ten")
    example = f"18 {unit or 'mm'}".replace("Δ", "").removesuffix(" 1").replace(" money", "")
    return (f"a figure such as {example}" if unit else f"a figure with its unit, such as {example}", repr(text[:60]), "write one figure, with a point, and its unit")


@lru_cache(maxsize=16384)  # a handbook says "0.5 h" a hundred times over, and `serve` reads it all again after each change
def _read(text: str, unit: str, comma: str | None) -> Typed:
    refused = UnitError(*_wanted(text, unit))
    if len(text) > grammar()["longest"]:
        raise refused
    same = _same(text)
    match = _shape().match(same)
    try:
        if not match:
            return _read_joined(same, text, unit, comma)
        bound, sign, first, spelling, error, error_spelling, sign2, second, spelling2 = match.groups()
        value = _figure(first, comma) * (-1 if sign and sign in grammar()["minus"] else 1)
        if second is not None:
            other = _figure(second, comma) * (-1 if sign2 and sign2 in grammar()["minus"] else 1)
        spread = _figure(error, comma) if error is not None else 0.0
    except ValueError:
        raise refused from None
    about = bool(bound) and bound.lower() in grammar()["nearly"]
    if bound and (error is not None or (second is not None and not about)):
        raise refused
    last = spelling2 or error_spelling
    if second is not None and spelling and not spelling2:
        raise refused
    if not (spelling or last or unit):
        raise UnitError(*_wanted(text, unit)[:2], "add the unit")
    if error is not None and spelling and error_spelling == "%" and not units.same_kind(_meant(spelling, unit, text), "%"):
        found = _meant(spelling, unit, text)
        spread = abs(value) * spread / 100
    elif spelling or last:
        found = _meant(spelling or last, unit, text)
        if error is not None and spelling and error_spelling:
            step = "Δ" + found if units.is_point(found) else found
            spread = float(units.convert(spread, _meant(error_spelling, step, text), step))
    else:
        found = unit
    bare = not (spelling or last)
    if about and second is None:
        spread = abs(value) * grammar()["nearly_spread"] / 100
        return Typed(text, value - spread, value, value + spread, found, bare, "spread")
    if bound and not about:
        below = bound.lower() in grammar()["below"]
        return Typed(text, -math.inf if below else value, value, value if below else math.inf, found, bare, "bound")
    if error is not None:
        return Typed(text, value - spread, value, value + spread, found, bare, "spread")
    if second is not None:
        if spelling and spelling2:
            into = _meant(spelling2, unit, text)
            value, found = float(units.convert(value, found, into)), into
        if value > other:
            raise UnitError("a range from the lower figure to the higher", repr(text[:60]), "write the lower one first")
        return Typed(text, value, (value + other) / 2, other, found, bare, "range")
    return Typed(text, value, value, value, found, bare)


def _read_joined(same: str, text: str, unit: str, comma: str | None) -> Typed:
    """Two units of one measure, such as 1 h 30 min or 5 ft 6 in: in the smaller one."""
    match = _joined().match(same)
    if match:
        big, small = (_meant(match[place], unit, text) for place in (2, 4))
        if [big, small] in grammar()["joined"]:
            rest, each = _figure(match[3], comma), float(units.convert(1.0, big, small))
            if rest < each:
                value = float(match[1]) * each + rest
                return Typed(text, value, value, value, small)
    raise UnitError(*_wanted(text, unit))
