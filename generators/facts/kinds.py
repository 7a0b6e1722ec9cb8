"""The kinds of value that facts are made of, as pydantic types that also describe themselves to an editor."""

from __future__ import annotations

import difflib
import itertools
import re
from dataclasses import dataclass, replace
from typing import Annotated, Any

from pydantic import BeforeValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from generators import units
from generators.basis import Basis, Origin
from generators.facts.printed import Parts, cup_time, parts, share
from generators.facts.printed import Viscosity as Sheet
from generators.facts.printed import viscosity as sheet_viscosity
from generators.quantity import KINDS, UNSAID, Kind, Quantity


@dataclass(frozen=True)
class Trial:
    """A first dose and the cup time after it."""

    thinner: Quantity
    time: Quantity

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


_OWN_ORIGIN = {
    "type": "object", "required": ["value", "basis"], "additionalProperties": False,
    "properties": {"value": {"type": "string"}, "basis": {"enum": [str(b) for b in Basis]}, "source": {"type": "string"}, "date": {"type": "string"}},
}


def field_of(kind: Kind, bare: bool = False, per: str = "") -> Any:
    """A pydantic type that reads a text as a value of the kind, or {value, basis, source}.

    `bare`: a figure may stand without a unit. `per`: what it is a share by, mass or volume; a text that says the other is refused.
    """
    kind = replace(kind, bare=bare or kind.bare)

    def read(typed: Any) -> Quantity:
        if isinstance(typed, Quantity):
            return typed
        text, origin = _split(typed, kind.example)
        try:
            return replace(kind.quantity(share(text, per) if kind.unit == "%" else text, origin or UNSAID), text=text)
        except units.UnitError as error:
            raise refuse(f"a value such as {kind.example}" if error.wanted.startswith("a figure such") else error.wanted, text, error.mend) from None

    plain = {"type": "string", "pattern": r"[0-9½¼¾]", "examples": [kind.example], "description": f"a number with its unit, such as {kind.example}; a range or ± is read too"}
    return Annotated[Quantity, BeforeValidator(read), WithJsonSchema({"anyOf": [plain, _OWN_ORIGIN]}), kind]


def _cup_time(typed: Any) -> Quantity:
    if isinstance(typed, Quantity):
        return typed
    text, origin = _split(typed, KINDS["cup time"].example)
    try:
        seconds, cup = cup_time(text)
        return replace(KINDS["cup time"].quantity(seconds, origin or UNSAID), cup=cup, text=text)
    except units.UnitError as error:
        raise refuse("seconds and the cup they were timed in, such as 95 s in iso-4", text, error.mend) from None


def _viscosity(typed: Any) -> Sheet:
    if isinstance(typed, Sheet):
        return typed
    text, origin = _split(typed, "95 KU")
    try:
        found = sheet_viscosity(text)
    except units.UnitError as error:
        raise refuse(error.wanted, text, error.mend) from None
    return replace(found, value=replace(found.value, origin=origin)) if origin else found


def _trial(typed: Any) -> Trial:
    if isinstance(typed, Trial):
        return typed
    if not isinstance(typed, dict) or set(typed) != {"thinner", "time"}:
        raise refuse("thinner and time", typed, "write {thinner: 5 %, time: 61 s in ford-4}")
    read = _PERCENT_READER(typed["thinner"])
    return Trial(read, _cup_time(typed["time"]))


