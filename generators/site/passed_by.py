"""Tables, answers and pictures are finished HTML: they pass by the Markdown reader, which would read every letter of them twice and leave them as they are.

A block passes where the reader would keep it as it is: it begins a line, ends one, and holds no Markdown and no heading (which the contents list).
"""

from __future__ import annotations

import re

_OPENS = re.compile(r"^<(div|section|figure|details|ul|ol|table|form|nav)\b", re.MULTILINE)
_READ = re.compile(r"markdown=|<h[1-6]\b")
_ALL_READ = re.compile(r"^ {0,3}(?:```|~~~)|<!--|<pre\b|<script\b|data-passed=", re.MULTILINE)
_MARK = re.compile(r'<div data-passed="(\d+)"></div>')
_SHORT = 300  # letters; less is not worth a mark


def _end(text: str, start: int, tag: str) -> int:
    """Where the element that opens at `start` has ended; -1 where it never does."""
    depth = 0
    for found in re.compile(rf"<(/?){tag}\b[^>]*>").finditer(text, start):
        depth += -1 if found[1] else 1
        if depth == 0:
            return found.end()
    return -1


def set_aside(text: str) -> tuple[str, list[str]]:
    """(the Markdown with a mark for each block, the blocks). A page that shows code, or whose elements do not end, is left to the reader."""
    if _ALL_READ.search(text):
        return text, []
    parts, blocks, done = list[str](), list[str](), 0
    for found in _OPENS.finditer(text):
        if found.start() < done:
            continue
        end = _end(text, found.start(), found[1])
        if end < 0:
            return text, []
        block = text[found.start():end]
        if len(block) >= _SHORT and text[end:end + 1] in ("\n", "") and not _READ.search(block):
            parts += [text[done:found.start()], f'<div data-passed="{len(blocks)}"></div>']
            blocks.append(block)
        else:
            parts.append(text[done:end])
        done = end
    return "".join([*parts, text[done:]]), blocks


def put_back(content: str, blocks: list[str]) -> str:
    """The HTML with its blocks in the place of their marks."""
    return _MARK.sub(lambda mark: blocks[int(mark[1])], content) if blocks else content
