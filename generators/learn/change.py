"""A fit written into a file of facts: one line changed, every comment and every other byte left as it was."""

from __future__ import annotations

import re
from pathlib import Path

from generators.learn.fit import Fit

OF_A_POT = ("steepness",)


def said(one: Fit, date: str) -> str:
    """A figure as a file of facts holds it: likely ± half the band (of the next pot alone, where it has one and stands for a pot), that it was measured, when and how often."""
    low, high = (one.next_low, one.next_high) if one.name in OF_A_POT else (one.low, one.high)
    half = max(high - one.likely, one.likely - low)
    unit = "" if one.unit == "1" else f" {one.unit}"
    return f'{{value: "{one.likely:.3g} ± {half:.2g}{unit}", basis: measured, date: "{date}, {one.count} measured"}}'


def changed(text: str, key: str, value: str) -> str:
    """The text of a file with the top-level `key` set to `value`: its line replaced and its comment kept, or added at the end."""
    line = re.compile(rf"^{re.escape(key)}:(?P<space>[ \t]*)(?P<old>(?:\{{[^\n]*?\}}|\"[^\"\n]*\"|[^\n#]*?))(?P<comment>[ \t]+#[^\n]*)?$", re.MULTILINE)
    found = line.search(text)
    if found:
        return text[: found.start()] + f"{key}: {value}{found['comment'] or ''}" + text[found.end() :]
    return text.rstrip("\n") + f"\n{key}: {value}\n"


def write(path: Path, fits: dict[str, Fit], date: str) -> str:
    """The new text of one file, not yet written: the caller checks that it can be read before it takes the old one's place."""
    text = path.read_text(encoding="utf-8")
    for key, one in fits.items():
        text = changed(text, key, said(one, date))
    return text
