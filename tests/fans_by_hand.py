"""The fan of a gun by hand: how film lies across strokes side by side, with a perfect hand and with one that shakes. Nothing here asks `generators` for a figure."""

from __future__ import annotations

import functools
import math

import numpy as np
from by_hand import KITS, number

# The idealised fans by hand, across from −½ to ½, as the page on strokes draws them: straight sides, bells, a parabola, level cores, and three faults.
SHAPES = {
    "tapers to its edges": lambda x: 1 - 2 * abs(x),
    "bell": lambda x: np.exp(-((x / 0.18) ** 2) / 2),
    "narrow bell": lambda x: np.exp(-((x / 0.14) ** 2) / 2),
    "rounded": lambda x: 1 - 4 * x * x,
    "flat core with soft edges": lambda x: np.minimum(1, (0.5 - abs(x)) / 0.25),
    "wide flat core": lambda x: np.minimum(1, (0.5 - abs(x)) / 0.15),
    "split in two": lambda x: np.interp(abs(x), (0, 0.137, 0.28, 0.5), (0.35, 0.35, 1, 0)),
    "heavy centre": lambda x: 0.75 * np.exp(-((x / 0.08) ** 2) / 2) + 0.25 * (1 - 2 * abs(x)),
    "heavy at one side": lambda x: np.minimum(1, (x + 0.5) / 0.75) * np.minimum(1, (0.5 - x) / 0.25),
}
OF_KIT = {"taper": "tapers to its edges", "bell": "bell", "flat-core": "flat core with soft edges"}
HALF = {"tapers to its edges": 0.5, "bell": 2 * 0.18 * math.sqrt(2 * math.log(2)), "narrow bell": 2 * 0.14 * math.sqrt(2 * math.log(2)), "rounded": math.sqrt(0.5),
        "flat core with soft edges": 0.75, "wide flat core": 0.85}


def half(shape):
    """Width between the outermost places that hold half the middle's film: looked for on a fine comb of places."""
    x = np.linspace(-0.5, 0.5, 200_001)
    wet = x[SHAPES[shape](x) >= 0.5 * SHAPES[shape](0.0) - 1e-9]
    return wet[-1] - wet[0]


def film(shape, x):
    """Film of one stroke at a place, none beyond its edges."""
    return np.where(np.abs(x) <= 0.5, SHAPES[shape](x), 0.0)


def row_of_strokes(shape, step, x):
    """Film at a place of strokes laid a step apart, for ever."""
    return sum(film(shape, x - turn * step) for turn in range(-8, 9))


def evenness(shape, step, coats=1):
    """(thinnest over thickest, standard deviation over mean) of strokes a step apart, in %: a second coat goes half a step over."""
    x = (np.arange(5000) + 0.5) / 5000 * step
    laid = sum(row_of_strokes(shape, step, x + coat * step / 2) for coat in range(coats))
    return 100 * laid.min() / laid.max(), 100 * laid.std() / laid.mean()


HANDS = {"trained": (12.0, 0.10), "new": (25.0, 0.20)}  # mm beside the line, share of the speed, one standard deviation each: as the table's own note says


def middle_fan(kit):
    """(shape, width in mm at the middle of the reach) of a kit's fan."""
    rig = KITS[kit]
    middle = (number(rig["near"]) + number(rig["far"])) / 2
    return OF_KIT[rig["pattern"]], 2 * middle * math.tan(math.radians(number(rig["fan_angle"]) / 2))


def speeds(slow, count, source):
    """How much paint strokes leave, when their speed has a standard deviation: no hand falls under two fifths of its speed."""
    return 1 / np.maximum(1 + slow * source.standard_normal(count), 0.4)


def laid_by_hand(shape, step, placing, slow, count, source):
    """Film at places picked anywhere, each under strokes of its own: no row is walked along."""
    x, laid = source.uniform(0, step, count), np.zeros(count)
    for turn in range(-4, 5):
        laid += speeds(slow, count, source) * film(shape, x - turn * step - placing * source.standard_normal(count))
    return x, laid


@functools.cache
def two_coats(shape, step, placing, slow, coats, count=60_000):
    """(standard deviation, film that 95 places in 100 reach), in % of the mean, after one coat or two."""
    source = np.random.default_rng(7)
    x, one = laid_by_hand(shape, step, placing, slow, count, source)
    if coats == "one coat":
        both = one
    elif "across" in coats:
        both = one + laid_by_hand(shape, step, placing, slow, count, source)[1]
    else:
        over, both = (step / 2 if "half a step over" in coats else 0.0), one
        for turn in range(-4, 5):
            both = both + speeds(slow, count, source) * film(shape, x + over - turn * step - placing * source.standard_normal(count))
    return 100 * both.std() / both.mean(), 100 * float(np.quantile(both, 0.05)) / both.mean()
