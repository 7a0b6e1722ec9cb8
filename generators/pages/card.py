"""What goes on a kit's van card: the numbers looked up most, as texts for the typesetter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from generators import tables
from generators.render.card import card_pdf as typeset
from generators.table import Table

_FAULTS = (
    ("Rough?", "Closer. Less air, or more paint."), ("Pebbled?", "Thinner, or more air."),
    ("Runs?", "Faster. Less paint. Warm."), ("Curved fan?", "Turn the cap half a turn."),
    ("Spits?", "Nozzle tight, pot full, lid sealed."), ("White haze?", "Stop: too near the dew point."),
    ("Stripes?", "Mend the spacing."), ("Dimples?", "Stop: grease or silicone."),
)
_STEPS = ("Time it as supplied, to the first break of the stream.", "Far over? Add 5 % of the paint. Near? 1 to 3 %. Stir. Time it again.",
          "Read the dose on the kit's page. Never past the data sheet.")


def part(table: Table, title: str, corner: str, rows: Sequence[int], columns: Sequence[int], heads: Sequence[str], note: str) -> dict[str, Any]:
    """Chosen rows and columns of a table as texts."""
    picked = []
    for row in rows:
        cells = [table.cell(row, column) for column in columns]
        picked.append({"head": table.rows.heads[row], "cells": [{"text": cell.text, "zone": cell.zone} for cell in cells]})
    return {"title": title, "corner": corner, "heads": list(heads), "rows": picked, "note": note}


def _told(table: Table) -> list[int]:
    """Rows that hold at least one number: a card has no room for a row of dashes."""
    return [row for row, (_, cells) in enumerate(table.grid()) if any(not cell.reason for cell in cells)]


def card_data(facts: Any, catalogue: Mapping[str, Any], kit: str, size: str, chosen: Sequence[str] | None = None) -> dict[str, Any]:
    """Texts of one card. `chosen`: up to six coatings, the first six that may be thinned where none are named."""
    rig = facts.kits[kit]
    cup = facts.cups[rig.limit.cup]
    book = tables.Book(facts, catalogue, facts.handbook.system)
    slugs = tuple((chosen or tables.mix.sprayable(facts))[:6])
    thinning = tables.BUILDERS["thinning-steps"](book, kit, slugs)
    dew = tables.BUILDERS["dew-surface"](book)
    spacing = tables.BUILDERS["stroke-spacing"](book, kit)
    short = [facts.coatings[slug].name for slug in slugs]
    lines = tables.BUILDERS["coating-lines"](book, slugs)
    unit = book.pick("°C", "°F")
    inch = book.pick("mm", "in")
    decides = "Safety data sheet, law and a competent person decide."
    return {
        "title": f"{facts.handbook.title}: {rig.name}", "crew": facts.handbook.crew, "size": size, "kit": rig.name,
        "limit": f"{rig.limit.seconds:g} s", "limit-words": f"or less in {cup.label}, and it sprays",
        "thinning": part(thinning, f"Thinner, and seconds in {cup.label}", "% of paint · full pot", _told(thinning), range(len(slugs)), short,
                         "Bold: thin enough. * still too thick. – past the data sheet, or off the cup. Invented paints." ),
        "lines": {"title": "Each paint", "heads": list(lines.heads), "rows": [list(row) for row in lines.rows]},
        "steps": list(_STEPS),
        "dew": part(dew, f"Coldest surface you may spray, {unit}", f"Air {unit}", (0, 2, 4, 6, 8, 10), (2, 4, 6, 8, 9, 10), [dew.columns.heads[c] for c in (2, 4, 6, 8, 9, 10)],
                    "Bold: fine if the surface is as warm as the air. * only just. × stop."),
        "spacing": part(spacing, f"Fan and step, {inch}", f"Gun {inch}", (1, 2, 3, 4, 5, 6, 7), (0, 1, 2, 3), ("fan", "step: taper", "bell", "flat core"),
                        "Bold: this kit's reach. Half the fan is right only where it tapers. Second coat: half a step over."),
        "faults": [list(line) for line in _FAULTS],
        "stops": [f"{facts.stops['isocyanates'].title}. {decides}", f"{facts.stops['lead'].title}. {facts.stops['asbestos'].title}. {decides}"],
        "footer": f"{facts.handbook.title}. Revision {facts.handbook.revision}, {facts.handbook.date}. Demonstration data is invented: your own data sheets come first.",
        "qr-words": "Code that opens this kit's page",
    }


def made_on(facts: Any) -> datetime:
    """The stamp of every PDF: the handbook's own date, so that the same facts make the same bytes."""
    return datetime.fromisoformat(str(facts.handbook.date)).replace(tzinfo=UTC)


def card_pdf(facts: Any, catalogue: Mapping[str, Any], kits: str | Sequence[str], size: str = "a5", chosen: Sequence[str] | None = None) -> bytes:
    """Two sides for each kit as PDF: same facts, same bytes, since its date is the handbook's own.

    `chosen` names up to six coatings. A coating with a hard stop is refused: a card never shows how to spray it.
    """
    names = [kits] if isinstance(kits, str) else list(kits)
    for slug in chosen or ():
        if slug not in facts.coatings:
            raise ValueError(f"wanted coatings of this handbook; came {slug!r}; there are: " + ", ".join(facts.coatings))
        if facts.coatings[slug].stops:
            raise ValueError(f"wanted coatings that may be sprayed; came {slug!r}: STOP. {facts.stops[facts.coatings[slug].stops[0]].title}")
        if slug not in tables.mix.sprayable(facts):
            raise ValueError(f"wanted coatings with two timings; came {slug!r}; there are: " + ", ".join(tables.mix.sprayable(facts)))
    if chosen and len(chosen) > 6:
        raise ValueError(f"wanted up to six coatings; came {len(chosen)}; a card has room for six")
    base = str(facts.handbook.base_url).rstrip("/")
    return typeset([card_data(facts, catalogue, kit, size, chosen) for kit in names], [f"{base}/kits/{kit}.html" for kit in names], made_on(facts))
