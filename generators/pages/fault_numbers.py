"""The number behind a fault: which declared formulas speak, where their keys begin, and the window in words.

All begins at the default kit and at the first paint that a thinning table may show; nothing is typed here but names. Distance, fan, step, film, speed
and a pot's minutes are what the day's chain says of that kit and paint, with its verdict where that is no go.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from generators import noted, tables, units
from generators.chain.answers import one_answer
from generators.chain.day import answer_named
from generators.pages.words import text
from generators.situation import Situation
from generators.verdict import CARE, STOP

# What speaks for a page, and for one fault where it differs from the page's others. A page that is not named here has a table only.
BY_PAGE: dict[str, tuple[str, ...]] = {
    "mix/thinning": ("thinner-for-target",),
    "air/dew-point": ("worst-dew-margin",), "air/go-or-wait": ("worst-dew-margin",), "air/drift": ("drift-distance",), "air/drying-and-recoat": ("drying-stretch",),
    "film/wet-and-dry": ("dry-film",), "film/runs-and-levelling": ("sag-speed", "levelling-time"),
    "gun/distance-and-fan": ("distance-film",), "gun/strokes-and-overlap": ("stroke-spacing",), "gun/test-card": ("fan-angle",),
}
BY_FAULT: dict[str, tuple[str, ...]] = {"foam": ("bubble-rise",), "spitting": ("pot-minutes",), "bridging": ("wet-film",)}
_BUBBLE, _DEPTH = 200.0, 100.0  # µm and mm: a bubble that one can just see, and a pot's depth. Common practice, no source.


def spoken_for(key: str, fault: Any) -> tuple[str, ...]:
    """Names of the formulas that answer on a fault's page: none where the fault says why none does."""
    if not fault.number or fault.no_sum:
        return ()
    return BY_FAULT.get(key) or BY_PAGE.get(fault.number, ())


@dataclass(frozen=True)
class Today:
    """The default kit in the middle of its reach, and the first paint, where the handbook has one that may be thinned."""

    desk: Any

    @noted.worked_once
    def kit(self) -> Any:
        """The default kit."""
        return self.desk.facts.kits[self.desk.facts.handbook.default_kit]

    @noted.worked_once
    def paints(self) -> list[Any]:
        """Every paint that no hard stop keeps from the gun."""
        return [coating for coating in self.desk.facts.coatings.values() if not coating.stops]

    @noted.worked_once
    def paint(self) -> Any:
        """The first that a thinning table may show, or None."""
        slugs = tables.mix.sprayable(self.desk.facts)
        return self.desk.facts.coatings[slugs[0]] if slugs else None

    def sum(self, name: str, **inputs: Any) -> Any:
        """A formula's answer in its own unit: a number, or NaN outside its range; columns give columns."""
        return self.desk.formulas[name].column({key.replace("_", "-"): value for key, value in inputs.items()})

    @noted.worked_once
    def distance(self) -> float:
        """The middle of the kit's reach, mm, to a ten."""
        return float(round((self.kit.near.to("mm") + self.kit.far.to("mm")) / 2, -1))

    def walked(self, slug: str | None = None, *only: str) -> tuple[Situation, Any]:
        """The day's chain at this kit and a paint (the first, where none is named), unthinned, a full pot, at that distance: (situation, what was walked)."""
        facts = self.desk.facts
        words = {"kit": facts.handbook.default_kit} | ({"coating": one} if (one := slug or next(iter(tables.mix.sprayable(facts)), None)) else {})
        situation = Situation(words=words)
        columns = {"distance": self.distance, "thinner-wanted": 0.0, "pot-litres": self.kit.pot.to("L")}
        return situation, self.desk.day.walk(situation, only or ("fan", "step", "speed", "wet-film", "mask"), columns)

    @noted.worked_once
    def _walked(self) -> tuple[Situation, Any]:
        return self.walked()

    def held(self, name: str, unit: str) -> float:
        """One figure of the chain there; NaN where it has none."""
        held = self._walked[1].held.get(name)
        return float(units.convert(float(held.likely), self.desk.day.units[name], unit)) if held is not None and held.known else math.nan

    def but(self, answer: str) -> list[str]:
        """What the chain says against one of its answers there: nothing where it says go, or does not know."""
        situation, out = self._walked
        told = one_answer(self.desk.day, situation, answer_named(answer), out, self.desk.day.units, self.desk.facts.handbook.system)
        return [told["because"]] if told["verdict"] in (CARE, STOP) else []

    @noted.worked_once
    def fan(self) -> float:
        """Width of its fan there, mm."""
        return self.held("fan", "mm")

    @property
    def half_height(self) -> float:
        """Width at half the centre's film, as a share of the fan, by the kit's pattern, %."""
        return self.held("half-height", "%")

    @noted.worked_once
    def step(self) -> float:
        """From one stroke to the next there, mm."""
        return self.held("spacing", "mm")

    @noted.worked_once
    def wet(self) -> float:
        """Wet film that the first paint wants unthinned, µm."""
        return self.held("film-wet", "µm")

    @noted.worked_once
    def films(self) -> list[float]:
        """Wet films that the paints here want unthinned, µm."""
        found = [self.walked(slug, "wet-film")[1].held["film-wet"] for slug, paint in self.desk.facts.coatings.items() if not paint.stops]
        return [float(held.likely) for held in found if held.known]

    @noted.worked_once
    def thickness(self) -> float:
        """Viscosity at the kit's cup limit, in the first paint's density, Pa·s."""
        return float(self.sum("dynamic-viscosity", viscosity=self.sum("cup-viscosity", cup=self.kit.limit.cup, time=self.kit.limit.seconds), density=self.paint.density.to("kg/m³")))

    def said(self, value: float, unit: str, step: float, us_unit: str, us_step: float, down: bool = False) -> str:
        """A worked figure as print, in the region's unit and on its round step: the nearest, or the one below."""
        us = self.desk.facts.handbook.system == "us"
        shown, by = (float(units.convert(value, unit, us_unit)), us_step) if us else (value, step)
        return f"{round((math.floor(shown / by + 1e-9) if down else round(shown / by)) * by, 6):g} {us_unit if us else unit}"

    def film(self, micrometres: float, step: float = 1) -> str:
        """A film as print."""
        return self.said(micrometres, "µm", step, "mil", 0.1)

    def length(self, millimetres: float, step: float = 5) -> str:
        """A length as print."""
        return self.said(millimetres, "mm", step, "in", 0.25)


