"""Boards as a trained hand and a new one leave them: weighed for the mean, read with the comb for the scatter.

Lengths in mm; film in shares of the aim. Seeded: the same numbers every time.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from generators.studies.overlap import FANS

SIDE = 1000.0  # mm: a board of one square metre, strokes from edge to edge
READINGS = 12  # on each board, along one line across the strokes
EDGE = 60.0  # mm: no reading nearer to the edge than this
DRAWN, SEED = 1600, 20261126
SCALE = 0.01  # share: scale, evaporation and drips, on the weight of what landed


def places() -> Any:
    """Where the comb is set, in mm from the first edge: even, and no whole number of usual steps apart."""
    return np.linspace(EDGE, SIDE - EDGE, READINGS)


@dataclass(frozen=True)
class Boards:
    """Many boards of one hand: weighed mean and comb readings (rows: boards), both over the mean of all boards."""

    weighed: Any
    combed: Any


@cache
def boards(fan: str, width: float, coats: int, hand: tuple[float, float], tooth: float) -> Boards:
    """Boards with strokes half a fan apart, a second coat half a step over. `tooth`: gap between teeth as a share of the film."""
    rng = np.random.default_rng((SEED, coats, int(hand[0])))
    step, (placing, speed) = width / 2, hand
    order = np.arange(-4, int(SIDE / step) + 6)
    fine = np.linspace(0.0, SIDE, 49)
    at = np.concatenate([fine, places()])
    film = np.zeros((DRAWN, len(at)))
    for coat in range(coats):
        for k in order:
            centre = (k + 0.5 * coat) * step + rng.normal(0, placing, (DRAWN, 1))
            thick = 1 / np.clip(1 + rng.normal(0, speed, (DRAWN, 1)), 0.4, None)
            near = np.abs(at - k * step) < width / 2 + step + 5 * placing
            film[:, near] += thick * FANS[fan].film((at[near] - centre) / width)
    film /= film[:, : len(fine)].mean()
    weighed = film[:, : len(fine)].mean(axis=1) * (1 + rng.normal(0, SCALE, DRAWN))
    combed = (np.floor(film[:, len(fine):] / tooth) + 0.5) * tooth  # halfway between the last wet tooth and the first dry one
    return Boards(weighed, combed)


def scatter(combed: Any, together: int) -> Any:
    """Standard deviation over mean of the readings on `together` boards, for each such set."""
    sets = combed[: len(combed) // together * together].reshape(-1, together * combed.shape[1])
    return sets.std(axis=1, ddof=1) / sets.mean(axis=1)


def means(weighed: Any, together: int) -> Any:
    """Mean of `together` weighed boards, for each such set."""
    return weighed[: len(weighed) // together * together].reshape(-1, together).mean(axis=1)
