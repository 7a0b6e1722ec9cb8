"""A fault as the eye meets it on a job: its film as a field of heights, made from the fault's own numbers, and lit from the side.

The marks of a drawing's front say where, its cut says how high. Heights are in wanted films (1 is as thick as it should be, 0 the face of the work),
lengths in units of the drawing. Nothing is by chance: what lies scattered follows the same sequence as in the line drawing.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from generators.facts.sketch import panels
from generators.render import spread

FINE = 3  # pixels to a unit
STEEP = 2.6  # units that one wanted film stands high: far more than life, as in the cut
LIGHT = (-0.62, -0.5, 0.46)  # towards the lamp: low, from the upper left
PAINT, CARD, WORK, DARK = 0.74, 0.95, 0.52, 0.3  # how much light each gives back
Points = list[tuple[float, float]]


class Relief:
    """Heights and tones over one front panel. `x` and `y` are the middles of the pixels, in units of the drawing."""

    def __init__(self, drawing: Any) -> None:
        self.drawing, self.panel = drawing, panels(drawing.way)[0]
        rows, columns = round(self.panel.height * FINE), round(self.panel.width * FINE)
        self.y, self.x = np.mgrid[0:rows, 0:columns] / FINE + 0.5 / FINE
        film = [height for _, height in drawing.cut.film]
        self.level = float(np.median(np.interp(np.linspace(0, self.panel.along, 201), *self._columns())))
        self.rise, self.least = max(film) - self.level, max(min(film), 0.0)
        self.through = min(film) < 0.05
        self.z = np.full(self.x.shape, self.level if drawing.front.of == "paint" else 0.0)
        self.tone = np.full(self.x.shape, {"paint": PAINT, "card": CARD, "work": WORK}[drawing.front.of])
        for mark in drawing.front.marks:
            places, after = mark.split()
            _STAMPS[mark.kind](self, places, after)

    def _film(self) -> Iterator[tuple[float, float]]:
        """The cut's heights with corners pulled apart by a hair, so that a line can be read along them."""
        last = -1.0
        for place, height in self.drawing.cut.film:
            last = max(place, last + 1e-6)
            yield last, height

    def _columns(self) -> Any:
        """The cut's film as two columns: places, heights."""
        return np.array(list(self._film()), float).T

    def share(self, along: Any) -> Any:
        """The cut's film at places along the shared axis."""
        return np.interp(along, *self._columns())

    def near(self, x: float, y: float) -> Any:
        return np.hypot(self.x - x, self.y - y)

    def inside(self, points: Points) -> Any:
        """Which pixels lie in a closed line: a count of crossings."""
        found = np.zeros(self.x.shape, bool)
        for (x0, y0), (x1, y1) in zip(points, [*points[1:], points[0]], strict=True):
            if y0 != y1:
                found ^= ((y0 > self.y) != (y1 > self.y)) & (self.x < (x1 - x0) * (self.y - y0) / (y1 - y0) + x0)
        return found

    def beside(self, points: Points) -> Any:
        """Distance of each pixel to an open line."""
        least = np.full(self.x.shape, np.inf)
        for (x0, y0), (x1, y1) in itertools.pairwise(points):
            long = max((x1 - x0) ** 2 + (y1 - y0) ** 2, 1e-9)
            at = np.clip(((self.x - x0) * (x1 - x0) + (self.y - y0) * (y1 - y0)) / long, 0, 1)
            least = np.minimum(least, np.hypot(self.x - x0 - at * (x1 - x0), self.y - y0 - at * (y1 - y0)))
        return least

    def lit(self) -> Any:
        """Grey values, 0 to 255: what a lamp from the side shows."""
        dy, dx = np.gradient(self.z * STEEP, 1 / FINE)
        length = math.sqrt(sum(part * part for part in LIGHT))
        shade = (-dx * LIGHT[0] - dy * LIGHT[1] + LIGHT[2]) / length / np.sqrt(1 + dx * dx + dy * dy)
        flat = LIGHT[2] / length
        return np.clip(np.rint(255 * self.tone * np.clip(0.35 + 0.65 * np.maximum(shade, 0) / flat, 0, 1.34)), 0, 255).astype(np.uint8)


    def round(self, x: float, y: float, reach: float) -> tuple[Any, Any, Any]:
        """Heights, tones and distances of the pixels round a place: windows on the panel, to be written in."""
        rows = slice(max(0, math.floor((y - reach) * FINE)), max(0, math.ceil((y + reach) * FINE)))
        columns = slice(max(0, math.floor((x - reach) * FINE)), max(0, math.ceil((x + reach) * FINE)))
        return self.z[rows, columns], self.tone[rows, columns], np.hypot(self.x[rows, columns] - x, self.y[rows, columns] - y)


