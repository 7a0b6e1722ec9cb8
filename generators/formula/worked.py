"""One set of inputs worked: the value, the inputs as read, and where it all comes from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generators import quantity, units
from generators.formula.declare import Formula
from generators.formula.numeric import evaluate
from generators.formula.parts import InputError, OutOfRange


@dataclass(frozen=True)
class Worked:
    """`value` is unrounded, in `unit`; `inputs` are (name, value, unit) as the formula used them."""

    formula: str
    value: float
    unit: str
    inputs: tuple[tuple[str, Any, str], ...]
    steps: tuple[tuple[str, float, str], ...]
    basis: str
    sources: tuple[str, ...]
    notes: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """The object that `almanac work --json` prints."""
        inputs = {name: (value if not unit else {"value": value, "unit": unit}) for name, value, unit in self.inputs}
        return {"formula": self.formula, "value": self.value, "unit": self.unit, "inputs": inputs,
                "basis": self.basis, "sources": list(self.sources), "notes": list(self.notes)}


def read(formula: Formula, inputs: Mapping[str, Any]) -> dict[str, Any]:
    """Inputs as numbers in their declared units. Texts may carry a unit; a bare number is in the declared one."""
    named = {symbol.name: symbol for symbol in formula.inputs}
    plain: dict[str, Any] = {}
    problems = []
    for name, given in inputs.items():
        symbol = named.get(name)
        if symbol is None:
            plain[name] = given
            continue
        try:
            plain[name] = _number(given, symbol.unit)
        except units.UnitError as error:
            problems.append(f"{name}: {error}")
    if problems:
        raise InputError("; ".join(problems))
    return plain


def _number(given: Any, unit: str) -> float:
    if not isinstance(given, str):
        return float(given)
    typed = quantity.read(given, unit)
    if not typed.single:
        raise units.UnitError("one figure", repr(given[:60]), "a formula takes one: work it once for each end")
    return typed.to(unit).likely


def work(formula: Formula, inputs: Mapping[str, Any]) -> Worked:
    """Work one set of inputs. InputError for a bad input, OutOfRange with the reason where there is no answer."""
    plain = read(formula, inputs)
    answer, codes, letters, reasons = evaluate(formula, plain)
    if int(codes) >= 0:
        raise OutOfRange(reasons[int(codes)])
    used: list[tuple[str, Any, str]] = [(s.name, plain[s.name], s.unit) for s in formula.inputs]
    origins = [formula.origin]
    if formula.choice:
        used.insert(0, (formula.choice.name, plain[formula.choice.name], ""))
        origins.append(formula.choice.options[plain[formula.choice.name]].origin)
    steps = tuple((s.meaning or s.letter, float(letters[s.letter]) / formula.base(s.unit), s.unit) for s in formula.steps)
    sources = tuple(dict.fromkeys(origin.source for origin in origins if origin.source))
    basis = origins[-1].basis  # the constants decide how far the number can be trusted
    return Worked(formula.name, float(answer), formula.answer.unit, tuple(used), steps, str(basis), sources, formula.notes)
