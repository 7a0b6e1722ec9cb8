"""Live preview: a change in facts, pages or code shows; a mistake shows on the page with file and line, and mending it brings the page back."""

from __future__ import annotations

import os
import re
import shutil
import socket
import subprocess
import sys
import time
import urllib.request

import pytest
from conftest import ROOT


@pytest.fixture
def served(tmp_path):
    """A copy of the whole project being served on a free port: (folder, read a page)."""
    for name in ("site_data", "handbook", "generators"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    (tmp_path / "mkdocs.yml").write_text((ROOT / "mkdocs.yml").read_text() + f"\ndev_addr: 127.0.0.1:{port}\n")
    environment = {**os.environ, "PYTHONPATH": str(tmp_path), "PYTHONDONTWRITEBYTECODE": "1"}
    log = tmp_path / "serve.log"
    with log.open("w") as out:
        process = subprocess.Popen([sys.executable, "-m", "generators.cli", "serve"], cwd=tmp_path, env=environment, stdout=out, stderr=subprocess.STDOUT)

    def read(address, wanted, seconds=40):
        """The page once it holds `wanted` (a pattern), or a failure with what it held."""
        text, until = "", time.monotonic() + seconds
        while time.monotonic() < until:
            assert process.poll() is None, log.read_text()
            try:
                with urllib.request.urlopen(f"http://127.0.0.1:{port}/{address}", timeout=5) as answer:
                    text = answer.read().decode()
            except OSError:
                text = ""
            if re.search(wanted, text):
                return text
            time.sleep(0.2)
        pytest.fail(f"{address} never held {wanted!r}:\n{log.read_text()[-2000:]}\n{text[-1500:]}")

    yield tmp_path, read
    process.terminate()
    process.wait(timeout=20)


def test_serve_shows_changes_and_mistakes(served):
    folder, read = served
    read("index.html", "What is in front of you")

    tin = folder / "site_data/coatings/gannet-trim-satin.yaml"
    good = tin.read_text()
    tin.write_text(good.replace("name: Gannet Trim Satin", "name: Renamed Satin"))
    read("coatings/gannet-trim-satin.html", "Renamed Satin")

    line = next(number for number, text in enumerate(good.splitlines(), 1) if text.startswith("volume_solids"))
    tin.write_text(good.replace("volume_solids: 38 %", "volume_solids: 38 apples"))
    read("coatings/gannet-trim-satin.html", rf"site_data/coatings/gannet-trim-satin\.yaml:{line}:")
    tin.write_text(good)
    read("coatings/gannet-trim-satin.html", "Gannet Trim Satin</h1>")

    page = folder / "handbook/mix/thinning.md"
    page.write_text(page.read_text() + "\nA line of today.\n")
    read("mix/thinning.html", "A line of today")

    code = folder / "generators/tables/gun.py"
    code.write_text(code.read_text().replace('"Fan width', '"Width of the fan'))
    read("gun/distance-and-fan.html", "Width of the fan")
