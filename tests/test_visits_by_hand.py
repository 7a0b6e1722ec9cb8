"""The days of a job walked a second time, minute by minute and in whole numbers: a crew that works, sits a short wait out, goes home over a long one, and comes on working days alone.

Nothing of `generators` works an expected value. The rules of the calendar are the crew's own (common practice, no source): what is over while the crew can still be there is waited out, a mix grows
old while the gun works and while a full rack flashes off, a gun may be left over a short wait with the same paint in it.
"""

from __future__ import annotations

import math
import random
from collections import Counter

import pytest

from generators.studies.visits import plan, visits

SILENT = math.nan


# A crew by the minute


class Crew:
    """One minute after another."""

    def __init__(self, job):
        self.job, self.day, self.minute, self.came, self.worked, self.waited, self.told = job, 0, 0, 1, 0, 0, []

    def home(self, over=0):
        """Back on the first working morning after today on which `over`, in minutes since the first morning, is past."""
        self.day, self.minute, self.came = self.day + 1, 0, self.came + 1
        while self.day * 24 * 60 < over or (self.job["weekday"] + self.day) % 7 >= self.job["week"]:
            self.day += 1

    def dry(self, what, minutes):
        """A wait, sat out or not."""
        if not minutes:
            return
        self.waited += minutes
        day, begun = self.day, self.minute
        if minutes <= self.job["stay"] and begun + minutes <= self.job["left"]:
            self.minute += minutes
        else:
            self.home(day * 24 * 60 + begun + minutes)
        self.told.append((what, "wait", day, begun, begun + minutes, self.day))

    def work(self, what, kind, minutes, latest):
        """Minute after minute, up to so late in a visit."""
        begun = None
        while minutes:
            if self.minute >= latest:
                self.told += [(what, kind, self.day, begun, self.minute, self.day)] if begun is not None else []
                begun = None
                self.home()
                continue
            begun = self.minute if begun is None else begun
            self.minute, self.worked, minutes = self.minute + 1, self.worked + 1, minutes - 1
        if begun is not None:
            self.told.append((what, kind, self.day, begun, self.minute, self.day))


