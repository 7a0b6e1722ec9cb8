"""What a chain holds under one name: a number between two ends, or a text; and, where it is not known, what would settle it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np


@dataclass(frozen=True)
class Held:
    """A number as low, likely and high (floats or numpy columns of one shape, NaN where there is none), or a text.

    `missing` names the readings that would settle it, `stale` those it rests on that were taken too long ago, and `why` says in
    words why there is no answer (one text, or a column of texts). A text that is None is not known.
    """

    low: Any = np.nan
    likely: Any = np.nan
    high: Any = np.nan
    text: str | None = None
    is_text: bool = False
    missing: frozenset[str] = frozenset()
    stale: frozenset[str] = frozenset()
    why: Any = ""

    @cached_property
    def known(self) -> bool:
        """Whether a single value is known: a text that is there, or a number likely at least."""
        return self.text is not None if self.is_text else bool(np.isfinite(self.likely).all())

    @cached_property
    def blank(self) -> bool:
        """Whether no number is likely anywhere in it."""
        return bool(np.isnan(self.likely).all() if np.ndim(self.likely) else self.likely != self.likely)  # only NaN is not itself

    @property
    def reasoned(self) -> bool:
        """Whether it says anywhere why there is no answer."""
        return self.why != "" if isinstance(self.why, str) else bool(np.any(self.why != ""))


def number(likely: Any, low: Any = None, high: Any = None, stale: frozenset[str] = frozenset()) -> Held:
    """A number, exact where no ends are given."""
    likely = np.asarray(likely, float)
    return Held(likely if low is None else np.asarray(low, float), likely, likely if high is None else np.asarray(high, float), stale=stale)


def text(said: str | None, missing: frozenset[str] = frozenset(), stale: frozenset[str] = frozenset()) -> Held:
    """A text; None where it is not known."""
    return Held(text=said, is_text=True, missing=missing, stale=stale)


def brought(value: Any, name: str, unit: str) -> Held:
    """One thing that a walk is brought: a word (no unit), a number, or (low, likely, high). None, an empty text and NaN are not known, and are called missing."""
    known = value is not None and value != "" and not (isinstance(value, float) and value != value)
    if unit == "":
        return text(value if known else None, frozenset() if known else frozenset({name}))
    if not known:
        return gone(frozenset({name}))
    return number(value[1], value[0], value[2]) if isinstance(value, (tuple, list)) else number(float(value))


def gone(missing: frozenset[str], why: Any = "", is_text: bool = False) -> Held:
    """Nothing known, and what would settle it."""
    return Held(missing=missing, why=why, is_text=is_text)
