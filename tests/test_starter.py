"""A crew's own handbook: new, build, card; and coatings by spreadsheet, with row and column in every error."""

from __future__ import annotations

import csv
import shutil

import older
import pytest
from conftest import ROOT

from generators.cli import main
from generators.facts import FactsError, load
from generators.starter import write

HEAD = (ROOT / "generators/starter/own/site_data/coatings.csv").read_text(encoding="utf-8").splitlines()[0]
ROW = "my-ceiling-paint,My ceiling paint,invented,,,wall-matt,35,40,1.4,5,water,0,10,85 s in ford-4,5,60 s in ford-4,8,30,80,4,,1.8,ceilings;walls,,,"


@pytest.fixture
def own(tmp_path):
    write(tmp_path / "own")
    return tmp_path / "own"


def rows(own, *lines):
    (own / "site_data/coatings.csv").write_text("\n".join([HEAD, *lines]) + "\n", encoding="utf-8")


def told(own):
    with pytest.raises(FactsError) as caught:
        load(own)
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize("region", ["uk", *(pytest.param(region, marks=pytest.mark.sweep) for region in ("eu", "us"))])
def test_three_commands_to_a_card(tmp_path, monkeypatch, capsys, region):
    monkeypatch.chdir(tmp_path)
    assert main(["new", "mine", "--region", region]) == 0
    monkeypatch.chdir(tmp_path / "mine")
    assert main(["build"]) == 0
    assert main(["card"]) == 0
    assert "Traceback" not in capsys.readouterr().err
    assert (tmp_path / "mine/site/kits/my-kit.html").is_file()
    assert (tmp_path / "mine/site/assets/almanac.css").is_file()
    assert (tmp_path / "mine/card-my-kit-a5.pdf").read_bytes().startswith(b"%PDF")


def test_a_folder_that_holds_something_is_left_alone(tmp_path, capsys):
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    assert main(["new", str(tmp_path)]) == 1
    err = capsys.readouterr().err
    assert "notes.txt" in err and "wanted a new or an empty folder" in err
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


def test_an_empty_folder_is_filled(tmp_path):
    (tmp_path / "mine").mkdir()
    assert main(["new", str(tmp_path / "mine")]) == 0
    assert load(tmp_path / "mine").handbook.default_kit == "my-kit"


def test_a_row_is_a_coating(own):
    rows(own, ROW)
    coating = load(own).coatings["my-ceiling-paint"]
    assert coating.volume_solids.to("%") == 35 and coating.uses == ["ceilings", "walls"] and coating.trial.time.seconds == 60


def test_the_commented_row_works_when_its_mark_is_taken_off(own):
    path = own / "site_data/coatings.csv"
    path.write_text(path.read_text(encoding="utf-8").replace("# my-ceiling", "my-ceiling"), encoding="utf-8")
    assert "my-ceiling-paint" in load(own).coatings


def test_semicolons_between_cells_are_read(own):
    with (own / "site_data/coatings.csv").open("w", encoding="utf-8-sig", newline="") as out:
        csv.writer(out, delimiter=";").writerows([HEAD.split(","), ROW.split(",")])
    assert load(own).coatings["my-ceiling-paint"].uses == ["ceilings", "walls"]


def test_coatings_may_all_come_from_the_spreadsheet(own):
    shutil.rmtree(own / "site_data/coatings")
    shutil.rmtree(own / "site_data/templates")  # they name coatings
    rows(own, ROW)
    assert list(load(own).coatings) == ["my-ceiling-paint"]


BAD_CELLS = {
    "not a number": ("35,40,1.4", "thick,40,1.4", "volume_solids"), "too much": ("35,40,1.4", "350,40,1.4", "volume_solids"),
    "a comma that can mean two things": ("35,40,1.4", '35,40,"1,400"', "density"),
    "empty": ("35,40,1.4", "35,,1.4", "dry_film"), "wrong unit": ("35,40,1.4", "35,40 g/L,1.4", "dry_film"), "unknown class": ("wall-matt", "wall-mat", "class"),
    "seconds without a cup": ("85 s in ford-4", "85 s", "supplied"), "no first dose": ("ford-4,5,60", "ford-4,,60", "trial"), "a bad name": ("my-ceiling-paint,", "../x,", "file"),
    "a name taken": ("my-ceiling-paint,", "my-trim-paint,", "file"), "basis": ("invented", "guessed", "basis"), "unknown cup": ("85 s in ford-4", "85 s in tea", "supplied"),
    "unknown stop": ("walls,,", "walls,no-such,", "stops"),
}


