"""Each trade word linked to its place on the page of words, where a page first uses it.

A pure function over finished Markdown. It would rather miss a word than touch what is not plain text: headings, links,
code, tables' heads, front matter and everything written as HTML (tables, live answers, signs) stay as they are, byte for byte.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable, Mapping
from typing import Any

WORDS = "reference/words.md"
_NOT_HERE = (WORDS, "reference/sources.md")  # titles of other people's texts stay as they are printed
# A spelling with other marks than these could not stand in a link's text as it stands on the page.
_PLAIN = re.compile(r"[\w .,+/%'’?()-]+")
# What a paragraph holds that is not plain text: escapes and entities, code, links and images, attribute lists, addresses.
_KEEP = r"""\\.|&\#?\w+;|(?P<tick>`+)(?:[^`]|(?!(?P=tick))`)*?(?P=tick)(?!`)|!?\[(?:[^\[\]\\]|\\.|\[[^\[\]]*\])*\](?:\([^()]*(?:\([^()]*\)[^()]*)*\)|\[[^\[\]]*\])?|\{[^{}\n]*\}|(?<!\S)\S+(?:://|@)\S+"""
_FRONT = re.compile(r"\A---\r?\n.*?\r?\n---\r?\n", re.DOTALL)
_FENCE = re.compile(r" {0,3}(`{3,}|~{3,})")
_TABLE_RULE = re.compile(r"\s*\|?\s*:?-{2,}:?\s*(\|\s*:?-+:?\s*)*\|?\s*")
_UNDERLINE = re.compile(r" {0,3}(=+|-{2,})\s*")
_OPENS_HTML = re.compile(r"\s*<[a-zA-Z/!?]")
_TAG = re.compile(r"<(/?)([a-zA-Z][\w-]*)(?:[^<>\"']|\"[^\"]*\"|'[^']*')*?(/?)>")
_VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
_LEFT_ALONE = re.compile(r" {4}|\t| {0,3}#| {0,3}\*?\[[^\]]+\]:")
_INLINE_HTML = re.compile(r"<[a-zA-Z/!?]")


def _pattern(anchors: Mapping[str, str]) -> re.Pattern[str]:
    """What is kept, or one of the spellings as a whole word or its plural: longest first."""
    spelled = "|".join(re.escape(one).replace(r"\ ", "[ ]") for one in sorted(anchors, key=lambda one: (-len(one), one)))
    return re.compile(rf"{_KEEP}|(?<![\w/#@&.=+-])(?P<word>{spelled})(?P<plural>s?)(?![\w/@=+{{-]|\.\w)", re.IGNORECASE)


class _Page:
    """One page on its way through: which words it has linked."""

    def __init__(self, pattern: re.Pattern[str], anchors: Mapping[str, str], target: str) -> None:
        self.pattern, self.anchors, self.target = pattern, anchors, target
        self.linked: set[str] = set()

    def _swap(self, found: re.Match[str]) -> str:
        if found["word"] is None or (anchor := self.anchors[found["word"].lower()]) in self.linked:
            return found[0]
        self.linked.add(anchor)
        return f"[{found[0]}]({self.target}#{anchor})"

    def plain(self, text: str) -> str:
        """Text without raw blocks; from its first tag to its last it is left alone."""
        opens, closes = _INLINE_HTML.search(text), text.rfind(">") + 1
        if opens is None or closes <= opens.start():
            return self.pattern.sub(self._swap, text)
        return self.pattern.sub(self._swap, text[: opens.start()]) + text[opens.start() : closes] + self.pattern.sub(self._swap, text[closes:])

    def block(self, lines: list[str]) -> list[str]:
        """A run of lines without a blank between: a paragraph, a list, a table."""
        if not lines or any(_UNDERLINE.fullmatch(line) for line in lines[1:]):
            return lines
        kept = {row for index, line in enumerate(lines) if "|" in line and _TABLE_RULE.fullmatch(line) for row in (index - 1, index)}
        done: list[str] = []
        run: list[str] = []
        for index, line in enumerate(lines):
            if index in kept or _LEFT_ALONE.match(line) or "STOP" in line:  # a hard stop is read to its end, with nothing to press in it
                done += self._run(run)
                done.append(line)
                run = []
            else:
                run.append(line)
        return done + self._run(run)

    def _run(self, lines: list[str]) -> list[str]:
        return self.plain("\n".join(lines)).split("\n") if lines else []


def _depth(line: str) -> int:
    """How many elements a line leaves open."""
    first = _TAG.match(line.lstrip())
    if len(line) > 2000 and first and line.rstrip().endswith(f"</{first[2]}>"):
        return 0  # a table or a picture of ours: one block on one line
    return sum(0 if tag[3] or tag[2].lower() in _VOID else -1 if tag[1] else 1 for tag in _TAG.finditer(line))


def linked(page: str, pattern: re.Pattern[str], anchors: Mapping[str, str], target: str) -> str:
    """One page with the first use of each word linked; `anchors` by spelling in small letters, `target` the page of words as seen from here."""
    front = _FRONT.match(page)
    head = front[0] if front else ""
    worker = _Page(pattern, anchors, target)
    done: list[str] = []
    block: list[str] = []
    fence, open_tags = "", 0
    for line in page[len(head):].split("\n"):
        if fence:
            fence = "" if line.strip().startswith(fence) and not line.strip().strip(fence[0]) else fence
        elif open_tags > 0 or (not block and _OPENS_HTML.match(line)):
            open_tags = max(0, open_tags + _depth(line))
        elif mark := _FENCE.match(line):
            fence = mark[1]
        elif line.strip():
            block.append(line)
            continue
        done += [*worker.block(block), line]
        block = []
    return head + "\n".join(done + worker.block(block))


def link_words(pages: Mapping[str, str], words: Iterable[Any]) -> dict[str, str]:
    """All pages, words linked to those anchors that the page of words really has. Without that page nothing changes."""
    there = set(re.findall(r'\bid="([a-z0-9-]+)"', pages.get(WORDS, "")))
    anchors: dict[str, str] = {}
    for word in words:
        for spelling in word.spellings:
            if word.anchor in there and _PLAIN.fullmatch(spelling):
                anchors.setdefault(spelling.lower(), word.anchor)
    if not anchors:
        return dict(pages)
    pattern = _pattern(anchors)
    return {address: page if address in _NOT_HERE else linked(page, pattern, anchors, posixpath.relpath(WORDS, posixpath.dirname(address) or "."))
            for address, page in pages.items()}
