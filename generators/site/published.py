"""From a folder to phones: what a static host wants, and a look at the result as a stranger has it."""

from __future__ import annotations

import functools
import http.client
import http.server
import posixpath
import re
import threading
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import quote, unquote, urljoin, urlsplit

from generators import owned, progress
from generators.site.build import build
from generators.site.door import environment
from generators.version import NUMBER

_NOWHERE = re.compile(r"(^|\.)(example|invalid|test|localhost)$")  # names that belong to nobody, RFC 2606
WORKFLOW = """\
# Builds the handbook on the host each time a fact or a page changes, and puts it at its address.
# Lay this file where your host looks for such files, then say there that the site comes from this workflow.
name: handbook
on:
  push: {{branches: [main]}}
permissions: {{contents: read, pages: write, id-token: write}}
concurrency: {{group: handbook, cancel-in-progress: true}}
jobs:
  handbook:
    runs-on: ubuntu-latest
    environment: {{name: github-pages}}
    steps:
      - uses: actions/checkout@v4
      - uses: actions/setup-python@v5
        with: {{python-version: "3.12"}}
      - run: pip install "{package}"
      - run: almanac check
      - run: almanac publish --base-url {address} --out published
      - uses: actions/upload-pages-artifact@v3
        with: {{path: published}}
      - uses: actions/deploy-pages@v4
"""


@dataclass(frozen=True)
class Published:
    """What was made, and how large it is."""

    folder: Path
    packed: Path | None
    files: int
    size: int


def wrong_address(address: str) -> str:
    """Why readers cannot find a site there; "" for an address that can be one."""
    parts = urlsplit(address)
    if parts.scheme != "https" and parts.hostname not in ("localhost", "127.0.0.1"):
        return "an address that begins with https://, since browsers keep nothing for use without signal from any other"
    if not parts.hostname or parts.query or parts.fragment or re.search(r"[\s\"'<>]", address):
        return "an address such as https://your-name.org/spray"
    if _NOWHERE.search(parts.hostname) and parts.hostname != "localhost":
        return "the address that your host gave you; names under .example belong to nobody"
    return ""


def publish(root: Path, out: Path, address: str, region: str | None = None, packed: Path | None = None) -> Published:
    """Build for `address` into `out`, and pack the same as a zip. SiteError or owned.NotOurs if not."""
    with environment(ALMANAC_ANEW="1"):  # what strangers read never rests on notes of the last time
        build(root, out, region, address)
    files = sorted(path for path in out.rglob("*") if path.is_file())
    if packed:
        with owned.whole_file(packed, root) as part, zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as pack:
            pack.comment = b"made by almanac publish"
            for path in files:
                name = path.relative_to(out).as_posix()
                if name != owned.MARK:
                    pack.writestr(zipfile.ZipInfo(name, (2020, 1, 1, 0, 0, 0)), path.read_bytes(), zipfile.ZIP_DEFLATED)
    return Published(out, packed, len(files), sum(path.stat().st_size for path in files))


class _Asks(HTMLParser):
    """What one page loads, and where it leads."""

    def __init__(self) -> None:
        super().__init__()
        self.loads: list[str] = []
        self.leads: list[str] = []
        self.policy = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in attrs}
        if tag in ("script", "img", "iframe", "source") and said.get("src"):
            self.loads.append(said["src"])
        elif tag == "link" and said.get("href") and said.get("rel") in ("stylesheet", "icon", "manifest", "apple-touch-icon"):
            self.loads.append(said["href"])
        elif tag == "a" and said.get("href"):
            self.leads.append(said["href"])
        elif tag == "meta" and said.get("http-equiv", "").lower() == "content-security-policy":
            self.policy = True


