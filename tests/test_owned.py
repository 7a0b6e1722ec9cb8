"""A command writes only what is its own: destructive paths by the real command line, every byte counted before and after."""

from __future__ import annotations

import hashlib
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from conftest import ROOT

from generators import owned
from generators.owned import folders
from generators.starter import take_over, write

ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT)}


def everything(place: Path) -> dict[str, str]:
    """Each file by its digest and each link by where it leads; what a build keeps for itself in .almanac is not counted."""
    found = {}
    for here, folders_in, files in os.walk(place):
        for name in [*files, *folders_in]:
            path = Path(here) / name
            if path.is_symlink():
                found[str(path.relative_to(place))] = "→ " + os.readlink(path)
            elif path.is_file() and ".almanac" not in path.parts:
                found[str(path.relative_to(place))] = hashlib.sha256(path.read_bytes()).hexdigest()
    return found


def almanac(handbook: Path, *arguments: str, **more: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", "generators.cli", *arguments], cwd=handbook, env=ENVIRONMENT | more, capture_output=True, text=True,
                          encoding="utf-8", errors="replace", timeout=500, check=False)


@pytest.fixture(scope="module")
def place(tmp_path_factory):
    """A handbook, and round it what a person has: a folder of photographs, notes, another program's site, links, a built site."""
    place = tmp_path_factory.mktemp("owned")
    home = place / "mine"
    write(home)
    take_over(home, "mkdocs.yml")
    photos = place / "photos"
    photos.mkdir()
    (photos / "before.jpg").write_bytes(b"\xff\xd8 a photograph")
    (place / "notes.txt").write_text("Mrs Ostler, Tuesday\n", encoding="utf-8")
    (home / "price.pdf").write_bytes(b"%PDF-1.7 a quote that was typed elsewhere\n%%EOF")
    (home / "typeset.pdf").write_bytes(b"%PDF-1.7\n<</Title(Menu)/Creator(Typst 0.15.1)>> <rdf:li xml:lang=\"x-default\">Menu</rdf:li>\n%%EOF")
    other = place / "their-site"  # another site that works without signal
    other.mkdir()
    (other / "sw.js").write_text('const FILES = ["a"];\naddEventListener("fetch", () => {});\n', encoding="utf-8")
    (other / "index.html").write_text("<h1>Not ours</h1>", encoding="utf-8")
    for name, target in (("link-to-handbook", home / "handbook"), ("link-to-photos", photos), ("link-to-mine", home), ("site_link", home / "site_data")):
        (place / name).symlink_to(target)
    (place / "their-schemas").mkdir()
    (place / "their-schemas/kit.json").write_text('{"$schema": "https://json-schema.org/draft/2020-12/schema"}', encoding="utf-8")
    (place / "round").symlink_to(place / "round")
    (home / "card-link.pdf").symlink_to(home / "site_data/handbook.yaml")
    os.link(home / "site_data/handbook.yaml", place / "hard.pdf")
    with owned.making(home / "site", home, "build") as site:  # as small as a site can be; a true one is built below
        (site / "cards").mkdir()
        for name in ("index.html", "cards/my-kit.pdf", "manifest.webmanifest"):
            (site / name).write_text(f"<h1>{name}</h1>", encoding="utf-8")
        (site / "sw.js").write_text('const EDITION = "0123456789abcdef";\nconst FILES = {"index.html":"1","cards/my-kit.pdf":"2","manifest.webmanifest":"3"};\n', encoding="utf-8")
    shutil.copytree(home / "site", place / "laid-into")
    (place / "laid-into/CNAME").write_text("example.org\n", encoding="utf-8")
    shutil.copytree(home / "site", place / "changed")
    (place / "changed/index.html").write_text("<h1>Changed by hand</h1>", encoding="utf-8")
    shutil.copytree(home / "site", place / "old")  # as before there were marks, and something laid in
    (place / "old/.almanac-made.json").unlink()
    (place / "old/photo.jpg").write_bytes(b"\xff\xd8")
    shutil.copytree(home / "site", home / ".site-backup")
    return place