@dataclass(frozen=True)
class Begin:
    """Where the keys of one formula begin, in words and in numbers; `of_paint` where it takes a paint."""

    words: str
    keys: Callable[[Today], dict[str, float]]
    of_paint: bool = False


def _film_keys(now: Today) -> dict[str, float]:
    return {"viscosity": float(f"{now.thickness:.2g}"), "density": now.paint.density.to("kg/m³"), "wet-film": _whole(now.wet)}


def _read_errors(now: Today) -> dict[str, float]:
    value = now.desk.facts.value
    return {"humidity-error": value("limits.humidity_error").to("%"), "air-error": value("limits.air_error").to("Δ°C"), "surface-error": value("limits.surface_error").to("Δ°C")}


def _whole(value: float) -> float:
    """To a whole number; what has no answer stays without one."""
    return value if math.isnan(value) else float(round(value))


def _without(keys: dict[str, float], name: str) -> dict[str, float]:
    return {key: value for key, value in keys.items() if key != name}


# A formula that is not here begins at its own example.
BEGIN = {
    "thinner-for-target": Begin("this kit's limit", lambda now: {"target-time": now.kit.limit.seconds}),
    "worst-dew-margin": Begin("what a usual hygrometer and thermometer may be off by", _read_errors),
    "drift-distance": Begin("the most wind near cars", lambda now: {"wind": now.desk.facts.value("limits.wind_max_near_cars").to("m/s")}),
    "distance-film": Begin("the middle of this kit's reach", lambda now: {"distance": now.distance}),
    "stroke-spacing": Begin("this kit's fan in the middle of its reach", lambda now: {"fan-width": _whole(now.fan), "half-height-share": _whole(now.half_height)}),
    "fan-angle": Begin("this kit's fan in the middle of its reach", lambda now: {"fan-width": _whole(now.fan), "distance": now.distance}),
    "pot-minutes": Begin("this kit's pot and flow", lambda now: {"pot": now.kit.pot.to("L"), "flow": now.kit.flow.to("mL/min")}),
    "dry-film": Begin("its wet film", lambda now: {"wet-film": _whole(now.wet), "volume-solids": now.paint.volume_solids.to("%"), "thinner": 0.0}, of_paint=True),
    "wet-film": Begin("its dry film", lambda now: {"dry-film": now.paint.dry_film.to("µm"), "volume-solids": now.paint.volume_solids.to("%"), "thinner": 0.0}, of_paint=True),
    "sag-speed": Begin("its wet film, as thick as this kit sprays it", _film_keys, of_paint=True),
    "levelling-time": Begin(
        "its wet film, as thick as this kit sprays it", lambda now: _without(_film_keys(now), "density") | {"wavelength": tables.film.RIPPLE, "surface-tension": tables.film.TENSION}, of_paint=True),
    "bubble-rise": Begin(
        "a bubble that one can just see, in it as thick as this kit sprays it", lambda now: _without(_film_keys(now), "wet-film") | {"bubble-diameter": _BUBBLE, "depth": _DEPTH}, of_paint=True),
}


