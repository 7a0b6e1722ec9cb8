"""Protective equipment by coating type, in the words of the region being built."""

from __future__ import annotations

import numpy as np

from generators.table import CARE, STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, heads


def protection(book: Book, classes: tuple[str, ...] | None = None) -> TextTable:
    """One row for each coating type. Only the region's own respirator advice is shown."""
    facts = book.facts
    region = facts.handbook.region
    rows = []
    for key, guard in facts.protection.items():
        if classes is not None and key not in classes:
            continue
        label = facts.classes[key].label if key in facts.classes else key
        stop = f"STOP. {facts.stops[guard.stop].title}. " if guard.stop else ""
        rows.append((label, stop + guard.hazards, guard.respiratory[region], guard.eyes, guard.hands, guard.body, guard.hearing,
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
    return sorted((float(row["factor"]), row["device"]) for row in book.facts.protection_factors if row["region"] == book.facts.handbook.region)


def mist(book: Book) -> Table:
    """Protection factor that paint mist asks for, by flow and air changes."""
    room, region = book.facts.value("limits.room_volume"), book.facts.regions[book.facts.handbook.region]
    flows, changes = np.array((60, 100, 150, 200, 300), float), np.array((0.5, 2, 6, 10, 20), float)
    level, why = compute(book.formulas["mist-level"], {"flow": flows[None, :], "solids": SOLIDS, "transfer-efficiency": 65.0, "airborne": AIRBORNE, "spraying": 10.0,
                                                      "volume": room.to("m³"), "air-changes": changes[:, None], "mixing": 3.0}, "mg/m³")
    factor, _ = compute(book.formulas["protection-needed"], {"concentration": level, "limit": region.mist_limit.to("mg/m³")}, "×")
    zones = np.where(np.isnan(factor), "", np.where(factor <= 20, CARE, STOP))
    return Table(
        "mist", "Water paint mist: how much mask", f"Times the limit of {region.mist_limit.value:g} {region.mist_limit.unit} for dust, after ten minutes in a room of {room.value:g} {room.unit}, by air changes and flow. A screening figure only.",
        Axis("Air changes", "1/h", heads(changes)), Axis("Flow", "mL/min", heads(flows)), frame(factor), "×", Rounding("up", 1), book.system, zones=frame(zones), reasons=frame(why),
        zone_words={CARE: "a half mask with particle filters, fit tested, at the least", STOP: "more than a half mask: powered or air-fed, or more air, or a brush"}, formulas=("mist-level", "protection-needed"),
        notes=("65 % lands, a tenth of the rest stays in the air. At the face it can be several times more. Dust rules only: the safety data sheet may ask for more.",),
    )


def factors(book: Book) -> TextTable:
    """The region's assigned protection factors."""
    region = book.facts.handbook.region
    rows = tuple((device, f"{factor:g}") for factor, device in devices(book))
    if not rows:
        return TextTable("factors", "Assigned protection factors", "Each country of the EU sets its own. Ask the labour inspectorate; EN 529 lists them.", ("Device", "Factor"), (("ask your national body", "–"),))
    checked = max(row["checked"] for row in book.facts.protection_factors if row["region"] == region)
    return TextTable("factors", f"Assigned protection factors, {region.upper()}", f"How many times less you breathe, if it fits and is worn. Checked {checked}. Check before you rely on it.", ("Device", "Factor"), rows)


BUILDERS = {
    "protection": Builder(protection, twins=False),
    "mist": Builder(mist, twins=False),
    "factors": Builder(factors, twins=False),
}
