"""Facts: every problem at once, with path and line, and never a traceback."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from conftest import ROOT

from generators.facts import FactsError, load
from generators.facts.schema import schemas
from generators.formulas import DECLARED

GOOD = "site_data/coatings/gannet-trim-satin.yaml"


@pytest.fixture
def folder(tmp_path):
    shutil.copytree(ROOT / "site_data", tmp_path / "site_data")
    return tmp_path


def problems(folder: Path):
    with pytest.raises(FactsError) as caught:
        load(folder)
    return caught.value.problems


def change(folder: Path, path: str, old: str, new: str) -> int:
    """Replace one piece of text; the line it stands on."""
    target = folder / path
    text = target.read_text(encoding="utf-8")
    assert text.count(old) == 1, (old, text.count(old))
    target.write_text(text.replace(old, new), encoding="utf-8")
    return text[: text.index(old)].count("\n") + 1


BAD_LINES = {
    "no unit": ("volume_solids: 38 %", "volume_solids: 38"),
    "wrong kind of unit": ("dry_film: 30 µm", "dry_film: 30 g/L"),
    "unknown unit": ("dry_film: 30 µm", "dry_film: 30 furlongs"),
    "not a number": ("dry_film: 30 µm", "dry_film: NaN µm"),
    "negative": ("dry_film: 30 µm", "dry_film: -30 µm"),
    "huge": ("dry_film: 30 µm", "dry_film: 1e30 µm"),
    "a list for a value": ("dry_film: 30 µm", "dry_film: [30 µm]"),
    "seconds without a cup": ("supplied: 62 s in ford-4", "supplied: 62 s"),
    "unknown cup": ("supplied: 62 s in ford-4", "supplied: 62 s in fort-4"),
    "unknown class": ("class: waterborne-trim-enamel", "class: waterborne-trim-enamle"),
    "unknown basis": ("basis: invented", "basis: guessed"),
    "published without a source": ("basis: invented", "basis: published"),
    "unknown key": ("thin_with: water", "thin_wiht: water"),
    "duplicate key": ("thin_with: water", "name: Twice"),
    "an anchor": ("thin_with: water", "thin_with: &w water"),
    "a difference for a reading": ("air_min: 8 °C", "air_min: 8 Δ°C"),
    "warmest below coldest": ("air_max: 30 °C", "air_max: 3 °C"),
    "broken quote": ("thin_with: water", 'thin_with: "water'),
    "a tab": ("thin_with: water", "\tthin_with: water"),
}


@pytest.mark.parametrize("name", BAD_LINES)
def test_one_bad_line_is_told_with_its_line(name, folder):
    line = change(folder, GOOD, *BAD_LINES[name])
    found = problems(folder)
    assert found and all(problem.path == GOOD for problem in found), [str(p) for p in found]
    if name not in ("broken quote", "unknown key"):  # these are told where YAML or the missing key shows them
        assert line in [problem.line for problem in found], [str(p) for p in found]
    for problem in found:
        assert problem.wanted and problem.came and problem.mend
        assert str(problem).startswith(f"{GOOD}:{problem.line}: wanted ")


def test_five_wrong_fields_are_five_problems(folder):
    lines = [change(folder, GOOD, *BAD_LINES[name]) for name in ("no unit", "wrong kind of unit", "seconds without a cup", "unknown basis", "a difference for a reading")]
    assert sorted(problem.line for problem in problems(folder)) == sorted(lines)


def test_problems_of_all_files_come_at_once(folder):
    change(folder, GOOD, "dry_film: 30 µm", "dry_film: thick")
    change(folder, "site_data/kits/two-stage-tote.yaml", "pot: 1 L", "pot: 1 kg")
    (folder / "site_data/cups.csv").write_text((folder / "site_data/cups.csv").read_text(encoding="utf-8").replace("1.37", "x"), encoding="utf-8")
    assert {problem.path for problem in problems(folder)} >= {GOOD, "site_data/kits/two-stage-tote.yaml", "site_data/cups.csv"}


def test_bad_bytes_big_files_and_links_that_leave(folder, tmp_path_factory):
    (folder / GOOD).write_bytes(b"name: \xff\xfe")
    (folder / "site_data/coatings/anchor-alkyd-gloss.yaml").write_bytes(b"#" * 2_000_001)
    outside = tmp_path_factory.mktemp("outside") / "x.yaml"
    outside.write_text("name: x", encoding="utf-8")
    (folder / "site_data/coatings/link.yaml").symlink_to(outside)
    told = {problem.path: str(problem) for problem in problems(folder)}
    assert "UTF-8" in told[GOOD]
    assert "kB" in told["site_data/coatings/anchor-alkyd-gloss.yaml"]
    assert "leaves" in told["site_data/coatings/link.yaml"]


def test_a_byte_order_mark_is_read(folder):
    path = folder / GOOD
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert "gannet-trim-satin" in load(folder).coatings


def test_a_value_may_carry_its_own_basis(folder):
    change(folder, GOOD, "dry_film: 30 µm", "dry_film: {value: 30 µm, basis: published, source: ufc-3-190-06}")
    coating = load(folder).coatings["gannet-trim-satin"]
    assert coating.dry_film.origin.source == "ufc-3-190-06"
    assert str(coating.volume_solids.origin) == "invented"


def test_a_class_with_a_hard_stop_cannot_lose_it(folder):
    path = folder / "site_data/coatings/spar-two-pack-finish.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("stops: [isocyanates]\n", ""), encoding="utf-8")
    assert any("isocyanates" in str(problem) for problem in problems(folder))


def test_a_missing_hard_stop_fails(folder):
    path = folder / "site_data/stops.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text[: text.index("asbestos:")] + text[text.index("chromate-lead-primer:"):], encoding="utf-8")
    assert any("asbestos" in str(problem) for problem in problems(folder))


def test_demo_is_marked_invented_and_wide_enough(facts):
    assert len(facts.kits) == 2 and len(facts.coatings) >= 12
    assert len({kit.limit.seconds for kit in facts.kits.values()}) == 2
    for coating in facts.coatings.values():
        assert str(coating.origin.basis) == "invented"
    assert len({coating.class_key for coating in facts.coatings.values()}) >= 12


def test_every_formula_cites_a_source_that_is_listed(facts):
    assert {formula.origin.source for formula in DECLARED.values() if formula.origin.source} <= set(facts.sources)


OVER = "site_data/over.csv"


def test_every_new_coat_over_every_old_one_has_a_verdict_and_words(facts):
    new = [key for key, one in facts.finishes.items() if one.new]
    assert len(new) >= 7 and len(facts.finishes) >= 8
    assert set(facts.over) == {(one, old) for one in new for old in facts.finishes}
    for pair, row in facts.over.items():
        assert row["verdict"] in ("yes", "care", "no") and 2 <= len(row["word"]) <= 24 and len(row["why"]) > 10, pair


BAD_CELLS = {
    "a verdict": ("water,water,yes,", "water,water,perhaps,", "yes, care, no"),
    "an old finish": ("water,alkyd,care,", "water,alkid,care,", "did you mean 'alkyd'"),
    "a new finish": ("lime,lime,care,", "lyme,lime,care,", "did you mean 'lime'"),
    "no word": ('water,water,yes,"dull it"', "water,water,yes,", "column word"),
    "a basis": ('dust off, spray.",common practice,', 'dust off, spray.",hearsay,', "a basis"),
    "published without a source": ('dust off, spray.",common practice,', 'dust off, spray.",published,', "sources.yaml"),
    "a pair twice": ("water,alkyd,care,", "water,water,care,", "each pair once"),
}


@pytest.mark.parametrize("name", BAD_CELLS)
def test_a_bad_line_of_the_matrix_is_told_with_its_line(name, folder):
    old, new, wanted = BAD_CELLS[name]
    line = change(folder, OVER, old, new)
    told = [str(problem) for problem in problems(folder)]
    assert any(one.startswith(f"{OVER}:{line}: wanted ") and wanted in one for one in told), told


def test_a_gap_in_the_matrix_is_told_since_it_would_read_as_a_yes(folder):
    path = folder / OVER
    path.write_text("".join(line for line in path.read_text(encoding="utf-8").splitlines(True) if not line.startswith("lacquer,alkyd,")), encoding="utf-8")
    assert any("lacquer over alkyd" in str(problem) and problem.path == OVER for problem in problems(folder))


def test_a_surface_whose_good_is_wetter_than_its_most_is_told(folder):
    line = change(folder, "site_data/substrates.yaml", "moisture_good: 12 %", "moisture_good: 15 %")
    assert [(problem.path, problem.line) for problem in problems(folder)] == [("site_data/substrates.yaml", line)]


def test_a_handbook_without_the_survey_files_loads(folder):
    for name in ("over.csv", "finishes.yaml", "cleaning.yaml", "substrates.yaml", "pieces.yaml", "area_factors.csv"):
        (folder / "site_data" / name).unlink()
    shutil.rmtree(folder / "site_data/templates")  # they name pieces
    assert not load(folder).over


def test_committed_schemas_are_current():
    for name, schema in schemas().items():
        assert json.loads((ROOT / "site_data" / "schemas" / name).read_text(encoding="utf-8")) == schema, f"{name}: run almanac schemas"