def _told(keys: dict[str, float]) -> dict[str, float]:
    """Those keys that have a number: the others begin at the formula's example."""
    return {key: value for key, value in keys.items() if not math.isnan(value)}


def _begin(now: Today, name: str) -> Begin:
    """Where a formula begins here: at its own example where there is no entry, or no paint for it."""
    begin = BEGIN.get(name)
    return begin if begin and (now.paint or not begin.of_paint) else Begin("an example", lambda now: {})


# The window in words, a line each: what today's set-up must keep to.
def _reach(now: Today) -> list[str]:
    return [f"{text(now.kit.name)} likes {now.desk.measure(now.kit.near)} to {now.desk.measure(now.kit.far)}."]


def _cup(now: Today) -> list[str]:
    return [f"{text(now.kit.name)} sprays at {now.kit.limit.seconds:g} s in {text(now.desk.facts.cups[now.kit.limit.cup].label)} or less."]


def _margin(now: Today) -> list[str]:
    value = now.desk.value
    return [f"Lacquer and shellac want {value('limits.dew_margin_lacquer')} over the dew point.", f"Water paint left overnight wants {value('limits.dew_margin_waterborne')}.",
            f"Other paint wants {value('limits.dew_margin_min')} at the least."]


def _air(now: Today) -> list[str]:
    """The air that every paint here allows, by the narrowest of their sheets."""
    low = max(now.paints, key=lambda paint: paint.air_min.to("°C")).air_min
    high = min(now.paints, key=lambda paint: paint.air_max.to("°C")).air_max
    damp = min(now.paints, key=lambda paint: paint.humidity_max.to("%")).humidity_max
    if low.to("°C") >= high.to("°C"):
        return ["No one air suits every paint here: read each sheet."]
    return [f"Every paint here is at home in air of {now.desk.measure(low)} to {now.desk.measure(high)}, at {now.desk.measure(damp)} humidity or less. A sheet may allow more."]


def _drying(now: Today) -> list[str]:
    waits = sorted(now.paints, key=lambda paint: paint.recoat_after.to("h"))
    shuts = sorted((paint for paint in now.paints if paint.recoat_before), key=lambda paint: paint.recoat_before.to("h"))
    return [*_air(now), f"Water paint waits for better air where it would take over {now.desk.value('limits.drying_factor_max')} its sheet's time.",
            f"By their sheets the next coat waits {now.desk.measure(waits[0].recoat_after)} to {now.desk.measure(waits[-1].recoat_after)}.",
            *(f"{text(paint.name)} also shuts: no coat after {now.desk.measure(paint.recoat_before)}." for paint in shuts[:1])]


def _wind(now: Today) -> list[str]:
    near, most = (now.said(now.desk.facts.value(f"limits.{name}").to("m/s"), "m/s", 0.5, "mph", 0.5, down=True) for name in ("wind_max_near_cars", "wind_go"))
    return [*_reach(now), f"Stop at wind over {near} near cars, windows or neighbours, and over {most} anywhere."]


def _wet(now: Today) -> list[str]:
    """The wet films wanted here, and the speed at which this kit lays the first paint's."""
    wet = now.films
    return [] if not wet else [f"Unthinned, the paints here want a wet film of {now.film(min(wet), 5)} to {now.film(max(wet), 5)}.", *_speed(now)]


