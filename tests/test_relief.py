"""Faults by eye: twenty of them told apart from their finished pictures alone, by what their drawings declare."""

from __future__ import annotations

import struct
import zlib
from itertools import pairwise

import numpy as np
import pytest

from generators.facts.sketch import panels
from generators.render import png
from generators.studies import relief

# Twenty that a sprayer mixes up, each with what its declared numbers say one should see. Common practice, no source.
TWENTY = ("runs", "orange-peel", "dry-spray", "fisheyes", "craters", "pinholes", "solvent-pop", "foam", "blush", "slow-dry", "stripes", "fingers", "heavy-centre",
          "split-fan", "one-end-heavy", "pulsing", "dripping", "wrinkling", "mud-cracking", "nibs")
ACROSS, DOWN = 20, 9  # the coarse net on which a picture and a declaration are compared


def grey(data: bytes):
    """The pixels of a grey PNG, read by its published format and not by our own writer."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    at, packed, size = 8, b"", (0, 0)
    while at < len(data):
        length, = struct.unpack(">I", data[at:at + 4])
        name, body = data[at + 4:at + 8], data[at + 8:at + 8 + length]
        assert struct.unpack(">I", data[at + 8 + length:at + 12 + length])[0] == zlib.crc32(name + body)
        size = struct.unpack(">II", body[:8]) if name == b"IHDR" else size
        packed += body if name == b"IDAT" else b""
        at += 12 + length
    wide, high = size
    lines = np.frombuffer(zlib.decompress(packed), np.uint8).reshape(high, wide + 1)
    assert (lines[:, 0] == 1).all()
    return np.cumsum(lines[:, 1:].astype(np.int64), axis=1) % 256


def net(values):
    """Means over a coarse net, stretched to one shape for all pictures."""
    rows = np.array_split(values, DOWN, axis=0)
    return np.array([[block.mean() for block in np.array_split(row, ACROSS, axis=1)] for row in rows])


def measured(picture):
    """What an eye takes from a picture: where it is restless, where it is dark, how fine its marks are, which way they lie."""
    z = picture / 255
    down, along = np.abs(np.diff(z, axis=0)), np.abs(np.diff(z, axis=1))
    edge = net(down[:, :-1] + along[:-1])
    usual = np.median(z)
    return {"restless": edge / (edge.max() + 1e-9), "dark": net(np.clip(usual - z, 0, None) + np.clip(z - usual, 0, None)), "much": float((down[:, :-1] + along[:-1]).mean()),
            "way": float(np.log((down.mean() + 1e-4) / (along.mean() + 1e-4))), "card": float(np.quantile(z, 0.9) > 0.9)}


def declared(drawing):
    """The same, from the drawing's numbers alone: boxes, places, radii, counts and the film's heights, without light and without our field of heights."""
    panel = panels(drawing.way)[0]
    y, x = np.mgrid[0:round(panel.height * 2), 0:round(panel.width * 2)] / 2
    busy, film = np.zeros(x.shape), np.array(drawing.cut.film)
    for mark in drawing.front.marks:
        places, after = mark.split()
        kind = mark.kind
        if kind in ("arrow", "dash"):
            continue
        (x0, y0), (x1, y1) = (places[0], places[-1]) if len(places) > 1 else (places[0], places[0])
        box = (x >= min(x0, x1)) & (x <= max(x0, x1)) & (y >= min(y0, y1)) & (y <= max(y0, y1))
        if kind in ("dot", "ring", "rim", "oval"):
            radius = max(after)
            away = np.hypot((x - x0) / after[0], (y - y0) / after[-1])
            busy += (away <= 1.05) & (away >= (0.5 if kind != "dot" else 0)) if radius else 0
        elif kind == "fan":
            share = np.interp(x, film[:, 0] + np.arange(len(film)) * 1e-6, film[:, 1]) / film[:, 1].max()
            busy += box * np.clip(share * 1.5, 0, 1) * (abs(y - (y0 + y1) / 2) <= abs(y1 - y0) / 2 * (0.3 + 0.7 * np.sqrt(share)))
        elif kind == "drape":
            middle, fat = (x0 + x1) / 2, max(y0, y1) - abs(x1 - x0) * 0.55
            busy += (box & (abs(x - middle) < 0.25 * abs(x1 - x0))) | (np.hypot((x - middle) / abs(x1 - x0), (y - fat) / abs(x1 - x0)) < 0.5)
        elif len(places) > 2 or kind in ("line", "curve"):
            for (ax, ay), (bx, by) in pairwise(places):
                at = np.clip(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2 + 1e-9), 0, 1)
                busy += np.hypot(x - ax - at * (bx - ax), y - ay - at * (by - ay)) < 0.8
        elif after and len(after) > 1:  # so many of a size in a box
            busy += box * min(1.0, after[0] * np.pi * after[1] ** 2 / max(box.sum() / 4, 1) * 3)
        else:
            busy += box * 1.0
    return net(np.clip(busy, 0, 1))


def alike(a, b) -> float:
    """How alike two nets are, whatever their scale."""
    a, b = a - a.mean(), b - b.mean()
    size = np.sqrt((a**2).sum() * (b**2).sum())
    return float((a * b).sum() / size) if size > 1e-9 else 0.0


# What no net tells: an even skin of something. Its grain, by the declared kind of mark.
EVEN = ("pebbles", "grains", "bubbles", "bursts", "crinkles", "cracks")


@pytest.fixture(scope="module")
def pictures(facts):
    return {key: grey(png(relief.lit(facts.fault_drawings[facts.faults[key].drawing]))) for key in TWENTY}


def test_a_picture_lies_where_its_drawing_says(facts, pictures):
    """Each picture whose marks have places is most like its own declaration, among all twenty."""
    told = {key: declared(facts.fault_drawings[facts.faults[key].drawing]) for key in TWENTY}
    upright = {key: facts.fault_drawings[facts.faults[key].drawing].way for key in TWENTY}
    wrong, asked = {}, 0
    for key, picture in pictures.items():
        drawing = facts.fault_drawings[facts.faults[key].drawing]
        if all(mark.kind in EVEN for mark in drawing.front.marks) and told[key].std() < 0.15:
            continue
        asked += 1
        seen = measured(picture)
        likeness = {other: max(alike(seen["restless"], told[other]), alike(seen["dark"], told[other])) for other in TWENTY if upright[other] == upright[key]}
        best = max(likeness, key=lambda other: likeness[other])
        if best != key:
            wrong[key] = sorted(likeness.items(), key=lambda one: -one[1])[:3]
    print(f"{asked - len(wrong)} of {asked} with places are told by them")
    assert asked >= 12 and not wrong, wrong


def test_even_skins_are_told_by_their_grain(facts, pictures):
    """Pebbles, grains, holes, bubbles, folds and cracks: each differs from each in how much it is restless, which way, and how dark its darkest is."""
    even = [key for key in TWENTY if all(mark.kind in EVEN for mark in facts.fault_drawings[facts.faults[key].drawing].front.marks)]
    seen = {key: np.array([measured(pictures[key])["much"] * 12, measured(pictures[key])["way"] * 2, np.quantile(pictures[key], 0.02) / 255, np.quantile(pictures[key], 0.98) / 255,
                           float((pictures[key] < 100).mean()) * 4]) for key in even}
    near = {(a, b): float(np.abs(seen[a] - seen[b]).sum()) for a in even for b in even if a < b}
    print(min(near.items(), key=lambda one: one[1]))
    assert len(even) >= 6 and min(near.values()) > 0.12, sorted(near.items(), key=lambda one: one[1])[:3]


def test_no_two_faults_share_a_picture(facts):
    """All of them, not the twenty: the finished files differ in more than a tenth of their pixels, or in shape."""
    drawn = {key: grey(png(relief.lit(facts.fault_drawings[fault.drawing]))) for key, fault in facts.faults.items() if fault.drawing}
    keys = sorted(drawn)
    for index, a in enumerate(keys):
        for b in keys[index + 1:]:
            if drawn[a].shape == drawn[b].shape:
                assert (abs(drawn[a] - drawn[b]) > 6).mean() > 0.02, (a, b)


def test_light_comes_from_the_side(facts):
    """A bump is bright towards the lamp and dark away from it; a hole the other way round. From memory: Lambert's law."""
    runs = relief.Relief(facts.fault_drawings["runs"])
    shown = runs.lit().astype(float)
    row, column = np.unravel_index(np.argmax(runs.z), runs.z.shape)
    reach = round(0.8 * relief.FINE)
    assert shown[row - reach, column - reach] > shown[row + reach, column + reach] + 20
    holes = relief.Relief(facts.fault_drawings["fisheyes"])
    x, y = 52 * relief.FINE, 17 * relief.FINE
    out = round(9 * 0.64 * relief.FINE * 0.75)
    assert holes.lit()[y - out, x - out] < holes.lit()[y + out, x + out]
