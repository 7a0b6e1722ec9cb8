"""On paper: the whole handbook as one PDF, and single pages whose tables are not cut."""

from __future__ import annotations

import io
import re
import subprocess
import sys

import pytest
from conftest import CHROMIUM, CHROMIUM_FLAGS, ROOT
from pypdf import PdfReader

from generators.site.book import BookError, book

MM = 72 / 25.4


@pytest.fixture(scope="module", params=[pytest.param(("a4", 210, 297), id="a4"), pytest.param(("letter", 215.9, 279.4), id="letter", marks=pytest.mark.sweep)])
def printed(request, site):
    """The book, printed by a process of its own: a test's own browser may be open here."""
    if not CHROMIUM.exists():
        pytest.skip(f"NOT PRINTED: no {CHROMIUM}; install Debian's chromium")
    paper, width, height = request.param
    code = f"import sys; from pathlib import Path; from generators.site.book import book; sys.stdout.buffer.write(book(Path({str(site)!r}), {paper!r}, {str(CHROMIUM)!r}))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, check=True)
    return PdfReader(io.BytesIO(done.stdout)), width, height


def test_paper_numbers_contents_and_outline(printed, site):
    reader, width, height = printed
    box = reader.pages[0].mediabox
    assert (float(box.width) / MM, float(box.height) / MM) == pytest.approx((width, height), abs=1)
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in root, "untagged"
    assert len(reader.outline) > 20
    total = len(reader.pages)
    assert f"{total} / {total}" in reader.pages[-1].extract_text()

    said = {}
    for number in range(4):
        for line in reader.pages[number].extract_text().splitlines():
            found = re.fullmatch(r"(\D.*?)\s*(\d+)", line.strip())
            if found and "/" not in line:
                said[found[1].strip()] = int(found[2])
    assert len(said) > 35, said
    titles = list(said)
    for title in titles[:: max(1, len(titles) // 12)]:
        text = " ".join(reader.pages[said[title] - 1].extract_text().split())
        assert title in text, f"the contents say {title!r} is on page {said[title]}"


def test_every_page_of_the_menu_is_in_the_book(printed, site):
    reader, _, _ = printed
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    for wanted in ("How much thinner?", "Cup times", "Dew point", "Gannet Trim Satin", "Two-stage tote", "STOP", "Formulas"):
        assert wanted in text, wanted


def test_without_chromium_it_says_what_is_wanted(site):
    with pytest.raises(BookError, match="Chromium"):
        _no_chromium(site)


def _no_chromium(site):
    import shutil
    from unittest import mock

    with mock.patch.object(shutil, "which", return_value=None):
        return book(site)


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
    assert page.evaluate("[...document.querySelectorAll('.md-header, .md-sidebar, .alm-other')].every(part => getComputedStyle(part).display === 'none')")
    page.close()
