"""The command line as a stranger would use it."""

from __future__ import annotations

import json
import shutil

import pytest
from conftest import ROOT

from generators.cli import main


def run(capsys, *arguments):
    code = main(["--handbook", str(ROOT), *arguments])
    out, err = capsys.readouterr()
    return code, out, err


def test_work_in_json(capsys):
    code, out, _ = run(capsys, "work", "wet-film", "dry-film=25", "volume-solids=40", "thinner=10", "--json")
    answer = json.loads(out)
    assert code == 0
    assert set(answer) == {"formula", "value", "unit", "inputs", "basis", "sources", "notes"}
    assert answer["value"] == pytest.approx(68.75) and answer["unit"] == "µm"


def test_work_with_units(capsys):
    code, out, _ = run(capsys, "work", "spreading-rate", "volume-solids=50%", "dry-film=2 mil", "transfer-efficiency=100", "--json")
    assert code == 0 and json.loads(out)["value"] == pytest.approx(1000 * 0.5 / 50.8)


def test_out_of_range_is_exit_two_with_the_reason(capsys):
    code, _, err = run(capsys, "work", "cup-viscosity", "cup=iso-3", "time=15")
    assert code == 2 and "30 and 100 s for ISO 3 mm cup" in err


@pytest.mark.parametrize("arguments", [
    ("cup-viscosity", "cup=teacup", "time=30"), ("cup-viscosity", "time=30"), ("wet-fim",), ("wet-film", "dry-film"), ("dew-point", "air-temperature=warm", "relative-humidity=50"),
    ("dew-point", "air-temperature=3Δ°C", "relative-humidity=50"),
])
def test_bad_input_is_exit_one_in_one_plain_line(capsys, arguments):
    code, _, err = run(capsys, "work", *arguments)
    assert code == 1 and err.strip() and "Traceback" not in err


def test_formulas_are_listed(capsys):
    code, out, _ = run(capsys, "formulas", "--json")
    listed = json.loads(out)
    assert code == 0 and len(listed) >= 30
    assert all(one["source"] and one["inputs"] for one in listed)


def test_check_passes_here_and_tells_every_problem_elsewhere(capsys, tmp_path):
    assert run(capsys, "check")[0] == 0
    for name in ("site_data", "handbook"):
        shutil.copytree(ROOT / name, tmp_path / name)
    bad = tmp_path / "site_data/coatings/gannet-trim-satin.yaml"
    bad.write_text(bad.read_text(encoding="utf-8").replace("38 %", "38").replace("30 µm", "30"), encoding="utf-8")
    code = main(["--handbook", str(tmp_path), "check"])
    err = capsys.readouterr().err
    assert code == 1 and err.count("gannet-trim-satin.yaml:") == 2


def test_pages_are_written_as_markdown(capsys, tmp_path):
    code, _, _ = run(capsys, "pages", "--out", str(tmp_path))
    assert code == 0
    assert "<caption>" in (tmp_path / "air/dew-point.md").read_text(encoding="utf-8")
    assert (tmp_path / "coatings/gannet-trim-satin.md").exists()


def test_card_is_written(capsys, tmp_path):
    code, _, _ = run(capsys, "card", "--kit", "five-stage-trolley", "--size", "letter", "--out", str(tmp_path / "card.pdf"))
    assert code == 0 and (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
    assert run(capsys, "card", "--kit", "none")[0] == 1
