"""Text from facts is data everywhere: in HTML, attributes, JSON, CSV, SVG and on the card. And the policy behind it holds by itself."""

from __future__ import annotations

import copy
import csv
import functools
import http.server
import io
import re
import shutil
import threading
from pathlib import Path
from typing import Any

import pytest
import yaml
from conftest import copied
from fuzz import Markup, formulas_in, markup_in

from generators.facts import FactsError, load
from generators.facts.read import read_yaml
from generators.site.build import build
from generators.site.policy import POLICY, written

# Each fits a name of 60 characters. Together they try an element, an attribute of each quote, an address, a template, and Markdown.
PAYLOADS = (
    "<script>window.__pwned=1</script>",
    '"><img src=x onerror=window.__pwned=1>',
    "'><svg/onload=window.__pwned=1>",
    "[x](javascript:window.__pwned=1)",
    "</script><script>window.__pwned=1//</script>",
    "{{ 7*7 }}{% if 1 %}x{% endif %}{# c #}",
    "x{: onclick=window.__pwned=1 } *y* `z` | #h",
    "</title><script>window.__pwned=1</script>",
    '=HYPERLINK("http://x.example")',
    '\\"]}<!--<script>window.__pwned=1',
)


# Each turn moves every payload on by one text: a few turns put each kind into each kind of field.
TURNS = 2


def payload(number: int) -> str:
    """The payloads, round and round."""
    return PAYLOADS[number % len(PAYLOADS)]


def leaves(data: Any, at: tuple[Any, ...] = ()):
    """Key paths of every text in plain data."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from leaves(value, (*at, key))
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from leaves(value, (*at, index))
    elif isinstance(data, str):
        yield at


def put(data: Any, keys: tuple[Any, ...], value: str) -> None:
    """Set one text in plain data."""
    for key in keys[:-1]:
        data = data[key]
    data[keys[-1]] = value


def error_of(folder: Path) -> str:
    """The problems of a folder."""
    try:
        load(folder)
    except FactsError as error:
        return str(error)[:2000]
    return ""


def plant(folder: Path, turn: int) -> int:
    """Put a payload into every text that is taken, each text the next payload along; the number of texts that now carry one.

    All texts at once; then those on a line that is complained of are put back, until nothing is.
    """
    base = folder / "site_data"
    originals, poisoned, kept = {}, {}, {}
    for path in sorted(base.rglob("*.yaml")):
        tree = read_yaml(path, folder, [])
        assert tree is not None
        originals[path], poisoned[path] = tree.data, copy.deepcopy(tree.data)
        kept[path] = set(leaves(tree.data))
        for number, keys in enumerate(sorted(kept[path], key=str)):
            put(poisoned[path], keys, payload(turn + number))
    for _ in range(30):
        for path, data in poisoned.items():
            path.write_text(yaml.safe_dump(data, sort_keys=False, allow_unicode=True, width=10**6, default_flow_style=False), encoding="utf-8")
        try:
            load(folder)
            break
        except FactsError as error:
            for problem in error.problems:
                if not problem.path.endswith(".yaml"):
                    continue  # a sheet that misses what a YAML file has lost: mended when that is
                path = folder / problem.path
                tree = read_yaml(path, folder, [])
                assert tree is not None, problem
                # The text on that line, or, where the line is a heading, everything under it.
                hit = {keys for keys in kept[path] if tree.line(keys) == problem.line} or {keys for keys in kept[path] if any(tree.lines.get(keys[:n]) == problem.line for n in range(len(keys)))}
                for keys in hit:
                    value = originals[path]
                    for key in keys:
                        value = value[key]
                    put(poisoned[path], keys, value)
                kept[path] -= hit
    else:
        raise AssertionError(f"never sound again: {error_of(folder)}")
    count = sum(map(len, kept.values()))
    for path in sorted(base.glob("*.csv")):
        rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
        head = next(index for index, row in enumerate(rows) if row and not row[0].startswith("#"))
        for column in range(len(rows[head])):
            tried = [
                [*row[:column], payload(turn + column + index), *row[column + 1 :]] if index > head and len(row) == len(rows[head]) and not row[0].startswith("#") else row
                for index, row in enumerate(rows)
            ]
            out = io.StringIO()
            csv.writer(out, lineterminator="\n").writerows(tried)
            before = path.read_text(encoding="utf-8")
            path.write_text(out.getvalue(), encoding="utf-8")
            try:
                load(folder)
                rows, count = tried, count + 1
            except FactsError:
                path.write_text(before, encoding="utf-8")
    return count


def poison(folder, turn):
    """A copy of this project's handbook with a payload in every text field."""
    copied(folder)
    assert plant(folder, turn) > 300, "too few texts took the payload to show anything"


def test_no_markup_comes_of_texts_in_pages_and_sheets(tmp_path):
    """As far as Markdown and CSV; the sweep builds the site and opens it."""
    from generators.formulas.own_cups import open_handbook
    from generators.pages import build_assets, build_pages

    poison(tmp_path, 0)
    facts = open_handbook(tmp_path)
    pages = build_pages(facts)
    assert sum("pwned" in page for page in pages.values()) > 20
    assert markup_in(pages) == [] and formulas_in(build_assets(facts)) == []


