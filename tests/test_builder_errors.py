"""A mistake in our own code is told at its own file and line, and names the page that asked; a mistake in a page stays the page's."""

from __future__ import annotations

import inspect
import re

import pytest

from generators import tables
from generators.pages import PageError, build_pages


def test_a_builder_that_fails_is_told_at_its_own_line(facts, monkeypatch):
    monkeypatch.setattr(tables.air, "frame", None)
    with pytest.raises(PageError) as caught:
        build_pages(facts)
    told = [problem for problem in caught.value.problems if "air/dew-point.md" in problem]
    assert told, caught.value.problems[:5]
    lines, first = inspect.getsourcelines(tables.air.dew_point)
    found = re.match(r"generators/tables/air\.py:(\d+): wanted .+; came TypeError: .+; mend .+handbook/air/dew-point\.md:\d+ asked for it", told[0])
    assert found and "frame(" in lines[int(found[1]) - first], told[0]


def test_a_page_that_calls_what_is_not_there_is_told_at_its_own_line(facts, tmp_path):
    from dataclasses import replace

    page = tmp_path / "handbook/a.md"
    page.parent.mkdir()
    page.write_text("# A\n\n{{ table('dew-pint') }}\n", encoding="utf-8")
    with pytest.raises(PageError) as caught:
        build_pages(replace(facts, root=tmp_path))
    assert any(problem.startswith("handbook/a.md:3: wanted a page") and "dew-point" in problem for problem in caught.value.problems), caught.value.problems
