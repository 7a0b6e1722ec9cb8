"""Protective equipment by coating type, in the words of the region being built."""

from __future__ import annotations

import math

import numpy as np

from generators import units
from generators.facts.gloves import GLOVES
from generators.facts.law import Rule
from generators.table import CARE, FINE, STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame
from generators.tables.law import OLD, told


def protection(book: Book, classes: tuple[str, ...] | None = None) -> TextTable:
    """One row for each coating type. Only the region's own respirator advice is shown."""
    facts = book.facts
    rows = []
    for key, guard in facts.protection.items():
        if classes is not None and key not in classes:
            continue
        label = facts.classes[key].label if key in facts.classes else key
        stop = f"STOP. {facts.stops[guard.stop].title}. " if guard.stop else ""
        rows.append((label, stop + guard.hazards, facts.breathing(guard), guard.eyes, guard.hands, guard.body, guard.hearing,
                     guard.fire, guard.ventilation, guard.first_aid, guard.who_decides))
    return TextTable(
        "protection", "Protective equipment by coating type",
        "The usual floor for spraying each type. The safety data sheet, section 8, and a competent person override it.",
        ("Coating type", "What can hurt", "Breathing", "Eyes", "Hands", "Body", "Ears", "Fire", "Air", "First aid", "Who decides"),
        tuple(rows),
    )


SOLIDS, AIRBORNE = 600.0, 10.0  # g/L and %: common practice, no source


def devices(book: Book) -> list[tuple[float, str]]:
    """The region's assigned protection factors, least first. The EU has none of its own: each country sets them."""
    return sorted((rule.figure, rule.scope) for rule in book.facts.law(subject="masks") if not math.isnan(rule.figure))


def dust_limit(book: Book, part: str) -> Rule | None:
    """The region's limit for plain dust, `part` inhalable or respirable; None where it sets none or none is known."""
    rule = book.facts.rule(None, "dust", f"dust|{part}")
    return rule if rule and not math.isnan(rule.figure) else None


def mist(book: Book) -> Table:
    """Protection factor that paint mist asks for, by flow and air changes; the mist itself where the region sets no limit for dust."""
    room, facts, (flow, space) = book.room(), book.facts, book.pick(("mL/min", "m³"), ("fl oz/min", "ft³"))
    flows, changes = np.array(book.pick((60, 100, 150, 200, 300), (2, 3, 5, 7, 10)), float), np.array((0.5, 2, 6, 10, 20), float)
    level, why = compute(book.formulas["mist-level"], {"flow": flows[None, :], "solids": SOLIDS, "transfer-efficiency": 65.0, "airborne": AIRBORNE, "spraying": 10.0,
                                                      "volume": room, "air-changes": changes[:, None], "mixing": 3.0}, "mg/m³", {"flow": flow})
    axes = Axis.of("Air changes", "1/h", changes), Axis.of("Flow", flow, flows)
    situation = f"after ten minutes in a room of {units.convert(room, 'm³', space):.0f} {space}, by air changes and flow. A screening figure only."
    notes: tuple[str, ...] = ("65 % lands, a tenth of the rest stays in the air. At the face it can be several times more. Dust rules only: the safety data sheet may ask for more.",)
    inhaled, fine = dust_limit(book, "inhalable"), dust_limit(book, "respirable")
    if inhaled is None:
        return Table(
            "mist", "Water paint mist in the air", f"Milligrams in each cubic metre {situation}", *axes, frame(level), "mg/m³", Rounding("up", 10), book.system, reasons=frame(why), formulas=("mist-level",),
            notes=(f"No limit for dust is known here for {facts.region.title} as a whole: divide by your country's, and ask what your mask counts for. Until you know: powered or air-fed, or a brush.", *notes),
        )
    factor, _ = compute(book.formulas["protection-needed"], {"concentration": level, "limit": inhaled.figure}, "×")
    half, with_gas = facts.mask(None, "half"), facts.mask(None, "half_gas")
    enough = half.figure if half else math.nan
    zones = np.where(np.isnan(factor), "", np.where(factor <= enough, CARE, STOP))
    if fine:
        finer = float(book.formulas["protection-needed"].column({"concentration": inhaled.figure, "limit": fine.figure}))
        notes += (f"Where all the mist were fine enough to reach deep into the lung, the limit is {fine.amount}, and each figure {finer:.2g} times as high.",)
    if half and with_gas and with_gas.figure < half.figure:
        notes += (f"With a gas filter as well a half mask counts {with_gas.figure:g} only.",)
    full, fed = facts.mask(None, "full"), facts.mask(None, "air_fed")
    if full and fed:
        notes += (f"A full mask counts {full.figure:g}, air-fed or powered kit {fed.figure:g}: above that, more air, less paint at a time, or a brush.",)
    notes += (told([rule for rule in (inhaled, fine) if rule], facts.handbook.date),)
    return Table(
        "mist", "Water paint mist: how much mask", f"Times the limit of {inhaled.amount} for dust {situation}",
        *axes, frame(factor), "×", Rounding("up", 1), book.system, zones=frame(zones), reasons=frame(why),
        zone_words={CARE: f"a half mask with particle filters, fit tested, at the least: it counts {enough:g}", STOP: f"more than a half mask, which counts {enough:g}: powered or air-fed, or more air, or a brush" if half else "powered or air-fed, or more air, or a brush"},
        formulas=("mist-level", "protection-needed"), notes=notes,
    )


def factors(book: Book) -> TextTable:
    """The region's assigned protection factors."""
    facts = book.facts
    rows = tuple((rule.scope, rule.amount or "–", (OLD if rule.old(facts.handbook.date) else "") + "; ".join(part for part in (rule.says, rule.dated) if part)) for rule in facts.law(subject="masks"))
    return TextTable("factors", f"Assigned protection factors: {facts.region.title}", "How many times less you breathe, if it fits and is worn. Check before you rely on it.", ("Device", "Factor", "Basis"), rows or (("ask", "–", "none known here"),))


GLOVE_WORDS = {"good": "✓ good", "fair": "△ fair", "splash": "△ splash only", "no": "✕ no", "ask": "? ask"}
GLOVE_ZONES = {"good": FINE, "fair": CARE, "splash": CARE, "no": STOP, "ask": CARE}


def gloves(book: Book) -> TextTable:
    """How each glove material stands against each family of solvents: ranks, never minutes."""
    found = book.facts.gloves
    rows = tuple((row["family"], *(GLOVE_WORDS[row[material]] for material in GLOVES)) for row in found)
    bases = ", ".join(dict.fromkeys(row["basis"] for row in found))
    return TextTable("gloves", "Glove material by what is in the tin", "Ranks for one unmixed solvent; a warm hand lets it through sooner. Splash only: take it off at once. No figure in minutes is safe to print.",
                     ("In the tin", *GLOVES), rows or (("any", *("? ask",) * len(GLOVES)),), notes=(f"Basis of every rank: {bases or 'none'}. Section 8 of the safety data sheet and the glove's own sheet decide.",),
                     zones=tuple(tuple(GLOVE_ZONES[row[material]] for material in GLOVES) for row in found), grid=True)


BUILDERS = {
    "gloves": Builder(gloves, twins=False),
    "protection": Builder(protection, twins=False),
    "mist": Builder(mist, twins=False),
    "factors": Builder(factors, twins=False),
}
