"""Hosts as they are: `python tests/hosts.py [--host NAME] [--seed 1] [--pages 0]`. What does the copy on the device make of each?

A small server on this machine serves one built site the way a bad host would. Chromium opens the first page and waits until
the foot of the page says how it stands. Then the server goes away, and every page is read without it. Either the copy is
kept and every byte of every page is the build's, or the page says plainly that it is not.
"""

from __future__ import annotations

import argparse
import gzip
import hashlib
import http.server
import random
import re
import shutil
import socket
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, ClassVar

TYPES = {".html": "text/html", ".css": "text/css", ".js": "text/javascript", ".json": "application/json", ".svg": "image/svg+xml", ".webmanifest": "application/manifest+json",
         ".woff2": "font/woff2", ".png": "image/png", ".pdf": "application/pdf"}
CHROMIUM = Path("/usr/bin/chromium")
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"]

# What each host does, and how it must end: kept whole, or told plainly that it is not.
HOSTS = {
    "plain": "kept", "clean addresses": "kept", "clean addresses without a slash": "kept", "compresses": "kept", "byte order mark": "kept", "wrong types": "kept", "hides dot files": "kept",
    "500 now and then": "kept", "error page with 200 now and then": "kept", "drops 5 %": "kept", "cuts short now and then": "kept", "stale on the way": "kept", "long cache times": "kept",
    "stands still now and then": "kept", "signal lost half way": "kept", "429 when asked too fast": "kept", "under a folder": "kept", "redirects to another host's login at first": "kept",
    "500 for one file": "not", "error page with 200 for one file": "not", "adds a script": "not", "minifies": "not", "404 for one file": "not", "no worker": "not", "error page for the worker": "not",
}


