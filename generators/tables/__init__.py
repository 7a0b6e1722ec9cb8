"""One builder per table or picture, a file per chapter. A page can ask for all in BUILDERS by name, and for the charts that compute, EDGES."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

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


__all__ = ["BUILDERS", "EDGES", "Book", "Builder", "books", "shelf"]
