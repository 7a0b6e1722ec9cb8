"""The job's chain, for each way of putting the paint on: areas, litres, stages, days, hours with their spread, and the price.

Surfaces are counted once. What goes on them are `lays`: one paint, so many coats, on one surface; a primer and a finish are two lays,
or one, and nothing else changes. Names and formulas only: the sums stand in `formulas/job.py`, the two searches in `studies/`.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, Literal

from generators.chain.described import described
from generators.chain.links import Case, Chain, Each, Fold, Pick, Search, Step
from generators.chain.walk import Walked, units_of, walk
from generators.formula import Formula
from generators.studies.tins import LETTERS, tins
from generators.studies.visits import visits
from generators.verdict import Held
from generators.verdict.held import brought

WAYS = {"spray": "Spray", "brush": "Brush", "roll": "Roll"}
SEARCHES = {"tins": tins, "visits": visits}
# What a walk brings, with its unit: of the whole job, and of each part of a list. "" is a word.
FIELDS = {
    "flow": "mL/min", "pot": "L", "duty": "%", "refill": "min", "loss": "L", "spare": "%", "hand-lands": "%", "edges": "m", "sheets": "m²", "air-temperature": "°C", "relative-humidity": "%",
    "wear-sound": "×", "wear-worn": "×", "wear-poor": "×", "crew": "1", "day-hours": "h", "week": "1", "weekday": "1", "start": "min", "dusk": "min", "dusk-lead": "h", "stay": "h", "holds": "h",
    "rack": "1", "flash": "h", "travel-time": "h", "set-up": "h", "hand-set-up": "h", "clean-down": "h", "hand-clean-down": "h", "hour-rate": "money/h", "thinner-price": "money/L",
    "sundries": "money",
    "markup": "%", "margin": "%", "tax": "%", "minimum": "money", "deposit": "%", "travel": "money", "parking": "money", "filters": "money", "wash": "L", "waste-price": "money/L", "wear": "money/L",
    "together": "%", "sheet-stretch": "×", "offered": "money", "place": "",
    "pot-life-rate": "×", "self-heating": "%", "mix-share": "%",
}
KEEPS = 1e6  # minutes: a one-pack is never parted for its age
PARTS = {
    "surfaces": {"key": "", "face": "m²", "count": "1", "sides": "1", "profile": "×", "drink": "×", "spray-lands": "%", "brush-rate": "m²/h", "roll-rate": "m²/h", "detail": "×", "condition": "",
    "loose": ""},
    "paints": {"key": "", "dry-film": "µm", "volume-solids": "%", "thinner": "%", "recoat": "h", "voc": "g/L", "dries": "",
               "parts": "", "pot-life": "h", "pot-life-at": "°C", "pot-life-of": "L", "induction": "h",
               **{f"tin-{letter}{price}": "money" if price else "L" for letter in LETTERS for price in ("", "-price")}},
    "lays": {"key": "", "surface": "", "paint": "", "coats": "1", "first": ""},
    "stages": {"key": "", "per": "", "who": "", "when": "", "dries": "", "share-spray": "%", "share-hand": "%", "pace-each": "h", "pace-area": "min/m²", "pace-length": "min/m", "wait": "h"},
}
_EACH, _AREA, _LENGTH = ("once", "coat", "piece", "turn", "gun", "refill", "visit", "clean"), ("prepared", "detailed", "coated", "between", "sheet"), ("edge",)
PER = (*_EACH, *_AREA, *_LENGTH)
_ENDS: tuple[Literal["low", "likely", "high"], ...] = ("low", "likely", "high")
WHO, WHEN = ("shared", "one", "together", "alone"), ("office", "before", "coat", "between", "cure", "after", "visit")


def _stage(share: str, visit: str | float, clean: str | float, tag: str) -> tuple[Any, ...]:
    """Hours of one stage: its work, by the clock, and paid. `tag` ends its names."""
    return (
        Case(f"many{tag}", "stages.per", {"once": 1.0, "coat": "rounds", "piece": "pieces", "turn": "turns", "gun": 1.0, "refill": 1.0, "visit": visit, "clean": clean}),
        Case(f"pace{tag}", "stages.per", {**{word: "stages.pace-each" for word in _EACH}, "gun": "application", "refill": "refills"}),
        Case(f"over{tag}", "stages.per", {"prepared": "prepared", "detailed": "detailed", "coated": "coated", "between": "between", "sheet": "sheets"}),
        Case(f"along{tag}", "stages.per", {"edge": "edges"}),
        Step(f"work{tag}", {**dict.fromkeys(_EACH, "stage-each"), **dict.fromkeys(_AREA, "stage-area"), **dict.fromkeys(_LENGTH, "stage-length")},
             {"amount": f"many{tag}", "pace-each": f"pace{tag}", "area": f"over{tag}", "pace-area": "stages.pace-area", "length": f"along{tag}", "pace-length": "stages.pace-length",
                 "times": share}, by="stages.per"),
        Case(f"hands{tag}", "stages.who", {"shared": "crew", "one": 1.0, "together": 1.0, "alone": 1.0}),
        Step(f"elapsed{tag}", "shared-time", {"work": f"work{tag}", "hands": f"hands{tag}"}),
    )


def _priced(tag: str, hours: str) -> tuple[Any, ...]:
    """The price at so many hours: what is worked, with the margin, and never under the least that the crew comes out for."""
    return (
        Step(f"worked{tag}", "job-price", {"hours": hours, "hour-rate": "hour-rate", "materials": "materials", "markup": "markup", "fixed": "running", "tax": "tax"}),
        Step(f"margined{tag}", "raised-by", {"sum": f"worked{tag}", "share": "margin"}),
        Pick(f"price{tag}", "most", (f"margined{tag}", "least-price")),
    )


@cache
def chain(way: str) -> Chain:
    """The job done in one way. The dry film is the same in all of them."""
    spray = way == "spray"
    by = "" if spray else "hand-"
    share = "stages.share-spray" if spray else "stages.share-hand"
    lay: tuple[Any, ...] = (
        Case("lay-drink", "lays.first", {"yes": "surfaces.drink", "no": 1.0}),
        Step("litres", "paint-for-coats", {"area": "surfaces.area", "coats": "lays.coats", "dry-film": "paints.dry-film", "volume-solids": "paints.volume-solids", "drink": "lay-drink",
                                          "transfer-efficiency": "surfaces.spray-lands" if spray else "hand-lands"}),
        Step("mixed", "mixed-paint", {"paint": "litres", "thinner": "paints.thinner" if spray else 0.0}),
        *((Step("gun", "spraying-time", {"mixed": "mixed", "flow": "flow", "duty": "duty"}),
           Step("lay-refills", "refill-time", {"mixed": "mixed", "pot": "pot", "refill": "refill"}),
           Step("lay-pots", "pots-to-fill", {"mixed": "mixed", "pot": "pot"})) if spray else
          (Step("gun", "hand-time", {"area": "surfaces.area", "coats": "lays.coats", "rate": f"surfaces.{way}-rate"}),
           Step("lay-refills", "refill-time", {"mixed": 0.0, "pot": 1.0, "refill": 0.0}), Step("lay-pots", "pots-to-fill", {"mixed": 0.0, "pot": 1.0}))),
        Pick("dry", "first", ("paints.dries-in",)),
    )
    links: tuple[Any, ...] = (
        Each("paints", (
            Step("stretch-today", {"water": "drying-stretch", "other": "cure-stretch"}, {"air-temperature": "air-temperature", "relative-humidity": "relative-humidity"}, by="paints.dries"),
            Pick("stretch", "most", ("stretch-today", "sheet-stretch")),  # warmth never makes a coat earlier than the data sheet says
            Step("dries-in", "stretched-wait", {"hours": "paints.recoat", "stretch": "stretch"}),
            # How long one mix may be in the gun: the short end, and cold lends it nothing that its sheet does not promise.
            Pick("mix-warmth", "most", ("air-temperature", "paints.pot-life-at")),
            Step("mix-lasts", {"two-pack": "pot-life-at"}, {"pot-life": "paints.pot-life", "sheet-temperature": "paints.pot-life-at", "temperature": "mix-warmth", "rate": "pot-life-rate",
                                                           "batch": "pot", "sample": "paints.pot-life-of", "self-heating": "self-heating"}, by="paints.parts"),
            Pick("mix-least", "low", ("mix-lasts",)),
            Step("mix-good", {"two-pack": "clean-minutes"}, {"pot-life": "mix-least", "share": "mix-share"}, by="paints.parts"),
            Case("spell", "paints.parts", {"two-pack": "mix-good", "one-pack": KEEPS}),
            Case("stands", "paints.parts", {"two-pack": "paints.induction", "one-pack": 0.0}),
        )),
        Fold("stretch-most", "paints", "stretch", "most"),
        Each("surfaces", (
            Step("area", "coated-area", {"face": "surfaces.face", "count": "surfaces.count", "sides": "surfaces.sides", "profile": "surfaces.profile"}),
            Case("worn", "surfaces.condition", {"sound": "wear-sound", "worn": "wear-worn", "poor": "wear-poor"}),
            Step("prepared", "area-to-prepare", {"area": "area", "wear": "worn", "detail": "surfaces.detail"}),
            Step("detailed", "area-to-prepare", {"area": "area", "wear": 1.0, "detail": "surfaces.detail"}),
            Case("loose-pieces", "surfaces.loose", {"yes": "surfaces.count", "no": 0.0}),
            Fold("coats-on", "lays", "coats", "sum", by="surface"),
            Step("coated", "coats-of-area", {"area": "area", "coats": "coats-on"}),
            Step("between", "area-between-coats", {"area": "detailed", "coats": "coats-on"}),
            Step("turns", "pieces-turned", {"pieces": "loose-pieces", "coats": "coats-on"}),
        )),
        Each("lays", lay, refers={"surfaces": "surface", "paints": "paint"}),
        *(Fold(name, "surfaces", name, "sum") for name in ("area", "prepared", "detailed", "coated", "between", "turns")),
        Fold("pieces", "surfaces", "loose-pieces", "sum"), Fold("rounds", "surfaces", "coats-on", "most"),
        Fold("litres", "lays", "litres", "sum"), Fold("mixed", "lays", "mixed", "sum"), Fold("application", "lays", "gun", "sum"), Fold("refills", "lays", "lay-refills", "sum"), Fold("pots",
            "lays", "lay-pots", "sum"),
        # The calendar.
        *(Pick(f"{name}-likely", "likely", (name,)) for name in ("travel-time", f"{by}set-up", f"{by}clean-down")),
        Step("left", "day-left", {"day": "day-hours", "travel": "travel-time-likely", "set-up": f"{by}set-up-likely", "clean-down": f"{by}clean-down-likely"}),
        Step("light", {"outdoors": "light-left"}, {"start": "start", "dusk": "dusk", "lead": "dusk-lead", "travel": "travel-time-likely", "set-up": f"{by}set-up-likely"}, by="place"),
        Case("coat-left", "place", {"outdoors": "light", "indoors": "left"}),
        Each("stages", (
            *_stage(share, 0.0, 0.0, "-planned"),
            Step("wait-stretched", {"yes": "stretched-wait"}, {"hours": "stages.wait", "stretch": "stretch-most"}, by="stages.dries"),
            Case("wait-now", "stages.dries", {"yes": "wait-stretched", "no": "stages.wait"}),
            Pick("planned", "first", ("elapsed-planned",)),
        )),
        Search("calendar", "visits", {name: name for name in ("left", "coat-left", "stay", "week", "weekday", "flash", "rack", "pieces", "holds")} | {"clean": f"{by}clean-down-likely"},
               {"visits": "1", "days": "1", "waiting": "h", "on-site": "h"},
               {"stages": ("key", "when", "per", "planned", "wait-now"), "lays": ("key", "surface", "paint", "coats", "gun", "dry"), "paints": ("key", "spell", "stands")}, {"paints": {"cleans": "1"}},
               why="no calendar: nobody works in such a week, or it takes more than 2,000 visits or coats"),
        # Paint and what else is bought.
        Each("paints", (
            Fold("litres", "lays", "litres", "sum", by="paint"),
            Step("order", "paint-to-order", {"paint": "litres", "fills": "cleans" if spray else 0.0, "loss": "loss", "spare": "spare"}),
            Search("bought", "tins", {"litres": "order", **{f"tin-{letter}{price}": f"paints.tin-{letter}{price}" for letter in LETTERS for price in ("", "-price")}},
                   {"tins-cost": "money", **{f"tins-{letter}": "1" for letter in LETTERS}}),
            Step("thinner-volume", "thinner-to-carry", {"paint": "order", "thinner": "paints.thinner" if spray else 0.0}),
            Step("solvent", "solvent-released", {"paint": "litres", "voc": "paints.voc"}),
        )),
        *(Fold(name, "paints", name, "sum") for name in ("order", "tins-cost", "thinner-volume", "solvent", "cleans")),
        # Hours, stage by stage, and how far they scatter.
        Each("stages", (
            *_stage(share, "visits", "cleans", ""),
            Case("payroll", "stages.who", {"shared": "crew", "one": "crew", "together": "crew", "alone": 1.0}),
            Step("paid", "paid-time", {"elapsed": "elapsed", "crew": "payroll"}),
            *(Pick(f"paid-{end}", end, ("paid",)) for end in _ENDS),
            Step("mean", "three-point-mean", {"low": "paid-low", "likely": "paid-likely", "high": "paid-high"}),
            Step("scatter", "three-point-spread", {"low": "paid-low", "high": "paid-high"}),
            Step("square", "spread-squared", {"spread": "scatter"}),
        )),
        Fold("hours", "stages", "mean", "sum"), Fold("scatters", "stages", "scatter", "sum"), Fold("squares", "stages", "square", "sum"),
        Step("spread", "joint-spread", {"squares": "squares", "spreads": "scatters", "together": "together"}),
        Step("hours-low", "hours-if-well", {"mean": "hours", "spread": "spread"}),
        Step("hours-high", "hours-if-badly", {"mean": "hours", "spread": "spread"}),
        # Money.
        Pick("visits-likely", "likely", ("visits",)), Pick("cleans-likely", "likely", ("cleans",)), Pick("mixed-likely", "likely", ("mixed",)),
        Pick("tins-likely", "likely", ("tins-cost",)), Pick("thinner-likely", "likely", ("thinner-volume",)),
        Step("materials", "materials-cost", {"tins": "tins-likely", "thinner-volume": "thinner-likely", "thinner-price": "thinner-price", "sundries": "sundries"}),
        Step("running", "running-costs", {"visits": "visits-likely", "travel": "travel", "parking": "parking", "cleans": "cleans-likely", "filters": "filters" if spray else 0.0, "wash": "wash",
                                          "waste": "waste-price", "litres": "mixed-likely", "wear": "wear" if spray else 0.0}),
        Step("least-price", "raised-by", {"sum": "minimum", "share": "tax"}),
        *_priced("", "hours"), *_priced("-low", "hours-low"), *_priced("-high", "hours-high"),
        Step("cost", "job-cost", {"hours": "hours", "hour-cost": "hour-rate", "materials": "materials", "running": "running"}),
        Pick("asked", "first", ("offered", "price")),
        Step("chance", "chance-of-loss", {"offered": "asked", "tax": "tax", "cost": "cost", "hour-cost": "hour-rate", "spread": "spread"}),
        Step("down", "share-of-sum", {"sum": "asked", "share": "deposit"}), Step("due", "still-to-pay", {"sum": "asked", "paid": "down"}),
        Step("each", "price-per-area", {"price": "price", "area": "area"}),
    )
    return Chain(links, {}, (), frozenset(FIELDS), {part: tuple(names) for part, names in PARTS.items()})


def units_for(way: str, formulas: Mapping[str, Formula]) -> dict[str, str]:
    """Unit of every figure of the chain."""
    given = {**FIELDS, **{f"{part}.{name}": unit for part, names in PARTS.items() for name, unit in names.items()}}
    return units_of(chain(way), formulas, {}, {name: unit for name, unit in given.items() if unit})


def held_job(job: Mapping[str, Any]) -> tuple[dict[str, Held], dict[str, list[dict[str, Held]]]]:
    """(what is held, parts by list) of a plain job: {"fields": {…}, "surfaces": [{…}], "paints": […], "lays": […], "stages": […]}."""
    held = {name: brought(job["fields"].get(name), name, unit) for name, unit in FIELDS.items()}
    parts = {part: [{name: brought(one.get(name), name, unit) for name, unit in names.items()} for one in job[part]] for part, names in PARTS.items()}
    return held, parts


def work_job(formulas: Mapping[str, Formula], job: Mapping[str, Any], way: str) -> Walked:
    """One job in one way; `job` as `held_job` wants it."""
    held, parts = held_job(job)
    return walk(chain(way), formulas, held, parts, units_for(way, formulas), {}, searches=SEARCHES)


def reasons(walked: Walked) -> list[str]:
    """Why there is no answer, each reason once, where it first comes up."""
    found: dict[str, str] = {}
    for name, word in (("surfaces", "Surface"), ("lays", "Coat"), ("paints", "Paint"), ("stages", "Stage")):
        for place, part in enumerate(walked.parts[name]):
            for held in part.values():
                if str(held.why):
                    found.setdefault(str(held.why), f"{word} {place + 1}: {held.why}")
    for held in walked.held.values():
        if str(held.why):
            found.setdefault(str(held.why), str(held.why))
    return list(found.values())


def declared(formulas: Mapping[str, Formula]) -> dict[str, Any]:
    """Everything that the phone walks a job with: the chain of each way, and what a walk brings."""
    return {"chains": {way: {"links": described(chain(way), formulas, {}, units_for(way, formulas))["links"], "verdicts": {}} for way in WAYS}, "fields": FIELDS, "parts": PARTS}
