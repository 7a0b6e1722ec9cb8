"""Every published value that a formula or a fact can answer, within its own tolerance. Sources stand in each row."""

from __future__ import annotations

from pathlib import Path

import pytest

from generators.pages.checks import ours, passes, read_checks

CHECKS = read_checks(Path(__file__).parent / "reference")
ANSWERED = [check for check in CHECKS if check.kind != "none"]


@pytest.mark.parametrize("check", ANSWERED, ids=lambda check: check.id)
def test_our_value_agrees(check, facts, catalogue):
    value = ours(check, facts, catalogue)
    assert passes(check, value), f"{check.quantity}: published {check.expected} ± {check.tolerance} {check.unit}, ours {value} ({check.source})"


def test_no_row_was_lost():
    assert len(CHECKS) >= 566
    assert len({check.id for check in CHECKS}) == len(CHECKS)


def test_rows_left_out_say_why_and_the_rest_say_how():
    for check in CHECKS:
        assert bool(check.reason) == (check.kind == "none"), check.id
        assert check.source and check.trust and check.why, check.id
        assert float(check.tolerance) >= 0


def test_few_rows_are_left_out():
    left_out = [check for check in CHECKS if check.kind == "none"]
    left_out = [check for check in left_out if "misprint" not in check.reason]
    assert len(left_out) <= 20, [check.reason for check in left_out]
