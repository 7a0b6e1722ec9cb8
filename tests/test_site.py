"""The site as people open it: from file:// and over http, asking nobody else, fitting a phone, finding words."""

from __future__ import annotations

import html
import json
import re
import subprocess
import sys
from html.parser import HTMLParser

import pytest
from conftest import ROOT, copied

from generators.owned.mark import mark
from generators.site.build import SiteError, build

KINDS = ("index.html", "mix/thinning.html", "air/dew-point.html", "safety/ppe.html", "coatings/gannet-trim-satin.html", "kits/two-stage-tote.html",
         "reference/checks.html", "reference/formulas.html", "rules.html", "gun/surfaces.html", "air/go-or-wait.html", "faults/runs.html", "answers.html", "film/runs-and-levelling.html")


class Links(HTMLParser):
    """Addresses and ids of one page."""

    def __init__(self):
        super().__init__()
        self.links, self.ids = [], set()

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.ids.add(found.get("id"))
        for name in ("href", "src"):
            if found.get(name):
                self.links.append(found[name])


def read(path):
    parser = Links()
    parser.feed(path.read_text(encoding="utf-8"))
    return parser


def test_every_link_leads_somewhere(site):
    pages = {path: read(path) for path in site.rglob("*.html") if path.name != "404.html"}
    assert len(pages) > 30
    for path, page in pages.items():
        for link in page.links:
            if link.startswith(("data:", "https://handbook.example")):
                continue
            assert not re.match(r"(?:https?:)?//", link), f"{path.name} asks {link}"
            address, _, anchor = link.partition("#")
            target = (path.parent / address).resolve() if address else path
            target = target / "index.html" if target.is_dir() else target
            assert target.exists(), f"{path.name} → {link}"
            if anchor and target in pages:
                assert anchor in pages[target].ids, f"{path.name} → {link}"


def test_no_inline_error_no_template_left_over(site):
    for path in site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert "{{" not in re.sub(r"<script.*?</script>", "", text, flags=re.S), path
        assert "Mend this first" not in text


def test_stop_signs_and_deferral_stand_on_every_page_of_a_stopped_coating(site, facts):
    for slug, coating in facts.coatings.items():
        text = (site / f"coatings/{slug}.html").read_text(encoding="utf-8")
        assert "safety data sheet" in text.lower()
        for key in coating.stops:
            assert facts.stops[key].title in html.unescape(text) and "alm-stop" in text
            assert "Who decides" in text


EVERY_WIDTH = (320, 360, 430, 1280)


@pytest.mark.parametrize(("over", "widths"), [
    ("http", EVERY_WIDTH), ("file", (360,)), *(pytest.param(over, (width,), marks=pytest.mark.sweep, id=f"{over}-opened-at-{width}") for over in ("file", "http") for width in EVERY_WIDTH),
])
def test_pages_ask_nobody_fit_the_screen_and_raise_no_error(browser, site, served, over, widths):
    """Each page is opened at the first width and drawn out to the others; in the sweep it is opened at every width."""
    origin = site.as_uri() if over == "file" else served
    context = browser.new_context(keeps=len(widths) == 1, viewport={"width": widths[0], "height": 800})
    page = context.new_page()
    asked, errors = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    for address in KINDS:
        page.goto(f"{origin}/{address}")
        for width in widths:
            page.set_viewport_size({"width": width, "height": 800})
            page.wait_for_timeout(50)
            settled = "width => document.documentElement.scrollWidth <= width"  # what slides in settles within a moment, or it scrolls
            for _ in range(30):
                if page.evaluate(settled, width):
                    break
                page.wait_for_timeout(100)
            assert page.evaluate("document.documentElement.scrollWidth") <= width, f"{address} scrolls sideways at {width}"
    assert not errors
    assert not [url for url in asked if not url.startswith((origin, "data:", "blob:"))]
    context.close()


@pytest.mark.parametrize("over", ["file", "http"])
def test_search_answers_from_a_file_and_knows_no_cells(browser, site, served, over):
    page = browser.new_page()
    page.goto(f"{site.as_uri() if over == 'file' else served}/index.html")
    page.fill("input[name=query]", "dew point")
    page.wait_for_selector(".md-search-result__item", timeout=15000)
    assert "Dew point" in page.inner_text(".md-search-result__list")
    page.close()
    index = (site / "assets/search-pages.js").read_text(encoding="utf-8")
    taught = sum(len(json.dumps(one["asked"])) for one in json.loads(index[index.index("{"):index.rindex(";")])["pages"])
    assert len(index) - taught < 3_000 * len(list(site.rglob("*.html")))  # cells would make it many times that
    assert not (site / "search").exists()


def test_numerals_in_tables_are_large_enough(browser, site):
    page = browser.new_page(viewport={"width": 360, "height": 800})
    page.goto(f"{site.as_uri()}/air/dew-point.html")
    size = page.evaluate("parseFloat(getComputedStyle(document.querySelector('.alm-grid td')).fontSize)")
    assert size >= 20
    page.close()


