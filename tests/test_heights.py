"""Four screens on a phone for a page of the bench, closed; and what is folded can be opened."""

from __future__ import annotations

import pytest
from heights import BENCH, BUDGET, MOST, addresses, kept, screens


@pytest.mark.sweep
def test_nine_of_ten_pages_of_the_bench_keep_their_budget(look, site):
    found = screens(look, site, [address for address in addresses(site) if address.startswith(BENCH)])
    assert kept(found) >= MOST, sorted(found.items(), key=lambda one: -one[1])[:20]


def test_a_page_of_each_chapter_keeps_its_budget(look, site):
    found = screens(look, site, ["mix/warm-or-thin.html", "air/drift.html", "survey/laminate-and-melamine.html", "clean/storage-and-frost.html", "gun/strokes-and-overlap.html"])
    assert max(found.values()) <= BUDGET, found


def test_a_folded_section_keeps_its_heading_and_opens(look, site):
    look.goto((site / "survey/waxed-and-oiled-wood.html").as_uri())
    fold = look.locator("details.alm-folded", has=look.locator("h2#where-it-comes-from"))
    assert fold.get_attribute("open") is None and not fold.locator("p").first.is_visible()
    fold.locator("summary").click()
    assert fold.locator("p").first.is_visible()


def test_a_chapter_shows_all_its_pages_with_their_questions(look, site):
    look.goto((site / "mix/thinning.html").as_uri())
    chapter = look.locator(".alm-chapter")
    assert "At the bench" in chapter.locator("summary").inner_text()
    chapter.locator("summary").click()
    told = chapter.inner_text()
    assert chapter.locator("a").count() == 8 and "What is this cup time in another cup?" in told and chapter.locator("a[aria-current=page]").count() == 1
