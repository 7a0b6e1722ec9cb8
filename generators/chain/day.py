"""A situation brought together with the facts, and walked: the one way from what a person knows to every answer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from generators import noted
from generators.chain import tell
from generators.chain.known import PLACES, UNITS, Told, held_of, held_readings, timings
from generators.chain.links import Answer
from generators.chain.studied import studies
from generators.chain.today import chain
from generators.chain.walk import Walked, units_of, walk
from generators.formula import Formula
from generators.situation import Situation
from generators.verdict import Held
from generators.verdict.held import gone, number, text

_MOST_BROUGHT = 30  # choices whose facts stay at hand: a builder asks for the same ones many times over, and seldom comes back to them
_CHOICES = ("region", "shape", "ground", "place", "kit", "coating")  # words of a situation that bring facts
# Facts that come with a reading's choice: without it they are missing, and the reading would settle them.
_OF_KIT_WORDS = ("kit.cup", "kit.pattern", "kit.name")
_COATING_WORDS = ("name", "hardener", "stop", "family", "voc_rule", "voc_room", "window", "parts", "pair", "cup", "mask", "gloves")


@dataclass
class Day:
    """Facts, formulas and studies of one handbook, ready to be asked about situations."""

    facts: Any
    formulas: Mapping[str, Formula]
    told: dict[tuple[str, str], dict[str, Told]] = field(default_factory=dict)
    brought: dict[tuple[str | None, ...], noted.Told] = field(default_factory=dict)

    @cached_property
    def studied(self) -> Mapping[str, Any]:
        """What the studies gave at build."""
        return studies(self.facts)

    def once(self, kind: str, slug: str, region: str = "") -> dict[str, Told]:
        """Facts told of one kit, coating or region, worked once."""
        key = (kind, f"{slug}@{region}")
        if key not in self.told:
            with noted.apart():  # of a paint it is noted which of these facts somebody looks at
                told = (tell.kit_told(self.facts, slug) if kind == "kit" else tell.coating_told(self.facts, slug, region) if kind == "coating" else
                        tell.region_told(self.facts, slug) if kind == "region" else tell.limits_told(self.facts))
                self.told[key] = noted.Told(told, slug, region, frozenset(told)) if kind == "coating" else told
        return self.told[key]

    def facts_of(self, situation: Situation) -> noted.Told:
        """Every fact that this situation's choices bring."""
        words = situation.words
        region = words.get("region", self.facts.handbook.region)
        found = {**self.once("limits", ""), **self.once("region", region)}
        found |= tell.shape_told(self.facts, words.get("shape")) | tell.ground_told(self.facts, words.get("ground"), words.get("place"))
        if "kit" in words:
            found |= self.once("kit", words["kit"])
        if "coating" not in words:
            return noted.Told(found)
        tin = self.once("coating", words["coating"], region)
        found.update(tin)  # as it stands: nobody has looked at it yet
        return noted.Told(found, words["coating"], region, frozenset(tin))

    def held(self, situation: Situation, columns: Mapping[str, Any] | None = None) -> tuple[dict[str, Held], dict[str, list[dict[str, Held]]]]:
        """(everything held by name, parts by list). `columns` puts whole columns in the place of readings' numbers, exactly as given."""
        chosen = tuple(situation.words.get(word) for word in _CHOICES)
        if chosen not in self.brought:
            if len(self.brought) > _MOST_BROUGHT:
                self.brought.clear()
            self.brought[chosen] = self._brought(situation)
        held = self.brought[chosen].like(self.brought[chosen])
        held |= held_readings(situation, held)
        held["region"] = text(situation.words.get("region", self.facts.handbook.region))
        for name, values in (columns or {}).items():
            held[name] = number(values) if not isinstance(values, Held) else values
        if held["coating.parts"].text == "one-pack" and not held["hardener"].known:
            held["hardener"] = text("none")
        sheet = tell.sheet_timings(self.facts, situation.words["coating"]) if "coating" in situation.words else ()
        pot = timings(situation, held, sheet, held, [cup.name for cup in self.facts.cups.values() if cup.dip], columns)
        taken = len(situation.doses) + ("cup-time" in situation.numbers or "cup-time" in (columns or {}))
        unthinned = len(pot) == 1 and pot[0]["share"].known and not pot[0]["share"].likely.any()
        held["pot-laws"] = text("two" if len(pot) > 1 else "learned" if unthinned and held["coating.steepness"].known else "one")
        held["pot-timed"] = text("sheet" if not taken else "once" if taken == 1 and not situation.doses else "twice")
        held["pot.share_now"] = number(0.0) if not situation.doses else Held()
        held["comb"] = text(self.facts.combs[0].comb if self.facts.combs else None)
        return held, {"timings": pot, "places": [{"at": number(at), "edge": number(edge)} for at, edge in PLACES]}

    def _brought(self, situation: Situation) -> noted.Told:
        """What a situation's choices bring, as the chain holds it."""
        told = self.facts_of(situation)
        held = told.like({name: held_of(one) for name, one in dict.items(told)})
        if "kit" not in situation.words:
            held |= {name: gone(frozenset({"kit"})) for name in UNITS if name.startswith("kit.")} | {name: gone(frozenset({"kit"}), is_text=True) for name in _OF_KIT_WORDS}
        if "coating" not in situation.words:
            missing = frozenset({"coating"})
            held |= {name: gone(missing) for name in UNITS if name.startswith(("coating.", "class."))} | {f"coating.{name}": gone(missing, is_text=True) for name in _COATING_WORDS}
            held |= {f"class.{name}": gone(missing, is_text=True) for name in ("thin_cup", "thin_end")}
        return held

    @cached_property
    def units(self) -> dict[str, str]:
        """Unit of every reading, fact and figure of the chain."""
        return units_of(chain(), self.formulas, self.studied, UNITS)

    def walk(self, situation: Situation, only: Iterable[str] | None = None, columns: Mapping[str, Any] | None = None) -> Walked:
        """Walk the day's chain for one situation (or over whole columns of readings)."""
        held, parts = self.held(situation, columns)
        return walk(chain(), self.formulas, held, parts, self.units, self.studied, only)

    def names(self) -> dict[str, list[str]]:
        """Known names for the readings that pick from facts."""
        return {"kits": list(self.facts.kits), "coatings": list(self.facts.coatings), "cups": list(self.facts.cups), "regions": list(self.facts.regions)}


def answer_named(name: str) -> Answer:
    """One declared answer. KeyError names it."""
    return next(one for one in chain().answers if one.name == name)

