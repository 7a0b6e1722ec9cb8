"""How close a dose lands: many paints that nobody has met, thinned by the log line with an unsteady watch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

PAINTS = 10_000
WATCH = 1.0  # s: one timing is off by up to this, either way
CLOSE = 3.0  # s: what counts as landed
MOST = 0.25  # share of paint: past this the data sheet stops the work first
STEEPNESS = (3.0, 8.0)  # fall of ln(viscosity) for each whole part of thinner, at the first drops: common practice, no source
PACKING, CROWDING = 0.63, 2.5  # Krieger and Dougherty 1959, spheres


@dataclass(frozen=True)
class Landing:
    """Share of paints within CLOSE of the target after one, two and three additions, and how far the 95th in 100 misses (s)."""

    law: str
    within: tuple[float, ...]
    miss_95: tuple[float, ...]
    too_thin: float


def first_dose(seconds: Any, target: Any) -> Any:
    """The first small dose, share of paint: smaller the nearer the paint already is, so that a steep paint is not overshot."""
    near = np.asarray(seconds, float) / np.asarray(target, float)
    return np.where(near <= 1.25, 0.01, np.where(near <= 1.6, 0.03, 0.05))


def _log_law(rng: np.random.Generator, start: Any) -> Callable[[Any], Any]:
    """Viscosity against thinner (share of paint): a straight log line."""
    slope = rng.uniform(*STEEPNESS, len(start))
    return lambda thinner: start * np.exp(-slope * thinner)


def _krieger_dougherty(rng: np.random.Generator, start: Any) -> Callable[[Any], Any]:
    """Crowded particles in a liquid: the curve is steepest at the first drops, so a log line promises too much."""
    slope = rng.uniform(*STEEPNESS, len(start))
    solids = PACKING * slope / (slope + CROWDING * PACKING)  # the share of solids that falls off this steeply

    def crowd(thinner: Any) -> Any:
        return (1 - solids / (1 + thinner) / PACKING) ** (-CROWDING * PACKING)

    return lambda thinner: start * crowd(thinner) / crowd(0.0)


LAWS = {"a straight log line": _log_law, "crowded particles": _krieger_dougherty}


def landings(seconds_of: Callable[[Any], Any], dose: Callable[[Any, Any, Any], Any], target: float, thinnest: float, seed: int = 20261125) -> list[Landing]:
    """For each law: a first small dose, then up to two more by the log line from the first timing to the last.

    `seconds_of` turns viscosity (mm²/s) into the cup's seconds; `dose(first time, thinner so far, last time)` is the
    declared formula (seconds and shares in, total share of paint out); `target` is in seconds and `thinnest` is its viscosity.
    Whoever reads no more than a second over the target stops. Nobody takes thinner out.
    """
    found = []
    for law, make in LAWS.items():
        rng = np.random.default_rng(seed)
        start = thinnest * rng.uniform(1.02, 4.0, 6 * PAINTS)
        paint = make(rng, start)
        able = np.flatnonzero((paint(MOST) <= thinnest) & np.isfinite(seconds_of(start)))[:PAINTS]

        def true_time(thinner: Any, paint: Any = paint, able: Any = able) -> Any:
            whole = np.zeros(6 * PAINTS)
            whole[able] = thinner
            return seconds_of(paint(whole)[able])

        def timed(thinner: Any, true_time: Any = true_time, rng: Any = rng) -> Any:
            true = true_time(thinner)
            return true + rng.uniform(-WATCH, WATCH, len(true))

        first = timed(0.0)
        now = np.where(first > target + WATCH, first_dose(first, target), 0.0)
        within, miss = [], []
        for addition in range(3):
            if addition:
                last = timed(now)
                total = dose(first, np.clip(now, 0.005, 0.3), last)
                now = np.where((last > target + WATCH) & np.isfinite(total) & (total > now), np.minimum(total, MOST + 0.05), now)
            off = np.nan_to_num(true_time(now) - target, nan=-99.0)  # off the cup: far too thin
            within.append(float(np.mean(np.abs(off) <= CLOSE)))
            miss.append(float(np.percentile(np.abs(off), 95)))
        found.append(Landing(law, tuple(within), tuple(miss), float(np.mean(off < -CLOSE))))
    return found
