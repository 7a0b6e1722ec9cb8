"""`check` is the build without writing: facts, pages, menu, links, templates and builders, all at once, each at its own file and line."""

from __future__ import annotations

import json

import pytest

from generators.cli import main
from generators.site.checked import check
from generators.starter import take_over, write


@pytest.fixture
def own(tmp_path):
    write(tmp_path / "own")
    return tmp_path / "own"


def test_facts_and_pages_that_cannot_be_read_are_told_in_one_breath(own):
    (own / "handbook/yard.md").write_text("# Yard\n\n{{ table('x' }}\n", encoding="utf-8")
    tin = own / "site_data/coatings/my-trim-paint.yaml"
    tin.write_text(tin.read_text(encoding="utf-8").replace("38 %", "38 apples"), encoding="utf-8")
    take_over(own, "mkdocs.yml")
    menu = own / "mkdocs.yml"
    menu.write_text(menu.read_text(encoding="utf-8").replace("mix/thinning.md", "mix/thining.md"), encoding="utf-8")
    found = check(own).problems
    starts = [line.split(": wanted")[0] for line in found]
    line = next(number for number, text in enumerate(menu.read_text(encoding="utf-8").splitlines(), 1) if "mix/thining.md" in text)
    sheet = next(number for number, text in enumerate(tin.read_text(encoding="utf-8").splitlines(), 1) if "apples" in text)
    assert starts == [f"site_data/coatings/my-trim-paint.yaml:{sheet}", "handbook/yard.md:3", f"mkdocs.yml:{line}"], found


def test_a_page_and_a_builder_in_one_breath_and_debug_shows_the_way_there(own, monkeypatch, capsys):
    from generators import tables

    (own / "handbook/yard.md").write_text("# Yard\n\n{{ table('no-such') }}\n", encoding="utf-8")
    builder = tables.BUILDERS["dew-point"]

    class Broken:
        per = builder.per

        def __call__(self, *_):
            return {}["dew"]

    monkeypatch.setitem(tables.BUILDERS, "dew-point", Broken())
    monkeypatch.setenv("ALMANAC_ANEW", "1")
    assert main(["--handbook", str(own), "check", "--debug"]) == 1
    err = capsys.readouterr().err
    assert "handbook/yard.md:3: wanted" in err and "dew-point" in err and "KeyError" in err and "Traceback" in err
    assert main(["--handbook", str(own), "check", "--json"]) == 1
    told = json.loads(capsys.readouterr().out)["problems"]
    assert {"handbook/yard.md"} <= {one["path"] for one in told} and all(one["line"] for one in told)


def test_a_link_to_nowhere_and_an_anchor_that_is_none_at_their_lines(own):
    (own / "handbook/yard.md").write_text("# Yard\n\nSee [this](mix/thining.md).\n\nAnd [that](mix/thinning.md#no-such-head).\n", encoding="utf-8")
    found = check(own).problems
    assert [line.split(": wanted")[0] for line in found] == ["handbook/yard.md:3", "handbook/yard.md:5"], found


def test_settings_that_cannot_be_read_are_told_at_their_line(own):
    take_over(own, "mkdocs.yml")
    menu = own / "mkdocs.yml"
    menu.write_text(menu.read_text(encoding="utf-8") + "\nnav: [a\n", encoding="utf-8")
    found = check(own).problems
    assert len(found) >= 1 and found[0].startswith("mkdocs.yml:"), found


def test_a_sound_folder_has_none_and_no_site_is_written(own):
    found = check(own)
    assert found.problems == [] and found.pages > 100
    assert sorted(path.name for path in own.iterdir()) == [".almanac", ".almanac-seen.zip", "almanac.yaml", "handbook", "site_data"]
