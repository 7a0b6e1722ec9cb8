"""The book as PDF. One process reads facts and fills pages, and ends; only then does this one set them, so that the two never need memory at once."""

from __future__ import annotations

import contextlib
import ctypes
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

_TEMPLATE = Path(__file__).parent / "templates" / "book.typ"
_FONTS = Path(__file__).parents[1] / "render" / "fonts"


class NoBook(Exception):
    """Why there is no book; `lines` tell it all."""

    def __init__(self, lines: Sequence[str]) -> None:
        self.lines = list(lines)
        super().__init__("\n".join(self.lines))


def book(root: Path, region: str | None = None, size: str = "", part: str = "", chosen: Sequence[str] = ()) -> bytes:
    """The handbook at `root` as one PDF. `size`: a4, letter or pocket, or the region's own; `part`: a folder of pages; `chosen`: addresses of pages.

    NoBook with every problem where there is nothing to print.
    """
    asked = {"root": str(root), "region": region, "size": size, "part": part, "chosen": list(chosen)}
    with tempfile.TemporaryDirectory() as folder:
        done = subprocess.run([sys.executable, "-m", "generators.paper", folder], input=json.dumps(asked), capture_output=True, text=True, encoding="utf-8",
                              env={**os.environ, "PYTHONUTF8": "1"}, cwd=Path(__file__).parents[2])
        if done.returncode:
            raise NoBook(done.stderr.splitlines())
        return _typeset(Path(folder), datetime.fromisoformat(done.stdout.strip()).replace(tzinfo=UTC))


def _typeset(root: Path, made: datetime) -> bytes:
    """The template over `book.json` in `root` as PDF/A-2a and PDF/UA-1, both checked by the typesetter. Same data, same bytes: its only date is the handbook's own."""
    import typst

    _give_memory_back()
    (root / "book.typ").write_text(_TEMPLATE.read_text(encoding="utf-8"), encoding="utf-8", newline="\n")
    compiler = typst.Compiler(root / "book.typ", root=root, font_paths=[_FONTS], ignore_system_fonts=True)
    pdf = compiler.compile(format="pdf", pdf_standards=["a-2a", "ua-1"], timestamp=made)
    assert isinstance(pdf, bytes)  # one file, since PDF holds every page
    return pdf


def _give_memory_back() -> None:
    """Big pieces go back to the system as soon as they are free. GNU's C library else keeps ever bigger ones for later, twenty megabytes of a whole book."""
    with contextlib.suppress(AttributeError, OSError, TypeError):  # no such call on macOS, no such library on Windows
        ctypes.CDLL(None).mallopt(-3, 65536)  # M_MMAP_THRESHOLD of its malloc.h, in bytes: once it is said, it no longer grows
