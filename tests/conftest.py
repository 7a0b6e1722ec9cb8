"""What every test starts from: the project's own facts and formulas, read once."""

from __future__ import annotations

import functools
import http.server
import os
import sys
import threading
from contextlib import contextmanager
from pathlib import Path

import pytest

from generators import formulas
from generators.formulas.own_cups import open_handbook

ROOT = Path(__file__).resolve().parent.parent
CHROMIUM = Path("/usr/bin/chromium")
CHROMIUM_FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"]


@pytest.fixture(scope="session")
def facts():
    return open_handbook(ROOT)


@pytest.fixture(scope="session")
def catalogue(facts):
    return formulas.catalogue(facts)


@pytest.fixture(scope="session")
def browser():
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


@pytest.fixture(scope="session")
def site(tmp_path_factory):
    """The whole handbook, built once."""
    from generators.site.build import build

    out = tmp_path_factory.mktemp("build") / "site"
    build(ROOT, out)
    return out


class Server(http.server.ThreadingHTTPServer):
    """A browser that closes in the middle of an answer is no mistake; anything else is told."""

    def handle_error(self, request, client_address):
        """Told unless the other side hung up."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A file server that says nothing."""

    def log_message(self, *_):
        """Nothing."""


@contextmanager
def serving(folder):
    """Address of a folder served over http on this machine."""
    server = Server(("127.0.0.1", 0), functools.partial(Quiet, directory=str(folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def served(site):
    """The whole handbook over http."""
    with serving(site) as address:
        yield address


LONG = ("test_kill", "test_injection", "test_fuzz", "test_access", "test_search")


def pytest_collection_modifyitems(items):
    """The long ones first, so that no worker is left alone with one at the end. Each file keeps its own order."""
    items.sort(key=lambda item: LONG.index(item.path.stem) if item.path.stem in LONG else len(LONG))