@pytest.fixture(scope="module", params=range(TURNS))
def poisoned(request, tmp_path_factory):
    """This project's own handbook with a payload in every text field, built whole. Over the turns each text carries another payload."""
    folder = tmp_path_factory.mktemp("poisoned")
    poison(folder, request.param)
    build(folder, folder / "site")
    return folder / "site"


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A file server that says nothing."""

    def log_message(self, *_):
        """Nothing."""


# Whatever could run, or fetch; our own pictures of faults are the only images that a page has.
MARKUP = '.md-content img:not([src^="../assets/faults/"]), .md-content [onclick], .md-content [onerror], .md-content svg[onload], a[href^="javascript:"]'


@pytest.mark.sweep
def test_no_script_runs_even_without_the_policy(poisoned, browser):
    """Over http with the policy switched off: what protects is that every text was escaped."""
    site = poisoned
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    context = browser.new_context(bypass_csp=True)
    page = context.new_page()
    try:
        seen = 0
        for path in sorted(site.rglob("*.html")):
            page.goto(f"http://127.0.0.1:{server.server_address[1]}/{path.relative_to(site)}", wait_until="load")
            text = path.read_text(encoding="utf-8")
            seen += "pwned" in text
            assert page.evaluate("window.__pwned === undefined"), f"a payload ran on {path}"
            assert page.evaluate(f"document.querySelectorAll('{MARKUP}').length") == 0, path.name
        assert seen > 20, "too few pages showed a payload to show anything"
        page.goto(f"http://127.0.0.1:{server.server_address[1]}/index.html")
        for query in ("thinner", "script", "window", "x"):
            page.fill("input[name=query]", query)
            if query == "thinner":
                page.wait_for_selector(".md-search-result__item", timeout=15000)
            page.wait_for_timeout(400)
            assert page.evaluate("window.__pwned === undefined"), "a payload ran in the search results"
            assert page.evaluate("document.querySelectorAll('.md-search-result img, .md-search-result script, .md-search-result [onload]').length") == 0
    finally:
        context.close()
        server.shutdown()
        server.server_close()


@pytest.mark.sweep
def test_no_markup_no_template_and_no_sheet_formula_came_of_it(poisoned):
    site = poisoned
    for path in site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        seen = Markup()
        seen.feed(text)
        # The theme's own scripts and search form stand on every page.
        assert not [one for one in seen.found if one not in ("<script>", "<form>")], (path, seen.found)
        for tag in re.findall(r"<script\b[^>]*>", text):
            assert " src=" in tag or 'type="application/json"' in tag, (path, tag)
        assert "pwned" not in "".join(re.findall(r"<script[^>]+application/json[^>]*>.*?</script>", text, re.S)), path
        assert not re.search(r"&amp;(?:#\d+|lt|gt|quot|amp);", text), f"{path}: escaped twice"
        assert not re.search(r">\s*49x", text), f"{path}: a template in a text was run"
    assert formulas_in({str(path.relative_to(site)): path.read_text(encoding="utf-8") for path in site.rglob("*.csv")}) == []


@pytest.mark.sweep
def test_the_card_shows_the_text_as_it_was_written(poisoned):
    """Typst reads texts as JSON: a `#` or a backslash is a letter like any other."""
    from pypdf import PdfReader

    site = poisoned
    for path in (site / "cards").glob("*.pdf"):
        words = "".join("".join(page.extract_text() for page in PdfReader(path).pages).split())
        assert any("".join(payload.split()) in words for payload in PAYLOADS), words[:500]


def test_policy_is_on_every_page_and_in_the_headers(site):
    for path in site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        assert text.index("Content-Security-Policy") < text.index("<script"), path
        for tag in re.findall(r"<script\b[^>]*>", text):
            assert " src=" in tag or 'type="application/json"' in tag, f"{path.name} has an inline script: {tag}"
        assert not re.search(r"<[^>]+\s(?:style|on[a-z]+)=\"", text), f"{path.name}: the policy refuses inline styles and handlers"
        assert "<style" not in text, path
    headers = (site / "_headers").read_text(encoding="utf-8")
    assert written(POLICY) in headers and "frame-ancestors 'none'" in headers
    assert "unsafe" not in headers and "*" not in headers.replace("/*", "")


@pytest.mark.parametrize("over", ["file", "http"])
def test_the_policy_alone_stops_an_inline_script(site, browser, tmp_path, over):
    """A page with scripts and handlers written into it, as if every escape had failed: the policy runs none of them, by file and by http."""
    bad = tmp_path / "site"
    shutil.copytree(site, bad)
    page_file = bad / "rules.html"
    page_file.write_text(
        page_file.read_text(encoding="utf-8").replace(
            "</article>",
            "<script>window.__pwned=1</script><img src=x onerror='window.__pwned=2'><svg onload='window.__pwned=3'></svg>"
            "<a id=bad href='javascript:window.__pwned=4'>x</a><iframe srcdoc='<script>parent.__pwned=5</script>'></iframe></article>",
            1,
        ),
        encoding="utf-8",
    )
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(bad)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    page = browser.new_page()
    refused = []
    page.on("console", lambda message: refused.append(message.text) if "Content Security Policy" in message.text else None)
    try:
        page.goto(f"{bad.as_uri()}/rules.html" if over == "file" else f"http://127.0.0.1:{server.server_address[1]}/rules.html")
        page.evaluate("document.getElementById('bad').click()")
        page.wait_for_timeout(300)
        assert page.evaluate("window.__pwned === undefined")
        assert len(refused) >= 4, refused
        # The theme's own scripts do run: the palette can be switched.
        assert page.evaluate("typeof __md_get === 'function'")
    finally:
        page.close()
        server.shutdown()
        server.server_close()
