"""The van card: the day's chain at its printed situations. Every figure is an answer, and carries that answer's verdict."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from generators import tables
from generators.basis import Basis
from generators.chain import answers
from generators.chain.day import Day, answer_named
from generators.render.card import card_pdf as typeset
from generators.situation import read
from generators.tables.sweep import OUTDOORS, day_of
from generators.verdict import CARE, GO, STOP, UNKNOWN

MOST = 6  # paints that a card has room for
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


@dataclass(frozen=True)
class Cell:
    """One printed figure: where it stands, the answer it is, and the situation it is for."""

    side: str
    table: str
    row: str
    column: str
    text: str
    answer: str = ""
    told: Mapping[str, Any] = field(default_factory=dict)
    situation: Mapping[str, str] = field(default_factory=dict)

    @property
    def verdict(self) -> str:
        """Of the answer that it shows."""
        return str(self.told.get("verdict", ""))

    def as_json(self) -> dict[str, Any]:
        """As `almanac card --json` prints it; a cell of fixed words has no answer."""
        plain: dict[str, Any] = {"side": self.side, "table": self.table, "row": self.row, "column": self.column, "text": self.text}
        if self.answer:
            plain |= {"answer": self.answer} | {key: self.told[key] for key in ("value", "unit", "verdict", "because") if key in self.told} | {"situation": dict(self.situation)}
        return plain


@dataclass(frozen=True)
class Card:
    """One kit's card over chosen paints: cells by table, and the words round them."""

    facts: Any
    day: Day
    kit: str
    paints: tuple[str, ...]
    system: str

    def cell(self, side: str, table: str, row: str, column: str, answer: str, situation: Mapping[str, str], dash: str = "–") -> Cell:
        """The chain asked once."""
        told = answers.ask(self.day, read(list(situation.items()), self.day.names()), answer, self.system)
        text = answers.printed(answer_named(answer), told, self.system) if isinstance(told.get("value"), float) else dash
        return Cell(side, table, row, column, text.partition(" ")[0] if text != dash else dash, answer, told, situation)

    def pick(self, metric: Any, us: Any) -> Any:
        """One of two, by system of units."""
        return us if self.system == "us" else metric

    def pots(self) -> list[list[Cell]]:
        """A line for each paint: thinner for so much paint, the cup time then, wet and dry tooth, the next coat."""
        rig = self.facts.kits[self.kit]
        litre = self.pick("1 L", "1 qt")
        film, dose = self.pick(("µm", "mL"), ("mil", "fl oz"))
        found = []
        for slug in self.paints:
            name = self.facts.coatings[slug].name
            base = {"kit": self.kit, "coating": slug, "cup": rig.limit.cup, "pot-litres": litre, "instruments": "exact"}
            if self.facts.coatings[slug].two_pack is not None:
                base["hardener"] = self.facts.coatings[slug].hardener
            dry = {**base, **OUTDOORS, "air-temperature": self.pick("23 °C", "73 °F"), "relative-humidity": "50 %"}
            found.append([
                self.cell("front", "paints", name, f"{dose} in {litre}", "pot", base), self.cell("front", "paints", name, "then, s", "seconds-after", base),
                self.cell("front", "paints", name, f"wet tooth {film}", "teeth", base), self.cell("front", "paints", name, f"dry tooth {film}", "dry-tooth", base),
                self.cell("front", "paints", name, "next coat, h", "coat-wait", dry)])
        return found

    @property
    def kindred(self) -> tuple[str, ...]:
        """Paints that the table of surfaces is for: those of the kind that most of this card's are."""
        kinds = [self.facts.classes[self.facts.coatings[slug].class_key].family for slug in self.paints]
        most = max(kinds, key=lambda kind: (kinds.count(kind), kind == "waterborne"))
        return tuple(slug for slug, kind in zip(self.paints, kinds, strict=True) if kind == most and not self.facts.coatings[slug].class_key.startswith("shellac"))

    def surfaces(self) -> tuple[list[str], list[list[Cell]]]:
        """Coldest surface over air and humidity, for whichever paint of the card asks most."""
        unit = self.pick("°C", "°F")
        airs, dampness = self.pick((8, 10, 15, 20, 25, 30), (45, 50, 60, 70, 80, 90)), (50, 60, 70, 75, 80, 85)
        book, asked = tables.Book(self.facts, self.day.formulas, self.system), self.kindred
        swept = {slug: tables.BUILDERS["dew-surface"](book, slug) for slug in asked}
        rank = {"fine": 0, "care": 1, "unknown": 2, "stop": 3}
        rows = []
        for air in airs:
            cells = []
            for humidity in dampness:
                def weight(slug: str, air: float = air, humidity: float = humidity) -> tuple[int, float]:
                    table = swept[slug]
                    place = table.rows.heads.index(f"{air:g}"), table.columns.heads.index(f"{humidity:g} %")
                    return rank[str(table.zones.iat[place])], float(table.body.iat[place])

                worst = max(asked, key=weight)
                situation = {"coating": worst, **OUTDOORS, "air-temperature": f"{air:g} {unit}", "relative-humidity": f"{humidity:g} %"}
                if self.facts.coatings[worst].two_pack is not None:
                    situation["hardener"] = self.facts.coatings[worst].hardener
                cells.append(self.cell("back", "surface", f"{air:g} {unit}", f"{humidity:g} %", "lowest-surface", situation))
            rows.append(cells)
        return [f"{humidity} %" for humidity in dampness], rows

    def strokes(self) -> list[list[Cell]]:
        """Fan and step over distance."""
        unit = self.pick("mm", "in")
        base = {"kit": self.kit, "coating": self.paints[0], "instruments": "exact"}
        if self.facts.coatings[self.paints[0]].two_pack is not None:
            base["hardener"] = self.facts.coatings[self.paints[0]].hardener
        found = []
        for off in self.pick((100, 125, 150, 175, 200, 225, 250), (4, 5, 6, 7, 8, 9, 10)):
            situation = {**base, "distance": f"{off:g} {unit}"}
            found.append([self.cell("back", "strokes", f"{off:g} {unit}", name, name, situation) for name in ("fan", "step", "evenness")])
        return found

    def cells(self) -> list[Cell]:
        """Every figure of the card, in the order it is read."""
        return [cell for block in (self.pots(), self.surfaces()[1], self.strokes()) for row in block for cell in row]


