"""The command line as a stranger would use it."""

from __future__ import annotations

import io
import json
import os
import re
import shlex
import subprocess
import sys
import time

import pytest
from conftest import ROOT, copied

from generators import progress
from generators.cli import almanac, main, understood
from generators.cli.say import EXITS


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
    copied(tmp_path, settings=False)
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


@pytest.mark.parametrize("name", list(almanac.commands))
def test_a_misspelt_command_and_each_misspelt_option_get_the_nearest_name(capsys, name):
    if len(name) > 3:  # "new" with a letter less is nobody's
        assert main([name[:-2] + name[-1]]) == 1
        assert f"did you mean {name!r}?" in capsys.readouterr().err
    for option in (one for param in almanac.commands[name].params for one in param.opts if one.startswith("--")):
        wrong = option[:-2] + option[-1] if len(option) > 5 else option + "t"
        assert main([name, wrong]) == 1
        told = capsys.readouterr().err
        assert f"did you mean '{option}'?" in told and len(told.splitlines()) == 1, told


@pytest.mark.parametrize("name", list(almanac.commands))
def test_help_gives_an_example_that_is_understood_and_the_same_options_in_the_same_places(capsys, name):
    command = almanac.commands[name]
    assert main([name, "--help"]) == 0
    told = capsys.readouterr().out
    assert told.rstrip().endswith(command.example) and "Example" in told
    assert understood(shlex.split(command.example)[1:]) == name
    last = [param.name for param in command.params][-3:]
    assert last == ["handbook", "quiet", "debug"], "the same at the end of every command"


def test_exit_codes_are_written_down(capsys):
    assert main(["--help"]) == 0
    told = capsys.readouterr().out
    assert all(f"\n  {code} " in told for code, _ in EXITS) and {"0", "1", "2", "3", "130"} == {code for code, _ in EXITS}
    assert main([]) == 1


@pytest.mark.parametrize(("arguments", "meant"), [
    ("card --kit five-stage-troley --out x.pdf", "five-stage-trolley"), ("card --coatings gannet-trim-sattin --out x.pdf", "gannet-trim-satin"), ("work wet-fim", "wet-film"),
    ("work wet-film dry-fim=3", "dry-film"), ("today kit=two-stge-tote", "two-stage-tote"), ("today air-temprature=18C", "air-temperature"), ("today --region uss", "us"),
    ("card --size letr", "letter"), ("work dew-pont", "dew-point"), ("book --part trian", "train"), ("book --pages mix/thining", "mix/thinning.md"), ("work cup-viscosity cup=iso3 time=40", "iso-3"),
])
def test_a_misspelt_name_of_a_kit_a_coating_a_formula_a_page(capsys, arguments, meant):
    code, _, err = run(capsys, *arguments.split())
    assert code == 1 and (f"did you mean {meant!r}?" in err), err


def test_every_problem_of_one_call_at_once(capsys):
    assert run(capsys, "card", "--coatings", "gannet-trim-sattin,tern-cleer-satin", "--out", "x.pdf")[2].count("did you mean") == 2


def test_quiet_says_nothing_but_what_was_asked_for(capsys, tmp_path):
    assert run(capsys, "schemas", "--quiet", "--out", str(tmp_path / "schemas")) == (0, "", "")
    assert main(["--quiet", "--handbook", str(ROOT), "schemas", "--out", str(tmp_path / "schemas")]) == 0 and capsys.readouterr().out == ""
    assert run(capsys, "work", "wet-film", "dry-film=25", "volume-solids=40", "thinner=10", "--quiet")[1].startswith("68.75")


def test_debug_shows_where_and_a_mistake_of_the_program_is_told_as_one(capsys, monkeypatch):
    assert "Traceback" in run(capsys, "work", "cup-viscosity", "cup=iso-3", "time=15", "--debug")[2]
    monkeypatch.setattr("generators.cli.answers.catalogue_of", lambda asked: 1 / 0)
    code, _, err = run(capsys, "work", "wet-film")
    assert code == 3 and len(err.splitlines()) == 1 and "test_cli.py:" in err and "mistake in the program" in err
    code, _, err = run(capsys, "work", "wet-film", "--debug")
    assert code == 3 and "ZeroDivisionError" in err and "Traceback" in err


def test_the_handbook_may_stand_before_or_behind_the_command(capsys):
    assert main(["formulas", "--json", "--handbook", str(ROOT)]) == 0
    behind = capsys.readouterr().out
    assert run(capsys, "formulas", "--json")[1] == behind


