"""Strokes side by side: how even the film is, by the shape of the fan, the step between strokes, and the sprayer's hand.

Lengths are shares of the fan's visible width; film is relative to a stroke's own centre, or to the mean where said.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

Profile = Callable[[Any], Any]
POINTS = 2000  # places looked at between two strokes: halving it changes nothing that is printed
STROKES, SEED = 4000, 20261125


def _taper(x: Any) -> Any:
    return 1 - 2 * np.abs(x)


def _bell(spread: float) -> Profile:
    return lambda x: np.exp(-0.5 * (x / spread) ** 2)


def _flat_core(core: float) -> Profile:
    return lambda x: np.clip((0.5 - np.abs(x)) / (0.5 * (1 - core)), 0, 1)


def _parabola(x: Any) -> Any:
    return 1 - (2 * x) ** 2


def _split(x: Any) -> Any:
    return np.clip(1 - np.abs(np.abs(x) - 0.28) / 0.22, 0.35 * (np.abs(x) < 0.28), 1)


def _heavy_centre(x: Any) -> Any:
    return 0.75 * np.exp(-0.5 * (x / 0.08) ** 2) + 0.25 * (1 - 2 * np.abs(x))


def _crescent(x: Any) -> Any:
    return np.clip((x + 0.5) / 0.75, 0, 1) * np.clip((0.5 - x) / 0.25, 0, 1)


@dataclass(frozen=True)
class Fan:
    """A shape of fan: what it is called, how it comes about, and its film across."""

    name: str
    label: str
    comes_from: str
    profile: Profile

    def film(self, x: Any) -> Any:
        """Film at `x` (shares of the width from the centre), 0 outside the visible fan."""
        x = np.asarray(x, float)
        return np.where(np.abs(x) <= 0.5, np.clip(self.profile(x), 0, None), 0.0)


FANS = {fan.name: fan for fan in (
    Fan("taper", "tapers to its edges", "a well set round-to-fan air cap", _taper),
    Fan("bell", "bell", "most low-pressure guns at middle flow", _bell(0.18)),
    Fan("narrow-bell", "narrow bell", "fan control half closed", _bell(0.14)),
    Fan("parabola", "rounded", "thin material, middle air", _parabola),
    Fan("flat-core", "flat core with soft edges", "wide fan, enough air", _flat_core(0.5)),
    Fan("wide-core", "wide flat core", "very wide fan, thin material", _flat_core(0.7)),
    Fan("split", "split in two", "too much air in the horns for the flow: a fault", _split),
    Fan("heavy-centre", "heavy centre", "too thick, too much flow, or a worn nozzle: a fault", _heavy_centre),
    Fan("crescent", "heavy at one side", "a blocked horn or hole: a fault", _crescent),
)}


def side_by_side(fan: Fan, spacing: float, points: int = POINTS) -> Any:
    """Film between two strokes of an endless row, `spacing` in shares of the width; one value for each place."""
    x = (np.arange(points) + 0.5) / points * spacing
    reach = int(np.ceil(0.5 / spacing)) + 1
    return sum(fan.film(x - k * spacing) for k in range(-reach, reach + 2))


@dataclass(frozen=True)
class Evenness:
    """Thinnest over thickest, and standard deviation over mean, of one film."""

    least: float
    scatter: float


def evenness(film: Any) -> Evenness:
    """How even a film is. A film of nothing is as uneven as can be."""
    high, mean = float(np.max(film)), float(np.mean(film))
    return Evenness(float(np.min(film)) / high if high else 0.0, float(np.std(film)) / mean if mean else 1.0)


def half_height(fan: Fan) -> float:
    """Width at half the centre's film, as a share of the visible width."""
    x = np.linspace(-0.5, 0.5, 20001)
    film = fan.film(x)
    above = x[film >= 0.5 * fan.film(0.0) - 1e-12]
    return float(above[-1] - above[0]) if len(above) else 0.0


COATS = {"one": "one coat", "same": "two coats on the same lines", "crossed": "two coats, the second across", "shifted": "two coats, the second half a step over"}


def ideal(fan: Fan, spacing: float, coats: str) -> Evenness:
    """Evenness with a perfect hand."""
    one = side_by_side(fan, spacing)
    if coats == "shifted":
        return evenness(one + np.roll(one, len(one) // 2))
    if coats == "crossed":
        lines = one[:: max(1, len(one) // 200)]
        return evenness(lines[:, None] + lines[None, :])
    return evenness(one)


TRAINED, NEW = (12.0, 0.10), (25.0, 0.20)  # two hands: placing in mm and speed as a share, each one standard deviation: common practice, no source


@dataclass(frozen=True)
class Hand:
    """A person's scatter: placing of the stroke (shares of the width) and speed (share), as standard deviations."""

    label: str
    placing: float
    speed: float


@dataclass(frozen=True)
class Spread:
    """What a hand leaves: standard deviation over mean, and the film that 95 places in 100 reach, over the mean."""

    scatter: float
    low: float


@cache
def _row(fan: str, spacing: float, hand: Hand, seed: int, offset: float) -> Any:
    """Film along a line across many strokes, each placed and paced by hand."""
    rng = np.random.default_rng(seed)
    centres = (np.arange(STROKES) + offset) * spacing + rng.normal(0, hand.placing, STROKES)
    thick = 1 / np.clip(1 + rng.normal(0, hand.speed, STROKES), 0.4, None)
    each = 40
    x = (np.arange(STROKES * each) + 0.5) / each * spacing
    film = np.zeros_like(x)
    reach = int(np.ceil((0.5 + 5 * hand.placing) / spacing)) + 1
    nearest = np.floor(x / spacing).astype(int)
    for k in range(-reach, reach + 1):
        stroke = np.clip(nearest + k, 0, STROKES - 1)
        film += thick[stroke] * FANS[fan].film(x - centres[stroke])
    return film[each * 20 : -each * 20]


def by_hand(fan: str, spacing: float, hand: Hand, coats: str) -> Spread:
    """What a hand leaves after one coat or two. Seeded: the same numbers every time."""
    film = _row(fan, spacing, hand, SEED, 0.0)
    if coats == "same":
        film = film + _row(fan, spacing, hand, SEED + 1, 0.0)
    elif coats == "shifted":
        film = film + _row(fan, spacing, hand, SEED + 1, 0.5)
    elif coats == "crossed":
        film = film + np.random.default_rng(SEED + 2).permutation(_row(fan, spacing, hand, SEED + 1, 0.0))
    mean = float(np.mean(film))
    return Spread(float(np.std(film)) / mean, float(np.percentile(film, 5)) / mean)