def _soft(points: Points, closed: bool) -> Points:
    """Corners cut three times (Chaikin 1974): the points pull the line towards them, as in the line drawing."""
    for _ in range(3):
        pairs = list(zip(points, [*points[1:], points[0]] if closed else points[1:], strict=False))
        cut = [(a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])) for a, b in pairs for share in (0.25, 0.75)]
        points = cut if closed else [points[0], *cut, points[-1]]
    return points


def _dome(relief: Relief, x: float, y: float, radius: float, high: float) -> None:
    z, _, near = relief.round(x, y, radius)
    z += high * np.sqrt(np.clip(1 - (near / radius) ** 2, 0, None))


def _box(places: Points) -> tuple[float, float, float, float]:
    (x0, y0), (x1, y1) = places[:2]
    return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)


def _within(relief: Relief, places: Points) -> Any:
    x0, y0, x1, y1 = _box(places)
    return (relief.x >= x0) & (relief.x <= x1) & (relief.y >= y0) & (relief.y <= y1)


def _scattered(places: Points, count: float) -> Iterator[tuple[float, float, float]]:
    x0, y0, x1, y1 = _box(places)
    for u, v, t in spread(round(count)):
        yield x0 + u * (x1 - x0), y0 + v * (y1 - y0), t


def _nothing(relief: Relief, places: Points, after: Sequence[float]) -> None:
    """Arrows and broken lines speak of the drawing; on a job nobody sees them."""


def _dot(relief: Relief, places: Points, after: Sequence[float]) -> None:
    (x, y), radius = places[0], after[0]
    _dome(relief, x, y, radius, 0.9)
    _, tone, near = relief.round(x, y, radius)
    tone[near < radius * 0.9] = DARK


def _ring(relief: Relief, places: Points, after: Sequence[float]) -> None:
    near = relief.near(*places[0])
    relief.tone[abs(near - after[0]) < 0.5] *= 0.72
    relief.z += 0.25 * np.exp(-(((near - after[0]) / 0.6) ** 2))


def _rim(relief: Relief, places: Points, after: Sequence[float]) -> None:
    near, radius = relief.near(*places[0]), after[0]
    relief.z += max(relief.rise, 0.4) * np.exp(-(((near - 0.82 * radius) / (0.16 * radius)) ** 2))
    hole = np.clip((0.68 * radius - near) / (0.1 * radius + 0.2), 0, 1)
    relief.z -= hole * (relief.z - relief.least)
    if relief.through:
        relief.tone[near < 0.6 * radius] = WORK


def _oval(relief: Relief, places: Points, after: Sequence[float]) -> None:
    (x, y), (wide, tall) = places[0], after
    away = np.hypot((relief.x - x) / wide, (relief.y - y) / tall)
    relief.z -= max(relief.rise, 0.35) * np.exp(-(((away - 1) * min(wide, tall) / 0.5) ** 2))


def _line(relief: Relief, places: Points, after: Sequence[float]) -> None:
    relief.z -= 0.3 * np.exp(-((relief.beside(places) / 0.45) ** 2))


def _curve(relief: Relief, places: Points, after: Sequence[float]) -> None:
    _line(relief, _soft(places, closed=False), after)


def _soft_patch(relief: Relief, places: Points, after: Sequence[float]) -> None:
    _patch(relief, _soft(places, closed=True), after)


def _patch(relief: Relief, places: Points, after: Sequence[float]) -> None:
    inside = relief.inside(places)
    if relief.rise > 0.2:
        edge = np.clip(relief.beside([*places, places[0]]) / 1.5, 0, 1)
        relief.z += inside * edge * min(relief.rise, 1.2)
    relief.tone[inside] *= 0.82
    if relief.drawing.front.of != "paint":
        relief.z[inside], relief.tone[inside] = relief.level, PAINT


