"""What the figures of one tin say about each other: declared relations, and what they are worked from.

A litre of paint is solids, solvent and water, and they fill it and weigh what it weighs. That balance finds most slips of a hand.
Sources of the fixed figures: the lightest and the heaviest solvent and solid are common handbook densities, from memory; the
rest is common practice. Each stands once, in BOUNDS.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from generators.facts.relate import DOUBTFUL, REFUSED, Oddity, Relation
from generators.facts.span import Span, fixed

BOUNDS = {
    "solvent_any": Span(0.62, 0.85, 1.35),      # kg/L: a light petrol to methylene chloride
    "solvent_usual": Span(0.68, 0.85, 1.1),     # kg/L: white spirit's kind to glycols
    "solid_any": Span(0.4, 1.5, 7.5),           # kg/L: hollow spheres to zinc dust
    "solid_usual": Span(0.85, 1.5, 4.5),        # kg/L: wax and resin to titanium dioxide
    "slope_usual": Span(1.0, 6.0, 20.0),        # fall of ln viscosity for a share of thinner as large as the paint
}
_WATER = re.compile(r"\bwater\b", re.IGNORECASE)
_NOTHING = re.compile(r"^\s*(nothing|none|not thinned|do not thin|no)\b", re.IGNORECASE)
_SOLVENT = re.compile(r"spirit|alcohol|xylene|toluene|acetone|thinner|naphtha|turpentine|ketone|acetate|ethanol|methanol|propanol", re.IGNORECASE)


@dataclass(frozen=True)
class Tin:
    """A coating as its file has it (a field that could not be read is None), its class, and how a cup reads viscosity."""

    coating: Any
    kind: Any = None
    nu: Callable[[Any], float | None] = field(default=lambda timing: None)
    solvents: tuple[Any, ...] = ()

    @property
    def family(self) -> str:
        return self.kind.family if self.kind is not None else ""

    @property
    def thinner(self) -> str:
        return self.coating.thin_with or ""

    @property
    def wet(self) -> bool:
        """Whether there is water in it."""
        return self.family in ("waterborne", "mineral") or bool(_WATER.search(self.thinner)) or getattr(self.coating, "voc_less_water", None) is not None or self.coating.water is not None


def _of(name: str, unit: str, scale: float = 1.0) -> Callable[[Tin], Span | None]:
    return lambda tin: Span.of(getattr(tin.coating, name), unit, scale)


_solids, _density, _voc = _of("volume_solids", "%", 0.01), _of("density", "kg/L"), _of("voc", "kg/L")
_film, _mass, _water = _of("dry_film", "µm"), _of("mass_solids", "%", 0.01), _of("water", "%", 0.01)


def _both(*parts: Callable[[Tin], Span | None], act: Callable[..., Span]) -> Callable[[Tin], Span | None]:
    """Worked from other values, where all of them are known."""
    def work(tin: Tin) -> Span | None:
        found = [part(tin) for part in parts]
        return None if any(one is None for one in found) else act(*found)

    return work


def _solids_density(tin: Tin) -> Span | None:
    """kg/L of what is left: what the litre weighs, less solvent and water, over the room that solids take."""
    density, voc, solids = _density(tin), _voc(tin), _solids(tin)
    if density is None or voc is None or solids is None or solids.low <= 0:
        return None
    if not tin.wet:
        return (density - voc) / solids
    water = (solids.rest() - voc / BOUNDS["solvent_usual"]).least(0.0)
    return (density - voc - water) / solids


def _filled(tin: Tin) -> Span | None:
    """Share of the litre that solids and solvent fill, where there is no water."""
    solids, voc = _solids(tin), _voc(tin)
    return None if tin.wet or solids is None or voc is None else solids + voc / BOUNDS["solvent_usual"]


def _water_told(tin: Tin) -> Span | None:
    """Share of the litre that is water, as the two figures of VOC tell it."""
    voc, less = _voc(tin), _of("voc_less_water", "kg/L")(tin)
    return None if voc is None or less is None or less.low <= 0 or voc.likely <= 0 else (voc / less).rest()


def _weighed(tin: Tin) -> Span | None:
    """Solids, solvent and told water as a share of the weight."""
    mass, voc, density = _mass(tin), _voc(tin), _density(tin)
    return None if mass is None or voc is None or density is None else mass + voc / density + (_water(tin) or fixed(0.0))


def _whole_weight(tin: Tin) -> Span | None:
    """The same, where nothing else can be in the tin."""
    return _weighed(tin) if not tin.wet or _water(tin) is not None else None


def _slope(tin: Tin) -> Span | None:
    """Fall of ln viscosity for a dose, by the sheet's two timings."""
    first, then = tin.nu(tin.coating.supplied), tin.nu(getattr(tin.coating.trial, "time", None))
    dose = Span.of(getattr(tin.coating.trial, "thinner", None), "%", 0.01)
    if first is None or then is None or dose is None or dose.likely <= 0 or then <= 0:
        return None
    return fixed(math.log(first / then)) / dose


