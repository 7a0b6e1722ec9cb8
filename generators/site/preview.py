"""Live preview: a page that reloads when its facts, words or code change, on this machine and on a phone beside it.

MkDocs' own live reload is a script inside the page, which the site's policy refuses to run; ours is a file.
"""

from __future__ import annotations

import logging
import socket
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from jinja2.bccache import Bucket, BytecodeCache
from mkdocs.structure.files import File

from generators import layers
from generators.site.door import docs, environment, placed

SCRIPT = "assets/preview.js"
_NOT_ON_A_PHONE = ("On the phone, the preview is not kept for use without signal and cannot be put on the home screen: browsers want https for both, as your published site has. "
                   "All else works. Who is on the same network can read it while this runs.")


class Kept(File):
    """A page or a file that says what it said at the last build: it need not be written again."""

    def is_modified(self) -> bool:
        """Only where it is not there."""
        return not Path(self.abs_dest_path).is_file()


class Templates(BytecodeCache):
    """The theme's templates compiled, from one build to the next."""

    def __init__(self) -> None:
        self.codes: dict[str, Any] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Jinja asks; a text that has changed has another checksum."""
        if found := self.codes.get(f"{bucket.key} {bucket.checksum}"):
            bucket.code = found

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Jinja gives."""
        self.codes[f"{bucket.key} {bucket.checksum}"] = bucket.code


class Glance:
    """What somebody looks at while `serve` runs. After a change those pages are made first and shown; then all the others, unless a newer change comes."""

    OFTEN = 0.15  # seconds between two looks at the files

    def __init__(self) -> None:
        self.seen: list[str] = []  # the last two pages that were sent
        self.shown: list[str] = []  # those that are newer than all the others
        self.since: set[str] = set()  # what was sent while the others are made
        self.server: Any = None
        self.rest = True  # whether the next build is of everything

    def watch(self, server: Any) -> None:
        """Note each page that this server sends."""
        self.server, self.rest, send = server, False, server._serve_request
        server.observer._timeout = self.OFTEN

        def sent(environ: dict[str, Any], start: Any) -> Any:
            path = environ.get("PATH_INFO", "").removeprefix(server.mount_path).lstrip("/")
            if path == "" or path.endswith(("/", ".html")):
                page = (path + "index.html" if path == "" or path.endswith("/") else path).removesuffix(".html") + ".md"
                self.seen = [page, *(one for one in self.seen if one != page)][:2]
                self.since.add(page)
            return send(environ, start)

        server._serve_request = sent

    def overtaken(self) -> bool:
        """Whether a file was saved since this build began."""
        return bool(self.server is not None and self.server._want_rebuild)

    def again(self, shown: list[str]) -> None:
        """These pages are new; ask for one more build, of everything, as soon as they are shown."""
        self.rest, self.shown = True, shown
        with self.server._rebuild_cond:
            self.server._want_rebuild = True
            self.server._rebuild_cond.notify_all()

    def behind_their_backs(self) -> None:
        """While the others are made, what is there is sent without waiting."""
        self.since.clear()
        with self.server._epoch_cond:
            self.server._wanted_epoch = self.server._visible_epoch
            self.server._epoch_cond.notify_all()

    def done(self) -> None:
        """All is new: whoever has opened an old page meanwhile gets it again."""
        if self.shown and not self.since <= set(self.shown):
            self.server._wanted_epoch = self.server._visible_epoch + 1
        self.shown = []


class _Plainly(logging.Handler):
    """What MkDocs complains of while it serves: each thing once, in a plain line, at its file."""

    def __init__(self, root: Path) -> None:
        super().__init__(logging.WARNING)
        self.root = root

    def emit(self, record: logging.LogRecord) -> None:
        told = record.getMessage()
        if "'dirty' build" not in told and "stale files" not in told and " code 404" not in told:
            print("\n".join(placed(told, self.root)), file=sys.stderr, flush=True)


def with_script(content: bytes, epoch: int) -> bytes:
    """A page that asks this server, over and over, whether there is a newer build than `epoch`."""
    before, end, after = content.rpartition(b"</body>")
    where = b"/" + SCRIPT.encode()
    return before + b'<script src="%b" data-epoch="%d"></script>' % (where, epoch) + end + after if end else content


def address_on_the_network() -> str | None:
    """This machine's address for its neighbours; None where it has none. Nothing is sent."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # an address for documents, RFC 5737: only the way out is looked up
            found = str(probe.getsockname()[0])
        except OSError:
            return None
    return found if not found.startswith("127.") else None


def free_port(wanted: int, host: str) -> int:
    """The wanted port, or the next one that nobody listens on."""
    for port in range(wanted, wanted + 50):
        with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
            if sys.platform != "win32":
                probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind((host, port))
                return port
            except OSError:
                continue
    return wanted


def code(address: str) -> str:
    """A square code for a terminal; "" where it cannot show one."""
    if (sys.stdout.encoding or "").lower().replace("-", "") != "utf8":
        return ""
    import io

    import segno

    out = io.StringIO()
    segno.make(address, error="l").terminal(out, compact=True)
    return out.getvalue()


def serve(root: Path, region: str | None = None, here: bool = False, port: int = 8000, say: Callable[[str], None] = print) -> None:
    """Until stopped. `here`: for this machine only. SiteError where the settings cannot be read."""
    from mkdocs.commands.serve import serve as mkdocs_serve

    settings = layers.find(root, "mkdocs.yml")
    own_address = settings.is_file() and "dev_addr:" in settings.read_text(encoding="utf-8-sig", errors="replace")
    given: dict[str, Any] = {}
    if not own_address:
        host = "127.0.0.1" if here else "0.0.0.0"
        port = free_port(port, host)
        given["dev_addr"] = f"{host}:{port}"
        say(f"on this machine: http://127.0.0.1:{port}/")
        if not here and (neighbour := address_on_the_network()):
            say(f"on a phone in the same network: http://{neighbour}:{port}/")
            say(code(f"http://{neighbour}:{port}/") + _NOT_ON_A_PHONE)
    say("Save a file, and the page shows it. Ctrl-C ends this.")
    logger = logging.getLogger("mkdocs")
    logger.setLevel(logging.WARNING)
    logger.propagate = False
    logger.addHandler(_Plainly(root))
    with docs(root) as pages, environment(NO_MKDOCS_2_WARNING="1", ALMANAC_ROOT=str(root), ALMANAC_REGION=region):
        mkdocs_serve(str(settings), strict=False, docs_dir=str(pages), build_type="dirty", **given)
