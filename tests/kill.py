"""Kill the build at random moments: `python tests/kill.py --count 200`. The site is the whole old one or the whole new one, every time.

Two handbooks that differ in their title are built in turn into one folder. After each SIGKILL the bytes of every file in
the site must be those of one of the two, complete. A last part runs the build on a disk that is full, three ways.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "SOURCE_DATE_EPOCH": "1764028800", "NO_MKDOCS_2_WARNING": "1"}


def digest(site: Path) -> str:
    """One digest of every path and byte in a folder."""
    total = hashlib.sha256()
    for path in sorted(site.rglob("*")):
        if path.is_file():
            total.update(str(path.relative_to(site)).encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()


def start(handbook: Path, out: Path, before: Callable[[], None] | None = None, anew: bool = False) -> subprocess.Popen[str]:
    """`almanac build` in a process of its own, in a group of its own; `anew` with nothing kept from the build before."""
    return subprocess.Popen([sys.executable, "-m", "generators.cli", "--handbook", str(handbook), "build", "--out", str(out)], cwd=ROOT, env=ENVIRONMENT | ({"ALMANAC_ANEW": "1"} if anew else {}),
                            stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, start_new_session=True, preexec_fn=before)


def finish(process: subprocess.Popen[str]) -> None:
    """Let a build end, which it does well."""
    told = process.communicate()[1]
    assert process.returncode == 0, told


@dataclass(frozen=True)
class Two:
    """Two small handbooks beside each other, their whole sites (`whole-one`, `whole-two`) with the digest of each, and what a build takes."""

    folder: Path
    handbooks: list[Path]
    whole: list[str]
    cold: float  # seconds, with nothing kept
    warm: float  # seconds, with all kept


def two_handbooks(folder: Path) -> Two:
    """Made and built here, each once with nothing kept and once more."""
    from generators.starter import write

    made, digests = [], []
    cold = warm = 0.0
    for name in ("one", "two"):
        write(folder / name)
        settings = folder / name / "site_data/handbook.yaml"
        settings.write_text(settings.read_text(encoding="utf-8").replace("Our Spray Handbook", f"Handbook {name}"), encoding="utf-8")
        began = time.monotonic()
        finish(start(folder / name, folder / f"whole-{name}"))
        half = time.monotonic()
        finish(start(folder / name, folder / f"whole-{name}"))
        cold, warm = max(cold, half - began), max(warm, time.monotonic() - half)
        made.append(folder / name)
        digests.append(digest(folder / f"whole-{name}"))
    assert digests[0] != digests[1]
    return Two(folder, made, digests, cold, warm)


def kills(count: int, seed: int, two: Two) -> Counter[str]:
    """What was found after each of `count` kills; builds that ended before their moment came are counted apart."""
    rng = random.Random(seed)
    folder, handbooks, whole, cold, warm = two.folder, two.handbooks, two.whole, two.cold, two.warm
    out = folder / f"public-{seed}-{count}" / "site"
    shutil.copytree(folder / "whole-one", out)
    found: Counter[str] = Counter()
    number, killed = 0, 0
    while killed < count:
        number += 1
        before = digest(out)
        # Half anywhere in a build that makes all anew; half near the end of one, where the files are written and the two folders change places.
        process = start(handbooks[whole.index(before) ^ 1], out, anew=bool(number % 2))
        time.sleep(rng.uniform(0, cold) if number % 2 else rng.uniform(0.7, 1.05) * warm)
        ended = process.poll() is not None
        if not ended:
            os.killpg(process.pid, signal.SIGKILL)
        process.communicate()
        killed += not ended
        if ended:  # the machine is quicker than it was: the moment has to come sooner
            cold, warm = (0.8 * cold, warm) if number % 2 else (cold, 0.8 * warm)
        after = digest(out) if out.is_dir() else "gone"
        if after not in whole:
            found["BROKEN"] += 1
        else:
            found[f"{'ended' if ended else 'killed'}: {'the old site' if after == before else 'the new site'}"] += 1
        if after not in whole:
            shutil.rmtree(out, ignore_errors=True)
            shutil.copytree(folder / "whole-one", out)
    # One build that may finish clears away whatever the killed ones left.
    finish(start(handbooks[0], out))
    left = [path.name for path in out.parent.iterdir() if path != out]
    if left:
        found["BROKEN: left behind " + ", ".join(left)] += 1
    if digest(out) != whole[0]:
        found["BROKEN: the build after the kills"] += 1
    return found


def full_disk(two: Two, limits: tuple[int, ...] = (1_000, 30_000, 150_000), small_disk: bool = True) -> list[str]:
    """Complaints after builds that run out of room: by a limit on file size, and on a small disk in memory where one can be made."""
    folder, handbooks, whole = two.folder, two.handbooks, two.whole
    complaints = []
    for limit in limits:
        out = folder / f"public-{limit}" / "site"
        shutil.copytree(folder / "whole-one", out)

        def before(limit: int = limit) -> None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

        complaints += _ran_out(start(handbooks[1], out, before), out, whole[0], f"files limited to {limit} bytes")
    if not small_disk:
        return complaints
    small = folder / "small"
    small.mkdir()
    size = sum(-(-path.stat().st_size // 4096) * 4 for path in (folder / "whole-one").rglob("*")) + 1500  # a disk in memory gives out whole pages
    if subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}k", "tmpfs", str(small)], capture_output=True, check=False).returncode:
        print("no small disk can be mounted here: the limit on file size stands alone")
        return complaints
    try:
        shutil.copytree(folder / "whole-one", small / "site")
        complaints += _ran_out(start(handbooks[1], small / "site"), small / "site", whole[0], "a full disk")
    finally:
        subprocess.run(["umount", str(small)], check=False)
    return complaints


def _ran_out(process: subprocess.Popen[str], out: Path, whole: str, what: str) -> list[str]:
    told = process.communicate()[1]
    complaints = []
    if process.returncode == 0:
        complaints.append(f"{what}: the build says it went well")
    if "Traceback" in told or not told.strip():
        complaints.append(f"{what}: no clear error: {told[-400:]}")
    if digest(out) != whole:
        complaints.append(f"{what}: the old site is not whole")
    if len(list(out.parent.iterdir())) > 1:
        complaints.append(f"{what}: left behind {[path.name for path in out.parent.iterdir()]}")
    return complaints


def main() -> int:
    """Figures; 1 where a site was broken."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        two = two_handbooks(Path(temporary))
        found = kills(options.count, options.seed, two)
        complaints = full_disk(two)
    print(f"{options.count} builds killed: " + "; ".join(f"{what} {number}" for what, number in sorted(found.items())))
    print("full disk: " + ("the old site is whole every time" if not complaints else "; ".join(complaints)))
    return 1 if complaints or any("BROKEN" in what for what in found) else 0


if __name__ == "__main__":
    sys.exit(main())
