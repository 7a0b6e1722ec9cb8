"""Quantity from file to table: kinds and spans of limits, ranges and ± of a sheet, typed rows with their basis, and the command line."""

from __future__ import annotations

import csv
import json
import re
import shutil
import subprocess
import sys

import pytest
from conftest import ROOT

from generators import cli, units
from generators.facts import FactsError, load, rows
from generators.quantity import KINDS, Quantity, read

GOOD = "site_data/coatings/gannet-trim-satin.yaml"


@pytest.fixture
def folder(tmp_path):
    shutil.copytree(ROOT / "site_data", tmp_path / "site_data")
    return tmp_path


def change(folder, path, pattern, new):
    """Replace the first match; the line it stands on."""
    target = folder / path
    text = target.read_text(encoding="utf-8")
    found = re.search(pattern, text, re.MULTILINE)
    assert found, pattern
    target.write_text(text[: found.start()] + new + text[found.end():], encoding="utf-8")
    return text.count("\n", 0, found.start() + found.group().rfind("\n") + 1) + 1


def test_every_limit_declares_its_kind_and_its_span_and_lies_in_it(facts):
    text = (ROOT / "site_data/limits.yaml").read_text(encoding="utf-8")
    assert text.count("\n  kind: ") == text.count("\n  between: ") == len(facts.limits)
    for key, limit in facts.limits.items():
        said = re.search(rf"^{key}:\n  value: (.+)$", text, re.MULTILINE)[1]
        assert limit.kind in KINDS and (limit.low < limit.likely < limit.high if "±" in said else limit.low == limit.likely == limit.high), key


def nonsense(text):
    """(key, value as it stands, values of no sense): the sign turned, ten times, a hundredth, another kind of unit."""
    for key, value, least in re.findall(r"^([a-z_]+):\n  value: (.+)\n  kind: .+\n  between: ([\d.]+)", text, re.MULTILINE):
        number, unit = re.fullmatch(r"([\d.]+)(?: ± [\d.]+)? (.+)", value).groups()
        for bad in (f"-{number} {unit}", f"{float(number) * 10:g} {unit}", f"{float(number) / 100:g} {unit}", f"{number} kg", "banana", number):
            if not (float(number) == 0 and bad.endswith("0 h")) and not ("±" in value and float(least) == 0 and bad == f"{float(number) / 100:g} {unit}"):  # nought is nought
                yield key, value, bad


def test_nonsense_in_a_limit_is_refused_at_its_line(folder):
    """All limits at once, one kind of nonsense after another: every single one is told at its own line."""
    path = folder / "site_data/limits.yaml"
    text = path.read_text(encoding="utf-8")
    rounds = {}
    for place, (key, value, bad) in enumerate(nonsense(text)):
        rounds.setdefault(place % 6, []).append((key, value, bad))
    missed = []
    for turn in rounds.values():
        spoiled = text
        for key, value, bad in turn:
            spoiled = spoiled.replace(f"{key}:\n  value: {value}\n", f"{key}:\n  value: {bad}\n")
        path.write_text(spoiled, encoding="utf-8")
        with pytest.raises(FactsError) as caught:
            load(folder)
        told = {problem.line for problem in caught.value.problems if problem.path == "site_data/limits.yaml"}
        lines = spoiled.split("\n")
        missed += [(key, bad) for key, _, bad in turn if lines.index(f"{key}:") + 2 not in told]
    assert not missed, missed


RANGES = {  # what a sheet says → (low, likely, high): a range counts with the end that does no harm
    "volume_solids: 39 ± 2 %": ("volume_solids", "%", (37, 39, 41)), "dry_film: 1–1.5 mils": ("dry_film", "µm", (25.4, 31.75, 38.1)),
    "voc: <50 g/L": ("voc", "g/L", (0, 50, 50)), "voc: 40–50 g/L": ("voc", "g/L", (40, 50, 50)),
    "air_min: 46–50 °F": ("air_min", "°F", (46, 50, 50)), "air_max: 28–30 °C": ("air_max", "°C", (28, 28, 30)), "humidity_max: max. 80 %": ("humidity_max", "%", (0, 80, 80)),
    "recoat_after: 4–6 hours": ("recoat_after", "h", (4, 6, 6)),
    "thinner_max: 5 to 10 %": ("thinner_max", "%", (5, 5, 10)), "density: 1,25 kg/L": ("density", "kg/L", (1.25, 1.25, 1.25)), "density: 10.4 lbs/gal": ("density", "lb/gal", (10.4, 10.4, 10.4)),
}


