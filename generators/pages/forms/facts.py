"""What the forms' scripts fill in and work with: facts of the handbook, as data."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from generators import units
from generators.chain.job import WAYS, declared
from generators.chain.jobs import RATES, pair_part, pot_laws, rate_ends, stage_parts, works
from generators.form import Form
from generators.formulas import catalogue
from generators.pages.forms import parts
from generators.pages.forms.loading import LOAD
from generators.pages.forms.method import RISKS
from generators.render.live import twin
from generators.studies.areas import surface_figures
from generators.tables.book import nozzle_words

_FIRST = {"g": "g", "g/L": "g/L"}  # what the first edition gave US readers otherwise


def units_of(forms: list[Form]) -> dict[str, dict[str, dict[str, tuple[str, str]]]]:
    """Units of each figure, metric and US, by kind of record, block ("" where it is not repeated) and entry: what records of the first edition were typed in."""
    found: dict[str, dict[str, dict[str, tuple[str, str]]]] = {}
    for form in forms:
        blocks = found.setdefault(form.kind, {})
        for block in form.blocks:
            blocks.setdefault(block.name if block.many else "", {}).update({entry.name: (entry.unit, _FIRST.get(entry.unit) or twin(entry.unit)[0]) for entry in block.entries if entry.unit})
    return found


def counted_in(facts: Any, row: Any) -> tuple[str, float]:
    """(unit, how many of it in a metre or square metre) that a surface is counted in: pieces, or what this edition's readers measure by."""
    system = facts.handbook.system
    unit = {"area": "m²", "length": "m"}.get(row.counted, "1") if system == "us" else "1"
    return (unit, 1.0) if unit == "1" else (units.US_TWINS[unit], float(units.convert(1.0, unit, units.US_TWINS[unit])))


def _many(facts: Any, line: Any) -> float:
    """How many of a template's line, in what its surface is counted in here; no fewer than it says."""
    each = next((counted_in(facts, row)[1] for row in facts.surfaces if row.name == line.thing), 1.0)
    return line.count if each == 1.0 else math.ceil(line.count * each - 1e-9)


def job_facts(facts: Any, forms: list[Form]) -> str:
    """A classic script that hands the facts and the chains to the forms' scripts. Data only."""
    formulas = catalogue(facts)
    coatings: dict[str, Any] = {}
    care: Mapping[str, Any] = {row.class_key: row for row in facts.care}
    for slug in parts.paints(facts):
        tin = facts.coatings[slug]
        guard = facts.protection.get(tin.class_key)
        row = care.get(tin.class_key)
        coatings[slug] = {
            "name": str(tin.name),
            "volume-solids": tin.volume_solids.to("%"),
            "dry-film": tin.dry_film.to("µm"),
            "voc": tin.voc.to("g/L"),
            "recoat": tin.recoat_after.to("h"),
            **pair_part(facts, tin.two_pack),
            "recoat-before": tin.recoat_before.to("h") if tin.recoat_before else None,
            "thinner-max": tin.thinner_max.to("%"),
            "thin-with": str(tin.thin_with),
            "dries": "water" if facts.classes[tin.class_key].family == "waterborne" else "other",
            "air-min": tin.air_min.to("°C"),
            "nozzle": nozzle_words(tin.nozzle, facts.handbook.system),
            "care": {"careful": row.careful_after.to("d"), "wash": row.wash_after.to("d"), "full": row.full_after.to("d"), "words": row.words} if row else None,
            "guard": {"Breathing": facts.breathing(guard), "Eyes": guard.eyes, "Hands": guard.hands, "Body": guard.body, "Fire": guard.fire, "Air": guard.ventilation} if guard else {},
        }
    found = {
        "coatings": coatings,
        "ways": list(WAYS.items()),
        "kits": {slug: {"flow": kit.flow.to("mL/min"), "pot": kit.pot.to("L"), "noise": kit.noise.to("dBA")} for slug, kit in facts.kits.items()},
        "surfaces": {
            row.name: {
                **(figures := surface_figures(facts, formulas, row)),
                **({} if counted_in(facts, row)[0] == "1" else {"face": figures["face"] / counted_in(facts, row)[1]}),
                "detail": row.detail.to("×") if row.detail else 1.0,
                "loose": row.loose or "no",
                "drink": row.drink.to("×"),
                "spray-lands": row.spray_lands.to("%"),
                "brush-rate": row.brush_rate.to("m²/h"),
                "roll-rate": row.roll_rate.to("m²/h"),
            }
            for row in facts.surfaces
        },
        "units": units_of(forms),
        "cups": {slug: str(cup.label) for slug, cup in facts.cups.items()},
        "recipes": [
            {
                "file": slug,
                "coating": one.coating,
                "name": str(facts.coatings[one.coating].name),
                "surface": str(one.surface or ""),
                "batch": str(one.batch or ""),
                "date": one.date,
                "told": recipe_line(one, facts),
                "result": str(one.result),
            }
            for slug, one in facts.recipes.items()
            if one.coating in coatings
        ],
    }
    return f"window.almanacJobFacts = {json.dumps(found, ensure_ascii=True)};\n"


def job_chain(facts: Any) -> str:
    """A classic script with what only the job sheet walks: the chain of each way, the stages of each kind of work, rates with their ends, templates."""
    formulas = catalogue(facts)
    found = {
        "job": declared(formulas),
        "rates": {name: rate_ends(facts, name) for name in RATES},
        "pot-laws": pot_laws(facts),
        "one-pack": pair_part(facts, None),
        "stretch": facts.limits["sheet_stretch"].to("×") if "sheet_stretch" in facts.limits else 1.0,
        "stages": {work: stage_parts(facts, work) for work in works(facts) or [""]},
        "papers": {"loading": [{"what": what} for what in LOAD], "method": list(RISKS)},
        "stage-words": {key: {"label": one.label, "does": one.does} for key, one in facts.stages.items()},
        "templates": {
            slug: {"title": parts.label(facts, one), "work": one.kind, "place": one.place, "edges": one.edges.to("m"), "sheets": one.sheets.to("m²"), "paints": {name: [laid.coating,
                laid.coats] for name, laid in one.paints.items()},
                   "surfaces": [[counted.thing, units.one_system(str(counted.where), facts.handbook.system), _many(facts, counted), counted.condition, counted.paints] for counted in one.surfaces]}
            for slug, one in facts.begun_from.items()
        },
    }
    return f"Object.assign(window.almanacJobFacts, {json.dumps(found, ensure_ascii=True, separators=(',', ':'))});\n"


def recipe_line(one: Any, facts: Any) -> str:
    """A recipe in one line, in the order that it is set at the bench."""
    told = [f"{parts.plain(one.time.seconds)} s in {facts.cups[one.time.cup].label if one.time.cup in facts.cups else one.time.cup}", f"{parts.plain(one.thinner.to('%'))} % thinner"]
    for words, value in (("paint", one.temperature), ("nozzle", one.nozzle), ("gun off", one.distance), ("wet film", one.wet_film)):
        if value:
            shown, unit = units.turned(value.value, value.unit, facts.handbook.system)
            written = f"{parts.plain(value.value)} {value.unit}"
            marked = f", marked {written}" if words == "nozzle" and unit != value.unit == "mm" else ""  # a nozzle is sold by what stands on it
            told.append(f"{words} {written if unit == value.unit else units.said(shown, unit)}{marked}")
    return ", ".join(told)
