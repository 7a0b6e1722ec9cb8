"""The film that 95 places in 100 reach, over the mean, of one coat laid by hand: by the fan's shape and the step, in shares of its width.

`LOW`: a trained hand's. `SPREADS`: so many standard deviations of the film it lies under the mean, at the most, for hands from half as unsteady as
a trained one to twice: for a scatter that somebody measured. Drawn once by `worked`, which takes too long for each command; a test draws them again.
"""

from __future__ import annotations

import math

from generators.studies.overlap import TRAINED, Hand, by_hand

FAN = 150.0  # mm: over a wider fan the same hand is steadier
STEPS = tuple(range(30, 81, 5))  # % of the fan; between two the chain takes the worse
PATTERNS = ("taper", "bell", "flat-core")
UNSTEADY = (0.5, 1.0, 1.5, 2.0)  # times a trained hand's

LOW: dict[str, tuple[float, ...]] = {
    "taper": (72.0, 69.0, 67.0, 66.0, 64.0, 61.0, 58.0, 54.0, 48.0, 42.0, 35.0),
    "bell": (65.0, 62.0, 57.0, 53.0, 48.0, 43.0, 38.0, 32.0, 27.0, 22.0, 17.0),
    "flat-core": (74.0, 72.0, 68.0, 64.0, 63.0, 65.0, 68.0, 70.0, 65.0, 56.0, 46.0),
}
SPREADS: dict[str, tuple[float, ...]] = {
    "taper": (1.65, 1.62, 1.61, 1.62, 1.62, 1.67, 1.7, 1.71, 1.72, 1.72, 1.71),
    "bell": (1.61, 1.66, 1.76, 1.83, 1.86, 1.81, 1.77, 1.71, 1.64, 1.56, 1.48),
    "flat-core": (1.66, 1.64, 1.83, 1.74, 1.6, 1.41, 1.47, 1.54, 1.63, 1.74, 2.16),
}


def worked() -> tuple[dict[str, tuple[float, ...]], dict[str, tuple[float, ...]]]:
    """(LOW, SPREADS) drawn anew: low in whole per cent of the mean, down; spreads in hundredths, up."""
    low, spreads = {}, {}
    for pattern in PATTERNS:
        drawn = [[by_hand(pattern, step / 100, Hand("", times * TRAINED[0] / FAN, times * TRAINED[1]), "one") for times in UNSTEADY] for step in STEPS]
        low[pattern] = tuple(float(math.floor(100 * row[UNSTEADY.index(1.0)].low)) for row in drawn)
        spreads[pattern] = tuple(math.ceil(100 * max((1 - one.low) / one.scatter for one in row)) / 100 for row in drawn)
    return low, spreads
