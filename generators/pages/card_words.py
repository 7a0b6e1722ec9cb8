"""Words of the van card: the line under each paint, whom to call, what goes on a side. Figures stand in `card_figures`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from generators import tables, units
from generators.basis import Basis
from generators.edge import EdgeChart
from generators.pages.card_figures import Card, Cell
from generators.render.alone import alone
from generators.render.edge import edge_svg
from generators.table import Rounding
from generators.verdict import CARE, GO, STOP, UNKNOWN

MARK = {GO: "", CARE: "*", UNKNOWN: "?", STOP: "×"}
_FAULTS = (
    ("Rough?", "Closer. Less air, or more paint."), ("Pebbled?", "Thinner, or more air."),
    ("Runs?", "Faster. Less paint. Warm."), ("Curved fan?", "Turn the cap half a turn."),
    ("Spits?", "Nozzle tight, pot full, lid sealed."), ("White haze?", "Stop: too near the dew point."),
    ("Stripes?", "Mend the spacing."), ("Dimples?", "Stop: grease or silicone."),
)
_STEPS = ("Time it as supplied, to the first break of the stream.", "Far over? Add 5 % of the paint. Near? 1 to 3 %. Stir. Time it again.",
          "Never past the data sheet. Mixed two-pack is never warmed.")
_DECIDES = "Safety data sheet, law and a competent person decide."
_WARM = "warm it (water bath, lid loose, no flame, never mixed two-pack), or the other kit"
_LETTERS = "ABCDEF"


def data_words(card: Card) -> str:
    """Where the card's figures come from, true to the data."""
    kit, paints = card.facts.kits[card.kit], [card.facts.coatings[slug] for slug in card.paints]
    made_up = [one.name for one in (kit, *paints) if one.origin.basis == Basis.INVENTED]
    if len(made_up) == 1 + len(paints):
        return "Demonstration data, invented: your own data sheets come first."
    kinds = sorted({str(one.origin.basis) for one in (kit, *paints)})
    return (f"Invented: {', '.join(made_up)}. " if made_up else "") + "Worked from: " + ", ".join(kinds) + ". The data sheet in your hand comes first."


def masks(card: Card) -> dict[str, str]:
    """What to breathe through, by letter: one for each different sentence of the card's paints."""
    said = dict.fromkeys(_mask(card, slug) for slug in card.paints)
    return dict(zip(_LETTERS, said, strict=False))


def _mask(card: Card, slug: str) -> str:
    guard = card.facts.protection.get(card.facts.coatings[slug].class_key)
    return str(card.facts.breathing(guard)) if guard is not None else "The safety data sheet, section 8."


def line(card: Card, slug: str) -> str:
    """What goes under a paint's figures: air, surface, pot life, mask and fire. The verdict stands over it."""
    tin, unit = card.facts.coatings[slug], card.pick("°C", "°F")
    book = tables.Book(card.facts, card.day.formulas, card.system)
    low, high = units.said(tin.air_min.to(unit), unit, "up"), units.said(tin.air_max.to(unit), unit, "down")  # each to its safe side
    over = units.said(tables.edge.margin_needed(book, slug), f"Δ{unit}", "up")
    rows = [f"Air {low.split()[0]} to {high}, to {tin.humidity_max.to('%'):g} %. Surface from {low}, {over.split()[0]} over dew."]
    if tin.two_pack is not None:
        pot, mixes = card.pick("1 L", "1 qt"), card.pick((20, 30), (70, 85))
        lives = tables.coating.lasts(book, slug, "pot-life", pot, np.array(mixes, float)) // 5 * 5
        rows.append(f"Pot life, {pot}: " + ", ".join(f"{life // 60:.0f}:{life % 60:02.0f} h at {warm} {unit}" for warm, life in zip(mixes, lives, strict=True)) + ".")
    rows.append(f"Mask {next(letter for letter, said in masks(card).items() if said == _mask(card, slug))}.")
    if card.facts.classes[tin.class_key].family in ("solvent", "oil", "two-pack"):
        rows.append("BURNS: no flame, no phone.")
    return " ".join(rows)


def verdict_line(cells: Sequence[Cell]) -> tuple[str, str]:
    """(that a paint has no dose with this kit, why not and what to do); empty where it has one."""
    pot = cells[0]
    if pot.verdict != STOP:
        return "", ""
    word, _, why = str(pot.told.get("because", "")).rpartition(": ")
    return word or "No dose", f"{why[:1].upper()}{why[1:]} Warm it, or the other kit."


def phones(facts: Any) -> str:
    """Emergency and poison numbers of the region, with their hours."""
    known = facts.regions[facts.handbook.region].phones
    if known is None:
        return "Emergency ________  Poison ________"

    def calls(kind: str) -> str:
        first = getattr(known, kind)[0]
        told = [first.where or "", "" if first.hours.startswith("day and night") else first.hours]
        return f"{first.call} ({', '.join(filter(None, told))})" if any(told) else str(first.call)

    return f"Emergency {calls('emergency')}. Poison {calls('poison')}."


def doubts(card: Card) -> str:
    """What nobody signed off, by name; "" where all is well."""
    facts = card.facts
    names = [facts.coatings[slug].name for slug in card.paints if facts.coatings[slug].name in {facts.coatings[one.entry].name for one in facts.unsigned("coatings")}]
    names += [facts.kits[card.kit].name] if any(one.entry == card.kit for one in facts.unsigned("kits")) else []
    names += ["this handbook's limits or law"] if any(one.fact not in ("coatings", "kits", "recipes") for one in facts.doubts if not one.signed) else []
    return f"DOUBTFUL figures, not signed off: {', '.join(names)}; see their pages. " if names else ""


