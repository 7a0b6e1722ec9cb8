"""A fault from the front and cut through, as one small SVG in the page's ink.

Nothing here is by chance: what lies scattered follows one fixed sequence, so that every build draws the same.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Sequence
from typing import Any

from markupsafe import escape

from generators.facts.sketch import ROWS, TALL, WIDE, Panel, label_box, panels

Point = tuple[float, float]
_BASES = (2, 3, 5)  # of the sequence by which scattered things are placed


def fault_svg(name: str, title: str, drawing: Any) -> str:
    """The drawing of one fault, on one line, with title and description. Texts are escaped here."""
    key, front, cut = escape(name), *panels(drawing.way)
    seen = f"From the front: {drawing.front.seen} Cut through: {drawing.cut.seen}"
    parts = [f'<svg class="alm-drawing alm-fault" viewBox="0 0 {WIDE:g} {TALL:g}" role="img" aria-labelledby="{key}-ft {key}-fd">'
             f'<title id="{key}-ft">{escape(title)}, from the front and cut through</title><desc id="{key}-fd">{escape(seen)}</desc>',
             _says(front.left, front.top - 3, "from the front"), _says(cut.left, cut.top - 3, "cut through"),
             _box(front, {"paint": "alm-paint", "card": "alm-card", "work": "alm-work"}[drawing.front.of])]
    parts += _marks(front, drawing.front.marks, drawing.cut.film)
    parts += _section(cut, drawing.cut)
    parts += _marks(cut, drawing.cut.marks, drawing.cut.film)
    for panel, view in ((front, drawing.front), (cut, drawing.cut)):
        parts += [_label(panel, label) for label in view.words]
    return "".join(parts) + "</svg>"


def _n(number: float) -> str:
    """A coordinate, to a tenth of a unit and without a minus before zero."""
    return f"{round(number, 1) + 0:g}"


def _at(point: Point) -> str:
    return f"{_n(point[0])} {_n(point[1])}"


def _path(shape: str, look: str) -> str:
    return f'<path d="{shape}" class="{look}"/>'


def _says(x: float, y: float, words: str, look: str = "") -> str:
    return f'<text x="{_n(x)}" y="{_n(y)}"{f" class={chr(34)}{look}{chr(34)}" if look else ""}>{escape(words)}</text>'


def _box(panel: Panel, look: str) -> str:
    return f'<rect x="{_n(panel.left)}" y="{_n(panel.top)}" width="{_n(panel.width)}" height="{_n(panel.height)}" class="{look}"/>'


def _label(panel: Panel, label: Any) -> str:
    """Words, and a line from their nearest side to what they speak of."""
    left, top, right, bottom = label_box(panel, label)
    said = _says(*panel.place(*label.at), label.words, "alm-halo")
    if label.to is None:
        return said
    tx, ty = panel.place(*label.to)
    x = min(max(tx, left), right)
    y = (top + bottom) / 2 if x != tx else bottom if ty > bottom else top
    return _path(f"M{_at((x, y))}L{_at((tx, ty))}", "alm-lead") + _dots([(tx, ty)], 0.9) + said


# Heights: a smooth line through what is declared, that never goes above or below it.

def _pieces(heights: Sequence[Point]) -> list[list[Point]]:
    """The line cut at its corners: where a place is given twice."""
    found: list[list[Point]] = [[]]
    for before, here in itertools.pairwise([heights[0], *heights]):
        if found[-1] and before[0] == here[0]:
            found.append([])
            if before[1] != here[1]:  # an upright face of the film
                found[-1] = [before, here]
                found.append([])
        found[-1].append(here)
    return [piece for piece in found if len(piece) > 1]


def _slopes(piece: Sequence[Point]) -> list[float]:
    """Slopes of a cubic through the points, made gentle enough that it stays between them (Fritsch and Carlson 1980)."""
    steps = [(b[1] - a[1]) / (b[0] - a[0]) if b[0] > a[0] else 0.0 for a, b in itertools.pairwise(piece)]
    inner = [0.0 if a * b <= 0 else 2 * a * b / (a + b) for a, b in itertools.pairwise(steps)]
    return [steps[0], *inner, steps[-1]] if len(piece) == 2 else [steps[0] if steps[0] * inner[0] > 0 else 0.0, *inner, steps[-1] if steps[-1] * inner[-1] > 0 else 0.0]


def _curves(heights: Sequence[Point]) -> list[tuple[Point, Point, Point, Point]]:
    """Bézier pieces: start, two handles, end."""
    found = []
    for piece in _pieces(heights):
        slopes = _slopes(piece)
        for (a, b), (sa, sb) in zip(itertools.pairwise(piece), itertools.pairwise(slopes), strict=True):
            third = (b[0] - a[0]) / 3
            found.append((a, (a[0] + third, a[1] + sa * third), (b[0] - third, b[1] - sb * third), b) if third else (a, a, b, b))
    return found


def _drawn(panel: Panel, curves: Iterable[tuple[Point, Point, Point, Point]], start: str = "M") -> str:
    """Path text along Bézier pieces of a cut."""
    text = ""
    for a, c, d, b in curves:
        a, c, d, b = (panel.place(*point) for point in (a, c, d, b))
        text = text or f"{start}{_at(a)}"
        text += f"L{_at(b)}" if a == c else f"C{_at(c)} {_at(d)} {_at(b)}"
    return text


def _height(heights: Sequence[Point], x: float) -> float:
    """Height at a place, straight between what is declared."""
    for (x0, y0), (x1, y1) in itertools.pairwise(heights):
        if x0 <= x <= x1:
            return y1 if x1 == x0 else y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return 0.0


def _skin(panel: Panel, curves: Iterable[tuple[Point, Point, Point, Point]], below: Sequence[Point]) -> str:
    """The film's own outline: not where it is bare, and no farther down an edge than its underside."""
    text, last = "", None
    for a, c, d, b in curves:
        if a[0] == b[0]:
            low = max((y for x, y in below if x == a[0]), default=min(a[1], b[1]))
            a, b = (a[0], max(a[1], low)), (b[0], max(b[1], low))
            c, d = a, b
        if a == b or (a[0] < b[0] and all(abs(a[1] + t * (b[1] - a[1]) - _height(below, a[0] + t * (b[0] - a[0]))) < 1e-6 for t in (0.3, 0.7))):
            continue
        text += ("" if a == last else f"M{_at(panel.place(*a))}") + _drawn(panel, [(a, c, d, b)], " ").removeprefix(f" {_at(panel.place(*a))}")
        last = b
    return text


