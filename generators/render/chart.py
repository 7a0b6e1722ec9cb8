"""A Chart as SVG: lines in the page's own ink, so that it reads in both palettes and on paper."""

from __future__ import annotations

import math
from collections.abc import Iterable

from markupsafe import escape

from generators.chart import Chart, Scale
from generators.formula.guards import brief

WIDTH, HEIGHT = 360, 260
LEFT, RIGHT, TOP, BOTTOM = 46, 12, 12, 42
DASHES = ("", "7 3", "2 3", "9 3 2 3", "4 2", "1 2")
HATCHES = {"fine": "", "care": "M-2 2L2 -2M0 8L8 0M6 10L10 6", "stop": "M-2 2L2 -2M0 8L8 0M6 10L10 6M-2 6L2 10M0 0L8 8M6 -2L10 2"}


def _place(scale: Scale, value: float, start: float, end: float) -> float:
    low, high, at = (math.log(v) for v in (scale.low, scale.high, value)) if scale.log else (scale.low, scale.high, value)
    return start + (at - low) / (high - low) * (end - start)


def chart_svg(chart: Chart) -> str:
    """One <svg> on one line, with title and description for a screen reader."""
    def across(value: float) -> float:
        return _place(chart.x, value, LEFT, WIDTH - RIGHT)

    def up(value: float) -> float:
        return _place(chart.y, value, HEIGHT - BOTTOM, TOP)

    def points(xs: Iterable[float], ys: Iterable[float]) -> str:
        return " ".join(f"{across(x):.1f},{up(min(max(y, chart.y.low), chart.y.high)):.1f}" for x, y in zip(xs, ys, strict=True) if math.isfinite(y))

    name = escape(chart.name)
    parts = [f'<svg class="alm-chart" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" aria-labelledby="{name}-t {name}-d">',
             f'<title id="{name}-t">{escape(chart.title)}</title><desc id="{name}-d">{escape(chart.description)}</desc>']
    zones = dict.fromkeys(band.zone for band in chart.bands if HATCHES[band.zone])
    parts += [f'<defs><pattern id="{name}-{zone}" width="8" height="8" patternUnits="userSpaceOnUse"><path d="{HATCHES[zone]}" class="alm-hatch"/></pattern></defs>' for zone in zones]
    for band in chart.bands:
        outline = points(band.xs, band.low) + " " + points(reversed(band.xs), reversed(band.high))
        parts.append(f'<polygon points="{outline}" class="alm-band zone-{band.zone}"/>')
        if HATCHES[band.zone]:
            parts.append(f'<polygon points="{outline}" fill="url(#{name}-{band.zone})"/>')
    for tick in chart.x.ticks:
        parts.append(f'<path d="M{across(tick):.1f} {TOP}V{HEIGHT - BOTTOM + 4}" class="alm-tick"/>'
                     f'<text x="{across(tick):.1f}" y="{HEIGHT - BOTTOM + 16}" text-anchor="middle">{escape(brief(tick))}</text>')
    for tick in chart.y.ticks:
        parts.append(f'<path d="M{LEFT - 4} {up(tick):.1f}H{WIDTH - RIGHT}" class="alm-tick"/>'
                     f'<text x="{LEFT - 7}" y="{up(tick) + 4:.1f}" text-anchor="end">{escape(brief(tick))}</text>')
    for index, line in enumerate(chart.lines):
        dash = f' stroke-dasharray="{DASHES[index % len(DASHES)]}"' if DASHES[index % len(DASHES)] and not line.strong else ""
        parts.append(f'<polyline points="{points(line.xs, line.ys)}" class="alm-line{" alm-strong" if line.strong else ""}"{dash}/>')
    taken: list[tuple[float, float, float]] = []
    for band in chart.bands:
        # The name stands where the band is tallest and no other name stands, and nowhere if there is no such place.
        half = 3.1 * len(band.label)
        spots = []
        for x, low, high in zip(band.xs, band.low, band.high, strict=True):
            below, above = up(max(low, chart.y.low)), up(min(high, chart.y.high))
            at = min(max(across(x), LEFT + half + 2), WIDTH - RIGHT - half - 2)
            if below - above > 16 and all(abs(at - tx) > half + thalf or abs((below + above) / 2 - ty) > 14 for tx, ty, thalf in taken):
                spots.append((below - above, -abs(across(x) - at), at, (below + above) / 2))
        if band.label and spots:
            _, _, x, y = max(spots)
            taken.append((x, y, half))
            parts.append(f'<text x="{x:.1f}" y="{y + 4:.1f}" text-anchor="middle" class="alm-halo">{escape(band.label)}</text>')
    for line in chart.lines:
        inside = [(x, y) for x, y in zip(line.xs, line.ys, strict=True) if math.isfinite(y) and chart.y.low <= y <= chart.y.high]
        if line.label and inside:
            x, y = inside[round(line.at * (len(inside) - 1))]
            anchor, shift = ("end", -3) if line.at > 0.8 else ("start", 4)
            parts.append(f'<text x="{across(x) + shift:.1f}" y="{max(up(y) - 5, TOP + 9):.1f}" text-anchor="{anchor}" class="alm-halo">{escape(line.label)}</text>')
    label = f"{chart.x.label}, {chart.x.unit}" if chart.x.unit else chart.x.label
    side = f"{chart.y.label}, {chart.y.unit}" if chart.y.unit else chart.y.label
    parts.append(f'<text x="{(LEFT + WIDTH - RIGHT) / 2}" y="{HEIGHT - 8}" text-anchor="middle">{escape(label)}</text>')
    parts.append(f'<text transform="translate(12 {(TOP + HEIGHT - BOTTOM) / 2}) rotate(-90)" text-anchor="middle">{escape(side)}</text></svg>')
    return "".join(parts)


def chart_html(chart: Chart) -> str:
    """The picture with its caption and notes, as one raw block."""
    notes = "".join(f" {escape(note)}" for note in chart.notes)
    return (f'<figure class="alm-figure">{chart_svg(chart)}<figcaption><strong>{escape(chart.title)}</strong> {escape(chart.caption)}{notes}</figcaption></figure>')
