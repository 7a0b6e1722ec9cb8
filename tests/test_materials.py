"""The bill of materials against what is truly installed, read by pip's own list: another way than the one that made it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from importlib import metadata

from conftest import ROOT
from packaging.specifiers import SpecifierSet

from generators.pages.materials import bill


def test_it_names_what_is_installed_with_version_and_licence():
    told = json.loads(bill())
    assert (told["bomFormat"], told["specVersion"]) == ("CycloneDX", "1.6")
    listed = json.loads(subprocess.run([sys.executable, "-m", "pip", "list", "--format", "json"], capture_output=True, text=True, check=True).stdout)
    installed = {re.sub(r"[-_.]+", "-", one["name"]).lower(): one["version"] for one in listed}
    made = {part["name"]: part for part in told["components"] if "purl" in part}
    assert {"mkdocs", "mkdocs-material", "jinja2", "pint", "pandas", "numpy", "typst"} <= set(made) and not {"pytest", "ruff", "sprayers-almanac"} & set(made)
    for name, part in made.items():
        assert part["version"] == installed[name] and part["purl"] == f"pkg:pypi/{name}@{installed[name]}" and part["licenses"], part
    assert bill() == bill() and "timestamp" not in bill() and "serialNumber" not in bill()


def test_the_fonts_stand_under_the_licence_that_lies_beside_them():
    fonts = next(part for part in json.loads(bill())["components"] if part["name"] == "Atkinson Hyperlegible")
    assert fonts["licenses"] == [{"license": {"id": "OFL-1.1"}}]


def test_what_is_locked_runs_on_the_oldest_python_that_we_name():
    """A machine may have the first of its line, and a package may want a later one: then nothing at all can be installed."""
    oldest = SpecifierSet(re.search(r'^requires-python = "(.+)"', (ROOT / "pyproject.toml").read_text(encoding="utf-8"), re.MULTILINE)[1])
    first = next(f"3.{minor}.0" for minor in range(30) if oldest.contains(f"3.{minor}.0"))
    locked = re.findall(r"^([A-Za-z0-9._-]+)==(\S+)", (ROOT / ".ci/lock-test.txt").read_text(encoding="utf-8"), re.MULTILINE)
    asked = 0
    for name, version in locked:
        try:
            package = metadata.metadata(name)
        except metadata.PackageNotFoundError:
            continue  # of another system
        if package["Version"] == version and (wants := package["Requires-Python"]):
            asked += 1
            assert SpecifierSet(wants).contains(first), f"{name} {version} wants Python {wants}: take one in constraints.txt that runs on {first}, then .ci/relock"
    assert asked > 50
