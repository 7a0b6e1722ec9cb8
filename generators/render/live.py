"""A formula as keys for wet gloves: a plain form that one script of ours brings to life. The sum itself is the declared formula's own JavaScript."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from generators import units
from generators.formula import Formula, Symbol
from generators.formula.guards import brief

# How far one press of a key moves a figure of a metric unit, and one of the unit that a US reader has in its place.
_PRESS = {
    "°C": (1, 1), "Δ°C": (0.5, 1), "mm": (10, 0.5), "µm": (5, 0.25), "m": (0.1, 0.5), "m²": (1, 10), "m³": (5, 100), "L": (0.1, 0.1),
    "mL": (10, 0.5), "mL/min": (10, 0.5), "m/s": (0.02, 1), "m²/L": (1, 50), "kg/L": (0.1, 1), "g": (5, 0.2), "m³/L": (0.1, 10),
    "s": (1, 1), "%": (1, 1), "min": (1, 1), "h": (0.5, 0.5), "dBA": (1, 1), "deg": (5, 5), "g/L": (10, 0.1),
    "mm²/s": (5, 5), "1/h": (1, 1),
    "kg/m³": (50, 0.5), "mm/s": (1, 0.05),
    "m²/h": (1, 10), "min/m": (0.25, 0.1), "min/m²": (0.25, 0.05), "kg": (0.1, 0.1), "money": (10, 10), "money/h": (1, 1),
    "money/L": (1, 1), "money/m²": (1, 0.1), "money/m": (1, 1),
}
_COMMON = {
    "relative-humidity": (40, 50, 60, 70, 80, 90), "trial-thinner": (1, 3, 5), "thinner": (0, 2, 5, 10), "first-time": (30, 40, 50, 60, 80), "trial-time": (25, 30, 40, 50),
    "target-time": (20, 28, 40, 52),
    "drift": (-50, -25, 25, 50), "time": (20, 30, 40, 60, 80), "air-changes": (1, 2, 4, 6, 10), "removal": (90, 99, 99.9), "level": (80, 85, 88, 91, 94),
    "faces": (1, 2), "sides": (1, 2), "coats": (1, 2, 3), "count": (1, 2, 6, 10, 20), "duty": (30, 45, 60),
    "profile": (1, 1.05, 1.15, 1.25), "edge": (), "slat-width": (), "slat-thickness": (), "slat-pitch": (),
}
_COMMON_US = {"drift": (-2, -1, 1, 2)}
# Inputs that one press moves otherwise than others of their unit: what is counted moves by one.
_STEPS = {
    "faces": (1, 1), "sides": (1, 1), "coats": (1, 1), "count": (1, 1), "fills": (1, 1), "drink": (0.1, 0.1), "stretch": (0.1, 0.1), "profile": (0.05, 0.05),
    "edge": (1, 0.125), "slat-width": (5, 0.25), "slat-thickness": (1, 0.125), "slat-pitch": (1, 0.125),
}
_COMMON_BY_UNIT = {("°C", False): (5, 10, 15, 20, 25, 30), ("°C", True): (40, 50, 60, 70, 80, 90), ("mm", False): (100, 150, 200, 250), ("mm", True): (4, 6, 8, 10)}


@dataclass(frozen=True)
class Field:
    """One input as keys: `scale` and `offset` take the US figure to the metric one."""

    symbol: Symbol
    unit: str
    step: float
    us_unit: str
    us_step: float
    scale: float
    offset: float
    common: tuple[float, ...]
    us_common: tuple[float, ...]
    start: str


def twin(unit: str, most: float = 0.0) -> tuple[str, float, float]:
    """(US unit, scale, offset) such that metric = US × scale + offset. `most` is how far its figures go: a speed that goes as far as a wind is one."""
    other = "mph" if unit == "m/s" and most >= units.FAST else "in/s" if unit == "m/s" else units.US_TWINS.get(unit, unit)
    return (other, *(units.linear(other, unit)))


def form_twin(unit: str) -> tuple[str, float, float]:
    """The same for a line of a form, where every speed is a wind's."""
    return twin(unit, units.FAST)


def begun(text: str, unit: str, system: str) -> str:
    """What a line of a form begins with, in the unit that is printed beside it, on three digits; a text that is no figure stays."""
    if system != "us" or not unit or form_twin(unit)[0] == unit:
        return text
    _, scale, offset = form_twin(unit)
    try:
        return brief(float(f"{(float(text) - offset) / scale:.3g}")).replace("−", "-")
    except ValueError:
        return text


def field(symbol: Symbol, start: float) -> Field:
    """The keys of one symbol, from its unit and its name."""
    us_unit, scale, offset = twin(symbol.unit, symbol.high)
    step, us_step = _PRESS.get(symbol.unit, (1, 1)) if us_unit != "mph" else (0.5, 1)
    if symbol.unit not in _PRESS:
        span = symbol.high - symbol.low
        step = us_step = float(f"{span / 100:.0e}")
    step, us_step = _STEPS.get(symbol.name, (step, us_step))
    common, us_common = ((_COMMON_US if us else {}).get(symbol.name) or _COMMON.get(symbol.name, _COMMON_BY_UNIT.get((symbol.unit, us), ())) for us in (False, True))

    def inside(value: float) -> bool:
        return symbol.low <= value <= symbol.high

    return Field(symbol, symbol.unit, step, us_unit, us_step, scale, offset, tuple(v for v in common if inside(v)),
                 tuple(v for v in us_common if inside(v * scale + offset)), brief(start).replace("−", "-"))


def fields(formula: Formula, given: dict[str, Any]) -> list[Field]:
    """The keys of a formula, starting from `given` or from its example."""
    return [field(symbol, float(given.get(symbol.name, symbol.example or symbol.low))) for symbol in formula.inputs]
