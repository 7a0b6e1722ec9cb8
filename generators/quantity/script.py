"""The grammar as the phone gets it: the same data, and a pair of factors for each two units of a kind, from the one registry."""

from __future__ import annotations

import json
from functools import cache

from generators import units
from generators.quantity.read import grammar


@cache
def script() -> str:
    """JavaScript that holds the grammar without its cases, as `almanacGrammar`. `to_unit[a][b]` is [scale, offset]: b = a × scale + offset."""
    data = {name: part for name, part in grammar().items() if name not in ("about", "cases")}
    names = list(data["units"])
    data["to_unit"] = {one: {other: units.linear(one, other) for other in names if other != one and units.same_kind(one, other)} for one in names}
    return "window.almanacGrammar=" + json.dumps(data, ensure_ascii=False, separators=(",", ":")) + ";\n"
