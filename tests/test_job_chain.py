"""The job's chain: Python and the phone agree; primer and finish as one paint or two; worse is never cheaper or sooner; the kitchen as it is really worked."""

from __future__ import annotations

import copy
import json
import math
import random
import shutil
import subprocess
from functools import cache
from typing import Any

import pytest
from conftest import ROOT, read_in

from generators import formulas
from generators.chain.described import formula_names
from generators.chain.job import WAYS, chain, declared, reasons, work_job
from generators.chain.jobs import lays_of, stage_parts, template_job
from generators.formula.javascript import script


@cache
def stock() -> tuple[Any, Any]:
    facts = read_in()
    return facts, formulas.catalogue(facts)


def about(rng: random.Random, low: float, high: float) -> float:
    return float(f"{rng.uniform(low, high):.3g}")


def random_job(rng: random.Random, facts: Any) -> dict[str, Any]:
    """A job as a crew might write it, now and then with a figure that no formula takes."""

    def some(low: float, high: float) -> float:
        return about(rng, low, high)

    def spread(low: float, high: float) -> Any:
        likely = some(low, high)
        return likely if rng.random() < 0.5 else (likely * some(0.5, 1), likely, likely * some(1, 2))

    def pair() -> dict[str, Any]:
        if rng.random() < 0.6:
            return {"parts": "one-pack", "pot-life": None, "pot-life-at": 23.0, "pot-life-of": 0.1, "induction": 0.0}
        return {"parts": "two-pack", "pot-life": some(0.2, 6), "pot-life-at": rng.choice([20.0, 23.0, 25.0]), "pot-life-of": some(0.05, 1), "induction": rng.choice([0.0, 0.25])}

    paints = [{"key": f"p{place}", **pair(), "dry-film": some(8, 90), "volume-solids": some(15, 70), "thinner": some(0, 30), "recoat": some(0.5, 30), "dries": rng.choice(["water", "other"]),
        "voc": some(0, 700),
               **{f"tin-{letter}{part}": None if letter == "c" and rng.random() < 0.3 else some(5, 200) if part else size for letter, size in zip("abc", rng.sample([0.5, 0.75, 1.0, 2.5, 5.0,
                   10.0], 3), strict=True) for part in ("", "-price")}}
              for place in range(rng.randint(1, 3))]
    surfaces = [{"key": f"s{place}", "face": some(0.1, 40), "count": float(rng.randint(1, 30)), "sides": float(rng.randint(1, 2)), "profile": some(1, 2.9), "drink": some(1, 2.3),
        "spray-lands": some(20, 90),
                 "brush-rate": some(0.5, 15), "roll-rate": some(1, 30), "detail": some(0.8, 3), "condition": rng.choice(["sound", "worn", "poor"]), "loose": rng.choice(["yes",
                     "no"])} for place in range(rng.randint(1, 5))]
    lays = lays_of({one["key"]: [(rng.choice(paints)["key"], float(rng.randint(1, 3))) for _ in range(rng.randint(1, 2))] for one in surfaces})
    fields = {
        "flow": some(40, 350), "pot": some(0.3, 2), "duty": spread(20, 60), "refill": spread(1, 10), "loss": some(0, 0.5), "spare": some(0, 20), "hand-lands": some(85, 99), "edges": some(0, 300),
            "sheets": some(0, 300),
        "air-temperature": some(5, 35), "relative-humidity": some(20, 85), "wear-sound": 1.0, "wear-worn": some(1, 2), "wear-poor": some(2, 4), "crew": float(rng.randint(1, 3)),
            "day-hours": some(6, 10),
        "week": float(rng.randint(5, 7)), "weekday": float(rng.randint(0, 6)), "start": 480.0, "dusk": some(1000, 1300), "dusk-lead": some(0, 3), "stay": some(0.5, 3), "holds": some(0.5, 2),
            "rack": float(rng.randint(4, 40)),
        "flash": some(0.1, 1), "travel-time": spread(0.2, 1.5), "set-up": spread(0.2, 1), "hand-set-up": spread(0.1, 0.5), "clean-down": spread(0.2, 1), "hand-clean-down": spread(0.1, 0.5),
            "hour-rate": some(10, 90),
        "thinner-price": some(0, 30), "sundries": some(0, 200), "markup": some(0, 60), "margin": some(0, 40), "tax": some(0, 25), "minimum": some(0, 400), "deposit": some(0, 50),
            "travel": some(0, 60), "parking": some(0, 20),
        "filters": some(0, 10), "wash": some(0, 5), "waste-price": some(0, 5), "wear": some(0, 4), "together": some(0, 100), "sheet-stretch": 1.0,
            "pot-life-rate": (1.5, 2.0, 2.5), "self-heating": some(0, 8),
            "mix-share": 75.0, "offered": rng.choice([None, some(200, 9000)]),
            "place": rng.choice(["indoors", "outdoors"]),
    }
    if rng.random() < 0.15:
        fields[rng.choice([name for name, value in fields.items() if isinstance(value, float)])] = rng.choice([-1.0, 1e9])
    if rng.random() < 0.1:
        rng.choice(surfaces)[rng.choice(["face", "profile", "spray-lands"])] = rng.choice([0.0, 1e9])
    return {"fields": fields, "paints": paints, "surfaces": surfaces, "lays": lays, "stages": stage_parts(facts, rng.choice(["cabinets", "doors", "fence", "room", "furniture"]))}


