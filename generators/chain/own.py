"""What a phone needs to take in a kit or paint of one's own: the fields and checks of the files, and what a class of coating says for every tin of it."""

from __future__ import annotations

from typing import Any

from generators import noted, units
from generators.chain import tell
from generators.chain.day import Day
from generators.facts import hazard, model
from generators.facts.relations import ORDERED
from generators.facts.schema import figures

# A tin that only stands for its class: what its own fields say is overwritten by the phone.
_PROBE = {"name": "own", "basis": "measured", "volume_solids": "40 %", "dry_film": "30 µm", "density": "1.2 kg/L", "voc": "50 g/L", "thinner_max": "10 %", "air_min": "8 °C", "air_max": "30 °C",
          "humidity_max": "80 %", "recoat_after": "4 h", "nozzle": "1.5 mm", "uses": ["all"]}
THINNERS = {"water": {"thin_with": "water", "thinner_density": "0 g/L"}, "other": {"thin_with": "its own thinner", "thinner_density": "800 g/L"}}


def probe(facts: Any, key: str, thinner: str, **said: Any) -> model.Coating:
    """A tin of a class that says nothing of its own, with the stops that its class forces."""
    tin = model.Coating.model_validate({**_PROBE, **THINNERS[thinner], "class": key, **said})
    settled: model.Coating = hazard.settled("own", tin, facts.classes[key], facts.protection.get(key))
    return settled


def _fields(kind: Any, system: str) -> dict[str, list[Any]]:
    return {name: [one.unit, one.low, one.high, one.counts, _such_as(one.example, system), required] for name, (one, required) in figures(kind).items()}


def _such_as(example: str, system: str) -> str:
    """An example of what to type, in the reader's units."""
    figure, _, unit = example.partition(" ")
    if system != "us" or unit not in units.US_TWINS:
        return example
    value, other = units.turned(float(figure), unit, system)
    return f"{float(f'{value:.1g}'):g} {other}"


def own_described(day: Day) -> dict[str, Any]:
    """Fields by kind of thing, relations, classes and the words that force a stop, as plain data."""
    facts, region, system = day.facts, day.facts.handbook.region, day.facts.handbook.system
    classes, figures_of = {}, {"kit": [*tell.KIT_FIGURES, "limit"], "coating": [*tell.TIN_FIGURES, *tell.PAIR_FIGURES]}
    for key, kind in facts.classes.items():
        guard = facts.protection.get(key)
        told = {}
        for thinner in THINNERS:
            with noted.apart():  # a tin of no file: what it says is its class's
                of_class = tell.tin_told(facts, probe(facts, key, thinner), region, "").items()
            told[thinner] = {name: one.as_json() for name, one in of_class if name.removeprefix("coating.") not in figures_of["coating"]}
        classes[key] = {"label": kind.us_label if facts.handbook.words == "us" else kind.label, "family": kind.family, "stop": guard.stop if guard and guard.stop else "", **told}
    solvents = {}
    for row in facts.solvents:
        if row.explosive_limits:
            lel, mass = tell.solvent_told(row)
            solvents[row.name.lower()] = {"coating.solvent_lel": lel.as_json(), "coating.solvent_molar_mass": mass.as_json()}
    return {
        "kit": {"fields": _fields(model.Kit, system), "ordered": [list(one) for one in ORDERED["kit"]]},
        "coating": {"fields": {**_fields(model.Coating, system), **{name: [*row[:-1], False] for name, row in _fields(model.TwoPack, system).items()}},
                    "ordered": [list(one) for one in ORDERED["coating"]]},
        "figures": figures_of, "classes": classes, "solvents": solvents, "hard": {key: stop.title for key, stop in facts.stops.items()},
        "cups": {slug: [cup.time_min, cup.time_max, cup.label] for slug, cup in facts.cups.items()} | {slug: [0, 1e9, cup.label] for slug, cup in facts.own_cups.items() if slug not in facts.cups},
        "isocyanate": hazard.ISOCYANATE.pattern, "free": hazard.FREE.pattern, "asked": hazard.ASKED.pattern, "metals": hazard.METALS.pattern, "no_metals": hazard.NO_METALS.pattern,
    }
