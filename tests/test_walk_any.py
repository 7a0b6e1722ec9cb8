"""Chains that nobody would declare, walked in Python and as a phone walks them: every kind of link over numbers with two ends, words, what is missing, what has grown old, and what has no answer.

The day's and the job's own chains are held together by tests/test_chain.py and tests/test_job_chain.py; they ask only what they are declared to ask.
"""

from __future__ import annotations

import json
import math
import random
import shutil
import subprocess

import numpy as np
import pytest
from conftest import ROOT

from generators.basis import Basis, Origin
from generators.chain.described import described, formula_names
from generators.chain.links import Case, Chain, Choose, Each, Fold, Lookup, Pick, Search, Step
from generators.chain.walk import units_of, walk
from generators.formula.javascript import script
from generators.formulas import DECLARED
from generators.verdict import Held, Verdict
from generators.verdict import Test as Asked
from generators.verdict.held import gone, number, text

WORDS = ("red", "green", "blue")
UNITS = {"film": "µm", "thick": "mm", "solids": "%", "share": "%", "part": "1", "coat": "µm"}
STUDIES = {"steps": {"unit": "µm", "axis_unit": "%", "axis": [10.0, 20.0, 40.0, 80.0], "rows": {"red": [50.0, 40.0, 45.0, 60.0], "green": [5.0, 6.0, 7.0, 8.0]}},
           "flat": {"unit": "µm", "rows": {"red": 30.0, "blue": 70.0}}}
OLD = frozenset({"share"})


def a_number(rng, low, high):
    """Known exactly, between two ends, missing, without an answer, an end unknown, or grown old."""
    kind = rng.random()
    likely = round(rng.uniform(low, high), 2)
    stale = OLD if rng.random() < 0.12 else frozenset()
    if kind < 0.1:
        return gone(frozenset({rng.choice(("reading", "other"))}))
    if kind < 0.16:
        return gone(frozenset(), rng.choice(("", "out of its range")))
    if kind < 0.5:
        return number(likely, stale=stale)
    spread = rng.uniform(0, 0.3) * likely
    return number(likely, round(likely - spread * rng.random(), 2), round(likely + spread * rng.random(), 2), stale=stale)


def a_word(rng):
    return text(rng.choice(WORDS) if rng.random() < 0.85 else None, frozenset({"word"}) if rng.random() < 0.5 else frozenset(), OLD if rng.random() < 0.1 else frozenset())


class Made:
    """One chain with what it is brought, drawn from a seed."""

    def __init__(self, seed):
        self.rng = rng = random.Random(seed)
        spans = {"film": (5, 400), "thick": (0.01, 0.3), "solids": (3, 99), "share": (0, 140), "part": (0.01, 0.9), "coat": (0.5, 1200)}
        self.numbers = {name: a_number(rng, *span) for name, span in spans.items()}
        self.words = {name: a_word(rng) for name in ("colour", "mood")}
        keys = [f"k{place}" for place in range(rng.randint(0, 3))]
        self.parts = {"pots": [{"key": text(key), "amount": a_number(rng, 20, 90), "of": text(rng.choice(("a", "b")))} for key in keys],
                      "rows": [{"key": text(name), "wide": a_number(rng, 10, 60)} for name in ("a", "b")]}
        self.units = dict(UNITS) | {"pots.amount": "%", "amount": "%", "rows.wide": "%", "wide": "%"}
        self.films, self.shares = ["film", "thick", "coat"], ["solids", "share", "part"]
        links = [self.link(place) for place in range(rng.randint(4, 9))]
        wet = Step("wet", "wet-film", {"dry-film": rng.choice(self.films), "volume-solids": "pots.amount", "thinner": rng.choice(self.shares)})
        links += [Each("pots", (wet, Pick("worse", "least", ("wet", "coat"))), {"rows": "of"} if rng.random() < 0.5 else {}),
                  Each("rows", (Fold("mine", "pots", "amount", rng.choice(("sum", "count", "least")), by="of"),))]
        links += [Fold(f"fold{place}", "pots", "wet", how) for place, how in enumerate(rng.sample(("sum", "least", "most", "count", "first", "last"), 3))]
        if rng.random() < 0.6:
            links.append(Search("sought", "the nearer", {"one": rng.choice(self.films), "other": "coat"}, {"near": "µm"}, {"pots": ("amount",)}, {"pots": {"share": "1"}}, "nothing near"))
        tests = tuple(self.test(place) for place in range(rng.randint(1, 4)))
        verdict = Verdict("asked", "Asked", "May we?", tests, Origin(Basis.COMMON))
        given = frozenset(self.numbers) | frozenset(self.words)
        self.chain = Chain(tuple(links), {"asked": verdict}, (), given, {"pots": ("key", "amount", "of"), "rows": ("key", "wide")})

    def link(self, place):
        rng, name = self.rng, f"link{place}"
        kind = rng.choice(("step", "step", "by", "pick", "pick", "lookup", "case", "choose"))
        film = kind not in ("choose",)
        inputs = {"dry-film": rng.choice(self.films), "wet-film": rng.choice(self.films), "volume-solids": rng.choice(self.shares), "thinner": rng.choice([*self.shares, 10.0])}
        if kind == "step":
            one = rng.choice(("wet-film", "dry-film"))
            made = Step(name, one, inputs, squares=rng.random() < 0.4)
        elif kind == "by":
            made = Step(name, {"red": "wet-film", "blue": "dry-film"}, inputs, by="colour")
        elif kind == "pick":
            made = Pick(name, rng.choice(("least", "most", "first", "hull", "low", "likely", "high")), tuple(rng.sample(self.films, min(len(self.films), rng.randint(1, 3)))))
        elif kind == "lookup":
            made = Lookup(name, "steps", {"word": "colour", "at": rng.choice(self.shares)}, rng.choice(("least", "most"))) if rng.random() < 0.7 else Lookup(name, "flat", {"word": "mood"})
        elif kind == "case":
            made = Case(name, "mood", {"red": rng.choice(self.films), "green": rng.choice(self.films)})
        else:
            cases = tuple((tuple((word, rng.choice((*WORDS, "red blue"))) for word in rng.sample(list(self.words), rng.randint(1, 2))), rng.choice(("yes", "no"))) for _ in range(rng.randint(1, 3)))
            made = Choose(name, cases, "perhaps")
        if film:
            self.films.append(name)
        else:
            self.words[name] = None
        return made

    def test(self, place):
        rng, outcome = self.rng, self.rng.choice(("care", "stop"))
        doubt = rng.choice(("care", "stop")) if outcome == "stop" else "care"
        when = ((rng.choice(list(self.words)), rng.choice((*WORDS, "yes no"))),) if rng.random() < 0.4 else ()
        sign = rng.choice(("<", ">", "<", ">", "is", "not", "known"))
        if sign in "<>":
            value, limit = rng.sample(self.films, 2)
            if rng.random() < 0.1:
                limit = value  # met to the digit
        else:
            value, limit = (rng.choice(list(self.words)), rng.choice((*WORDS, "red green"))) if sign != "known" else (rng.choice(self.films), "")
        return Asked(f"test{place}", value, sign, limit, outcome, "because", "mend", doubt, when, rng.random() < 0.3)


