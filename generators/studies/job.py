"""The job as a chain of declared formulas, for each way of putting the paint on; and the tins that hold it at least cost."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from generators.formula.chain import Chain, Cheapest, Fold, Step, Walked, walk

WAYS = {"spray": "Spray", "brush": "Brush", "roll": "Roll"}


@cache
def chain(way: str) -> Chain:
    """Litres, hours, price and vapour of a job done in one way. The dry film is the same in all of them."""
    spray = way == "spray"
    thinner: str | float = "thinner" if spray else 0.0
    surface = [
        Step("area", "coated-area", {"face": "face", "count": "count", "sides": "sides", "profile": "profile"}),
        Step("litres", "paint-for-coats", {"area": "area", "coats": "coats", "dry-film": "dry-film", "volume-solids": "volume-solids", "drink": "drink",
                                          "transfer-efficiency": "spray-lands" if spray else "hand-lands"}),
        Step("mixed", "mixed-paint", {"paint": "litres", "thinner": thinner}),
    ]
    if spray:
        surface += [Step("application", "spraying-time", {"mixed": "mixed", "flow": "flow", "duty": "duty"}),
                    Step("refills", "refill-time", {"mixed": "mixed", "pot": "pot", "refill": "refill"}),
                    Step("pots", "pots-to-fill", {"mixed": "mixed", "pot": "pot"})]
    else:
        surface += [Step("application", "hand-time", {"area": "area", "coats": "coats", "rate": f"{way}-rate"}),
                    Step("refills", "refill-time", {"mixed": 0.0, "pot": 1.0, "refill": 0.0}),
                    Step("pots", "pots-to-fill", {"mixed": 0.0, "pot": 1.0})]
    paint = (
        Fold("litres", "litres"), Fold("area", "area"), Fold("application", "application"), Fold("refills", "refills"), Fold("pots", "pots"),
        Step("order", "paint-to-order", {"paint": "litres", "fills": "coats" if spray else 0.0, "loss": "loss", "spare": "spare"}),
        Cheapest("tins-cost", "order"),
        Step("thinner-volume", "thinner-to-carry", {"paint": "order", "thinner": thinner}),
        Step("stretch", {"water": "drying-stretch", "other": "cure-stretch"}, {"air-temperature": "air-temperature", "relative-humidity": "relative-humidity"}, by="dries"),
        Step("waiting", "waiting-time", {"coats": "coats", "recoat": "recoat", "stretch": "stretch"}),
        Step("solvent", "solvent-released", {"paint": "litres", "voc": "voc"}),
    )
    job = (
        Fold("litres", "litres"), Fold("order", "order"), Fold("area", "area"), Fold("application", "application"), Fold("refills", "refills"), Fold("pots", "pots"),
        Fold("tins-cost", "tins-cost"), Fold("thinner-volume", "thinner-volume"), Fold("waiting", "waiting"), Fold("solvent", "solvent"),
        Step("masking", "masking-time", {"edges": "edges", "edge-pace": "edge-pace", "sheets": "sheets", "sheet-pace": "sheet-pace", "share": 100.0 if spray else "hand-masking"}),
        Step("hours", "job-hours", {"survey": "survey", "masking": "masking", "set-up": "set-up" if spray else "hand-set-up", "application": "application", "refills": "refills",
                                    "clean-down": "clean-down" if spray else "hand-clean-down"}),
        Step("materials", "materials-cost", {"tins": "tins-cost", "thinner-volume": "thinner-volume", "thinner-price": "thinner-price", "sundries": "sundries"}),
        Step("price", "job-price", {"hours": "hours", "hour-rate": "hour-rate", "materials": "materials", "markup": "markup", "fixed": "fixed", "tax": "tax"}),
        Step("each", "price-per-area", {"price": "price", "area": "area"}),
    )
    return Chain(tuple(surface), paint, job)


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


def work_job(formulas: Mapping[str, Any], job: Mapping[str, Any], way: str) -> Walked:
    """One job in one way. `job` as `walk` wants it."""
    return walk(chain(way), formulas, job, cheapest_tins)
