"""HTML, as Python-Markdown writes it, as a small tree. No more of HTML than a page of ours holds."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())


@dataclass
class Element:
    """A tag, its attributes, and what it holds: elements and texts."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    inside: list[Element | str] = field(default_factory=list)

    @property
    def classes(self) -> list[str]:
        """Its classes."""
        return self.attributes.get("class", "").split()

    def elements(self, *tags: str) -> list[Element]:
        """Its own elements, or those of certain tags."""
        return [one for one in self.inside if isinstance(one, Element) and (not tags or one.tag in tags)]

    def walk(self) -> Iterator[Element]:
        """Itself and all elements under it, in order."""
        yield self
        for one in self.elements():
            yield from one.walk()

    def text(self) -> str:
        """All text under it."""
        return "".join(one if isinstance(one, str) else one.text() for one in self.inside)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open = [Element("root")]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        one = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].inside.append(one)
        if tag not in VOID:
            self.open.append(one)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.open[-1].inside.append(Element(tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        for place in range(len(self.open) - 1, 0, -1):
            if self.open[place].tag == tag:
                del self.open[place:]
                return

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(data)


def read(text: str) -> Element:
    """The tree of a page; its root has the tag `root`."""
    reader = _Reader()
    reader.feed(text)
    reader.close()
    return reader.open[0]
