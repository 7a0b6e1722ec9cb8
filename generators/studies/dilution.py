"""How real liquids thin, how far each law misses them, and how close doses land on paints that nobody has met.

A curve is ln(viscosity) against thinner, as a share of the paint by volume. Every curve says whether it was read in its source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

PAINTS = 10_000
WATCH = 1.0  # s: one timing is off by up to this, either way
CLOSE = 3.0  # s: what counts as landed
MOST = 0.25  # share of paint: past this the data sheet stops the work first
STEEPNESS = (3.0, 8.0)  # fall of ln(viscosity) for each whole part of thinner, at the first drops: six pairs of a water paint lie at 4.4 to 5.9
PACKING, CROWDING = 0.63, 2.5  # Krieger and Dougherty 1959, spheres


@dataclass(frozen=True)
class Curve:
    """ln(viscosity) against thinner over paint; what it is, and how far its figures can be trusted."""

    label: str
    trust: str
    fall: Callable[[Any], Any]  # from nothing added to so much


# Sucrose in water at 20 °C, % by weight → mPa·s and kg/L: handbook tables of sugar solutions, from memory.
_SUGAR = ((20, 1.945, 1.0810), (30, 3.187, 1.1270), (40, 6.162, 1.1764), (50, 15.43, 1.2296), (60, 58.49, 1.2865), (65, 147.2, 1.3163), (70, 481.6, 1.3472))
# A formulator's water paint, Ford 4 at 20 °C, as it was and with 10 % water (s): a forum thread, read; weak provenance, partly under the cup's 20 s.
WATER_PAINT = ((24.5, 17.4), (25.7, 18.0), (29.5, 19.8), (31.9, 20.9), (36.5, 23.0), (39.6, 24.0))


def sugar(start: float) -> Curve:
    """Syrup of `start` % by weight, thinned with water."""
    weight, viscosity, density = (np.array(column, float) for column in zip(*_SUGAR, strict=True))

    curve, heavy = np.polynomial.Polynomial.fit(weight, np.log(viscosity / density), 5), np.polynomial.Polynomial.fit(weight, density, 3)

    def kinematic(c: Any) -> Any:
        return curve(np.asarray(c, float))

    paint = float(heavy(start))
    return Curve(f"sugar syrup of {start:g} %", "from memory", lambda p: kinematic(start) - kinematic(start * paint / (paint + 0.998 * np.asarray(p, float))))


def glycerol(start: float, viscosity: Callable[[Any], Any], density: Callable[[Any], Any]) -> Curve:
    """Glycerol of `start` % by weight at 20 °C, thinned with water. The callables give mPa·s and kg/m³ for % by weight."""
    def kinematic(c: Any) -> Any:
        return np.log(viscosity(c) / density(c))

    paint = float(density(start))
    return Curve(f"glycerol of {start:g} %", "read", lambda p: kinematic(start) - kinematic(start * paint / (paint + 998.2 * np.asarray(p, float))))


def resin(slope: float = 5.0, paint: float = 1.2, thinner: float = 0.8) -> Curve:
    """Resin in solvent: log viscosity straight in the weight share of solids (J. Japan Soc. Colour Material, abstract read)."""
    return Curve("phenol-epoxy resin in solvent", "read (abstract)", lambda p: slope * np.asarray(p, float) * thinner / (paint + np.asarray(p, float) * thinner))


def spheres(crowded: float) -> Curve:
    """Spheres in a liquid, `crowded` of the share at which they lock (Krieger and Dougherty 1959)."""
    return Curve(f"spheres, {crowded:.0%} of what locks them", "read", lambda p: CROWDING * PACKING * np.log((1 - crowded / (1 + np.asarray(p, float))) / (1 - crowded)))


def _log_law(rng: np.random.Generator, start: Any) -> Callable[[Any], Any]:
    slope = rng.uniform(*STEEPNESS, len(start))
    return lambda thinner: start * np.exp(-slope * thinner)


def _share_law(rng: np.random.Generator, start: Any) -> Callable[[Any], Any]:
    slope = rng.uniform(*STEEPNESS, len(start))
    return lambda thinner: start * np.exp(-slope * thinner / (1 + thinner))


def _krieger_dougherty(rng: np.random.Generator, start: Any) -> Callable[[Any], Any]:
    """Crowded particles in a liquid: the curve is steepest at the first drops."""
    slope = rng.uniform(*STEEPNESS, len(start))
    solids = PACKING * slope / (slope + CROWDING * PACKING)  # the share of solids that falls off this steeply

    def crowd(thinner: Any) -> Any:
        return (1 - solids / (1 + thinner) / PACKING) ** (-CROWDING * PACKING)

    return lambda thinner: start * crowd(thinner) / crowd(0.0)


LAWS = {"a log line in thinner over paint": _log_law, "a log line in its share of the mix": _share_law, "crowded particles": _krieger_dougherty}


@dataclass(frozen=True)
class Landing:
    """Share of paints within CLOSE of the target after each addition, how far the 95th in 100 misses at last (s), and how many end far too thin."""

    law: str
    within: tuple[float, ...]
    miss_95: float
    too_thin: float


def landings(seconds_of: Callable[[Any], Any], pour_to: Callable[[Any, Any, Any], Any], target: float, thinnest: float,
    additions: int = 4, paints: int = PAINTS, seed: int = 20261125) -> list[Landing]:
    """For each law: pour what the chain says, time it, and pour again.

    `seconds_of` turns viscosity (mm²/s) into the cup's seconds; `pour_to(first time, thinner so far, last time)` is the chain's next
    total (seconds and shares in, share out; thinner so far None where nothing is in it). `thinnest` is the viscosity at `target` seconds.
    Whoever reads no more than a second over the target stops. Nobody takes thinner out.
    """
    found = []
    for law, make in LAWS.items():
        rng = np.random.default_rng(seed)
        start = thinnest * rng.uniform(1.02, 4.0, 8 * paints)
        paint = make(rng, start)
        able = np.flatnonzero((paint(MOST) <= thinnest) & np.isfinite(seconds_of(start)))[:paints]

        def true_time(thinner: Any, paint: Any = paint, able: Any = able) -> Any:
            whole = np.zeros(8 * paints)
            whole[able] = thinner
            return seconds_of(paint(whole)[able])

        def timed(thinner: Any, true_time: Any = true_time, rng: Any = rng) -> Any:
            true = true_time(thinner)
            return true + rng.uniform(-WATCH, WATCH, len(true))

        first, now = timed(0.0), np.zeros(len(able))
        within = []
        for addition in range(additions):
            last = timed(now) if addition else first
            total = pour_to(first, now if addition else None, last)
            now = np.where((last > target + WATCH) & np.isfinite(total) & (total > now), total, now)
            off = np.nan_to_num(true_time(now) - target, nan=-99.0)  # off the cup: far too thin
            within.append(float(np.mean(np.abs(off) <= CLOSE)))
        found.append(Landing(law, tuple(within), float(np.percentile(np.abs(off), 95)), float(np.mean(off < -CLOSE))))
    return found
