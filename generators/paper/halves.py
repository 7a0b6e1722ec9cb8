"""The pages of a book filled in two processes at once: what one core takes half a minute for, two take half as long for. The same nodes either way."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

import markdown

from generators import beside, formulas, tables
from generators.pages import PageError, build_pages
from generators.paper.chapter import WORDS, Chapter, anchors
from generators.paper.press import Press
from generators.paper.sizes import Paper
from generators.paper.tree import read
from generators.paper.values import Node, Values
from generators.table import Table

_FRONT = re.compile(r"\A---\r?\n.*?\r?\n---\r?\n", re.DOTALL)
_OTHERS = ("coatings/", "train/", "job/", "safety/", "kits/")  # about half of the work
Said = tuple[Any, ...]


def said(table: Table) -> Said:
    """What a table prints, to know it again."""
    return (table.title, table.columns.heads, tuple((head, *(cell.text for cell in cells)) for head, cells in table.grid()))


class Half:
    """Some of the pages, from facts to nodes. `fill`, `places`, `nodes` in this order."""

    def __init__(self, facts: Any, paper: Paper) -> None:
        self.facts, self.paper = facts, paper
        self.press = Press()
        self.books = tables.books(facts, formulas.catalogue(facts))
        self.book = self.books[facts.handbook.system]

    def fill(self, other: bool | None) -> dict[str, str]:
        """Markdown of the other half's pages, of those that are not, or of all. PageError as `build_pages`."""
        # Trade words are linked only where the page of words is among the pages: both halves fill it, one keeps it.
        self.pages = build_pages(self.facts, self.press, self.books, None if other is None else lambda page: page == WORDS or page.startswith(_OTHERS) == other)
        if other:
            self.pages.pop(WORDS, None)
        return self.pages

    def places(self, inside: Iterable[str]) -> set[str]:
        """Where a link can lead to in this half's pages of a book."""
        reader = markdown.Markdown(extensions=["attr_list", "md_in_html", "tables", "toc"], extension_configs={"toc": {"permalink": False}})
        self.trees = {page: read(reader.reset().convert(_FRONT.sub("", self.pages[page]))) for page in inside if page in self.pages}
        return set(self.trees).union(*(anchors(tree, page) for page, tree in self.trees.items()))

    def nodes(self, known: Iterable[str]) -> dict[str, list[Node]]:
        """Its pages as nodes, with links to all that is known."""
        self.values = Values(self.facts, self.paper, frozenset(known))
        return {page: Chapter(page, self.press, self.values).nodes(tree) for page, tree in self.trees.items()}

    def shown(self) -> tuple[set[Said], dict[tuple[str, str], Said]]:
        """(what its pages show, what it worked of the handbook's tables, by name and slug)."""
        worked = {}
        for name, slug, builder in tables.shelf(self.facts):
            kept = self.book.kept.get(builder.on_shelf(slug))
            if kept is not None and isinstance(kept.value, Table):
                worked[name, slug] = said(kept.value)
        return {said(kept.value) for kept in self.press.kept if isinstance(kept.value, Table)}, worked


def _answer(line: Any, facts: Any, paper: Paper) -> None:
    """The other process: each step's answer, or the words of what went wrong and None."""
    half = Half(facts, paper)
    try:
        line.send(half.fill(other=True))
        line.send(half.places(line.recv()))
        line.send(half.nodes(line.recv()))
        line.send(half.shown())
    except EOFError:
        pass  # the first process found that there is no book
    except PageError as error:
        line.send(error)
    except ValueError as error:
        line.send(ValueError(str(error)))
    except Exception as error:  # a mistake of ours: nobody else would tell it
        line.send(ValueError(f"{type(error).__name__}: {error}"))


class Halves:
    """Both halves, asked as one. Where this process cannot be parted in two, it does it all."""

    def __init__(self, facts: Any, paper: Paper) -> None:
        self.first = Half(facts, paper)
        self.line = beside.part(lambda line: _answer(line, facts, paper))

    def _heard(self) -> Any:
        assert self.line is not None
        found = self.line.recv()
        if isinstance(found, Exception):
            raise found
        return found

    def fill(self) -> Mapping[str, str]:
        """All pages. PageError with every problem of both."""
        if self.line is None:
            return self.first.fill(other=None)
        problems, traces, pages = list[str](), list[str](), dict[str, str]()
        for ask in (lambda: self.first.fill(other=False), self._heard):
            try:
                pages |= ask()
            except PageError as error:
                problems += error.problems
                traces += error.traces
        if problems:
            raise PageError(problems, traces)
        return pages

    def places(self, inside: list[str]) -> set[str]:
        """Where a link can lead to."""
        if self.line:
            self.line.send(inside)
        return self.first.places(inside) | (self._heard() if self.line else set())

    def nodes(self, known: set[str]) -> dict[str, list[Node]]:
        """Each page's nodes. ValueError for a page that paper cannot set."""
        if self.line:
            self.line.send(known)
        return self.first.nodes(known) | (self._heard() if self.line else {})

    def shown(self) -> tuple[set[Said], dict[tuple[str, str], Said]]:
        """What all pages show, and what the other process worked besides."""
        here, _ = self.first.shown()
        there, worked = self._heard() if self.line else (set(), {})
        return here | there, worked
