"""Glove materials by family of solvents, as ranks. A time is refused: nobody can promise one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators.facts.problem import Problem, shown
from generators.facts.read import read_csv
from generators.facts.sheet import there

GLOVES = ("thin nitrile", "thick nitrile", "butyl", "laminate", "natural rubber", "PVC")
RANKS = ("good", "fair", "splash", "no", "ask")
_COLUMNS = ("family", *GLOVES, "basis", "source")


def read_gloves(reader: Any, sources: Mapping[str, Any]) -> tuple[dict[str, str], ...]:
    """Rows of site_data/gloves.csv: a family of solvents and a rank for each material."""
    path = reader.root / "site_data" / "gloves.csv"
    found = read_csv(path, reader.root, _COLUMNS, reader.problems) if there(reader.root, "site_data/gloves.csv") else []
    for line, row in found:
        reader.origin("site_data/gloves.csv", line, row["basis"], row["source"], sources)
        if not row["family"]:
            reader.problem("site_data/gloves.csv", line, "a family of solvents", "an empty cell", "name it")
        for material in GLOVES:
            if row[material] not in RANKS:
                wanted = f"a rank in column {material}: {', '.join(RANKS)}"
                reader.problems.append(Problem("site_data/gloves.csv", line, wanted, shown(row[material]), "write a rank; a glove's own sheet has its time"))
    return tuple(row for _, row in found)
