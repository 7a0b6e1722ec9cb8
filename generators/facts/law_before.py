"""The four files that a handbook had before site_data/law, read as rules: a crew's older folder goes on as it was."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from generators.facts.law import Places, Rule, rules_of
from generators.facts.problem import Problem
from generators.facts.read import read_csv, read_yaml

Row = dict[str, str]


def _voc(row: Row) -> Row:
    unit = "g/L less water" if row["region"] == "us" else "g/L"
    return {"key": f"{row['category']}|{row['base']}", "figure": row["limit [g/L]"], "unit": unit, "says": row["meaning"]}


def _noise(row: Row) -> Row:
    return {"key": row["what"].replace(" ", "-"), "scope": row["what"], "figure": row["level [dBA]"], "unit": "dBA", "says": row["do"]}


def _masks(row: Row) -> Row:
    return {"key": row["key"], "scope": row["device"], "figure": row["factor"], "unit": "×"}


FILES_BEFORE: dict[str, tuple[str, tuple[str, ...], Callable[[Row], Row]]] = {
    "voc": ("voc_limits.csv", ("region", "category", "base", "limit [g/L]", "meaning", "checked", "basis", "source"), _voc),
    "noise": ("noise_limits.csv", ("region", "what", "level [dBA]", "do", "checked", "basis", "source"), _noise),
    "masks": ("protection_factors.csv", ("region", "key", "device", "factor", "checked", "basis", "source"), _masks),
}


def rules_before(root: Path, problems: list[Problem], places: Places, sources: Mapping[str, Any]) -> list[Rule]:
    """Rules of voc_limits.csv, noise_limits.csv, protection_factors.csv, and the limit of mist in regions.yaml."""
    found: list[Rule] = []
    blank = dict.fromkeys(("scope", "figure", "unit", "says", "from", "to", "ask"), "")
    for subject, (file, columns, turn) in FILES_BEFORE.items():
        path = root / "site_data" / file
        if path.is_file():
            rows = [(line, {**blank, **{key: row[key] for key in ("region", "checked", "basis", "source")}, **turn(row)}) for line, row in read_csv(path, root, columns, problems)]
            found += rules_of(subject, f"site_data/{file}", rows, problems, places, sources)
    path = root / "site_data" / "regions.yaml"
    tree = read_yaml(path, root, []) if path.is_file() else None
    for key, data in (tree.data if tree else {}).items():
        if tree and isinstance(data, dict) and isinstance(data.get("mist_limit"), str) and key != "eu":  # the EU has none of its own
            figure, _, unit = data["mist_limit"].partition(" ")
            row = {**blank, "region": key, "key": "dust|inhalable", "figure": figure, "unit": unit, **{name: str(data.get(name, "")) for name in ("checked", "basis", "source")}}
            found += rules_of("dust", "site_data/regions.yaml", [(tree.line((key, "mist_limit")), row)], problems, places, sources)
    return found
