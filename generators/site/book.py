"""The whole handbook as one PDF: the finished pages in the order of the menu, with contents, page numbers and outline.

Chromium prints it, since it lays out the very same pages, mathematics and drawings as the screen does.
"""

from __future__ import annotations

import html
import io
import re
import shutil
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"]
_PAPER = {"a4": "A4", "letter": "Letter"}


class BookError(Exception):
    """Why there is no book."""


class _Order(HTMLParser):
    """Addresses of the menu, in order, from the first page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        link = dict(attrs)
        if tag == "a" and "md-nav__link" in (link.get("class") or "") and not (link.get("href") or "#").startswith("#"):
            self.found.append(str(link["href"]))


def _article(path: Path) -> str:
    found = re.search(r"<article\b[^>]*>(.*?)</article>", path.read_text(encoding="utf-8"), re.DOTALL)
    if not found:
        raise BookError(f"{path}: wanted a page with an article; came none; build the site again")
    return found.group(1)


def _order(site: Path, part: str = "") -> list[str]:
    menu = _Order()
    menu.feed((site / "index.html").read_text(encoding="utf-8"))
    first = [address for address in dict.fromkeys(menu.found) if (site / address).is_file()]
    for index in ("kits/index.html", "coatings/index.html", "faults/index.html"):
        if index in first:  # one generated page each, after the page that lists them
            place = first.index(index) + 1
            first[place:place] = [path.relative_to(site).as_posix() for path in sorted((site / index).parent.glob("*.html")) if path.name != "index.html"]
    kept = [address for address in dict.fromkeys(first) if address not in ("card.html", "reference/this-copy.html") and address.startswith(f"{part}/" if part else "")]
    if not kept:
        known = sorted({address.partition("/")[0] for address in first if "/" in address})
        raise BookError(f"wanted a part of the handbook; came {part!r}; there are: " + ", ".join(known))
    return kept


def _name(address: str) -> str:
    return address.removesuffix(".html").replace("/", "-")


def _chapter(site: Path, address: str, known: set[str]) -> tuple[str, str]:
    """(title, article) with ids and links made one book's own."""
    page = _name(address)
    text = _article(site / address)
    found = re.search(r"<h1\b[^>]*>(.*?)</h1>", text, re.DOTALL)
    title = re.sub(r"<[^>]+>", "", found.group(1)).strip() if found else page
    text = re.sub(r'\b(id|for|aria-labelledby|aria-describedby)="([^"]+)"', lambda m: f'{m[1]}="{" ".join(f"{page}--{one}" for one in m[2].split())}"', text)
    text = re.sub(r'url\(#([^)]+)\)', lambda m: f"url(#{page}--{m[1]})", text)

    def link(match: re.Match[str]) -> str:
        target = match[1]
        if re.match(r"[a-z]+:", target):
            return match[0]
        where, _, anchor = target.partition("#")
        whole = (Path(address).parent / where).as_posix() if where else address
        parts: list[str] = []
        for part in whole.split("/"):
            if part == "..":
                parts = parts[:-1]
            elif part != ".":
                parts.append(part)
        whole = "/".join(parts)
        if whole not in known:
            return "data-away"
        return f'href="#{_name(whole)}--{anchor}"' if anchor else f'href="#{_name(whole)}"'

    text = re.sub(r'href="([^"]*)"', link, text)
    if address in ("reference/formulas.html", "train/drills.html"):  # symbols, ranges and sources are printed once, here; and a trainer reads the answers
        text = re.sub(r"<details\b([^>]*)>", r"<details open\1>", text)
    return html.unescape(title), f'<section class="alm-chapter" id="{page}">{text}</section>'


def book_html(site: Path, numbers: dict[str, int] | None = None, part: str = "") -> str:
    """One page of HTML for the whole book, or for one folder of it; `numbers` are the printed pages of the contents, once known."""
    addresses = _order(site, part)
    chapters = [_chapter(site, address, set(addresses)) for address in addresses]
    style = "".join((site / sheet).read_text(encoding="utf-8") for sheet in ("assets/almanac.css",))
    theme = "".join(path.read_text(encoding="utf-8") for path in sorted((site / "assets/stylesheets").glob("*.css")))
    style = style.replace('url("fonts/', f'url("{(site / "assets").as_uri()}/fonts/')
    lines = "".join(
        f'<li><a href="#{_name(address)}">{html.escape(title)}</a><span>{(numbers or {}).get(_name(address), "")}</span></li>'
        for address, (title, _) in zip(addresses, chapters, strict=True))
    name = re.search(r"<p data-edition-date[^>]*>(Edition [^<]*?)\s*<", (site / "index.html").read_text(encoding="utf-8"))
    edition = name.group(1) if name else ""
    return (
        '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>The Sprayer’s Almanac</title>'
        f"<style>{theme}{style}"
        "@page { margin: 14mm 12mm 16mm; } body { background: #fff; } .alm-chapter { break-before: page; } "
        ".alm-chapter .alm-other, .alm-chapter .alm-basis { display: none; } .alm-contents ol { list-style: none; margin: 0; padding: 0; max-width: none; } "
        ".alm-contents li { display: flex; margin: 0 0 2pt !important; } .alm-contents li a { flex: 1; text-decoration: none; border-bottom: 1px dotted #888; margin-right: 4pt; color: #000; }"
        "</style></head><body class=\"md-typeset\" data-md-color-scheme=\"default\" dir=\"ltr\">"
        f'<section class="alm-contents"><h1>The Sprayer’s Almanac</h1><p>{html.escape(edition)}</p><h2>Contents</h2><ol>{lines}</ol></section>'
        + "".join(text for _, text in chapters) + "</body></html>")


def _pages_of(pdf: bytes) -> dict[str, int]:
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(pdf))
    found = {}
    for name, destination in reader.named_destinations.items():
        number = reader.get_destination_page_number(destination)
        if number is not None:
            found[name.removeprefix("/")] = number + 1
    return found


def book(site: Path, paper: str = "a4", chromium: str | None = None, part: str = "") -> bytes:
    """The PDF, of all or of one folder of pages (`part`, such as "train"). BookError where Chromium or the packages that drive it are missing."""
    program = chromium or shutil.which("chromium") or shutil.which("chromium-browser")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        raise BookError("wanted playwright and pypdf to print the book; came neither; pip install 'sprayers-almanac[book]'") from None
    if not program:
        raise BookError("wanted Chromium to print the book; came none; install Debian's chromium")
    import tempfile

    _order(site, part)  # an unknown part is told before Chromium starts
    options: dict[str, Any] = {
        "format": _PAPER[paper], "tagged": True, "outline": True, "prefer_css_page_size": False, "display_header_footer": True, "header_template": "<span></span>",
        "footer_template": '<div style="font:8pt sans-serif;width:100%;text-align:center"><span class="pageNumber"></span> / <span class="totalPages"></span></div>',
        "margin": {"top": "14mm", "bottom": "16mm", "left": "12mm", "right": "12mm"},
    }
    with sync_playwright() as play, tempfile.TemporaryDirectory() as folder:
        browser = play.chromium.launch(executable_path=program, args=FLAGS)
        page = browser.new_page()
        sheet = Path(folder) / "book.html"

        def printed(numbers: dict[str, int] | None) -> bytes:
            sheet.write_text(book_html(site, numbers, part), encoding="utf-8")
            page.goto(sheet.as_uri())
            page.evaluate("document.fonts.ready")
            return bytes(page.pdf(**options))

        # Twice: the first print tells on which page each chapter begins, the second says it in the contents.
        made = printed(_pages_of(printed(None)))
        browser.close()
    return made
