"""The declared verdicts as tables: each test, what it means, why, and what would change it."""

from __future__ import annotations

from generators.chain.answers import figure
from generators.chain.known import FACTS, LIMITS
from generators.table import MARKS, TextTable
from generators.tables.book import Book, Builder
from generators.verdict import Test
from generators.verdicts import DECLARED

_SIGNS = {"<": "under", ">": "over", "is": "is", "not": "is not", "known": "is not known"}


def words_of(book: Book, name: str) -> str:
    """A quantity as a page calls it: a limit with its figure, a fact by its words, a reading by its name."""
    if name.startswith("limits."):
        key = name.removeprefix("limits.")
        limit = book.facts.limits.get(key)
        unit = LIMITS[key]
        return figure(limit.to("×" if unit == "1" else unit), unit, book.system) if limit is not None else "a limit that this handbook leaves out"
    if name in FACTS:
        return f"the {FACTS[name][1]}" + (" of the sheet" if name.startswith("coating.") else " of the kit" if name.startswith("kit.") else " here" if name.startswith("region.") else "")
    return name.replace("coating.", "").replace("-", " ").replace("_", " ")


def _condition(book: Book, test: Test) -> str:
    limit = words_of(book, test.limit) if test.sign in "<>" else test.limit.replace(" ", " or ")
    when = "; ".join(f"{words_of(book, name)} is {words.replace(' ', ' or ')}" for name, words in test.when)
    return f"{words_of(book, test.value)} {_SIGNS[test.sign]} {limit}".strip() + (f" (when {when})" if when else "")


def _reason(test: Test) -> str:
    """The reason without the figures of one day."""
    said = test.because
    while "{" in said:
        before, _, rest = said.partition("{")
        said = before + "…" + rest.partition("}")[2]
    return said


def verdict(book: Book, which: str = "spray") -> TextTable:
    """Every test of one verdict, weightiest first as declared."""
    one = DECLARED[which]
    rows = tuple((_condition(book, test), f"{MARKS['stop' if test.outcome == 'stop' else 'care']} {'stop' if test.outcome == 'stop' else 'take care'}",
                  "stop" if test.doubt == "stop" else "take care", _reason(test), test.remedy) for test in one.tests)
    return TextTable(f"verdict-{which}", one.title, one.asks, ("If", "Then", "In doubt", "Because", "What would change it"), rows, notes=(f"None of these: {one.go}", *one.notes))


BUILDERS = {"verdict": Builder(verdict, twins=False)}
__all__ = ["BUILDERS", "verdict"]
