"""Training: the drills of the week with their marks, and how well each mark tells a good hand from a bad one."""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise
from typing import Any

from generators import units
from generators.formula.guards import brief
from generators.studies import boards, marks, overlap
from generators.studies.marks import Chosen
from generators.table import TextTable
from generators.tables.book import Book, Builder

TWIN = {"mm": ("in", 2), "mL": ("fl oz", 1)}
WORDS = {"none": "no trigger", "water": "coloured water", "paint": "water paint"}
_BOARDS = ("weight", "one-coat", "two-coats")


def hand_share(share: float, up: bool) -> int:
    """A chance as so many of a hundred, to its modest side."""
    return math.ceil(100 * share - 1e-9) if up else math.floor(100 * share + 1e-9)


@lru_cache(maxsize=512)
def _chosen(kind: str, figures: tuple[float | None, ...], tries: int | None, every: bool, rig: tuple[str, float, float]) -> Chosen | None:
    good, bad, scatter = figures
    fan, width, tooth = rig
    if kind == "paper":
        return None
    if kind == "count":
        return marks.count(good or 0.0, bad or 0.0, tries, every)
    if kind == "spread":
        return marks.spread(good or 0.0, bad or 0.0, tries)
    if kind == "most":
        return marks.most(good or 0.0, bad or 0.0, scatter or 0.0, tries)
    if kind == "within":
        return marks.within(bad or 0.0, scatter or 0.0, tries)
    return marks.weight(bad or 0.0, fan, width, tooth) if kind == "weight" else marks.scattered(1 if kind == "one-coat" else 2, fan, width, tooth)


def chosen(facts: Any, drill: Any, kit: str | None = None) -> Chosen | None:
    """A drill's mark with its readings, limit and chances; None where somebody else measures. Boards: with the kit's fan and the crew's comb."""
    mark, rig = drill.mark, facts.kits[kit or facts.handbook.default_kit]
    rigged = ("", 0.0, 0.0)
    if mark.kind in _BOARDS:
        width = 2 * (rig.near.to("mm") + rig.far.to("mm")) / 2 * math.tan(math.radians(rig.fan_angle.to("deg") / 2))
        rigged = (rig.pattern, round(width, 3), _tooth(facts, mark.film.to("µm")))
    shares = mark.kind == "count"
    good, bad = ((one.to("%") / 100 if shares else one.to(mark.unit)) if one else None for one in (mark.good, mark.bad))
    scatter = None if mark.scatter is None else mark.scatter.to("%") / 100 if mark.kind == "most" else mark.scatter.to(mark.unit)
    return _chosen(mark.kind, (good, bad, scatter), mark.tries, mark.every, rigged)


def how(drill: Any) -> str:
    """How a drill's readings are judged (`studies.marks.judged`); empty where somebody else measures."""
    kind, share = drill.mark.kind, drill.mark.unit == "%"
    return {"count": "count", "most": "most", "weight": "off-share", "one-coat": "combed", "two-coats": "combed", "paper": "",
            "spread": "spread-share" if share else "spread", "within": "off-share" if share else "off"}[kind]


def wanted(drill: Any, found: Chosen | None) -> int:
    """How many figures a trainee's readings are."""
    return 0 if found is None else 1 if drill.mark.kind == "count" else found.readings * (boards.READINGS if how(drill) == "combed" else 1)


def teeth(facts: Any) -> list[float]:
    """Teeth of the crew's comb in µm."""
    return [tooth.to("µm") for tooth in facts.combs[0].teeth] if facts.combs else []


def _tooth(facts: Any, film: float) -> float:
    """The gap between the two teeth round a film, as a share of it; a quarter where no comb is known."""
    known = teeth(facts)
    gaps = [high - low for low, high in pairwise(known) if low <= film < high]
    return round(gaps[0] / film, 4) if gaps else 0.25


def limit_in(value: float, unit: str, system: str) -> tuple[float, str]:
    """A pass mark's limit in the reader's own unit, on digits that a rule or a cup shows, never looser: what is printed is what the phone judges by."""
    if system != "us" or unit not in TWIN:
        return value, unit
    other, places = TWIN[unit]
    return math.floor(float(units.convert(value, unit, other)) * 10**places + 1e-9) / 10**places, other


def shown(value: float, unit: str, system: str) -> str:
    """A figure of a hand with its unit, in the reader's system."""
    if system != "us" or unit not in TWIN:
        return f"{brief(value)} {unit}"
    other, places = TWIN[unit]
    return f"{round(float(units.convert(value, unit, other)), places):g} {other}"