def test_ranges_of_a_sheet_count_with_their_safe_end(folder):
    text = (folder / GOOD).read_text(encoding="utf-8")
    for line, (name, unit, wanted) in RANGES.items():
        (folder / GOOD).write_text(re.sub(rf"^{name}: .*$", line, text, flags=re.MULTILINE), encoding="utf-8")
        value = getattr(load(folder).coatings["gannet-trim-satin"], name)
        low, high = value.ends(unit)
        assert (low, value.to(unit), high) == pytest.approx(wanted), line
        assert value.text == line.partition(": ")[2] and value.origin.basis


def test_a_doubtful_comma_in_a_file_is_refused_with_both_readings(folder):
    line = change(folder, GOOD, r"^density: .*$", "density: 1,200 kg/L")
    row = change(folder, "site_data/surfaces.csv", r"^skirting,.*?,length,,0\.12,", 'skirting,"Skirting","Baseboard",length,,"1,510",')
    with pytest.raises(FactsError) as caught:
        load(folder)
    told = [str(problem) for problem in caught.value.problems]
    assert any(one.startswith(f"{GOOD}:{line}: ") and "1.2 or 1200" in one for one in told), told
    assert any(one.startswith(f"site_data/surfaces.csv:{row}: ") and "1.51 or 1510" in one for one in told), told


def test_rows_keep_every_basis_and_source(facts):
    """Against the files themselves, read here by the csv module."""
    read_rows = ((rows.Solvent, facts.solvents), (rows.Surface, facts.surfaces), (rows.FlowTime, facts.flow_times), (rows.Care, facts.care),
                 (rows.Landing, facts.efficiencies), (rows.AreaFactor, facts.area_factors))
    for kind, found in read_rows:
        with (ROOT / "site_data" / kind.file).open(encoding="utf-8", newline="") as file:
            written = list(csv.DictReader(line for line in file if not line.startswith("#")))
        assert len(written) == len(found)
        for row, one in zip(written, found, strict=True):
            for name in type(one).model_fields:
                value = getattr(one, name)
                if isinstance(value, Quantity):
                    head = f"{name} [{kind.heads[name]}]" if name in kind.heads else name
                    assert (str(value.origin.basis), value.origin.source) == (row["basis"], row["source"]), (kind.file, row)
                    if name in kind.heads:
                        assert value.to(kind.heads[name]) == float(row[head]), (kind.file, row)


def test_no_row_is_made_a_number_by_hand():
    for path in (ROOT / "generators/facts").glob("*.py"):
        assert not re.search(r"float\((row|solvent)\[", path.read_text(encoding="utf-8")), path


@pytest.mark.parametrize("given,wanted", [("1,200", "1.2 or 1200"), ("0x10", "figure"), ("1e3", "not a power of ten"), ("18–20 C", "one figure"), ("20 furlongs", "°C or °F"),
    ("20 %", "measures something else"), ("", "figure")])
def test_the_command_line_refuses_what_it_cannot_read(given, wanted, capsys):
    code = cli.main(["--handbook", str(ROOT), "work", "dew-point", f"air-temperature={given}", "relative-humidity=50"])
    said = capsys.readouterr()
    assert code == 1 and wanted in said.err + said.out and "wanted" in said.err + said.out, said


def test_the_command_line_reads_units_as_people_write_them(capsys):
    answers = set()
    for air in ("20", "20 °C", "20C", "68F", "68 °F", "68 deg F", "20,0"):
        assert cli.main(["--handbook", str(ROOT), "work", "dew-point", f"air-temperature={air}", "relative-humidity=50 % RH", "--json"]) == 0
        answers.add(round(json.loads(capsys.readouterr().out)["value"], 9))
    assert len(answers) == 1


def test_nothing_is_converted_without_need():
    """Reading a value in its own unit opens no registry of units: a fresh process, so that no other test has opened it."""
    program = "import sys; from generators.quantity import KINDS, read; read('18 °C', '°C'); KINDS['film'].quantity('30 microns'); print('pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_angles_and_levels_are_no_shares():
    for text in ("60 deg", "85 dBA"):
        with pytest.raises(units.UnitError):
            read(text, "%")
