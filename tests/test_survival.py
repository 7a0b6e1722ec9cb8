"""A sample of tests/survival.py: what was called kept is there after the whole browser is killed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from conftest import CHROMIUM, CHROMIUM_FLAGS


def test_what_was_called_kept_outlives_a_killed_browser(served, tmp_path):
    if not CHROMIUM.exists():
        if os.environ.get("CI"):
            pytest.fail(f"CI wants {CHROMIUM}: .ci/run installs it")
        pytest.skip(f"NOT KILLED: no {CHROMIUM}; install Debian's chromium to run this")
    # A process of its own: a test's own browser may be open here, and one process drives one of Playwright's loops.
    code = """import json, sys
from pathlib import Path
from survival import kills
count, seed, address, folder, *rest = json.loads(sys.argv[1])
print(json.dumps(kills(count, seed, address, Path(folder), *rest)))"""
    asked = json.dumps([8, 5, f"{served}/job/daily-log.html", str(tmp_path / "profile"), str(CHROMIUM), CHROMIUM_FLAGS])
    done = subprocess.run([sys.executable, "-c", code, asked], cwd=Path(__file__).parent, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["killed"] == 8 and found["there"] > 8 and not [what for what in found if what.startswith("LOST")], found
