"""What the template sets, from facts: the whole handbook, a chapter of it or chosen pages, as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from generators import tables
from generators.pages.look import mark_data
from generators.paper.chapter import WORDS, mended
from generators.paper.halves import Halves, said
from generators.paper.order import BookError, ordered
from generators.paper.press import Kept
from generators.paper.sizes import PAPERS
from generators.table import Table

_FIRST = "The safety data sheet, the law where you work, and a competent or licensed person come before anything printed here."


def book_data(facts: Any, size: str = "a4", part: str = "", chosen: Sequence[str] = ()) -> dict[str, Any]:
    """All that the template sets, as plain data. Raises BookError, and PageError as `build_pages` does.

    `size` is one of PAPERS; `part` a folder of pages; `chosen` addresses of pages.
    """
    if size not in PAPERS:
        raise BookError(f"wanted a size of paper; came {size!r}; there are: " + ", ".join(PAPERS))
    paper = PAPERS[size]
    halves = Halves(facts, paper)
    parts = ordered(facts.root, halves.fill(), part, chosen)
    inside = [page for _, listed in parts for page in listed]
    known = halves.places(inside)
    try:
        nodes = halves.nodes(known)
    except ValueError as error:
        raise BookError(str(error)) from None
    set_parts: list[dict[str, Any]] = [{"title": title, "chapters": [{"id": page, "nodes": nodes[page]} for page in listed]} for title, listed in parts]
    if not part and not chosen and (rest := _rest(halves)):
        set_parts.append({"title": "More tables", "chapters": [{"id": "more-tables", "nodes": rest}]})
    mended([chapter for one in set_parts for chapter in one["chapters"]])
    handbook = facts.handbook
    words = sorted({(spelled, f"{WORDS}#{word.anchor}") for word in facts.words for spelled in (word.uk, word.us) if f"{WORDS}#{word.anchor}" in known}, key=lambda one: (one[0].lower(), one[1]))
    return {"title": handbook.title, "colour": handbook.look_colour or "#000000", **mark_data(facts),
            "date": str(handbook.date), "crew": handbook.crew, "edition": f"Edition {handbook.revision}, {handbook.date}, for {handbook.region.upper()}", "first": _FIRST,
            "language-region": "us" if handbook.words == "us" else "gb", "paper": asdict(paper), "columns": 1 if size == "pocket" else 2, "whole": not part and not chosen,
            "parts": set_parts, "words": [list(one) for one in words]}


def _rest(halves: Halves) -> list[dict[str, Any]]:
    """The number tables that no page shows (of another kit, or of a paint that wants them least): the site holds them as files, paper as a last part."""
    shown, worked = halves.shown()
    half, found = halves.first, list[dict[str, Any]]()
    for name, slug, builder in tables.shelf(half.facts):
        if worked.get((name, slug)) in shown:
            continue
        table = builder(half.book, *([slug] if slug else []))
        if isinstance(table, Table) and said(table) not in shown:
            shown.add(said(table))
            node = half.values.node(Kept("shown", table, {}), "")
            assert node
            found.append(node)
    return [{"k": "h", "level": 2, "id": "more-tables", "c": ["Tables that no page above shows"]}, *found] if found else []