def on_the_phone(jobs: list[dict[str, Any]], folder: Any, patience: float = 3600) -> list[dict[str, Any]]:
    """The phone's scripts in Node, over the same jobs."""
    if not shutil.which("node"):
        pytest.skip("NOT CHECKED: no node on this machine, the phone's walk of a job was not held against Python's")
    _, catalogue = stock()
    (folder / "declared.json").write_text(json.dumps({"declared": declared(catalogue), "formulas": script(catalogue, sorted({name for way in WAYS for name in formula_names(chain(way))}))}))
    (folder / "jobs.json").write_text(json.dumps(jobs))
    run = subprocess.run(["node", str(ROOT / "tests" / "walk_job.js"), str(ROOT / "generators/site/theme/assets"), str(folder / "declared.json"), str(folder / "jobs.json")], capture_output=True,
        text=True, check=False, timeout=patience)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def same(mine: Any, other: Any) -> bool:
    if mine.is_text:
        return mine.text == other
    return all((value is None) == (not math.isfinite(end)) and (value is None or abs(value - end) <= 1e-9 * max(1.0, abs(end)))
               for end, value in zip((float(mine.low), float(mine.likely), float(mine.high)), other, strict=True))


@pytest.mark.parametrize("count", [3, pytest.param(40, marks=pytest.mark.sweep), pytest.param(1000, marks=pytest.mark.campaign)])
def test_a_thousand_jobs_are_the_same_on_the_phone(tmp_path, count):
    """Every figure of every part, all three ends, in all three ways; and both refuse the same jobs for the same reasons."""
    facts, catalogue = stock()
    rng = random.Random(20261125)
    jobs = [random_job(rng, facts) for _ in range(count)]
    compared = refused = 0
    for job, ways in zip(jobs, on_the_phone(jobs, tmp_path), strict=True):
        for way, theirs in ways.items():
            mine = work_job(catalogue, job, way)
            assert theirs["reasons"] == reasons(mine)
            refused += bool(theirs["reasons"])
            for ours, other in ((mine.held, theirs["held"]), *((part, theirs["parts"][name][place]) for name, some in mine.parts.items() for place, part in enumerate(some))):
                assert set(ours) == set(other), set(ours) ^ set(other)
                for name, held in ours.items():
                    assert same(held, other[name]), (way, name, held, other[name])
                    compared += 1
    assert compared > 500 * count and refused < 1.5 * count


def likely(walked: Any, name: str) -> float:
    return float(walked.held[name].likely)


@pytest.mark.parametrize("way", WAYS)
def test_primer_and_finish_as_one_paint_or_as_two(way):
    """Three coats of one paint, or one and two of it: the same area, litres, days, waits and price."""
    facts, catalogue = stock()
    kitchen = template_job(facts, catalogue, "kitchen")
    finish = next(one for one in kitchen["paints"] if one["key"] == "finish")
    whole = {**kitchen, "paints": [finish], "lays": lays_of({"s0": [("finish", 3)], "s1": [("finish", 3)]})}
    parted = {**kitchen, "paints": [finish], "lays": lays_of({"s0": [("finish", 1), ("finish", 2)], "s1": [("finish", 1), ("finish", 2)]})}
    one, two = work_job(catalogue, whole, way), work_job(catalogue, parted, way)
    for name in ("area", "litres", "order", "visits", "days", "waiting", "hours", "price", "price-low", "price-high", "each"):
        assert likely(one, name) == pytest.approx(likely(two, name), rel=1e-12), name
    assert likely(one, "area") == pytest.approx(likely(work_job(catalogue, kitchen, way), "area")), "another primer does not change what there is to coat"


