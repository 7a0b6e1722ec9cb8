"""A sample of tests/survival.py: what was called kept is there after the whole browser is killed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import CHROMIUM, CHROMIUM_FLAGS
from survival import DAMAGE


def alone(code: str, asked: list, profile: Path):
    """What a process of its own prints: a test's own browser may be open here, and one process drives one of Playwright's loops."""
    if not CHROMIUM.exists():
        if os.environ.get("CI"):
            pytest.fail(f"CI wants {CHROMIUM}: .ci/run installs it")
        pytest.skip(f"NOT KILLED: no {CHROMIUM}; install Debian's chromium to run this")
    code = f"""import json, sys
from pathlib import Path
import survival
first, seed, address, folder, *rest = json.loads(sys.argv[1])
print(json.dumps(survival.{code}(first, seed, address, Path(folder), *rest)))"""
    done = subprocess.run([sys.executable, "-c", code, json.dumps([*asked, str(profile), str(CHROMIUM), CHROMIUM_FLAGS])], cwd=Path(__file__).parent, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_what_was_called_kept_outlives_a_killed_browser(served, tmp_path):
    found = alone("kills", [8, 5, f"{served}/job/daily-log.html"], tmp_path / "profile")
    assert found["killed"] == 8 and found["there"] > 8 and not [what for what in found if what.startswith("LOST")], found


@pytest.mark.parametrize("how", [how if how == "noise" else pytest.param(how, marks=pytest.mark.sweep) for how in DAMAGE])
def test_a_store_that_was_damaged_on_the_disk_comes_back_whole(served, tmp_path, how):
    assert alone("damaged", [how, 3, f"{served}/job/daily-log.html"], tmp_path / "profile") == ""
