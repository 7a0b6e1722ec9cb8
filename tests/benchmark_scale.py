"""Time and memory as a handbook grows: `python tests/benchmark_scale.py --sizes 12 100 1000 --kits 3`. Never a test: machines differ.

Each size is built by `almanac build`, and by a bare `mkdocs build` of the same finished pages and the same assets, one after the other.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def _memory(pid: int) -> tuple[float, float]:
    """(MB of the largest, MB of all together) of a process and all that it has begun: what two of them share counts half for each in the second."""
    parents = {}
    for place in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError, ValueError):  # it may have ended
            parents[int(place.name)] = int((place / "stat").read_text().rpartition(")")[2].split()[1])
    ours = {pid}
    while more := {one for one, parent in parents.items() if parent in ours} - ours:
        ours |= more
    most = together = 0.0
    for one in ours:
        with contextlib.suppress(OSError, TypeError):
            told = Path(f"/proc/{one}/smaps_rollup").read_text()
            most = max(most, int(re.search(r"^Rss:\s+(\d+)", told, re.M)[1]) / 1000)
            together += int(re.search(r"^Pss:\s+(\d+)", told, re.M)[1]) / 1000
    return most, together


def measured(*arguments: str, cwd: Path) -> tuple[float, float, float, float]:
    """(seconds, processor seconds, peak MB of one process, peak MB of all its processes together) of one command, which must go well."""
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "PYTHONPATH": str(ROOT)}
    with tempfile.TemporaryFile() as told:
        began, peaks = time.perf_counter(), (0.0, 0.0)
        process = subprocess.Popen([sys.executable, "-m", *arguments], cwd=cwd, stdout=told, stderr=told, env=environment)
        while True:
            ended, status, usage = os.wait4(process.pid, os.WNOHANG)
            if ended:
                break
            peaks = tuple(map(max, peaks, _memory(process.pid)))
            time.sleep(0.25)
        took = time.perf_counter() - began
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            told.seek(0)
            raise SystemExit(told.read().decode()[-2000:])
    return took, usage.ru_utime + usage.ru_stime, *peaks


def handbook(folder: Path, coatings: int, kits: int) -> None:
    """This project's handbook with so many coatings and kits: copies of the demonstration's, each with its own name."""
    for name in ("site_data", "handbook"):
        shutil.copytree(ROOT / name, folder / name)
    shutil.copyfile(ROOT / "mkdocs.yml", folder / "mkdocs.yml")
    for kind, count in (("coatings", coatings), ("kits", kits)):
        kept = sorted((folder / "site_data" / kind).glob("*.yaml"))
        texts = [(path.stem, path.read_text(encoding="utf-8")) for path in kept]
        for path in kept[count:]:
            path.unlink()
            for user in (*(folder / "site_data/recipes").glob("*.yaml"), *(folder / "site_data/templates").glob("*.yaml")):
                if re.search(rf": {path.stem}\b", user.read_text(encoding="utf-8")):
                    user.unlink()  # what works with it goes with it
        for number in range(len(texts), count):
            slug, text = texts[number % len(texts)]
            name = next(line for line in text.splitlines() if line.startswith("name: "))
            (folder / "site_data" / kind / f"{slug}-{number}.yaml").write_text(text.replace(name, f"{name} {number}"), encoding="utf-8")
    for emptied in ("recipes", "templates"):
        if not any((folder / "site_data" / emptied).glob("*.yaml")):
            shutil.rmtree(folder / "site_data" / emptied)
    settings = folder / "site_data/handbook.yaml"
    lines = settings.read_text(encoding="utf-8").splitlines()
    first = sorted((folder / "site_data/kits").glob("*.yaml"))[0].stem
    settings.write_text(
        "\n".join(f"default_kit: {first}" if line.startswith("default_kit:") and not (folder / f"site_data/kits/{line.split()[1]}.yaml").exists() else line for line in lines) + "\n", encoding="utf-8"
    )


def bare(folder: Path, target: Path) -> None:
    """The same finished pages and assets as a plain MkDocs project."""
    from generators.facts import load
    from generators.pages import build_assets, build_pages

    facts = load(folder)
    for address, content in {**build_pages(facts), **build_assets(facts)}.items():
        path = target / "docs" / address
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
    settings = (folder / "mkdocs.yml").read_text(encoding="utf-8").replace("  - almanac\n", "").replace("docs_dir: handbook", "docs_dir: docs")
    settings = settings.replace("  name: material\n", f"  name: material\n  custom_dir: {ROOT / 'generators/site/theme'}\n")
    # What the plugin tells the theme of the edition; every page's foot prints it.
    about = {name: str(getattr(facts.handbook, name)) for name in ("revision", "date", "region")}
    (target / "mkdocs.yml").write_text(settings.replace("extra:\n", f"extra:\n  almanac: {json.dumps(about)}\n"), encoding="utf-8")


def main() -> None:
    """One line for each size."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sizes", type=int, nargs="+", default=[12, 100, 1000])
    parser.add_argument("--kits", type=int, default=3)
    parser.add_argument("--bare", type=Path, nargs=2, metavar=("HANDBOOK", "FOLDER"), help="only write a handbook's pages as a plain MkDocs project: this program must stay small itself")
    parser.add_argument("--runs", type=int, default=1, help="the quickest of so many runs is told")
    options = parser.parse_args()
    if options.bare:
        bare(*options.bare)
        return
    for size in options.sizes:
        with tempfile.TemporaryDirectory() as temporary:
            folder = Path(temporary) / "own"
            handbook(folder, size, options.kits)
            ours = min(measured("generators.cli", "build", cwd=folder) for _ in range(options.runs))
            weight = sum(path.stat().st_size for path in (folder / "site").rglob("*") if path.is_file()) / 1e6
            subprocess.run([sys.executable, __file__, "--bare", str(folder), temporary], check=True, env={**os.environ, "PYTHONPATH": str(ROOT)})
            theirs = min(measured("mkdocs", "build", "--quiet", "--site-dir", str(Path(temporary) / "bare"), cwd=Path(temporary)) for _ in range(options.runs))
            print(
                f"{size:5} coatings, {options.kits} kits: almanac build {ours[0]:5.1f} s ({ours[1]:.1f} of processor), {ours[2]:5.0f} MB in one process, {ours[3]:.0f} in all; "
                f"bare mkdocs build of the same pages {theirs[0]:5.1f} s ({theirs[1]:.1f}), {theirs[2]:5.0f} MB; "
                f"ratio {ours[0] / theirs[0]:.2f} (of processor {ours[1] / theirs[1]:.2f}; goal 1.3 or less); site {weight:.0f} MB",
                flush=True,
            )


if __name__ == "__main__":
    main()
