"""MkDocs reads the pages one by one and renders them one by one; where all was made anew, a second process does about half of either.

Its two functions for one page are replaced for the length of a build: there is no event that could say that a page is done already.
"""

from __future__ import annotations

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from mkdocs.commands import build as theirs
from mkdocs.structure.files import Files
from mkdocs.structure.pages import Page

from generators.beside import Shared

_OF_A_PAGE = ("markdown", "meta", "content", "toc", "title", "_title_from_render", "present_anchor_ids")  # what reading a page leaves in it
_read_page, _render_page = theirs._populate_page, theirs._build_page


class _Warned(logging.Handler):
    """Counts what MkDocs complains of."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.count = 0

    def emit(self, record: logging.LogRecord) -> None:
        self.count += 1


class ByTwo:
    """One build's pages, each read and rendered once. What the other process complains of is done here again, where it is heard."""

    def __init__(self, plugin: Any, files: Files, config: Any) -> None:
        self.plugin, self.files, self.config = plugin, files, config
        self.pages: list[Any] = [file.page or Page(None, file, config) for file in files.documentation_pages()]
        self.place = {page.file.src_uri: number for number, page in enumerate(self.pages)}
        self.reading: Shared | None = Shared(len(self.pages), self._quietly(self._read))
        self.rendering: Shared | None = None
        self.others: tuple[Any, ...] = ()  # what MkDocs renders every page with
        self.still = set(range(len(self.pages)))  # not rendered yet

    def _quietly(self, do: Callable[[int], Any]) -> Callable[[int], Any]:
        """What it gives, or None where anything was complained of."""
        def done(number: int) -> Any:
            warned, logger = _Warned(), logging.getLogger("mkdocs")
            logger.addHandler(warned)
            try:
                found = do(number)
            finally:
                logger.removeHandler(warned)
            return None if warned.count else found

        return done

    def _read(self, number: int) -> dict[str, Any]:
        page = self.pages[number]
        _read_page(page, self.config, self.files)
        links = {file.src_uri: told for file, told in (page.links_to_anchors or {}).items()}
        return {"page": {name: vars(page)[name] for name in _OF_A_PAGE if name in vars(page)}, "links": links, "plugin": self.plugin.read_of(page)}

    def _take(self, number: int, told: dict[str, Any]) -> None:
        page = self.pages[number]
        vars(page).update(told["page"])
        page.links_to_anchors = {file: links for uri, links in told["links"].items() if (file := self.files.get_file_from_path(uri))}
        self.plugin.take(page, told["plugin"])

    def read(self, page: Any) -> bool:
        """Whether this page is read elsewhere."""
        if self.reading is None or self.reading.mine(self.place[page.file.src_uri]):
            return False
        self.plugin.one_more_read()
        return True

    def all_read(self) -> None:
        """Takes over what was read elsewhere, and reads what was not."""
        assert self.reading is not None
        reading, self.reading = self.reading, None
        found = dict(reading.rest())
        for number, page in enumerate(self.pages):
            if told := found.get(number):
                self._take(number, told)
            elif page.content is None:
                _read_page(page, self.config, self.files)

    def _render(self, number: int) -> dict[str, str]:
        _render_page(self.pages[number], *self.others)
        return dict(self.plugin.policy.scripts)

    def render(self, page: Any, *others: Any) -> bool:
        """Whether this page is rendered elsewhere."""
        if self.rendering is None:
            self.others = others
            self.rendering = Shared(len(self.pages), self._quietly(self._render))
        number = self.place[page.file.src_uri]
        if self.rendering.mine(number):
            self.still.discard(number)
            return False
        self.plugin.one_more_rendered()
        return True

    def all_rendered(self) -> None:
        """Renders what has not been rendered elsewhere."""
        assert self.rendering is not None
        for number, scripts in self.rendering.rest():
            if scripts is not None:
                self.plugin.policy.scripts.update(scripts)
                self.still.discard(number)
        for number in sorted(self.still):
            _render_page(self.pages[number], *self.others)


@contextmanager
def by_two(config: Any) -> Iterator[None]:
    """Inside, MkDocs asks of each page whether the plugin has it done elsewhere."""
    plugin = config.plugins["almanac"]

    def read(page: Any, *others: Any) -> None:
        if plugin.by_two is None or not plugin.by_two.read(page):
            _read_page(page, *others)

    def render(page: Any, *others: Any, **more: Any) -> None:
        if plugin.by_two is None or not plugin.by_two.render(page, *others):
            _render_page(page, *others, **more)

    vars(theirs).update(_populate_page=read, _build_page=render)
    try:
        yield
    finally:
        vars(theirs).update(_populate_page=_read_page, _build_page=_render_page)