def _bare(relief: Relief, places: Points, after: Sequence[float]) -> None:
    inside = relief.inside(_soft(places, closed=True)) if len(places) > 2 else _within(relief, places)
    relief.z[inside], relief.tone[inside] = 0, WORK


def _solid(relief: Relief, places: Points, after: Sequence[float]) -> None:
    inside = relief.inside(places)
    relief.z[inside], relief.tone[inside] = 0, DARK


def _band(relief: Relief, places: Points, after: Sequence[float]) -> None:
    inside = _within(relief, places)
    if relief.drawing.front.of == "paint":
        x0, y0, x1, y1 = _box(places)
        across = (relief.y - y0) / (y1 - y0) if relief.panel.upright or (y1 - y0) < (x1 - x0) else (relief.x - x0) / (x1 - x0)
        relief.z += inside * max(relief.rise, 0.3) * np.sin(np.pi * np.clip(across, 0, 1)) ** 2
        relief.tone[inside] *= 0.86
    else:
        relief.z[inside] = max(relief.level, 0.3)
        relief.tone[inside] = PAINT


def _hatch(relief: Relief, places: Points, after: Sequence[float]) -> None:
    """Dull: too fine to be seen as relief; it gives back less light, unevenly."""
    inside = _within(relief, places)
    relief.z += inside * 0.05 * np.sin(5.1 * relief.x + 2.3 * relief.y) * np.sin(4.3 * relief.y - 1.7 * relief.x)
    relief.tone[inside] *= 0.8


def _drape(relief: Relief, places: Points, after: Sequence[float]) -> None:
    x0, y0, x1, y1 = _box(places)
    wide, middle = x1 - x0, (x0 + x1) / 2
    drop = min(wide, (y1 - y0) / 2)
    down = np.clip((relief.y - y0) / (y1 - y0), 0, 1)
    half = wide * (0.14 + 0.2 * down**2)
    thread = np.sqrt(np.clip(1 - ((relief.x - middle) / half) ** 2, 0, None)) * ((relief.y >= y0) & (relief.y <= y1 - drop * 0.5))
    away = np.hypot((relief.x - middle) / (wide / 2), (relief.y - (y1 - drop * 0.55)) / (drop * 0.6))
    relief.z = np.maximum(relief.z + 0.45 * relief.rise * thread, relief.level + relief.rise * np.sqrt(np.clip(1 - away**2, 0, None)))


def _net(relief: Relief, places: Points, rows: float) -> Any:
    """How much farther the second nearest of scattered seeds is than the nearest: 0 on the lines of a net."""
    x0, y0, x1, y1 = _box(places)
    count = max(4, round(rows * rows * (x1 - x0) / (y1 - y0) / 1.3))
    first, second = np.full(relief.x.shape, np.inf), np.full(relief.x.shape, np.inf)
    for x, y, _ in _scattered(places, count):
        near = relief.near(x, y)
        second = np.minimum(second, np.maximum(first, near))
        first = np.minimum(first, near)
    return second - first


def _cracks(relief: Relief, places: Points, after: Sequence[float]) -> None:
    crack = np.exp(-((_net(relief, places, after[0]) / 0.9) ** 2)) * _within(relief, places)
    relief.z -= crack * (relief.z - relief.least)
    relief.tone[crack > 0.75] = WORK


def _crinkles(relief: Relief, places: Points, after: Sequence[float]) -> None:
    _, y0, _, y1 = _box(places)
    tall = (y1 - y0) / max(1, round(after[0]))
    bent = relief.y + 0.45 * tall * np.sin(relief.x * 0.9 + 0.7 * np.sin(relief.y)) + 0.3 * tall * np.sin(relief.x * 0.37 + 1.3)
    relief.z += _within(relief, places) * max(relief.rise, 0.6) * (0.5 + 0.5 * np.sin(2 * np.pi * bent / tall))


def _pebbles(relief: Relief, places: Points, after: Sequence[float]) -> None:
    depth = max(relief.rise, 0.3)
    relief.z += _within(relief, places) * depth * (1 - np.exp(-_net(relief, places, after[0]) / 2.2))


