"""What the search knows: one entry for each page, taken from the finished page, as a script that is fetched when somebody first asks.

The theme's own index is not made and its worker is taken away: they rank by words alone, need a frame for pages opened as files, and show heads of tables as if they
were sentences. Here each page has its question, the first sentence of its answer, its headings, how people ask for it, what they say for it, and its text
without tables.
"""

from __future__ import annotations

import json
import re
import shutil
import unicodedata
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

INDEX = "assets/search-pages.js"
_OFTEN = 3
LEAD = 190  # letters of an answer that a phone shows in three lines

WEIGHTS = Path(__file__).parent / "search-weights.json"  # what each measure of find.js is worth, how that was found, and when

# Kinds of pages: one of many of its kind, or one that only refers, may come after a page that answers. The first that fits counts.
_KINDS = (("(coatings|kits)/(?!index|choosing)", "one-of-many"), ("safety/ppe-", "one-of-many"), ("own/|measure/", "crew"), ("reference/formulas", "formulas"),
          ("reference/(?!units|words|this-copy|your-own)", "reference"), ("train/|answers", "training"), ("faults/(?!index)", "fault"))

_SKIPPED = frozenset({"script", "style", "svg", "table", "button", "select", "label", "form", "math"})
_PASSED = frozenset("alm-live alm-says alm-paper-only alm-form alm-origin alm-kind alm-legend alm-signs alm-note alm-reasons alm-jump alm-doors alm-worked".split())  # classes of what is no sentence
_SILENT = re.compile(r'<(?:div|section) class="alm-(?:table|live)"')
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


def says(block: str) -> bool:
    """Whether a block of finished HTML holds sentences to look for: a table, a picture and a live answer do not."""
    return not _SILENT.match(block)


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
            "kind": next((kind for pattern, kind in _KINDS if re.match(pattern, address)), "page"), "asked": asked, "words": ",".join(words), "heads": reader.heads, "text": " ".join(reader.text)}


def folded(text: str, twins: list[tuple[str, str]], passed: set[str]) -> str:
    """The words of a page's own text as `plain` in find.js folds them, in the order of the alphabet, a word at most three times: what ranks a page by its
    text needs no sentences, and the index is a fifth smaller."""
    bare = re.sub("[\u0300-\u036f’']", "", unicodedata.normalize("NFKD", text.lower()))
    words = f" {re.sub('[^a-z0-9%]+', ' ', bare).strip()} "
    for said, meant in twins:
        words = words.replace(f" {said} ", f" {meant} ")
    counted = Counter(word for word in words.split() if word not in passed)
    return " ".join(" ".join([word] * min(counted[word], _OFTEN)) for word in sorted(counted))


def index(entries: list[dict[str, Any]], search: Mapping[str, Any]) -> str:
    """The script that the finder reads: pages in the order of their addresses, how words are folded, what a question wishes, and what each measure is worth."""
    twins = sorted(search["twins"].items(), key=lambda pair: (-len(pair[0]), pair[0]))
    lists = {name: sorted(search.get(name, [])) for name in ("small", "soft", "whole", "calm")}
    pages = [{**one, "text": folded(one["text"], twins, set(lists["small"]))} for one in sorted(entries, key=lambda one: one["at"])]
    told = {"twins": twins, **lists, **{name: search.get(name, {}) for name in ("wishes", "first")}, "weigh": json.loads(WEIGHTS.read_text(encoding="utf-8"))["weigh"], "pages": pages}
    return f"window.almanacSearchPages = {json.dumps(told, ensure_ascii=False, separators=(',', ':'))};\n".replace("</", "<\\/")


def replace_theirs(site: Path) -> None:
    """Take the theme's worker and its languages out of a finished site; its index is never made (plugin.py)."""
    for folder in ("assets/javascripts/workers", "assets/javascripts/lunr"):
        shutil.rmtree(site / folder, ignore_errors=True)
