"""Would a wrong figure of the phone's be noticed? `python tests/mutate_phone.py --sample 40`: one thing is spoiled at a time in the scripts that work figures and verdicts.

The tests that hold these scripts to Python's answers are run once, with whatever they ask of Node kept. Then each spoiled script is asked the same. It is caught where
Node fails, or an answer differs by more than those tests allow: Python has said what every answer is, and the true script gave just that. Survivors are told by name.
A lower bound: what only a browser's tests would notice counts as missed here, so it measures and is no gate. Wants `npm ci` in .ci, for a parser.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import random
import shutil
import stat
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
ASSETS = ROOT / "generators/site/theme/assets"
# What each script is held by.
SCRIPTS = {
    "chain.js": ("test_walk_any.py", "test_chain.py", "test_job_chain.py", "test_last_pots.py"), "today.js": ("test_chain.py",),
    "job-walk.js": ("test_job_chain.py",), "searches.js": ("test_job_chain.py",),
    "last-pots.js": ("test_last_pots.py",), "own.js": ("test_own.py",), "typed.js": ("test_own.py",),
}
_KEEP = """#!{python}
import json, os, pathlib, shutil, sys, tempfile
kept = pathlib.Path(tempfile.mkdtemp(dir={folder!r}))
told = []
for place, one in enumerate(sys.argv[1:]):
    if os.path.isfile(one) and one.startswith(tempfile.gettempdir()):
        shutil.copyfile(one, kept / str(place))
        one = str(kept / str(place))
    told.append(one)
(kept / "asked.json").write_text(json.dumps(told))
os.execv({node!r}, ["node", *sys.argv[1:]])
"""


def asked(test: str, folder: Path) -> list[list[str]]:
    """What a file of tests asks of Node, its data kept in `folder`. The tests must pass."""
    kept = folder / test
    kept.mkdir()
    doors = folder / f"door-{test}"
    doors.mkdir()
    door = doors / "node"
    door.write_text(_KEEP.format(python=sys.executable, folder=str(kept), node=shutil.which("node")), encoding="utf-8")
    door.chmod(door.stat().st_mode | stat.S_IEXEC)
    done = subprocess.run([sys.executable, "-m", "pytest", "-q", "-n0", "-p", "no:cacheprovider", f"tests/{test}"], cwd=ROOT, capture_output=True, text=True, check=False,
                          env={**os.environ, "PATH": f"{doors}{os.pathsep}{os.environ['PATH']}"})
    if done.returncode:
        raise SystemExit(done.stdout[-2000:])
    return [json.loads((one / "asked.json").read_text(encoding="utf-8")) for one in sorted(kept.iterdir())]


def answered(command: list[str], assets: Path) -> Any:
    """What Node says with these scripts; None where it fails or does not end."""
    try:
        done = subprocess.run(["node", *(str(assets) if one == str(ASSETS) else one for one in command)], capture_output=True, text=True, timeout=60, check=False)
        return json.loads(done.stdout) if done.returncode == 0 else None
    except (subprocess.TimeoutExpired, ValueError):
        return None


def same(one: Any, other: Any) -> bool:
    """As those tests compare: figures to a billionth, all else alike."""
    if isinstance(one, bool) or isinstance(other, bool) or not isinstance(one, (int, float)) or not isinstance(other, (int, float)):
        if isinstance(one, dict) and isinstance(other, dict):
            return one.keys() == other.keys() and all(same(one[name], other[name]) for name in one)
        if isinstance(one, list) and isinstance(other, list):
            return len(one) == len(other) and all(map(same, one, other))
        return bool(one == other)
    return math.isclose(one, other, rel_tol=1e-9, abs_tol=1e-9)


def main() -> None:
    """One line for each survivor and each script."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--scripts", nargs="+", choices=list(SCRIPTS), default=list(SCRIPTS))
    parser.add_argument("--sample", type=int, default=0, help="so many of each script (0: all)")
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        kept = {test: asked(test, folder) for test in dict.fromkeys(test for script in options.scripts for test in SCRIPTS[script])}
        spoiled = folder / "assets"
        shutil.copytree(ASSETS, spoiled)
        for script in options.scripts:
            commands = [command for test in SCRIPTS[script] for command in kept[test] if str(ASSETS) in command]
            true = [answered(command, ASSETS) for command in commands]
            assert commands and None not in true, script
            source = (ASSETS / script).read_text(encoding="utf-8")
            listed = subprocess.run(["node", str(ROOT / "tests/mutants.js"), str(ROOT / ".ci/node_modules/espree"), str(ASSETS / script)], capture_output=True, text=True, check=True)
            found = json.loads(listed.stdout)
            some = random.Random(options.seed).sample(found, min(options.sample or len(found), len(found)))
            some.sort(key=lambda one: one["start"])
            caught = 0
            units = source.encode("utf-16-le")  # places are counted as JavaScript counts letters
            for one in some:
                text = units[: 2 * one["start"]].decode("utf-16-le") + one["text"] + units[2 * one["end"] :].decode("utf-16-le")
                (spoiled / script).write_text(text, encoding="utf-8")
                if any(not same(answered(command, spoiled), was) for command, was in zip(commands, true, strict=True)):
                    caught += 1
                else:
                    print(f"not caught: {script} {one['words']}", flush=True)
            (spoiled / script).write_text(source, encoding="utf-8")
            print(f"{script}: {caught} of {len(some)} caught = {100 * caught / max(1, len(some)):.1f} % (of {len(found)} in all; goal 95 %)", flush=True)


if __name__ == "__main__":
    main()