class _Host(http.server.SimpleHTTPRequestHandler):
    """A static host that has the site under its path, and answers all else with the site's own not-found page."""

    def __init__(self, *arguments: object, base: str, **more: object) -> None:
        self.base = base
        super().__init__(*arguments, **more)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        path = unquote(urlsplit(self.path).path)
        inside = path.removeprefix(self.base) if path.startswith(self.base) else None
        file = Path(self.directory) / posixpath.normpath("/" + (inside if inside is not None else "?")).lstrip("/")
        if inside is not None and (file / "index.html").is_file():
            file = file / "index.html"
        found = inside is not None and file.is_file()
        missing = Path(self.directory) / "404.html"
        content = file.read_bytes() if found else missing.read_bytes() if missing.is_file() else b""
        self.send_response(200 if found else 404)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, format: str, *arguments: object) -> None:
        """Nobody reads it."""


@contextmanager
def _hosted(folder: Path, base: str) -> Iterator[int]:
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Host, base=base, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield server.server_address[1]
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


def stranger(folder: Path, address: str) -> list[str]:
    """What somebody without this folder would stumble over: problems, none where all is well.

    The folder is put on a host of our own under the address's path, and read from its first page on, as a browser does.
    """
    base = (urlsplit(address).path.rstrip("/") or "") + "/"
    problems: list[str] = []
    with _hosted(folder, base) as port:
        line = http.client.HTTPConnection("127.0.0.1", port, timeout=20)

        def get(path: str) -> tuple[int, bytes]:
            line.request("GET", quote(path))
            answer = line.getresponse()
            return answer.status, answer.read()

        seen, waiting = {base}, [base]
        while waiting:
            progress.at("looking", len(seen) - len(waiting), len(seen))
            here = waiting.pop()
            status, content = get(here)
            if status != 200:
                problems.append(f"{here}: wanted a page or a file; came {status}; build again, or mend the link")
                continue
            if not (here.endswith((".html", "/"))):
                continue
            page = _Asks()
            page.feed(content.decode("utf-8", "replace"))
            if not page.policy:
                problems.append(f"{here}: wanted the policy that keeps foreign scripts out; came none; build again")
            for link in (*page.loads, *page.leads):
                parts = urlsplit(urljoin(f"https://{_SELF}{here}", link))
                if parts.scheme != "https" or parts.hostname != _SELF:
                    if link in page.loads and parts.scheme in ("http", "https"):
                        problems.append(f"{here}: wanted nothing from other people's machines; came {link}; lay a copy into handbook/")
                    continue
                path = unquote(parts.path)
                if not path.startswith(base):
                    problems.append(f"{here}: wanted links inside {base}; came {link}; write it without a slash in front")
                elif path not in seen:
                    seen.add(path)
                    waiting.append(path)
        problems += _not_found(get, base)
        listed = re.search(rb"^const FILES = (\{.*\});$", (folder / "sw.js").read_bytes(), re.MULTILINE)
        names = re.findall(r'"([^"]+)":"', listed[1].decode()) if listed else []
        problems += [f"sw.js: wanted every file of the copy without signal; came none for {name}; build again" for name in names if get(base + name)[0] != 200]
        if not names:
            problems.append("sw.js: wanted a list of files to keep for use without signal; came none; build again")
        line.close()
    for name in (".almanac", "site_data", "handbook.yaml", ".git"):
        if (folder / name).exists():
            problems.append(f"{name}: wanted a finished site; came sources or what a build keeps for itself; name another folder with --out")
    return problems


_SELF = "handbook.invalid"


def _not_found(get: object, base: str) -> list[str]:
    """A wrong address, deep down: the site's own page, whose styles and links are found from there."""
    status, content = get(f"{base}no/such/page.html")  # type: ignore[operator]
    if status != 404 or b"<h1" not in content:
        return ["404.html: wanted a page for addresses that are none; came none; build again"]
    page = _Asks()
    page.feed(content.decode("utf-8", "replace"))
    problems = []
    for link in page.loads:
        path = unquote(urlsplit(urljoin(f"https://{_SELF}{base}no/such/page.html", link)).path)
        if get(path)[0] != 200:  # type: ignore[operator]
            problems.append(f"404.html: wanted styles and scripts that are found from any address; came {link}; give the address with --base-url")
    return problems


def workflow(address: str, package: str = f"sprayers-almanac=={NUMBER}") -> str:
    """A file for a host that builds the site itself."""
    return WORKFLOW.format(address=address, package=package)
