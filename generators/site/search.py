"""What the search knows: one entry for each page, taken from the finished page, as a script that is fetched when somebody first asks.

The theme's own index and worker are taken away: they rank by words alone, need a frame for pages opened as files, and show heads of tables as if they
were sentences. Here each page has its question, the first sentence of its answer, its headings, how people ask for it, what they say for it, and its text
without tables.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

INDEX = "assets/search-pages.js"
LEAD = 190  # letters of an answer that a phone shows in three lines

# A page that is one of many of its kind, or that only refers, comes after a page that answers. The first that fits counts.
_WEIGHTS = (("(coatings|kits)/(?!index|choosing)", 0.82), ("safety/ppe-", 0.82), ("own/|measure/", 0.94), ("reference/formulas", 0.72),
            ("reference/(?!units|words|this-copy|your-own)", 0.86), ("train/|answers", 0.86))

_SKIPPED = frozenset({"script", "style", "svg", "table", "button", "select", "label", "form", "math"})
_PASSED = frozenset("alm-live alm-form alm-origin alm-kind alm-legend alm-signs alm-note alm-reasons alm-jump alm-doors alm-worked".split())  # classes of what is no sentence
_BLOCKS = frozenset({"p", "li", "summary", "h1", "h2", "h3", "dt", "dd", "figcaption", "blockquote", "strong"})
_VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
_SENTENCE = re.compile(r"(?<=[.!?:])\s+(?=[A-Z0-9“(])")


@dataclass
class _Reader(HTMLParser):
    """Headings, text and the first paragraph of one page's content."""

    heads: list[str] = field(default_factory=list)
    text: list[str] = field(default_factory=list)
    leads: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self._open: list[tuple[str, bool]] = []  # element, whether what stands in it is passed over
        self._piece: list[str] = []

    def _passed(self) -> bool:
        return bool(self._open) and self._open[-1][1]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "br":
            self._piece.append(" ")
        if tag in _VOID:
            return
        named = dict(attrs)
        kinds = (named.get("class") or "").split()
        hidden = tag in _SKIPPED or "data-search-exclude" in named or not _PASSED.isdisjoint(kinds)
        if tag in _BLOCKS and tag != "strong":
            self._end("")
        self._open.append((tag, self._passed() or hidden))

    def handle_endtag(self, tag: str) -> None:
        if tag not in [one for one, _ in self._open]:
            return
        while self._open and self._open.pop()[0] != tag:
            pass
        if tag in _BLOCKS and tag != "strong":
            self._end(tag)

    def handle_data(self, data: str) -> None:
        if not self._passed():
            self._piece.append(data)

    def _end(self, tag: str) -> None:
        told = " ".join("".join(self._piece).split())
        self._piece = []
        if not told:
            return
        if tag in ("h1", "h2", "h3"):
            if tag != "h1":
                self.heads.append(told)
            return
        self.text.append(told)
        if tag in ("p", "li") and len(told) > 24:
            self.leads.append(told)


def lead(told: str) -> str:
    """The first sentences of a text, as many as a result has room for; a long one ends at a word."""
    kept = ""
    for sentence in _SENTENCE.split(told):
        longer = f"{kept} {sentence}".strip()
        if len(longer) > LEAD:
            break
        kept = longer
    return kept or told[:LEAD].rsplit(" ", 1)[0] + " …"


def entry(address: str, title: str, question: str, content: str, asked: list[str], words: list[str]) -> dict[str, Any]:
    """What the search keeps of one page. `address` ends in .html; `content` is the page's own HTML."""
    reader = _Reader()
    reader.feed(content)
    reader.close()
    first = ""
    for one in reader.leads[:4]:  # a heading of a stop, or "Now:", says little alone
        first = f"{first}{'' if not first or first[-1] in '.:!?' else '.'} {one}".strip()
        if len(first) >= 60:
            break
    return {"at": address, "title": title, "question": question, "answer": lead(first) if first else "",
            "weight": next((weight for pattern, weight in _WEIGHTS if re.match(pattern, address)), 1), "asked": asked, "words": ",".join(words), "heads": reader.heads, "text": " ".join(reader.text)}


def index(entries: list[dict[str, Any]], search: Mapping[str, Any]) -> str:
    """The script that the finder reads: pages in the order of their addresses, and how words are folded."""
    twins = sorted(search["twins"].items(), key=lambda pair: (-len(pair[0]), pair[0]))
    told = {"twins": twins, **{name: sorted(search.get(name, [])) for name in ("small", "soft", "whole")}, "pages": sorted(entries, key=lambda one: one["at"])}
    return f"window.almanacSearchPages = {json.dumps(told, ensure_ascii=False, separators=(',', ':'))};\n".replace("</", "<\\/")


def replace_theirs(site: Path) -> None:
    """Take the theme's index, its worker and its languages out of a finished site."""
    for folder in ("search", "assets/javascripts/workers", "assets/javascripts/lunr"):
        shutil.rmtree(site / folder, ignore_errors=True)
