"""One finished page as a chapter of nodes: paragraphs, lists, tables, links to printed pages, and the values between them."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Sequence
from typing import Any

from generators.paper.press import Press
from generators.paper.sizes import words_cut
from generators.paper.tree import Element
from generators.paper.values import Node, Values

WORDS = "reference/words.md"
_INLINE = {"strong": "b", "b": "b", "em": "i", "i": "i", "code": "code", "kbd": "code", "sub": "sub", "sup": "sup"}
_BLOCK = frozenset("p div ul ol table h1 h2 h3 h4 h5 h6 section aside details figure pre blockquote hr dl fieldset li figcaption".split())
# What only a screen can use: controls, and what is marked so in a page.
_SCREEN_TAGS = frozenset("script style button input select textarea noscript template".split())
_SCREEN = frozenset(("alm-screen", "alm-live-off", "alm-clocks", "alm-seek", "alm-none-running", "alm-told", "alm-other", "alm-keys", "alm-try", "alm-verdict", "alm-score", "alm-again"))
# A number and its unit stay on one line.
_UNIT = re.compile(r"(?<=\d) (?=(?:%|°[CF]|[mµ]?m|mil|in|ft|s|min|h|[mµ]?L|qt|gal|fl oz|g|kg|lb|oz|dBA)(?![\w]))")
Inside = Sequence[Element | str]


def anchors(tree: Element, page: str) -> set[str]:
    """Every place in a page that a link can lead to: its headings under the title, and the words it defines."""
    return {f"{page}#{one.attributes['id']}" for one in tree.walk() if "id" in one.attributes and (re.fullmatch(r"h[2-4]", one.tag) or one.tag == "dfn")}


def mended(chapters: Sequence[Node]) -> None:
    """Links to a heading that had nothing to say on paper lead to the page it stood on."""
    placed = {chapter["id"] for chapter in chapters}
    seen: list[Node] = []

    def walk(one: Any) -> None:
        if isinstance(one, dict):
            seen.append(one)
            for value in one.values():
                walk(value)
        elif isinstance(one, list):
            for value in one:
                walk(value)

    walk(list(chapters))
    placed |= {one["id"] for one in seen if one.get("k") in ("h", "dfn") and one["id"]}
    for one in seen:
        for name in ("to", "see"):
            if one.get("k") != "away" and isinstance(one.get(name), str) and one[name] not in placed:
                one[name] = one[name].partition("#")[0]


def _hidden(one: Element) -> bool:
    return "hidden" in one.attributes or one.tag in _SCREEN_TAGS or any(name in _SCREEN for name in one.classes)


def _trimmed(nodes: list[Any]) -> list[Any]:
    """Without spaces at the two ends, and without what is empty."""
    if nodes and isinstance(nodes[0], str):
        nodes = [nodes[0].lstrip(), *nodes[1:]]
    if nodes and isinstance(nodes[-1], str):
        nodes = [*nodes[:-1], nodes[-1].rstrip()]
    return [one for one in nodes if one != ""]


class Chapter:
    """One page on its way to paper."""

    def __init__(self, page: str, press: Press, values: Values) -> None:
        self.page, self.press, self.values = page, press, values

    def nodes(self, tree: Element) -> list[Node]:
        """The whole page: its title first, headings no more than one step deeper than the one before, no doubled words of where to work a sum by hand."""
        found = self.blocks(tree.inside)
        first = next((place for place, node in enumerate(found) if node["k"] == "h"), None)
        if first is None:
            found.insert(0, {"k": "h", "level": 2, "id": None, "c": [self.page]})
        elif first:
            found.insert(0, found.pop(first))
        found[0]["id"] = self.page
        level, told = 1, {node["see"] for node in found if node["k"] == "formula"}
        kept = []
        for node in found:
            if node["k"] == "h":
                level = node["level"] = min(node["level"] + 1, level + 1)
            if node["k"] == "by-hand":
                if node["to"] in told:
                    continue
                told.add(node["to"])
            kept.append(node)
        return [node for place, node in enumerate(kept) if not (node["k"] == "h" and place and self._ends(kept, place))]

    @staticmethod
    def _ends(nodes: list[Node], place: int) -> bool:
        """A heading with nothing under it: all that stood there was for the screen."""
        return place + 1 == len(nodes) or (nodes[place + 1]["k"] == "h" and nodes[place + 1]["level"] <= nodes[place]["level"])

    def _target(self, address: str) -> str | None:
        """The place in this book that a link leads to, or None."""
        where, _, anchor = address.partition("#")
        where = re.sub(r"\.html$", ".md", where)
        whole = posixpath.normpath(posixpath.join(posixpath.dirname(self.page), where)) if where else self.page
        return next((one for one in ((f"{whole}#{anchor}" if anchor else whole), whole) if one in self.values.known), None)

    def _link(self, one: Element) -> list[Any]:
        address, button = one.attributes.get("href", ""), "md-button" in one.classes
        parts = one.elements("strong", "span")
        door = [part.tag for part in parts] == ["strong", "span"]  # its name, and what is behind it
        inside: list[Any] = [{"k": "b", "c": [parts[0].text()]}, ": " + parts[1].text()] if door else _trimmed(self.inline(one.inside))
        if re.match(r"https?:", address):
            said = re.sub(r"^https?://(www\.)?|/$", "", address)
            return [{"k": "away", "to": address, "c": inside, "said": "" if said in one.text() else said}]
        target = None if re.match(r"[a-z]+:", address) else self._target(address)
        if target is None:
            return [] if button else [{"k": "span", "c": inside}]
        if target.startswith(f"{WORDS}#"):
            return [{"k": "word", "to": target, "c": inside}]
        return [{"k": "link", "to": target, "c": inside, "button": button}]

    def inline(self, inside: Inside) -> list[Any]:
        """Text and what stands in the middle of it."""
        found: list[Any] = []
        for one in inside:
            if isinstance(one, str):
                if text := _UNIT.sub("\u00a0", re.sub(r"[ \t\r\n]+", " ", one)):
                    found.append(text)
            elif "data-kept" in one.attributes:
                raise ValueError(f"{self.page}: wanted a value on a line of its own; came one in the middle of a text; put a blank line before and after the call")
            elif _hidden(one):
                continue
            elif one.tag == "br":
                found.append({"k": "br"})
            elif one.tag == "a":
                found += self._link(one)
            elif one.tag == "dfn":
                found.append({"k": "dfn", "id": f"{self.page}#{one.attributes['id']}" if "id" in one.attributes else None, "c": self.inline(one.inside)})
            elif one.tag in _INLINE:
                found.append({"k": _INLINE[one.tag], "c": [one.text()] if _INLINE[one.tag] == "code" else self.inline(one.inside)})
            else:
                found += self.inline(one.inside)
        return found

    def blocks(self, inside: Inside) -> list[Node]:
        """Everything under an element, as blocks."""
        found: list[Node] = []
        run: list[Element | str] = []

        def flush() -> None:
            if text := _trimmed(self.inline(run)):
                found.append({"k": "p", "c": text})
            run.clear()

        for one in inside:
            if isinstance(one, Element) and one.tag in _BLOCK:
                flush()
                found += self._block(one)
            else:
                run.append(one)
        flush()
        return found

    def _block(self, one: Element) -> list[Node]:
        if "data-kept" in one.attributes:
            node = self.values.node(self.press.kept[int(one.attributes["data-kept"])], self.page)
            return [node] if node else []
        if _hidden(one):
            return []
        if re.fullmatch(r"h[1-6]", one.tag):
            return [{"k": "h", "level": int(one.tag[1]), "id": f"{self.page}#{one.attributes['id']}" if "id" in one.attributes else None, "c": _trimmed(self.inline(one.inside))}]
        if one.tag == "p" and not any("data-kept" in part.attributes for part in one.walk()):
            text = _trimmed(self.inline(one.inside))
            return [{"k": "big" if "alm-big" in one.classes else "p", "c": text}] if text else []
        if one.tag == "figcaption":
            return [{"k": "note", "c": _trimmed(self.inline(one.inside))}]
        if "alm-drill" in one.classes:
            return self._drill(one)
        if one.tag in ("ul", "ol"):
            items = [self.blocks(part.inside) for part in one.elements("li") if not _hidden(part)]
            return [{"k": one.tag, "items": items}] if (items := [item for item in items if item]) else []
        if one.tag == "table":
            return self._table(one)
        if one.tag == "pre":
            return [{"k": "pre", "t": one.text().rstrip("\n")}]
        if one.tag == "details":
            heads = one.elements("summary")
            rest = self.blocks([part for part in one.inside if part not in heads])
            head = _trimmed(self.inline(heads[0].inside)) if heads else []
            return ([{"k": "lead", "c": head}] if head and rest else []) + rest
        return [] if one.tag == "hr" else self.blocks(one.inside)

    def _drill(self, one: Element) -> list[Node]:
        """Questions with a line for each answer; the answers stand together under them."""
        lines = [{"q": part.elements("p")[0].text(), "a": next(inner.text() for inner in part.elements("details")[0].walk() if inner.tag == "strong")} for part in one.elements("li")]
        return [{"k": "drill", "lines": lines}]

    def _table(self, one: Element) -> list[Node]:
        captions = [_trimmed(self.inline(part.inside)) for part in one.walk() if part.tag == "caption"]
        rows = [part.elements("th", "td") for part in one.walk() if part.tag == "tr"]
        cells = [[_trimmed(self.inline(cell.inside)) for cell in row] for row in rows]
        plain = [[" ".join(cell.text().split()) for cell in row] for row in rows]
        count = max((len(row) for row in rows), default=0)
        for row in cells:
            row += [[]] * (count - len(row))
        for line in plain:
            line += [""] * (count - len(line))
        headed = bool(rows) and all(cell.tag == "th" for cell in rows[0])
        heads = cells[0] if headed and any(plain[0]) else []
        if headed:
            cells, plain_heads, plain = cells[1:], plain[0], plain[1:]
        else:
            plain_heads = [""] * count
        # A link takes room for its page, which no one knows yet.
        roomy = [[text + " (p.\u00a0000)" if _leads(cell) else text for text, cell in zip(line, row, strict=True)] for line, row in zip(plain, cells, strict=True)]
        how = words_cut(self.values.paper, plain_heads, roomy)
        return [{"k": "table", "heads": heads, "rows": cells, "caption": captions[0] if captions else [], "blocks": how.blocks and bool(heads), "size": how.size,
                 "widths": list(how.widths) or [self.values.paper.across / count] * count, "whole": how.whole}] if cells else []


def _leads(nodes: list[Any]) -> bool:
    """Whether a link with a printed page is among them."""
    return any(isinstance(one, dict) and (one["k"] == "link" or _leads(one.get("c", []))) for one in nodes)
