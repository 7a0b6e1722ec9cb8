"""All parts of a site made in rounds, by two processes where there are two cores: each takes the next round when it has made one.

What a round needs of one paint or kit is forgotten behind it, so that a thousand paints take little more memory than twelve.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from generators import formulas, noted, progress, tables
from generators.beside import Shared
from generators.pages import PageError, build_assets, build_drawn, build_pages
from generators.pages.linking import WORDS
from generators.pages.parts import Part
from generators.pages.pieces import parts

_AT_ONCE = 8  # paints, or kits, of one round: what is read once for a round is read seldom, and no process waits long for the other
_DRAWN = -1  # the round of what is drawn


@dataclass
class Share:
    """What was made: pages and files by address, what each rests on, pieces of pages, addresses of each piece's files, and what went wrong."""

    pages: dict[str, str] = field(default_factory=dict)
    files: dict[str, bytes] = field(default_factory=dict)
    rests: dict[str, Any] = field(default_factory=dict)
    fragments: dict[str, noted.Kept] = field(default_factory=dict)
    gives: dict[str, list[str]] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)
    traces: list[str] = field(default_factory=list)

    def add(self, other: Share) -> None:
        """Takes in what was made elsewhere."""
        self.pages |= other.pages
        self.files |= other.files
        self.rests |= other.rests
        self.fragments |= other.fragments
        self.gives |= other.gives
        self.problems += other.problems
        self.traces += other.traces

    def kept(self) -> Share:
        """What has to be remembered of it once its pages and files are elsewhere."""
        return replace(self, pages={}, files={})

    def sound(self) -> Share:
        """Itself. PageError with every problem of every round, in the order of their files."""
        if self.problems:
            raise PageError(sorted(dict.fromkeys(self.problems), key=lambda line: line.split(":")[0]), list(dict.fromkeys(self.traces)))
        return self


@dataclass
class Bench:
    """Facts and what was worked from them for one round that the next can use."""

    facts: Any
    fragments: Mapping[str, noted.Kept]

    def __post_init__(self) -> None:
        self.books = tables.books(self.facts, formulas.catalogue(self.facts))
        self.pieces = dict(self.fragments)

    def make(self, some: Sequence[Part]) -> Share:
        """These parts. What goes wrong in a page or a table is told in the share."""
        share, names = Share(), {part.name for part in some}
        held = set(self.pieces)
        wants_pages = any(part.kind == "page" for part in some)

        def pages() -> None:  # trade words are linked only where the page of words is among the pages
            made = build_pages(self.facts, books=self.books, only=lambda one: one in names or one == WORDS, rests=share.rests, fragments=self.pieces) if wants_pages else {}
            share.pages = {address: page for address, page in made.items() if address in names}
            share.rests = {name: keys for name, keys in share.rests.items() if name in names}

        def files() -> None:
            made = build_assets(self.facts, self.books, {}, names.__contains__, share.rests, share.gives)
            share.files |= {address: content.encode() if isinstance(content, str) else content for address, content in made.items()}

        for work in (pages, files, lambda: share.files.update(build_drawn(self.facts, names.__contains__, share.rests))):
            try:
                work()
            except PageError as error:
                share.problems += error.problems
                share.traces += error.traces
        share.fragments = {what: one for what, one in self.pieces.items() if what not in held}
        return share

    def round(self, some: Sequence[Part]) -> Share:
        """The same; what was worked of one paint or kit alone is forgotten: nobody asks for its tables again, and its page is made anew whole."""
        share = self.make(some)
        if any(part.slug for part in some):
            for what in share.fragments:
                del self.pieces[what]
            share.fragments = {}
            for per in ("kit", "coating"):
                for book in self.books.values():
                    book.forget(per, {part.slug for part in some if part.per == per})
        return share


def _chunk(part: Part, place: Mapping[str, int]) -> tuple[int, int]:
    """Which round a part belongs to: the longest first, since whoever comes last waits for it."""
    if part.per == "coating":
        return 3, place[part.slug] // _AT_ONCE
    if part.per == "kit":
        return 2, place[part.slug] // _AT_ONCE
    aside = part.kind == "page" and part.name.startswith(("train/", "reference/", "answers"))
    return 4 if part.kind == "script" else 1 if aside else 0, 0


def dealt(all_of_it: Sequence[Part], facts: Any) -> list[list[Part]]:
    """The rounds, in the order in which they are begun; what is drawn is not among them."""
    place = {slug: number for some in (facts.coatings, facts.kits) for number, slug in enumerate(some)}
    found: dict[tuple[int, int], list[Part]] = {}
    for part in all_of_it:
        if part.kind != "drawn":
            found.setdefault(_chunk(part, place), []).append(part)
    return [found[one] for one in sorted(found)]


def _pages(some: Sequence[Part]) -> int:
    return sum(part.kind == "page" for part in some)


def one_by_one(facts: Any) -> Iterator[Share]:
    """Everything, a round at a time, as each is made: in any order. What went wrong is told in the shares."""
    all_of_it = parts(facts)
    rounds = dealt(all_of_it, facts)
    drawn = [part for part in all_of_it if part.kind == "drawn"]
    bench = Bench(facts, {})

    def do(number: int) -> Share:
        return bench.round(drawn if number == _DRAWN else rounds[number])

    # What is drawn is the second process's: the typesetter leaves threads behind, and this one may yet want to part.
    shared, left = Shared(len(rounds), do, ahead=(_DRAWN,)), {_DRAWN, *range(len(rounds))}

    def gone(told: Iterable[tuple[int, Share]]) -> Iterator[Share]:
        for number, share in told:
            left.remove(number)
            yield share

    for number in range(len(rounds)):
        if shared.mine(number):
            with progress.part_of("pages", sum(map(_pages, rounds[:number])), _pages(all_of_it)):
                yield from gone([(number, do(number))])
        yield from gone(shared.so_far())
    yield from gone(shared.rest())
    yield from gone([(number, do(number)) for number in sorted(left)])


def made_of(facts: Any, wanted: Callable[[str], bool], fragments: Mapping[str, noted.Kept]) -> Share:
    """Only the parts whose names are wanted, by this process alone, with these pieces of pages at hand. PageError with every problem."""
    return Bench(facts, fragments).make([part for part in parts(facts) if wanted(part.name)]).sound()
