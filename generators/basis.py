"""Where a value comes from. Every value carries one of these all the way to the page."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Basis(StrEnum):
    """How far a value can be trusted, in the words the page prints."""

    PUBLISHED = "published"
    SECOND_HAND = "second-hand"
    MEMORY = "from memory"
    COMMON = "common practice"
    MEASURED = "measured"
    INVENTED = "invented"


MEANING = {
    Basis.PUBLISHED: "read in the source named",
    Basis.SECOND_HAND: "read in a text that quotes the source, not in the source itself",
    Basis.MEMORY: "a published value that nobody here has re-read",
    Basis.COMMON: "trade knowledge, no source",
    Basis.MEASURED: "measured by this crew on the date given",
    Basis.INVENTED: "made up for the demonstration: never use it on a job",
}


# Bases of something that stands written somewhere: such a value names where.
CITED = (Basis.PUBLISHED, Basis.SECOND_HAND, Basis.MEMORY)


@dataclass(frozen=True)
class Origin:
    """Basis of a value, with the key of its source in site_data/sources.yaml and its date, where it has them."""

    basis: Basis
    source: str = ""
    date: str = ""

    def __str__(self) -> str:
        return ", ".join(part for part in (str(self.basis), self.source, self.date) if part)
