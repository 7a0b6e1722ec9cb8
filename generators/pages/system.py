"""An edition speaks one system of units: in its prose, its measures and its worked examples."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from generators import units
from generators.formula.guards import number

_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_FIGURE = r"[−-]?[\d½¼¾⅛⅜⅝⅞][\d.,\u202f½¼¾⅛⅜⅝⅞]*(?:(?:–| to )[−-]?[\d½¼¾⅛][\d.,½¼¾⅛⅜⅝⅞]*)?"
# "23 °C (73 °F)": said both ways by whoever wrote it; each edition keeps its own.
_METRIC, _US = "°C|mm|cm|µm|m/s|m²|m³|m|mL|L|kg|g|km/h|litres?|metres?", "°F|in|mil|ft²|ft³|ft|fl oz|qt|gal|lb|oz|mph|gallons?|quarts?|feet|inches"
_BOTH = re.compile(rf"({_FIGURE}[ \u00a0]?(?:{_METRIC}))[ \u00a0]\(((?:about )?{_FIGURE}[ \u00a0]?(?:{_US}))\)")


def one_system(text: str, system: str) -> str:
    """Prose that says a measure both ways, with the edition's own alone."""
    return _BOTH.sub(r"\2" if system == "us" else r"\1", text)


def said(value: float, unit: str) -> str:
    """A measure as people of its system say it: inches in eighths, mils to a tenth, degrees whole."""
    if unit == "in" and abs(value) >= 1:
        eighths = round(value * 8)
        return f"{eighths // 8 or ''}{_EIGHTHS[eighths % 8]} in"
    places = {"in": 3, "mil": 2 if abs(value) < 2 else 1, "°F": 0, "Δ°F": 0, "°C": 0 if abs(value) >= 20 else 1, "Δ°C": 1, "mm": 0 if abs(value) >= 10 else 2, "µm": 0, "fl oz": 1, "fl oz/min": 1,
              "qt": 2, "lb/gal": 2, "mL": 0, "mL/min": 0, "L": 2, "g/L": 0}.get(unit)
    shown = round(value, places) if places is not None else float(f"{value:.3g}")
    return f"{number(shown)} {unit.replace('Δ', '')}"


def worked_in(worked: Any, system: str) -> Any:
    """A worked example with its inputs, steps and answer in the reader's units: the sum is the same, since each symbol carries its own."""
    if system != "us":
        return worked
    value, unit = units.turned(worked.value, worked.unit, system)
    inputs = tuple((name, *units.turned(one, given, system)) if given else (name, one, given) for name, one, given in worked.inputs)
    return replace(worked, value=value, unit=unit, inputs=inputs, steps=tuple((name, *units.turned(one, given, system)) for name, one, given in worked.steps))
