"""Detail folded under the answer: sections and long items that a reader opens when they want them. A heading stays a heading, with its address;
on paper all is open.

A page of the bench shows what fits in about three screens of a phone. What comes later and is long (a table, keys to type in, a formula) lies
folded under its own name. A stop is never folded, nor a section of a page on safety.
"""

from __future__ import annotations

import html
import re

ALWAYS = ("Why", "Where it comes from", "Where values come from")
AT_THE_BENCH = ("mix/", "gun/", "film/", "air/", "coatings/", "kits/", "rules", "faults/", "survey/", "clean/")
BENCH = ("How", "The number behind it", "Next time")
ITEMS = (*AT_THE_BENCH, "safety/")  # where long items fold; of safety no section does
MARK = "alm-fold"  # a class that a page gives to a heading of its own
KEPT = ("Protect yourself",)  # sections that show their first item, whatever the room
ROOM = 2150  # px of a phone 360 px wide that a page fills before it folds

_HEADING = re.compile(r"<h2\b[^>]*>.*?</h2>", re.DOTALL)
_TAG = re.compile(r"<(/?)([a-zA-Z][\w-]*)\b[^>]*?(/?)>", re.DOTALL)
_VOID = frozenset("area base br col embed hr img input link meta source track wbr".split())
_LONG = re.compile(r'<(?:div class="alm-(?:table|formula)"|section class="alm-live"|table\b)')
_NAMES = (re.compile(r"<caption>.*?<strong>(.*?)</strong>", re.DOTALL), re.compile(r'class="alm-live-title">(.*?)</p>', re.DOTALL), re.compile(r'aria-label="(.*?)"', re.DOTALL))
_LINE, _LETTERS, _ROW = 26, 40, 48  # px of a line, letters in it, px of a row that is shut


def _words(piece: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", piece).split())


def _name(piece: str) -> str:
    """What an item is called: its caption, its title, or the label of its formula."""
    return next((_words(found[1]) for one in _NAMES if (found := one.search(piece))), "")


def pieces(content: str) -> list[str]:
    """The HTML cut into its outermost elements; what stands between two belongs to the first."""
    cuts, depth = [0], 0
    for tag in _TAG.finditer(content):
        if tag[2].lower() in _VOID or tag[3]:
            continue
        if tag[1]:
            depth -= 1
            continue
        if depth == 0:
            cuts.append(tag.start())
        depth += 1
    return [part for start, end in zip(cuts, [*cuts[1:], len(content)], strict=True) if (part := content[start:end])]


def tall(piece: str) -> int:
    """About how many px an element takes on a phone 360 px wide; measured on our own pages, only used to choose what folds."""
    if piece.startswith("<details"):
        return 60
    if 'class="alm-table"' in piece:
        return 520 + _LINE * (len(_words(piece.split("</table>")[-1])) // 50) + 70
    if 'class="alm-live"' in piece:
        return 330 + 150 * piece.count('class="alm-field"')
    if 'class="alm-words"' in piece and piece.count("<tr") > 4:
        return 150 + _ROW * piece.count("<tr")
    if 'class="alm-formula"' in piece:
        return 200
    if "<svg" in piece or "<img" in piece:
        return 330
    return 24 + _LINE * (piece.count("<li") + piece.count("<td") // 2 + len(_words(piece)) // _LETTERS)


def _long(piece: str) -> bool:
    return bool(_LONG.match(piece)) or ("<table" in piece and piece.startswith("<div") and "alm-stop" not in piece)


def _under(name: str, body: str) -> str:
    return f'<details class="alm-how alm-item"><summary>{html.escape(html.unescape(name), quote=False)}</summary>{body}</details>\n'


def _shortened(body: str, used: int, first: int) -> tuple[str, int]:
    """(a section with what is long folded once there is no room, px used after it). The first `first` long items stay open; so do the first keys
    of the page's answer, whose room is kept for them."""
    parts, all_of = [], pieces(body)
    keys = next((place for place, piece in enumerate(all_of) if 'class="alm-live"' in piece), -1) if first else -1
    used += tall(all_of[keys]) if keys >= 0 else 0
    for place, piece in enumerate(all_of):
        much = tall(piece) if place != keys else 0
        if place != keys and _long(piece) and (name := _name(piece)):
            if first <= 0 and used + much > ROOM:
                piece, much = _under(name, piece), 60
            first -= 1
        used += much
        parts.append(piece)
    return "".join(parts), used


def _whole(body: str) -> bool:
    return all(body.count(f"<{tag}") == body.count(f"</{tag}>") for tag in ("details", "div", "section", "ul", "ol"))


def folded(content: str, address: str) -> str:
    """A page's HTML with some of its sections (from one h2 to the next) and long items in folds. Headings inside a fold or a list of ours are left alone."""
    found = list(_HEADING.finditer(content))
    short, bench = address.startswith(ITEMS), address.startswith(AT_THE_BENCH)
    top = content[: found[0].start()] if found else content
    used, shown = 0, False  # px so far, and whether a long item was shown
    if short and _whole(top):
        shown = bool(_LONG.search(top))
        top, used = _shortened(top, used, 1)
    parts = [top]
    for heading, after in zip(found, [*found[1:], None][: len(found)], strict=True):
        body = content[heading.end(): after.start() if after else len(content)]
        title, balanced = _title(heading[0]), _whole(body)
        fold = title in ALWAYS or (bench and title in BENCH) or MARK in heading[0].split(">", 1)[0]
        if short and balanced and not fold and "alm-stop" not in body:
            much, long = sum(map(tall, pieces(body))), bool(_LONG.search(body))
            if bench and long and shown and title not in KEPT and used + much > ROOM:
                fold = True
            else:
                body, used = _shortened(body, used + 60, int(not shown or title in KEPT))
                shown = shown or long
        if balanced and fold:
            parts.append(f'<details class="alm-how alm-folded"><summary>{heading[0]}</summary>{body}</details>\n')
            used += 60
        else:
            parts.append(heading[0] + body)
    return "".join(parts)


def _title(heading: str) -> str:
    return re.sub(r"<[^>]+>", "", heading).strip()
