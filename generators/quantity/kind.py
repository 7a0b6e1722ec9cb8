"""Kinds: what a value measures, in which unit, and between which ends it can lie at all. A value outside is a slip, and refused."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from generators import units
from generators.basis import Origin
from generators.quantity.read import read
from generators.quantity.value import UNSAID, Quantity
from generators.units import UnitError


@dataclass(frozen=True)
class Kind:
    """`low` to `high` in `unit`, both ends allowed. `bare`: a figure without a unit is in `unit`. `counts`: what of a range in a sheet is worked with."""

    name: str
    unit: str
    low: float
    high: float
    example: str
    bare: bool = False
    counts: Literal["middle", "low", "high"] = "middle"

    def counting(self, end: Literal["low", "high"]) -> Kind:
        """The same kind, of which a range counts with its safe end: the later time, the lower limit."""
        return replace(self, counts=end)

    def between(self, low: float, high: float, unit: str) -> Kind:
        """The same kind with a narrower span."""
        return replace(self, unit=unit, low=low, high=high)

    def quantity(self, text: str, origin: Origin = UNSAID, at: str = "") -> Quantity:
        """The value that a text says; UnitError with wanted, came and mend where it is none of this kind or lies outside it."""
        typed = read(text, self.unit)
        if typed.bare and not self.bare:
            raise UnitError(f"a value such as {self.example}", repr(text[:60]), "add the unit")
        low, high = (float(units.convert(end, self.unit, typed.unit)) for end in (self.low, self.high))
        # A bound such as "< 50 g/L" reaches as far as the kind does.
        bottom, top = (low if typed.low == -math.inf else typed.low), (high if typed.high == math.inf else typed.high)
        hair = 1e-9 * max(1.0, abs(low), abs(high))
        if not low - hair <= bottom <= typed.likely <= top <= high + hair:
            raise UnitError(f"a value between {self.low:g} and {self.high:g} {self.unit}".removesuffix(" 1"), repr(text[:60]), "check the number and the unit")
        likely = typed.likely if typed.given != "range" or self.counts == "middle" else bottom if self.counts == "low" else top
        return Quantity(bottom, likely, top, typed.unit, self.name, origin, text, at)


_TABLE = (
    Kind("share", "%", 0, 150, "38 %"),
    Kind("humidity", "%", 5, 100, "85 %"),
    Kind("efficiency", "%", 5, 100, "65 %"),
    Kind("film", "µm", 1, 1000, "30 µm"),
    Kind("temperature", "°C", -40, 80, "18 °C"),
    Kind("difference", "Δ°C", 0, 60, "3 Δ°C"),
    Kind("density", "kg/L", 0.6, 3, "1.2 kg/L"),
    Kind("content", "g/L", 0, 1700, "45 g/L"),
    Kind("hours", "h", 0.05, 2000, "4 h"),
    Kind("days", "d", 0.05, 400, "3 d"),
    Kind("minutes", "min", 0.05, 600, "3 min"),
    Kind("seconds", "s", 5, 600, "62 s"),
    Kind("short time", "s", 0.05, 30, "0.5 s"),
    Kind("time left", "h", 0, 24, "0 h"),
    Kind("cup time", "s", 1, 600, "95 s in iso-4"),
    Kind("dust", "mg/m³", 0.001, 1000, "10 mg/m³"),
    Kind("length", "mm", 0.1, 2000, "200 mm"),
    Kind("size", "mm", 0, 10_000, "762 mm"),
    Kind("times", "×", 0.5, 20, "1.15 ×"),
    Kind("factor", "×", 1, 100_000, "40 ×"),
    Kind("volume", "L", 0.05, 1000, "1 L"),
    Kind("room", "m³", 1, 10_000, "30 m³"),
    Kind("area", "m²", 0.01, 100, "1.5 m²"),
    Kind("slope", "1/K", 0.001, 0.12, "0.03 1/K"),
    Kind("angle", "deg", 5, 110, "60 deg"),
    Kind("flow", "mL/min", 5, 1000, "150 mL/min"),
    Kind("level", "dBA", 30, 140, "84 dBA"),
    Kind("level rise", "dBA", 0.5, 30, "3 dBA"),
    Kind("wind", "m/s", 0.1, 20, "4 m/s"),
    Kind("air speed", "m/s", 0.05, 5, "100 ft/min"),
    Kind("air changes", "1/h", 0.1, 200, "6 1/h"),
    Kind("pressure", "kPa", 1, 1000, "10 psi"),
    Kind("viscosity", "mm²/s", 1, 2000, "80 mm²/s"),
    Kind("sides", "1", 1, 2, "2"),
    Kind("explosive limit", "%", 0.3, 20, "1.1 %"),
    Kind("flash point", "°C", -60, 200, "12 °C"),
    Kind("molar mass", "g/mol", 16, 400, "58.08 g/mol"),
    Kind("coverage", "m²/L", 0.2, 80, "10 m²/L"),
    Kind("nozzle", "mm", 0.3, 6, "1.5 mm"),
    Kind("rate", "m²/h", 0.1, 200, "8 m²/h"),
)
KINDS = {kind.name: kind for kind in _TABLE}
