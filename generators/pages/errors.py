"""Problems in pages, told the way problems in facts are."""

from __future__ import annotations

import traceback
from collections.abc import Sequence
from pathlib import Path

TEMPLATES = Path(__file__).parent / "templates"
_ROOMS = Path(__file__).parents[1]


class PageError(Exception):
    """Every problem found while building pages; `problems` are lines of `path:line: wanted; came; mend`, `traces` where in the code each came up."""

    def __init__(self, problems: Sequence[str], traces: Sequence[str] = ()) -> None:
        self.problems, self.traces = list(dict.fromkeys(problems)), list(traces)
        super().__init__("\n".join(self.problems))


def builder_of(error: Exception) -> str:
    """`path:line` of our own code where an error that nobody raised on purpose came up; "" where the page's own call is at fault."""
    if not type(error).__module__.startswith("builtins"):
        return ""
    ours = [frame for frame in traceback.extract_tb(error.__traceback__) if Path(frame.filename).is_relative_to(_ROOMS) and not Path(frame.filename).is_relative_to(TEMPLATES)]
    if not ours:
        return ""
    last = Path(ours[-1].filename).relative_to(_ROOMS)
    if last.parts[0] == "facts" or last.as_posix() in ("pages/build.py", "pages/words.py"):
        return ""  # a name that is none, looked up for the page
    return f"generators/{last.as_posix()}:{ours[-1].lineno}"