def _trial_seconds(tin: Tin) -> Span | None:
    """Seconds after the first dose, where both timings are in one cup."""
    trial, first = tin.coating.trial, tin.coating.supplied
    return Span.of(trial.time, "s") if trial is not None and first is not None and trial.time.cup == first.cup else None


def _pack(name: str, unit: str) -> Callable[[Tin], Span | None]:
    return lambda tin: Span.of(getattr(tin.coating.two_pack, name, None), unit)


def _flash(tin: Tin) -> Span | None:
    return Span.of(getattr(tin.coating.sds, "flash_point", None), "°C")


def _lowest_flash(tin: Tin) -> Span | None:
    """°C: the lowest flash point of the solvents its sheet names, with room for what is small in the mixture."""
    named = [row for one in getattr(tin.coating.sds, "solvents", None) or () for row in tin.solvents if one.name.lower() in (row.name.lower(), row.key)]
    points = [point.to("°C") for row in named for point in row.flash_points]
    return fixed(min(points) + 35.0) if points and not tin.wet else None


WORKED: dict[str, Callable[[Tin], Span | None]] = {
    "voc": _of("voc", "g/L"), "weight": _of("density", "g/L"),
    "room for solvent": _both(_solids, act=lambda solids: solids.rest() * BOUNDS["solvent_any"] * 1000.0),
    "usual room for solvent": _both(_solids, act=lambda solids: solids.rest() * BOUNDS["solvent_usual"] * 1000.0),
    "density of the solids": _solids_density,
    "lightest solid": lambda tin: fixed(BOUNDS["solid_any"].low), "heaviest solid": lambda tin: fixed(BOUNDS["solid_any"].high),
    "lightest usual solid": lambda tin: fixed(BOUNDS["solid_usual"].low), "heaviest usual solid": lambda tin: fixed(BOUNDS["solid_usual"].high),
    "filled": _filled, "nearly full": lambda tin: fixed(0.80),
    "voc less water": _of("voc_less_water", "g/L"),
    "water by VOC": _water_told, "room for water": _both(_solids, act=lambda solids: solids.rest() + Span(-0.04, 0.0, 0.10)),
    "usual room for water": _both(_solids, act=lambda solids: solids.rest() + 0.04),
    "least water": _both(_solids, _voc, act=lambda solids, voc: solids.rest() - voc / BOUNDS["solvent_usual"] - 0.15),
    "solids by mass": _mass,
    "density of the solids by mass": _both(_mass, _density, _solids, act=lambda mass, density, solids: mass * density / solids),
    "weighed": _weighed, "all of it": lambda tin: Span(1.0, 1.03, 1.05), "whole weight": _whole_weight, "most of it": lambda tin: fixed(0.85),
    "most solids of a water paint": lambda tin: fixed(0.92) if tin.wet and tin.family != "two-pack" else None,
    "coverage": _of("coverage", "m²/L"), "coverage of the solids": _both(_solids, _film, act=lambda solids, film: fixed(1000.0) * solids / film),
    "wet film": _of("wet_film", "µm"), "dry film": _film, "wet film of the solids": _both(_solids, _film, act=lambda solids, film: film / solids),
    "coldest": _of("air_min", "°C"), "warmest": _of("air_max", "°C"),
    "touch dry": _of("touch_dry", "h"), "next coat": _of("recoat_after", "h"), "last coat": _of("recoat_before", "h"), "cured": _of("cured_after", "h"),
    "after a dose": _trial_seconds, "as supplied": lambda tin: Span.of(tin.coating.supplied, "s"),
    "fall": _slope, "steepest": lambda tin: fixed(BOUNDS["slope_usual"].high), "flattest": lambda tin: fixed(BOUNDS["slope_usual"].low),
    "first dose": lambda tin: Span.of(getattr(tin.coating.trial, "thinner", None), "%"), "most thinner": _of("thinner_max", "%"), "as much thinner as paint": lambda tin: fixed(100.0),
    "induction": _pack("induction", "h"), "pot life": _pack("pot_life", "h"),
    "flash point": _flash, "lowest flash point of its solvents": _lowest_flash,
    "hottest flash": lambda tin: fixed(100.0) if tin.family == "solvent" and not tin.wet else None,
    "coolest flash": lambda tin: fixed(40.0) if tin.family in ("waterborne", "mineral") else None,
}
for _name in ("room for solvent", "usual room for solvent"):
    WORKED[f"most {_name}"] = (lambda work: lambda tin: None if (span := work(tin)) is None else fixed(span.high))(WORKED[_name])
