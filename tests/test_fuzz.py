"""A budgeted sample of the long run in tests/fuzz.py: problems told with their line, or pages; nothing else, ever."""

from __future__ import annotations

import pytest
from fuzz import SHAPES, run

SHARES = 10


def assert_sound(tally, inputs):
    assert not tally.bad, "\n".join(tally.bad[:20])
    assert tally.inputs == inputs and tally.whole_builds >= 1
    assert tally.refused > tally.inputs / 4 and tally.built > tally.inputs / 20, "a fuzzer that only ever sees one side shows little"


@pytest.mark.parametrize("seed", range(2))
def test_bad_input_is_told_or_built_and_nothing_else(seed):
    """Few of all: a load costs half a second, all pages some ten."""
    assert_sound(run(120, 2000 + seed, every=120, pages_every=20, markup_every=4), 120)


@pytest.mark.campaign
@pytest.mark.parametrize("seed", range(SHARES))
def test_ten_thousand_bad_inputs(seed):
    tally = run(10_000 // SHARES, 1000 + seed, every=10_000 // SHARES // 2, pages_every=40, markup_every=8)
    assert_sound(tally, 10_000 // SHARES)
    assert set(tally.shapes) == set(SHAPES)
