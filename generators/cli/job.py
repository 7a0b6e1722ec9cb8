"""The command that works a job: a template of the handbook, sprayed, brushed and rolled, with its spread."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click

from generators.cli.shared import Asked, Refused, catalogue_of, command, complete_templates, facts_of, pairs, write_json
from generators.nearest import near

# A figure of the whole job: what holds its least, its likely and its most, and its unit ("money" is the handbook's own).
SPREAD = {"hours": ("hours-low", "hours", "hours-high", "h"), "price": ("price-low", "price", "price-high", "money")}
PLAIN = {"visits": "1", "days": "1", "litres": "L", "order": "L", "tins-cost": "money", "materials": "money", "cost": "money", "area": "m²", "chance": "%", "down": "money"}


def _number(held: Any, end: str = "likely") -> float | None:
    value = float(getattr(held, end))
    return None if value != value else value


def told(facts: Any, formulas: Any, job: dict[str, Any], way: str) -> dict[str, Any]:
    """One way of doing a job as plain data; None where there is no figure, and `reasons` say why."""
    from generators.chain.job import reasons, work_job

    out = work_job(formulas, job, way)
    found: dict[str, Any] = {name: dict(zip(("low", "likely", "high"), (_number(out.held[one]) for one in ends), strict=True)) | {"unit": unit} for name, (*ends, unit) in SPREAD.items()}
    found |= {name: {end: _number(out.held[name], end) for end in ("low", "likely", "high")} | {"unit": unit} for name, unit in PLAIN.items()}
    stages = [(str(one["key"].text), one) for one in out.parts["stages"]]
    found["stages"] = [{"stage": key, "label": facts.stages[key].label, "low": _number(one["paid-low"]), "likely": _number(one["paid-likely"]), "high": _number(one["paid-high"]), "unit": "h"}
                       for key, one in stages if (_number(one["paid-high"]) or 0) > 0]
    return found | {"reasons": reasons(out)}


_WORDS = {"place": ("indoors", "outdoors")}


def _fields(job: dict[str, Any], given: Sequence[tuple[str, str]]) -> dict[str, Any]:
    """The job's own fields with what was typed in their place."""
    from generators.chain.job import FIELDS
    from generators.situation.read import value_of
    from generators.units import UnitError

    fields, problems = dict(job["fields"]), []
    for name, typed in given:
        if name not in FIELDS:
            problems.append(f"wanted a field of a job; came {name!r}; {near(name, FIELDS)}")
            continue
        try:
            if name in _WORDS and typed not in _WORDS[name]:
                problems.append(f"{name}: wanted {' or '.join(_WORDS[name])}; came {typed!r}; {near(typed, _WORDS[name])}")
                continue
            fields[name] = typed if FIELDS[name] == "" else value_of(typed, "1" if "money" in FIELDS[name] else FIELDS[name])
        except (UnitError, ValueError) as error:
            problems.append(f"{name}: {error}")
    if problems:
        raise Refused(problems)
    return fields


@command("job", "a template of a job, worked: hours, days, litres and price with their spread", "almanac job kitchen air-temperature=12C --json", region=True, json=True)
@click.argument("template", shell_complete=complete_templates)
@click.argument("fields", nargs=-1, metavar="[FIELD=VALUE]…")
def job(asked: Asked, template: str, fields: tuple[str, ...]) -> None:
    """Work a template sprayed, brushed and rolled, at the handbook's own rates or with what is typed in their place."""
    from generators.chain.job import WAYS
    from generators.chain.jobs import template_job

    facts, formulas = facts_of(asked), catalogue_of(asked)
    if template not in facts.templates:
        raise Refused([f"wanted a template of site_data/templates; came {template!r}; {near(template, facts.templates)}"])
    one = template_job(facts, formulas, template)
    one["fields"] = _fields(one, pairs(fields, "field=value", "air-temperature=12C"))
    found = {way: told(facts, formulas, one, way) for way in WAYS}
    if asked.json:
        write_json({"template": template, "coin": facts.handbook.coin, "ways": found})
        return
    for way, words in WAYS.items():
        print(_line(words, found[way], facts.handbook.coin))
    for stage in found["spray"]["stages"]:
        print(f"  {stage['label']}: {_hours(stage['likely'])} ({_hours(stage['low'])} to {_hours(stage['high'])})")
    for why in found["spray"]["reasons"]:
        print(f"  – {why}")


def _hours(value: float | None) -> str:
    return "–" if value is None else f"{value:.1f} h"


def _line(way: str, figures: dict[str, Any], coin: str) -> str:
    def money(value: float | None) -> str:
        return "–" if value is None else f"{coin}{value:,.0f}"

    hours, price, visits, order = figures["hours"], figures["price"], figures["visits"]["likely"], figures["order"]["likely"]
    return (f"{way}: {_hours(hours['likely'])} ({_hours(hours['low'])} to {_hours(hours['high'])}), {money(price['likely'])} ({money(price['low'])} to {money(price['high'])}), "
            + ("– visits, " if visits is None else f"{visits:.0f} visits, ") + ("–" if order is None else f"{order:.1f} L to buy"))


COMMANDS = (job,)
