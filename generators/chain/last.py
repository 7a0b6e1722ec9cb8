"""What the last pots of a paint say against its handbook, as a chain of its own: walked here and on the phone, over pots out of the log."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from generators.chain import tell
from generators.chain.described import described
from generators.chain.links import Chain, Each, Fold, Link, Lookup, Pick, Step
from generators.chain.walk import Walked, units_of, walk
from generators.formula import Formula
from generators.learn.fit import LEAST, STUDENT
from generators.verdict import Held
from generators.verdict.held import brought

LAST = 6  # pots that are looked at, the newest
# What a walk is brought, with its unit; "" is a word.
FIELDS = {"steepness": "1", "sheet-first": "s", "sheet-first-cup": "", "sheet-after": "s", "sheet-after-cup": "", "sheet-dose": "%", "band": ""}
POT = {"first": "s", "after": "s", "dose": "%", "cup": ""}
STUDIES = {"student": {"unit": "1", "axis_unit": "1", "axis": sorted(STUDENT), "rows": {"90": [STUDENT[freedom] for freedom in sorted(STUDENT)]}}}


def _timed(first: str, first_cup: str, after: str, after_cup: str, dose: str, name: str) -> tuple[Step, ...]:
    return (Step(f"{name}-before", "cup-viscosity", {"time": first, "cup": first_cup}), Step(f"{name}-then", "cup-viscosity", {"time": after, "cup": after_cup}),
            Step(name, "steepness-seen", {"first-viscosity": f"{name}-before", "viscosity": f"{name}-then", "thinner": dose}))


LINKS: tuple[Link, ...] = (
    *_timed("sheet-first", "sheet-first-cup", "sheet-after", "sheet-after-cup", "sheet-dose", "steepness-sheet"),
    Pick("told", "first", ("steepness", "steepness-sheet")),
    Each("pots", (*_timed("pots.first", "pots.cup", "pots.after", "pots.cup", "pots.dose", "seen"),
                  Step("apart", "log-apart", {"told": "told", "seen": "seen"}), Step("square", "log-squared", {"apart": "apart"}))),
    Fold("count", "pots", "apart", "count"), Fold("sum", "pots", "apart", "sum"), Fold("squares", "pots", "square", "sum"),
    Step("freedom", "freedom-of", {"count": "count"}), Lookup("student", "student", {"word": "band", "at": "freedom"}, "most"),
    Step("middle", "middle-of", {"sum": "sum", "count": "count"}),
    Step("half", "half-of-few", {"sum": "sum", "squares": "squares", "count": "count", "student": "student"}),
    *(Step(name, "more-than-told", {"middle": "middle", "half": "half", "end": end}) for name, end in (("more-low", -1.0), ("more", 0.0), ("more-high", 1.0))),
)


@cache
def chain() -> Chain:
    """The chain, checked."""
    return Chain(LINKS, {}, (), frozenset(FIELDS), {"pots": tuple(POT)})


def _units(formulas: Mapping[str, Formula]) -> dict[str, str]:
    given = {**FIELDS, **{f"pots.{name}": unit for name, unit in POT.items()}}
    return units_of(chain(), formulas, STUDIES, {name: unit for name, unit in given.items() if unit})


def last_described(formulas: Mapping[str, Formula]) -> dict[str, Any]:
    """The chain as plain data, for the phone, with what it is brought and what the student's table says."""
    return {**described(chain(), formulas, STUDIES, _units(formulas)), "studies": STUDIES, "fields": FIELDS, "pot": POT, "last": LAST}


def fields_of(facts: Any, coating: str) -> dict[str, Any]:
    """What a handbook says of a paint's thinning: its measured steepness, else its sheet's two timings."""
    tin = facts.coatings[coating]
    timed = tell.sheet_timings(facts, coating)
    found: dict[str, Any] = {"band": "90", "steepness": tin.steepness.likely if tin.steepness else None}
    if len(timed) > 1:
        (_, first, cup), (dose, after, then) = timed
        found |= {"sheet-first": first, "sheet-first-cup": cup, "sheet-after": after, "sheet-after-cup": then, "sheet-dose": dose}
    return found


def pots_of(rows: Any) -> list[dict[str, Any]]:
    """Pots out of the lines of a log (`learn/series.py`) of one paint, oldest first: by when a line was last typed into, then by the names of record and line."""
    return [{"first": one["first-seconds"], "after": one["dose-seconds"], "dose": one["dose"], "cup": one["cup"]} for _, one in rows.sort_values(["when", "record", "row"]).iterrows()]


def work(formulas: Mapping[str, Formula], fields: Mapping[str, Any], pots: Sequence[Mapping[str, Any]]) -> Walked:
    """The last pots of one paint, oldest first. A pot whose timings say nothing (no cup, no dose, no faster after it) does not count."""
    held = {name: brought(fields.get(name), name, unit) for name, unit in FIELDS.items()}
    parts = [{name: brought(pot.get(name), name, unit) for name, unit in POT.items()} for pot in pots]

    def walked(some: list[dict[str, Held]]) -> Walked:
        return walk(chain(), formulas, held, {"pots": some}, _units(formulas), STUDIES)

    seen = walked(parts).parts["pots"]
    return walked([part for part, one in zip(parts, seen, strict=True) if one["seen"].known][-LAST:])


def said(name: str, walked: Walked) -> str:
    """The line, as the phone says it too; empty where no pot was timed."""
    count = int(walked.held["count"].likely)
    if not count:
        return ""
    if not walked.held["told"].known:
        return f"The handbook has no timing of {name} to hold your pots against."
    low, likely, high = (float(walked.held[end].likely) for end in ("more-low", "more", "more-high"))
    if count < LEAST:
        return f"{count} of your pots of {name} {'was' if count == 1 else 'were'} timed before and after thinner: three are needed to say how it thins."
    if math.isnan(likely):
        return f"Your last {count} pots of {name} say nothing yet: {walked.held['half'].why or walked.held['more'].why}."
    ends = f"nine chances in ten: {_share(low)} to {_share(high)}" if low * high <= 0 else f"nine chances in ten: {_whole(min(low, high, key=abs))} to {_share(max(low, high, key=abs))}"
    if low <= 0 <= high:
        return f"Your last {count} pots of {name} took as much thinner as the handbook says ({ends})."
    return f"Your last {count} pots of {name} took {_share(likely)} thinner than the handbook says ({ends})."


def _whole(value: float) -> int:
    return math.floor(abs(value) + 0.5)


def _share(value: float) -> str:
    return f"{_whole(value)} % {'less' if value < 0 else 'more'}"
