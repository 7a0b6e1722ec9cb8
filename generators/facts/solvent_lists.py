"""What several lists say of one solvent, against each other and against what vapours that burn have in common."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generators.facts.relate import DOUBTFUL, Found

LISTS = 1.75         # two lists of one explosive limit differ by less
FLASH, RISING = 5.0, 0.1  # °C, and for each degree above nought: closed-cup methods agree less the higher the flash point (ASTM D93 gives about 7 % of it, from memory)
GRAMS = (26.0, 105.0)  # g/m³ at 20 °C: lower explosive limits by weight lie close together (methanol is the highest of ours, 80)
MOLE = 24.06         # L: a mole of gas at 20 °C


def solvent(row: Any) -> Iterator[Found]:
    """Doubts about one row of solvents.csv."""
    limits = {name: value.to("%") for name in ("lel_iec", "lel_nfpa", "lel_other", "lel_g11") if (value := getattr(row, name))}
    mass = row.molar_mass.to("g/mol")
    for name, limit in limits.items():
        grams = limit / 100 * mass / MOLE * 1000
        others = [other for one, other in limits.items() if one != name]
        if not GRAMS[0] <= grams <= GRAMS[1]:
            wanted = f"a limit that is {GRAMS[0]:g} to {GRAMS[1]:g} g of vapour in a cubic metre"
            yield Found((f"{name} [%]",), DOUBTFUL, wanted, f"{limit:g} %, {grams:.3g} g/m³", "check the limit and the molar mass")
        elif others and not min(abs(limit / other - 1) for other in others) <= LISTS - 1:
            yield Found((f"{name} [%]",), DOUBTFUL, f"a limit near the other list's, {others[0]:g} %", f"{limit:g} %", "check both lists")
    points = {name: value.to("°C") for name in ("flash_iec", "flash_nfpa", "flash_other") if (value := getattr(row, name))}
    for name, point in points.items():
        others = [other for one, other in points.items() if one != name]
        if others and min(abs(point - other) for other in others) > FLASH + RISING * max(point, *others, 0.0):
            yield Found((f"{name} [°C]",), DOUBTFUL, f"a flash point near the other list's, {others[0]:g} °C", f"{point:g} °C", "check both lists")