WORKED["most room for water"] = lambda tin: None if (span := WORKED["room for water"](tin)) is None else Span(span.likely + 0.04, span.likely + 0.04, span.high)
WORKED["half again the coverage"] = _both(WORKED["coverage of the solids"], act=lambda span: Span(span.low * 1.15, span.likely * 1.15, span.high * 1.6))
WORKED["a third of the coverage"] = _both(WORKED["coverage of the solids"], act=lambda span: span * 0.35)
WORKED["thinnest wet film"] = _both(WORKED["wet film of the solids"], act=lambda span: span * 0.75)
WORKED["thickest wet film"] = _both(WORKED["wet film of the solids"], act=lambda span: span * 1.5)

_SUM = "check volume solids, density and VOC against the sheet: one of them is of another paint or another unit"
RELATIONS = (
    Relation("voc", "voc", "<=", "weight", "less VOC than a litre weighs, {limit}", "check both against the sheet, and their units", unit="g/L"),
    Relation("voc", "voc", "<=", "most room for solvent", "VOC that has room beside the solids, under {limit}", _SUM, unit="g/L"),
    Relation("voc", "voc", "<=", "most usual room for solvent", "VOC that has room beside the solids, under {limit}", _SUM, softly=True, unit="g/L"),
    Relation("density", "density of the solids", ">=", "lightest solid", "solids that weigh something, when VOC and water are taken away: {limit} at least", _SUM, unit="kg/L"),
    Relation("density", "density of the solids", "<=", "heaviest solid", "solids no heavier than metal dust, {limit}", _SUM, unit="kg/L"),
    Relation("density", "density of the solids", ">=", "lightest usual solid", "solids of {limit} and over", _SUM, softly=True, unit="kg/L"),
    Relation("density", "density of the solids", "<=", "heaviest usual solid", "solids of {limit} and under", _SUM, softly=True, unit="kg/L"),
    Relation("voc", "filled", ">=", "nearly full", "solids and VOC that fill the tin, {limit} of it at least", "what else is in it? " + _SUM, softly=True),
    Relation("voc_less_water", "voc less water", ">=", "voc", "VOC less water at or over the VOC as supplied, {limit}", "swap or mend the two", unit="g/L"),
    Relation("voc_less_water", "water by VOC", "<=", "most room for water", "water that has room beside the solids, {limit} of the tin", "check both figures of VOC and the volume solids"),
    Relation("voc_less_water", "water by VOC", ">=", "least water", "water that fills what solids and solvent leave, {limit} of the tin at least", "check both figures of VOC and the volume solids", softly=True),
    Relation("mass_solids", "density of the solids by mass", ">=", "lightest solid", "solids that weigh {limit} at least, by mass and by volume", "check solids by mass, by volume, and density", unit="kg/L"),
    Relation("mass_solids", "density of the solids by mass", ">=", "lightest usual solid", "solids of {limit} and over, by mass and by volume", "check solids by mass, by volume, and density", softly=True, unit="kg/L"),
    Relation("mass_solids", "density of the solids by mass", "<=", "heaviest usual solid", "solids of {limit} and under, by mass and by volume", "check solids by mass, by volume, and density", softly=True, unit="kg/L"),
    Relation("mass_solids", "weighed", "<=", "all of it", "solids, VOC and water that weigh no more than the tin, {limit} of it", "check solids by mass, VOC, water and density"),
    Relation("mass_solids", "whole weight", ">=", "most of it", "solids, VOC and water that make up the tin, {limit} of it at least", "check solids by mass, VOC, water and density", softly=True),
    Relation("mass_solids", "solids by mass", "<=", "most solids of a water paint", "solids under {limit} in a water paint", "check the figure", softly=True),
    Relation("coverage", "coverage", "<=", "half again the coverage", "no more than the solids cover at this film, about {limit}", "check coverage, dry film and volume solids", unit="m²/L"),
    Relation("coverage", "coverage", ">=", "a third of the coverage", "at least a third of what the solids cover at this film, {limit}", "check coverage, dry film and volume solids", softly=True, unit="m²/L"),
    Relation("wet_film", "wet film", ">=", "dry film", "a wet film over the dry one, {limit}", "swap or mend the two", unit="µm"),
    Relation("wet_film", "wet film", ">=", "thinnest wet film", "a wet film near dry film over solids, {limit} at least", "check wet film, dry film and volume solids", softly=True, unit="µm"),
    Relation("wet_film", "wet film", "<=", "thickest wet film", "a wet film near dry film over solids, {limit} at most", "check wet film, dry film and volume solids", softly=True, unit="µm"),
    Relation("recoat_before", "last coat", ">=", "next coat", "a window that closes after it opens, {limit}", "swap or mend the two", unit="h"),
    Relation("touch_dry", "touch dry", "<=", "next coat", "touch dry before the next coat, {limit}", "swap or mend the two", unit="h"),
    Relation("cured_after", "cured", ">=", "next coat", "cured after the next coat may go on, {limit}", "swap or mend the two", unit="h"),
    Relation("trial", "after a dose", "<=", "as supplied", "a shorter time after thinner than as supplied, {limit}", "swap or mend the two timings", unit="s"),
    Relation("trial", "fall", "<=", "steepest", "a fall that a paint can show: ln of viscosity over the dose at most {limit}", "check dose and times", softly=True),
    Relation("trial", "fall", ">=", "flattest", "a fall that a paint can show: ln of viscosity over the dose at least {limit}", "check dose and times", softly=True),
    Relation("trial", "first dose", "<=", "most thinner", "a first dose within the label's most, {limit}", "check both; what was tried beyond the label is no longer the maker's paint", softly=True, unit="%"),
    Relation("thinner_max", "most thinner", "<=", "as much thinner as paint", "no more thinner than paint, {limit}", "check the figure: the data sheet's most, of the paint's volume", unit="%"),
    Relation("two_pack.pot_life", "pot life", ">=", "induction", "a pot life over the induction time, {limit}", "swap or mend the two", unit="h"),
    Relation("sds.flash_point", "flash point", "<=", "hottest flash", "a flash point under {limit} in a solvent paint", "check section 9 of the safety data sheet", softly=True, unit="°C"),
    Relation("sds.flash_point", "flash point", ">=", "coolest flash", "a flash point over {limit}, or none, in a water paint", "check section 9 of the safety data sheet, and the class", softly=True, unit="°C"),
    Relation("sds.flash_point", "flash point", "<=", "lowest flash point of its solvents", "a flash point near that of its most flammable solvent, under {limit}", "check sections 3 and 9 of the safety data sheet", softly=True, unit="°C"),
)


