"""A sample of tests/kill.py: a build that is killed, or runs out of room, leaves a whole site."""

from __future__ import annotations

import pytest
from kill import full_disk, kills, two_handbooks


@pytest.fixture(scope="module")
def two(tmp_path_factory):
    return two_handbooks(tmp_path_factory.mktemp("two"))


@pytest.mark.parametrize(("count", "seed"), [(2, 3), pytest.param(8, 4, marks=pytest.mark.sweep)])
def test_a_killed_build_leaves_a_whole_site(two, count, seed):
    found = kills(count, seed, two)
    assert not [what for what in found if "BROKEN" in what], found
    assert sum(number for what, number in found.items() if what.startswith("killed")) == count, found


def test_a_full_disk_leaves_the_old_site(two):
    assert full_disk(two, limits=(30_000,), small_disk=False) == []


@pytest.mark.sweep
def test_a_disk_that_is_full_in_other_ways_leaves_the_old_site(two):
    assert full_disk(two, limits=(1_000, 150_000)) == []
