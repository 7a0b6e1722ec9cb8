"""Cups and timings against each other: a cup's law against the viscosities it is said to read, an official flow time against its cup, a crew's readings in order."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from typing import Any

from generators.facts.relate import DOUBTFUL, REFUSED, Found

AGREE = 1.6  # a published range of viscosities is rounded: a law within this factor of its ends is the same cup
FAR = 2.0    # flow times beyond the law's own range may be so far from it


def cup_law(cup: Any) -> Iterator[Found]:
    """What one row of cups.csv says against itself."""
    for end, seconds, stated in (("viscosity_min [mm²/s]", cup.time_min, cup.viscosity_min), ("viscosity_max [mm²/s]", cup.time_max, cup.viscosity_max)):
        law = cup.A * (seconds - cup.C) - cup.B / seconds
        if stated <= 0 or not stated / law < 8 or not law / stated < 8:
            yield Found((end,), REFUSED, f"the viscosity that its law gives at {seconds:g} s, about {law:.3g} mm²/s", f"{stated:g}", "check A, B, C, the times and the viscosities")
        elif not 1 / AGREE < stated / law < AGREE and law > 15:  # at the thin end ranges are rounded far
            yield Found((end,), DOUBTFUL, f"the viscosity that its law gives at {seconds:g} s, about {law:.3g} mm²/s", f"{stated:g}", "check A, B, C, the times and the viscosities")
    if cup.viscosity_min >= cup.viscosity_max:
        yield Found(("viscosity_max [mm²/s]",), REFUSED, "a highest viscosity over the lowest", f"{cup.viscosity_max:g}", "swap or mend the two")
    if not 15 <= cup.temperature <= 30:
        yield Found(("temperature [°C]",), DOUBTFUL if 5 <= cup.temperature <= 40 else REFUSED, "the temperature of its law, between 15 and 30 °C", f"{cup.temperature:g}", "check the standard")
    if not 0 <= cup.C < cup.time_min:
        yield Found(("C [s]",), REFUSED, "C at nought or over, and under the shortest time", f"{cup.C:g}", "check the law's constants")
    if not 5 <= cup.time_min <= 70 or not 20 <= cup.time_max <= 400:
        yield Found(("time_min [s]",), DOUBTFUL, "times of 5 to 70 s at the least and 20 to 400 s at the most", f"{cup.time_min:g} to {cup.time_max:g}", "check the standard")


def flow_time(row: Any, cups: Mapping[str, Any]) -> Iterator[Found]:
    """An official flow time against the law of its cup."""
    cup = cups.get(row.cup)
    if cup is None:
        return
    law = cup.A * (row.time.seconds - cup.C) - cup.B / row.time.seconds
    stated = row.viscosity.to("mm²/s")
    if law <= 0 or not 1 / FAR < stated / law < FAR:
        yield Found(("viscosity [mm²/s]",), DOUBTFUL, f"the viscosity that its cup's law gives, about {max(law, 0):.3g} mm²/s", f"{stated:g} at {row.time.seconds:g} s", "check both against the table")


def readings(own: Any) -> Iterator[Found]:
    """A crew's readings: a liquid that is slower in one cup is slower in the other."""
    cup = next((one.known.cup for one in own.readings if one.known), "")
    timed = sorted((one.time.seconds, one.known.seconds, place) for place, one in enumerate(own.readings) if one.known and one.known.cup == cup)
    for (first, known, _), (then, later, place) in itertools.pairwise(timed):
        if later <= known and then > first:
            came = f"{then:g} s here and {later:g} s there, after {first:g} and {known:g} s"
            yield Found(("readings", place), REFUSED, "a liquid that is slower in one cup to be slower in the other", came, "time it again")
        elif later > known and not 0.3 < (then / first - 1) / (later / known - 1) < 3:
            yield Found(("readings", place), DOUBTFUL, "times in two cups to grow alike", f"{then:g} s here and {later:g} s there, after {first:g} and {known:g} s", "time it again")
