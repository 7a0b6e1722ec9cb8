"""A picture of each fit: what was measured, its band, and what stood in the handbook before."""

from __future__ import annotations

import math
from html import escape

from generators.chart import Band, Chart, Line, Scale
from generators.learn.fit import Fit
from generators.render.chart import chart_svg

_PAGE = """<!doctype html><html lang="en"><meta charset="utf-8"><title>What the records say</title>
<style>body{font:16px/1.5 sans-serif;max-width:50rem;margin:2rem auto;padding:0 1rem}svg{width:100%;height:auto}.alm-chart path,.alm-chart line,
.alm-chart polyline{fill:none;stroke:currentColor}</style>
<h1>What the records say</h1>"""


def picture(owner: str, one: Fit, before: float | None) -> str:
    """One fit as a figure with its words; only words where there is no fit."""
    said = f"{one.name.replace('_', ' ')} of {owner}"
    if not one.known:
        return f"<h2>{escape(said)}</h2><p>No figure: {escape(one.why)}.</p>"
    xs = tuple(float(number) for number in range(1, len(one.y) + 1))
    ends = [*one.y, one.low, one.high, *([before] if before else [])] if one.y else [one.low, one.high]
    shown = one.y and min(one.y) <= one.high and one.low <= max(one.y)  # a slope is not on the scale of its points
    low, high = (min(ends), max(ends)) if shown else (min(one.low, before or one.low), max(one.high, before or one.high))
    room = 0.1 * (high - low or abs(high) or 1.0)
    step = 10 ** math.floor(math.log10((high - low + 2 * room) / 2))
    ticks = tuple(step * place for place in range(math.ceil((low - room) / step), math.floor((high + room) / step) + 1))[:12]
    across = (1.0, float(max(len(xs), 2)))
    after = f"{one.likely:.3g} {one.unit}".removesuffix(" 1")
    lines = [Line(f"after: {after}", across, (one.likely, one.likely), strong=True)]
    lines += [Line(f"before: {before:.3g}", across, (before, before), at=0.1)] if before is not None else []
    lines += [Line("measured", xs, one.y, at=0.5)] if shown and len(xs) > 1 else []
    words = f"{said}: {after}, nine chances in ten between {one.low:.3g} and {one.high:.3g}, from {one.count} measured." + (f" The handbook said {before:.3g}." if before is not None else "")
    chart = Chart(f"{owner}-{one.name}", said, words, words, Scale("Measurement", "in order", *across, tuple(range(1, int(across[1]) + 1))[:20]),
                  Scale(one.name.replace("_", " "), one.unit, low - room, high + room, ticks),
                  tuple(lines), (Band("90 % band", "fine", across, (one.low, one.low), (one.high, one.high)),))
    return f"<h2>{escape(said)}</h2><p>{escape(words)}</p>{chart_svg(chart)}"


def page(figures: list[str]) -> str:
    """All of them as one page that needs nothing else."""
    return _PAGE + "".join(figures) + "</html>\n"