def plain(held):
    """As JSON."""
    def end(value):
        value = float(np.asarray(value))
        return value if math.isfinite(value) else None

    return {"low": end(held.low), "likely": end(held.likely), "high": end(held.high), "text": held.text, "words": held.is_text, "missing": sorted(held.missing), "stale": sorted(held.stale),
            "why": held.why if isinstance(held.why, str) else str(held.why)}


def nearer(given):
    """What the made-up search finds: the least of all, and each part's share of one."""
    return {"near": float(np.min([given["one"], given["other"], *(part["amount"] for part in given["pots"])])), "pots": [{"share": part["amount"] / given["one"]} for part in given["pots"]]}


def same(mine, phone):
    """Figures to a billionth; of a reason, whether there is one."""
    if isinstance(mine, Held):
        mine = plain(mine) | {"why": bool(mine.reasoned)}
        ends = all((mine[end] is None) == (phone[end] is None) and (mine[end] is None or math.isclose(mine[end], phone[end], rel_tol=1e-9, abs_tol=1e-12)) for end in ("low", "likely", "high"))
        return ends and all(mine[name] == phone[name] for name in ("text", "missing", "stale", "why"))
    return bool(mine == phone)


@pytest.mark.parametrize("count", [400, pytest.param(6000, marks=pytest.mark.sweep)])
def test_any_chain_is_walked_alike(count, tmp_path):
    """Would notice: an end forgotten, least for most, a word that two cases say, a fold of nobody's parts, a limit that is met called passed, an old figure that counts as fresh."""
    if not shutil.which("node"):
        pytest.skip("NOT CHECKED: no node on this machine, the phone's walk was not held against Python's")
    made = [Made(seed) for seed in range(count)]
    cases = []
    for one in made:
        named = units_of(one.chain, DECLARED, STUDIES, one.units)
        held = {**one.numbers, **{name: word for name, word in one.words.items() if word is not None}}
        cases.append({"chain": described(one.chain, DECLARED, STUDIES, named), "held": {name: plain(given) for name, given in held.items()},
                      "parts": {part: [{name: plain(given) for name, given in each.items()} for each in some] for part, some in one.parts.items()}, "studies": STUDIES})
        one.walked = walk(one.chain, DECLARED, held, one.parts, named, STUDIES, searches={"the nearer": nearer})
    names = list(dict.fromkeys(name for one in made for name in formula_names(one.chain)))
    (tmp_path / "cases.json").write_text(json.dumps({"cases": cases, "formulas": script(DECLARED, names)}), encoding="utf-8")
    done = subprocess.run(["node", str(ROOT / "tests/walk_any.js"), str(ROOT / "generators/site/theme/assets"), str(tmp_path / "cases.json")], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    told = []
    for seed, (one, phone) in enumerate(zip(made, json.loads(done.stdout), strict=True)):
        for name, held in one.walked.held.items():
            if not same(held, phone["held"][name]):
                told.append(f"{seed} {name}: {plain(held)} on the phone {phone['held'][name]}")
        for part, some in one.walked.parts.items():
            for place, each in enumerate(some):
                there = phone["parts"][part][place]
                told += [f"{seed} {part} {place} {name}: {plain(held)} on the phone {there[name]}" for name, held in each.items() if not same(held, there[name])]
        asked = one.walked.verdicts["asked"]
        mine = [asked.outcome(), [[spoken.test.name, sorted(spoken.missing), sorted(spoken.stale)] for _, spoken in asked.speaking()]]
        if mine != phone["verdicts"]["asked"]:
            told.append(f"{seed} verdict: {mine} on the phone {phone['verdicts']['asked']}")
    assert not told, f"{len(told)} differ:\n" + "\n".join(told[:12])
    outcomes = {one.walked.verdicts["asked"].outcome() for one in made}
    assert outcomes == {"go", "care", "unknown", "stop"}
