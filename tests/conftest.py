"""What every test starts from: facts and formulas read once, one site built once, one browser for each worker.

A test that only looks at the site asks for `look` or `desk` (a page shared by the whole worker); one that types, keeps or
breaks something asks for `browser` and opens a context of its own. A long round over all pages, thousands of inputs or many
builds is marked `sweep` and has a smaller sample beside it.
"""

from __future__ import annotations

import functools
import hashlib
import http.server
import json
import os
import shutil
import sys
import threading
from contextlib import contextmanager
from pathlib import Path

import pytest
from made_once import made_once

from generators import formulas, tables
from generators.formulas.own_cups import open_handbook
from generators.site.finished import finished

# Hundreds of processes read the same modules: where a machine says that none may keep them compiled, each would compile them again.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

ROOT = Path(__file__).resolve().parent.parent
CHROMIUM = Path("/usr/bin/chromium")
CHROMIUM_FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"]
PHONE, DESK = {"width": 360, "height": 800}, {"width": 1280, "height": 800}

# A first visit over http fetches the whole handbook to keep it. Where that is not what is tested, the page is told that it cannot.
NOTHING_KEPT = "if (navigator.serviceWorker) navigator.serviceWorker.register = () => Promise.reject(new Error('nothing is kept in this test'));"


def copied(folder, settings=True):
    """The demonstration's facts and pages in a folder of its own, to spoil; with the site's settings, where a site is made of them."""
    for name in ("site_data", "handbook"):
        shutil.copytree(ROOT / name, folder / name)
    if settings:
        shutil.copyfile(ROOT / "mkdocs.yml", folder / "mkdocs.yml")
    return folder


@functools.cache
def read_in(region=None):
    """Facts of this project as read in a region, once in each process: for what a module needs before its first test."""
    return open_handbook(ROOT, region)


@pytest.fixture(scope="session")
def facts_in():
    """Facts of this project as read in a region; None is its own. Each is read once."""
    return read_in


def edition(region):
    """Folder with the pages (pages.json) and files of this project for a region, made once for every worker; its own region's are what the site is built from."""
    region = None if region == read_in(None).handbook.region else region  # its own, by name

    def write(folder):
        made = finished(ROOT, region)
        (folder / "pages.json").write_text(json.dumps(made.pages), encoding="utf-8")
        for address, content in made.assets.items():
            (folder / "files" / address).parent.mkdir(parents=True, exist_ok=True)
            (folder / "files" / address).write_bytes(content)

    return made_once(f"edition-{region}", write)


@pytest.fixture(scope="session")
def pages_in():
    """Finished Markdown by address, for a region. Do not change it."""
    return functools.cache(lambda region: json.loads((edition(region) / "pages.json").read_text(encoding="utf-8")))


@pytest.fixture(scope="session")
def assets_in():
    """Bytes of every generated file by address, for a region. Do not change it."""
    @functools.cache
    def assets(region):
        files = edition(region) / "files"
        return {path.relative_to(files).as_posix(): path.read_bytes() for path in files.rglob("*") if path.is_file()}

    return assets


@pytest.fixture(scope="session")
def facts(facts_in):
    return facts_in(None)


@pytest.fixture(scope="session")
def pages(pages_in):
    """Every page as Markdown, by address."""
    return pages_in(None)


@pytest.fixture(scope="session")
def catalogue(facts):
    return formulas.catalogue(facts)


@pytest.fixture(scope="session")
def books(facts, catalogue):
    """A book for each system of units, its tables made once in each process. Where code is changed for a test, a book of its own."""
    return {system: tables.Book(facts, catalogue, system) for system in ("metric", "us")}


@pytest.fixture(params=["metric", "us"])
def book(request, books):
    return books[request.param]


@pytest.fixture(scope="session")
def chromium():
    """Chromium, or a loud skip. In CI its absence is a failure."""
    if not CHROMIUM.exists():
        if os.environ.get("CI"):
            pytest.fail(f"CI wants {CHROMIUM}: .ci/run installs it")
        pytest.skip(f"NOT TESTED IN A BROWSER: no {CHROMIUM}; install Debian's chromium to run this")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=str(CHROMIUM), args=CHROMIUM_FLAGS)
        yield opened
        opened.close()


class Browser:
    """Chromium as tests use it: a context keeps nothing for use without signal unless it is asked to."""

    def __init__(self, opened):
        self.opened = opened

    def new_context(self, *, keeps=False, **options):
        """A context of its own; with `keeps` the site may keep itself whole on this device, as on a reader's phone."""
        context = self.opened.new_context(**options)
        if not keeps:
            context.add_init_script(NOTHING_KEPT)
        return context

    def new_page(self, **options):
        """A page in a context of its own, which closes with it."""
        page = self.opened.new_page(**options)
        page.add_init_script(NOTHING_KEPT)
        return page


