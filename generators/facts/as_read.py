"""How each value of the crew's own files was read: `path:line: field: as written → what it is taken for`, so that a slip shows before a table does."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from generators.facts import model
from generators.facts.printed import Parts, Viscosity
from generators.facts.reader import Reader
from generators.facts.usual import figures
from generators.quantity import KINDS, Quantity

FOLDERS: dict[str, Any] = {"coatings": model.Coating, "kits": model.Kit, "own_cups": model.OwnCup, "recipes": model.Recipe}


def _number(value: float) -> str:
    return f"{value:.6g}"


def meant(value: Any) -> str:
    """What a value is taken for: the likely figure, its ends where it has any, its unit, and the cup that seconds were timed in."""
    if isinstance(value, Parts):
        return f"{_number(value)} parts of base to 1 of hardener, by {value.by}"
    if not isinstance(value, Quantity):
        return str(value)
    said = f"{_number(value.likely)} {value.unit}".removesuffix(" 1")
    if value.low != value.high:
        ends = [_number(end) for end in (value.low, value.high) if math.isfinite(end)]
        said += f", {' to '.join(ends)}" if len(ends) == 2 else f", at {'least' if math.isfinite(value.low) else 'most'}" if ends else ""
    house = KINDS[value.kind].unit if value.kind in KINDS else value.unit
    if house != value.unit and house != "1":
        said += f" = {value.to(house):.4g} {house}"
    return said + (f" in {value.cup}" if value.cup else "")


def as_read(root: Path) -> Iterator[str]:
    """A line for each figure of each tin, kit, own cup and recipe. What cannot be read is left to `check`."""
    reader = Reader(Path(root))
    for folder, kind in FOLDERS.items():
        for tree in reader.folder(folder).values():
            one = reader.part(kind, tree)
            for name, about in kind.model_fields.items():
                key = about.alias or name
                value = getattr(one, name)
                if isinstance(value, Viscosity):
                    path, line = tree.where((key,))
                    yield f"{path}:{line}: {key}: {value.text!r} → {meant(value.value)}, {value.meaning}"
                    continue
                for keys, dotted, figure in figures(value, (key,)):
                    path, line = tree.where(keys)
                    typed = figure.text if isinstance(figure, Quantity) else ""
                    yield f"{path}:{line}: {dotted}: " + (f"{typed!r} → " if typed else "") + meant(figure)