def single(many: str) -> str:
    """One of a plural of the list: board of boards, mix of mixes."""
    return many.removesuffix("es") if many.endswith("xes") else many.removesuffix("s")


def mark_words(drill: Any, found: Chosen | None, system: str) -> str:
    """The pass mark in words: how many, and the limit."""
    mark = drill.mark
    if found is None:
        return "passed, and the paper kept"
    number, of, unit = found.readings, mark.of, mark.unit
    if mark.kind == "count":
        return f"all {number} {of} right" if found.limit == number else f"{found.limit:g} of {number} {of} right"
    one = single(of) if number == 1 else of
    limit = "{} {}".format(*(brief(part) if isinstance(part, float) else part for part in limit_in(found.limit, unit, system)))
    if mark.kind == "spread":
        return f"{number} {of}: scatter {limit} or less" + (" of the mean" if unit == "%" else "")
    if mark.kind == "most":
        return f"{number} {one}: {limit} or less" + (" on the mean" if number > 1 else "")
    if mark.kind == "within":
        return f"{number} {one}: {'the mean within' if number > 1 else 'within'} {limit} of the aim"
    if mark.kind == "weight":
        return f"{number} {one}: {'the mean within' if number > 1 else 'within'} {found.limit:g} % of the {'ounces' if system == 'us' else 'grams'} asked"
    return f"{number} {one}, {boards.READINGS} readings on each: scatter {found.limit:g} % of the mean or less"


def power_words(found: Chosen | None) -> tuple[str, str]:
    """How many of a hundred good hands pass, and how many bad ones."""
    if found is None:
        return "the tester says", "the tester says"
    return f"{hand_share(found.good, False)} of 100", f"{hand_share(found.bad, True)} of 100"


def hands_words(drill: Any, system: str) -> str:
    """Which two hands a mark tells apart, in words."""
    mark = drill.mark
    if mark.kind == "paper":
        return ""
    if mark.kind == "count":
        return f"Good hand: right {mark.good.to('%'):g} times of 100. Bad hand: {mark.bad.to('%'):g}."
    if mark.kind == "spread":
        return f"Good hand: scatter {shown(mark.good.value, mark.unit, system)}. Bad hand: {shown(mark.bad.value, mark.unit, system)}."
    if mark.kind == "most":
        return f"Good hand: {shown(mark.good.value, mark.unit, system)} on the mean. Bad hand: {shown(mark.bad.value, mark.unit, system)}. Both scatter by {mark.scatter.to('%'):g} %."
    if mark.kind == "within":
        return f"Good hand: on the aim. Bad hand: {shown(mark.bad.value, mark.unit, system)} off it. Each single one scatters by {shown(mark.scatter.value, mark.unit, system)}."
    trained, new = (f"places within {shown(place, 'mm', system)}, speed within {100 * speed:g} %" for place, speed in (overlap.TRAINED, overlap.NEW))
    if mark.kind == "weight":
        return f"Good hand: {trained}. Bad hand: just as steady, and {mark.bad.to('%'):g} % too heavy, or too light."
    return f"Good hand: {trained}. Bad hand: {new}."


def drills_table(book: Book, day: int | None = None) -> TextTable:
    """The drills of a day, or of the week: what to do, the mark, the chances, minutes and who judges."""
    rows = []
    for drill in book.facts.drills.values():
        if day in (None, drill.day):
            found = chosen(book.facts, drill)
            good, bad = power_words(found)
            rows.append((drill.title, mark_words(drill, found, book.system), good, bad, f"{drill.minutes}", drill.judge))
    return TextTable(
        f"drills-day-{day}" if day else "drills", f"Drills of day {day}" if day else "The drills of the week", "Good and bad: how many such hands of a hundred pass.",
        ("Drill", "Pass", "Good", "Bad", "Minutes", "Who judges"), tuple(rows))


def pass_marks(book: Book, kit: str) -> TextTable:
    """What a trainee's boards must reach with this kit's fan, and how well each mark tells a trained hand from a new one."""
    rows = []
    for drill in book.facts.drills.values():
        if drill.mark.kind in _BOARDS:
            found = chosen(book.facts, drill, kit)
            rows.append((drill.title, mark_words(drill, found, book.system), *power_words(found)))
    return TextTable(
        "pass-marks", f"Pass marks on a board: {book.facts.kits[kit].name}", "Good and bad: how many such hands of a hundred pass.", ("Board", "Pass", "Good", "Bad"), tuple(rows),
        notes=("Strokes laid in the computer with this kit's fan, read with this crew's comb.",))


BUILDERS = {"drills": Builder(drills_table), "pass-marks": Builder(pass_marks, per="kit")}