def _carried(tin: Tin) -> float:
    return tin.coating.thinner_density.to("g/L") if tin.coating.thinner_density is not None else math.nan


def _is_water(thinner: str) -> bool:
    return bool(_WATER.search(thinner)) and not _SOLVENT.search(thinner)


def _only_water(tin: Tin) -> bool:
    return _is_water(tin.thinner)


def thins_with_solvent(thinner: str) -> bool:
    """Whether a thinner, as a tin's file names it, holds anything but water: a name that says nothing does, since nobody knows."""
    return not (_NOTHING.match(thinner) or _is_water(thinner))


def _shares(tin: Tin) -> float:
    return sum(one.share.low for one in getattr(tin.coating.sds, "solvents", None) or () if one.share is not None)


def _codes(tin: Tin) -> set[str]:
    return set(getattr(tin.coating.sds, "codes", None) or ())


def _code_against_flash(tin: Tin) -> bool:
    flash = _flash(tin)
    codes = _codes(tin)
    return flash is not None and ((bool(codes & {"H224", "H225"}) and flash.low > 23.5) or ("H226" in codes and (flash.high < 22.5 or flash.low > 60.5)))


_THINNER = "check the thinner and the class against the sheet"
ODDITIES = (
    Oddity("thinner_density", lambda tin: _only_water(tin) and _carried(tin) > 0, REFUSED, "0 g/L for water: it carries no VOC", lambda tin: tin.coating.thinner_density.text, "write 0 g/L, or name the thinner"),
    Oddity("thinner_max", lambda tin: bool(_NOTHING.match(tin.thinner)) and tin.coating.thinner_max is not None and tin.coating.thinner_max.likely > 0, REFUSED, "0 % where nothing thins it", lambda tin: tin.coating.thinner_max.text, "write 0 %, or name the thinner"),
    Oddity("thinner_density", lambda tin: bool(_NOTHING.match(tin.thinner)) and _carried(tin) > 0, REFUSED, "0 g/L where nothing thins it", lambda tin: tin.coating.thinner_density.text, "write 0 g/L, or name the thinner"),
    Oddity("thinner_density", lambda tin: bool(_SOLVENT.search(tin.thinner)) and not _WATER.search(tin.thinner) and (_carried(tin) < 600 or _carried(tin) > 1350), DOUBTFUL, "a solvent that weighs 600 to 1350 g/L, all of it VOC", lambda tin: tin.coating.thinner_density.text, "write what a litre of the thinner carries of VOC"),
    Oddity("thin_with", lambda tin: tin.family in ("waterborne", "mineral") and bool(_SOLVENT.search(tin.thinner)) and not _WATER.search(tin.thinner), DOUBTFUL, "water as the thinner of this class", lambda tin: tin.thinner, _THINNER),
    Oddity("thin_with", lambda tin: tin.family in ("solvent", "oil") and _only_water(tin), DOUBTFUL, "a solvent as the thinner of this class", lambda tin: tin.thinner, _THINNER),
    Oddity("sds.solvents", lambda tin: _shares(tin) > 100.5, REFUSED, "shares that make 100 % at most, taken at their least", lambda tin: f"{_shares(tin):g} %", "check section 3 of the safety data sheet"),
    Oddity("sds.codes", _code_against_flash, DOUBTFUL, "hazard codes that go with the flash point (H225 under 23 °C, H226 from 23 to 60 °C)", lambda tin: ", ".join(sorted(_codes(tin) & {"H224", "H225", "H226"})), "check sections 2 and 9 of the safety data sheet"),
)
