"""Something is wrong: every fault is whole, and the finder reaches each in at most three choices with no dead end and no orphan."""

from __future__ import annotations

import re

from generators.pages import build_pages


def test_every_fault_is_whole(facts):
    assert len(facts.faults) >= 34
    for key, fault in facts.faults.items():
        assert len(fault.causes) >= 2 and len(set(fault.causes)) == len(fault.causes), key
        for part in (fault.looks, fault.test, fault.now, fault.later, fault.prevent):
            assert len(part.split()) >= 2, key
        assert bool(fault.number) != bool(fault.no_number), key


def test_the_finder_reaches_each_in_at_most_three_choices(site, facts):
    """Door on the first page, then what is seen, then the fault: every path is walked in the built site."""
    home = (site / "index.html").read_text(encoding="utf-8")
    assert 'href="faults/index.html"' in home  # choice one
    finder = (site / "faults/index.html").read_text(encoding="utf-8")
    parts = re.split(r"<h2\b", finder)[1:]
    reached = set()
    for part in parts:  # choice two: a heading; choice three: a line under it
        lines = re.findall(r'href="([a-z-]+)\.html">', part)
        if "Change one thing" not in part[:80]:
            assert 1 <= len(lines) <= 12, part[:60]
        reached |= set(lines)
    assert set(facts.faults) <= reached, set(facts.faults) - reached
    for key in facts.faults:
        page = (site / f"faults/{key}.html").read_text(encoding="utf-8")
        assert "Now, while it is wet" in page and 'href="index.html"' in page


def test_the_page_says_now_first(facts):
    pages = build_pages(facts)
    for key in facts.faults:
        page = pages[f"faults/{key}.md"]
        order = [page.index(mark) for mark in ("**Now", "## Find the cause", "## Later", "## The number behind it", "## Next time")]
        assert order == sorted(order)


def test_every_rule_of_thumb_is_tested_and_no_figure_is_typed(facts):
    """Each rule has our verdict and what to use instead; figures come from formulas: the source page calls them."""
    from conftest import ROOT

    source = (ROOT / "handbook/rules.md").read_text(encoding="utf-8")
    rows = [line for line in source.splitlines() if line.startswith("| ") and "rule says" not in line and "---" not in line]
    assert len(rows) >= 22
    for row in rows:
        cells = [cell.strip() for cell in row.strip("|").split(" | ")]
        assert ("**" in row and "](" in cells[-1]) or "data sheet" in cells[-1], row
    assert source.count("{{ figure(") >= 10
    page = build_pages(facts)["rules.md"]
    assert "12.7 %" in page and "4.5 %" not in source


def test_a_fault_with_a_number_has_its_keys_on_the_page(facts, site):
    """Filled for the default kit: its limit, or the middle of its reach. What stands in a table only says which."""
    keyed = 0
    for key, fault in facts.faults.items():
        page = (site / "faults" / f"{key}.html").read_text(encoding="utf-8")
        lives = re.findall(r'class="alm-live" data-formula="([a-z0-9-]+)"', page)
        if not fault.number:
            assert not lives, key
        elif fault.number.startswith(("air/", "mix/thinning", "film/wet", "gun/distance", "gun/strokes")):
            assert len(lives) == 1, (key, lives)
            keyed += 1
            assert f"assets/formulas/{lives[0]}.js" in page and "assets/answers.js" in page, key
        else:
            assert f'href="../{fault.number}.html"' in page, key
    kit = facts.kits[facts.handbook.default_kit]
    peel = (site / "faults/orange-peel.html").read_text(encoding="utf-8")
    assert re.search(rf'data-name="target-time".*?value="{kit.limit.seconds:g}"', peel, re.S)
    assert keyed > 15
