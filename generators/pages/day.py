"""The day's chain as scripts that a page loads: the chain, its formulas, the facts of every day, and a small file for each kit and paint."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from generators.chain import last
from generators.chain.day import Day
from generators.chain.described import day_described, day_facts, formula_names
from generators.chain.own import own_described
from generators.formula import Formula

FOLDER = "assets/day"
# Families whose vapour burns, so that a phone stays where there is none.
BURNS = ("solvent", "oil", "two-pack")


def _plain(value: Any) -> Any:
    """Whole numbers without their point: the same figure, fewer bytes."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items()}
    return [_plain(one) for one in value] if isinstance(value, (list, tuple)) else value


def _json(value: Any) -> str:
    return json.dumps(_plain(value), ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")


def _short(told: Mapping[str, list[Any]]) -> dict[str, list[Any]]:
    """Facts as [value, basis, source, date], with what is empty at the end left off and equal ends said once."""
    found = {}
    for name, row in told.items():
        value = row[0]
        row = [value[1] if isinstance(value, (list, tuple)) and value[0] == value[1] == value[2] else value, *row[1:]]
        while row[-1] == "":
            row.pop()
        found[name] = row
    return found


def _described(day: Day) -> dict[str, Any]:
    """The chain without what no phone asks for: titles of verdicts, and what is empty."""
    told = day_described(day)
    verdicts = {name: {"go": one["go"], "tests": [{key: value for key, value in test.items() if key != "spare" or value} for test in one["tests"]]} for name, one in told["verdicts"].items()}
    readings = {name: {key: value for key, value in one.items() if value or key in ("low", "high", "options", "unit")} for name, one in told["readings"].items()}
    return {**told, "verdicts": verdicts, "readings": readings}


def chain_scripts(facts: Any, catalogue: Mapping[str, Formula]) -> dict[str, str]:
    """The chain and its formulas as classic scripts by address: what is the same whatever the paints are. They fill `almanacDay`, `almanacDayFormulas` and the like."""
    from generators.formula.javascript import script  # late: see formula/declare.py

    day = Day(facts, catalogue)
    return {
        f"{FOLDER}/chain.js": f"window.almanacDay = {_json(_described(day))};\n",
        f"{FOLDER}/formulas.js": script(catalogue, formula_names(), bare=True).replace("var almanacFormulas", "window.almanacDayFormulas", 1),  # a live answer's own stand beside them
        f"{FOLDER}/own.js": f"window.almanacOwnFields = {_json(own_described(day))};\n",
        f"{FOLDER}/last.js": f"window.almanacLast = {_json(last.last_described(catalogue))};\n"  # fetched by a log that holds a pot
                             + script(catalogue, formula_names(last.chain()), bare=True).replace("var almanacFormulas", "window.almanacLastFormulas", 1),
    }


def fact_scripts(facts: Any, catalogue: Mapping[str, Formula]) -> dict[str, str]:
    """The facts of every day, and a small file for each kit and paint, as classic scripts by address. Together they fill `almanacDayFacts`."""
    day = Day(facts, catalogue)
    told = day_facts(day)
    burns = {slug: told["coatings"][slug]["coating.family"][0] in BURNS for slug in facts.coatings}
    us = facts.handbook.words == "us"
    every = {
        "region": told["region"], "comb": told["comb"], "dips": told["dips"], "system": facts.handbook.system, "us_words": us,
        "limits": _short(told["limits"]), "regions": {name: _short(one) for name, one in told["regions"].items()},
        "shapes": {name: _short(one) for name, one in told["shapes"].items()}, "grounds": {name: _short(one) for name, one in told["grounds"].items()},
        "kits": {}, "coatings": {}, "sheets": {},
        "names": {"kits": {slug: kit.name for slug, kit in facts.kits.items()},
                  "coatings": {slug: [facts.tin_name(slug), burns[slug]] for slug in facts.coatings},
                  "cups": {slug: cup.label for slug, cup in facts.cups.items()}},
        "default_kit": facts.handbook.default_kit,
    }
    scripts = {
        f"{FOLDER}/facts.js": f"window.almanacDayFacts = {_json(every)};\n",
    }
    for slug in facts.kits:
        scripts[f"{FOLDER}/kits/{slug}.js"] = f"window.almanacDayFacts.kits[{_json(slug)}] = {_json(_short(told['kits'][slug]))};\n"
    for slug in facts.coatings:
        scripts[f"{FOLDER}/coatings/{slug}.js"] = (f"window.almanacDayFacts.coatings[{_json(slug)}] = {_json(_short(told['coatings'][slug]))};\n"
                                                   f"window.almanacDayFacts.sheets[{_json(slug)}] = {_json(told['sheets'][slug])};\n")
    return scripts
