"""The bill of materials against what is truly installed, read by pip's own list: another way than the one that made it."""

from __future__ import annotations

import json
import re
import subprocess
import sys

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