@pytest.fixture
def broken(tmp_path):
    """A copy of the handbook to break, with a last good site beside it."""
    copied(tmp_path)
    (tmp_path / "site").mkdir()
    (tmp_path / "site/index.html").write_text("last good", encoding="utf-8")
    mark(tmp_path / "site", "build")
    return tmp_path


BREAKS = {
    "undefined name": ("{{ tabel('dew-point') }}", "tabel"),
    "unknown table": ("{{ table('dew-pint') }}", "dew-point"),
    "unknown value": ("{{ value('limits.dew_margin_mini') }}", "dew_margin_min"),
    "bad template": ("{{ table( }}", "handbook/rules.md:"),
    "broken link": ("[nowhere](nowhere.md)", "nowhere.md"),
    "broken anchor": ("[nowhere](card.md#nowhere)", "nowhere"),
}


@pytest.mark.parametrize("name", [name if name in ("undefined name", "broken link") else pytest.param(name, marks=pytest.mark.sweep) for name in BREAKS])
def test_a_broken_page_fails_with_its_line_and_leaves_the_last_good_site(name, broken):
    text, wanted = BREAKS[name]
    rules = broken / "handbook/rules.md"
    lines = rules.read_text(encoding="utf-8").rstrip("\n").split("\n")
    rules.write_text("\n".join([*lines, "", text, ""]), encoding="utf-8")
    with pytest.raises(SiteError) as caught:
        build(broken, broken / "site")
    told = "\n".join(caught.value.lines)
    assert wanted in told
    assert "rules.md" in told
    if "link" not in name and "anchor" not in name:
        assert f"handbook/rules.md:{len(lines) + 2}:" in told
    assert (broken / "site/index.html").read_text(encoding="utf-8") == "last good"
    assert not [path for path in broken.iterdir() if path.name.startswith(".site")]


def test_us_build_speaks_fahrenheit_first(tmp_path):
    build(ROOT, tmp_path / "site", region="us")
    text = (tmp_path / "site/air/dew-point.html").read_text(encoding="utf-8")
    assert text.index("Dew point in °F") < text.index("Dew point in °C")
    mask = (tmp_path / "site/safety/ppe-wall-matt.html").read_text(encoding="utf-8")
    assert "P100" in mask and "P3" not in mask


def test_two_builds_are_the_same_bytes(site, tmp_path, monkeypatch):
    """In other processes, folders, time zones and hash seeds too: .ci/same-bytes."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1000000000")
    build(ROOT, tmp_path / "two")
    one, two = ({path.relative_to(base): path.read_bytes() for path in base.rglob("*") if path.is_file()} for base in (site, tmp_path / "two"))
    assert one.keys() == two.keys()
    assert [str(name) for name in one if one[name] != two[name]] == []


def test_without_scripts_every_kit_is_shown(browser, served, facts):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served}/index.html")
    text = page.locator("article").inner_text()
    assert all(kit.name in text for kit in facts.kits.values())
    assert page.locator("article a[href='card.html']").first.is_visible() and page.locator(".alm-doors a").count() == 8
    context.close()


MADE = """
import hashlib, json, os, signal, sys
from pathlib import Path
from generators import beside
from generators.site.made import make
beside.alone()
parts, hears, heard = beside.can_part, beside.Beside.heard, []
beside.can_part = lambda: "two" in sys.argv and parts()
beside.Beside.heard = lambda self, **how: heard.append(hears(self, **how)) or heard[-1]
if "grief" in sys.argv:
    from generators.site import rounds
    makes, first, count = rounds.Bench.round, os.getpid(), []

    def make_or_die(bench, some):
        count.append(some)
        if len(count) == 2 and os.getpid() != first:
            os.kill(os.getpid(), signal.SIGKILL)
        return makes(bench, some)

    rounds.Bench.round = make_or_die
made, told = make(Path.cwd(), None, None).finished, hashlib.sha256()
for name, content in [*made.pages.items(), *sorted(made.assets.items())]:
    told.update(name.encode() + b"\\0" + (content.encode() if isinstance(content, str) else content))
print(json.dumps([len(made.pages), told.hexdigest(), sum(one is not None for one in heard), parts()]))
"""


@pytest.mark.sweep
def test_one_process_and_two_make_the_same_pages_in_the_same_order():
    """What a second process makes of the handbook is what the first would have made; without it the first makes all, and where it is killed, what is left."""
    one, two, grief = (json.loads(subprocess.run([sys.executable, "-c", MADE, *how], cwd=ROOT, capture_output=True, text=True, check=True).stdout) for how in (("one",), ("two",), ("two", "grief")))
    assert one[:2] == two[:2] == grief[:2] and one[0] > 180, (one, two, grief)
    # Rounds came from the second process, where this machine has room for one; of one that comes to grief in its second no more than the first was heard.
    assert one[2] == 0 and (two[2] > 1 >= grief[2] if two[3] else two[2] == grief[2] == 0)
