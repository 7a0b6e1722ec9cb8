"""One builder per table or picture, a file per chapter. A page can ask for all in BUILDERS by name, and for the charts that compute, EDGES."""

from __future__ import annotations

from generators.tables import air, coating, edge, film, gun, job, law, mix, room, safety, sheet, survey, train, verdicts
from generators.tables.book import Book, Builder, books

CHAPTERS = (mix, coating, gun, film, air, room, safety, sheet, survey, job, law, train, verdicts)
BUILDERS: dict[str, Builder] = {name: builder for chapter in CHAPTERS for name, builder in chapter.BUILDERS.items()}
EDGES: dict[str, Builder] = edge.BUILDERS

__all__ = ["BUILDERS", "EDGES", "Book", "Builder", "books"]