def _section(panel: Panel, cut: Any) -> list[str]:
    """What lies below, the film upon it, and the film's skin."""
    flat = ((0.0, 0.0), (panel.along, 0.0))
    ground, top = _curves(cut.ground or flat), _curves(cut.film)
    under = _curves(cut.under) if cut.under else ground
    back = [(b, d, c, a) for a, c, d, b in reversed(under)]
    corners = [(panel.left, panel.top), (panel.left, panel.top + panel.height)] if panel.upright else [(panel.left, panel.top + panel.height), (panel.left + panel.width, panel.top + panel.height)]
    outer = f"M{_at(corners[0])}{_drawn(panel, ground, 'L')}L{_at(corners[1])}Z"
    film = f"{_drawn(panel, top)}{_drawn(panel, back, 'L')}Z"
    name = (panel.left + 1, panel.top + 4.6) if panel.upright else (panel.left + 1.5, panel.top + panel.height - 1.8)
    below = cut.under or cut.ground or flat
    skin = _skin(panel, top, below) + (_skin(panel, [piece for piece in under if piece[0][0] < piece[3][0]], cut.ground or flat) if cut.under else "")
    return [_box(panel, "alm-card"), _path(outer, "alm-work"), _path(film, "alm-film"), *([_path(skin, "alm-skin")] if skin else []), _says(*name, cut.on, "alm-halo")]


# What lies scattered.

def _turned(index: int, base: int) -> float:
    """The digits of a count, turned round behind the point."""
    share, weight = 0.0, 1.0
    while index:
        index, digit = divmod(index, base)
        weight /= base
        share += digit * weight
    return share


def spread(count: int) -> list[tuple[float, float, float]]:
    """So many even places in the unit square, each with a third number to choose by: Halton's sequence (1960)."""
    return [(_turned(index, _BASES[0]), _turned(index, _BASES[1]), _turned(index, _BASES[2])) for index in range(1, count + 1)]