Percent = field_of(KINDS["share"])
PercentMost = field_of(KINDS["share"].counting("low"))
Scatter = field_of(KINDS["share"].between(1, 60, "%"))
Solids = field_of(KINDS["share"].between(0, 100, "%"), per="volume")
ThinnerMost = field_of(KINDS["share"].counting("low"), per="volume")
Share = field_of(KINDS["share"].between(0, 100, "%"), per="mass")
Coverage = field_of(KINDS["coverage"])
Nozzle = field_of(KINDS["nozzle"])
Mesh = field_of(KINDS["film"].between(40, 1200, "µm"))
Efficiency = field_of(KINDS["efficiency"])
Film = field_of(KINDS["film"])
Temperature = field_of(KINDS["temperature"])
TemperatureLeast = field_of(KINDS["temperature"].counting("high"))
TemperatureMost = field_of(KINDS["temperature"].counting("low"))
Density = field_of(KINDS["density"])
Voc = field_of(KINDS["content"].counting("high"))
Content = field_of(KINDS["content"])
Hours = field_of(KINDS["hours"].counting("high"))
HoursMost = field_of(KINDS["hours"].counting("low"))
Dust = field_of(KINDS["dust"].counting("low"))
Moment = field_of(KINDS["minutes"])
Length = field_of(KINDS["length"])
Size = field_of(KINDS["size"])
Run = field_of(Kind("run", "m", 0, 5000, "30 m"))
Times = field_of(KINDS["times"])
Volume = field_of(KINDS["volume"].between(0.05, 100, "L"))
Seconds = field_of(KINDS["seconds"])
Slope = field_of(KINDS["slope"])
OwnSlope = field_of(KINDS["slope"].between(-0.03, 0.12, "1/K"))  # below zero: some water paints thicken as they warm
Steepness = field_of(Kind("steepness", "1", 0.5, 20, "5.2"), bare=True)
Angle = field_of(KINDS["angle"])
Flow = field_of(KINDS["flow"])
Level = field_of(KINDS["level"].counting("high"))
Days = field_of(KINDS["days"])
Area = field_of(KINDS["area"])
Rate = field_of(KINDS["rate"])
Viscosity = field_of(KINDS["viscosity"])
Time = field_of(KINDS["cup time"])
Bare = field_of(KINDS["times"], bare=True)
Gas = field_of(KINDS["explosive limit"].counting("low"))
Mass = field_of(KINDS["molar mass"])
Flash = field_of(KINDS["flash point"].counting("low"))
Solvent = field_of(KINDS["density"].between(0.6, 1.7, "kg/L"))
Many = field_of(KINDS["sides"], bare=True)
_PERCENT_READER = Percent.__metadata__[0].func
Cup = Annotated[Quantity, BeforeValidator(_cup_time), WithJsonSchema({"anyOf": [
    {"type": "string", "pattern": "[0-9]", "examples": ["95 s in iso-4", "28 sec Zahn #2"], "description": "seconds and the cup, such as 95 s in iso-4"}, _OWN_ORIGIN]})]
FirstDose = Annotated[Trial, BeforeValidator(_trial), WithJsonSchema({
    "type": "object", "required": ["thinner", "time"], "additionalProperties": False,
    "properties": {"thinner": {"type": "string", "examples": ["5 %"]}, "time": {"type": "string", "examples": ["61 s in ford-4"]}}})]



def _teeth(typed: Any) -> tuple[Quantity, ...]:
    if isinstance(typed, tuple):
        return typed
    kind = replace(KINDS["film"], high=10_000, bare=True)
    try:
        found = tuple(kind.quantity(part) for part in str(typed).removesuffix(" µm").split())
    except units.UnitError:
        found = ()
    if len(found) < 2 or not all(low.to("µm") < high.to("µm") for low, high in itertools.pairwise(found)):
        raise refuse("teeth in µm, shortest first, with blanks between", typed, "write them as 25 50 75 100")
    return found


Teeth = Annotated[tuple[Quantity, ...], BeforeValidator(_teeth), WithJsonSchema({"type": "string", "examples": ["25 50 75 100"]})]
# Hazard statements of the globally harmonised system, and the supplements that European labels carry.
_CODE = re.compile(r"^(H[2-4]\d\d[A-Za-z]{0,2}|EUH\d{3}[A-Z]?)$")
_MINUTES = re.compile(r"\d\s*(min\b|minutes?\b|h\b|hours?\b|hrs?\b|s\b)", re.IGNORECASE)


def _code(typed: Any) -> str:
    text = str(typed).strip().replace(" ", "")
    if not _CODE.match(text):
        raise refuse("a hazard code such as H226 or EUH204", typed, "write the code as section 2 of the safety data sheet has it, without its words")
    return text


def _no_minutes(typed: Any) -> str:
    text = " ".join(str(typed).split())
    if not text or len(text) > 400 or _MINUTES.search(text):
        raise refuse("a glove's material, without a time", typed, "leave the minutes out: gloves of one material differ ten times; the glove's own sheet has its time")
    return text


HazardCode = Annotated[str, BeforeValidator(_code), WithJsonSchema({"type": "string", "pattern": _CODE.pattern, "examples": ["H226", "EUH204"]})]
NoMinutes = Annotated[str, BeforeValidator(_no_minutes), WithJsonSchema({"type": "string", "examples": ["thick nitrile"]})]


def _ratio(typed: Any) -> Parts:
    if isinstance(typed, Parts):
        return typed
    try:
        return parts(str(typed))
    except units.UnitError as error:
        raise refuse(error.wanted, typed, error.mend) from None


Ratio = Annotated[Parts, BeforeValidator(_ratio), WithJsonSchema({
    "type": "string", "examples": ["4:1", "100:25 by weight"], "description": "base to hardener by volume, such as 4:1; by weight where the sheet says so"})]
SheetViscosity = Annotated[Sheet, BeforeValidator(_viscosity), WithJsonSchema({
    "type": "string", "examples": ["95 KU", "120 mPa·s (cone and plate)"], "description": "a viscosity and how it was measured"})]


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
