"""An edition speaks one system of units: its worked examples too. Its prose and its measures: `units.one_system`, `units.said`."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from generators import units


def worked_in(worked: Any, system: str) -> Any:
    """A worked example with its inputs, steps and answer in the reader's units: the sum is the same, since each symbol carries its own."""
    if system != "us":
        return worked
    value, unit = units.turned(worked.value, worked.unit, system)
    inputs = tuple((name, *units.turned(one, given, system, fast=name == "wind")) if given else (name, one, given) for name, one, given in worked.inputs)
    inputs = tuple((name.replace("litres", "quarts"), one, given) for name, one, given in inputs)
    return replace(worked, value=value, unit=unit, inputs=inputs, steps=tuple((name, *units.turned(one, given, system)) for name, one, given in worked.steps))
