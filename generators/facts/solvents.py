"""Solvents: density, molar mass, and what each list says of explosive limit and flash point. Limits to breathe are law (see `law`)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators.facts.problem import Problem, shown

NUMBERS = {"density [kg/L]": (0.6, 1.7), "molar_mass [g/mol]": (16, 400), **dict.fromkeys(("lel_iec [%]", "lel_nfpa [%]", "lel_other [%]", "lel_g11 [%]"), (0.3, 20)),
           **dict.fromkeys(("flash_iec [°C]", "flash_nfpa [°C]", "flash_other [°C]"), (-60, 200))}
COLUMNS = ("name", "key", *NUMBERS, "basis", "source")
# What the file held before it had flash points and keys. An older folder still reads; its solvents have no limit to breathe.
_BEFORE = ("name", "density [kg/L]", "molar_mass [g/mol]", "lel_iec [%]", "lel_nfpa [%]", "lel_g11 [%]", "basis", "source")


def read_solvents(reader: Any, sources: Mapping[str, Any]) -> list[dict[str, str]]:
    """Rows of site_data/solvents.csv, every number in its span."""
    path = reader.root / "site_data" / "solvents.csv"
    columns = COLUMNS
    if path.is_file() and path.read_bytes().lstrip(b"\xef\xbb\xbf").startswith(b"name,density"):
        columns = _BEFORE
    numbers = tuple(column for column in columns if column in NUMBERS)
    found: list[dict[str, str]] = []
    for row in reader.cells("solvents.csv", columns, sources, numbers):
        for column in numbers:
            try:
                inside = not row[column] or NUMBERS[column][0] <= float(row[column]) <= NUMBERS[column][1]
            except ValueError:
                continue  # told already as no number
            if not inside:
                low, high = NUMBERS[column]
                reader.problems.append(Problem("site_data/solvents.csv", line_of(path, row["name"]), f"{low:g} to {high:g} in column {column}", shown(row[column]), "check the number and the unit"))
        found.append({**dict.fromkeys(COLUMNS, ""), **row})
    return found


def line_of(path: Any, name: str) -> int:
    """Line of a solvent's row, by its name."""
    for number, text in enumerate(path.read_text(encoding="utf-8-sig").splitlines(), 1):
        if text.lstrip('"').startswith(name):
            return number
    return 1
