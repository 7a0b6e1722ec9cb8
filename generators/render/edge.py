"""An EdgeChart as SVG in millimetres: ink on the page's own ground, legible at arm's length, told apart by shape and words."""

from __future__ import annotations

from markupsafe import escape

from generators.edge import Barred, EdgeChart, Rule

_HATCH = "M-1 1L1 -1M0 4L4 0M3 5L5 3"


def _rule(rule: Rule, shared: bool) -> str:
    """One line. `shared`: the same line is graduated on its other side too, so that heads keep to their own side."""
    parts = [f'<g data-rule="{escape(rule.name)}">']
    stem = f"M{rule.start:g} {rule.stands:g}H{rule.end:g}" if rule.across else f"M{rule.stands:g} {rule.start:g}V{rule.end:g}"
    strokes: dict[bool, list[str]] = {True: [], False: []}
    for mark in rule.marks:
        length = (3.0 if mark.text else 1.6) * rule.side
        end = rule.stands + (length if not rule.reach else -rule.reach * rule.side)
        drawn = f"M{mark.at:g} {rule.stands:g}V{end:g}" if rule.across else f"M{rule.stands:g} {mark.at:g}H{end:g}"
        strokes[bool(mark.text)].append(f'<path data-value="{mark.value:.9g}" d="{drawn}"/>')
    parts += [f'<g class="alm-edge-fine">{"".join(strokes[False])}</g><g class="alm-edge-mark">{"".join(strokes[True])}</g><path d="{stem}" class="alm-edge-stem"/>']
    for mark in rule.marks:
        if mark.text and rule.across:
            parts.append(f'<text x="{mark.at:g}" y="{rule.stands + 4.7:g}" text-anchor="middle" class="alm-edge-figure">{escape(mark.text)}</text>')
        elif mark.text:
            away = 3.7 if not rule.reach else 1.2
            parts.append(f'<text x="{rule.stands + away * rule.side:g}" y="{mark.at + 1.45:g}" text-anchor="{"start" if rule.side > 0 else "end"}" class="alm-edge-figure">{escape(mark.text)}</text>')
    if rule.across:
        parts.append(f'<text x="{rule.end:g}" y="{rule.stands + 9.6:g}" text-anchor="end" class="alm-edge-head">{escape(" ".join(rule.head))}</text>')
    elif rule.reach:
        parts.append(f'<text x="1" y="4" class="alm-edge-head">{escape(" ".join(rule.head))}</text>')
    else:
        anchor = "start" if rule.side > 0 else "end"
        nudge = 1.5 * rule.side if shared else -0.5 if rule.side > 0 else 2.5
        parts += [f'<text x="{rule.stands + nudge:g}" y="{3.8 + 4.2 * place:g}" text-anchor="{anchor}" class="alm-edge-{"unit" if place else "head"}">{escape(words)}</text>'
                  for place, words in enumerate(rule.head)]
    return "".join(parts) + "</g>"


def _barred(name: str, part: Barred) -> str:
    corners = " ".join(f"{x:g},{y:g}" for x, y in part.corners)
    return f'<polygon points="{corners}" class="alm-edge-barred"/><polygon points="{corners}" fill="url(#{name}-no)"/>'


def _word(part: Barred) -> str:
    """The word of a barred part, over all lines."""
    if not part.word:
        return ""
    x, y = part.at
    place = f'transform="translate({x + 1.1:g} {y:g}) rotate(-90)"' if part.turned else f'x="{x:g}" y="{y:g}"'
    return f'<text {place} text-anchor="{part.anchor}" class="alm-edge-word">{escape(part.word)}</text>'


def edge_svg(chart: EdgeChart) -> str:
    """One <svg> on one line, its units millimetres, with title and description for a screen reader."""
    name = escape(chart.name)
    parts = [f'<svg class="alm-edge" viewBox="0 0 {chart.width:g} {chart.height:g}" role="img" aria-labelledby="{name}-t {name}-d">',
             f'<title id="{name}-t">{escape(chart.title)}</title><desc id="{name}-d">{escape(chart.description)}</desc>',
             f'<defs><pattern id="{name}-no" width="4" height="4" patternUnits="userSpaceOnUse"><path d="{_HATCH}" class="alm-hatch"/></pattern></defs>']
    parts += [_barred(name, part) for part in chart.barred]
    stems = [rule.stands for rule in chart.rules]
    parts += [_rule(rule, stems.count(rule.stands) > 1) for rule in chart.rules]
    parts += [_word(part) for part in chart.barred]
    for (x0, y0), (x1, y1), words in chart.strong:
        parts.append(f'<path d="M{x0:g} {y0:g}L{x1:g} {y1:g}" class="alm-edge-strong"/><text x="{x0 + 1.5:g}" y="{y0 - 1.4:g}" class="alm-edge-word">{escape(words)}</text>')
    parts += [f'<text x="{x:g}" y="{y:g}" text-anchor="{anchor}" class="alm-edge-word">{escape(words)}</text>' for (x, y), words, anchor in chart.words]
    parts.append(f'<polyline points="{" ".join(f"{x:g},{y:g}" for x, y in chart.worked)}" class="alm-edge-worked"/>')
    parts += [f'<circle cx="{x:g}" cy="{y:g}" r="1" class="alm-edge-dot"/>' for x, y in chart.worked]
    return "".join(parts) + "</svg>"


def edge_html(chart: EdgeChart) -> str:
    """The chart with its title, how to read it, which mark to take and how well it reads, as one raw block."""
    steps = "".join(f"<li>{escape(step)}</li>" for step in chart.how)
    notes = " ".join(escape(note) for note in (chart.reading_error, *chart.notes))
    return (f'<figure class="alm-figure alm-edge-chart"><figcaption><strong>{escape(chart.title)}</strong> {escape(chart.caption)}</figcaption>{edge_svg(chart)}'
            f'<ol>{steps}</ol><p><strong>{escape(chart.take)}</strong> {notes}</p></figure>')
