"""Every test of every verdict, where it must speak and where it must not: worked from the lines of verdict_cases.py, which were written by hand."""

from __future__ import annotations

from functools import cache

import pytest
from test_chain import day, sit
from verdict_cases import cases

from generators import verdicts

CASES = {(verdict, test): rest for verdict, test, *rest in cases()}
ELSEWHERE = {("allowed", "voc-law")}  # no paint of the demonstration is over the law: test_chain.py makes one that is


@cache
def speaking(words: str) -> dict[str, dict[str, str]]:
    """{verdict: {test: outcome}} of the tests that are not go at these readings."""
    return {name: {one.test.name: outcome for outcome, one in told.speaking()} for name, told in day().walk(sit(words)).verdicts.items()}


def test_each_has_a_case_and_each_that_is_for_some_has_one_of_the_others() -> None:
    declared = {(name, test.name): bool(test.when) for name, verdict in verdicts.DECLARED.items() for test in verdict.tests}
    assert set(CASES) | ELSEWHERE == set(declared)
    assert [one for one in CASES if declared[one] and not CASES[one][3]] == []


@pytest.mark.parametrize(("verdict", "test"), CASES)
def test_it_speaks_where_it_must_and_nowhere_else(verdict: str, test: str) -> None:
    """Would notice: a test left out or turned round, a stop told as care, one asked of every paint or place, another limit."""
    outcome, there, silent, others = CASES[verdict, test]
    assert speaking(there)[verdict].get(test) == outcome
    for words in filter(None, (silent, others)):
        assert test not in speaking(words)[verdict], words
