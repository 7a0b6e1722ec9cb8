"""The law of an unmarked cup, fitted to the crew's own readings by the same formulas as every other cup."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

from generators.facts import Facts, FactsError, Problem, load
from generators.facts.model import Cup
from generators.formulas import catalogue

WORST = 0.10  # readings that miss the fitted law by more than this share do not belong to one cup


@dataclass(frozen=True)
class Fit:
    """ν = A·t − B/t through readings: times (s), viscosities (mm²/s), and how far each misses (share)."""

    A: float
    B: float
    times: tuple[float, ...]
    viscosities: tuple[float, ...]
    misses: tuple[float, ...]


def fit(times: Any, viscosities: Any) -> Fit:
    """Least squares on relative error; B is held at zero where the readings would make it negative."""
    t, nu = np.asarray(times, float), np.asarray(viscosities, float)
    columns = np.stack([t / nu, -1 / (t * nu)], axis=1)
    (A, B), *_ = np.linalg.lstsq(columns, np.ones_like(t), rcond=None)
    if B < 0 or A <= 0:
        A, B = float(np.sum(t / nu) / np.sum((t / nu) ** 2)), 0.0
    misses = (A * t - B / t) / nu - 1
    return Fit(float(A), float(B), tuple(t.tolist()), tuple(nu.tolist()), tuple(misses.tolist()))


def fits(facts: Facts) -> dict[str, Fit | str]:
    """A Fit for each own cup, or the reason why there is none."""
    formulas = catalogue(facts)
    found: dict[str, Fit | str] = {}
    for slug, own in facts.own_cups.items():
        nus = []
        for reading in own.readings:
            if reading.known:
                nus.append(float(formulas["cup-viscosity"].column({"cup": reading.known.cup, "time": reading.known.seconds})))
            elif reading.glycerol and reading.temperature:
                mix = {"mass-fraction": reading.glycerol.to("%"), "temperature": reading.temperature.to("°C")}
                nus.append(float(formulas["glycerol-viscosity"].column(mix) / formulas["glycerol-density"].column(mix)) * 1e3)
        times = [reading.time.to("s") for reading in own.readings]
        if any(math.isnan(nu) for nu in nus):
            found[slug] = "a reading outside the range of its known cup or liquid"
        elif len(set(times)) < 2:
            found[slug] = "readings that are all at one time"
        else:
            fitted = fit(times, nus)
            worst = max(map(abs, fitted.misses))
            found[slug] = fitted if worst <= WORST else f"readings that miss one law by up to {worst:.0%}"
    return found


def with_own_cups(facts: Facts) -> Facts:
    """The same facts with the crew's own cups among the cups. FactsError where readings do not fit."""
    cups, problems = dict(facts.cups), []
    for slug, fitted in fits(facts).items():
        own = facts.own_cups[slug]
        if isinstance(fitted, str):
            problems.append(Problem(f"site_data/own_cups/{slug}.yaml", 1, "readings that fit one cup", fitted, "time them again: same temperature, first break of the stream, clean hole"))
            continue
        low, high = min(fitted.times), max(fitted.times)
        cups[slug] = Cup(name=slug, label=own.label, A=fitted.A, B=fitted.B, C=0.0, time_min=low, time_max=high, viscosity_min=fitted.A * low - fitted.B / low,
                         viscosity_max=fitted.A * high - fitted.B / high, temperature=23.0, dip=False, origin=own.origin)
    for slug, kit in facts.kits.items():
        cup = cups.get(kit.limit.cup)
        if kit.limit.cup in facts.own_cups and cup and not cup.time_min <= kit.limit.seconds <= cup.time_max:
            wanted = f"a limit between the readings of {cup.label}, {cup.time_min:g} to {cup.time_max:g} s"
            problems.append(Problem(f"site_data/kits/{slug}.yaml", 1, wanted, f"{kit.limit.seconds:g} s", "add a reading beyond it"))
    if problems:
        raise FactsError(problems)
    return replace(facts, cups=cups)


def open_handbook(root: Path, region: str | None = None) -> Facts:
    """Read and check site_data, own cups included. FactsError with every problem."""
    return with_own_cups(load(root, region))
