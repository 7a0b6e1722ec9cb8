"""One builder per table or picture, a file per chapter. A page can ask for all in BUILDERS by name, and for the charts that compute, EDGES."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from typing import Any

from generators import noted, progress
from generators.tables import air, coating, edge, film, gun, job, law, mix, room, safety, sheet, survey, train, verdicts
from generators.tables.book import Book, Builder, books

CHAPTERS = (mix, coating, gun, film, air, room, safety, sheet, survey, job, law, train, verdicts)
BUILDERS: dict[str, Builder] = {name: builder for chapter in CHAPTERS for name, builder in chapter.BUILDERS.items()}
EDGES: dict[str, Builder] = edge.BUILDERS


def shelf(facts: Any) -> Iterator[tuple[str, str, Builder]]:
    """Each table that a handbook holds: its builder's name, for which kit or coating ("" for the whole handbook), and the builder."""
    for name, builder in BUILDERS.items():
        for slug in {"handbook": [""], "kit": facts.kits, "coating": facts.coatings}[builder.per]:
            yield name, slug, builder


def shelved(book: Book) -> dict[tuple[str, str], noted.Kept]:
    """Every table of the shelf in this book's system with what it rests on, by builder and kit or coating; without those whose builder cannot work these facts."""
    made, wanted = {}, list(shelf(book.facts))
    for name, slug, builder in progress.through("tables", wanted, len(wanted)):
        with suppress(Exception):  # told where it is asked for
            builder(book, *([slug] if slug else []))
            made[name, slug] = book.kept[builder.on_shelf(slug)]
    return made


def put(book: Book, made: Mapping[tuple[str, str], noted.Kept]) -> None:
    """Into a book what `shelved` gave for the same facts elsewhere."""
    for (name, slug), shown in made.items():
        book.kept[BUILDERS[name].on_shelf(slug)] = shown


__all__ = ["BUILDERS", "EDGES", "Book", "Builder", "books", "put", "shelf", "shelved"]
