"""The days of a job: what follows what, when the paint lets it go on, and how often the crew comes. `searches.js` is its twin on the phone.

Time runs by the clock. Work is done in visits, each with so many hours left after travel, setting up and cleaning. A wait that is
over while the crew can still be there is waited out; a longer one sends it home, and it comes back on the first working morning on
which the wait is over. Nothing here can come sooner, or with fewer visits, for more work or a longer wait: each act moves both
clocks forward, by more when it is later.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

_HAIR = 1e-9
_MOST = 2000  # visits: beyond that it is no job of this crew


@dataclass(frozen=True)
class Bar:
    """One stretch of the calendar: what, on which day (from 0), from and to in hours of the visit; a wait may end on a later day."""

    what: str
    kind: str  # work, coat, wait
    day: int
    start: float
    end: float
    until_day: int


@dataclass
class Plan:
    """The calendar: its bars, and what is counted out of it. NaN where there is none."""

    bars: list[Bar] = field(default_factory=list)
    visits: float = math.nan
    days: float = math.nan
    waiting: float = math.nan
    on_site: float = math.nan
    cleans: dict[str, float] = field(default_factory=dict)


class _Clock:
    def __init__(self, left: float, stay: float, week: float, weekday: float) -> None:
        self.left, self.stay, self.week, self.weekday = left, stay, week, weekday
        self.day, self.at, self.visits, self.on_site, self.waiting = 0, 0.0, 1, 0.0, 0.0
        self.pending: tuple[float, str] = (0.0, "")
        self.bars: list[Bar] = []

    def morning(self, ready: float) -> None:
        """The first working morning after today on which so many hours since the first are past."""
        self.day = max(self.day + 1, math.ceil((ready - _HAIR) / 24.0))
        while (self.weekday + self.day) % 7 >= self.week:
            self.day += 1
        self.at = 0.0
        self.visits += 1

    def wait(self) -> None:
        """What has to dry before the next act."""
        hours, what = self.pending
        self.pending = (0.0, "")
        if hours <= _HAIR:
            return
        self.waiting += hours
        day, start = self.day, self.at
        if hours <= self.stay + _HAIR and self.at + hours <= self.left + _HAIR:
            self.at += hours
        else:
            self.morning(day * 24.0 + start + hours)
        self.bars.append(Bar(what, "wait", day, start, start + hours, self.day))

    def work(self, what: str, kind: str, hours: float, limit: float) -> None:
        """Work at it until it is done, visit after visit; `limit` is how far into a visit it may go on."""
        while hours > _HAIR and self.visits < _MOST:
            room = limit - self.at
            if room <= _HAIR:
                self.morning(0.0)
                continue
            some = min(hours, room)
            self.bars.append(Bar(what, kind, self.day, self.at, self.at + some, self.day))
            self.at += some
            self.on_site += some
            hours -= some


def plan(given: Mapping[str, Any]) -> Plan:
    """The calendar of one job.

    `given`: left, coat-left, stay, week, weekday, flash, rack, pieces, holds, clean (all as in `chain/job.py`), and the lists
    stages {key, when, per, planned, wait-now}, lays {key, surface, paint, coats, gun, dry}, paints {key, spell, stands}: minutes that
    one mix may be in the gun, and hours that it has to stand first.
    """
    stages, lays = given["stages"], given["lays"]
    figures = [given[name] for name in ("left", "coat-left", "stay", "week", "weekday", "flash", "rack", "pieces", "holds", "clean")]
    figures += [one[name] for one in stages for name in ("planned", "wait-now")] + [one[name] for one in lays for name in ("coats", "gun", "dry")]
    figures += [one[name] for one in given["paints"] for name in ("spell", "stands")]
    if any(math.isnan(figure) for figure in figures) or given["week"] < 1 or sum(lay["coats"] for lay in lays) > _MOST:
        return Plan()  # nobody works, or there is no end of coats
    clock = _Clock(given["left"], given["stay"], given["week"], given["weekday"])
    coat_left = min(given["left"], given["coat-left"])

    def do(when: str, share: float) -> None:
        for one in stages:
            if one["when"] != when or one["per"] == "gun":
                continue
            if one["planned"] > 0:
                clock.wait()
                clock.work(one["key"], "work", one["planned"] * share, clock.left)
            if one["planned"] > 0 or when == "cure":
                clock.pending = max(clock.pending, (one["wait-now"], one["key"]), key=lambda pair: pair[0])

    do("before", 1.0)
    # Which coats go on in which round: every surface begins with its first.
    on: dict[str, int] = {}
    rounds: list[list[tuple[Mapping[str, Any], bool]]] = []
    last = {lay["surface"]: lay["key"] for lay in lays}
    for lay in lays:
        coats = int(lay["coats"])
        for coat in range(coats):
            place = on.get(lay["surface"], 0)
            on[lay["surface"]] = place + 1
            while len(rounds) <= place:
                rounds.append([])
            rounds[place].append((lay, coat + 1 == coats and last[lay["surface"]] == lay["key"]))
    cleans = {one["key"]: 0.0 for one in given["paints"]}
    spells = {one["key"]: one["spell"] / 60.0 for one in given["paints"]}
    stands = {one["key"]: one["stands"] for one in given["paints"]}
    before: set[str] = set()
    waited = 0.0
    for place, coats_on in enumerate(rounds):
        if place:
            do("between", 1.0 / (len(rounds) - 1))
        do("coat", 1.0 / len(rounds))
        hours: dict[str, float] = {}
        for lay, _ in coats_on:
            hours[lay["paint"]] = hours.get(lay["paint"], 0.0) + lay["gun"] / int(lay["coats"])
        total, pieces, rack = sum(hours.values()), given["pieces"], max(1.0, given["rack"])
        loads = math.ceil(pieces / rack - _HAIR) if pieces > rack else 1
        # A mix grows old while the gun works and while a full rack flashes off.
        mixes = {paint: max(1.0, math.ceil((took + given["flash"] * (loads - 1)) / spells[paint] - _HAIR)) for paint, took in hours.items()}
        if sum(mixes.values()) > _MOST or loads > _MOST:
            return Plan()
        for paint, took in hours.items():
            held = paint in before and waited <= given["holds"] + _HAIR and waited + took <= spells[paint] + _HAIR
            cleans[paint] += max(mixes[paint], math.ceil(took / clock.left - _HAIR)) - (1.0 if held else 0.0)
        before = set(hours)
        # Between two mixes the gun is cleaned and the new one stands. The time stands together at the coat's end: put where it falls, more work could end sooner.
        more = sum(count - 1.0 for count in mixes.values())
        anew = more * (given["clean"] + max(stands[paint] for paint in hours))
        for load in range(loads):  # filled evenly: a last load of few pieces would let small pieces that are added end the first sooner
            if clock.visits >= _MOST:
                break
            clock.wait()
            clock.work(f"coat {place + 1}", "coat", total / loads, coat_left)
            if load + 1 < loads:
                clock.pending = (given["flash"], "rack")
        clock.work(f"mixed anew {int(more)} times" if more > 1.0 else "mixed anew once", "work", anew, clock.left)
        dries = [lay for lay, done in coats_on if not done] or [lay for lay, _ in coats_on]
        slowest = max(dries, key=lambda lay: lay["dry"])
        clock.pending = (slowest["dry"], f"dry {slowest['paint']}")
        waited = slowest["dry"]
    if rounds:
        clock.pending = (max(max(lay["dry"] for lay, _ in rounds[-1]), clock.pending[0]), clock.pending[1])
    do("cure", 1.0)
    do("after", 1.0)
    if clock.visits >= _MOST:
        return Plan()
    return Plan(clock.bars, float(clock.visits), clock.day + 1.0, clock.waiting, clock.on_site, cleans)


def visits(given: Mapping[str, Any]) -> dict[str, Any]:
    """The search as a chain asks it."""
    found = plan(given)
    return {"visits": found.visits, "days": found.days, "waiting": found.waiting, "on-site": found.on_site,
            "paints": [{"cleans": found.cleans.get(one["key"], math.nan)} for one in given["paints"]]}
