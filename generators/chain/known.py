"""What a walk brings: the facts of one kit, coating and region under dotted names, and the readings of one situation.

The same names and numbers go to the phone as JSON: `told(...)` is what both languages begin with.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from generators.basis import Origin
from generators.situation import READINGS, Situation
from generators.verdict import Held
from generators.verdict.held import gone, number, text

# Unit of every fact that is a number, by its dotted name; the words beside are what a page calls it.
FACTS: dict[str, tuple[str, str]] = {
    "kit.flow": ("mL/min", "the kit's flow"), "kit.transfer_efficiency": ("%", "share that lands"), "kit.fan_angle": ("deg", "angle of the fan"),
    "kit.near": ("mm", "nearest the kit sprays"), "kit.far": ("mm", "farthest the kit sprays"), "kit.pot": ("L", "pot"), "kit.limit": ("s", "thickest the kit sprays"),
    "kit.noise": ("dBA", "noise"), "kit.half_height": ("%", "width at half the film"), "kit.flow_power": ("%", "how flow falls with viscosity"),
    "kit.efficiency_fall": ("%", "how landing falls with distance"), "kit.hand_scatter": ("%", "scatter of the film by hand, measured"),
    "coating.volume_solids": ("%", "volume solids"), "coating.dry_film": ("µm", "dry film"), "coating.density": ("kg/L", "density"), "coating.voc": ("g/L", "VOC"),
    "coating.thinner_density": ("g/L", "VOC of the thinner"), "coating.thinner_max": ("%", "most thinner"), "coating.voc_limit": ("g/L", "VOC limit of its category"),
    "coating.voc_counted": ("g/L", "VOC as its rule counts it"),
    "coating.thinner_weight": ("kg/L", "density of the thinner"), "coating.thinner_span": ("%", "thinner it may have"),
    "coating.air_min": ("°C", "coldest air"), "coating.air_max": ("°C", "warmest air"), "coating.humidity_max": ("%", "dampest air"),
    "coating.recoat_after": ("h", "next coat, earliest"), "coating.recoat_before": ("h", "next coat, latest"), "coating.pot_life": ("h", "pot life"),
    "coating.pot_life_at": ("°C", "temperature that its pot life is given for"), "coating.pot_life_of": ("L", "mix that its pot life was timed in"),
    "coating.ratio": ("1", "parts of base to one of hardener"), "coating.hardener_density": ("kg/L", "density of the hardener"), "class.thin_time": ("s", "thinnest that its kind sprays well"),
    "coating.induction": ("h", "stands before use"), "coating.margin_needed": ("Δ°C", "margin its kind needs"),
    "coating.solvent_lel": ("%", "lower explosive limit of its solvent"), "coating.solvent_molar_mass": ("g/mol", "molar mass of its solvent"),
    "coating.open_time": ("min", "open time"), "class.viscosity_slope": ("1/K", "fall of viscosity for each degree"),
    "coating.viscosity_slope": ("1/K", "fall of viscosity for each degree, measured"), "coating.steepness": ("1", "how steeply it thins, measured"),
    "surface.lands": ("%", "share that lands on such a shape"),
    "ground.moisture_good": ("%", "water in the wood that is good"), "ground.moisture_max": ("%", "most water in the wood"),
    "limits.thinning_steepness": ("1", "how steeply paints thin"), "pot.share_now": ("%", "thinner in the pot"),
    "region.mist_limit": ("mg/m³", "limit for dust"), "region.lead_until": ("1", "paint from before this may hold lead"), "region.asbestos_until": ("1", "building from before this may hold asbestos"),
    "region.half_mask": ("×", "factor of a half mask"), "region.full_mask": ("×", "factor of a full or powered mask"),
}
# Limits that the chain asks for, with the unit it asks them in.
LIMITS: dict[str, str] = {
    "dew_margin_min": "Δ°C", "drying_factor_max": "×", "drying_factor_near": "×", "wind_go": "m/s", "wind_max_near_cars": "m/s", "explosive_share_act": "%", "not_below_before_dry": "°C",
    "clean_before_pot_life": "%", "humidity_error": "%", "air_error": "Δ°C", "surface_error": "Δ°C", "paint_error": "Δ°C", "forecast_error": "Δ°C", "wind_error": "m/s",
    "timing_error": "s", "moisture_meter_error": "%", "reading_hours_outdoors": "h", "reading_hours_room": "h", "reach_speed_max": "m/s", "turn_time": "s", "stroke_length": "m",
    "mist_solids": "g/L", "mist_airborne": "%", "first_dose": "%", "efficiency_fall": "%", "small_dose": "%", "timing_reach": "×", "viscosity_slope": "1/K",
    "pot_life_rate": "×", "self_heating": "%", "sheet_sample": "L", "batch_usual": "L", "dip_cup_repeatability": "%",
        "rain_lead": "h", "sheet_temperature": "°C", "sheet_stretch": "×", "room_mixing": "1", "room_mixing_worst": "1", "clearing": "%",
    "droplet": "µm", "droplet_density": "kg/m³", "drift_height": "m", "drift_act": "m", "surface_slack": "Δ°C", "surface_over_air": "Δ°C", "air_edge": "Δ°C", "nothing_left": "h",
    "evenness_fine": "%", "evenness_least": "%", "thinning_steepness_low": "1", "thinning_steepness_high": "1",
}
UNITS: dict[str, str] = {**{name: unit for name, (unit, _) in FACTS.items()}, **{f"limits.{name}": unit for name, unit in LIMITS.items()},
                         **{one.name: one.unit for one in READINGS.values() if one.kind == "number"}, **{one.name: "min" for one in READINGS.values() if one.kind == "time"},
                         "timings.share": "%", "timings.weight-share": "%", "timings.time": "s", "timings.temperature": "°C", "places.at": "1", "places.edge": "1"}


# Places at which strokes side by side are looked at: nine from a stroke's middle to halfway to the next, in steps, and where an edge of a neighbour's fan lies.
PLACES: tuple[tuple[float, float], ...] = (*((place / 16, 0.0) for place in range(9)), (1.0, 1.0), (2.0, 1.0), (3.0, 1.0))


@dataclass(frozen=True)
class Told:
    """One fact as told to a walk: a number (low, likely, high, in the unit of its name) or a text; None where the file says nothing."""

    value: tuple[float, float, float] | str | None
    origin: Origin

    def as_json(self) -> list[Any]:
        """[low, likely, high] or text, then basis, source and date."""
        return [list(self.value) if isinstance(self.value, tuple) else self.value, str(self.origin.basis), self.origin.source, self.origin.date]


def held_of(told: Told) -> Held:
    """A fact as the chain holds it. What a file leaves out is absent: no reading would settle it."""
    if told.value is None:
        return Held()
    if isinstance(told.value, str):
        return text(told.value)
    low, likely, high = told.value
    return number(likely, low, high)


INSTRUMENTS = {"usual": 1.0, "checked": 0.5, "exact": 0.0}
_TEXT_KINDS = ("words", "fact")


def _stale(situation: Situation, hours: Mapping[str, float]) -> dict[str, frozenset[str]]:
    """Readings that were taken too long ago: outdoors after an hour, in a closed room after four; of unknown age where no clock is told."""
    place = situation.words.get("place")
    good = hours["room"] if place == "room" else hours["outdoors"]
    now = situation.numbers.get("now")
    found = {}
    for name, when in situation.at.items():
        if READINGS[name].good_for and (now is None or now - when > 60 * good + 1e-9 or when > now + 1e-9):
            found[name] = frozenset({name})
    return found


def held_readings(situation: Situation, limits: Mapping[str, Held]) -> dict[str, Held]:
    """Every reading as the chain holds it: widened by its instrument, or missing and naming itself."""
    hours = {"room": float(limits["limits.reading_hours_room"].likely), "outdoors": float(limits["limits.reading_hours_outdoors"].likely)}
    old = _stale(situation, hours)
    factor = INSTRUMENTS[situation.words.get("instruments", "usual")]
    found: dict[str, Held] = {}
    for name, reading in READINGS.items():
        stale = old.get(name, frozenset())
        if reading.kind in _TEXT_KINDS:
            said = situation.words.get(name)
            found[name] = text(said, stale=stale) if said is not None else gone(frozenset({name}), is_text=True)
        elif reading.kind in ("number", "time"):
            if name not in situation.numbers:
                found[name] = gone(frozenset({name}))
                continue
            likely = np.asarray(situation.numbers[name], float)
            error = float(limits[reading.error].likely) * factor if reading.error else 0.0
            ends = situation.spans.get(name, (situation.numbers[name], situation.numbers[name]))
            low, high = np.asarray(ends[0] - error), np.asarray(ends[1] + error)
            if reading.kind == "number":  # no instrument is so bad that the humidity passes 100 %
                low, high = np.maximum(low, min(reading.low, float(np.min(likely)))), np.minimum(high, max(reading.high, float(np.max(likely))))
            found[name] = number(likely, low, high, stale)
    due = situation.words.get("rain", "due" if "rain-at" in situation.numbers else None)
    found["rain"] = text(due, missing=frozenset() if due else frozenset({"rain-at"}))
    return found


def timings(situation: Situation, known: Mapping[str, Held], sheet: tuple[tuple[float, float, str], ...], limits: Mapping[str, Held], dips: Collection[str] = (),
            columns: Mapping[str, Any] | None = None) -> list[dict[str, Held]]:
    """The pot's timings in order: as supplied, then after each dose; the data sheet's own (share, seconds, cup) where nobody timed it.

    A dip cup (`dips`) repeats itself to a share of its time and not to a second. Where nobody read the paint's temperature, it may have
    drifted between the timings by what a thermometer would hide. `columns` may bring "cup-time" and, of the last dose, "dose-time" and "dose-share".
    """
    columns = columns or {}
    factor = INSTRUMENTS[situation.words.get("instruments", "usual")]
    watch, warmth = float(limits["limits.timing_error"].likely) * factor, float(limits["limits.paint_error"].likely) * factor
    dip = float(limits["limits.dip_cup_repeatability"].likely) / 100 * factor
    unread = float(limits["limits.sheet_temperature"].likely)
    default = situation.words.get("cup") or (known["kit.cup"].text if known["kit.cup"].text else None)
    paint = situation.numbers.get("paint-temperature")

    def part(share: Any, typed: Any, cup: str | None, temperature: float | None, error: Any, drift: float, by_weight: bool = False) -> dict[str, Held]:
        seconds, degrees = np.asarray(typed, float), unread if temperature is None else temperature
        error = np.maximum(error, dip * seconds) if cup in dips and error else error
        known_share = {"share": number(share), "weight-share": gone(frozenset())} if not by_weight else {"share": gone(frozenset()), "weight-share": number(share)}
        return {**known_share, "time": number(seconds, np.maximum(seconds - error, 1.0), seconds + error), "cup": text(cup, missing=frozenset() if cup else frozenset({"cup"})),
                "temperature": number(degrees, degrees - drift, degrees + drift)}

    found = []
    if "cup-time" in situation.numbers or "cup-time" in columns:
        found.append(part(0.0, columns.get("cup-time", situation.numbers.get("cup-time")), default, paint, watch, warmth))
    total: Any = 0.0
    for dose in situation.doses:
        last = dose is situation.doses[-1]
        total = columns.get("dose-share", dose.share) if last else dose.share
        seconds = columns.get("dose-time", dose.seconds) if last else dose.seconds
        found.append(part(total, seconds, dose.cup or default, dose.temperature if dose.temperature is not None else paint, watch, warmth, dose.by_weight))
    if not found:
        found = [part(share, seconds, cup, unread, 0.0, 0.0) for share, seconds, cup in sheet]
    return found