def _data_words(facts: Any, kit: str, paints: Sequence[str]) -> str:
    """Where the card's figures come from, true to the data."""
    kinds = {facts.kits[kit].origin.basis, *(facts.coatings[slug].origin.basis for slug in paints)}
    if Basis.INVENTED in kinds:
        return "Demonstration data, invented: your own data sheets come first."
    return "Worked from: " + ", ".join(sorted(str(kind) for kind in kinds)) + ". The data sheet in your hand comes first."


def _line(card: Card, slug: str, cells: Sequence[Cell]) -> str:
    """What goes under a paint's figures: why they are not plain go, its air, its latest coat, pot life, mask and fire."""
    tin = card.facts.coatings[slug]
    unit = card.pick("°C", "°F")
    pot = cells[0]
    said = []
    if pot.verdict == STOP:
        said.append("NOT WITH THIS KIT: warm it, or the other kit.")
    rows = [f"Air {tin.air_min.to(unit):.0f} to {tin.air_max.to(unit):.0f} {unit}, to {tin.humidity_max.to('%'):g} %."]
    if tin.recoat_before:
        rows.append(f"Coat no later than {tin.recoat_before.to('h'):g} h.")
    if tin.two_pack is not None:
        rows.append(f"Pot life {tin.two_pack.pot_life.to('h'):g} h, half for each {card.pick('10 °C', '18 °F')} over {card.pick('23 °C', '73 °F')}.")
    guard = card.facts.protection.get(tin.class_key)
    if guard is not None:
        rows.append(card.facts.breathing(guard).partition(";")[0].rstrip(".") + ".")
    if card.facts.classes[tin.class_key].family in ("solvent", "oil", "two-pack"):
        rows.append("Burns: no flame, phone outside.")
    return " ".join([*said, *rows])


