"""The van card as it is composed: which paints, which cup, what goes on each side; and as it is set, alone or several on a sheet."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from generators.pages.card_figures import MOST, Card, Cell, card_of
from generators.pages.card_words import BLOCKS, charts_of, line, side_data, verdict_line
from generators.pages.look import mark_data
from generators.render.card import card_pdf as typeset
from generators.tables.mix import sprayable

FRONT, BACK = ("limit", "paints", "steps", "notes"), ("surface", "strokes", "faults", "notes")
# Cards in mm, and how much larger than A5 their type is. Of those on a sheet, two stand side by side with room for trim marks.
SIZES: dict[str, tuple[float, float, float]] = {"a5": (148, 210, 1.0), "a4": (210, 297, 1.36), "letter": (215.9, 279.4, 1.36)}
SHEETS: dict[str, tuple[float, float, float, float]] = {"a4": (297, 210, 138, 198), "letter": (279.4, 215.9, 133, 203)}
# A card with a chart may set its words and figures so much smaller and no further: they stay over 8 pt.
_LESS = (1.0, 0.95, 0.9, 0.85)
# Paper left white, mm: at the sides, at the top, at the foot. Of a card by itself it grows with its type.
_WHITE, _WHITE_ON_A_SHEET = (7.0, 6.0, 5.0), (6.0, 6.0, 6.0)
# Room between lines, em: what the sides can give without a paint the less.
_LEADING = {"charts": 0.45, "sheet": 0.45, "letter": 0.48, "a5": 0.52, "a4": 0.52}


@dataclass(frozen=True)
class Wanted:
    """How cards are composed. `front` and `back` name blocks; `charts` puts charts that compute on both; `sheet` sets two cards on a sheet."""

    size: str = "a5"
    coatings: tuple[str, ...] = ()
    cup: str = ""
    front: tuple[str, ...] = FRONT
    back: tuple[str, ...] = BACK
    charts: bool = False
    sheet: str = ""

    def __post_init__(self) -> None:
        for side in (self.front, self.back):
            for name in side:
                if name not in BLOCKS:
                    raise ValueError(f"wanted what goes on a side; came {name!r}; there are: " + ", ".join(BLOCKS))
        for name, known in ((self.size, SIZES), (self.sheet or "a4", SHEETS)):
            if name not in known:
                raise ValueError(f"wanted a size; came {name!r}; there are: " + ", ".join(known))


def card_data(card: Card, wanted: Wanted, less: float = 1.0) -> dict[str, Any]:
    """Texts of one card for the typesetter: its sides in order, their type `less` times as large as usual."""
    facts, rig = card.facts, card.facts.kits[card.kit]
    wide, high, scale = (*SHEETS[wanted.sheet][2:], less) if wanted.sheet else SIZES[wanted.size]
    if wanted.charts:
        charts: list[str | dict[str, Any]] = list(charts_of(card, wide - (_WHITE[0] + _WHITE[0]) * scale, scale))
        sides = [side_data(card, [chart, "notes"], place) for place, chart in enumerate([*charts, *(["faults"] if len(charts) % 2 else [])])]
    else:
        sides = [side_data(card, list(blocks), place) for place, blocks in enumerate((wanted.front, wanted.back))]
    return {"title": f"{facts.handbook.title}: {rig.name}", "band": facts.handbook.look_colour or "#000000", "crew": facts.handbook.crew, **mark_data(facts),
            "sides": sides, "width": wide, "height": high, "scale": scale, "leading": _LEADING["charts" if wanted.charts else "sheet" if wanted.sheet else wanted.size],
            "inset": list(_WHITE_ON_A_SHEET) if wanted.sheet else [white * scale for white in _WHITE],
            "address": f"{str(facts.handbook.base_url).rstrip('/')}/{'charts' if wanted.charts else f'kits/{card.kit}'}.html", "qr-words": "Code that opens this page of the handbook",
            "sheet": list(SHEETS[wanted.sheet][:2]) if wanted.sheet else [], "sheet-words": "Print at 100 %, both sides, turned over the long edge. Cut at the marks, round the corners, punch the hole, laminate."}


def card_json(facts: Any, catalogue: Mapping[str, Any], kits: Sequence[str], chosen: Sequence[str] | None = None, cup: str = "") -> list[dict[str, Any]]:
    """Every figure of the cards, with its value, verdict and situation; and the lines of words."""
    found = []
    for kit in kits:
        card = card_of(facts, catalogue, kit, chosen, cup)
        found += [{"kit": kit, **cell.as_json()} for cell in card.cells()]
        for slug, cells in zip(card.paints, card.pots(), strict=True):
            found.append({"kit": kit, **Cell("front", "paints", facts.coatings[slug].name, "words", " ".join(filter(None, (*verdict_line(cells), line(card, slug))))).as_json()})
    return found


def made_on(facts: Any) -> datetime:
    """The stamp of every PDF: the handbook's own date, so that the same facts make the same bytes."""
    return datetime.fromisoformat(str(facts.handbook.date)).replace(tzinfo=UTC)


def card_pdf(facts: Any, catalogue: Mapping[str, Any], kits: str | Sequence[str], size: str = "a5", chosen: Sequence[str] | None = None, wanted: Wanted | None = None) -> bytes:
    """Cards for each kit as PDF: same facts, same bytes, since its date is the handbook's own.

    `chosen` names up to six coatings. A coating with a hard stop is refused: a card never shows how to spray it. Where nobody chose,
    as many paints as the sides hold; what does not fit is a ValueError, and no word is cut.
    """
    asked = wanted or Wanted(size, tuple(chosen or ()))
    names = [kits] if isinstance(kits, str) else list(kits)
    paints = asked.coatings or tuple(sprayable(facts)[:1] if asked.charts else sprayable(facts)[:MOST])
    sizes = _LESS if asked.charts else _LESS[:1]
    for count, less in ((count, less) for count in range(len(paints), 0, -1) for less in sizes):
        data = [card_data(card_of(facts, catalogue, kit, paints[:count], asked.cup), asked, less) for kit in names]
        # First each side on a page of its own, sheet or no sheet: more pages than sides are words that do not fit.
        made = typeset([{**card, "sheet": []} for card in data], [card["address"] for card in data], made_on(facts))
        if len(re.findall(rb"/Type ?/Page\b", made)) <= sum(len(card["sides"]) for card in data):
            return typeset(data, [card["address"] for card in data], made_on(facts)) if asked.sheet else made
        if asked.coatings and less == sizes[-1]:
            break
    raise ValueError(f"wanted words that fit their sides; came more with {len(asked.coatings)} coatings; choose fewer coatings, or less for a side")


__all__ = ["BACK", "FRONT", "SHEETS", "SIZES", "Card", "Cell", "Wanted", "card_data", "card_json", "card_of", "card_pdf", "made_on"]