@pytest.mark.parametrize("count", [5, pytest.param(40, marks=pytest.mark.sweep), pytest.param(400, marks=pytest.mark.campaign)])
def test_worse_is_never_cheaper_or_sooner(count):
    """More of a surface, one more surface, a worse condition, colder air: never a lower price, fewer hours, an earlier end.

    Colder is asked of air that is no warmer than the sheets of two-packs speak of: heat shortens a pot's life, so that cooler is truly less work there."""
    facts, catalogue = stock()
    rng = random.Random(19)
    compared = 0
    for _ in range(count):
        job = random_job(rng, facts)
        job["fields"]["offered"] = None
        before = work_job(catalogue, job, "spray")
        for what in ("more", "another", "worse", "colder"):
            other = copy.deepcopy(job)
            one = rng.choice(other["surfaces"])
            if what == "more":
                one["count"] += rng.randint(1, 20)
            elif what == "another":
                other["surfaces"].append({**one, "key": "new"})
                other["lays"] += lays_of({"new": [(lay["paint"], lay["coats"]) for lay in other["lays"] if lay["surface"] == one["key"]]})
            elif what == "worse":
                if one["condition"] == "poor":
                    continue
                one["condition"] = "worn" if one["condition"] == "sound" else "poor"
                if other["fields"]["wear-sound"] > other["fields"]["wear-worn"] or other["fields"]["wear-worn"] > other["fields"]["wear-poor"]:
                    continue
            else:
                if any(paint["parts"] == "two-pack" and job["fields"]["air-temperature"] > paint["pot-life-at"] for paint in job["paints"]):
                    continue
                other["fields"]["air-temperature"] -= rng.uniform(0.5, 8)
            after = work_job(catalogue, other, "spray")
            for name in ("price", "hours", "days", "visits", "litres", "order"):
                if math.isfinite(likely(before, name)) and math.isfinite(likely(after, name)):
                    assert likely(after, name) >= likely(before, name) - 1e-9 * max(1.0, likely(before, name)), (what, name)
                    compared += 1
    assert compared > 10 * count


@pytest.mark.parametrize(("part", "name", "value"), [("surfaces", "profile", 9.0), ("surfaces", "face", None), ("paints", "recoat", None), ("fields", "air-temperature", -30.0), ("fields",
    "hour-rate", None), ("paints", "tin-a", None)])
def test_what_is_missing_or_out_of_range_leaves_no_price(part, name, value):
    """Not even the least charge: a job of which a figure is missing has no price at all, and says why."""
    facts, catalogue = stock()
    job = template_job(facts, catalogue, "kitchen")
    (job["fields"] if part == "fields" else job[part][0])[name] = value
    if name == "tin-a":
        job["paints"][0].update(dict.fromkeys(("tin-b", "tin-c")))
    walked = work_job(catalogue, job, "spray")
    assert math.isnan(likely(walked, "price")) and (reasons(walked) or walked.held["price"].missing)


@pytest.mark.parametrize(("name", "value"), [("week", 0.0), ("week", -1.0), ("flash", 1e9), ("rack", 0.0), ("day-hours", 1e9), ("holds", 1e9)])
def test_a_slip_of_the_keys_does_not_hold_the_page(tmp_path, name, value):
    """A week without a working day, a wait of a thousand centuries: both languages come back at once, with the same answer or the same reason."""
    facts, catalogue = stock()
    job = template_job(facts, catalogue, "kitchen")
    job["fields"][name] = value
    theirs = on_the_phone([job], tmp_path, 60)[0]["spray"]  # seconds; a page that is held never comes back
    mine = work_job(catalogue, job, "spray")
    assert theirs["reasons"] == reasons(mine) and same(mine.held["price"], theirs["held"]["price"])
    if name == "week":
        assert any("nobody works" in why for why in reasons(mine)), reasons(mine)
