"""The tins that hold so much paint at least cost: a search, since no formula gives it. `searches.js` is its twin on the phone."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

_UNITS = 2_000_000  # steps of the search: more paint than that, in hundredths of a litre, is no job of this crew


def cheapest_tins(litres: float, tins: Sequence[tuple[float, float]]) -> tuple[list[int], float]:
    """(how many of each tin, cost) that hold at least `litres` at least cost; of equal cost, the fewest tins. ([], NaN) where none are given.

    Each tin is (litres, price). Sizes go by the hundredth of a litre, worked from the bottom up so that no mix is missed. Of a great need, most is
    filled with the tin that is cheapest by the litre: among as many other tins as that one has units there is always a set that it can stand in for.
    """
    kinds = [(place, math.floor(size * 100 + 1e-6), price) for place, (size, price) in enumerate(tins) if size >= 0.01]
    if not kinds or not math.isfinite(litres):
        return [], math.nan
    unit = math.gcd(*(size for _, size, _ in kinds))
    kinds = [(place, size // unit, price) for place, size, price in kinds]
    need = max(0, math.ceil(litres * 100 / unit - 1e-6))
    bulk, large, bulk_price = min(kinds, key=lambda kind: (kind[2] / kind[1], -kind[1]))
    whole = max(0, (need - large * (1 + max(size for _, size, _ in kinds))) // large)
    need -= whole * large
    if need > _UNITS:
        return [], math.nan
    best: list[tuple[float, int]] = [(0.0, 0)]  # (cost, tins) to hold at least so many units
    used: list[int] = [-1]
    for amount in range(1, need + 1):
        options = [((round(best[max(0, amount - size)][0] + price, 6), best[max(0, amount - size)][1] + 1), kind) for kind, (_, size, price) in enumerate(kinds)]
        found, kind = min(options)
        best.append(found)
        used.append(kind)
    counts, left = [0] * len(tins), need
    while left > 0:
        place, size, _ = kinds[used[left]]
        counts[place] += 1
        left = max(0, left - size)
    counts[bulk] += whole
    return counts, best[need][0] + whole * bulk_price


LETTERS = "abc"


def tins(given: Mapping[str, Any]) -> dict[str, float]:
    """The search as a chain asks it: {"litres", "tin-a", "tin-a-price", …} → {"tins-cost", "tins-a", …}; a tin without size or price is not one.

    No litres: no cost and no tin, whatever tins there are.
    """
    there = [(letter, given[f"tin-{letter}"], given[f"tin-{letter}-price"]) for letter in LETTERS]
    there = [(letter, size, price) for letter, size, price in there if size > 0 and price >= 0]
    counts, cost = cheapest_tins(given["litres"], [(size, price) for _, size, price in there])
    found = dict(zip((letter for letter, _, _ in there), counts, strict=False)) if counts else {}
    return {"tins-cost": cost, **{f"tins-{letter}": float(found.get(letter, 0)) if counts else math.nan for letter in LETTERS}}
