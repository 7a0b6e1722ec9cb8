"""Problems in pages, told the way problems in facts are."""

from __future__ import annotations

from collections.abc import Sequence


class PageError(Exception):
    """Every problem found while building pages; `problems` are lines of `path:line: wanted; came; mend`, `traces` where in the code each came up."""

    def __init__(self, problems: Sequence[str], traces: Sequence[str] = ()) -> None:
        self.problems, self.traces = list(dict.fromkeys(problems)), list(traces)
        super().__init__("\n".join(self.problems))
