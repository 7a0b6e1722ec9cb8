"""What tests that work a printed table a second time share: facts as they are written, a cup by bisection, and what a rounded cell may say.

Nothing here asks `generators`: files of site_data are read as text, units are exact by definition.
"""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

import yaml

DATA = Path(__file__).resolve().parent.parent / "site_data"
INCH, FOOT, QUART, GALLON, FLUID_OUNCE, POUND = 25.4, 0.3048, 0.946352946, 3.785411784, 29.5735295625, 453.59237  # mm, m, L, L, mL, g: exact by definition
MIL, MILE_AN_HOUR, OUNCE = 25.4, 0.44704, POUND / 16  # µm, m/s, g


def written(path):
    """A file of facts as it is written."""
    return yaml.safe_load((DATA / path).read_text(encoding="utf-8"))


def rows_of(path):
    """Rows of a table of facts, without its remarks."""
    return list(csv.DictReader(line for line in (DATA / path).read_text(encoding="utf-8").splitlines() if not line.startswith("#")))


def number(text):
    """The first number of a fact as it is written, in its own unit; Fahrenheit comes back in Celsius."""
    value = float(re.match(r"[-−]?[\d.]+", str(text))[0].replace("−", "-"))
    return (value - 32) / 1.8 if "°F" in str(text) and "Δ" not in str(text) else value


LIMITS, CLASSES = written("limits.yaml"), written("classes.yaml")
COATINGS = {path.stem: written(f"coatings/{path.name}") for path in sorted((DATA / "coatings").glob("*.yaml"))}
KITS = {path.stem: written(f"kits/{path.name}") for path in sorted((DATA / "kits").glob("*.yaml"))}
CUPS = {row["name"]: row for row in rows_of("cups.csv")}
SPRAYED = [slug for slug, tin in COATINGS.items() if "stops" not in tin]
TIMED = [slug for slug, tin in COATINGS.items() if "supplied" in tin and "trial" in tin and "cup_refused" not in tin and "stops" not in tin]


def limit(name):
    """A limit of the handbook, in its own unit."""
    return number(LIMITS[name]["value"])


def family(slug):
    """Water paint, solvent paint and so on, by a paint's class."""
    return CLASSES[COATINGS[slug]["class"]]["family"]


def over_dew(slug):
    """What a paint's kind needs over the dew point when it is left, in Δ°C: shellac 11, water paint 5, others 3, read from the file of limits."""
    shellac = COATINGS[slug]["class"].startswith("shellac")
    return limit("dew_margin_lacquer" if shellac else "dew_margin_waterborne" if family(slug) == "waterborne" else "dew_margin_min")


def celsius(head, system):
    """A head in the table's degrees, in Celsius."""
    value = float(head.replace("−", "-"))
    return value if system == "metric" else (value - 32) / 1.8


def seconds_in(text):
    """(seconds, cup) of a timing such as `62 s in ford-4`."""
    seconds, cup = re.match(r"([\d.]+) s in (\S+)", text).groups()
    return float(seconds), cup


def thickness(cup, seconds):
    """mm²/s that so many seconds mean: a cup's own line, as cups.csv gives it (A, B and C; their sources stand beside them)."""
    row = CUPS[cup]
    return float(row["A [mm²/s²]"]) * (seconds - float(row["C [s]"])) - float(row["B [mm²]"]) / seconds


def read_in_cup(cup, viscosity):
    """Seconds that a viscosity takes, by halving; None outside the times that the cup can be read at."""
    shortest, longest = float(CUPS[cup]["time_min [s]"]), float(CUPS[cup]["time_max [s]"])
    if not thickness(cup, shortest) * (1 - 1e-9) <= viscosity <= thickness(cup, longest) * (1 + 1e-9):
        return None
    return found_by_halving(lambda seconds: thickness(cup, seconds) - viscosity, shortest, longest)


def found_by_halving(miss, low, high):
    """Where something that rises passes nought."""
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if miss(middle) < 0 else (low, middle)
    return (low + high) / 2


def said(text):
    """The number that a cell begins with."""
    return float(re.match(r"[−-]?[\d.]+", text)[0].replace("−", "-"))


def stands(cell, value, side, step, hair=1e-6, slack=0.0):
    """A cell holds the value on its step and on its side: down never over it, up never under it, nearest no more than half a step off.

    `hair` is how far, as a share, a second way may be off in its own last digit, `slack` the same in the cell's unit, where two laws for one thing differ; text shows no more
    places than the step has.
    """
    shown, slack = said(cell.text), max(slack, hair * max(1.0, abs(value)))
    assert not cell.reason and abs(shown / step - round(shown / step)) < 1e-6, (cell, value, step)
    assert len(cell.text.partition(".")[2]) == len(f"{step:.9f}".rstrip("0").partition(".")[2]), (cell, step)
    steps = {"down": math.floor, "up": math.ceil, "nearest": round}[side]
    whole = abs(value / step - round(value / step)) < 1e-9 * max(1.0, abs(value / step))  # it stands on a step, and is not rounded at all
    # What two laws leave open is open on a step as well.
    least, most = (round(value / step),) * 2 if whole and side != "nearest" and slack <= hair * max(1.0, abs(value)) else (steps((value - slack) / step), steps((value + slack) / step))
    assert least <= round(shown / step) <= most, (cell, value, side, step)


def dash(cell, *words):
    """A cell gives no figure, and says why in one of these words."""
    assert cell.text == "–" and any(word in cell.reason for word in words), (cell, words)


def every(table):
    """(row head, column head, cell) of all cells, dashes too."""
    for head, row in table.grid():
        yield from ((head, column, cell) for column, cell in zip(table.columns.heads, row, strict=True))


def legend(table):
    """{zone: its words} as the table's legend prints them: every shade that is used has its words."""
    told = {zone: words for zone, _, words in table.zones_used()}
    assert {cell.zone for _, _, cell in every(table) if cell.zone not in ("", "none")} == set(told), told
    return told


def nearest_is_clear(value, step):
    """False where a value lies so near the middle of two steps that either is right."""
    return abs(math.modf(abs(value) / step)[0] - 0.5) > 1e-6
