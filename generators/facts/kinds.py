"""The kinds of value that facts are made of, as pydantic types that also describe themselves to an editor."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from generators import units
from generators.basis import Basis, Origin

# A value that gave no basis of its own holds this very object until its file's basis takes its place.
UNSAID = Origin(Basis.INVENTED)


@dataclass(frozen=True)
class Measure:
    """A value with its unit, as typed, and where it comes from."""

    value: float
    unit: str
    origin: Origin = UNSAID

    def to(self, unit: str) -> float:
        """The value in another unit of the same kind."""
        return float(units.convert(self.value, self.unit, unit))


@dataclass(frozen=True)
class CupTime:
    """Seconds, and the cup they were timed in. Never one without the other."""

    seconds: float
    cup: str
    origin: Origin = UNSAID


@dataclass(frozen=True)
class Trial:
    """A first dose and the cup time after it."""

    thinner: Measure
    time: CupTime

    def __iter__(self) -> Any:
        return iter((self.thinner, self.time))


def refuse(wanted: str, came: object, mend: str) -> PydanticCustomError:
    """A validation error in the three parts that a Problem is made of."""
    text = " ".join(str(came).split())
    return PydanticCustomError("fact", "{wanted}", {"wanted": wanted, "came": repr(text[:60]), "mend": mend})


def nearest(name: str, names: Any, noun: str) -> PydanticCustomError:
    """An unknown name, with the nearest known one."""
    close = difflib.get_close_matches(str(name), [str(n) for n in names], 1)
    mend = f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(sorted(str(n) for n in names))
    return refuse(f"a known {noun}", name, mend)


def _origin(typed: dict[str, Any]) -> Origin | None:
    if "basis" not in typed:
        return None
    try:
        basis = Basis(str(typed["basis"]))
    except ValueError:
        raise nearest(str(typed["basis"]), [str(b) for b in Basis], "basis") from None
    return Origin(basis, str(typed.get("source") or ""), str(typed.get("date") or ""))


def _split(typed: Any, example: str) -> tuple[str, Origin | None]:
    """The text of a value, and its own origin where it is written as {value, basis, source}."""
    if isinstance(typed, dict):
        unknown = set(typed) - {"value", "basis", "source", "date"}
        if unknown or not isinstance(typed.get("value"), str):
            raise refuse("a value", ", ".join(typed), "write {value: …, basis: …, source: …}")
        return typed["value"], _origin(typed)
    if not isinstance(typed, str):
        raise refuse(f"a value such as {example}", typed, "write a number and its unit")
    return typed, None


def _measure(unit: str, low: float, high: float, example: str) -> Any:
    def read(typed: Any) -> Measure:
        if isinstance(typed, Measure):
            return typed
        text, origin = _split(typed, example)
        try:
            value, found = units.parse(text)
        except units.UnitError as error:
            raise refuse(f"a value such as {example}", typed if isinstance(typed, str) else text, error.mend) from None
        found = {"degC": "°C", "degF": "°F", "um": "µm", "°": "deg"}.get(found, found)
        if not units.same_kind(found, unit):
            raise refuse(f"a value in {unit} or a unit like it, such as {example}", text, "change the unit")
        if not low <= (inside := units.convert(value, found, unit)) <= high or not math.isfinite(inside):
            raise refuse(f"a value between {low:g} and {high:g} {unit}", text, "check the number and the unit")
        return Measure(value, found, origin or UNSAID)

    plain = {"type": "string", "pattern": r"^\s*[-+−]?[0-9.]+([eE][-+]?[0-9]+)?\s*\S+.*$", "examples": [example], "description": f"a number with its unit, such as {example}"}
    return Annotated[Measure, BeforeValidator(read), WithJsonSchema({"anyOf": [plain, _OWN_ORIGIN]})]


_OWN_ORIGIN = {
    "type": "object", "required": ["value", "basis"], "additionalProperties": False,
    "properties": {"value": {"type": "string"}, "basis": {"enum": [str(b) for b in Basis]}, "source": {"type": "string"}, "date": {"type": "string"}},
}

_CUP_TIME = re.compile(r"^\s*([0-9.]+)\s*s\s+in\s+([a-z0-9.\-]+)\s*$")


def _cup_time(typed: Any) -> CupTime:
    if isinstance(typed, CupTime):
        return typed
    text, origin = _split(typed, "95 s in iso-4")
    match = _CUP_TIME.match(text)
    try:
        seconds = float(match[1]) if match else math.nan
    except ValueError:
        seconds = math.nan
    if not match or not 1 <= seconds <= 600:
        raise refuse("seconds and the cup they were timed in, such as 95 s in iso-4", text, "write the seconds, then `s in`, then the cup's name")
    return CupTime(seconds, match[2], origin or UNSAID)


def _trial(typed: Any) -> Trial:
    if isinstance(typed, Trial):
        return typed
    if not isinstance(typed, dict) or set(typed) != {"thinner", "time"}:
        raise refuse("thinner and time", typed, "write {thinner: 5 %, time: 61 s in ford-4}")
    read = _PERCENT_READER(typed["thinner"])
    return Trial(read, _cup_time(typed["time"]))


Percent = _measure("%", 0, 150, "38 %")
Efficiency = _measure("%", 5, 100, "65 %")
Film = _measure("µm", 1, 1000, "30 µm")
Temperature = _measure("°C", -40, 80, "18 °C")
Density = _measure("kg/L", 0.6, 3, "1.2 kg/L")
Voc = _measure("g/L", 0, 1700, "45 g/L")
Hours = _measure("h", 0.05, 2000, "4 h")
Dust = _measure("mg/m³", 0.001, 1000, "10 mg/m³")
Moment = _measure("min", 0.05, 600, "3 min")
Length = _measure("mm", 0.1, 2000, "200 mm")
Size = _measure("mm", 0, 10_000, "762 mm")
Times = _measure("×", 0.5, 20, "1.15 ×")
Volume = _measure("L", 0.05, 100, "1 L")
Seconds = _measure("s", 5, 600, "62 s")
Slope = _measure("1/K", 0.001, 0.12, "0.03 1/K")
Angle = _measure("deg", 5, 110, "60 deg")
Flow = _measure("mL/min", 5, 1000, "150 mL/min")
Level = _measure("dBA", 30, 130, "84 dBA")
_PERCENT_READER = Percent.__metadata__[0].func
Cup = Annotated[CupTime, BeforeValidator(_cup_time), WithJsonSchema({"anyOf": [
    {"type": "string", "pattern": _CUP_TIME.pattern, "examples": ["95 s in iso-4"], "description": "seconds and the cup, such as 95 s in iso-4"}, _OWN_ORIGIN]})]
FirstDose = Annotated[Trial, BeforeValidator(_trial), WithJsonSchema({
    "type": "object", "required": ["thinner", "time"], "additionalProperties": False,
    "properties": {"thinner": {"type": "string", "examples": ["5 %"]}, "time": {"type": "string", "examples": ["61 s in ford-4"]}}})]

_RATIO = re.compile(r"^\s*([0-9.]+)\s*:\s*([0-9.]+)\s*$")


def _ratio(typed: Any) -> float:
    if isinstance(typed, float):
        return typed
    match = _RATIO.match(str(typed))
    try:
        base, hardener = (float(match[1]), float(match[2])) if match else (math.nan, math.nan)
    except ValueError:
        base = hardener = math.nan
    if not (base > 0 and hardener > 0 and 0.2 <= base / hardener <= 100):
        raise refuse("parts of base to parts of hardener by volume, such as 4:1", typed, "write the two numbers with a colon, in quotes")
    return base / hardener


Ratio = Annotated[float, BeforeValidator(_ratio), WithJsonSchema({"type": "string", "pattern": _RATIO.pattern, "examples": ["4:1"], "description": "base to hardener by volume, such as 4:1"})]


def _numbers4(typed: Any) -> tuple[float, ...]:
    if isinstance(typed, tuple):
        return typed
    try:
        found = tuple(float(part) for part in str(typed).split())
    except ValueError:
        found = ()
    if len(found) != 4 or not all(-20 <= number <= 200 for number in found):
        raise refuse("four numbers with blanks between, such as 5 5 90 50", typed, "write x y width height, or x y x y")
    return found


Numbers4 = Annotated[tuple[float, ...], BeforeValidator(_numbers4), WithJsonSchema({"type": "string", "examples": ["5 5 90 50"]})]
