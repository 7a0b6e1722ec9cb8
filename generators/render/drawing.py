"""Line drawings of our own, in the page's ink: strokes on a surface, numbered in their order."""

from __future__ import annotations

import math
from typing import Any

from markupsafe import escape


def plan_svg(name: str, title: str, plan: Any) -> str:
    """The strokes of a Plan as one <svg> on one line, with title and description."""
    key = escape(name)
    parts = [f'<svg class="alm-drawing" viewBox="-4 -4 108 {plan.height + 8}" role="img" aria-labelledby="{key}-pt {key}-pd">',
             f'<title id="{key}-pt">{escape(title)}: order of strokes</title><desc id="{key}-pd">{escape(plan.seen)}</desc>']
    parts += [f'<rect x="{x:g}" y="{y:g}" width="{w:g}" height="{h:g}" class="alm-shape"/>' for x, y, w, h in plan.shapes]
    for number, (x0, y0, x1, y1) in enumerate(plan.strokes, 1):
        angle = math.atan2(y1 - y0, x1 - x0)
        tip = " ".join(f"{x1 - 3.2 * math.cos(angle + turn):.1f},{y1 - 3.2 * math.sin(angle + turn):.1f}" for turn in (0.5, -0.5))
        # The number stands on the stroke, a quarter along, on a patch of paper.
        nx, ny = x0 + (x1 - x0) * 0.25, y0 + (y1 - y0) * 0.25
        parts.append(f'<path d="M{x0:g} {y0:g}L{x1:g} {y1:g}" class="alm-stroke"/><polygon points="{x1:g},{y1:g} {tip}" class="alm-tip"/>'
                     f'<circle cx="{nx:.1f}" cy="{ny:.1f}" r="3.1" class="alm-patch"/><text x="{nx:.1f}" y="{ny + 1.5:.1f}" text-anchor="middle">{number}</text>')
    return "".join(parts) + "</svg>"
