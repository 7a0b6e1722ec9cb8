"""A page printed from the browser."""

from __future__ import annotations

import io
import re
from collections import Counter

import pytest
from conftest import CHROMIUM_FLAGS
from pypdf import PdfReader


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_tables_print_with_heads_and_whole_rows(browser, site, paper):
    """The head of a long table stands on each sheet it runs over, and nothing is cut at the right edge."""
    assert CHROMIUM_FLAGS
    page = browser.new_page()
    page.goto((site / "reference/checks.html").as_uri())
    reader = PdfReader(io.BytesIO(page.pdf(format=paper)))
    sheets = [sheet.extract_text() for sheet in reader.pages]
    assert len(sheets) > 5
    with_rows = [text for text in sheets if text.count("published") > 6]
    assert with_rows and all("Verdict" in text for text in with_rows)
    page.goto((site / "air/dew-point.html").as_uri())
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 700, "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth") <= 700
    assert page.evaluate("[...document.querySelectorAll('.md-header, .md-sidebar, .alm-bars, .alm-live')].every(part => getComputedStyle(part).display === 'none')")
    page.close()


def _numbers(text):
    return Counter(re.findall(r"\d+(?:\.\d+)?", text))


@pytest.mark.parametrize("address", ["air/dew-point", pytest.param("mix/thinning", marks=pytest.mark.sweep), pytest.param("coatings/gannet-trim-satin", marks=pytest.mark.sweep)])
def test_a_page_prints_whole_black_on_white_from_the_dark_palette(browser, site, facts, address):
    """Every number of every table, folded ones too; addresses for links; the edition on each sheet; no dark ground, and ink that is black enough."""
    page = browser.new_page()
    page.goto((site / f"{address}.html").as_uri())
    page.evaluate("document.body.setAttribute('data-md-color-scheme', 'slate')")
    wanted = page.evaluate("[...document.querySelectorAll('.md-typeset table td')].map(cell => cell.textContent).join(' ')")
    reader = PdfReader(io.BytesIO(page.pdf(format="A4", print_background=True)))
    sheets = [" ".join(sheet.extract_text().split()) for sheet in reader.pages]
    text = " ".join(sheets)
    missing = _numbers(wanted) - _numbers(text)
    assert len(_numbers(wanted)) > 30 and not missing, missing
    assert all(f"Edition {facts.handbook.revision}, {facts.handbook.date}" in sheet for sheet in sheets)
    links = page.evaluate("""[...document.querySelectorAll('article a[href]:not(.alm-word, .headerlink)')]
        .filter(link => !link.getAttribute('href').startsWith('#') && !link.closest('.alm-live, .alm-sheet, nav')).map(link => link.dataset.address || link.getAttribute('href'))""")
    assert links or address.startswith("coatings/")  # a paint's page says all itself: its links are trade words
    bare = text.replace(" ", "")
    assert not [link for link in links if f"({link})" not in bare]
    page.emulate_media(media="print")
    grounds, inks = page.evaluate("""() => {
        const parts = [document.documentElement, document.body, ...document.querySelectorAll('article, article *')].filter(part => part.getClientRects().length && !part.closest('svg'));
        const style = name => [...new Set(parts.map(part => getComputedStyle(part)[name]))];
        return [style('backgroundColor'), style('color')];
    }""")
    assert set(grounds) <= {"rgb(255, 255, 255)", "rgba(0, 0, 0, 0)"}, grounds
    assert all(max(map(int, re.findall(r"\d+", ink)[:3])) <= 68 for ink in inks), inks
    page.close()
