"""Protective equipment by coating type, in the words of the region being built."""

from __future__ import annotations

from generators.table import TextTable
from generators.tables.book import Book, Builder


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


BUILDERS = {
    "protection": Builder(protection, twins=False),
}
