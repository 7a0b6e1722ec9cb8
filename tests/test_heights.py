"""Four screens on a phone for a page of the bench, closed; and what is folded can be opened."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

import pytest
import yaml
from conftest import ROOT
from heights import BENCH, BUDGET, MOST, addresses, kept, screens

from generators.site.fold import folded, pieces


class Page(HTMLParser):
    """The stops of a page, and its words on who decides, that stand in a fold."""

    def __init__(self, text):
        super().__init__()
        self.depth, self.stops_in_folds = 0, []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.depth += tag == "details"
        kinds = (dict(attrs).get("class") or "").split()
        if self.depth and "alm-stop" in kinds:
            self.stops_in_folds.append(self.getpos())

    def handle_data(self, data):
        if self.depth and "Who decides" in data:
            self.stops_in_folds.append(self.getpos())

    def handle_endtag(self, tag):
        self.depth -= tag == "details"


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
    """The links of a chapter are the pages that the nav of mkdocs.yml puts there."""
    nav = yaml.safe_load((ROOT / "mkdocs.yml").read_text(encoding="utf-8"))["nav"]
    named = next(part["At the bench"] for part in nav if "At the bench" in part)
    wanted = [(one if isinstance(one, str) else next(iter(one.values()))).replace(".md", ".html") for one in named]
    look.goto((site / "mix/thinning.html").as_uri())
    chapter = look.locator(".alm-chapter")
    assert "At the bench" in chapter.locator("summary").inner_text()
    chapter.locator("summary").click()
    shown = chapter.locator("a").evaluate_all("all => all.map(one => one.href)")
    assert [Path(one).relative_to(site.resolve()).as_posix() for one in (address.removeprefix("file://") for address in shown)] == wanted
    assert "What is this cup time in another cup?" in chapter.inner_text() and chapter.locator("a[aria-current=page]").count() == 1


def test_a_long_item_folds_under_its_own_name_and_opens(look, site):
    look.goto((site / "mix/thinning.html").as_uri())
    item = look.locator("details.alm-item", has=look.locator("summary", has_text="First dose 1 %"))
    assert not item.locator("table").first.is_visible() and look.locator(".alm-live").first.is_visible()
    item.locator("> summary").click()
    assert item.locator("table").first.is_visible()


def test_no_fold_holds_a_stop(site):
    """A stop is read without a tap, on every page of the site; so is who decides."""
    for address in addresses(site):
        page = Page((site / address).read_text(encoding="utf-8"))
        assert not page.stops_in_folds, address


def test_a_long_table_of_words_opens_row_by_row_on_a_phone_and_prints_whole(look, site):
    look.goto((site / "gun/nozzle-and-air.html").as_uri())
    row = look.locator("table.alm-rows tbody tr").first
    key, cell = row.locator("button"), row.locator("td").first
    assert key.get_attribute("aria-expanded") == "false" and not cell.is_visible()
    look.emulate_media(media="print")
    assert cell.is_visible()
    look.emulate_media(media="screen")
    key.click()
    assert key.get_attribute("aria-expanded") == "true" and cell.is_visible()


def test_the_pieces_of_a_page_are_all_of_it():
    content = '<p>One <br> two</p>\n<div><div>three</div></div> four <ul><li>five</li></ul>'
    assert "".join(pieces(content)) == content and [one[:4] for one in pieces(content)] == ["<p>O", "<div", "<ul>"]


def test_a_short_page_folds_nothing_and_a_long_one_keeps_its_first_table_and_keys():
    table = '<div class="alm-table"><table><caption><strong>T{}</strong></caption></table></div>'
    keys = '<section class="alm-live"><p class="alm-live-title">Keys</p></section>'
    few = "<h1>x</h1>" + table.format(1) + keys
    assert folded(few, "mix/x.md") == few
    many = folded("<h1>x</h1>" + "".join(table.format(place) for place in range(9)) + keys, "mix/x.md")
    assert many.index("T0") < many.index("<details") and "<summary>T8</summary>" in many and "<summary>Keys" not in many
    assert "<details" not in folded("<h1>x</h1>" + "".join(table.format(place) for place in range(9)) + keys, "reference/x.md")


REFERENCE = {"answers.html": 4, "reference/formulas.html": 4, "reference/sources.html": 4, "reference/checks.html": 4, "reference/verdicts.html": 4, "charts.html": 4, "train/first-week.html": 4,
             "train/faults-on-purpose.html": 4, **{f"train/day-{day}.html": 4 for day in range(1, 8)}}


def test_pages_to_look_things_up_in_are_indexes(look, site):
    found = screens(look, site, list(REFERENCE))
    assert not {address: much for address, much in found.items() if much > REFERENCE[address]}


def test_marked_parts_fold_in_their_section_and_say_what_is_behind_them():
    page = ('<h1>x</h1><h2 class="alm-fold" id="a">A</h2>\n<p class="alm-says">two</p>\n<h3 class="alm-fold" id="b">B</h3>\n<p>one</p><h3 id="c">C</h3><p>two</p>'
            '<h2 id="d">D</h2><p>three</p><h3 class="alm-fold" id="e">E</h3><p>four</p>')
    shut = '<details class="alm-how alm-folded"><summary>'
    assert folded(page, "reference/x.md") == (
        f'<h1>x</h1>{shut}<h2 class="alm-fold" id="a">A</h2><span class="alm-says">two</span></summary>\n{shut}<h3 class="alm-fold" id="b">B</h3></summary>\n<p>one</p></details>\n<h3 id="c">C</h3>'
        '<p>two</p></details>\n'
        f'<h2 id="d">D</h2><p>three</p>{shut}<h3 class="alm-fold" id="e">E</h3></summary><p>four</p></details>\n')