def _shown(rows: Sequence[Sequence[Cell]]) -> list[dict[str, Any]]:
    return [{"head": row[0].row, "cells": [{"text": cell.text, "mark": MARK[cell.verdict]} for cell in row], "line": "", "no": "", "why": ""} for row in rows]


def _limit(card: Card) -> dict[str, Any]:
    rig = card.facts.kits[card.kit]
    cup, own = card.facts.cups[card.cup], card.facts.cups[rig.limit.cup]
    seconds, also = float(rig.limit.seconds), ""
    if cup.name != own.name:
        thick = card.day.formulas["cup-viscosity"].column({"cup": own.name, "time": seconds})
        told = float(card.day.formulas["cup-time"].column({"cup": cup.name, "viscosity": thick}))
        if told != told:
            raise ValueError(f"wanted a cup that can be read at this kit's limit; came {cup.name!r}; its own is {own.name}")
        seconds, also = Rounding("down", 1)(told), f" ({rig.limit.seconds:g} s in {own.label})"
    return {"k": "limit", "big": f"{seconds:g} s", "words": f"or less in {cup.label}{also}, and it sprays"}


def _paints(card: Card) -> dict[str, Any]:
    pots, litre, film = card.pots(), card.pick("1 L", "1 qt"), card.pick("µm", "mil")
    rows = []
    for slug, shown, cells in zip(card.paints, _shown(pots), pots, strict=True):
        latest = card.facts.coatings[slug].recoat_before
        shown["cells"].append({"text": f"{latest.to('h'):g}" if latest else "–", "mark": ""})
        no, why = verdict_line(cells)
        rows.append({**shown, "no": no, "why": why, "line": line(card, slug)})
    return {"k": "paints", "title": f"Each paint, unthinned: pour into {litre}, then time it in {card.facts.cups[card.cup].label}", "corner": "",
            "heads": [card.pick("mL in 1 L", "oz in 1 qt"), "then s", f"wet {film}", f"dry {film}", "coat h", "until h"], "rows": rows, "masks": [list(one) for one in masks(card).items()],
            "note": f"wet, dry: last wet and first dry tooth of the comb. * the data sheet's figures until you time it. × not with this kit: {_WARM}. ? not known. – no figure."}


def _surface(card: Card) -> dict[str, Any]:
    damp, rows = card.surfaces()
    unit = card.pick("°C", "°F")
    others = [card.facts.coatings[slug].name for slug in card.paints if slug not in card.kindred]
    return {"k": "grid", "title": f"Coldest surface you may spray, {unit}", "corner": f"Air {unit}", "heads": damp, "rows": _shown(rows),
            "note": f"For whichever of {', '.join(card.facts.coatings[slug].name for slug in card.kindred)} asks most." + (f" Not for {', '.join(others)}: see their pages." if others else "")
            + " Outdoors: wind, rain and tonight's low as well. * only just. × stop."}


def _strokes(card: Card) -> dict[str, Any]:
    inch = card.pick("mm", "in")
    return {"k": "grid", "title": f"Fan and step, {inch}", "corner": f"Gun {inch}", "heads": ["fan", "step", "even, %"], "rows": _shown(card.strokes()),
            "note": "* nearer or farther than this kit likes. Second coat: half a step over."}


BLOCKS: dict[str, Callable[[Card], dict[str, Any]]] = {
    "limit": _limit, "paints": _paints, "surface": _surface, "strokes": _strokes,
    "steps": lambda card: {"k": "steps", "steps": list(_STEPS)},
    "faults": lambda card: {"k": "faults", "faults": [list(one) for one in _FAULTS]},
    "notes": lambda card: {"k": "notes", "words": "Your own:"},
}


def chart_data(chart: EdgeChart) -> dict[str, Any]:
    """A chart that computes as a block."""
    drawn = alone(edge_svg(chart))
    return {"k": "chart", "title": chart.title, "caption": chart.caption, "svg": drawn["svg"], "alt": drawn["alt"],
            "how": list(chart.how), "take": chart.take, "note": " ".join((chart.reading_error, *chart.notes))}


def charts_of(card: Card, across: float, scale: float) -> list[dict[str, Any]]:
    """The charts of a kit and of each of the card's paints; one that reads too coarse is left out, and its table stands in the handbook."""
    book = tables.Book(card.facts, card.day.formulas, card.system)
    drawn = [tables.EDGES["thinner-grid"](book, card.kit, coatings=card.paints, wide=across / scale, high=112.0), tables.EDGES["speed-edge"](book, card.kit)]
    drawn += [builder(book, slug) for slug in card.paints for builder in tables.EDGES.values() if builder.per == "coating"]
    return [chart_data(one) for one in drawn if isinstance(one, EdgeChart)]


def side_data(card: Card, blocks: Sequence[str | dict[str, Any]], place: int) -> dict[str, Any]:
    """One side: its band, its blocks, what stops everything, whom to call, and edition and date."""
    facts, stops = card.facts, card.facts.stops
    set_blocks = [BLOCKS[one](card) if isinstance(one, str) else one for one in blocks]
    kit = facts.kits[card.kit].name
    said = [f"{stops['isocyanates'].title}. {_DECIDES}", f"{stops['lead'].title}. {stops['asbestos'].title}. {_DECIDES}"]
    return {"band": kit if place % 2 == 0 else "Air, gun, something wrong", "aside": facts.handbook.crew if place % 2 == 0 else kit, "blocks": set_blocks, "stop": said[place % 2],
            "phones": phones(facts), "qr": place % 2 == 1,
            "foot": f"{doubts(card)}{facts.handbook.title}. Revision {facts.handbook.revision}, {facts.handbook.date}, {facts.handbook.region.upper()}. {data_words(card)}"}
