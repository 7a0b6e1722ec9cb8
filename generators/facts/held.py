"""Facts: everything in site_data once it has been read and checked, and what can be asked of it."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from generators.facts import model, rows
from generators.facts.doubts import Doubt
from generators.facts.law import Law, Rule
from generators.facts.regions import Region
from generators.facts.training import Drill, Planted
from generators.facts.weather import Year
from generators.quantity import Quantity


@dataclass(frozen=True)
class Facts:
    """Everything in site_data, checked. Mappings are in file-name order."""

    root: Path
    handbook: model.Handbook
    kits: Mapping[str, model.Kit]
    coatings: Mapping[str, model.Coating]
    classes: Mapping[str, model.CoatingClass]
    protection: Mapping[str, model.Protection]
    stops: Mapping[str, model.Stop]
    cups: Mapping[str, model.Cup]
    limits: Mapping[str, Quantity]
    sources: Mapping[str, model.Source]
    words: tuple[model.Word, ...]
    solvents: tuple[rows.Solvent, ...]
    flow_times: tuple[rows.FlowTime, ...] = ()
    cup_disagreements: tuple[rows.CupDisagreement, ...] = ()
    own_cups: Mapping[str, model.OwnCup] = field(default_factory=dict)
    efficiencies: tuple[rows.Landing, ...] = ()
    combs: tuple[rows.Comb, ...] = ()
    techniques: Mapping[str, model.Technique] = field(default_factory=dict)
    weather: Mapping[str, Year] = field(default_factory=dict)
    regions: Mapping[str, Region] = field(default_factory=dict)
    rules: Law = field(default_factory=lambda: Law(()))
    faults: Mapping[str, model.Fault] = field(default_factory=dict)
    rates: Mapping[str, Quantity] = field(default_factory=dict)
    surfaces: tuple[rows.Surface, ...] = ()
    care: tuple[rows.Care, ...] = ()
    recipes: Mapping[str, model.Recipe] = field(default_factory=dict)
    cleaning: Mapping[str, model.Cleaning] = field(default_factory=dict)
    finishes: Mapping[str, model.Finish] = field(default_factory=dict)
    over: Mapping[tuple[str, str], rows.Over] = field(default_factory=dict)  # by (new coat, old coat)
    substrates: Mapping[str, model.Substrate] = field(default_factory=dict)
    pieces: Mapping[str, model.Piece] = field(default_factory=dict)
    area_factors: tuple[rows.AreaFactor, ...] = ()
    stages: Mapping[str, model.Stage] = field(default_factory=dict)
    templates: Mapping[str, model.Template] = field(default_factory=dict)
    fault_drawings: Mapping[str, model.FaultDrawing] = field(default_factory=dict)
    drills: Mapping[str, Drill] = field(default_factory=dict)
    planted: Mapping[str, Planted] = field(default_factory=dict)
    gloves: tuple[dict[str, str], ...] = ()
    doubts: tuple[Doubt, ...] = ()  # unlikely values; those signed off say by whom
    search: model.Search = field(default_factory=lambda: model.Search(asked={}, twins={}, small=[]))

    @property
    def region(self) -> Region:
        """The handbook's own region."""
        return self.regions[self.handbook.region]

    def doubtful(self, fact: str, *entries: str) -> tuple[Doubt, ...]:
        """Doubts about some entries of a file, or about all of it where none is named. Those that nobody signed off come first."""
        found = [one for one in self.doubts if one.fact == fact and (not entries or one.entry in entries)]
        return tuple(sorted(found, key=lambda one: bool(one.signed)))

    def unsigned(self, fact: str) -> tuple[Doubt, ...]:
        """Doubts about a file that nobody signed off."""
        return tuple(one for one in self.doubts if one.fact == fact and not one.signed)

    def tin_name(self, slug: str) -> str:
        """A coating's name; where a figure of it is doubtful, with that word."""
        return self.coatings[slug].name + (" (doubtful figures)" if any(one.entry == slug for one in self.unsigned("coatings")) else "")

    @property
    def begun_from(self) -> dict[str, model.Template]:
        """Templates whose surfaces are all there."""
        there = {row.name for row in self.surfaces}
        return {slug: one for slug, one in self.templates.items() if all(counted.thing in there for counted in one.surfaces)}

    def law(self, region: str | None = None, subject: str = "", on: str | None = None, key: str = "") -> tuple[Rule, ...]:
        """Rules in force (see `generators.facts.law`): of the handbook's own place and day where none are named."""
        return self.rules(region or self.handbook.place, subject, on or self.handbook.date, key)

    def rule(self, region: str | None, subject: str, key: str, on: str | None = None) -> Rule | None:
        """The one rule in force for a key, or None."""
        return self.rules.one(region or self.handbook.place, subject, key, on or self.handbook.date)

    def coming(self, region: str | None = None, subject: str = "", on: str | None = None) -> tuple[Rule, ...]:
        """Rules that begin after the day."""
        return self.rules.coming(region or self.handbook.place, subject, on or self.handbook.date)

    def mask(self, region: str | None = None, kind: str = "half", on: str | None = None) -> Rule | None:
        """What a mask counts for in a region: `kind` is half, half_gas, full or air_fed. None where the region sets no figure."""
        region = region or self.handbook.region
        masks = self.regions[region].masks
        return self.rules.one(region, "masks", getattr(masks, kind), on or self.handbook.date) if masks else None

    def breathing(self, guard: model.Protection, region: str | None = None) -> str:
        """A sheet's words on breathing for a region: its own, else those of the region that it is like, else the stricter way."""
        name: str | None = region or self.handbook.region
        asked: set[str] = set()
        while name and name not in guard.respiratory and name not in asked:
            asked.add(name)
            name = self.regions[name].masks_like
        return guard.respiratory[name] if name and name in guard.respiratory else "No words for this region: the safety data sheet, section 8, and a competent person say which."

    def masks_by_kind(self) -> dict[str, list[str]]:
        """Words on breathing for the handbook's region → the kinds of coating they hold for, in the order of protection.yaml."""
        said: dict[str, list[str]] = {}
        for kind, guard in self.protection.items():
            said.setdefault(self.breathing(guard), []).append(kind)
        return said

    def value(self, key: str) -> Quantity:
        """A limit by its dotted name, such as limits.dew_margin_min. KeyError names the nearest."""
        short = key.removeprefix("limits.")
        if short not in self.limits:
            close = difflib.get_close_matches(short, self.limits, 1)
            raise KeyError(f"no value {key!r}" + (f"; did you mean limits.{close[0]}?" if close else ""))
        return self.limits[short]


def old_values(facts: Facts) -> list[str]:
    """Legal values that were checked more than a year before the handbook's own date, one line each."""
    day = date.fromisoformat(facts.handbook.date)
    region = facts.handbook.region

    def old(checked: str) -> bool:
        try:
            return (day - date.fromisoformat(checked)).days > 365
        except ValueError:
            return True

    found = [f"site_data/regions/{key}.yaml, checked {one.checked}" for key, one in facts.regions.items() if key == region and old(one.checked)]
    phones = facts.regions[region].phones
    found += [f"site_data/regions/{region}.yaml: {one.call}, checked {one.checked}" for one in (*phones.emergency, *phones.poison) if old(one.checked)] if phones else []
    return found + facts.rules.old(facts.handbook.place, facts.handbook.date)