def up(over, under):
    return -(-over // under)


def coats_in_turn(job):
    """[[(lay, whether its surface is then done)]]: every surface gets its next coat in every round, until it has all."""
    of = {}
    for lay in job["lays"]:
        of.setdefault(lay["surface"], []).extend([lay] * lay["coats"])
    rounds = [[(coats[turn], turn + 1 == len(coats), surface) for surface, coats in of.items() if turn < len(coats)] for turn in range(max(map(len, of.values()), default=0))]
    order = {id(lay): place for place, lay in enumerate(job["lays"])}
    return [sorted(one, key=lambda coat: order[id(coat[0])]) for one in rounds]


def by_minutes(job):
    """(visits, days, minutes of waiting, minutes of work, {paint: cleans}, bars) of a job in whole minutes."""
    crew, waits = Crew(job), [("", 0)]
    rounds, cleans = coats_in_turn(job), Counter({one["key"]: 0 for one in job["paints"]})
    spell, stands = {one["key"]: one["spell"] for one in job["paints"]}, {one["key"]: one["stands"] for one in job["paints"]}

    def wait():
        longest = max(waits, key=lambda one: one[1])
        waits[:] = [("", 0)]
        crew.dry(*longest)

    def stages(when, parts):
        for stage in job["stages"]:
            if stage["when"] == when and stage["per"] != "gun":
                if stage["planned"]:
                    assert stage["planned"] % parts == 0  # whole minutes, or this is no second way
                    wait()
                    crew.work(stage["key"], "work", stage["planned"] // parts, job["left"])
                if stage["planned"] or when == "cure":
                    waits.append((stage["key"], stage["wait"]))

    stages("before", 1)
    last, since = Counter(), None
    for turn, coats in enumerate(rounds):
        if turn:
            stages("between", len(rounds) - 1)
        stages("coat", len(rounds))
        sprayed = Counter()
        for lay, _, _ in coats:
            assert lay["gun"] % lay["coats"] == 0
            sprayed[lay["paint"]] += lay["gun"] // lay["coats"]
        loads = max(1, up(job["pieces"], max(1, job["rack"])))
        mixes = {paint: max(1, up(took + job["flash"] * (loads - 1), spell[paint])) for paint, took in sprayed.items()}
        for paint, took in sprayed.items():
            kept = paint in last and since <= job["holds"] and since + took <= spell[paint]
            cleans[paint] += max(mixes[paint], up(took, job["left"])) - kept
        last = sprayed
        total = sum(sprayed.values())
        assert total % loads == 0
        for load in range(loads):
            if load:
                waits[:] = [("rack", job["flash"])]
            wait()
            crew.work(f"coat {turn + 1}", "coat", total // loads, min(job["left"], job["coat-left"]))
        more = sum(mixes.values()) - len(mixes)
        crew.work("mixed anew once" if more == 1 else f"mixed anew {more} times", "work", more * (job["clean"] + max(stands[paint] for paint in sprayed)), job["left"])
        slow = max([lay for lay, done, _ in coats if not done] or [lay for lay, _, _ in coats], key=lambda lay: lay["dry"])
        waits[:], since = [(f"dry {slow['paint']}", slow["dry"])], slow["dry"]
    stages("cure", 1)
    stages("after", 1)
    return crew.came, crew.day + 1, crew.waited, crew.worked, dict(cleans), crew.told


def in_hours(job):
    """The same job as the chain gives it: hours, but minutes for what one mix may be in the gun."""
    given = {name: job[name] / 60 for name in ("left", "coat-left", "stay", "flash", "holds", "clean")}
    given |= {name: job[name] for name in ("week", "weekday", "rack", "pieces")}
    given["stages"] = [{"key": one["key"], "when": one["when"], "per": one["per"], "planned": one["planned"] / 60, "wait-now": one["wait"] / 60} for one in job["stages"]]
    given["lays"] = [{**one, "gun": one["gun"] / 60, "dry": one["dry"] / 60} for one in job["lays"]]
    given["paints"] = [{"key": one["key"], "spell": one["spell"], "stands": one["stands"] / 60} for one in job["paints"]]
    return given


def agrees(job):
    came, days, waited, worked, cleans, told = by_minutes(job)
    found = plan(in_hours(job))
    assert (found.visits, found.days, found.cleans) == (came, days, cleans), job
    assert (found.waiting, found.on_site) == (pytest.approx(waited / 60), pytest.approx(worked / 60)), job
    bars = [(bar.what, bar.kind, bar.day, bar.start * 60, bar.end * 60, bar.until_day) for bar in found.bars]
    assert [bar[:3] + bar[5:] for bar in bars] == [bar[:3] + bar[5:] for bar in told], job
    assert [one for bar in bars for one in bar[3:5]] == pytest.approx([one for bar in told for one in bar[3:5]], abs=1e-6), job
    return found


JOB = {
    "left": 360, "coat-left": 300, "stay": 90, "week": 5, "weekday": 0, "flash": 30, "rack": 16, "pieces": 4, "holds": 60, "clean": 20,
    "stages": [{"key": "sand", "when": "before", "per": "prepared", "planned": 90, "wait": 0}, {"key": "gun", "when": "coat", "per": "gun", "planned": 40, "wait": 0},
               {"key": "denib", "when": "between", "per": "between", "planned": 30, "wait": 0}, {"key": "walk", "when": "after", "per": "once", "planned": 30, "wait": 0}],
    "lays": [{"key": "l1", "surface": "doors", "paint": "p", "coats": 2, "gun": 60, "dry": 240}],
    "paints": [{"key": "p", "spell": 120, "stands": 0}],
}


def job(**changes):
    return {**JOB, **{name.replace("_", "-"): value for name, value in changes.items()}}


def lay(key, surface, paint, coats, gun, dry):
    return {"key": key, "surface": surface, "paint": paint, "coats": coats, "gun": gun, "dry": dry}


def stage(key, when, planned, wait=0, per="once"):
    return {"key": key, "when": when, "per": per, "planned": planned, "wait": wait}


def test_two_coats_on_the_fingers():
    """Monday 1.5 h of sanding and half an hour of gun; four hours are too long to sit out: Tuesday flattens and sprays; Wednesday walks round. Cleaned twice."""
    found = agrees(JOB)
    assert (found.visits, found.days, found.waiting, found.on_site, found.cleans) == (3, 3, 8, pytest.approx(1.5 + 0.5 + 0.5 + 0.5 + 0.5), {"p": 2})
    assert [(bar.what, bar.day, bar.until_day) for bar in found.bars] == [("sand", 0, 0), ("coat 1", 0, 0), ("dry p", 0, 1), ("denib", 1, 1), ("coat 2", 1, 1), ("dry p", 1, 2), ("walk", 2, 2)]
    told = visits(in_hours(JOB))
    assert told == {"visits": 3, "days": 3, "waiting": 8, "on-site": pytest.approx(3.5), "paints": [{"cleans": 2}]}


def made_up(dice):
    """A job of whole minutes in steps at which much falls on an edge."""
    rounds, lays = 0, []
    paints = [{"key": key, "spell": dice.choice((15, 30, 60, 90, 240)), "stands": dice.choice((0, 10, 30))} for key in "pq"]
    for surface in ("doors", "frames")[: dice.choice((1, 2))]:
        coats = 0
        for key in range(dice.choice((1, 1, 2))):
            count = dice.choice((1, 1, 2, 3))
            coats += count
            lays.append(lay(f"{surface}{key}", surface, dice.choice("pq"), count, count * 6 * dice.choice((0, 5, 10, 15, 50)), dice.choice((0, 30, 60, 90, 240, 1440, 2880))))
        rounds = max(rounds, coats)
    stages = [stage(f"{when}{key}", when, dice.choice((0, 30, 60, 420)) * rounds * max(1, rounds - 1) // (rounds if when not in ("between", "coat") else 1), dice.choice((0, 30, 90, 600, 1440)),
                    dice.choice(("once", "once", "prepared", "gun"))) for when in ("before", "between", "coat", "cure", "after") for key in range(dice.choice((0, 1, 2)))]
    rack = dice.choice((1, 2, 4))
    return {"left": dice.choice((240, 300, 390)), "coat-left": dice.choice((120, 240, 600)), "stay": dice.choice((0, 30, 60, 90)), "week": dice.choice((1, 5, 6, 7)), "weekday": dice.randrange(7),
            "flash": dice.choice((0, 10, 30, 90)), "rack": rack, "pieces": rack * dice.choice((1, 2, 3)) - dice.choice((0, 0, 1)), "holds": dice.choice((0, 30, 60, 90)),
            "clean": dice.choice((0, 5, 20)), "stages": stages, "lays": lays, "paints": paints}


@pytest.mark.parametrize("seed", range(20))
def test_made_up_jobs_minute_by_minute(seed):
    """Visits, days, waits, hours on site, cleans and every bar of the calendar. Would notice: a wait of another act, a share of a stage twice, a rack that flashes off once too often, a morning on a
    day that nobody works, work after the light is gone."""
    dice = random.Random(seed)
    for _ in range(15):
        agrees(made_up(dice))


@pytest.mark.parametrize("changes", [
    {"stay": 240}, {"stay": 239}, {"stay": 240, "left": 390}, {"stay": 240, "left": 420}, {"stay": 240, "left": 419}, {"week": 1}, {"weekday": 4}, {"weekday": 6, "week": 5}, {"weekday": 3, "week": 6},
    {"coat_left": 120}, {"coat_left": 119}, {"coat_left": 100}, {"left": 90}, {"left": 100, "coat_left": 600},
    {"pieces": 16}, {"pieces": 17, "rack": 16, "lays": [lay("l1", "doors", "p", 2, 120, 240)]}, {"pieces": 48}, {"pieces": 0}, {"rack": 0, "pieces": 3}, {"rack": 0.5, "pieces": 11,
        "lays": [lay("l1", "doors", "p", 2, 2 * 11 * 10, 240)], "flash": 10},
    {"holds": 240}, {"holds": 239}, {"holds": 240, "paints": [{"key": "p", "spell": 270, "stands": 0}]}, {"holds": 240, "paints": [{"key": "p", "spell": 269, "stands": 0}]},
    {"holds": 270, "paints": [{"key": "p", "spell": 300, "stands": 0}]},
    {"paints": [{"key": "p", "spell": 30, "stands": 15}]}, {"paints": [{"key": "p", "spell": 29, "stands": 15}]}, {"paints": [{"key": "p", "spell": 15, "stands": 15}]},
    {"paints": [{"key": "p", "spell": 10, "stands": 0}], "clean": 0}, {"lays": []}, {"lays": [lay("l1", "doors", "p", 1, 60, 240)]}, {"lays": [lay("l1", "doors", "p", 2, 0, 240)]},
    {"lays": [lay("l1", "doors", "p", 2, 2000, 240)], "paints": [{"key": "p", "spell": 9000, "stands": 0}]},
    {"lays": [lay("l1", "doors", "p", 2, 720, 240)], "paints": [{"key": "p", "spell": 9000, "stands": 0}]},
    {"lays": [lay("l1", "doors", "p", 2, 722, 240)], "paints": [{"key": "p", "spell": 9000, "stands": 0}]},
    {"stages": [stage("cure", "cure", 0, 1440), stage("walk", "after", 30)]}, {"stages": [stage("cure", "cure", 60, 1440), stage("walk", "after", 30)]},
    {"stages": [stage("cure", "cure", 0, 60), stage("walk", "after", 30)]}, {"stages": [stage("mask", "coat", 20, 30), stage("flat", "between", 10, 60), stage("walk", "after", 30)]},
    {"stages": [stage("fill", "before", 60, 120), stage("sand", "before", 60)]}, {"stages": [stage("fill", "before", 60, 120), stage("none", "before", 0, 5000)]}], ids=str)
def test_each_rule_on_its_edge(changes):
    """One thing of the job of two coats changed, on the edge of a rule and just past it. Would notice: an edge that falls to the other side by a hair of a float."""
    agrees(job(**changes))


def test_what_is_mixed_anew_is_told_in_words():
    """30 minutes of gun from mixes that live 29, 15 or 10: once, once and twice more for each of two coats; each time a clean, and the new mix stands."""
    for spell, words, times in ((29, "mixed anew once", 1), (15, "mixed anew once", 1), (10, "mixed anew 2 times", 2)):
        bars = [bar for bar in agrees(job(paints=[{"key": "p", "spell": spell, "stands": 15}])).bars if "anew" in bar.what]
        assert [bar.what for bar in bars] == [words, words] and all(bar.end - bar.start == pytest.approx(times * 35 / 60) for bar in bars)


def test_two_surfaces_share_their_days():
    """Doors primed and finished twice, frames finished once: three rounds. What a surface that is done needs does not hold the others up; before the last act the slowest of the last round is dry."""
    lays = [lay("l1", "doors", "q", 1, 60, 120), lay("l2", "doors", "p", 2, 120, 90), lay("l3", "frames", "p", 1, 60, 2880)]
    paints = [{"key": "p", "spell": 240, "stands": 0}, {"key": "q", "spell": 240, "stands": 10}]
    found = agrees(job(lays=lays, paints=paints, stages=[stage("walk", "after", 30)]))
    assert [bar.what for bar in found.bars if bar.kind == "wait"] == ["dry q", "dry p", "dry p"] and found.cleans == {"p": 3, "q": 1}
    late = agrees(job(lays=[lays[0], lays[1], {**lays[2], "coats": 3, "gun": 180}], paints=paints, stages=[stage("walk", "after", 30)]))
    assert late.waiting == 3 * 48


NAN_AT = ["left", "coat-left", "stay", "week", "weekday", "flash", "rack", "pieces", "holds", "clean"]


def test_what_is_not_known_gives_no_calendar():
    """One figure left open, nobody who works, no end of coats, mixes, racks or visits (2000 of each are still a job, one more is none). Would notice: a calendar of what is not known."""
    def nothing(given):
        found = plan(given)
        assert found.bars == [] and found.cleans == {} and all(math.isnan(one) for one in (found.visits, found.days, found.waiting, found.on_site)), given
        assert all(math.isnan(one) for one in [visits(given)["visits"], *(paint["cleans"] for paint in visits(given)["paints"])])

    whole = in_hours(JOB)
    for name in NAN_AT:
        nothing({**whole, name: SILENT})
    for name, fields in (("stages", ("planned", "wait-now")), ("lays", ("coats", "gun", "dry")), ("paints", ("spell", "stands"))):
        for field in fields:
            nothing({**whole, name: [*whole[name][:-1], {**whole[name][-1], field: SILENT}]})
    nothing({**whole, "week": 0.0})
    nothing({**whole, "coat-left": 0.0})  # it is dark: no coat is ever laid

    def coats(count):
        return in_hours(job(lays=[lay("l1", "doors", "p", count, 0, 0)], stages=[]))

    assert plan(coats(2000)).visits == 1 and plan(coats(2000)).cleans == {"p": 1}
    nothing(coats(2001))

    def mixed(count):
        return in_hours(job(lays=[lay("l1", "doors", "p", 1, 10, 0)], paints=[{"key": "p", "spell": 10 / count, "stands": 0}], stages=[], clean=0))

    assert plan(mixed(2000)).cleans == {"p": 2000}
    nothing(mixed(2001))

    def racked(loads):
        return in_hours(job(lays=[lay("l1", "doors", "p", 1, 10, 0)], pieces=loads * 16, flash=0, stages=[], paints=[{"key": "p", "spell": 60, "stands": 0}]))

    assert plan(racked(2000)).visits == 1
    nothing(racked(2001))

    def long(hours):
        return in_hours(job(left=60, coat_left=60, week=7, stages=[stage("sand", "before", hours * 60)], lays=[]))

    assert (plan(long(1999)).visits, plan(long(1999)).days) == (1999, 1999)
    nothing(long(2000))
