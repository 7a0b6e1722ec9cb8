"""For tests that work a printed cell a second time: facts as they are written in site_data, and what a reader may take a cell for. Nothing here asks `generators` for a figure."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

import psychrolib
import yaml

DATA = Path(__file__).resolve().parent.parent / "site_data"
LIMITS = yaml.safe_load((DATA / "limits.yaml").read_text(encoding="utf-8"))
CLASSES = yaml.safe_load((DATA / "classes.yaml").read_text(encoding="utf-8"))
COATINGS = {path.stem: yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((DATA / "coatings").glob("*.yaml"))}
KITS = {path.stem: yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((DATA / "kits").glob("*.yaml"))}
CUPS = {row["name"]: row for row in csv.DictReader((DATA / "cups.csv").read_text(encoding="utf-8").splitlines())}
SPRAYED = [slug for slug, tin in COATINGS.items() if "stops" not in tin]
# Exact by definition: mm, m, L, m/s, µm, g, kg.
INCH, FOOT, QUART, GALLON, FLUID_OUNCE, MILE_AN_HOUR, MIL, OUNCE, POUND = 25.4, 0.3048, 0.946352946, 3.785411784, 29.5735295625, 0.44704, 25.4, 28.349523125, 0.45359237


def number(text: object) -> float:
    """The first number of a fact as it is written, in its own unit; Fahrenheit comes back in Celsius."""
    value = said(str(text))
    return (value - 32) / 1.8 if "°F" in str(text) and "Δ" not in str(text) else value


def limit(name: str) -> float:
    """A limit as site_data/limits.yaml has it."""
    return number(LIMITS[name]["value"])


def said(text: str) -> float:
    """The number that a text begins with."""
    found = re.match(r"[−-]?[\d.]+", text)
    assert found, text
    return float(found[0].replace("−", "-"))


def family(slug: str) -> str:
    """Water paint, solvent paint and so on, by a paint's class."""
    return str(CLASSES[COATINGS[slug]["class"]]["family"])


def over_dew(slug: str) -> float:
    """What a paint's kind needs over the dew point when it is left, in Δ°C: shellac and lacquer 11, water paint 5, others 3 (site_data/limits.yaml)."""
    shellac = COATINGS[slug]["class"].startswith("shellac")
    return limit("dew_margin_lacquer" if shellac else "dew_margin_waterborne" if family(slug) == "waterborne" else "dew_margin_min")


def dew(air: float, humidity: float) -> float:
    """psychrolib's dew point over water, °C; below 0 °C it gives frost points."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetTDewPointFromRelHum(air, humidity / 100))


def every(table):
    """(row head, column head, cell) of every cell, dashes too."""
    for head, row in table.grid():
        for column, cell in zip(table.columns.heads, row, strict=True):
            yield head, column, cell


def stands(cell, exact, step, side, slack=0.0):
    """A cell prints `exact` on whole steps, rounded to `side`, with the decimals that its step needs. `slack`: what two laws for the same thing may differ by."""
    assert not cell.reason, (cell, exact)
    decimals = len(f"{step:g}".partition(".")[2])
    value, hair = said(cell.text), slack + 1e-6 * max(1.0, abs(exact))
    assert len(cell.text.partition(".")[2]) == decimals and abs(value / step - round(value / step)) < 1e-6, (cell, step)
    low, high = {"down": (exact - step, exact), "up": (exact, exact + step), "nearest": (exact - step / 2, exact + step / 2)}[side]
    assert low - hair <= value <= high + hair, (cell, exact, step, side)


def dashed(cell, words=""):
    """A cell tells no figure, and why."""
    assert cell.text == "–" and words in cell.reason and len(cell.reason) > 10, (cell, words)


def legend(table):
    """{zone: word} of the zones that a table shows: each has a mark and a word of its own."""
    shown = {zone: word for zone, mark, word in table.zones_used() if mark}
    assert set(shown) == {cell.zone for _, _, cell in every(table)} - {"", "none"} and len(set(shown.values())) == len(shown), shown
    return shown


def graded(value, *edges):
    """The zone of a value that is the worse the more it has: ("fine", 1.3, "care", 1.6, "stop") is fine up to 1.3, and stop over 1.6."""
    for zone, edge in zip(edges[::2], (*edges[1::2], math.inf), strict=True):
        if value <= edge * (1 + 1e-12):
            return zone
    return None
