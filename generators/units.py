"""The one unit registry. Pint works here and nowhere else: whole columns go in, floats come out.

Units are written the way a data sheet writes them ("µm", "mm²/s", "Δ°C"), never in pint's own spelling.
A temperature ("°C") and a temperature difference ("Δ°C") are different kinds and never convert into each
other: a margin of 3 °C is not a reading of 3 °C.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache
from typing import Any


@cache
def _registry() -> Any:
    """Opened when the first unit is looked up: what converts nothing starts without it."""
    import pint

    registry: Any = pint.UnitRegistry(cache_folder=":auto:", autoconvert_offset_to_baseunit=False)
    registry.define("dBA = []")  # a level re 20 µPa, A-weighted: it adds by energy, so it never converts
    registry.define("money = [money]")  # the coin of the crew's own rates: it converts into nothing
    return registry


# What a sprayer writes → what pint reads. One line for each unit the handbook accepts.
_SPELLINGS = {
    "1": "dimensionless", "×": "dimensionless", "%": "percent", "ppm": "ppm",
    "°C": "degC", "°F": "degF", "Δ°C": "delta_degC", "Δ°F": "delta_degF", "K": "kelvin",
    "degC": "degC", "degF": "degF",
    "µm": "micrometer", "um": "micrometer", "mil": "thou", "mm": "millimeter", "cm": "centimeter", "m": "meter",
    "in": "inch", "ft": "foot", "deg": "degree", "°": "degree",
    "imp gal": "imperial_gallon", "mL": "milliliter", "ml": "milliliter", "L": "liter", "l": "liter", "gal": "gallon", "qt": "quart",
    "pt": "pint", "mL/L": "milliliter/liter", "fl oz/gal": "fluid_ounce/gallon", "pt/gal": "pint/gallon", "qt/gal": "quart/gallon", "1/s": "1/second",
    "fl oz": "fluid_ounce", "floz": "fluid_ounce", "m²": "meter**2", "ft²": "foot**2", "m³": "meter**3", "ft³": "foot**3",
    "s": "second", "min": "minute", "h": "hour", "d": "day", "wk": "week", "1/h": "1/hour", "1/min": "1/minute", "m²/s": "meter**2/second", "g/m³": "gram/meter**3", "g/min": "gram/minute",
    "g": "gram", "kg": "kilogram", "lb": "pound", "oz": "ounce", "oz/gal": "ounce/gallon", "kg/L": "kilogram/liter", "g/L": "gram/liter",
    "kg/m³": "kilogram/meter**3", "g/mL": "gram/milliliter", "lb/gal": "pound/gallon", "g/mol": "gram/mole",
    "mm²/s": "millimeter**2/second", "cSt": "millimeter**2/second", "St": "stokes", "P": "poise", "Pa·s": "pascal*second",
    "mPa·s": "millipascal*second", "mN/m": "millinewton/meter", "Pa": "pascal", "kPa": "kilopascal", "psi": "psi",
    "hPa": "hectopascal", "bar": "bar", "m/s": "meter/second", "mm/s": "millimeter/second", "ft/min": "foot/minute",
    "in/s": "inch/second", "mph": "mile/hour", "km/h": "kilometer/hour", "kn": "knot",
    "L/min": "liter/minute", "gal/min": "gallon/minute", "ft³/min": "foot**3/minute", "mL/min": "milliliter/minute", "fl oz/min": "fluid_ounce/minute",
    "m²/L": "meter**2/liter", "ft²/gal": "foot**2/gallon", "m³/L": "meter**3/liter", "ft³/gal": "foot**3/gallon",
    "m³/h": "meter**3/hour", "mg/m³": "milligram/meter**3", "dBA": "dBA", "µm·m/s": "micrometer*meter/second",
    "mm²/s²": "millimeter**2/second**2", "mm²": "millimeter**2", "1/K": "1/kelvin", "K²": "kelvin**2",
    "J/(mol·K)": "joule/mole/kelvin", "J/(kg·K)": "joule/kilogram/kelvin", "m/s²": "meter/second**2", "1/%": "1/percent",
    "lb/gal solids": "pound/gallon", "ft²/US gal": "foot**2/gallon", "mm2/s": "millimeter**2/second",
    "m³/mol": "meter**3/mole", "W/(m²·K)": "watt/meter**2/kelvin", "MJ/(m³·K)": "megajoule/meter**3/kelvin",
    "m²/h": "meter**2/hour", "ft²/h": "foot**2/hour", "min/m": "minute/meter", "min/ft": "minute/foot", "min/m²": "minute/meter**2", "min/ft²": "minute/foot**2",
    "money": "money", "money/h": "money/hour", "money/L": "money/liter", "money/qt": "money/quart", "money/gal": "money/gallon", "money/m²": "money/meter**2", "money/ft²": "money/foot**2",
    "money/m": "money/meter", "money/ft": "money/foot",
}
_POINTS = {"°C", "°F", "degC", "degF"}
# Without a dimension, and no share of anything all the same: 60 degrees are not 105 %.
_APART = {"deg": "angle", "dBA": "level"}


class UnitError(ValueError):
    """A text that is not a value with a unit of the wanted kind: what was wanted, what came, how to mend."""

    def __init__(self, wanted: str, came: str, mend: str) -> None:
        self.wanted, self.came, self.mend = wanted, came, mend
        super().__init__(f"wanted {wanted}; came {came}; {mend}")


@cache
def _unit(text: str) -> Any:
    spelling = _SPELLINGS.get(text)
    if spelling is None:
        raise UnitError("a unit the handbook knows", repr(text), "write one of: " + ", ".join(sorted(_SPELLINGS)))
    return _registry().Unit(spelling)


def known(unit: str) -> bool:
    """True where the handbook knows the unit's spelling."""
    return unit in _SPELLINGS


