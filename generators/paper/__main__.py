"""The first half of a book, in a process of its own: what is asked for as JSON in, the book's data as `book.json` into a folder, its date out, every problem on the error stream."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from generators import beside
from generators.facts import FactsError
from generators.formulas.own_cups import open_handbook
from generators.pages import PageError
from generators.paper.data import book_data
from generators.paper.order import BookError


def main() -> int:
    """Exit code 0 with the data written, or 1 with problems."""
    beside.alone()
    asked = json.loads(sys.stdin.read())
    try:
        facts = open_handbook(Path(asked["root"]), asked["region"])
        size = asked["size"] or ("letter" if facts.handbook.words == "us" else "a4")
        data = book_data(facts, size, asked["part"], asked["chosen"])
    except FactsError as error:
        lines = [str(problem) for problem in error.problems]
    except PageError as error:
        lines = list(error.problems)
    except BookError as error:
        lines = error.lines
    else:
        (Path(sys.argv[1]) / "book.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8", newline="\n")
        print(data["date"])
        return 0
    sys.stderr.write("\n".join(lines) + "\n")
    return 1


if __name__ == "__main__":
    sys.exit(main())