@pytest.mark.parametrize(("typed", "wanted"), [
    ("almanac ca", {"card"}), ("almanac card --kit two", {"two-stage-tote"}), ("almanac card --coatings tern-clear-satin,gan", {"tern-clear-satin,gannet-trim-satin"}),
    ("almanac build --region u", {"uk", "us"}), ("almanac work wet-f", {"wet-film"}), ("almanac today air-t", {"air-temperature="}), ("almanac card --size l", {"letter"}),
])
def test_the_tab_key(typed, wanted):
    """As bash asks: through the program, in its own process."""
    words = typed.split()
    done = subprocess.run([sys.executable, "-m", "generators.cli"], cwd=ROOT, capture_output=True, text=True, check=False,
                          env={**os.environ, "_ALMANAC_COMPLETE": "bash_complete", "COMP_WORDS": typed, "COMP_CWORD": str(len(words) - 1)})
    assert {line.partition(",")[2] for line in done.stdout.splitlines()} == wanted, done


def test_the_script_for_bash_is_sound(capsys):
    assert main(["completion", "bash"]) == 0
    subprocess.run(["bash", "-n"], input=capsys.readouterr().out, text=True, check=True)


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_a_terminal_is_told_how_far_and_how_long_yet(monkeypatch):
    monkeypatch.setattr(progress, "AFTER", 0.01)
    screen, pipe, hushed = Terminal(), io.StringIO(), Terminal()
    for stream, quiet in ((screen, False), (pipe, False), (hushed, True)):
        with progress.shown({"pages": 1, "site": 1}, stream, quiet, every=0.01):
            for _ in progress.through("pages", range(10), 10):
                time.sleep(0.01)
    assert re.search(r"pages [3-8] of 10; about 1 s left", screen.getvalue()) and screen.getvalue().endswith("\r")
    assert pipe.getvalue() == "" == hushed.getvalue()


def test_time_left_is_what_took_scaled_to_what_is_to_come():
    clock = iter([0.0, 8.0])
    way = progress.Way({"facts": 1, "pages": 3, "site": 4}, lambda: next(clock))
    way.at("pages", 50, 150)  # an eighth and a third of three eighths: a quarter of the whole in 8 s
    assert way.part() == pytest.approx(0.25) and way.line() == "pages 50 of 150; about 24 s left"


def test_rounds_count_on_from_where_the_last_began():
    way = progress.Way({"pages": 1}, lambda: 0.0)
    progress._now = way
    try:
        with progress.part_of("pages", 40, 80):
            progress.at("pages", 20, 20)
            assert (way.done, way.of, way.part()) == (60, 80, 0.75)
        progress.at("pages", 20, 20)
        assert (way.done, way.of) == (20, 20)
    finally:
        progress._now = None


WATCHED = """
import json, time
from generators import beside, progress
beside.alone()
told = []
progress._now = type("Way", (progress.Way,), {"at": lambda self, *come: told.append(come)})({})

def work():
    for number in range(3):
        progress.at("pages", number, 3)
        time.sleep(0.25)
    return "made"

def works(give):
    give(work())
    progress.at("pages", 9, 9)
    give(None)

one = beside.Beside(works, watched=True)
print(json.dumps([one.heard(), one.heard(), told, beside.can_part()]))
"""


def test_who_waits_for_a_second_process_sees_how_far_it_is():
    made, last, told, parts = json.loads(subprocess.run([sys.executable, "-c", WATCHED], capture_output=True, text=True, check=True, cwd=ROOT).stdout)
    assert last is None and (made, told) == (("made", [*(["pages", number, 3] for number in range(3)), ["pages", 9, 9]]) if parts else (None, []))


SHARED = """
import json, time
from generators import beside
beside.alone()
for count in (3, 30_000):  # more than a pipe holds: what it has no room for is in nobody's hands
    shared = beside.Shared(count, lambda number: (time.sleep(0.0001), number * 2)[1], ahead=(-1,))
    mine = [number for number in range(count) if shared.mine(number)]
    theirs = dict(shared.rest())
    print(json.dumps([beside.can_part(), len(mine), len(theirs), len(set(mine) & set(theirs)), all(theirs[number] == number * 2 for number in theirs), sorted({*mine, *theirs})[-1]]))
"""


def test_what_two_processes_share_is_done_once_each():
    few, many = (json.loads(line) for line in subprocess.run([sys.executable, "-c", SHARED], capture_output=True, text=True, check=True, cwd=ROOT, timeout=60).stdout.splitlines())
    for count, (parts, mine, theirs, twice, right, last) in ((3, few), (30_000, many)):
        assert not twice and right and (mine + theirs == count + 1 if count == 3 else 1 <= mine + theirs <= count + 1) if parts else (mine, theirs) == (count, 0)
        assert last < count
