"""The day's chain as plain data: what the phone walks, with every change of unit already worked."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators import units
from generators.chain.day import Day
from generators.chain.known import PLACES, Told
from generators.chain.links import Case, Chain, Choose, Each, Fold, Link, Lookup, Pick, Search, Step
from generators.chain.today import chain
from generators.formula import Formula
from generators.situation import READINGS


def _source(name: str | float, unit: str, named: Mapping[str, str]) -> list[Any]:
    """[name or number, scale, offset] from its own unit to the wanted one."""
    if not isinstance(name, str):
        return [float(name), 1.0, 0.0]
    own = named.get(name, named.get(name.rpartition(".")[2], unit))
    scale, offset = units.linear(own, unit) if own != unit else (1.0, 0.0)
    return [name, scale, offset]


def _link(link: Link, formulas: Mapping[str, Formula], studies: Mapping[str, Any], named: Mapping[str, str]) -> dict[str, Any]:
    if isinstance(link, Step):
        chosen = {"": link.formula} if isinstance(link.formula, str) else dict(link.formula)
        inputs = {}
        for name in dict.fromkeys(chosen.values()):
            formula = formulas[name]
            inputs[name] = {symbol.name: _source(link.inputs[symbol.name], symbol.unit, named) for symbol in formula.inputs}
        choice = {name: link.inputs[formulas[name].choice.name] for name in inputs if formulas[name].choice}  # type: ignore[union-attr]
        squares = {"squares": True} if link.squares else {}
        return {"is": "step", "name": link.name, "by": link.by, "formula": chosen, "inputs": inputs, "option": choice, **squares}
    if isinstance(link, Pick):
        return {"is": "pick", "name": link.name, "how": link.how, "of": [_source(name, named.get(link.name, "1"), named) if name in named else [name, 1.0, 0.0] for name in link.of]}
    if isinstance(link, Lookup):
        told: dict[str, Any] = {"is": "lookup", "name": link.name, "study": link.study, "side": link.side, "word": link.inputs.get("word", "")}
        if "at" in link.inputs:
            told["at"] = _source(link.inputs["at"], studies[link.study]["axis_unit"], named)
        return told
    if isinstance(link, Each):
        return {"is": "each", "part": link.part, "links": [_link(one, formulas, studies, named) for one in link.links], **({"refers": dict(link.refers)} if link.refers else {})}
    if isinstance(link, Fold):
        return {"is": "fold", "name": link.name, "part": link.part, "of": link.of, "how": link.how, **({"by": link.by} if link.by else {})}
    if isinstance(link, Case):
        return {"is": "case", "name": link.name, "by": link.by, "of": {word: _source(name, named[link.name], named) for word, name in link.of.items()}}
    if isinstance(link, Search):
        return {"is": "search", "name": link.name, "search": link.search, "inputs": dict(link.inputs), "gives": list(link.gives), "lists": {part: list(names) for part, names in link.lists.items()},
                "into": {part: list(names) for part, names in link.into.items()}, **({"why": link.why} if link.why else {})}
    assert isinstance(link, Choose)
    return {"is": "choose", "name": link.name, "cases": [[[list(pair) for pair in case], word] for case, word in link.cases], "otherwise": link.otherwise}


def described(one: Chain, formulas: Mapping[str, Formula], studies: Mapping[str, Any], named: Mapping[str, str]) -> dict[str, Any]:
    """{"links", "verdicts", "answers", "units"} of a chain."""
    verdicts, system = {}, next((formula.system for formula in formulas.values()), "metric")
    for verdict in one.verdicts.values():
        told = verdict.described()
        for test, plain in zip(verdict.tests, told["tests"], strict=True):
            if test.sign in "<>":
                plain["limit"] = _source(test.limit, named[test.value], named)
        verdicts[verdict.name] = told
    answers = []
    for answer in one.answers:
        shown = {system: [pair[0], pair[1].side, pair[1].step, *units.linear(named[answer.shows], pair[0])] for system, pair in (("metric", answer.metric), ("us", answer.us)) if pair}
        answers.append({"name": answer.name, "title": units.one_system(answer.title, system),
                        "shows": answer.shows, "verdicts": list(answer.verdicts), "kind": answer.kind, "gate": answer.gate, "dash": list(answer.dash),
                        "until": list(answer.until), "printed": shown, "rests": sorted(one.wanted(answer.name)[1])})
    return {"links": [_link(link, formulas, studies, named) for link in one.links], "verdicts": verdicts, "answers": answers, "units": dict(named)}


def day_described(day: Day) -> dict[str, Any]:
    """The whole of what a phone needs but for facts: chain, readings, studies, and how units are shown."""
    from generators.chain.answers import US

    readings = {one.name: {"kind": one.kind, "unit": one.unit, "low": one.low, "high": one.high, "error": one.error, "grows_old": one.good_for, "options": list(one.options),
                           "of": one.of, "many": one.many, "ask": one.ask, "belongs": one.belongs, "one_day": one.one_day} for one in READINGS.values()}
    us = {unit: [shown, *units.linear(unit, shown)] for unit, shown in US.items()}
    return {**described(chain(), day.formulas, day.studied, day.units), "readings": readings, "studies": dict(day.studied), "us": us, "places": [list(one) for one in PLACES]}


def formula_names(walked: Chain | None = None) -> list[str]:
    """Formulas that a chain can call: the day's, where none is given."""
    found: list[str] = []

    def one(link: Link) -> None:
        if isinstance(link, Each):
            for inner in link.links:
                one(inner)
        elif isinstance(link, Step):
            found.extend([link.formula] if isinstance(link.formula, str) else link.formula.values())

    for link in (walked or chain()).links:
        one(link)
    return list(dict.fromkeys(found))


def facts_described(told: Mapping[str, Told]) -> dict[str, Any]:
    """Facts by name as [value, basis, source, date]."""
    return {name: one.as_json() for name, one in told.items()}


def day_facts(day: Day) -> dict[str, Any]:
    """Facts of one handbook for the phone: limits and regions, shapes and grounds, and each kit and coating under its own name."""
    from generators.chain import tell

    facts, region = day.facts, day.facts.handbook.region
    return {
        "region": region, "comb": facts.combs[0].comb if facts.combs else None, "dips": [cup.name for cup in facts.cups.values() if cup.dip],
        "limits": facts_described(day.once("limits", "")), "regions": {region: facts_described(day.once("region", region))},
        "shapes": {shape: facts_described(tell.shape_told(facts, shape or None)) for shape in ("", *tell.SHAPES)},
        "grounds": {name: facts_described(tell.ground_told(facts, ground, place)) for name, ground, place in (("outdoors", "wood", "outdoors"), ("indoors", "wood", "room"), ("", "plaster", None))},
        "kits": {slug: facts_described(day.once("kit", slug)) for slug in facts.kits},
        "coatings": {slug: facts_described(day.once("coating", slug, region)) for slug in facts.coatings},
        "sheets": {slug: [list(one) for one in tell.sheet_timings(facts, slug)] for slug in facts.coatings},
    }
