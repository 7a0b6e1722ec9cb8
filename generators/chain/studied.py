"""What the studies give a chain, worked once at build: by a word, or by a word along an axis."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

from generators.studies import overlap, thinnest

# Steps looked at, in % of the fan; between two the chain takes the worse.
SHARES = tuple(range(20, 101, 2))


@cache
def _evenness() -> dict[str, tuple[float, ...]]:
    """To a hundredth of a percent, down: less than print tells apart, and half the bytes that a phone must load."""
    return {name: tuple(math.floor(1e4 * overlap.evenness(overlap.side_by_side(fan, share / 100)).least) / 100 for share in SHARES) for name, fan in overlap.FANS.items()}


@cache
def _half_heights() -> dict[str, float]:
    return {name: 100 * overlap.half_height(fan) for name, fan in overlap.FANS.items()}


def _teeth(comb: Any) -> list[float]:
    return [tooth.to("µm") for tooth in comb.teeth]


def studies(facts: Any) -> dict[str, dict[str, Any]]:
    """{study: {"unit", "rows": {word: number or numbers}, "axis", "axis_unit"}}."""
    return {
        "half-height": {"unit": "%", "rows": _half_heights()},
        "evenness": {"unit": "%", "axis_unit": "%", "axis": list(SHARES), "rows": {name: list(row) for name, row in _evenness().items()}},
        "hand-low": {"unit": "%", "axis_unit": "%", "axis": list(thinnest.STEPS), "rows": {name: list(row) for name, row in thinnest.LOW.items()}},
        "hand-spreads": {"unit": "1", "axis_unit": "%", "axis": list(thinnest.STEPS), "rows": {name: list(row) for name, row in thinnest.SPREADS.items()}},
        "comb": {"unit": "µm", "axis_unit": "µm", "axis": _teeth(facts.combs[0]) if facts.combs else [], "rows": {comb.comb: _teeth(comb) for comb in facts.combs}},
        "comb-next": {"unit": "µm", "axis_unit": "µm", "axis": _teeth(facts.combs[0])[:-1] if facts.combs else [], "rows": {comb.comb: _teeth(comb)[1:] for comb in facts.combs}},
    }