def dimension(unit: str) -> tuple[tuple[str, float], ...]:
    """Dimensions of a unit as sorted (name, exponent) pairs; Δ°C and °C both count as temperature."""
    return tuple(sorted((name, float(power)) for name, power in _unit(unit).dimensionality.items()))


def is_point(unit: str) -> bool:
    """True for a temperature reading (°C, °F), false for a difference and for everything else."""
    return unit in _POINTS


def same_kind(unit_a: str, unit_b: str) -> bool:
    """True where values in one unit may be converted to the other."""
    return dimension(unit_a) == dimension(unit_b) and is_point(unit_a) == is_point(unit_b) and _APART.get(unit_a) == _APART.get(unit_b)


def convert(values: Any, from_unit: str, to_unit: str) -> Any:
    """Convert a float or a whole numpy column from one unit to another; UnitError where the kinds differ."""
    if from_unit == to_unit:
        return values
    if not same_kind(from_unit, to_unit):
        raise UnitError(f"a value in {to_unit}", f"one in {from_unit}", "give it in a unit of the same kind")
    scale, offset = linear(from_unit, to_unit)
    return values * scale + offset


@cache
def linear(from_unit: str, to_unit: str) -> tuple[float, float]:
    """(scale, offset) with value_to = value_from × scale + offset: every unit here is linear in every other."""
    source, target = _unit(from_unit), _unit(to_unit)
    at_zero = float(_registry().Quantity(0.0, source).to(target).magnitude)
    at_one = float(_registry().Quantity(1.0, source).to(target).magnitude)
    if not is_point(from_unit):
        return _tidy(at_one), 0.0
    # Written as the definition has them, so that 50 °F is 10 °C and not a hair more; the registry must agree.
    scale, offset = (1.0, 0.0) if from_unit[-1] == to_unit[-1] else ((5 / 9, -160 / 9) if to_unit.endswith("C") else (9 / 5, 32.0))
    if abs(at_zero - offset) > 1e-9 or abs(at_one - at_zero - scale) > 1e-9:
        raise UnitError("a registry that knows 32 °F as 0 °C", f"{at_zero} for nought {from_unit}", "look at the version of pint")
    return scale, offset