DESTRUCTIVE = [  # from inside mine/; each would have removed or overwritten something
    "build --out .", "build --out ..", "build --out handbook", "build --out site_data", "build --out ./site_data/../handbook", "build --out handbook/site",
    "build --out site_data/coatings", "build --out HandBook", "build --out ../photos", "build --out ../link-to-photos", "build --out ../link-to-handbook",
    "build --out ../link-to-mine", "build --out ../site_link/coatings", "build --out ../notes.txt", "build --out ../notes.txt/site", "build --out ../their-site",
    "build --out ../laid-into", "build --out ../changed", "build --out ../old", "build --out ../round", "build --out /", f"build --out {ROOT / 'generators'}",
    f"build --out {ROOT / 'generators/tables'}",
    "pages --out handbook", "pages --out site", "pages --out ../photos", "pages --out .", "pages --out site_data/kits",
    "schemas --out handbook", "schemas --out ../photos", "schemas --out ../their-schemas", "schemas --out site_data", "schemas --out site",
    "new ../photos", "new handbook/mine", "new .", "new ../link-to-photos", "new ../notes.txt",
    "card --out mkdocs.yml", "card --out site_data/handbook.yaml", "card --out handbook/card.pdf", "card --out price.pdf", "card --out typeset.pdf",
    "card --out card-link.pdf", "card --out ../hard.pdf", "card --out ../notes.txt", "card --out site", "card --out site/cards/my-kit.pdf", "card --out nowhere/card.pdf",
    "drills --out ../notes.txt", "drills --out site_data/kits/my-kit.yaml",
    "book --out ../notes.txt", "book --out handbook/index.md",
]


@pytest.mark.parametrize("line", [line if number % 4 == 0 else pytest.param(line, marks=pytest.mark.sweep) for number, line in enumerate(DESTRUCTIVE)])
def test_a_destructive_path_is_refused_and_nothing_is_lost(place, line):
    before = everything(place)
    done = almanac(place / "mine", *line.split())
    assert done.returncode == 1, done
    assert len(done.stderr.splitlines()) == 1 and "wanted" in done.stderr and "came" in done.stderr and "Traceback" not in done.stderr, done.stderr
    assert done.stdout == ""
    assert everything(place) == before


def test_there_are_thirty_and_more():
    assert len(set(DESTRUCTIVE)) >= 30


@pytest.mark.sweep
def test_what_is_its_own_is_built_again(place):
    """The guard must not stand in the way: each command twice over its own."""
    home = place / "mine"
    for line in ("build", "build --out ../fresh", "pages --out ../words", "schemas", "schemas --out ../schemas", "card --out ../card.pdf", "drills --out ../drills.pdf"):
        for _ in range(2):
            done = almanac(home, *line.split())
            assert done.returncode == 0, (line, done.stderr)
    assert (home / ".site-backup/index.html").is_file()  # a name like that of a build's leavings
    (home / "site_data/schemas/notes.txt").write_text("mine", encoding="utf-8")
    refused = almanac(home, "schemas")
    assert refused.returncode == 1 and "notes.txt" in refused.stderr and (home / "site_data/schemas/notes.txt").read_text(encoding="utf-8") == "mine"
    (home / "site_data/schemas/notes.txt").unlink()
    assert not [path.name for path in [*home.iterdir(), *place.iterdir()] if "-almanac-" in path.name]


@pytest.mark.sweep
def test_a_site_of_before_there_were_marks_is_built_again(place, site):
    shutil.copytree(site, place / "earlier")
    (place / "earlier/.almanac-made.json").unlink()
    done = almanac(place / "mine", "build", "--out", "../earlier")
    assert done.returncode == 0, done.stderr
    assert (place / "earlier/.almanac-made.json").is_file()


def test_a_file_that_comes_while_we_build_is_kept(tmp_path):
    target = tmp_path / "site"
    with owned.making(target, tmp_path, "build") as folder:
        (folder / "index.html").write_text("one")
    with pytest.raises(owned.NotOurs), owned.making(target, tmp_path, "build") as folder:
        (folder / "index.html").write_text("two")
        (target / "came-late.txt").write_text("mine")
    assert (target / "came-late.txt").read_text() == "mine" and (target / "index.html").read_text() == "one"