def _speed(now: Today) -> list[str]:
    """How fast this kit moves for the first paint's film: slower is too thick, faster too thin."""
    if now.paint is None or math.isnan(now.wet):
        return []
    speed = now.held("speed-wanted", "m/s")
    return [f"{text(now.paint.name)} wants {now.film(now.wet)} wet."] + ([] if math.isnan(speed) else [
        f"{text(now.kit.name)} at full flow lays that at {now.said(speed, 'm/s', 0.01, 'in/s', 1)}, from {now.length(now.distance, 10)}, in steps of {now.length(now.step)}. Slower is thicker.",
        *now.but("speed")])


def _runs(now: Today) -> list[str]:
    """How far the paint must thicken on the wall before its film holds, and up to where it still levels."""
    if now.paint is None:
        return _cup(now)
    film, levels, holds, _ = tables.film.window(now.desk.books["metric"], now.desk.facts.classes[now.paint.class_key].family)
    if not film[0] <= now.wet <= film[-1] or math.isnan(now.thickness):
        return [*_cup(now), *_speed(now)]
    top, bottom = (float(np.interp(now.wet, film, line)) for line in (levels, holds))
    return [*_cup(now), *_speed(now), f"At the kit's limit it leaves the gun at {now.thickness:.2g} Pa·s.",
            f"Were it a plain liquid, its film would hold on a wall from {bottom:.2g} Pa·s and level up to {top:.2g} Pa·s.",
            "So it must thicken on the wall to between the two." if bottom < top else "So it cannot do both: lay it flat, or spray two thinner coats."]


def _fan(now: Today) -> list[str]:
    return _reach(now) if math.isnan(now.fan) else [*_reach(now), f"Its fan opens to {now.kit.fan_angle.to('deg'):.3g}°: {now.length(now.fan)} wide at {now.length(now.distance, 10)}.",
            "Narrower on your card: the fan is set too narrow. Wider: too wide, or too much air."]


def _step(now: Today) -> list[str]:
    return _reach(now) if math.isnan(now.step) else [*_reach(now), f"At {now.length(now.distance, 10)} its fan is {now.length(now.fan)} wide, and its step {now.length(now.step)}."]


def _pot(now: Today) -> list[str]:
    minutes = now.held("spraying", "min")
    return [] if math.isnan(minutes) else [f"A full pot of {now.desk.measure(now.kit.pot)} lasts {text(now.kit.name)} {math.floor(minutes)} minutes at full flow. Fill it before that."]


def _bubble(now: Today) -> list[str]:
    if now.paint is None:
        return _cup(now)
    minutes = float(now.sum("bubble-rise", bubble_diameter=_BUBBLE, depth=_DEPTH, viscosity=now.thickness, density=now.paint.density.to("kg/m³")))
    return _cup(now) + ([] if math.isnan(minutes) else [
        f"There a bubble of {now.said(_BUBBLE, 'µm', 1, 'mil', 1)} needs {math.ceil(minutes)} minutes to rise {now.length(_DEPTH)}.", "Half the bubble needs four times as long."])


WINDOWS: dict[str, Callable[[Today], list[str]]] = {
    "mix/thinning": _cup, "air/dew-point": _margin, "air/go-or-wait": lambda now: [*_margin(now), *_air(now)], "air/drying-and-recoat": _drying, "air/drift": _wind,
    "film/wet-and-dry": _wet, "film/runs-and-levelling": _runs, "gun/distance-and-fan": _reach, "gun/strokes-and-overlap": _step, "gun/test-card": _fan, "gun/surfaces": _reach,
}
WINDOWS_BY_FAULT: dict[str, Callable[[Today], list[str]]] = {"foam": _bubble, "spitting": _pot, "bridging": lambda now: [*_reach(now), *_speed(now)]}


@dataclass(frozen=True)
class Shown:
    """What the page of a fault says of numbers. Each may be empty."""

    window: list[str]
    begun: str
    answers: str


def shown(now: Today, key: str, fault: Any) -> Shown:
    """The window in words, where the keys begin, and the keys themselves."""
    names = spoken_for(key, fault)
    window = WINDOWS_BY_FAULT.get(key) or WINDOWS.get(fault.number)
    begins = [_begin(now, name) for name in names]
    words = next((f"{text(now.paint.name)}: {begin.words}" if begin.of_paint else begin.words for begin in begins), "")
    return Shown(window(now) if window and fault.number and now.paints else [], f"The keys begin at {words}. Put in your own numbers." if names else "",
                 "".join(now.desk.live(name, **_told(begin.keys(now))) for name, begin in zip(names, begins, strict=True)))
