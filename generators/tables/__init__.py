"""One builder per table or picture, a file per chapter. BUILDERS is all that a page can ask for by name."""

from __future__ import annotations

from generators.tables import air, coating, film, gun, job, law, mix, room, safety, survey, verdicts
from generators.tables.book import Book, Builder

CHAPTERS = (mix, coating, gun, film, air, room, safety, survey, job, law, verdicts)
BUILDERS: dict[str, Builder] = {name: builder for chapter in CHAPTERS for name, builder in chapter.BUILDERS.items()}

__all__ = ["BUILDERS", "Book", "Builder"]