@pytest.mark.parametrize("one_step", [True, False])
def test_a_file_that_comes_in_the_last_moment_is_kept(tmp_path, monkeypatch, one_step):
    target = tmp_path / "site"
    with owned.making(target, tmp_path, "build") as folder:
        (folder / "index.html").write_text("one")
    exchange = folders._exchange

    def late(new, old):
        (old / "late.txt").write_text("mine")
        return one_step and exchange(new, old)

    monkeypatch.setattr(folders, "_exchange", late)
    with pytest.raises(owned.NotOurs, match="not-ours"), owned.making(target, tmp_path, "build") as folder:
        (folder / "index.html").write_text("two")
    assert (target / "index.html").read_text() == "two"
    assert [path.read_text() for path in tmp_path.glob("*not-ours*/late.txt")] == ["mine"]


def test_links_inside_the_handbook_that_lead_out_are_told_all_at_once(tmp_path):
    write(tmp_path / "mine")
    take_over(tmp_path / "mine", "mix/thinning")
    take_over(tmp_path / "mine", "index")
    secret = tmp_path / "secret.txt"
    secret.write_text("not for the site")
    (tmp_path / "mine/handbook/a.txt").symlink_to(secret)
    (tmp_path / "mine/handbook/mix/up").symlink_to(tmp_path)
    (tmp_path / "mine/handbook/loop").symlink_to(tmp_path / "mine/handbook")
    (tmp_path / "mine/handbook/gone.md").symlink_to("nowhere.md")
    (tmp_path / "mine/handbook/fine.txt").symlink_to("index.md")
    for line in ("build", "pages --out ../out", "check"):
        done = almanac(tmp_path / "mine", *line.split())
        assert done.returncode == 1 and "Traceback" not in done.stderr
        for name in ("a.txt", "mix/up", "loop", "gone.md"):
            assert f"handbook/{name}:1: wanted" in done.stderr, done.stderr
        assert "fine.txt" not in done.stderr
    assert not (tmp_path / "mine/site").exists() and not (tmp_path / "out").exists()