class Host(http.server.BaseHTTPRequestHandler):
    """One folder, served in one of the ways above."""

    protocol_version = "HTTP/1.1"
    way: ClassVar[str] = "plain"
    root: ClassVar[Path] = Path()
    older: ClassVar[Path | None] = None  # an earlier edition, for stale copies
    rng: ClassVar[random.Random] = random.Random(1)
    asked: ClassVar[Counter[str]] = Counter()
    began: ClassVar[float] = 0.0
    down: ClassVar[bool] = False

    def log_message(self, *_: Any) -> None:
        """Nothing."""

    def _send(self, body: bytes, status: int = 200, kind: str = "text/html", **headers: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        for name, value in headers.items():
            self.send_header(name.replace("_", "-"), value)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def _hang_up(self) -> None:
        self.close_connection = True
        self.connection.shutdown(socket.SHUT_RDWR)

    def do_GET(self) -> None:
        """One file, or whatever this host makes of it."""
        cls, way = type(self), self.way
        address, _, query = self.path.partition("?")
        cls.asked[address] += 1
        first = address == "/index.html" or address == "/"  # the reader's own first page comes through: else there is no visit
        chance = self.rng.random
        if cls.down or (way == "signal lost half way" and 0 < time.monotonic() - cls.began < 4 and sum(cls.asked.values()) > 120) or (way == "drops 5 %" and not first and chance() < 0.05):
            if way == "signal lost half way" and not cls.down:
                cls.began = cls.began or time.monotonic()
            return self._hang_up()
        if way == "signal lost half way" and not cls.began and sum(cls.asked.values()) > 120:
            cls.began = time.monotonic()
        name = address.lstrip("/")
        if way == "under a folder":
            name = name.removeprefix("deep/er/")
        if way.startswith("clean addresses") and (name.endswith(".html") or name == "index.html"):
            to = "/" + name.removesuffix(".html")
            to = re.sub(r"(^|/)index$", "/" if way == "clean addresses" else "", to) or "/"
            return self._send(b"", 308, Location=to + (f"?{query}" if query else ""))
        path = self.root / name
        if way.startswith("clean addresses") and not path.is_file():
            path = next((one for one in (path.with_name(path.name + ".html"), path / "index.html") if path.name and one.is_file()), path)
        if path.is_dir():
            path = path / "index.html"
        if not path.is_file() or (way == "hides dot files" and path.name[0] in "._"):
            return self._send(b"<h1>No such page</h1>", 404)
        return self._file(path, name, query, first)

    def _file(self, path: Path, name: str, query: str, first: bool) -> None:
        way, chance = self.way, self.rng.random
        body, kind, more = path.read_bytes(), TYPES.get(path.suffix, "application/octet-stream"), {}
        html = path.suffix == ".html"
        if way == "500 now and then" and not first and chance() < 0.1:
            return self._send(b"later", 500)
        if way == "error page with 200 now and then" and not first and name != "sw.js" and chance() < 0.1:
            return self._send(b"<h1>We are looking into it</h1>")
        if way == "redirects to another host's login at first" and not first and self.asked["/" + name] == 1 and name != "sw.js":
            return self._send(b"", 302, Location="http://127.0.0.1:9/login")
        if way == "429 when asked too fast":
            now = time.monotonic()
            cls = type(self)
            cls.began = max(cls.began, now - 1) + 1 / 60  # sixty a second
            if cls.began > now and not first and name != "sw.js":
                return self._send(b"slower", 429)
        one = name == "mix/thinning.html"
        if one and way == "500 for one file":
            return self._send(b"broken", 500)
        if one and way == "error page with 200 for one file":
            return self._send(b"<h1>Something went wrong</h1>")
        if one and way == "404 for one file":
            return self._send(b"<h1>No such page</h1>", 404)
        if name == "sw.js" and way == "no worker":
            return self._send(b"<h1>No such page</h1>", 404)
        if name == "sw.js" and way == "error page for the worker":
            return self._send(b"<h1>Welcome</h1>")
        if way == "cuts short now and then" and not first and chance() < 0.1:
            self.send_response(200)
            self.send_header("Content-Type", kind)
            self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body[: len(body) // 2])
            return self._hang_up()
        if way == "stands still now and then" and not first and chance() < 0.01:
            time.sleep(25)
            return self._hang_up()
        if way == "stale on the way" and self.older and not query and (self.older / name).is_file() and name != "sw.js":
            body = (self.older / name).read_bytes()
        if way == "long cache times":
            more["Cache_Control"] = "max-age=31536000, immutable"
        if way == "byte order mark" and path.suffix in (".html", ".css", ".json"):
            body = b"\xef\xbb\xbf" + body
        if way == "adds a script" and html:
            body = body.replace(b"</body>", b'<script src="/counter.js"></script></body>')
        if way == "minifies" and html:
            body = body.replace(b"\n", b" ")
        if way == "wrong types" and path.suffix not in (".html", ".js", ".css"):
            kind = "text/plain"
        if way == "compresses" and path.suffix not in (".woff2", ".png", ".pdf") and "gzip" in self.headers.get("Accept-Encoding", ""):
            body = gzip.compress(body)
            more["Content_Encoding"] = "gzip"
        return self._send(body, kind=kind, **more)


class Server(http.server.ThreadingHTTPServer):
    """A browser that closes in the middle is no mistake."""

    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Told unless the other side, or we, hung up."""
        if not isinstance(sys.exc_info()[1], OSError):
            super().handle_error(request, client_address)


@contextmanager
def host(way: str, root: Path, older: Path | None = None, seed: int = 1) -> Iterator[tuple[str, type[Host]]]:
    """(address of the handbook, its handler) while it serves."""
    handler = type("ThisHost", (Host,), {"way": way, "root": root, "older": older, "rng": random.Random(seed), "asked": Counter(), "began": 0.0, "down": False})
    server = Server(("127.0.0.1", 0), handler)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_address[1]}" + ("/deep/er" if way == "under a folder" else ""), handler
    finally:
        server.shutdown()
        server.server_close()


def older_edition(site: Path, folder: Path) -> Path:
    """The same site with other words in a third of its pages, as a host's cache may hold it."""
    shutil.copytree(site, folder)
    for path in sorted(folder.rglob("*.html"))[::3]:
        path.write_bytes(path.read_bytes().replace(b"</h1>", b" (last year)</h1>", 1))
    return folder


def settled(page: Any, timeout: float = 120) -> tuple[str, str]:
    """(state, words) at the foot of the page, once it has stopped moving."""
    end = time.monotonic() + timeout
    while time.monotonic() < end:
        state = page.evaluate("document.documentElement.dataset.kept || ''")
        if state in ("yes", "no", "part"):
            return state, page.locator("#alm-kept span").inner_text()
        page.wait_for_timeout(150)
    raise AssertionError(f"the foot of the page never settled: {page.locator('#alm-kept').inner_text()!r}")


READ = """async ([root, names]) => {
  const wrong = [];
  for (const [name, digest] of names) {
    try {
      const answer = await fetch(root + name);
      const found = new Uint8Array(await crypto.subtle.digest("SHA-256", await answer.arrayBuffer()));
      const hex = Array.from(found, (byte) => byte.toString(16).padStart(2, "0")).join("");
      if (!answer.ok || hex !== digest) wrong.push(name);
    } catch { wrong.push(name); }
  }
  return wrong;
}"""


def unread(page: Any, address: str, site: Path) -> list[str]:
    """Pages and what they need that cannot be read now, or not byte for byte."""
    names = [path for path in sorted(site.rglob("*")) if path.is_file() and path.suffix in (".html", ".js", ".css", ".pdf", ".woff2") and path.name not in ("sw.js", "search_index.js")]
    return list(page.evaluate(READ, [address + "/", [[path.relative_to(site).as_posix(), hashlib.sha256(path.read_bytes()).hexdigest()] for path in names]]))


def visit(context: Any, way: str, site: Path, older: Path | None = None, seed: int = 1, pages: int = 6) -> list[str]:
    """Complaints about one host; none is well."""
    complaints = []
    with host(way, site, older, seed) as (address, handler):
        page = context.new_page()
        page.set_default_timeout(60_000)
        page.goto(f"{address}/index.html")
        for _ in range(4):  # the page's own script may be what was lost: a reader opens the page again
            page.wait_for_timeout(2000)
            if page.evaluate("document.querySelector('#alm-kept').hidden && !navigator.serviceWorker.controller"):
                page.reload()
        state, words = settled(page)
        for _ in range(4):  # as a reader would: press once more, or come back
            if state == "yes" or HOSTS[way] == "not":
                break
            page.wait_for_timeout(3000)
            if page.locator("#alm-again").is_visible():
                page.locator("#alm-again").click()
                page.wait_for_timeout(500)
            state, words = settled(page)
        handler.down = True  # every connection is hung up on from here
        if HOSTS[way] == "not":
            if state == "yes" or "✓" in words:
                complaints.append(f"it says {words!r}")
            if state == "part" and (found := re.search(r"(\d+) of (\d+) files", words)) and int(found[1]) >= int(found[2]):
                complaints.append(f"it says {words!r}")
            return complaints
        if state != "yes":
            return [f"not kept: {words}"]
        bad = unread(page, address, site)
        if bad:
            complaints.append(f"it says {words!r}, and {len(bad)} files cannot be read without the host: {bad[:4]}")
        names = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html") if path.name != "404.html")
        for name in names[:: max(1, len(names) // pages)] if pages else names:
            page.goto(f"{address}/{name}")
            if not page.locator("h1").first.inner_text().strip() or not page.url.endswith(name):
                complaints.append(f"{name} does not open: {page.url}")
        page.close()
    return complaints


def main() -> int:
    """One line for each host; 1 where a copy says what is not so."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--host", choices=HOSTS, action="append", help="only this one (may be given again)")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--pages", type=int, default=0, help="how many pages are opened one by one without the host (default: all)")
    parser.add_argument("--site", type=Path, help="a site that is built already")
    options = parser.parse_args()
    from playwright.sync_api import sync_playwright

    from generators.site.build import build

    failed = 0
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        site = (options.site or Path(folder) / "site").resolve()
        if not options.site:
            build(Path(__file__).resolve().parent.parent, site)
        older = older_edition(site, Path(folder) / "older")
        browser = play.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        for way in options.host or HOSTS:
            context = browser.new_context(viewport={"width": 360, "height": 800})
            began = time.monotonic()
            complaints = visit(context, way, site, older, options.seed, options.pages)
            context.close()
            failed += bool(complaints)
            print(f"{way}: {HOSTS[way]}, as it should be" if not complaints else f"{way}: BROKEN: {'; '.join(complaints)}", f"({time.monotonic() - began:.0f} s)", flush=True)
        browser.close()
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
