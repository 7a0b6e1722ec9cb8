"""Detail folded under the answer: sections that a reader opens when they want them. The heading stays a heading, with its address; on paper all is open."""

from __future__ import annotations

import re

ALWAYS = ("Why", "Where it comes from", "Where values come from")
AT_THE_BENCH = ("mix/", "gun/", "film/", "air/", "coatings/", "kits/", "rules", "faults/", "survey/", "clean/")
BENCH = ("How", "The number behind it", "Next time")
MARK = "alm-fold"  # a class that a page gives to a heading of its own

_HEADING = re.compile(r"<h2\b[^>]*>.*?</h2>", re.DOTALL)


def _title(heading: str) -> str:
    return re.sub(r"<[^>]+>", "", heading).strip()


def folded(content: str, address: str) -> str:
    """A page's HTML with some of its sections (from one h2 to the next) in a fold. Headings inside a fold or a list of ours are left alone."""
    found = list(_HEADING.finditer(content))
    if not found:
        return content
    parts = [content[: found[0].start()]]
    for heading, after in zip(found, [*found[1:], None], strict=True):
        body = content[heading.end(): after.start() if after else len(content)]
        titles = ALWAYS + (BENCH if address.startswith(AT_THE_BENCH) else ())
        balanced = all(body.count(f"<{tag}") == body.count(f"</{tag}>") for tag in ("details", "div", "section", "ul", "ol"))
        if balanced and (_title(heading[0]) in titles or MARK in heading[0].split(">", 1)[0]):
            parts.append(f'<details class="alm-how alm-folded"><summary>{heading[0]}</summary>{body}</details>\n')
        else:
            parts.append(heading[0] + body)
    return "".join(parts)
