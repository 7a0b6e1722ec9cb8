"""How to mend a name that nobody knows."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def near(name: str, names: Iterable[str]) -> str:
    """The nearest known name as a question, else all of them."""
    known = list(names)
    close = difflib.get_close_matches(name.lower(), known, 1, 0.55)
    return f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(known)
