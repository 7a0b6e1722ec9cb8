"""Without signal: one visit keeps the whole handbook; a new edition is announced, taken whole, and never mixed with the old one."""

from __future__ import annotations

import json
import re
import shutil

import pytest
from conftest import ROOT, serving

from generators.site.build import build


@pytest.fixture
def hosted(site, tmp_path):
    """(folder that is served, its address): a copy of the site that a test may change under the reader's feet."""
    folder = tmp_path / "served"
    shutil.copytree(site, folder)
    with serving(folder) as address:
        yield folder, address


@pytest.fixture
def reader(browser):
    context = browser.new_context(keeps=True, viewport={"width": 360, "height": 800})
    page = context.new_page()
    page.set_default_timeout(60_000)
    yield context, page
    context.close()


def kept(page):
    page.wait_for_selector("html[data-kept=yes]", state="attached")


@pytest.fixture(scope="module")
def next_edition(tmp_path_factory):
    """The same handbook after one word changed and the revision rose."""
    folder = tmp_path_factory.mktemp("next")
    for name in ("site_data", "handbook", "generators"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "mkdocs.yml", folder)
    handbook = folder / "site_data/handbook.yaml"
    handbook.write_text(re.sub(r"revision: \d+", "revision: 2", handbook.read_text()))
    page = folder / "handbook/mix/thinning.md"
    page.write_text(page.read_text().replace("# How much thinner?", "# How much thinner now?"))
    build(folder, folder / "site")
    return folder / "site"


def test_after_one_visit_everything_opens_without_signal(reader, hosted, site):
    context, page = reader
    folder, address = hosted
    page.goto(f"{address}/index.html")
    kept(page)
    context.set_offline(True)
    shutil.rmtree(folder)  # and the server has nothing left to give
    pages = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
    assert len(pages) > 40
    broken = page.evaluate("""async (list) => {
      const bad = [];
      for (const one of list) { try { const answer = await fetch(one); if (!answer.ok) bad.push(one); } catch { bad.push(one); } }
      return bad;
    }""", [f"{address}/{one}" for one in [*pages, *(path.relative_to(site).as_posix() for path in site.glob("cards/*.pdf"))]])
    assert broken == []
    for one in pages[::6]:
        page.goto(f"{address}/{one}")
        assert page.locator("h1").first.inner_text().strip()
    page.goto(f"{address}/")
    assert page.locator("h1").inner_text() == "Today"


def test_search_works_without_signal(reader, hosted):
    context, page = reader
    folder, address = hosted
    page.goto(f"{address}/index.html")
    kept(page)
    context.set_offline(True)
    shutil.rmtree(folder)
    page.goto(f"{address}/mix/thinning.html")
    page.locator("label.md-header__button[for=__search]").click()
    page.locator("input[name=query]").press_sequentially("dew point")  # the theme listens to keys
    page.wait_for_selector(".md-search-result__item a")
    assert "dew-point.html" in page.locator(".md-search-result__item a").first.get_attribute("href")


def test_a_new_edition_is_announced_and_never_mixed(reader, hosted, next_edition):
    context, page = reader
    folder, address = hosted
    page.goto(f"{address}/index.html")
    kept(page)
    other = context.new_page()
    other.goto(f"{address}/air/dew-point.html")
    shutil.rmtree(folder)
    shutil.copytree(next_edition, folder)
    page.goto(f"{address}/mix/thinning.html")  # still the edition in hand, though the server has the next
    assert page.locator("h1").inner_text() == "How much thinner?"
    assert "Edition 1," in page.locator(".alm-footer").inner_text()
    page.wait_for_selector("#alm-new:not([hidden])")
    page.goto(f"{address}/index.html")
    assert "Edition 1," in page.locator(".alm-footer").inner_text()
    page.wait_for_selector("#alm-new:not([hidden])")
    with page.expect_navigation():
        page.locator("#alm-take").click()
    page.locator(".alm-footer", has_text="Edition 2,").wait_for()
    other.locator(".alm-footer", has_text="Edition 2,").wait_for()
    context.set_offline(True)
    page.goto(f"{address}/mix/thinning.html")
    assert page.locator("h1").inner_text() == "How much thinner now?"
    assert len(page.evaluate("caches.keys()")) == 1


def test_half_an_edition_is_never_taken(reader, hosted, next_edition):
    """The server is caught in the middle of an upload: its worker is new, one page is still old."""
    context, page = reader
    folder, address = hosted
    page.goto(f"{address}/index.html")
    kept(page)
    old = (folder / "mix/thinning.html").read_bytes()
    shutil.rmtree(folder)
    shutil.copytree(next_edition, folder)
    (folder / "mix/thinning.html").write_bytes(old + b"<!-- half -->")
    page.goto(f"{address}/index.html")
    page.wait_for_timeout(3000)
    assert page.locator("#alm-new").is_hidden()
    context.set_offline(True)
    page.goto(f"{address}/mix/thinning.html")
    assert page.locator("h1").inner_text() == "How much thinner?"
    assert len(page.evaluate("caches.keys()")) == 1


def test_it_can_be_taken_off_the_device(reader, hosted):
    _, page = reader
    _, address = hosted
    page.goto(f"{address}/reference/this-copy.html")
    kept(page)
    page.locator("#alm-remove").click()
    page.wait_for_selector("#alm-removed:not([hidden])")
    assert page.evaluate("caches.keys()") == []
    assert page.evaluate("navigator.serviceWorker.getRegistrations().then(list => list.length)") == 0
    page.reload()
    page.wait_for_timeout(500)
    assert page.evaluate("caches.keys()") == []


def test_an_old_copy_says_so(reader, hosted):
    _, page = reader
    folder, address = hosted
    text = (folder / "index.html").read_text()
    assert 'data-edition-date="' in text
    (folder / "sw.js").unlink()
    (folder / "index.html").write_text(re.sub(r'data-edition-date="[^"]+"', 'data-edition-date="2020-01-01"', text))
    page.goto(f"{address}/index.html")
    assert page.locator("#alm-old").is_visible()
    page.goto(f"{address}/mix/thinning.html")
    assert page.locator("#alm-old").is_hidden()


def test_every_page_names_its_edition_and_the_manifest_its_icons(site, facts):
    for path in site.rglob("*.html"):
        assert f"Edition {facts.handbook.revision}, {facts.handbook.date}" in path.read_text(encoding="utf-8"), path
    manifest = json.loads((site / "manifest.webmanifest").read_text())
    assert all((site / icon["src"]).is_file() for icon in manifest["icons"]) and (site / manifest["start_url"]).is_file()
