"""README and the guide for contributors: what they name is there, and each command that they give runs, in small."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
import tomllib

import pytest
from conftest import ROOT

from generators.cli import almanac, main, understood
from generators.starter import write

GUIDES = {name: (ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "DEVELOPERS.md")}
SPAN = re.compile(r"`([^`\n]+)`")
FENCE = re.compile(r"```\n(.*?)```", re.S)
COMMANDS = ("almanac", "python", "bash", "pytest")
ELSEWHERE = ("pip", "pip-compile", "ruff", "mypy", "lint-imports", "mkdocs", "chromium", "python3", ".", "cd")  # other people's commands; CI calls those it needs
IN_A_PAGE = {"table", "work", "value", "protection", "stop", "live", "form", "picture"}
# What stands in code type and is neither a command, a file nor a name in the code.
WORDS = {"path:line: wanted; came; how to mend", "°C", "Δ°C", "ALMANAC_ANEW=1", "_headers", "{{ name|text }}", "wait_for_selector", "expect", "mkdocs build", "chromium", "paper: false"}


def commands():
    """Each command of ours in the guides, one `&&` at a time, as words."""
    found = []
    for text in GUIDES.values():
        for line in [*SPAN.findall(FENCE.sub("", text)), *(line for block in FENCE.findall(text) for line in block.splitlines())]:
            for part in re.split(r" && | \| ", line):
                words = part.replace("…", "handbook.example").split()
                if words and words[0] in COMMANDS and (len(words) > 1 or words[0] == "pytest"):
                    found.append(part.replace("…", "handbook.example"))
    return list(dict.fromkeys(found))


def spans():
    return sorted({span for text in GUIDES.values() for span in SPAN.findall(FENCE.sub("", text))})


def test_there_are_commands_to_try():
    told = commands()
    assert len(told) > 15 and {part.split()[0] for part in told} == set(COMMANDS), told


@pytest.mark.parametrize("command", [command for command in commands() if command.startswith("almanac ")])
def test_the_command_line_takes_it(command):
    words = shlex.split(command)[1:]
    if words == ["work"]:
        words += ["wet-film"]  # named as a command, not given as one
    assert understood(words) == words[0]


@pytest.mark.parametrize("command", [command for command in commands() if command.split()[0] in ("python", "bash")])
def test_the_script_is_there_and_takes_its_options(command):
    words = command.split()
    script = ROOT / words[1]
    assert script.is_file(), command
    if words[0] == "bash":
        subprocess.run(["bash", "-n", str(script)], check=True)
        return
    text = script.read_text(encoding="utf-8")
    for option in (word for word in words if word.startswith("--")):
        assert f'"{option}"' in text, f"{words[1]} does not know {option}"


def test_what_pytest_is_asked_for_is_declared():
    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["pytest"]["ini_options"]
    assert any(marker.startswith("sweep:") for marker in told["markers"]) and "not sweep" in told["addopts"]
    assert "pytest -m sweep" in GUIDES["DEVELOPERS.md"] and "pytest -m sweep" in (ROOT / ".ci/run").read_text(encoding="utf-8")


def code():
    """All of our own code and facts, to find a name in."""
    files = [path for base in ("generators", "tests", "site_data") for path in (ROOT / base).rglob("*") if path.suffix in (".py", ".js", ".yaml", ".csv") and path.name != "test_guides.py"]
    return "\n".join(path.read_text(encoding="utf-8") for path in files)


def is_there(name, site):
    """A file or folder, from the root, from a room, from the facts, or in the finished site; an address of a page."""
    theme = ROOT / "generators/site/theme"
    places = (ROOT, ROOT / "generators/starter/own", ROOT / "generators", theme, theme / "assets", ROOT / "site_data", ROOT / "tests", site)
    name = name.removeprefix("site/") if name.startswith("site/") and not (ROOT / "generators" / name).exists() else name
    return any((place / name).exists() for place in places) or (site / f"{name}.html").exists()


def test_every_name_in_code_type_is_a_name(site):
    """A file that was moved, a page that is gone, a fixture or a key that has another name: told here, not by the next reader."""
    known, missing = code(), []
    for span in spans():
        first = span.split()[0]
        if span in WORDS or first in (*COMMANDS, *ELSEWHERE) or first.startswith(("--", "-n")):
            continue
        if re.fullmatch(r"\.?[\w.-]*(/[\w.-]*)+|[\w.-]+\.(py|js|css|yaml|yml|csv|txt|md|html)", span):
            if span != ".almanac/" and not is_there(span.rstrip("/"), site):  # what a build keeps is there after the first
                missing.append(span)
        elif call := re.match(r"\{\{ (\w+)\(", span):
            if call[1] not in IN_A_PAGE:
                missing.append(span)
        else:
            for name in re.findall(r"[A-Za-z_]\w+", span.split("(")[0].split("=")[0])[-1:]:
                if not re.search(rf"(?:def|class) {name}\b|\b{name}\s*[:=]|\b{name}\.|@pytest\.mark\.{name}\b", known):
                    missing.append(span)
    assert not missing, missing


def test_the_house_as_drawn_is_the_house_as_built():
    """Each room in the plan is a room, and each room is in the plan."""
    plan = next(block for block in FENCE.findall(GUIDES["DEVELOPERS.md"]) if "the command line" in block)
    drawn = {name for line in plan.splitlines() for name in re.split(r" [|] |, ", re.split(r"\s{2,}", line)[0]) if name}
    built = {path.stem for path in (ROOT / "generators").iterdir() if not path.name.startswith("__")}
    assert drawn == built, (sorted(drawn - built), sorted(built - drawn))


def test_functions_named_for_pages_can_be_called():
    from generators.pages.build import __file__ as builder

    texts = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "generators/pages").rglob("*.py"))
    assert builder
    for name in IN_A_PAGE:
        assert re.search(rf"[\"']{name}[\"']\s*:|\b{name}=|def {name}\(", texts), name


# Each command as the guides give it → the same, in small. What has no line here is tried elsewhere, and says where.
SMALL = {
    "almanac check": ["almanac", "check"],
    "almanac check --as-read": ["almanac", "check", "--as-read"],
    "almanac upgrade --look": ["almanac", "--handbook", "{own}", "upgrade", "--look"],
    "almanac own mix/thinning": ["almanac", "--handbook", "{own}", "own", "mix/thinning"],
    "almanac completion bash": ["almanac", "completion", "bash"],
    "almanac formulas": ["almanac", "formulas"],
    "almanac work": ["almanac", "work", "wet-film", "dry-film=25", "volume-solids=40", "thinner=10"],
    "almanac verdicts": ["almanac", "verdicts"],
    "almanac learn records.jsonl": ["almanac", "learn", str(ROOT / "tests/records.jsonl"), "--pictures", "{tmp}/learned"],
    "almanac today kit=two-stage-tote air-temperature=18C": ["almanac", "today", "kit=two-stage-tote", "air-temperature=18C", "--json"],
    "almanac today kit=five-stage-trolley coating=gannet-trim-satin air-temperature=18C relative-humidity=55": [
        "almanac", "today", "kit=five-stage-trolley", "coating=gannet-trim-satin", "air-temperature=18C", "relative-humidity=55"],
    "almanac job kitchen air-temperature=12C": ["almanac", "job", "kitchen", "air-temperature=12C", "--json"],
    "almanac drills --sheet 7 --count 12": ["almanac", "drills", "--sheet", "7", "--count", "2", "--out", "{tmp}/sheets.pdf"],
    "almanac schemas": ["almanac", "schemas", "--out", "{tmp}/schemas"],
    "almanac card --charts": ["almanac", "card", "--charts", "--out", "{tmp}/sheet.pdf"],
    "almanac card --kit all --coatings a,b": ["almanac", "card", "--kit", "all", "--coatings", "gannet-trim-satin,tern-clear-satin", "--out", "{tmp}/card.pdf"],
    "python tests/licences.py": ["python", "tests/licences.py"],
    "python tests/fuzz.py --count 100000": ["python", "tests/fuzz.py", "--count", "20", "--every", "1000"],
    "python tests/mutate.py": ["python", "tests/mutate.py", "--only", "pot-thinner", "--rows-only"],
}
SMALL_SWEEP = {
    "python tests/kill.py --count 200": ["python", "tests/kill.py", "--count", "1"],
    "python tests/benchmark_scale.py": ["python", "tests/benchmark_scale.py", "--sizes", "2", "--kits", "1"],
    "python tests/benchmark.py": ["python", "tests/benchmark.py", "--runs", "1"],
    "python tests/reading.py": ["python", "tests/reading.py"],
    "almanac book": ["almanac", "book", "--part", "train", "--out", "{tmp}/week.pdf"],
    "almanac build --base-url https://handbook.example": ["almanac", "build", "--base-url", "https://handbook.example", "--out", "{tmp}/site"],
}
ELSEWHERE_TRIED = {
    "almanac publish": "test_publish.py",
    "almanac build": "every test of the site", "almanac publish --zip handbook.zip": "test_publish.py", "python tests/known.py": "test_layers.py",
    "almanac serve": "test_serve.py", "almanac card": "test_starter.py", "almanac new my-handbook": "test_starter.py", "pytest": "this run",
    "python tests/hosts.py": "test_hosts.py", "python tests/heights.py": "test_heights.py", "python tests/survival.py --count 200": "test_survival.py",
    "python tests/fit_search.py SITE --write": "test_search.py",
    "almanac take records.jsonl --source own-sheets": "test_own.py",
    "python tests/mutate_phone.py --sample 25": ".ci/run",
    "pytest -m sweep": ".ci/run", "pytest -m campaign": "by hand; its samples stand in this run", "bash .ci/run": "CI itself", "bash tests/stranger.sh": ".ci/run",
}


def test_each_command_is_tried_somewhere():
    assert set(commands()) <= {*SMALL, *SMALL_SWEEP, *ELSEWHERE_TRIED}, set(commands()) - {*SMALL, *SMALL_SWEEP, *ELSEWHERE_TRIED}


@pytest.mark.parametrize("command", [*SMALL, *(pytest.param(command, marks=pytest.mark.sweep) for command in SMALL_SWEEP)])
def test_it_runs_in_small(command, tmp_path, capsys):
    words = [word.replace("{tmp}", str(tmp_path)) for word in {**SMALL, **SMALL_SWEEP}[command]]
    if "{own}" in words:
        write(tmp_path / "own")
        words = [word.replace("{own}", str(tmp_path / "own")) for word in words]
    if words[0] == "almanac" and "book" not in words:
        assert main(["--handbook", str(ROOT), *words[1:]]) == 0, capsys.readouterr().err
        return
    call = [sys.executable, "-m", "generators.cli", *words[1:]] if words[0] == "almanac" else [sys.executable, *words[1:]]
    done = subprocess.run(call, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0 and (done.stdout + done.stderr).strip(), done.stdout[-1500:] + done.stderr[-1500:]


def test_a_starter_names_only_commands_that_are_there(tmp_path):
    """The files that come with a crew's own handbook name commands too."""
    write(tmp_path / "own")
    seen = 0
    for path in (one for one in (tmp_path / "own").rglob("*") if one.suffix in (".md", ".yaml", ".csv")):
        for span in SPAN.findall(path.read_text(encoding="utf-8")):
            words = span.replace("…", "x").split()
            if words[0] == "almanac" and len(words) > 1:
                seen += 1
                assert words[1] in almanac.commands, (path.name, span)
    assert seen >= 1


def test_every_long_test_named_is_a_test():
    """A line that names none would hide nothing, and say that it does."""
    lines = [line for line in (ROOT / "tests/long.txt").read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    assert len(lines) == len(set(lines)) and lines == sorted(lines)
    lost = [line for line in lines if not re.search(rf"def {re.escape(line.partition('::')[2].partition('[')[0])}\(", (ROOT / line.partition("::")[0]).read_text(encoding="utf-8"))]
    assert not lost, lost
