"""The book as PDF, in three steps, of which the first two are processes that end, so that no two need memory at once: facts are read and pages filled; the book is
laid out once to find on which sheet everything lies; and here it is set, with every place known."""

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
from typing import Any

_TEMPLATE = Path(__file__).parent / "templates" / "book.typ"
_FONTS = Path(__file__).parents[1] / "render" / "fonts"


_ROUNDS = 3  # a number that is shorter than its place-holder may move a line, and that line a sheet


class _Moved(Exception):
    """A place is not where it was said to be."""


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
        made = datetime.fromisoformat(_step("generators.paper", folder, json.dumps(asked)).strip()).replace(tzinfo=UTC)
        (Path(folder) / "places.json").write_text('{"marks": {}, "uses": {}}', encoding="utf-8", newline="\n")  # none is known
        for _ in range(_ROUNDS):
            _step("generators.paper.places", folder)
            with contextlib.suppress(_Moved):
                return _typeset(Path(folder), made)
    raise NoBook([f"wanted sheets that stand still once their numbers are filled in; came a book that moved {_ROUNDS} times; leave a page out (--pages), or take another --size"])


def _step(module: str, folder: str, said: str = "") -> str:
    """What a step that is a process of its own has to say. NoBook with what went wrong in it."""
    done = subprocess.run([sys.executable, "-m", module, folder], input=said, capture_output=True, text=True, encoding="utf-8", env={**os.environ, "PYTHONUTF8": "1"},
                          cwd=Path(__file__).parents[2])
    if done.returncode:
        raise NoBook(done.stderr.splitlines())
    return done.stdout


def compiler(folder: Path, **said: str) -> Any:
    """The typesetter over `book.json` and `places.json` in a folder, and what it is told besides."""
    import typst

    _give_memory_back()
    (folder / "book.typ").write_text(_TEMPLATE.read_text(encoding="utf-8"), encoding="utf-8", newline="\n")
    return typst.Compiler(folder / "book.typ", root=folder, font_paths=[_FONTS], ignore_system_fonts=True, sys_inputs=said)


def _typeset(folder: Path, made: datetime) -> bytes:
    """The template over the folder's data as PDF/A-2a and PDF/UA-1, both checked by the typesetter. Same data, same bytes: its only date is the handbook's own."""
    import typst

    try:
        pdf = compiler(folder, set="1").compile(format="pdf", pdf_standards=["a-2a", "ua-1"], timestamp=made)
    except typst.TypstError as error:
        if "moved" in str(error):
            raise _Moved from error
        raise
    assert isinstance(pdf, bytes)  # one file, since PDF holds every page
    return pdf


def _give_memory_back() -> None:
    """Big pieces go back to the system as soon as they are free. GNU's C library else keeps ever bigger ones for later, twenty megabytes of a whole book."""
    with contextlib.suppress(AttributeError, OSError, TypeError):  # no such call on macOS, no such library on Windows
        ctypes.CDLL(None).mallopt(-3, 65536)  # M_MMAP_THRESHOLD of its malloc.h, in bytes: once it is said, it no longer grows