def _tidy(factor: float) -> float:
    """The factor without the registry's last hair of rounding: a mil is 25.4 µm, not 25.399999999999995."""
    short = float(f"{factor:.15g}")
    return short if abs(short - factor) <= 5e-16 * abs(factor) else factor


@cache
def to_base(unit: str) -> float:
    """Factor to the coherent base unit that formulas compute in (SI; a temperature stays in °C, an angle in radian)."""
    if unit in ("°C", "degC", "Δ°C", "K"):
        return 1.0
    if is_point(unit):
        raise UnitError("°C inside a formula", unit, "declare the symbol in °C; readings in °F are converted at the edge")
    return float(_registry().Quantity(1.0, _unit(unit)).to_base_units().magnitude)


# What a US reader measures in. A shade of a cup (mm²/s), a share and a time are the same in both; nozzles are sold by the millimetre everywhere, and are turned all the same.
US_TWINS = {
    "°C": "°F", "Δ°C": "Δ°F", "mm": "in", "cm": "in", "m": "ft", "µm": "mil", "L": "qt", "mL": "fl oz", "m²": "ft²", "m³": "ft³", "kg": "lb", "g": "oz", "kg/L": "lb/gal",
    "g/L": "lb/gal",
    "kg/m³": "lb/gal", "mm/s": "in/s", "L/min": "gal/min", "mL/L": "fl oz/gal",
    "mL/min": "fl oz/min", "m²/L": "ft²/gal", "m³/L": "ft³/gal", "m²/h": "ft²/h", "min/m": "min/ft", "min/m²": "min/ft²", "m³/h": "ft³/h",
    "money/L": "money/qt", "money/m²": "money/ft²", "money/m": "money/ft",
}
METRIC_TWINS = {"gal/min": "L/min", "°F": "°C", "Δ°F": "Δ°C", "in": "mm", "ft": "m", "mil": "µm", "qt": "L", "gal": "L", "fl oz": "mL", "floz": "mL", "floz/min": "mL/min", "fl oz/min": "mL/min",
                "mph": "m/s", "in/s": "m/s", "ft²": "m²", "lb/gal": "g/L",
                "lb": "kg", "oz": "g"}


FAST = 5.0  # m/s: a range that goes as far holds winds; no hand does


def turned(value: Any, unit: str, system: str, fast: bool = False) -> tuple[Any, str]:
    """A value in the unit that a reader of this system uses; as it is, where there is no such twin. `fast`: a speed is a wind's, not a hand's."""
    other = (US_TWINS if system == "us" else METRIC_TWINS).get(unit)
    if unit == "m/s" and system == "us":
        other = "mph" if fast or value >= 1 else "in/s"
    if other is None:
        return value, unit
    try:
        return convert(value, unit, other), other
    except UnitError:  # a unit that pint does not know by that name
        return value, unit


def turned_range(low: float, high: float, unit: str, system: str) -> tuple[float, float, str]:
    """(low, high, unit) of a range in the unit that a reader of this system uses: one unit for both ends, a wind's where the range holds winds."""
    fast = unit == "m/s" and high >= FAST
    if unit == "m/s" and system == "us" and not fast:
        return *within(convert(low, unit, "in/s"), convert(high, unit, "in/s")), "in/s"
    (least, other), (most, _) = turned(low, unit, system, fast), turned(high, unit, system, fast)
    return (least, most, other) if other == unit else (*within(least, most), other)


# "23 °C (73 °F)", "each litre (gallon)", "half a metre (18 inches)": said both ways by whoever wrote it.
_FIGURE = r"[−-]?[\d½¼¾⅛⅜⅝⅞][\d.,/\u202f½¼¾⅛⅜⅝⅞]*(?:(?:–| to )[−-]?[\d½¼¾⅛⅜⅝⅞][\d.,/½¼¾⅛⅜⅝⅞]*)?[ \u00a0]?"
_COUNT = r"(?:(?:one|two|three|half an?) )?(?:square |cubic )?"
_METRIC = rf"(?:{_FIGURE}(?:°C|mm|cm|µm|m/s|m²|m³|m|mL|L|kg|g|km/h|litres?|metres?|grams)|{_COUNT}(?:[Ll]itres?|metres?|millimetres|grams)|°C|mL|µm|m²)"
_US = (rf"(?:about )?(?:{_FIGURE}(?:°F|in|mil|ft²|ft³|ft(?: \d+ in)?|fl oz|qt|gal|lb|oz|mph|in/s|gallons?|quarts?|feet|inches)(?: square)?"
       rf"|{_COUNT}(?:[Gg]allons?|[Qq]uarts?|pints?|feet|foot|meters?|inches|ounces)|°F|fl oz|mil|ft²)")
