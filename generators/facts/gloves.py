"""Glove materials by family of solvents, as ranks. A time is refused: nobody can promise one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from generators.facts.problem import Problem, shown
from generators.facts.read import read_csv
from generators.facts.sheet import place_of, there

GLOVES = ("thin nitrile", "thick nitrile", "butyl", "laminate", "natural rubber", "PVC")
RANKS = ("good", "fair", "splash", "no", "ask")  # from what holds to what does not; ask: the glove's own sheet alone can say
_COLUMNS = ("family", *GLOVES, "basis", "source")
_GLYCOL_ETHERS = ("pgme", "pgme-acetate", "2-butoxyethanol", "dpgme")
_MIXTURE = "lacquer thinner"


def read_gloves(reader: Any, sources: Mapping[str, Any]) -> tuple[dict[str, str], ...]:
    """Rows of site_data/gloves.csv: a family of solvents and a rank for each material."""
    path = reader.root / "site_data" / "gloves.csv"
    where = f"site_data/{place_of(path).name}"
    found = read_csv(path, reader.root, _COLUMNS, reader.problems) if there(reader.root, "site_data/gloves.csv") else []
    families: set[str] = set()
    for line, row in found:
        reader.origin(where, line, row["basis"], row["source"], sources)
        if not row["family"] or row["family"] in families:
            reader.problem(where, line, "a family of solvents, each once", shown(row["family"]), "name it, or keep one of the two lines")
        families.add(row["family"])
        for material in GLOVES:
            if row[material] not in RANKS:
                wanted = f"a rank in column {material}: {', '.join(RANKS)}"
                reader.problems.append(Problem(where, line, wanted, shown(row[material]), "write a rank; a glove's own sheet has its time"))
    return tuple(row for _, row in found)


def family_of(rows: Sequence[Mapping[str, str]], key: str) -> Mapping[str, str] | None:
    """The row for a solvent's key, such as mek; None where no family holds it."""
    if not key:
        return None
    words = "glycol ethers" if key in _GLYCOL_ETHERS else key.replace("-", " ").lower()
    return next((row for row in rows if words in [part.strip().replace("-", " ").lower() for part in row["family"].split(",")]), None)


def ranks(rows: Sequence[Mapping[str, str]], keys: Iterable[str]) -> dict[str, str]:
    """Rank of each material against all these solvents at once: the worst of their families; a mixture of families is asked as one too. Empty where none is known."""
    found = [row for key in dict.fromkeys(keys) if (row := family_of(rows, key)) is not None]
    if len({row["family"] for row in found}) > 1:
        found += [row for row in rows if row["family"].lower().startswith(_MIXTURE)]
    return {material: max((row[material] for row in found), key=RANKS.index) for material in GLOVES} if found else {}
