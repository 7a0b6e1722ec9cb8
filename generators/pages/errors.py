"""Problems in pages, told the way problems in facts are."""

from __future__ import annotations

from collections.abc import Sequence


class PageError(Exception):
    """Every problem found while building pages; `problems` are lines of `path:line: wanted; came; mend`."""

    def __init__(self, problems: Sequence[str]) -> None:
        self.problems = list(problems)
        super().__init__("\n".join(self.problems))