def _grains(relief: Relief, places: Points, after: Sequence[float]) -> None:
    count, radius = after
    if radius < 0.4:  # a haze: no relief, more light
        x0, y0, x1, y1 = _box(places)
        away = np.hypot((relief.x - (x0 + x1) / 2) / ((x1 - x0) / 2), (relief.y - (y0 + y1) / 2) / ((y1 - y0) / 2))
        relief.tone += 0.16 * min(1.0, count / 200) * np.clip(1.15 - away, 0, 1) * (1 if relief.drawing.front.of == "paint" else -1)
        return
    for x, y, t in _scattered(places, count):
        if relief.drawing.cut.ground:  # pricks, down to the ground
            z, tone, near = relief.round(x, y, 3 * radius)
            z -= np.exp(-((near / radius) ** 2)) * (z + 0.4)
            tone[near < radius * 0.7] = DARK
        else:
            _dome(relief, x, y, radius * (0.8 + 0.6 * t), 0.5)


def _bubbles(relief: Relief, places: Points, after: Sequence[float]) -> None:
    for x, y, t in _scattered(places, after[0]):
        radius = after[1] * (0.55 + 0.45 * t)
        _dome(relief, x, y, radius, 0.35)
        _, tone, near = relief.round(x, y, radius)
        tone[near < radius * 0.5] *= 1.18


def _bursts(relief: Relief, places: Points, after: Sequence[float]) -> None:
    for x, y, _ in _scattered(places, after[0]):
        z, tone, near = relief.round(x, y, after[1] + 2)
        z += 0.8 * np.exp(-(((near - after[1]) / 0.45) ** 2)) - 0.9 * np.exp(-((near / (0.5 * after[1])) ** 2))
        tone[near < 0.4 * after[1]] = DARK


def _fan(relief: Relief, places: Points, after: Sequence[float]) -> None:
    """A print on a card: as much paint, and as broad, as the cut's film is thick at that place."""
    _, y0, _, y1 = _box(places)
    share = np.clip(relief.share(relief.x) / max(height for _, height in relief.drawing.cut.film), 0, 1)
    up = abs(relief.y - (y0 + y1) / 2) / ((y1 - y0) / 2) / (0.3 + 0.7 * np.sqrt(share) + 1e-9)
    _print(relief, share * np.clip(1.25 - up**2, 0, 1) * _within(relief, places))


def _bow(relief: Relief, places: Points, after: Sequence[float]) -> None:
    x0, y0, x1, y1 = _box(places)
    lean = np.clip(1 - (2 * (relief.y - y0) / (y1 - y0) - 1) ** 2, 0, 1)
    at = (relief.x - x0) / (x1 - x0) - lean * 0.58
    _print(relief, np.clip(1.2 - abs(at / (0.12 + 0.3 * lean) - 0.35) * 1.6, 0, 1) * _within(relief, places))


def _print(relief: Relief, much: Any) -> None:
    """Paint on a card: dark where it is thick, in specks where it is thin."""
    much = np.clip(much, 0, 1)
    speck = 0.5 + 0.25 * np.sin(7.3 * relief.x + 3.1 * np.sin(5.9 * relief.y)) + 0.25 * np.sin(6.7 * relief.y + 2.7 * np.sin(6.1 * relief.x))
    cover = np.clip(much * 1.6 - 0.35 * speck, 0, 1)
    relief.tone -= cover * (relief.tone - DARK)
    relief.z += 0.4 * cover


_STAMPS: dict[str, Callable[[Relief, Points, Sequence[float]], None]] = {
    "dot": _dot, "ring": _ring, "rim": _rim, "oval": _oval, "line": _line, "dash": _nothing, "arrow": _nothing, "curve": _curve,
    "patch": _soft_patch, "flat": _patch, "bare": _bare, "gap": _bare, "solid": _solid, "band": _band, "hatch": _hatch, "drape": _drape,
    "cracks": _cracks, "crinkles": _crinkles, "pebbles": _pebbles, "grains": _grains, "bubbles": _bubbles, "bursts": _bursts, "fan": _fan, "bow": _bow,
}


def lit(drawing: Any) -> Any:
    """The picture of one fault: rows of grey values, 0 to 255."""
    return Relief(drawing).lit()
