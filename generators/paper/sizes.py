"""Sheets, and how wide words stand on them: a table's type, widths and cuts are settled here, so that the typesetter need not try."""

from __future__ import annotations

import math
import struct
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from generators import render

FONTS = Path(render.__file__).parent / "fonts"
_SPARE = 1.04  # marks come from another font, and a line may not be full to the last hair


@dataclass(frozen=True)
class Paper:
    """A sheet in mm, its margins, its type in pt, and the least type that a table may take."""

    width: float
    height: float
    inside: float
    outside: float
    top: float
    bottom: float
    base: float
    least: float

    @property
    def across(self) -> float:
        """Width of the text, pt."""
        return (self.width - self.inside - self.outside) * 72 / 25.4

    @property
    def down(self) -> float:
        """Height of the text, pt."""
        return (self.height - self.top - self.bottom) * 72 / 25.4


PAPERS = {
    "a4": Paper(210, 297, 20, 13, 19, 17, 10.5, 7.6),
    "letter": Paper(215.9, 279.4, 20, 13, 19, 17, 10.5, 7.6),
    "pocket": Paper(105, 148, 11, 7, 13.5, 11.5, 8.5, 7.4),
}


@cache
def _advances(weight: int) -> tuple[dict[int, int], int]:
    """({code point: advance}, units in an em) of one of our two fonts, from its cmap (format 4) and hmtx tables."""
    data = (FONTS / f"atkinson-hyperlegible-{weight}.ttf").read_bytes()
    count = struct.unpack(">H", data[4:6])[0]
    at = {data[i:i + 4].decode(): struct.unpack(">I", data[i + 8:i + 12])[0] for i in range(12, 12 + 16 * count, 16)}
    em = struct.unpack(">H", data[at["head"] + 18:at["head"] + 20])[0]
    full = struct.unpack(">H", data[at["hhea"] + 34:at["hhea"] + 36])[0]
    wide = [struct.unpack(">H", data[at["hmtx"] + 4 * i:at["hmtx"] + 4 * i + 2])[0] for i in range(full)]
    found: dict[int, int] = {}
    for index in range(struct.unpack(">H", data[at["cmap"] + 2:at["cmap"] + 4])[0]):
        start = at["cmap"] + struct.unpack(">I", data[at["cmap"] + 8 + 8 * index:at["cmap"] + 12 + 8 * index])[0]
        if struct.unpack(">H", data[start:start + 2])[0] != 4:
            continue
        parts = struct.unpack(">H", data[start + 6:start + 8])[0] // 2
        row = [struct.unpack(f">{parts}H", data[start + 14 + gap:start + 14 + gap + 2 * parts]) for gap in (0, 2 * parts + 2, 4 * parts + 2, 6 * parts + 2)]
        for part, (last, first, delta, offset) in enumerate(zip(*row, strict=True)):
            for code in range(first, min(last, 0xFFFE) + 1):
                glyph = code + delta
                if offset:
                    place = start + 14 + 6 * parts + 2 + 2 * part + offset + 2 * (code - first)
                    glyph = struct.unpack(">H", data[place:place + 2])[0]
                    glyph += delta if glyph else 0
                glyph &= 0xFFFF
                if glyph:
                    found[code] = wide[min(glyph, full - 1)]
    return found, em


@cache
def width(text: str, bold: bool = True) -> float:
    """Width of one line of text in em; a letter that our fonts lack counts as wide as the mono font that takes its place."""
    advances, em = _advances(700 if bold else 400)
    return sum(advances.get(ord(one), 0.602 * em) for one in text) / em * _SPARE


def longest_word(text: str, bold: bool = True) -> float:
    """Width of the widest piece that is never broken, in em. A no-break space keeps its two sides together."""
    return max((width(one, bold) for one in text.replace("-", "- ").replace("/", "/ ").split(" ") if one), default=0.0)


