"""Nonsense is refused or doubtful at its own line; what is honest passes; what is doubtful is said wherever it is used, until somebody signs it off."""

from __future__ import annotations

import random
import re
import shutil
from pathlib import Path

import pytest
from conftest import ROOT
from nonsense import campaign, edits, rounds
from plausible import sheet

from generators.facts import FactsError, load
from generators.facts.relate import DOUBTFUL, REFUSED, Relation
from generators.facts.span import Span, fixed
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages

TIN = "site_data/coatings/gannet-trim-satin.yaml"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "site_data", tmp_path / "site_data")
    return tmp_path


def of(facts, path):
    """Doubts about one file; the stock's own, in other files, are all signed off."""
    assert not [str(one) for one in facts.doubts if one.path != path and not one.signed]
    return [one for one in facts.doubts if one.path == path]


def with_line(folder: Path, path: str, pattern: str, new: str) -> int:
    text = (folder / path).read_text(encoding="utf-8")
    found = re.search(pattern, text, re.MULTILINE)
    assert found, pattern
    (folder / path).write_text(text[: found.start()] + new + text[found.end():], encoding="utf-8")
    return text.count("\n", 0, found.start()) + 1


@pytest.mark.parametrize("many", [4, pytest.param(0, marks=pytest.mark.sweep)])
def test_nonsense_of_every_class_is_refused_or_doubtful_at_its_line(many):
    """Common practice of checking a checker: spoil what is right. The bar, 98 %, is that of the usual run's sample as well."""
    chosen = rounds(edits(ROOT), seed=7)
    if many:  # of the rounds that spoil most entries at once
        chosen = random.Random(7).sample(sorted(chosen, key=len)[-40:], many)
    count, missed, _ = campaign(chosen)
    assert sum(count.values()) > 200
    assert len(missed) <= 0.02 * sum(count.values()), [str(edit) for edit in missed[:40]]


@pytest.mark.parametrize("many", [200])
def test_plausible_sheets_pass(many, folder):
    """Made from their parts, with an oracle of their own (plausible.py): none refused, five doubtful at most."""
    for seed in range(many):
        (folder / f"site_data/coatings/plausible-{seed}.yaml").write_text(sheet(seed), encoding="utf-8")
    try:
        facts = load(folder)
    except FactsError as error:
        pytest.fail("\n".join(map(str, error.problems)))
    told = [doubt for doubt in facts.doubts if doubt.entry.startswith("plausible")]
    assert len({doubt.entry for doubt in told}) <= 5, "\n".join(map(str, told))


def test_a_doubt_is_said_on_every_page_that_names_it_until_it_is_signed_off(folder):
    shutil.copytree(ROOT / "handbook", folder / "handbook")
    line = with_line(folder, TIN, r"^recoat_after: .*$", "recoat_after: 40 h")
    facts = open_handbook(folder)
    (doubt,) = of(facts, TIN)
    assert (doubt.path, doubt.line, doubt.signed) == (TIN, line, "") and facts.tin_name("gannet-trim-satin").endswith("(doubtful figures)")
    pages = build_pages(facts)
    named = [address for address, page in pages.items() if "Gannet Trim Satin" in page]
    assert len(named) > 3 and "coatings/gannet-trim-satin.md" in named
    for address in named:
        assert "**Doubtful.**" in pages[address] and "recoat after 40 h" in pages[address], address
    assert not [address for address, page in pages.items() if "**Doubtful.**" in page and address not in named]
    with (folder / TIN).open("a", encoding="utf-8") as file:
        file.write("doubtful: {recoat_after: {value: 40 h, who: A. Tester, why: the maker says so for cold rooms}}\n")
    facts = open_handbook(folder)
    assert [one.signed for one in of(facts, TIN)] == ["A. Tester: the maker says so for cold rooms"] and facts.tin_name("gannet-trim-satin") == "Gannet Trim Satin"
    with_line(folder, TIN, r"^recoat_after: .*$", "recoat_after: 45 h")  # another value is another doubt
    assert [one.signed for one in of(open_handbook(folder), TIN)] == [""]


def test_a_row_is_signed_off_in_its_last_column(folder):
    path = folder / "site_data/efficiencies.csv"
    text = path.read_text(encoding="utf-8").replace("airless,25 %,", "airless,12 %,")
    path.write_text(text, encoding="utf-8")
    assert [one.fact for one in of(load(folder), "site_data/efficiencies.csv")] == ["efficiencies"]
    lines = [f"{line}," if "," in line and not line.startswith("#") else line for line in text.splitlines()]
    lines = [line + ("doubtful" if line.startswith("method,") else "A. Tester: weighed it twice on a windy day" if line.startswith("airless") else "") for line in lines]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    assert [one.signed for one in of(load(folder), "site_data/efficiencies.csv")] == ["A. Tester: weighed it twice on a windy day"]


def test_a_sign_off_without_a_name_or_a_reason_is_refused(folder):
    for bad in ("{}", "{who: A. Tester}", "{who: A. Tester, why: ok}", "yes"):
        with_line(folder, TIN, r"\Z", f"doubtful: {{density: {bad}}}\n")
        with pytest.raises(FactsError) as caught:
            load(folder)
        assert all(problem.path == TIN for problem in caught.value.problems)
        with_line(folder, TIN, r"^doubtful: .*\n", "")


def test_a_relation_refuses_only_what_no_reading_can_mend():
    relation = Relation("voc", "a", "<=", "b", "less than {limit}", "mend it")
    assert relation.asked({"a": fixed(2), "b": fixed(1)}.get)[0] == REFUSED
    assert relation.asked({"a": Span(0.5, 2, 3), "b": fixed(1)}.get)[0] == DOUBTFUL
    assert relation.asked({"a": Span(0.5, 0.9, 3), "b": fixed(1)}.get) is None
    assert relation.asked({"a": fixed(1), "b": None}.get) is None


def test_every_value_with_a_source_names_one_that_exists_in_every_file(folder):
    """Every `source:` of every YAML file in turn, and every source of every CSV."""
    missed = []
    for path in sorted((folder / "site_data").rglob("*.yaml")):
        text = path.read_text(encoding="utf-8")
        if not (places := list(re.finditer(r"source: ([a-z0-9-]+)", text))):
            continue
        spoiled = re.sub(r"source: ([a-z0-9-]+)", r"source: \1-q", text)
        path.write_text(spoiled, encoding="utf-8")
        with pytest.raises(FactsError) as caught:
            load(folder)
        path.write_text(text, encoding="utf-8")
        told = {problem.line for problem in caught.value.problems if problem.path == path.relative_to(folder).as_posix()}
        missed += [(path.name, text.count("\n", 0, place.start()) + 1) for place in places if text.count("\n", 0, place.start()) + 1 not in told]
    assert not missed, missed
