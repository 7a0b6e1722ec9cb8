"""A Verdict asked: every test, over numbers or whole columns."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from generators.verdict.declare import GO, HAIR, OUTCOMES, RANK, UNKNOWN, Test, Verdict
from generators.verdict.held import Held

Look = Callable[[str], Held]


@dataclass(frozen=True)
class Asked:
    """One test as it was answered: `codes` are places in OUTCOMES, one for each cell; `missing` what would settle an unknown."""

    test: Test
    codes: Any
    missing: frozenset[str]
    stale: frozenset[str]
    why: Any


@dataclass(frozen=True)
class Answered:
    """A verdict's outcome for each cell, and every test with its own."""

    verdict: Verdict
    codes: Any
    tests: tuple[Asked, ...]

    def outcome(self, cell: tuple[int, ...] = ()) -> str:
        """The word for one cell."""
        return OUTCOMES[int(np.asarray(self.codes)[cell])]

    def speaking(self, cell: tuple[int, ...] = ()) -> list[tuple[str, Asked]]:
        """(outcome, test) of every test that is not go in a cell, weightiest first, in the order they are declared."""
        found = [(OUTCOMES[int(np.broadcast_to(one.codes, np.shape(self.codes))[cell])], one) for one in self.tests]
        return sorted((pair for pair in found if pair[0] != GO), key=lambda pair: -RANK[pair[0]])


def _past(test: Test, value: Held, limit: Held) -> tuple[Any, Any, Any]:
    """(likely past the limit, worst end past it, cannot be told), as columns of booleans."""
    if test.sign == "<":
        hair = HAIR * np.maximum(1.0, np.maximum(abs(limit.likely), abs(value.likely)))
        return value.likely < limit.likely - hair, value.low < limit.high - hair, np.isnan(value.likely + limit.likely)
    hair = HAIR * np.maximum(1.0, np.maximum(abs(limit.likely), abs(value.likely)))
    return value.likely > limit.likely + hair, value.high > limit.low + hair, np.isnan(value.likely + limit.likely)


def _applies(test: Test, look: Look) -> bool:
    for name, words in test.when:
        held = look(name)
        if held.text is not None and held.text not in words.split():
            return False
    return True


def _ask(test: Test, look: Look, limit_of: Callable[[Test], Held]) -> Asked | None:
    """None where the test does not apply here."""
    if not _applies(test, look):
        return None
    value = look(test.value)
    if test.sign in ("is", "not", "known"):
        if test.spare and not value.known and not value.missing:
            return None
        if not value.known:
            return Asked(test, np.asarray(RANK[UNKNOWN]), value.missing, value.stale, value.why)
        fires = test.sign != "known" and (value.text in test.limit.split()) == (test.sign == "is")
        code = RANK[test.outcome] if fires else RANK[UNKNOWN] if value.stale else RANK[GO]
        return Asked(test, np.asarray(code), value.stale if value.stale and not fires else frozenset(), value.stale, "")
    limit = limit_of(test)
    if test.spare and any(not one.known and not one.missing and not one.reasoned for one in (value, limit)):
        return None
    with np.errstate(invalid="ignore"):
        likely, worst, untold = _past(test, value, limit)
        ends = np.isnan(value.low + value.high + limit.low + limit.high)
    stale = value.stale | limit.stale
    codes = np.where(likely, RANK[test.outcome], np.where(untold | ends, RANK[UNKNOWN], np.where(worst, RANK[test.doubt], RANK[GO])))
    if stale:  # what was read too long ago can still stop; it can no longer say go
        codes = np.where(codes < RANK[UNKNOWN], RANK[UNKNOWN], codes)
    return Asked(test, codes, value.missing | limit.missing | stale, stale, value.why if value.reasoned else limit.why)


def ask(verdict: Verdict, look: Look, limit_of: Callable[[Test], Held] | None = None) -> Answered:
    """Ask every test. `look` gives what is held under a name; `limit_of` a test's limit in the unit of its value, where the two may differ."""
    asked = tuple(one for test in verdict.tests if (one := _ask(test, look, limit_of or (lambda test: look(test.limit)))) is not None)
    codes = np.asarray(RANK[GO])
    for one in asked:
        codes = np.maximum(codes, one.codes)
    return Answered(verdict, codes, asked)
