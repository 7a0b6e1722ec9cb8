"""Doubts on the page: each page that uses an unlikely value that nobody signed off says so, under its head.

A tin's or a kit's doubt stands on its own page and on each page that names it; one about the kit that the tables stand on, and one
about what the whole handbook uses (limits, law, cups, solvents), on every page. A value that was signed off says by whom on its own page.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators.pages.words import text

_NAMED = ("coatings", "kits", "recipes", "own_cups")


def _head(page: str, lines: list[str]) -> str:
    """The page with a paragraph under its first heading, or under its front matter where it has none."""
    rows = page.split("\n")
    start = 0
    if rows and rows[0] == "---":
        start = rows.index("---", 1) + 1
    at = next((place + 1 for place in range(start, len(rows)) if rows[place].startswith("# ")), start)
    at = next((place for place in range(at, len(rows)) if 'class="alm-kind"' in rows[place]), at)  # a tin's hard stop stays the first thing said
    return "\n".join([*rows[:at], "", *(line for one in lines for line in (one, "")), *rows[at:]])


def _about(facts: Any, doubt: Any) -> str:
    held = getattr(facts, doubt.fact, None) if doubt.fact in ("coatings", "kits") else None
    return f"{held[doubt.entry].name}:" if held and doubt.entry in held else f"{doubt.path.removeprefix('site_data/')}, line {doubt.line}:"


def with_doubts(pages: Mapping[str, str], facts: Any) -> dict[str, str]:
    """Every page, with the doubts that concern it."""
    if not facts.doubts:
        return dict(pages)
    found = {}
    for address, page in pages.items():
        lines = []
        for doubt in facts.doubts:
            own = address == f"{doubt.fact}/{doubt.entry}.md"
            named = doubt.fact in ("coatings", "kits") and text(getattr(facts, doubt.fact)[doubt.entry].name) in page
            everywhere = doubt.fact not in _NAMED or (doubt.fact, doubt.entry) == ("kits", facts.handbook.default_kit) or doubt.fact == "own_cups"
            if own or (not doubt.signed and (named or everywhere or (doubt.fact == "recipes" and facts.recipes[doubt.entry].coating in address))):
                lines.append(f"**{'Unusual' if doubt.signed else 'Doubtful'}.** {text(_about(facts, doubt))} {text(doubt.said)}.")
        found[address] = _head(page, lines) if lines else page
    return found