def _phones(facts: Any) -> str:
    """Emergency and poison numbers of the region, with their hours."""
    phones = facts.regions[facts.handbook.region].phones
    if phones is None:
        return "Emergency ________  Poison ________"

    def calls(kind: str) -> str:
        first = getattr(phones, kind)[0]
        told = [first.where or "", "" if first.hours.startswith("day and night") else first.hours]
        return f"{first.call} ({', '.join(filter(None, told))})" if any(told) else str(first.call)

    return f"Emergency {calls('emergency')}. Poison {calls('poison')}."


def _shown(rows: Sequence[Sequence[Cell]], heads: Sequence[str], lines: Sequence[str] = ()) -> list[dict[str, Any]]:
    return [{"head": row[0].row, "cells": [{"text": cell.text, "mark": MARK[cell.verdict]} for cell in row], "line": lines[place] if lines else ""} for place, row in enumerate(rows)]


def card_of(facts: Any, catalogue: Mapping[str, Any], kit: str, chosen: Sequence[str] | None = None) -> Card:
    """A card. `chosen`: up to six coatings, the first six that may be thinned where none are named. ValueError for what it must not show."""
    for slug in chosen or ():
        if slug not in facts.coatings:
            raise ValueError(f"wanted coatings of this handbook; came {slug!r}; there are: " + ", ".join(facts.coatings))
        if facts.coatings[slug].stops:
            raise ValueError(f"wanted coatings that may be sprayed; came {slug!r}: STOP. {facts.stops[facts.coatings[slug].stops[0]].title}")
        if slug not in tables.mix.sprayable(facts):
            raise ValueError(f"wanted coatings with two timings; came {slug!r}; there are: " + ", ".join(tables.mix.sprayable(facts)))
    if chosen and len(chosen) > MOST:
        raise ValueError(f"wanted up to six coatings; came {len(chosen)}; a card has room for six")
    paints = tuple((chosen or tables.mix.sprayable(facts))[:MOST])
    return Card(facts, day_of(tables.Book(facts, catalogue, facts.handbook.system)), kit, paints, facts.handbook.system)


def _doubts(facts: Any, card: Card) -> str:
    """What nobody signed off, by name; "" where all is well."""
    names = [facts.coatings[slug].name for slug in card.paints if facts.coatings[slug].name in {facts.coatings[one.entry].name for one in facts.unsigned("coatings")}]
    names += [facts.kits[card.kit].name] if any(one.entry == card.kit for one in facts.unsigned("kits")) else []
    names += ["this handbook's limits or law"] if any(one.fact not in ("coatings", "kits", "recipes") for one in facts.doubts if not one.signed) else []
    return f"DOUBTFUL figures, not signed off: {', '.join(names)}; see their pages. " if names else ""


