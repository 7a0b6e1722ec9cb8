"""A sample of tests/kill.py: a build that is killed, or runs out of room, leaves a whole site."""

from __future__ import annotations

from kill import full_disk, kills


def test_a_killed_build_leaves_a_whole_site(tmp_path):
    found = kills(8, 3, tmp_path)
    assert not [what for what in found if "BROKEN" in what], found
    assert sum(number for what, number in found.items() if what.startswith("killed")) == 8, found


def test_a_full_disk_leaves_the_old_site(tmp_path):
    assert full_disk(tmp_path) == []
