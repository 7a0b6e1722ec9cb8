"""How each figure was read is shown back at its line: spellings of data sheets against their meaning, worked by hand from the units' definitions."""

from __future__ import annotations

import re
import shutil

import pytest
from conftest import ROOT

from generators.facts.as_read import as_read

TIN = ROOT / "site_data/coatings/gannet-trim-satin.yaml"
# What a sheet prints, by field, and what it means. Pound 0.45359237 kg, US gallon 3.785411784 L, inch 25.4 mm: exact by definition (NIST SP 811, from memory).
SHEET = {
    "density": ("12.4 lb/gal", "12.4 lb/gal = 1.486 kg/L"), "dry_film": ("1.5 mils", "1.5 mil = 38.1 µm"), "voc": ("<50 g/L", "50 g/L"), "volume_solids": ("39 ± 2 %", "39 %, 37 to 41"),
    "air_min": ("50 °F", "50 °F = 10 °C"), "recoat_after": ("4 hours", "4 h"), "supplied": ("60 sec Zahn #2", "60 s in zahn-2"), "humidity_max": ("80 percent", "80 %"),
    "coverage": ("10–12 m²/L", "11 m²/L, 10 to 12"),
}


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    root = tmp_path_factory.mktemp("read")
    shutil.copytree(ROOT / "site_data", root / "site_data")
    text = re.sub(r"^(trial|supplied|coverage|viscosity):.*\n", "", TIN.read_text(encoding="utf-8"), flags=re.M)
    for field, (typed, _) in SHEET.items():
        text = re.sub(rf"^{field}:.*\n", "", text, flags=re.M) + f"{field}: '{typed}'\n"
    text += "viscosity: 95 KU\n" + 'two_pack: {ratio: "100:25 by weight", hardener_density: 1.0 kg/L, pot_life: 6 h}\nhardener: amine\n'
    (root / "site_data/coatings/as-printed.yaml").write_text(text, encoding="utf-8")
    lines = text.splitlines()
    found = {}
    for line in as_read(root):
        if line.startswith("site_data/coatings/as-printed.yaml:"):
            _, number, field, rest = re.match(r"(.+?):(\d+): ([\w.]+): (.*)", line).groups()
            assert lines[int(number) - 1].startswith(field.partition(".")[0]), line
            found[field] = rest
    return found


@pytest.mark.parametrize("field", SHEET)
def test_a_spelling_is_shown_with_its_meaning(told, field):
    typed, meaning = SHEET[field]
    shown = told[field]
    assert shown.startswith(f"{typed!r} → ") and meaning in shown.replace(f"{typed!r} → ", ""), shown


def test_krebs_is_shown_as_about_and_gives_no_cup_time(told):
    """ASTM D562's own line from Krebs to poise, from memory: 95 KU is about 15 P; a sheet's figure is good to some 15 %."""
    shown = told["viscosity"]
    likely, low, high = (float(part) for part in re.search(r"→ ([\d.]+) mPa·s, ([\d.]+) to ([\d.]+)", shown).groups())
    assert likely == pytest.approx(1500, rel=0.1) and low < 0.86 * likely and high > 1.14 * likely
    assert "no cup time" in shown


def test_parts_say_by_what(told):
    assert told["two_pack.ratio"].endswith("4 parts of base to 1 of hardener, by mass")


def test_every_file_of_the_crew_is_shown():
    lines = list(as_read(ROOT))
    for folder in ("coatings", "kits", "own_cups", "recipes"):
        for path in (ROOT / "site_data" / folder).glob("*.yaml"):
            assert any(line.startswith(f"site_data/{folder}/{path.name}:") for line in lines), path.name
