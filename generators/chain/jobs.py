"""Facts as a job is walked over them: the crew's rates, its kit, a paint, a surface, the stages of a kind of work, and whole templates.

Plain data: what `held_job` takes, and what the phone's script begins with.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators import units
from generators.chain.job import FIELDS
from generators.formula import Formula
from generators.studies.areas import surface_figures
from generators.studies.tins import LETTERS

TINS = {"metric": (1.0, 2.5, 5.0), "us": (0.946353, 3.785412, 18.92706)}  # litres: usual tins; a quart, a gallon, five gallons
# Field of the job → (rate, what it is where a handbook has none). Units are those of FIELDS.
RATES: Mapping[str, tuple[str, float]] = {
    "duty": ("duty", 45), "refill": ("refill", 4), "loss": ("loss", 0.25), "spare": ("spare", 5), "hand-lands": ("hand_lands", 95),
    "wear-sound": ("condition_sound", 1), "wear-worn": ("condition_worn", 1.6), "wear-poor": ("condition_poor", 2.6),
    "crew": ("crew", 1), "day-hours": ("day", 8), "week": ("days_a_week", 5), "dusk-lead": ("dusk_lead", 2), "stay": ("stay", 1.5), "holds": ("holds", 1), "rack": ("rack", 16), "flash": ("flash",
        0.5),
    "travel-time": ("travel_time", 0.7), "set-up": ("set_up", 0.5), "hand-set-up": ("hand_set_up", 0.25), "clean-down": ("clean_down", 0.6), "hand-clean-down": ("hand_clean_down", 0.25),
    "hour-rate": ("hour", 30), "thinner-price": ("thinner", 5), "sundries": ("sundries", 20), "markup": ("markup", 10), "margin": ("margin", 10), "minimum": ("minimum", 100),
        "deposit": ("deposit", 25),
    "travel": ("travel", 15), "parking": ("parking", 0), "filters": ("filters", 3), "wash": ("wash", 2), "waste-price": ("waste", 1), "wear": ("wear", 1), "together": ("together", 30),
}
Ends = tuple[float, float, float]


def _ends(rate: Any, unit: str) -> Ends:
    low, high = rate.ends(unit)
    return low, rate.to(unit), high


def rate_ends(facts: Any, name: str) -> Ends:
    """(low, likely, high) of one field that a rate stands behind, in the field's unit."""
    key, otherwise = RATES[name]
    return _ends(facts.rates[key], FIELDS[name]) if key in facts.rates else (float(otherwise),) * 3


def crew_fields(facts: Any) -> dict[str, Any]:
    """Fields of a job as the handbook's own crew and kit begin it: air of 18 °C and 60 %, from Monday at eight, indoors."""
    kit = facts.kits[facts.handbook.default_kit]
    tax = _ends(facts.rates["tax"], "%") if "tax" in facts.rates else (20.0,) * 3 if facts.handbook.region == "uk" else (0.0,) * 3
    stretch = facts.limits["sheet_stretch"].to("×") if "sheet_stretch" in facts.limits else 1.0
    return {**{name: rate_ends(facts, name) for name in RATES}, **pot_laws(facts), "tax": tax, "flow": kit.flow.to("mL/min"), "pot": kit.pot.to("L"), "edges": 10.0, "sheets": 20.0,
            "air-temperature": 18.0, "relative-humidity": 60.0, "weekday": 0.0, "start": 480.0, "dusk": 1080.0, "sheet-stretch": stretch, "place": "indoors"}


def pot_laws(facts: Any) -> dict[str, Ends]:
    """How warmth and a full pot shorten a pot life, and how much of it may be used."""
    return {name: _ends(facts.limits[key], FIELDS[name]) for name, key in (("pot-life-rate", "pot_life_rate"), ("self-heating", "self_heating"), ("mix-share", "clean_before_pot_life"))}


def pair_part(facts: Any, pair: Any) -> dict[str, Any]:
    """How long a mix lasts, by the two-pack's sheet; None is a one-pack, whose figures are those of a sheet that says nothing."""
    limits = facts.limits
    at, of = limits["sheet_temperature"].to("°C"), limits["sheet_sample"].to("L")
    if pair is None:
        return {"parts": "one-pack", "pot-life": None, "pot-life-at": at, "pot-life-of": of, "induction": 0.0}
    return {"parts": "two-pack", "pot-life": pair.pot_life.to("h"), "pot-life-at": pair.pot_life_at.to("°C") if pair.pot_life_at else at,
            "pot-life-of": pair.pot_life_of.to("L") if pair.pot_life_of else of, "induction": pair.induction.to("h") if pair.induction else 0.0}


