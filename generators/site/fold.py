"""Detail folded under the answer: sections and long items that a reader opens when they want them. A heading stays a heading, with its address;
on paper all is open.

A page of the bench shows what fits in four screens of a phone. What comes later and is long (a table, keys to type in, a formula) lies
folded under its own name. A stop is never folded, nor a section of a page on safety.
"""

from __future__ import annotations

import html
import re

ALWAYS = ("Why", "Where it comes from", "Where values come from")
AT_THE_BENCH = ("mix/", "gun/", "film/", "air/", "coatings/", "kits/", "rules", "faults/", "survey/", "clean/")
BENCH = ("How", "The number behind it", "Next time", "What worked")
ITEMS = (*AT_THE_BENCH, "safety/")  # where long items fold; of safety no section does
MARK = "alm-fold"  # a class that a page gives to a heading of its own; an h3 so marked folds inside its section
SAYS = "alm-says"  # and to a line under it, which then stands in the shut fold: what is behind it
KEPT = ("Protect yourself",)  # sections that show their first item, whatever the room
PAGE, HEAD, FOLD = 2890, 96, 60  # px of a phone 360 px wide for a page's own content (four screens less what
# stands over and under it), for a heading, and for a fold that is shut

_HEADING = re.compile(r"<h2\b[^>]*>.*?</h2>", re.DOTALL)
_SAYS = re.compile(rf'\s*<p class="{SAYS}">(.*?)</p>', re.DOTALL)
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


def _items(content: str) -> list[str]:
    """The pieces, with the same table in the other units kept at its table."""
    found: list[str] = []
    for piece in pieces(content):
        if found and piece.startswith('<details class="alm-how alm-other"') and _long(found[-1]):
            found[-1] += piece
        else:
            found.append(piece)
    return found


def tall(piece: str) -> int:
    """About how many px an element takes on a phone 360 px wide; measured on our own pages, only used to choose what folds."""
    words = len(_words(piece))
    if piece.startswith("<details"):
        return 60
    if 'class="alm-table"' in piece:
        return 650 + _LINE * (len(_words(piece.split("</table>", 1)[-1].split("<details")[0])) // 40) + 60 * piece.count("<details")
    if 'class="alm-live"' in piece:
        return 430 + 115 * piece.count('class="alm-field"') + 50 * piece.count('class="alm-common"')
    if 'class="alm-words"' in piece:
        return 150 + _ROW * piece.count("<tr") if piece.count("<tr") > 5 else 120 + _LINE * (words // 22)
    if 'class="alm-formula"' in piece:
        return 200
    if "alm-stop" in piece:
        return 100 + _LINE * (words // 24)
    if "<svg" in piece or "<img" in piece:
        return 330
    if "<table" in piece:
        return 60 + _LINE * (words // 30) + 12 * piece.count("<td")
    return 42 + _LINE * (piece.count("<li") // 2 + words // _LETTERS)


def _long(piece: str) -> bool:
    return bool(_LONG.match(piece)) or ("<table" in piece and piece.startswith("<div") and "alm-stop" not in piece)


def _under(name: str, body: str) -> str:
    return f'<details class="alm-how alm-item"><summary>{html.escape(html.unescape(name), quote=False)}</summary>{body}</details>\n'


class _Room:
    """The px that are left for what is long, once the page's words have theirs. The first long item of a page is shown whatever is left."""

    def __init__(self, left: int):
        self.left, self.shown = left, False

    def fits(self, much: int) -> bool:
        return not self.shown or much <= self.left

    def take(self, much: int) -> None:
        self.left -= much
        self.shown = True


def _shortened(body: str, room: _Room, kept: int = 0) -> str:
    """A section with what is long folded where there is no room for it. The first `kept` long items stay open, whose room was set aside."""
    parts = []
    for piece in _items(body):
        if _long(piece):
            name = _name(piece)
            if kept > 0:
                kept -= 1
            elif not name or room.fits(tall(piece)):
                room.take(tall(piece))
            else:
                piece = _under(name, piece)
        parts.append(piece)
    return "".join(parts)


def _whole(body: str) -> bool:
    return all(body.count(f"<{tag}") == body.count(f"</{tag}>") for tag in ("details", "div", "section", "ul", "ol"))


def _shut(heading: str, body: str) -> str:
    """A section behind its heading, and behind what it says of itself in one line."""
    says = _SAYS.match(body)
    told, rest = (f'<span class="{SAYS}">{says[1]}</span>', body[says.end():]) if says else ("", body)
    return f'<details class="alm-how alm-folded"><summary>{heading}{told}</summary>{rest}</details>\n'


def _parts_shut(body: str) -> str:
    """A section with those of its parts folded, each from its h3 to the next, whose heading is marked."""
    if MARK not in body:
        return body
    found, part = list[str](), ""
    for piece in [*pieces(body), ""]:
        if piece.startswith("<h3") or not piece:
            end = part.find("</h3>") + len("</h3>")
            found.append(_shut(part[:end], part[end:]) if part.startswith("<h3") and MARK in part.split(">", 1)[0] else part)
            part = ""
        part += piece
    return "".join(found)


def folded(content: str, address: str) -> str:
    """A page's HTML with some of its sections (from one h2 to the next) and long items in folds. Headings inside a fold or a list of ours are left alone."""
    found = list(_HEADING.finditer(content))
    short, bench = address.startswith(ITEMS), address.startswith(AT_THE_BENCH)
    top = content[: found[0].start()] if found else content
    sections = []  # heading, body, whether it folds for its title, whether it may be cut
    for heading, after in zip(found, [*found[1:], None][: len(found)], strict=True):
        body, title = content[heading.end(): after.start() if after else len(content)], _title(heading[0])
        titled = title in ALWAYS or (bench and title in BENCH) or MARK in heading[0].split(">", 1)[0]
        sections.append((heading[0], body, titled and _whole(body), title))
    words = sum(tall(piece) for body in (top, *(body for _, body, fold, _ in sections if not fold)) for piece in _items(body) if not _long(piece))
    aside = sum(next((tall(piece) for piece in _items(body) if _long(piece)), 0) for _, body, _, title in sections if title in KEPT)
    room = _Room(PAGE - words - aside - sum(FOLD if fold else HEAD for _, _, fold, _ in sections))
    keys = next((piece for piece in _items(top) if 'class="alm-live"' in piece), "")
    if short and _whole(top):
        room.left -= tall(keys) if keys else 0
        before, found_keys, behind = top.partition(keys) if keys else (top, "", "")
        top = _shortened(before, room) + found_keys + _shortened(behind, room)
    parts = [top]
    for heading_html, body, fold, title in sections:
        if short and _whole(body) and not fold:
            long = [tall(piece) for piece in _items(body) if _long(piece)]
            if bench and long and title not in KEPT and "alm-stop" not in body and not room.fits(sum(long)):
                fold, room.left = True, 0  # and what comes after it, so that no long section stands open between two that are shut
            else:
                body = _shortened(body, room, int(title in KEPT))
        body = _parts_shut(body)
        parts.append(_shut(heading_html, body) if fold else heading_html + body)
    return "".join(parts)


def _title(heading: str) -> str:
    return re.sub(r"<[^>]+>", "", heading).strip()
