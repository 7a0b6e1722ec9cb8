"""Safety signs drawn by us after the shapes of the standards: blue disc (do), yellow triangle (beware), ringed circle (do not), red diamond (hazard)."""

from __future__ import annotations

from markupsafe import escape

_GROUND = {
    "M": '<circle cx="50" cy="50" r="47" fill="#005387"/>',
    "W": '<path d="M50 6L96 90H4Z" fill="#f9a800" stroke="#000" stroke-width="5" stroke-linejoin="round"/>',
    "P": '<circle cx="50" cy="50" r="42" fill="#fff" stroke="#9b2423" stroke-width="10"/>',
    "G": '<path d="M50 4L96 50L50 96L4 50Z" fill="#fff" stroke="#c1121c" stroke-width="6"/>',
}
_BAR = '<path d="M20 20L80 80" stroke="#9b2423" stroke-width="10"/>'
_FLAME = "M50 24c4 14 18 18 18 36a18 18 0 0 1-36 0c0-9 6-11 8-18 4 4 5 7 5 11 5-8 6-17 5-29z"
# code: what it says, drawing in white (M) or black (others)
SIGNS: dict[str, tuple[str, str]] = {
    "M002": ("Read the instructions", '<path d="M24 32h22c3 0 4 2 4 4 0-2 1-4 4-4h22v38H54c-3 0-4 2-4 4 0-2-1-4-4-4H24z"/><path d="M50 38v34" class="alm-gap"/>'),
    "M003": ("Wear ear protection", '<circle cx="50" cy="50" r="19"/><path d="M27 52a23 23 0 0 1 46 0" fill="none" stroke-width="6"/><rect x="20" y="46" width="12" height="22" rx="5"/><rect x="68" y="46" width="12" height="22" rx="5"/>'),
    "M004": ("Wear eye protection", '<rect x="18" y="40" width="28" height="21" rx="9"/><rect x="54" y="40" width="28" height="21" rx="9"/><path d="M44 47h12" fill="none" stroke-width="6"/>'),
    "M009": ("Wear gloves", '<path d="M36 78V48l-8-10 6-5 8 10V22h7v22h3V20h7v24h3V26h7v30c0 9-3 14-7 22z"/>'),
    "M010": ("Wear protective clothing", '<path d="M40 18h20l18 12-7 14-7-4v42H36V40l-7 4-7-14z"/>'),
    "M017": ("Wear a respirator", '<circle cx="50" cy="40" r="20"/><path d="M34 46h32v14a16 16 0 0 1-32 0z"/><circle cx="32" cy="66" r="9"/><circle cx="68" cy="66" r="9"/>'),
    "P002": ("No smoking", '<rect x="22" y="48" width="46" height="8"/><rect x="70" y="48" width="6" height="8"/>'),
    "P003": ("No open flame, no spark", f'<path d="{_FLAME}"/>'),
    "W021": ("Flammable", f'<g transform="translate(0 14) scale(1 .86)"><path d="{_FLAME}"/></g>'),
    "W001": ("Beware", '<rect x="46" y="34" width="8" height="28" rx="3"/><circle cx="50" cy="74" r="5"/>'),
    "GHS02": ("Flammable", f'<path d="{_FLAME}"/>'),
    "GHS05": ("Burns skin and eyes", '<path d="M26 38l22-8 3 8-22 8z"/><path d="M44 44l-3 10M52 42l-2 12" fill="none" stroke-width="4"/><rect x="28" y="62" width="44" height="7"/>'),
    "GHS07": ("Harmful, irritant", '<rect x="45" y="24" width="10" height="34" rx="4"/><circle cx="50" cy="70" r="6"/>'),
    "GHS08": ("Harms health for long", '<circle cx="50" cy="30" r="8"/><path d="M34 72V48c0-5 4-8 8-8h16c4 0 8 3 8 8v24z"/><path d="M50 46l4 8 8-2-4 7 6 6-9 1-1 8-6-6-8 4 2-9-7-4 8-3z" class="alm-gap-fill"/>'),
    "GHS09": ("Harms water life", '<path d="M22 64h56M30 64c2-14 4-20 2-30M32 44l-8-6M32 48l8-8" fill="none" stroke-width="4"/><path d="M44 56c10-10 22-6 28 0-6 6-18 8-28 0zm-2-5v10"/>'),
}


def sign_svg(code: str, title: str = "") -> str:
    """One sign as <svg> on one line, with its code and words as title and description."""
    says, drawing = SIGNS[code]
    kind = "G" if code.startswith("GHS") else code[0]
    ink = "#fff" if kind == "M" else "#000"
    bar = _BAR if kind == "P" else ""
    return (f'<svg class="alm-sign" viewBox="0 0 100 100" role="img" aria-label="{escape(code)}: {escape(title or says)}"><title>{escape(code)}: {escape(title or says)}</title>'
            f'{_GROUND[kind]}<g fill="{ink}" stroke="{ink}" stroke-width="0">{drawing}</g>{bar}</svg>')


def signs_html(codes: tuple[str, ...]) -> str:
    """Signs in a row, each with its code and words beside it."""
    return '<ul class="alm-signs">' + "".join(f"<li>{sign_svg(code)}<span><strong>{escape(code)}</strong> {escape(SIGNS[code][0])}</span></li>" for code in codes) + "</ul>"