@pytest.mark.parametrize("name", BAD_CELLS)
def test_a_bad_cell_is_told_with_row_and_column(name, own):
    old, new, column = BAD_CELLS[name]
    assert old in ROW
    rows(own, "# a note", ROW.replace("my-ceiling-paint", "good-one"), ROW.replace(old, new, 1))
    found = told(own)
    assert found and all(line.startswith("site_data/coatings.csv:4: wanted in column ") for line in found), found
    assert any(f"in column {column}:" in line for line in found), found


def test_an_unknown_column_and_a_column_twice_are_told(own):
    (own / "site_data/coatings.csv").write_text(HEAD.replace("thin_with", "thin_wiht") + "\n" + ROW + "\n", encoding="utf-8")
    assert any("thin_with" in line and line.startswith("site_data/coatings.csv:2:") for line in told(own))
    (own / "site_data/coatings.csv").write_text(HEAD.replace("notes", "name") + "\n" + ROW + "\n", encoding="utf-8")
    assert any(line.startswith("site_data/coatings.csv:1: wanted each column once") for line in told(own))


def test_a_crew_without_the_survey_files_has_its_pages_all_the_same(tmp_path):
    from generators.formulas.own_cups import open_handbook
    from generators.pages import build_pages

    own = older.whole(tmp_path / "whole")
    for name in ("over.csv", "finishes.yaml", "substrates.yaml", "pieces.yaml", "area_factors.csv", "cleaning.yaml"):
        (own / "site_data" / name).unlink()
    shutil.rmtree(own / "site_data/templates")  # they name pieces
    wanted = ("survey/what-over-what.md", "survey/substrate-checks.md", "survey/quantities.md", "clean/clean-down.md", "clean/storage-and-frost.md")
    pages = build_pages(open_handbook(own), only=wanted.__contains__)
    for page in wanted:
        assert "This handbook has no site_data/" in pages[page], page


FIRMS = {  # what is typed, twelve values each: figures invented for the walk
    "us": {
        "site_data/handbook.yaml": {"title": "Prairie Finish", "crew": "Prairie Finish Co. (invented)", "town": "Millbrook (invented)", "base_url": "https://prairie-finish.example"},
        "site_data/kits/my-kit.yaml": {"name": "Four-stage cart", "limit": "34 s in zahn-2", "near": "6 in", "far": "8 in", "flow": "5 floz/min"},
        "site_data/coatings/my-trim-paint.yaml": {"name": "Barn Trim Satin", "volume_solids": "41 %", "dry_film": "1.4 mil"},
    },
    "au": {
        "site_data/handbook.yaml": {"title": "Gumtree Spray", "crew": "Gumtree Spray (invented)", "town": "Banksia Point (invented)", "base_url": "https://gumtree-spray.example"},
        "site_data/kits/my-kit.yaml": {"name": "Three-stage tote", "limit": "28 s in ford-4", "near": "150 mm", "far": "200 mm", "flow": "140 mL/min"},
        "site_data/coatings/my-trim-paint.yaml": {"name": "Ironbark Trim", "volume_solids": "36 %", "dry_film": "32 µm"},
    },
}


@pytest.mark.parametrize("region", FIRMS)
def test_from_an_empty_folder_to_the_first_own_card_in_twelve_typed_values(tmp_path, capsys, region):
    import re
    import time

    from pypdf import PdfReader

    began, own, typed = time.monotonic(), tmp_path / "own", 0
    assert main(["new", str(own), "--region", region]) == 0
    for file, values in FIRMS[region].items():
        path = own / file
        for key, value in values.items():
            text, count = re.subn(rf"(?m)^{key}:.*$", f"{key}: {value}", path.read_text(encoding="utf-8"), count=1)
            assert count == 1, (file, key)
            path.write_text(text, encoding="utf-8")
            typed += 1
    card = tmp_path / "card.pdf"
    assert main(["--handbook", str(own), "card", "--out", str(card), *(["--size", "letter"] if region == "us" else [])]) == 0, capsys.readouterr().err
    text = " ".join(page.extract_text() for page in PdfReader(card).pages)
    firm = FIRMS[region]
    assert typed == 12 and time.monotonic() - began < 600  # ten minutes: the typing is theirs, the waiting must not be
    for said in (firm["site_data/kits/my-kit.yaml"]["name"], firm["site_data/coatings/my-trim-paint.yaml"]["name"]):
        assert said in text, said
    own_units, others = (r"\bin\b|°F|\bqt\b", r"\bmm\b|µm|°C|\bmL\b") if region == "us" else (r"\bmm\b|°C", r"°F|\bmil\b|\bqt\b")
    assert re.search(own_units, text) and not re.search(others, text), text