def tin_prices(facts: Any, litres: float) -> float:
    """What so many litres cost where no tin has a price."""
    return litres * (facts.rates["paint"].to("money/L") if "paint" in facts.rates else 20.0)


def paint_part(facts: Any, key: str, slug: str, thinner: float = 0.0) -> dict[str, Any]:
    """One coating as a job's paint, in the usual tins."""
    tin = facts.coatings[slug]
    sizes = TINS[facts.handbook.system]
    return {"key": key, "dry-film": tin.dry_film.to("µm"), "volume-solids": tin.volume_solids.to("%"), "thinner": thinner, "recoat": tin.recoat_after.to("h"), "voc": tin.voc.to("g/L"),
            "dries": "water" if facts.classes[tin.class_key].family == "waterborne" else "other", **pair_part(facts, tin.two_pack),
            **{f"tin-{letter}{part}": tin_prices(facts, size) if part else size for letter, size in zip(LETTERS, sizes, strict=True) for part in ("", "-price")}}


def surface_part(facts: Any, formulas: Mapping[str, Formula], key: str, row: Any, count: float, condition: str) -> dict[str, Any]:
    """One row of surfaces.csv as a job's surface: so many pieces; of what goes by area or length, so much."""
    figures = surface_figures(facts, formulas, row)
    return {"key": key, **figures, "count": float(count), "drink": row.drink.to("×"), "spray-lands": row.spray_lands.to("%"), "brush-rate": row.brush_rate.to("m²/h"),
        "roll-rate": row.roll_rate.to("m²/h"),
            "detail": row.detail.to("×") if row.detail else 1.0, "condition": condition, "loose": row.loose or "no"}


def lays_of(surfaces: Mapping[str, list[tuple[str, float]]]) -> list[dict[str, Any]]:
    """Lays from {surface: [(paint, coats), …]}, in the order that they go on."""
    return [{"key": f"{surface}-{place}", "surface": surface, "paint": paint, "coats": float(coats), "first": "no" if place else "yes"}
            for surface, some in surfaces.items() for place, (paint, coats) in enumerate(some)]


def stage_parts(facts: Any, work: str) -> list[dict[str, Any]]:
    """The stages of one kind of work, in their order, with their paces."""
    found = []
    for key, one in facts.stages.items():
        if one.work and work not in one.work:
            continue
        rate = facts.rates.get(one.rate) if one.rate else None
        pace: dict[str, Any] = {"pace-each": (0.0, 0.0, 0.0), "pace-area": (0.0, 0.0, 0.0), "pace-length": (0.0, 0.0, 0.0)}
        if rate is not None:
            name, unit = next((name, unit) for name, unit in (("pace-each", "h"), ("pace-area", "min/m²"), ("pace-length", "min/m")) if units.dimension(unit) == units.dimension(rate.unit))
            pace[name] = _ends(rate, unit)
        found.append({"key": key, "per": one.per, "who": one.who, "when": one.when, "dries": "yes" if one.dries else "no", "wait": _ends(facts.rates[one.wait], "h") if one.wait else (0.0, 0.0, 0.0),
                      "share-spray": one.by_spray.to("%") if one.by_spray else 100.0, "share-hand": one.by_hand.to("%") if one.by_hand else 100.0, **pace})
    return found


def works(facts: Any) -> list[str]:
    """Kinds of work that stages or templates name, in their order."""
    return list(dict.fromkeys([*(one.kind for one in facts.begun_from.values()), *(work for one in facts.stages.values() for work in one.work)]))


def template_job(facts: Any, formulas: Mapping[str, Formula], slug: str) -> dict[str, Any]:
    """A template as a plain job, at the handbook's own rates."""
    one = facts.templates[slug]
    rows = {row.name: row for row in facts.surfaces}
    paints = one.paints
    surfaces = [surface_part(facts, formulas, f"s{place}", rows[counted.thing], counted.count, counted.condition) for place, counted in enumerate(one.surfaces)]
    return {"fields": {**crew_fields(facts), "edges": one.edges.to("m"), "sheets": one.sheets.to("m²"), "place": one.place},
            "paints": [paint_part(facts, name, laid.coating) for name, laid in paints.items()], "surfaces": surfaces,
            "lays": lays_of({f"s{place}": [(name, paints[name].coats) for name in counted.paints] for place, counted in enumerate(one.surfaces)}), "stages": stage_parts(facts, one.kind)}