def card_data(card: Card, size: str) -> dict[str, Any]:
    """Texts of one card for the typesetter."""
    facts, rig = card.facts, card.facts.kits[card.kit]
    cup = facts.cups[rig.limit.cup]
    pots, (damp, surfaces), strokes = card.pots(), card.surfaces(), card.strokes()
    unit, inch, litre = card.pick("°C", "°F"), card.pick("mm", "in"), card.pick("1 L", "1 qt")
    others = [facts.coatings[slug].name for slug in card.paints if slug not in card.kindred]
    stops = facts.stops
    return {
        "title": f"{facts.handbook.title}: {rig.name}", "crew": facts.handbook.crew, "size": size, "kit": rig.name, "phones": _phones(facts),
        "limit": f"{rig.limit.seconds:g} s", "limit-words": f"or less in {cup.label}, and it sprays",
        "paints": {"title": f"Each paint, unthinned: pour into {litre}, then time it in {cup.label}", "corner": "",
                   "heads": [cells.column for cells in pots[0]] if pots else [], "rows": _shown(pots, (), [_line(card, slug, cells) for slug, cells in zip(card.paints, pots, strict=True)]),
                   "note": "* the data sheet's figures until you time it. × not with this kit: warm it (water bath, lid loose, no flame, never mixed two-pack), or the other kit. ? not known. – no figure."},
        "steps": list(_STEPS),
        "surface": {"title": f"Coldest surface you may spray, {unit}", "corner": f"Air {unit}", "heads": damp, "rows": _shown(surfaces, damp),
                    "note": f"For whichever of {', '.join(facts.coatings[slug].name for slug in card.kindred)} asks most." + (f" Not for {', '.join(others)}: see their pages." if others else "")
                    + " Outdoors: wind, rain and tonight's low as well. * only just. × stop."},
        "strokes": {"title": f"Fan and step, {inch}", "corner": f"Gun {inch}", "heads": ["fan", "step", "even, %"], "rows": _shown(strokes, ()),
                    "note": "* nearer or farther than this kit likes. Second coat: half a step over."},
        "faults": [list(line) for line in _FAULTS],
        "stops": [f"{stops['isocyanates'].title}. {_DECIDES}", f"{stops['lead'].title}. {stops['asbestos'].title}. {_DECIDES}"],
        "footer": f"{_doubts(facts, card)}{facts.handbook.title}. Revision {facts.handbook.revision}, {facts.handbook.date}, {facts.handbook.region.upper()}. {_data_words(facts, card.kit, card.paints)}",
        "address": f"{str(facts.handbook.base_url).rstrip('/')}/kits/{card.kit}.html", "qr-words": "Code that opens this kit's page",
    }


def card_json(facts: Any, catalogue: Mapping[str, Any], kits: Sequence[str], chosen: Sequence[str] | None = None) -> list[dict[str, Any]]:
    """Every figure of the cards, with its value, verdict and situation; and the lines of words."""
    found = []
    for kit in kits:
        card = card_of(facts, catalogue, kit, chosen)
        found += [{"kit": kit, **cell.as_json()} for cell in card.cells()]
        for slug, cells in zip(card.paints, card.pots(), strict=True):
            found.append({"kit": kit, **Cell("front", "paints", facts.coatings[slug].name, "words", _line(card, slug, cells)).as_json()})
    return found


def made_on(facts: Any) -> datetime:
    """The stamp of every PDF: the handbook's own date, so that the same facts make the same bytes."""
    return datetime.fromisoformat(str(facts.handbook.date)).replace(tzinfo=UTC)


def card_pdf(facts: Any, catalogue: Mapping[str, Any], kits: str | Sequence[str], size: str = "a5", chosen: Sequence[str] | None = None) -> bytes:
    """Two sides for each kit as PDF: same facts, same bytes, since its date is the handbook's own.

    `chosen` names up to six coatings. A coating with a hard stop is refused: a card never shows how to spray it. Where nobody chose,
    as many paints as the sides hold; chosen ones that do not fit are a ValueError, and no word is cut.
    """
    names = [kits] if isinstance(kits, str) else list(kits)
    for count in range(MOST, 0, -1):
        data = [card_data(card_of(facts, catalogue, kit, chosen or tables.mix.sprayable(facts)[:count]), size) for kit in names]
        made = typeset(data, [card["address"] for card in data], made_on(facts))
        if len(re.findall(rb"/Type ?/Page\b", made)) <= 2 * len(names):
            return made
        if chosen:
            break
    raise ValueError(f"wanted words that fit two sides; came more with {len(chosen or ())} coatings; choose fewer coatings")


__all__ = ["Card", "Cell", "card_data", "card_json", "card_of", "card_pdf", "made_on"]
