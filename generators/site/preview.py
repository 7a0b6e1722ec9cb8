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