def catches_stops(process: subprocess.Popen[bytes]) -> bool:
    """Whether our own code runs by now: before that, it is Python that starts, and no code of ours can answer a signal."""
    try:
        caught = next(line for line in Path(f"/proc/{process.pid}/status").read_text().splitlines() if line.startswith("SigCgt"))
    except (OSError, StopIteration):
        return False
    return bool(int(caught.split()[1], 16) >> (signal.SIGTERM - 1) & 1)


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="NOT TESTED: stops need /proc to see when our code runs")
@pytest.mark.parametrize(("number", "turns"), [(signal.SIGINT, 3), pytest.param(signal.SIGINT, 20, marks=pytest.mark.sweep), pytest.param(signal.SIGTERM, 20, marks=pytest.mark.sweep)])
def test_stopped_at_random_moments_it_says_so_in_one_line(place, number, turns):
    rng = random.Random(int(number))
    home = place / "mine"
    before = everything(place)
    stopped = 0
    for turn in range(turns):
        command = [["build"], ["build"], ["check"], ["card", "--out", "../stopped.pdf"], ["pages", "--out", "../stopped"]][turn % 5]
        process = subprocess.Popen([sys.executable, "-m", "generators.cli", *command], cwd=home, env=ENVIRONMENT | {"ALMANAC_ANEW": "1"}, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        while process.poll() is None and not catches_stops(process):
            time.sleep(0.002)
        time.sleep(rng.uniform(0, 3.0))
        process.send_signal(number)
        process.send_signal(number)  # people press twice
        _, err = process.communicate(timeout=300)
        told = err.decode()
        if process.returncode == 128 + number:
            stopped += 1
            assert told == "stopped before the end: nothing half made is left\n", told
        else:
            assert process.returncode == 0 and "Traceback" not in told, (process.returncode, told)
        for extra in ("stopped.pdf", "stopped"):
            path = place / extra
            if path.is_dir():
                shutil.rmtree(path)
            path.unlink(missing_ok=True)
        now = everything(place)
        assert now == before, sorted(set(now.items()) ^ set(before.items()))[:5]
    assert stopped >= turns // 3


@pytest.mark.parametrize("more", [{"PYTHONIOENCODING": "ascii"}, *(pytest.param(more, marks=pytest.mark.sweep) for more in (
    {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}, {"PYTHONIOENCODING": "latin-1"}))])
def test_a_terminal_that_is_not_utf8(place, more):
    home = place / "mine"
    wet_film = "work wet-film dry-film=25 volume-solids=40 thinner=10 --json"
    for line, code in (("formulas", 0), (wet_film, 0), ("work cup-viscosity cup=iso-3 time=15", 2), ("work Größe", 1), ("build --out ../photos", 1), ("check", 0)):
        done = almanac(home, *line.split(), **more)
        assert done.returncode == code and "Traceback" not in done.stderr and "Error" not in done.stderr, (line, done)
    (home / "site_data/kits/größe.yaml").write_text("name: 12 µm\n", encoding="utf-8")
    done = almanac(home, "check", **more)
    (home / "site_data/kits/größe.yaml").unlink()
    assert done.returncode == 1 and done.stderr.strip() and "Traceback" not in done.stderr


def test_a_minus_sign_and_a_square_are_never_lost():
    from generators import terminal  # noqa: F401  (registers the handler)

    assert "−5 °C, 10² m, µm, ≥ 3".encode("ascii", "almanac-plain") == b"-5 deg C, 10^2 m, um, >= 3"
    assert "漢\udcff".encode("ascii", "almanac-plain") == b"??"
    assert "\udcff".encode("utf-8", "almanac-plain") == b"?"


def test_a_reader_that_closes_early(place):
    done = subprocess.run(f"{sys.executable} -m generators.cli formulas | head -1", shell=True, cwd=place / "mine", env=ENVIRONMENT, capture_output=True, text=True, check=False)
    assert done.stdout.count("\n") == 1 and done.stderr == ""


def test_wherever_a_clearing_away_is_killed_the_next_one_ends_it(tmp_path, monkeypatch):
    """After each step of taking an old site away: what lies there then is known for ours, and goes."""
    class Killed(BaseException):
        pass

    for steps in range(40):
        old = tmp_path / f".site-almanac-{steps}"
        for number in range(9):
            (old / f"part-{number % 3}").mkdir(parents=True, exist_ok=True)
            (old / f"part-{number % 3}/page-{number}.html").write_text("ours", encoding="utf-8")
            (old / f"page-{number}.html").write_text("ours", encoding="utf-8")
        folders.mark(old, "build")
        left = [steps]

        def one_more(take, left=left):
            def taken(*given, **more):
                if not left[0]:
                    raise Killed
                left[0] -= 1
                return take(*given, **more)

            return taken

        ended = True
        with monkeypatch.context() as here:
            here.setattr(Path, "unlink", one_more(Path.unlink))
            here.setattr(os, "rmdir", one_more(os.rmdir))
            try:
                folders._clear(old, folders.marked(old)[1])
            except Killed:
                ended = False
        assert ended == (steps >= 23) == (not old.exists()), steps  # 19 files, the mark among them, and 4 folders
        if old.exists():
            folders._clear_leftover(old)
        assert not old.exists(), steps


AGAIN = """
import os, signal, time
from generators.terminal import Stopped, stopping_plainly

class Last:
    def __del__(self):
        os.kill(os.getpid(), signal.SIGTERM)
        for _ in range(1000):
            pass

try:
    with stopping_plainly():
        one = Last()
        del one
        time.sleep(5)
    print("went on")
except Stopped:
    print("stopped")
"""


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="NOT TESTED: no timer here to ask once more with")
def test_a_stop_that_comes_while_python_puts_something_away_is_heard_and_tells_no_trace():
    """Would notice: a stop that is raised in a finaliser, where nobody can catch it, and raised again in the very hook that was told of it."""
    done = subprocess.run([sys.executable, "-c", AGAIN], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert (done.stdout, done.stderr) == ("stopped\n", ""), done
