"""What the template sets, from facts: the whole handbook, a chapter of it or chosen pages, as plain data."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

import markdown

from generators import formulas, tables
from generators.pages import build_pages
from generators.paper.chapter import WORDS, Chapter, anchors, mended
from generators.paper.order import BookError, ordered
from generators.paper.press import Kept, Press
from generators.paper.sizes import PAPERS
from generators.paper.tree import read
from generators.paper.values import Values
from generators.table import Table

_FRONT = re.compile(r"\A---\r?\n.*?\r?\n---\r?\n", re.DOTALL)
_FIRST = "The safety data sheet, the law where you work, and a competent or licensed person come before anything printed here."


def book_data(facts: Any, size: str = "a4", part: str = "", chosen: Sequence[str] = ()) -> dict[str, Any]:
    """All that the template sets, as plain data. Raises BookError, and PageError as `build_pages` does.

    `size` is one of PAPERS; `part` a folder of pages; `chosen` addresses of pages.
    """
    if size not in PAPERS:
        raise BookError(f"wanted a size of paper; came {size!r}; there are: " + ", ".join(PAPERS))
    press, paper = Press(), PAPERS[size]
    books = tables.books(facts, formulas.catalogue(facts))
    pages = build_pages(facts, press, books)
    parts = ordered(facts.root, pages, part, chosen)
    reader = markdown.Markdown(extensions=["attr_list", "md_in_html", "tables", "toc"], extension_configs={"toc": {"permalink": False}})
    inside = [page for _, listed in parts for page in listed]
    trees = {page: read(reader.reset().convert(_FRONT.sub("", pages[page]))) for page in inside}
    known = frozenset(inside).union(*(anchors(tree, page) for page, tree in trees.items()))
    values = Values(facts, paper, known)
    try:
        set_parts: list[dict[str, Any]] = [{"title": title, "chapters": [{"id": page, "nodes": Chapter(page, press, values).nodes(trees[page])} for page in listed]} for title, listed in parts]
    except ValueError as error:
        raise BookError(str(error)) from None
    if not part and not chosen and (rest := _rest(facts, press, values, books[facts.handbook.system])):
        set_parts.append({"title": "More tables", "chapters": [{"id": "more-tables", "nodes": rest}]})
    mended([chapter for one in set_parts for chapter in one["chapters"]])
    handbook = facts.handbook
    words = sorted({(spelled, f"{WORDS}#{word.anchor}") for word in facts.words for spelled in (word.uk, word.us) if f"{WORDS}#{word.anchor}" in known}, key=lambda one: (one[0].lower(), one[1]))
    return {"title": handbook.title, "colour": handbook.look_colour or "#000000",
            "date": str(handbook.date), "crew": handbook.crew, "edition": f"Edition {handbook.revision}, {handbook.date}, for {handbook.region.upper()}", "first": _FIRST,
            "language-region": "us" if handbook.words == "us" else "gb", "paper": asdict(paper), "columns": 1 if size == "pocket" else 2, "whole": not part and not chosen,
            "parts": set_parts, "words": [list(one) for one in words]}


def _rest(facts: Any, press: Press, values: Values, book: tables.Book) -> list[dict[str, Any]]:
    """The number tables that no page shows (of another kit, or of a paint that wants them least): the site holds them as files, paper as a last part."""
    def said(table: Table) -> tuple[Any, ...]:
        return (table.title, table.columns.heads, tuple((head, *cells) for head, cells in table.grid()))

    shown = {said(kept.value) for kept in press.kept if isinstance(kept.value, Table)}
    found: list[dict[str, Any]] = []
    for builder in tables.BUILDERS.values():
        for slug in {"handbook": [""], "kit": facts.kits, "coating": facts.coatings}[builder.per]:
            table = builder(book, *([slug] if slug else []))
            if isinstance(table, Table) and said(table) not in shown:
                shown.add(said(table))
                node = values.node(Kept("shown", table, {}), "")
                assert node
                found.append(node)
    return [{"k": "h", "level": 2, "id": "more-tables", "c": ["Tables that no page above shows"]}, *found] if found else []