@dataclass(frozen=True)
class Cut:
    """How a grid is set: its type in pt, the widths of the first column and of each other in pt, and which columns stand in each piece."""

    size: float
    first: float
    column: float
    pieces: tuple[tuple[int, ...], ...]
    whole: bool


def grid_cut(paper: Paper, heads: Sequence[str], corner: str, rows: Sequence[tuple[str, Sequence[str]]], inset: float = 6.0) -> Cut:
    """Set a grid whose cells stay on one line. Where the least type is too wide still, its columns go into several pieces."""
    cells = [max([longest_word(head), *(width(row[1][column]) for row in rows)]) for column, head in enumerate(heads)]
    whole_heads = max([width(row[0]) for row in rows] + [longest_word(corner)])
    least_first = max([longest_word(row[0]) for row in rows] + [longest_word(corner)])

    def share(first: float, count: int, size: float) -> float:
        """An equal share of what is left, but not so wide that the eye loses its row."""
        return min((paper.across - first) / count, max(cells) * size * 2 + 4 * inset)

    for size in (paper.base, paper.base * 0.93, paper.base * 0.86, max(paper.least, paper.base * 0.79), paper.least):
        first = min(whole_heads * size, max(least_first * size, paper.across * 0.3)) + inset + 1
        if first + max(cells) * size * len(cells) + inset * len(cells) <= paper.across:
            return Cut(size, first, share(first, len(cells), size), (tuple(range(len(cells))),), _whole(paper, len(rows), size))
    size = max(paper.least, paper.base * 0.86)
    first = min(whole_heads * size, max(least_first * size, paper.across * 0.3)) + inset + 1
    most = max(1, math.floor((paper.across - first) / (max(cells) * size + inset)))
    count = math.ceil(len(cells) / most)
    each = math.ceil(len(cells) / count)
    pieces = tuple(tuple(range(start, min(start + each, len(cells)))) for start in range(0, len(cells), each))
    return Cut(size, first, share(first, each, size), pieces, _whole(paper, len(rows) * count, size))


def _whole(paper: Paper, rows: int, size: float) -> bool:
    """Whether a table of that many lines is kept on one sheet."""
    return (rows + 3) * (1.25 * size + 6.4) + 4 * paper.base < paper.down * 0.6


@dataclass(frozen=True)
class Words:
    """How a table of words is set: as blocks, one for each row, or with columns as wide as these (pt) in that type."""

    blocks: bool
    size: float
    widths: tuple[float, ...]
    whole: bool


def words_cut(paper: Paper, heads: Sequence[str], rows: Sequence[Sequence[str]], inset: float = 6.0) -> Words:
    """Columns that share the width by what stands in them; blocks where a word would be cut or the columns turn into strings."""
    count = len(heads)
    columns = [[heads[column], *(row[column] for row in rows)] for column in range(count)]
    for size in (paper.base * 0.9, max(paper.least, paper.base * 0.8)):
        least = [max(longest_word(one) for one in column) * size + inset + 1 for column in columns]
        most = [max(max(width(one, place == 0) for one in column) * size + inset + 1, least[place]) for place, column in enumerate(columns)]
        spare = paper.across - sum(least)
        if spare < 0:
            continue
        if sum(most) <= paper.across:
            widths = [one + (paper.across - sum(most)) / count for one in most]
        else:
            pull = [math.sqrt(big - small) for small, big in zip(least, most, strict=True)]
            widths = [small + spare * one / sum(pull) for small, one in zip(least, pull, strict=True)]
        lines = [max(math.ceil(width(one, place == 0) * size * 1.08 / max(widths[place] - inset, 1)) for place, one in enumerate(row)) for row in rows]
        if max(lines, default=1) <= 9 and sum(lines) <= 4.5 * max(len(rows), 1):
            return Words(False, size, tuple(widths), _whole(paper, sum(lines), size))
    return Words(True, paper.base, (), False)