_LONGEST = 100  # letters of a measure: no longer one is looked for, or a page full of brackets would be read as often as it has some
_IN_BRACKETS, _BEFORE = re.compile(rf"[ \u00a0]\(({_US})\)"), re.compile(rf"(?<![\w/])({_METRIC})\Z")


def one_system(text: str, system: str) -> str:
    """Prose that says a measure both ways, with the one of this system alone."""
    parts, done = list[str](), 0
    for us in _IN_BRACKETS.finditer(text):  # brackets that hold a measure are few: only before them is one looked for
        if metric := _BEFORE.search(text, max(done, us.start() - _LONGEST), us.start()):
            parts += [text[done : metric.start()], us[1] if system == "us" else metric[1]]
            done = us.end()
    return "".join([*parts, text[done:]]) if parts else text


_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_PLACES = {"in": 3, "mil": 1, "°F": 0, "Δ°F": 0, "°C": 0, "Δ°C": 1, "mm": 0, "µm": 0, "fl oz": 1, "fl oz/min": 1, "qt": 2, "lb/gal": 2, "mL": 0, "mL/min": 0, "L": 2, "g/L": 0, "gal/min": 2, "mph": 1}
_SIDES: dict[str, Callable[[float], int]] = {"up": math.ceil, "down": math.floor, "": round}


def said(value: float, unit: str, side: str = "") -> str:
    """A measure as people of its system say it: inches in eighths, mils to a tenth, degrees whole. `side` ("up", "down") rounds a limit to its safe side."""
    if unit == "in" and abs(value) >= 1:
        eighths = _whole(value * 8, side)
        return f"{eighths // 8 or ''}{_EIGHTHS[eighths % 8]} in"
    places = _PLACES.get(unit)
    if unit == "mph" and side:
        shown = _whole(value * 2, side) / 2  # a wind is told to half a mile
    elif places and 0 < abs(value) < 10.0 ** (1 - places) and not side:
        shown = float(f"{value:.2g}")  # so small that its places would hide it
    elif places is not None:
        places += {"mil": abs(value) < 2, "°C": abs(value) < 20, "mm": 2 * (abs(value) < 10)}.get(unit, 0)
        shown = _whole(value * 10**places, side) / 10**places
    else:
        shown = float(f"{value:.3g}")
    return f"{shown:.6g} {unit.replace('Δ', '')}".replace("-", "−")


def _whole(value: float, side: str) -> int:
    """A whole number on its side; what is one but for a hair stays."""
    return round(value) if abs(value - round(value)) < 1e-6 else int(_SIDES[side](value))


def round_about(value: float, unit: str) -> float:
    """A round figure near by, as an example begins with one: whole degrees, else the fewest digits within six per cent."""
    if unit in ("°C", "°F") or not math.isfinite(value) or value == 0:
        return float(round(value)) if math.isfinite(value) else value
    size = 10.0 ** math.floor(math.log10(abs(value)))
    near = (round(value / step) * step for step in (size, size / 2, size / 10))
    return float(f"{next((one for one in near if abs(one / value - 1) <= 0.06), float(f'{value:.3g}')):.12g}")


def within(low: float, high: float, digits: int = 3) -> tuple[float, float]:
    """A range on so many digits, never wider than it is."""
    def cut(value: float, side: str) -> float:
        if value == 0 or not math.isfinite(value):
            return value
        step = 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)
        return float(f"{_whole(value / step, side) * step:.12g}")

    return cut(low, "up"), cut(high, "down")
