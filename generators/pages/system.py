"""An edition speaks one system of units: its worked examples too. Its prose and its measures: `units.one_system`, `units.said`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from generators import units
from generators.formula import Formula, OutOfRange
from generators.formula.worked import read


def worked_in(worked: Any, system: str) -> Any:
    """A worked example with its inputs, steps and answer in the reader's units: the sum is the same, since each symbol carries its own."""
    if system != "us":
        return worked
    value, unit = units.turned(worked.value, worked.unit, system)
    inputs = tuple((name, *units.turned(one, given, system, fast=name == "wind")) if given else (name, one, given) for name, one, given in worked.inputs)
    inputs = tuple((name.replace("litres", "quarts"), one, given) for name, one, given in inputs)
    return replace(worked, value=value, unit=unit, inputs=inputs, steps=tuple((name, *units.turned(one, given, system)) for name, one, given in worked.steps))


def example(formula: Formula, given: Mapping[str, Any], system: str, sheet: bool = False) -> Any:
    """A formula worked as a page shows it. What a data sheet says (`sheet`) stays what it is; any other figure is a round one of the reader's own units."""
    return worked_in(formula.work(given) if sheet else rounded(formula, given, system), system)


def rounded(formula: Formula, given: Mapping[str, Any], system: str) -> Any:
    """A formula worked, for US readers at the round figure of theirs next to each that is given; as given, where that has no answer."""
    if system != "us":
        return formula.work(given)
    plain, named = read(formula, given), {symbol.name: symbol.unit for symbol in formula.inputs}
    for name, unit in named.items():
        value, other = units.turned(float(plain[name]), unit, system, fast=name == "wind")
        if other != unit:
            plain[name] = float(units.convert(units.round_about(value, other), other, unit))
    try:
        return formula.work(plain)
    except OutOfRange:
        return formula.work(given)
