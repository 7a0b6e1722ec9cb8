"""The copy on the device against hosts as they are, two handbooks on one address, a wrong file, and a device that is full."""

from __future__ import annotations

import json
import re
import shutil

import hosts
import pytest
from conftest import PHONE, serving

SAMPLE = ("drops 5 %", "clean addresses", "adds a script")


@pytest.fixture
def phone(browser):
    context = browser.new_context(viewport=PHONE, keeps=True)
    yield context
    context.close()


@pytest.fixture(scope="module")
def older(site, tmp_path_factory):
    return hosts.older_edition(site, tmp_path_factory.mktemp("older") / "site")


@pytest.mark.parametrize("way", [way if way in SAMPLE else pytest.param(way, marks=pytest.mark.sweep) for way in hosts.HOSTS])
def test_in_the_end_it_is_kept_or_it_says_that_it_is_not(phone, site, older, way):
    assert hosts.visit(phone, way, site, older, pages=3) == []


@pytest.mark.sweep  # a look at the page of the one that was taken off once made its store anew, empty
def test_two_handbooks_on_one_address_leave_each_other_alone(phone, site, tmp_path):
    for name in ("a", "b"):
        shutil.copytree(site, tmp_path / name)
    with serving(tmp_path) as address:
        page = phone.new_page()
        for name in ("a", "b"):
            page.goto(f"{address}/{name}/index.html")
            assert hosts.settled(page)[0] == "yes"
        page.goto(f"{address}/a/index.html")  # the second did not touch the first
        assert hosts.settled(page)[0] == "yes"
        assert len(page.evaluate("caches.keys()")) == 2
        phone.set_offline(True)
        for name in ("a", "b"):
            page.goto(f"{address}/{name}/index.html")
            assert hosts.unread(page, f"{address}/{name}", site) == []
        # One is taken off, and the other stays.
        page.goto(f"{address}/a/reference/this-copy.html")
        page.locator("#alm-remove").click()
        page.wait_for_selector("#alm-removed:not([hidden])")
        page.goto(f"{address}/b/index.html")
        assert hosts.settled(page)[0] == "yes" and hosts.unread(page, f"{address}/b", site) == []
        assert page.evaluate("caches.keys()") == [f"almanac {address}/b/"]


def test_a_missing_and_a_wrong_file_are_seen_and_fetched_again(phone, site):
    with hosts.host("plain", site) as (address, handler):
        page = phone.new_page()
        page.goto(f"{address}/index.html")
        assert hosts.settled(page)[0] == "yes"
        files = json.loads(re.search(r"^const FILES = (\{.*\});$", (site / "sw.js").read_text(encoding="utf-8"), re.MULTILINE)[1])
        spoil = """async ([wrong, lost]) => {
          const store = await caches.open((await caches.keys())[0]);
          const find = async (digest) => (await store.keys()).find((one) => one.url.endsWith("/kept/" + digest));
          await store.put(await find(wrong), new Response("<h1>Not what it was</h1>"));
          for (const one of lost) await store.delete(await find(one));
        }"""
        page.evaluate(spoil, [files["mix/thinning.html"], [files["air/dew-point.html"], files["assets/almanac.css"]]])
        handler.down = True
        page.goto(f"{address}/mix/thinning.html")  # a wrong file is never shown as if it were right
        assert "Not what it was" not in page.content() and "Not on this device" in page.locator("h1").inner_text()
        page.goto(f"{address}/kits/index.html")
        state, words = hosts.settled(page)
        assert state == "part" and f"{len(files) - 3} of {len(files)} files" in words, words
        handler.down = False
        page.locator("#alm-again").click()
        page.wait_for_selector("html[data-kept=yes]", state="attached")
        handler.down = True
        assert hosts.unread(page, address, site) == []


def test_a_device_that_is_full_is_told_and_made_good(phone, site):
    with hosts.host("plain", site) as (address, handler):
        page = phone.new_page()
        devtools = phone.new_cdp_session(page)
        devtools.send("Storage.overrideQuotaForOrigin", {"origin": address, "quotaSize": 2_000_000})
        page.goto(f"{address}/index.html")
        state, words = hosts.settled(page)
        assert state in ("part", "no") and "no room" in words and "✓" not in words, words
        devtools.send("Storage.overrideQuotaForOrigin", {"origin": address})
        page.locator("#alm-again").click()
        page.wait_for_selector("html[data-kept=yes]", state="attached")
        handler.down = True
        assert hosts.unread(page, address, site) == []


def test_the_first_edition_may_be_read_while_it_is_coming(phone, site):
    """Some files are here, then the signal goes for good: what is here opens, and the rest says that it is not here."""
    with hosts.host("500 for one file", site) as (address, handler):
        page = phone.new_page()
        page.goto(f"{address}/index.html")
        state, words = hosts.settled(page)
        total = int(re.search(r"of (\d+) files", words)[1])
        assert state == "part" and f"{total - 1} of {total} files" in words and "answers with an error" in words, words
        handler.down = True
        assert hosts.unread(page, address, site) == ["mix/thinning.html"]
        page.goto(f"{address}/mix/thinning.html")
        assert page.locator("h1").inner_text() == "Not on this device"
        page.goto(f"{address}/reference/this-copy.html")
        page.wait_for_selector("#alm-missing li", timeout=90_000)
        assert page.locator("#alm-missing li").all_inner_texts() == ["mix/thinning.html"]


def test_what_an_earlier_way_of_keeping_left_is_taken_over(phone, site):
    """Until now each edition had a store of its own, by the addresses of its files."""
    with hosts.host("plain", site) as (address, handler):
        page = phone.new_page()
        page.goto(f"{address}/robots.txt")
        names = [path.relative_to(site).as_posix() for path in site.rglob("*.html")]
        page.evaluate("""async ([root, names]) => {
          const store = await caches.open("almanac-0123456789abcdef");
          for (const name of names) await store.put(root + name, await fetch(root + name));
        }""", [address + "/", names])
        handler.asked.clear()
        page.goto(f"{address}/index.html")
        assert hosts.settled(page)[0] == "yes"
        assert not [name for name in names if handler.asked[f"/{name}"] > 1 or (handler.asked[f"/{name}"] and name != "index.html")]
        assert page.evaluate("caches.keys()") == [f"almanac {address}/"]
