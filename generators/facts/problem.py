"""A problem in a file, told so that it can be mended."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Problem:
    """`path:line:` what was wanted, what came, how to mend. `path` is relative to the handbook folder."""

    path: str
    line: int
    wanted: str
    came: str
    mend: str

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: wanted {self.wanted}; came {self.came}; {self.mend}"


class FactsError(Exception):
    """Every problem found in site_data, in file and line order."""

    def __init__(self, problems: Sequence[Problem], doubts: Sequence[Problem] = ()) -> None:
        self.problems = sorted(set(problems))
        self.doubts = sorted(set(doubts))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def shown(value: object) -> str:
    """A value as it came, short enough for one line."""
    text = " ".join(str(value).split())
    return repr(text if len(text) <= 60 else text[:57] + "…")