def _dots(points: Iterable[Point], radius: float) -> str:
    return "".join(f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{radius:g}" class="alm-dot"/>' for x, y in points)


def _stipple(points: Iterable[Point], look: str = "alm-stipple") -> str:
    """Many fine dots as one path: lines of no length with round ends."""
    text = "".join(f"M{_at(point)}L{_at(point)}" for point in points)
    return _path(text, look) if text else ""


def _polyline(points: Sequence[Point], close: bool = False) -> str:
    return "M" + "L".join(map(_at, points)) + ("Z" if close else "")


def _soft(points: Sequence[Point], close: bool = False) -> str:
    """A smooth line that the points pull towards them; it stays among them."""
    def middle(a: Point, b: Point) -> Point:
        return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2

    if close:
        ring = [*points, points[0]]
        return f"M{_at(middle(points[-1], points[0]))}" + "".join(f"Q{_at(a)} {_at(middle(a, b))}" for a, b in itertools.pairwise(ring)) + "Z"
    inner = list(points[1:-1])
    ends = [middle(a, b) for a, b in itertools.pairwise(inner)] + [points[-1]]
    return f"M{_at(points[0])}" + "".join(f"Q{_at(a)} {_at(b)}" for a, b in zip(inner, ends, strict=True))


Drawer = Callable[[list[Point], tuple[float, ...], Sequence[Point]], str]


def _marks(panel: Panel, marks: Iterable[Any], film: Sequence[Point]) -> list[str]:
    """Every mark of one panel. `film` is the cut's: what is sprayed more thickly has more dots."""
    found = []
    for mark in marks:
        places, after = mark.split()
        points = [panel.place(*place) for place in places]
        if len(points) == 2 and len(mark.numbers) >= 4 and mark.kind in _BOXED:
            (x0, y0), (x1, y1) = points  # a cut turns boxes over: take the upper left corner again
            points = [(min(x0, x1), min(y0, y1)), (max(x0, x1), max(y0, y1))]
        heights = [(panel.left + x if not panel.upright else panel.top + x, y) for x, y in film]
        found.append(_DRAWERS[mark.kind](points, after, heights))
    return found


def _circle(look: str) -> Drawer:
    return lambda at, after, _: f'<circle cx="{_n(at[0][0])}" cy="{_n(at[0][1])}" r="{after[0]:g}" class="{look}"/>'


def _rim(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    (x, y), radius = at[0], after[0]
    return "".join(f'<circle cx="{_n(x)}" cy="{_n(y)}" r="{r:g}" class="{look}"/>' for r, look in ((radius, "alm-ridge"), (round(radius * 0.62, 2), "alm-hollow")))


def _oval(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    return f'<ellipse cx="{_n(at[0][0])}" cy="{_n(at[0][1])}" rx="{after[0]:g}" ry="{after[1]:g}" class="alm-fine"/>'


def _arrow(at: list[Point], *_: Any) -> str:
    (x0, y0), (x1, y1) = at
    angle, reach = math.atan2(y1 - y0, x1 - x0), math.hypot(x1 - x0, y1 - y0)
    size = min(2.4, reach)
    sides = [(x1 - size * math.cos(angle + turn), y1 - size * math.sin(angle + turn)) for turn in (0.5, -0.5)]
    return _path(_polyline(at), "alm-fine") + _path(_polyline([(x1, y1), *sides], close=True), "alm-dot")


def _hatch(at: list[Point], *_: Any) -> str:
    """Slanted lines that end at the box's own edges."""
    (x0, y0), (x1, y1) = at
    wide, high, step, text = x1 - x0, y1 - y0, 2.2, ""
    for k in range(1, int((wide + high) / step) + 1):
        reach = k * step
        a, b = max(0.0, reach - high), min(wide, reach)
        if b - a > 0.3:
            text += f"M{_at((x0 + a, y0 + reach - a))}L{_at((x0 + b, y0 + reach - b))}"
    return _path(text, "alm-hatch") if text else ""


def _drape(at: list[Point], *_: Any) -> str:
    """A run: a thread that widens downwards and ends in a fat round drop."""
    (x0, y0), (x1, y1) = at
    wide, middle = x1 - x0, (x0 + x1) / 2
    neck, drop = wide * 0.14, min(wide, (y1 - y0) / 2)
    full = y1 - drop * 0.5  # where the drop is at its widest
    return _path(f"M{_at((middle - neck, y0))}L{_at((middle - neck, full - drop * 1.2))}C{_at((middle - neck, full - drop * 0.6))} {_at((x0, full - drop * 0.55))} {_at((x0, full))}"
                 f"C{_at((x0, y1 - drop * 0.22))} {_at((middle - wide * 0.28, y1))} {_at((middle, y1))}C{_at((middle + wide * 0.28, y1))} {_at((x1, y1 - drop * 0.22))} {_at((x1, full))}"
                 f"C{_at((x1, full - drop * 0.55))} {_at((middle + neck, full - drop * 0.6))} {_at((middle + neck, full - drop * 1.2))}L{_at((middle + neck, y0))}", "alm-patch-film")


def _cracks(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    """A net of cracks: a wall of bricks whose corners have all moved a little."""
    (x0, y0), (x1, y1) = at
    rows = max(2, round(after[0]))
    tall = (y1 - y0) / rows
    columns = min(max(2, round((x1 - x0) / (tall * 1.3))), 3 * ROWS)
    wide = (x1 - x0) / columns
    moved = iter(spread(2 * (rows + 2) * (columns + 3)))

    def corner(row: int, half: int) -> Point:
        dx, dy, _ = next(moved)
        x, y = x0 + half * wide / 2 + (dx - 0.5) * wide * 0.45, y0 + row * tall + (dy - 0.5) * tall * 0.55
        return x0 if half == 0 else x1 if half == 2 * columns else x, y0 if row == 0 else y1 if row == rows else y

    grid = {(row, half): corner(row, half) for row in range(rows + 1) for half in range(2 * columns + 1)}
    text = "".join(_polyline([grid[row, half] for half in range(2 * columns + 1)]) for row in range(1, rows))
    for row in range(rows):
        text += "".join(_polyline([grid[row, half], grid[row + 1, half]]) for half in range(1 + row % 2, 2 * columns, 2))
    return _path(text, "alm-crack")


def _crinkles(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    """Rows of folds, each waving at its own beat."""
    (x0, y0), (x1, y1) = at
    rows = max(1, round(after[0]))
    tall = (y1 - y0) / rows
    found, places = "", iter(spread(rows * 40))
    for row in range(rows):
        middle, count = y0 + (row + 0.5) * tall, max(4, round((x1 - x0) / 4.5))
        points = [(x0 + (x1 - x0) * k / count, middle + (-1) ** k * tall * 0.5 * (0.35 + 0.65 * next(places, (0.5, 0, 0))[0])) for k in range(count + 1)]
        found += _soft(points)
    return _path(found, "alm-fine")


def _grains(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    (x0, y0), (x1, y1) = at
    count, radius = round(after[0]), after[1]
    room = min(radius, (x1 - x0) / 2, (y1 - y0) / 2)
    points = [(x0 + room + u * (x1 - x0 - 2 * room), y0 + room + v * (y1 - y0 - 2 * room)) for u, v, _ in spread(count)]
    return _stipple(points, "alm-haze" if radius < 0.4 else "alm-stipple") if radius <= 0.6 else _dots(points, radius)


def _bubbles(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    (x0, y0), (x1, y1) = at
    radius = min(after[1], (x1 - x0) / 2, (y1 - y0) / 2)
    return "".join(f'<circle cx="{_n(x0 + radius + u * (x1 - x0 - 2 * radius))}" cy="{_n(y0 + radius + v * (y1 - y0 - 2 * radius))}" r="{round(radius * (0.55 + 0.45 * t), 2):g}" class="alm-hollow"/>'
                   for u, v, t in spread(round(after[0])))


def _bursts(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    """Broken bubbles: a ring that is torn open, each to another side, with the hole in it."""
    (x0, y0), (x1, y1) = at
    radius, text, holes = after[1], "", []
    room = radius * 1.4
    for u, v, t in spread(round(after[0])):
        x, y, turn = x0 + room + u * (x1 - x0 - 2 * room), y0 + room + v * (y1 - y0 - 2 * room), 2 * math.pi * t
        reaches = (1.4 * radius, *[radius] * 6, 1.4 * radius)
        ring = [(x + reach * math.cos(turn + angle), y + reach * math.sin(turn + angle)) for angle, reach in zip((0.7, 0.9, 1.9, 2.9, 3.9, 4.9, 5.4, 5.6), reaches, strict=True)]
        text += _polyline(ring)
        holes.append((x, y))
    return _path(text, "alm-fine") + _dots(holes, round(radius * 0.4, 2))


def _pebbles(at: list[Point], after: tuple[float, ...], _: Sequence[Point]) -> str:
    """A skin of pebbles: small bows, lit from above, on an uneven net."""
    (x0, y0), (x1, y1) = at
    rows = max(2, round(after[0]))
    step = (y1 - y0) / rows
    columns = min(max(2, round((x1 - x0) / (step * 1.15))), 3 * ROWS)
    wide, text = (x1 - x0) / columns, ""
    places = iter(spread(rows * columns))
    for row in range(rows):
        for column in range(columns - row % 2):
            u, v, t = next(places)
            x, y = x0 + (column + 0.5 + (row % 2) / 2 + (u - 0.5) * 0.3) * wide, y0 + (row + 0.62 + (v - 0.5) * 0.25) * step
            half = wide * (0.30 + 0.10 * t)
            x, y = min(max(x, x0 + half), x1 - half), min(max(y, y0 + half), y1)
            text += f"M{_at((x - half, y))}C{_at((x - half, y - half))} {_at((x + half, y - half))} {_at((x + half, y))}"
    return _path(text, "alm-fine")


def _fan(at: list[Point], after: tuple[float, ...], film: Sequence[Point]) -> str:
    """A fan on a card: dots as dense, and the print as broad, as the cut's own film is thick at that place."""
    (x0, y0), (x1, y1) = at
    most, middle, half = max(y for _, y in film) or 1.0, (y0 + y1) / 2, (y1 - y0) / 2
    points = []
    for u, v, chance in spread(round(after[0])):
        x = x0 + u * (x1 - x0)
        share = _height(film, x) / most
        if chance < share:
            points.append((x, middle + (2 * v - 1) * half * (0.3 + 0.7 * math.sqrt(share))))
    return _stipple(points)


def _bow(at: list[Point], after: tuple[float, ...], film: Sequence[Point]) -> str:
    """A fan on end that bends to one side: a sickle, broad in its middle, both ends to the left."""
    (x0, y0), (x1, y1) = at
    points = []
    for u, v, _ in spread(round(after[0])):
        lean = 1 - (2 * v - 1) ** 2  # 0 at both ends, 1 in the middle
        thick = 0.12 + 0.3 * lean
        points.append((x0 + (x1 - x0) * (lean * (1 - 0.42) + (u * u) * thick), y0 + v * (y1 - y0)))
    return _stipple(points)


def _lines(look: str, soft: bool = False, close: bool = False) -> Drawer:
    return lambda at, *_: _path(_soft(at, close) if soft else _polyline(at, close), look)


def _rect(look: str) -> Drawer:
    return lambda at, *_: _path(_polyline([at[0], (at[1][0], at[0][1]), at[1], (at[0][0], at[1][1])], close=True), look)


_BOXED = ("hatch", "band", "gap", "bubbles", "bursts", "drape", "cracks", "crinkles", "grains", "pebbles", "fan", "bow")
_DRAWERS: dict[str, Drawer] = {
    "dot": _circle("alm-dot"), "ring": _circle("alm-hollow"), "rim": _rim, "oval": _oval,
    "line": _lines("alm-fine"), "dash": _lines("alm-dash"), "arrow": _arrow, "curve": _lines("alm-fine", soft=True),
    "patch": _lines("alm-patch-film", soft=True, close=True), "bare": _lines("alm-hollow", soft=True, close=True),
    "solid": _lines("alm-solid", close=True), "flat": _lines("alm-patch-film", close=True),
    "hatch": _hatch, "band": _rect("alm-film"), "gap": _rect("alm-hollow"), "bubbles": _bubbles, "bursts": _bursts,
    "drape": _drape, "cracks": _cracks, "crinkles": _crinkles, "grains": _grains, "pebbles": _pebbles, "fan": _fan, "bow": _bow,
}
