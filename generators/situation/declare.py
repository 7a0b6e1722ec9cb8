"""Every reading: its kind, range, error, and how long it is good for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["number", "words", "fact", "time", "dose"]


@dataclass(frozen=True)
class Reading:
    """Something that a person can know or measure.

    `low` and `high` bound what can be typed, in `unit`. `error` names the limit that says how far a usual instrument is off, either
    way. `good_for` names the limit (hours) after which it no longer counts as go; empty where it does not grow old in a day.
    `options` are the words that may be said; `of` names the folder of facts it picks from. `belongs` says what it stays with when
    something else changes: the day, a place, a pot, the pieces, or a kit. `ask` is the sentence that asks for it. What is looked up for one
    day, a forecast or the hour of dusk, says nothing about the next (`one_day`).
    """

    name: str
    kind: Kind
    ask: str
    belongs: Literal["day", "place", "pot", "pieces", "kit", "job"]
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    error: str = ""
    good_for: bool = False
    options: tuple[str, ...] = ()
    of: str = ""
    many: bool = False

    @property
    def one_day(self) -> bool:
        return self.name in ("night-low", "rain-at", "dusk-at")


def _number(name: str, unit: str, low: float, high: float, ask: str, belongs: str, error: str = "", good_for: bool = False) -> Reading:
    return Reading(name, "number", ask, belongs, unit, low, high, error, good_for)  # type: ignore[arg-type]


def _words(name: str, options: str, ask: str, belongs: str, good_for: bool = False) -> Reading:
    return Reading(name, "words", ask, belongs, good_for=good_for, options=tuple(options.split()))  # type: ignore[arg-type]


_ALL = (
    Reading("kit", "fact", "Choose the kit.", "kit", of="kits"),
    _number("nozzle", "mm", 0.3, 4, "Read the size on the nozzle.", "kit"),
    Reading("coating", "fact", "Choose the paint.", "pot", of="coatings"),
    _words("hardener", "none isocyanate amine acid other", "Read on the second tin and its safety data sheet what the hardener is.", "pot"),
    Reading("cup", "fact", "Say which cup.", "pot", of="cups"),
    _number("cup-time", "s", 1, 600, "Time the paint in the cup, to the first break of the stream.", "pot", "limits.timing_error"),
    _number("paint-temperature", "°C", -5, 50, "Put a thermometer into the paint.", "pot", "limits.paint_error"),
    _number("thinner-wanted", "%", 0, 60, "Say how much thinner, of the paint, you mean to have in it.", "pot"),
    Reading("dose", "dose", "Time it again after the dose.", "pot", many=True),
    _number("pot-litres", "L", 0.02, 100, "Look how much is in the pot now.", "pot"),
    _number("batch-litres", "L", 0.02, 100, "Say how much mixed paint you want.", "pot"),
    Reading("mixed-at", "time", "Say when it was mixed.", "pot"),
    _number("air-temperature", "°C", -30, 60, "Read the air's temperature, in the shade.", "place", "limits.air_error", True),
    _number("relative-humidity", "%", 1, 100, "Read the air's humidity.", "place", "limits.humidity_error", True),
    _number("surface-temperature", "°C", -40, 90, "Read the surface, where it is coldest.", "place", "limits.surface_error", True),
    _number("night-low", "°C", -40, 50, "Look up tonight's lowest temperature.", "place", "limits.forecast_error"),
    _number("wind", "m/s", 0, 40, "Feel or measure the wind where you spray.", "place", "limits.wind_error", True),
    _number("gust", "m/s", 0, 60, "Watch for the strongest gust.", "place", "limits.wind_error", True),
    Reading("rain-at", "time", "Look up when rain is due (or write none).", "place"),
    _number("moisture", "%", 0, 100, "Push the meter's pins into the wood.", "place", "limits.moisture_meter_error"),
    _words("ground", "wood plaster masonry metal coated", "Say what is under the coat.", "pieces"),
    _words("old-finish", "none sound flaking not-sure", "Look at the old finish, and try tape on it.", "job"),
    _number("building-year", "1", 1000, 2100, "Ask when it was built.", "job"),
    _words("lead", "no yes not-tested", "Test the old paint for lead.", "job"),
    _words("asbestos", "no yes not-tested", "Ask whether it was surveyed for asbestos.", "job"),
    _number("room-volume", "m³", 1, 10000, "Measure the room: length, width and height.", "place"),
    _number("air-changes", "1/h", 0.05, 200, "Work the fan's flow over the room's volume.", "place"),
    _number("mixing", "1", 1, 10, "Judge how well the air mixes: 1 perfect, 3 an ordinary room, 10 a bad one.", "place"),
    _words("place", "room workshop outdoors", "Say where you spray.", "place"),
    _words("people-out", "yes no", "Look that nobody without a mask is in there or down the wind.", "place", True),
    _words("flames-out", "yes no", "Look for flames, pilots, heaters and sparks.", "place", True),
    _words("shape", "flat panelled open", "Say what shape the work has.", "pieces"),
    _number("area", "m²", 0.01, 5000, "Measure what is left to coat.", "pieces"),
    _number("flow", "mL/min", 10, 1000, "Weigh the pot before and after half a minute of trigger.", "kit"),
    _number("distance", "mm", 50, 500, "Hold the gun, and measure to the work.", "kit"),
    _number("step", "mm", 10, 600, "Measure from one stroke to the next.", "kit"),
    _number("stroke-length", "m", 0.1, 10, "Measure one stroke.", "pieces"),
    _number("coats-on", "1", 0, 10, "Count the coats that are on.", "pieces"),
    Reading("last-coat-at", "time", "Say when the last coat was finished.", "pieces"),
    _words("touch-test", "passes fails", "Touch the last coat in a corner: it must not mark.", "pieces", True),
    _words("instruments", "usual checked exact", "Say how good the instruments are.", "day"),
    _words("hand", "trained new", "Say whose hand it is.", "day"),
    _number("tooth", "µm", 5, 2000, "Read the last wet tooth of the comb.", "pieces"),
    _words("region", "", "Say where you work.", "day"),
    Reading("now", "time", "Look at the clock.", "day"),
    Reading("dusk-at", "time", "Look up when it gets dark.", "day"),
)
READINGS: dict[str, Reading] = {one.name: one for one in _ALL}
