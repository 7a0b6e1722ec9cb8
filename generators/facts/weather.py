"""A year of hourly weather from the two open formats in use: EPW and TMY3, plain or gzipped."""

from __future__ import annotations

import csv
import gzip
import io
import math
import zlib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from generators import layers
from generators.facts.problem import Problem, shown

MAX_BYTES = 6_000_000  # unpacked: a whole TMY3 year is under 2 MB


@dataclass(frozen=True)
class Year:
    """Hourly columns of one length: month 1–12, hour 0–23 at the start of each, °C, %, m/s. NaN where the file has none."""

    name: str
    place: str
    month: Any
    hour: Any
    air: Any
    humidity: Any
    wind: Any


def _number(text: str, low: float, high: float) -> float:
    try:
        value = float(text)
    except ValueError:
        return math.nan
    return value if low <= value <= high else math.nan


@lru_cache(maxsize=4)
def _rows(text: str) -> tuple[str, list[tuple[int, int, int, str, str, str]]]:
    """(place, rows of line, month, hour, air, humidity, wind)."""
    lines = list(csv.reader(io.StringIO(text)))
    found = []
    if lines and lines[0] and lines[0][0].strip().upper() == "LOCATION":  # EPW: eight lines of head; hours 1 to 24
        place = ", ".join(part.strip() for part in lines[0][1:4] if part.strip() not in ("", "-"))
        for line, row in enumerate(lines[8:], 9):
            found.append((line, int(row[1]), int(row[3]) - 1, row[6], row[8], row[21]))
        return place, found
    heads = [head.strip() for head in lines[1]] if len(lines) > 1 else []
    if "Dry-bulb (C)" not in heads:
        raise ValueError("no head of either format")
    place = ", ".join(part.strip() for part in lines[0][1:3])
    air, humidity, wind = (next(index for index, head in enumerate(heads) if head == name) for name in ("Dry-bulb (C)", "RHum (%)", "Wspd (m/s)"))
    for line, row in enumerate(lines[2:], 3):  # TMY3: hours 01:00 to 24:00, each the hour that ends then
        found.append((line, int(row[0].split("/")[0]), int(row[1].split(":")[0]) - 1, row[air], row[humidity], row[wind]))
    return place, found


def read_year(path: Path, root: Path, problems: list[Problem]) -> Year | None:
    """The year, or None with a problem told."""
    name = layers.shown(path, root)
    wanted = "a year of hourly weather, EPW or TMY3, plain or .gz"
    try:
        if path.suffix == ".gz":
            with gzip.open(path) as packed:
                raw = packed.read(MAX_BYTES + 1)
        else:
            raw = path.read_bytes() if path.stat().st_size <= MAX_BYTES else b"\0" * (MAX_BYTES + 1)
        if len(raw) > MAX_BYTES:
            problems.append(Problem(name, 1, f"a file under {MAX_BYTES // 1_000_000} MB", "a bigger one", "see whether it is the right file"))
            return None
        place, rows = _rows(raw.decode("utf-8-sig", "replace"))
    except (OSError, EOFError, zlib.error) as error:
        problems.append(Problem(name, 1, "a file that can be read", str(error), "fetch it again"))
        return None
    except (ValueError, IndexError, StopIteration, csv.Error) as error:
        problems.append(Problem(name, 1, wanted, shown(str(error)), "use the file as its station gives it"))
        return None
    if not 8760 <= len(rows) <= 8784:
        problems.append(Problem(name, 1, "8,760 hours", f"{len(rows)}", "use a whole year"))
        return None
    for line, month, hour, *_ in rows:
        if not (1 <= month <= 12 and 0 <= hour <= 23):
            problems.append(Problem(name, line, "month 1 to 12 and hour 1 to 24", f"{month}, {hour + 1}", "mend the line"))
            return None
    return _year(path.name.split(".")[0], place, tuple(rows))


@lru_cache(maxsize=4)
def _year(name: str, place: str, rows: tuple[tuple[int, int, int, str, str, str], ...]) -> Year:
    """The columns. A year seldom changes while a handbook does: it is worked once in a process."""
    columns = [np.array(column) for column in ([r[1] for r in rows], [r[2] for r in rows])]
    air, humidity, wind = (np.array([_number(str(row[index]), low, high) for row in rows]) for index, low, high in ((3, -70, 60), (4, 1, 110), (5, 0, 80)))
    return Year(name, place, columns[0], columns[1], air, np.minimum(humidity, 100.0), wind)
