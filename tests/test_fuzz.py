"""A budgeted sample of the long run in tests/fuzz.py: problems told with their line, or pages; nothing else, ever."""

from __future__ import annotations

import os

import pytest
from fuzz import SHAPES, run

# CI has some three minutes of one core for these (a load of all facts costs 25 ms, all pages a second). Elsewhere fewer; the long run is tests/fuzz.py.
INPUTS = 10_000 if os.environ.get("CI") else 600
SHARES = 10


@pytest.mark.parametrize("seed", range(SHARES))
def test_bad_input_is_told_or_built_and_nothing_else(seed):
    tally = run(INPUTS // SHARES, 1000 + seed, every=INPUTS // SHARES // 2, pages_every=40 if os.environ.get("CI") else 10, markup_every=8 if os.environ.get("CI") else 1)
    assert not tally.bad, "\n".join(tally.bad[:20])
    assert tally.inputs == INPUTS // SHARES and tally.whole_builds == 2
    assert tally.refused > tally.inputs / 4 and tally.built > tally.inputs / 20, "a fuzzer that only ever sees one side shows little"
    assert INPUTS < 10_000 or set(tally.shapes) == set(SHAPES)
