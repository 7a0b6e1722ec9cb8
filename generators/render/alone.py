"""A picture of the site as a picture that stands alone: its style inside, ink on white, its words apart as the alt text."""

from __future__ import annotations

import html
import re
from typing import Any

# The classes of render's pictures in print. Tones of ink only: a word or a hatch says what a colour says on the screen.
_STYLE = {
    "alm-chart": """.alm-line{fill:none;stroke:#000;stroke-width:1.6}.alm-strong{stroke-width:3}.alm-tick{stroke:#999;stroke-width:.7}.alm-hatch{stroke:#000;stroke-width:.5;opacity:.55;fill:none}
.alm-band.zone-fine{fill:#e4f1e7}.alm-band.zone-care{fill:#fbf0d2}.alm-band.zone-stop{fill:#f6ddd8}""",
    "alm-drawing": ".alm-shape{fill:#e6e6e6;stroke:#000;stroke-width:.5}.alm-stroke{stroke:#000;stroke-width:.9;fill:none}.alm-tip{fill:#000}.alm-patch{fill:#fff;stroke:#000;stroke-width:.4}",
    "alm-fault": """.alm-card{fill:#fff;stroke:#000;stroke-width:.4}.alm-paint{fill:#000;fill-opacity:.12;stroke:#000;stroke-width:.4}
.alm-work{fill:#e6e6e6;stroke:#000;stroke-width:.4}.alm-film{fill:#000;fill-opacity:.3}.alm-patch-film{fill:#000;fill-opacity:.3;stroke:#000;stroke-width:.5}
.alm-skin{fill:none;stroke:#000;stroke-width:.8}
.alm-fine{fill:none;stroke:#000;stroke-width:.5;stroke-linecap:round}.alm-crack{fill:none;stroke:#000;stroke-width:1.1;stroke-linecap:round}
.alm-dash{fill:none;stroke:#000;stroke-width:.4;stroke-dasharray:1.6 1.2}
.alm-lead{fill:none;stroke:#000;stroke-width:.35}.alm-hatch{stroke:#000;stroke-width:.3;fill:none}.alm-dot{fill:#000}.alm-solid{fill:#e6e6e6;stroke:#000;stroke-width:.5}.alm-hollow{fill:#fff;stroke:#000;stroke-width:.5}
.alm-ridge{fill:none;stroke:#000;stroke-width:.9}.alm-stipple{fill:none;stroke:#000;stroke-width:1;stroke-linecap:round}.alm-haze{fill:none;stroke:#000;stroke-width:.6;stroke-linecap:round}""",
    "alm-edge": """.alm-edge-fine path{stroke:#777;stroke-width:.16}.alm-edge-mark path{stroke:#000;stroke-width:.34}.alm-edge-stem{stroke:#000;stroke-width:.45;fill:none}
.alm-edge-figure{font-size:4.24px;font-weight:700}.alm-edge-head{font-size:3.6px;font-weight:700}.alm-edge-unit{font-size:3.6px;font-weight:400}.alm-edge-word{font-size:3.6px;font-weight:700}
.alm-edge-barred{fill:#ddd;stroke:#000;stroke-width:.25}.alm-hatch{stroke:#000;stroke-width:.25;fill:none}.alm-edge-strong{stroke:#000;stroke-width:1}
.alm-edge-worked{fill:none;stroke:#000;stroke-width:.4;stroke-dasharray:2.2 1.2}.alm-edge-dot{fill:#fff;stroke:#000;stroke-width:.4}""",
    "alm-sign": ".alm-gap{stroke:#005387;stroke-width:2.5}.alm-gap-fill{fill:#fff}",
}
_TEXT = {"alm-edge": ("3.6px", 400), "alm-chart": ("12px", 400), "alm-drawing": ("4.6px", 700), "alm-fault": ("4.4px", 700), "alm-sign": ("12px", 400)}


_HALO = re.compile(r'<text ([^>]*class="[^"]*(?:alm-halo|alm-edge-word)[^"]*"[^>]*)>(.*?)</text>')


def _patched(svg: str, size: float) -> str:
    """Words that stand in a picture's lines, each on a patch of paper: a print's text has no halo, since its stroke would be laid over its fill."""
    def patch(match: re.Match[str]) -> str:
        said = dict(re.findall(r'([\w-]+)="([^"]*)"', match[1]))
        wide = 0.56 * size * len(html.unescape(match[2]))
        x = float(said.get("x", 0)) - wide * {"middle": 0.5, "end": 1.0}.get(said.get("text-anchor", ""), 0.0)
        turned = f' transform="{said["transform"]}"' if "transform" in said else ""
        top = float(said.get("y", 0)) - 0.8 * size
        return f'<rect x="{x:.2f}" y="{top:.2f}" width="{wide:.2f}" height="{1.04 * size:.2f}" rx="{0.2 * size:.2f}" fill="#fff" fill-opacity=".85"{turned}/>{match[0]}'

    return _HALO.sub(patch, svg)


def alone(svg: str) -> dict[str, Any]:
    """{"svg", "alt"}: an `<svg>` of render's as a file of its own, and its title and description as words."""
    opening = re.match(r"<svg [^>]*>", svg)
    classes = re.search(r'class="([^"]*)"', opening[0]) if opening else None
    kind = next((name for name in ("alm-fault", *_STYLE) if classes and name in classes[1].split()), "")
    if not opening or not kind:
        raise ValueError("wanted a picture of a kind that paper knows: " + ", ".join(_STYLE))
    words = ". ".join(html.unescape(one).rstrip(".") for one in re.findall(r"<(?:title|desc)[^>]*>(.*?)</(?:title|desc)>", svg))
    body = re.sub(r"<(title|desc)[^>]*>.*?</\1>", "", svg[opening.end():])
    body = _patched(body, float(_TEXT[kind][0].removesuffix("px")))
    style = "".join(_STYLE[kind].splitlines())
    for name in set(re.findall(r"\.(alm-[\w-]+)", style)):
        if name not in body:  # a rule that nothing asks for
            style = re.sub(rf"\.{name}\b[^{{}}]*\{{[^}}]*\}}", "", style)
    size, weight = _TEXT[kind]
    box = re.search(r'viewBox="([^"]*)"', opening[0])
    assert box
    head = f'<svg xmlns="http://www.w3.org/2000/svg" class="{kind}" viewBox="{box[1]}" font-family="Atkinson Hyperlegible" font-size="{size}" font-weight="{weight}" fill="#000"><style>{style}</style>'
    return {"svg": head + body.replace("currentColor", "#000"), "alt": words}