@pytest.fixture(scope="session")
def browser(chromium):
    """One for each worker."""
    return Browser(chromium)


@pytest.fixture(scope="session")
def shared_page(browser):
    """The page behind `look` and `desk`."""
    context = browser.new_context(viewport=PHONE, reduced_motion="reduce")
    page = context.new_page()
    page.raised = []
    page.on("pageerror", lambda error: page.raised.append(str(error)))
    yield page
    context.close()


def _lent(page, size):
    page.set_viewport_size(size)
    page.emulate_media(media="null")  # whoever had it before may have looked at it as paper
    page.raised.clear()
    yield page
    assert page.raised == []
    page.goto("about:blank")


@pytest.fixture
def look(shared_page):
    """A phone's page for tests that only look. It is shared: leave nothing in its storage."""
    yield from _lent(shared_page, PHONE)


@pytest.fixture
def desk(shared_page):
    """The same page as wide as a desk's."""
    yield from _lent(shared_page, DESK)


def _build(out):
    from generators.site.build import build

    build(ROOT, out / "site")


@pytest.fixture(scope="session")
def site():
    """The whole handbook, built once for all workers; or, while one works on a test, what lies in the folder ALMANAC_SITE. Do not change it."""
    if ready := os.environ.get("ALMANAC_SITE"):
        return Path(ready)
    return made_once("site", _build) / "site"


class Server(http.server.ThreadingHTTPServer):
    """A browser that closes in the middle of an answer is no mistake; anything else is told."""

    def handle_error(self, request, client_address):
        """Told unless the other side hung up."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A file server that says nothing and keeps its connections open."""

    protocol_version = "HTTP/1.1"

    def log_message(self, *_):
        """Nothing."""


@contextmanager
def serving(folder):
    """Address of a folder served over http on this machine."""
    server = Server(("127.0.0.1", 0), functools.partial(Quiet, directory=str(folder)))
    server.daemon_threads = True
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def served(site):
    """The whole handbook over http."""
    with serving(site) as address:
        yield address


@pytest.fixture
def phone(browser, served):
    """A page of a phone's size in a browser of its own, that may keep files; a mistake in a script of the site fails the test."""
    context = browser.new_context(viewport=PHONE, accept_downloads=True)
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield page
    assert not errors
    context.close()


SLOW = ("chromium", "site", "served", "shared_page", "browser")


@functools.cache
def long_ones():
    """What takes too long for the usual run, by name."""
    return {line for line in (Path(__file__).parent / "long.txt").read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")}


def pytest_itemcollected(item):
    """Such a test is among the long rounds. One that is named there and is no more is told by its own test."""
    if item.nodeid in long_ones():
        item.add_marker(pytest.mark.sweep)


def pytest_addoption(parser):
    """`--share 2/5`: only the second of five shares of what is run, each test always in one and the same."""
    parser.addoption("--share", default="1/1", metavar="ONE/OF", help="run one share of the tests, such as 2/5; the five together are all of them")


def share_of(nodeid, many):
    """Which of so many shares a test is in, from 1: by its name, so that a new test moves no other."""
    return int(hashlib.sha256(nodeid.encode()).hexdigest(), 16) % many + 1


@pytest.hookimpl(trylast=True)  # after what is left out by its mark
def pytest_collection_modifyitems(config, items):
    """Pure tests first, then those that want the site, then those that want a browser; with workers, each worker's share in that order.

    Files stay whole, so that what a file makes is made by one worker. Shares are of equal count, which is how the work is handed out.
    """

    mine, many = map(int, config.getoption("--share").split("/"))
    left = [item for item in items if share_of(item.nodeid, many) != mine]
    if left:
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if share_of(item.nodeid, many) == mine]

    def cost(item):
        return sum(name in item.fixturenames for name in SLOW)

    workers = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    quick = [item for item in items if not cost(item)]
    files = {}
    for item in sorted((item for item in items if cost(item)), key=cost):
        files.setdefault((item.path, cost(item)), []).append(item)
    shares = [[] for _ in range(workers)]
    for group in sorted(files.values(), key=len, reverse=True):
        min(shares, key=len).extend(group)
    ordered, size = [], len(items) / workers
    for number, share in enumerate(shares):
        room = max(0, round(size * (number + 1)) - len(ordered) - len(share))
        ordered += quick[:room] + sorted(share, key=cost)
        del quick[:room]
    items[:] = ordered + quick
