"""The second step of a book, in a process of its own: where each thing lies on its sheets, from `book.json` in a folder into `places.json` beside it."""

from __future__ import annotations

import sys
from pathlib import Path

from generators.paper.typeset import compiler


def main() -> None:
    """Lays the book out with the places known so far, and writes those that it has."""
    folder = Path(sys.argv[1])
    found = compiler(folder).query("<places>", field="value", one=True)
    (folder / "places.json").write_text(found, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
