"""Commands that answer: one formula or verdict, the whole chain at one situation, and what there is to ask."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click

from generators.cli.shared import Asked, Refused, catalogue_of, command, complete_formulas, complete_readings, facts_of, pairs, write_json
from generators.nearest import near


def _is_formula(name: str, inputs: Sequence[str]) -> bool:
    """A few names are both (pot-life is not, next-coat is not): the formula's own inputs decide."""
    from generators.formulas import DECLARED

    if name not in DECLARED:
        return False
    return bool(inputs) and all(text.partition("=")[0] in {symbol.name for symbol in DECLARED[name].inputs} for text in inputs)


@command("work", "one formula or verdict, worked", "almanac work wet-film dry-film=25 volume-solids=40 thinner=10", region=True, json=True)
@click.argument("name", shell_complete=complete_formulas)
@click.argument("inputs", nargs=-1, metavar="[INPUT=VALUE]…")
def work(asked: Asked, name: str, inputs: tuple[str, ...]) -> None:
    """Work one formula or verdict. Exit 2 with the reason where there is no answer."""
    from generators.formula import InputError, OutOfRange
    from generators.formula.guards import number
    from generators.verdicts import DECLARED as declared

    if name in declared and not _is_formula(name, inputs):
        _work_verdict(asked, name, inputs)
        return
    catalogue = catalogue_of(asked)
    if name not in catalogue:
        raise Refused([f"wanted a formula or a verdict; came {name!r}; {near(name, [*catalogue, *declared])}"])
    given = dict(pairs(inputs, "input=value", "time=60s"))
    known = [one.name for one in catalogue[name].inputs] + ([catalogue[name].choice.name] if catalogue[name].choice else [])
    if unknown := [f"{name}: wanted an input of it; came {one!r}; {near(one, known)}" for one in given if one not in known]:
        raise Refused(unknown)
    try:
        worked = catalogue[name].work(given)
    except InputError as error:
        raise Refused([str(error)]) from error
    except OutOfRange as error:
        if asked.json:
            write_json({"formula": name, "value": None, "reason": str(error)})
        raise Refused([f"no answer: {error}"], 2) from error
    if asked.json:
        write_json(worked.as_json())
        return
    print(f"{number(worked.value)} {worked.unit.replace('Δ', '')}".strip())
    for one, value, unit in worked.inputs:
        print(f"  {one}: {number(value) + ' ' + unit if unit else value}")
    print(f"  basis: {worked.basis}; source: {', '.join(worked.sources)}")
    for note in worked.notes:
        print(f"  {note}")


def _situation(day: Any, given: Sequence[tuple[str, str]]) -> Any:
    from generators.situation import SituationError, read

    try:
        return read(given, day.names())
    except SituationError as error:
        raise Refused(error.lines) from error


def _day(asked: Asked) -> Any:
    from generators import formulas as declared
    from generators.chain.day import Day

    facts = facts_of(asked)
    return Day(facts, declared.catalogue(facts))


@command("today", "every answer at one situation", "almanac today kit=my-kit coating=my-trim-paint air-temperature=18C relative-humidity=55", region=True, json=True)
@click.argument("readings", nargs=-1, metavar="[READING=VALUE]…", shell_complete=complete_readings)
@click.option("--why", is_flag=True, help="How each answer was worked: facts with their basis, formulas, tests.")
def today(asked: Asked, readings: tuple[str, ...], why: bool) -> None:
    """Every answer at one situation."""
    from generators.chain import answers

    day = _day(asked)
    situation = _situation(day, pairs(readings, "reading=value", "air-temperature=18C"))
    told = answers.today(day, situation)
    if asked.json:
        if why:
            for name in told["answers"]:
                told["answers"][name]["why"] = answers.why(day, situation, name)
        write_json(told)
        return
    for line in answers.lines(day, told, why, situation):
        print(line)


def _work_verdict(asked: Asked, name: str, inputs: Sequence[str]) -> None:
    from generators.chain import answers
    from generators.situation import READINGS
    from generators.situation.read import value_of
    from generators.units import UnitError

    day = _day(asked)
    typed_pairs = pairs(inputs, "reading=value", "air-temperature=18C")
    numbers = {one: unit for one, unit in answers.quantities(day, name).items() if one not in READINGS}
    given: dict[str, float] = {}
    problems = []
    for one, typed in typed_pairs:
        if one in numbers:
            try:
                given[one] = value_of(typed, numbers[one])
            except (UnitError, ValueError) as error:
                problems.append(f"{one}: {error}")
    if problems:
        raise Refused(problems)
    situation = _situation(day, [pair for pair in typed_pairs if pair[0] not in given])
    told = answers.one_verdict(day, name, situation, given)
    if asked.json:
        write_json(told)
        return
    print(f"{told['verdict']}: {told['because']}" + (f" {told['remedy']}" if "remedy" in told else ""))
    for one, value in told["inputs"].items():
        print(f"  {one}: {value if isinstance(value, str) else answers.figure(value['likely'], value['unit'], day.facts.handbook.system)}")
    print(f"  basis: {told['basis']}; source: {', '.join(told['sources'])}")


@command("verdicts", "the declared verdicts, test by test", "almanac verdicts --json", json=True)
def verdicts(asked: Asked) -> None:
    """List the declared verdicts with every test."""
    from generators.verdicts import DECLARED

    if asked.json:
        write_json([one.described() | {"basis": str(one.origin.basis), "source": one.origin.source} for one in DECLARED.values()])
        return
    for one in DECLARED.values():
        print(f"{one.name}: {one.asks}  [{one.origin}]")
        for test in one.tests:
            when = "; when " + ", ".join(f"{name} is {words.replace(' ', ' or ')}" for name, words in test.when) if test.when else ""
            print(f"  {test.outcome} if {test.value} {test.sign} {test.limit.replace(' ', ' or ')}".rstrip() + f" (in doubt: {test.doubt}){when}")


@command("formulas", "the declared formulas with inputs, units, ranges and sources", "almanac formulas --json", region=True, json=True)
def formulas(asked: Asked) -> None:
    """List the declared formulas."""
    listed = [
        {"formula": f.name, "title": f.title, "unit": f.answer.unit, "basis": str(f.origin.basis), "source": f.origin.source,
         "inputs": ([{"name": f.choice.name, "choices": list(f.choice.options)}] if f.choice else [])
         + [{"name": s.name, "unit": s.unit, "from": s.low, "to": s.high, "meaning": s.meaning} for s in f.inputs]}
        for f in catalogue_of(asked).values()
    ]
    if asked.json:
        write_json(listed)
        return
    for one in listed:
        inputs = ", ".join(i["name"] + (f" ({i['unit']})" if i.get("unit") else "") for i in one["inputs"])
        print(f"{one['formula']}: {inputs} → {one['unit']}  [{one['basis']}: {one['source']}]")


COMMANDS = (today, work, formulas, verdicts)
