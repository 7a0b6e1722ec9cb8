"""Figures of the van card: the day's chain at its printed situations. Every figure is an answer, and carries that answer's verdict."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from generators import tables
from generators.chain import answers
from generators.chain.day import Day, answer_named
from generators.situation import read
from generators.tables.sweep import OUTDOORS, day_of

MOST = 6  # paints that a card has room for


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
    cup: str

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
        litre = self.pick("1 L", "1 qt")
        film, dose = self.pick(("µm", "mL"), ("mil", "fl oz"))
        found = []
        for slug in self.paints:
            name = self.facts.coatings[slug].name
            base = {"kit": self.kit, "coating": slug, "cup": self.cup, "pot-litres": litre, "instruments": "exact"}
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
        kinds = ["shellac" if self.facts.coatings[slug].class_key.startswith("shellac") else self.facts.classes[self.facts.coatings[slug].class_key].family for slug in self.paints]
        most = max(kinds, key=lambda kind: (kinds.count(kind), kind == "waterborne"))
        return tuple(slug for slug, kind in zip(self.paints, kinds, strict=True) if kind == most)

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


def card_of(facts: Any, catalogue: Mapping[str, Any], kit: str, chosen: Sequence[str] | None = None, cup: str = "") -> Card:
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
    if cup and cup not in facts.cups:
        raise ValueError(f"wanted a cup; came {cup!r}; there are: " + ", ".join(facts.cups))
    paints = tuple((chosen or tables.mix.sprayable(facts))[:MOST])
    return Card(facts, day_of(tables.Book(facts, catalogue, facts.handbook.system)), kit, paints, facts.handbook.system, cup or facts.kits[kit].limit.cup)
