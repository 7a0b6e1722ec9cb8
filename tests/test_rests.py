"""Where one fact of a paint changes, only what rests on it is made anew, and that is what making everything would have given, byte for byte."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest
from conftest import ROOT, copied

from generators import noted
from generators.facts import FactsError
from generators.pages import build_pages
from generators.pages.pieces import parts
from generators.site.finished import _recorded, _write
from generators.site.made import make, opened, touched
from generators.site.rounds import Bench, dealt
from generators.starter import write

PAINTS = ("gannet-trim-satin", "keel-two-pack-epoxy")  # a water paint of one pack, and a two-pack with solvents and a hardener


def moved(text, field):
    """A tin's file with one field changed: its first number a little higher, a name or a note one word longer."""
    line = next(line for line in text.splitlines() if line.startswith(f"{field}:"))
    number = re.search(r"(?<=: )(\d+(?:\.\d+)?)", line)
    if field in ("name", "notes", "cup_refused") or number is None:
        return text.replace(line, f"{line} again", 1)
    higher = f"{float(number[1]) * 1.04:.3f}" if "." in number[1] else str(int(number[1]) + 1)
    return text.replace(line, line[: number.start()] + higher + line[number.end() :], 1)


class Before:
    """A handbook of which everything was made, and kept."""

    def __init__(self, root):
        self.root, self.made = root, make(root, None, None)
        _write(root / "before.zip", self.made)
        self.record = _recorded(root / "before.zip")

    def after(self, slug, text):
        """(what the change touches, everything anew) with another text of one tin; the tin is put back."""
        tin = self.root / "site_data/coatings" / f"{slug}.yaml"
        before = tin.read_text(encoding="utf-8")
        tin.write_text(text, encoding="utf-8")
        try:
            return touched(self.root, None, None, *self.record), make(self.root, None, None).finished
        finally:
            tin.write_text(before, encoding="utf-8")


@pytest.fixture(scope="module")
def own(tmp_path_factory):
    folder = tmp_path_factory.mktemp("rests") / "own"
    write(folder)
    return Before(folder)


@pytest.fixture(scope="module")
def demonstration(tmp_path_factory):
    return Before(copied(tmp_path_factory.mktemp("rests")))


def same(before, after):
    """What was touched, laid over what was there, is what making everything gives; (pages, files) that differ at all."""
    some, whole = after
    assert some is not None, "the record could not tell"
    over = some.over(before.made.finished).finished
    assert list(over.pages) == list(whole.pages) and list(over.assets) == list(whole.assets) and over.about == whole.about
    wrong = [name for name in whole.pages if over.pages[name] != whole.pages[name]] + [name for name in whole.assets if over.assets[name] != whole.assets[name]]
    assert not wrong, wrong
    return ([name for name in whole.pages if whole.pages[name] != before.made.finished.pages[name]], [name for name in whole.assets if whole.assets[name] != before.made.finished.assets[name]])


def test_a_changed_wait_of_a_crews_own_paint(own):
    text = (own.root / "site_data/coatings/my-trim-paint.yaml").read_text(encoding="utf-8")
    after = own.after("my-trim-paint", text.replace("recoat_after: 5 h", "recoat_after: 7 h"))
    pages, files = same(own, after)
    assert "coatings/my-trim-paint.md" in pages and files
    assert len(after[0].finished.pages) < len(after[1].pages) / 8, "almost everything was made anew"


FIELDS = [(slug, line.split(":")[0]) for slug in PAINTS for line in (ROOT / f"site_data/coatings/{slug}.yaml").read_text(encoding="utf-8").splitlines() if re.match(r"[a-z_]+: ", line)]


@pytest.mark.sweep
@pytest.mark.parametrize(("slug", "field"), FIELDS, ids=[f"{slug}-{field}" for slug, field in FIELDS])
def test_any_field_of_a_paint(demonstration, slug, field):
    text = moved((demonstration.root / f"site_data/coatings/{slug}.yaml").read_text(encoding="utf-8"), field)
    try:
        after = demonstration.after(slug, text)
    except FactsError:
        return  # a class, a date or a basis that is none: nothing is made of it
    if after[0] is None:
        assert field in ("source", "basis", "date"), "the record could not tell"  # these are told of other facts too
    else:
        same(demonstration, after)


@pytest.mark.sweep
def test_a_page_made_alone_rests_on_nothing_that_was_not_noted(demonstration):
    """Would notice: something worked once for many pages, whose notes only the first of them got."""
    rests = demonstration.made.recorded()
    keys = [tuple(key) for key in rests["keys"]]
    missed = {}
    for page in demonstration.made.finished.pages:
        alone = {}
        build_pages(opened(demonstration.root, None, None), only=lambda one, page=page: one in (page, "reference/words.md"), rests=alone)
        known = {keys[place] for place in rests["sets"][rests["rests"][page]]}
        if alone[page] - known:
            missed[page] = sorted(alone[page] - known)[:5]
    assert not missed, missed


def test_every_part_is_dealt_once_and_a_paint_whole(demonstration):
    """A page, its tables of both systems and nothing of any other paint stand in one round with it: behind that round they are forgotten."""
    facts = opened(demonstration.root, None, None)
    all_of_it = parts(facts)
    rounds = dealt(all_of_it, facts)
    names = [part.name for some in rounds for part in some]
    assert len(set(names)) == len(names) and set(names) | {part.name for part in all_of_it if part.kind == "drawn"} == {part.name for part in all_of_it}
    assert {part.name for part in all_of_it if part.kind == "page"} == set(demonstration.made.finished.pages)
    for slug in facts.coatings:
        (mine,) = [some for some in rounds if any(part.slug == slug and part.per == "coating" for part in some)]
        assert len([part for part in mine if part.slug == slug]) > 10 and all(part.per == "coating" for part in mine)


def test_a_round_leaves_no_table_of_its_paints_behind(demonstration):
    """Would notice: memory that grows with each paint."""
    facts = opened(demonstration.root, None, None)
    some = next(one for one in dealt(parts(facts), facts) if one[0].per == "coating")
    bench = Bench(facts, {})
    share = bench.round(some)
    slugs = {part.slug for part in some}
    assert share.pages and share.files and not share.fragments
    assert not [key for book in bench.books.values() for key in book.kept if any(f"'coating', '{slug}'" in repr(key) for slug in slugs)]


def test_what_a_record_cannot_tell_makes_everything_anew(own):
    """A paint more, other facts, no record, or one that is none of ours."""
    tin = own.root / "site_data/coatings/my-trim-paint.yaml"
    (tin.parent / "second.yaml").write_text(tin.read_text(encoding="utf-8").replace("name: ", "name: Second "), encoding="utf-8")
    assert touched(own.root, None, None, *own.record) is None
    (tin.parent / "second.yaml").unlink()
    plain, texts = own.record
    assert touched(own.root, None, None, {}, {}) is None and touched(own.root, None, None, {**plain, "rest": "other"}, texts) is None
    assert touched(own.root, None, None, {**plain, "rests": {}}, texts) is None and touched(own.root, None, None, {"keys": 3}, texts) is None
    nothing = touched(own.root, None, None, plain, texts)
    assert nothing is not None and list(nothing.finished.pages) in ([], ["reference/words.md"]) and not nothing.finished.assets


def build(root, *more, anew=False):
    return subprocess.run([sys.executable, "-m", "generators.cli", "--handbook", str(root), "build", "--out", "site", *more], cwd=ROOT, capture_output=True, text=True,
                          env={**os.environ} | ({"ALMANAC_ANEW": "1"} if anew else {}))


def files(folder):
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.sweep
def test_a_build_after_a_change_is_a_build_anew(tmp_path):
    """By the command itself, where the pages of before are read while a second process makes the others: another wait, another name (which every menu shows),
    a value that is refused and mended, a doubt (which the record cannot tell), a paint more. A page of the crew's own bears a fact in its heading, which every
    menu shows though all but the touched pages were rendered before it was known; and it cannot be filled in for one value."""
    root = tmp_path / "own"
    write(root)
    (root / "handbook").mkdir(exist_ok=True)
    wait = 'facts.coatings["my-trim-paint"].recoat_after.to("h")'
    (root / "handbook/waits.md").write_text(f"# We wait {{{{ {wait} }}}} hours\n\nAs the tin says.\n\n{{{{ nothing_of_that_name if {wait} == 7 else '' }}}}\n", encoding="utf-8")
    tin = root / "site_data/coatings/my-trim-paint.yaml"
    first = tin.read_text(encoding="utf-8")
    assert build(root).returncode == 0
    name = re.search(r"^name: (.*)$", first, re.MULTILINE)[1]
    (kept,) = (root / ".almanac").glob("*.zip")
    with zipfile.ZipFile(kept) as there:
        assert json.loads(there.read("rests.json"))["rests"]
    for text in (first.replace("recoat_after: 5 h", "recoat_after: 6 h"), first.replace(f"name: {name}", "name: Quite Another"), first.replace("touch_dry: 1 h", "touch_dry: 1 min")):
        tin.write_text(text, encoding="utf-8")
        assert (done := build(root)).returncode == 0, done.stderr
        after = files(root / "site")
        assert build(root, anew=True).returncode == 0 and files(root / "site") == after, "other bytes than anew"
    assert b"Quite Another" not in after["index.html"] and b"We wait 5.0 hours" in after["index.html"]
    tin.write_text(first.replace("recoat_after: 5 h", "recoat_after: 6 h"), encoding="utf-8")
    assert build(root).returncode == 0 and b"We wait 6.0 hours" in files(root / "site")["index.html"]
    tin.write_text(first.replace("recoat_after: 5 h", "recoat_after: 7 h"), encoding="utf-8")
    refused = build(root)
    (line,) = refused.stderr.strip().splitlines()
    assert refused.returncode == 1 and re.match(r"handbook/waits\.md:5: .*nothing_of_that_name", line)
    assert b"We wait 6.0 hours" in files(root / "site")["index.html"], "a refused build touched the site"
    after = files(root / "site")
    tin.write_text(first.replace("recoat_after: 5 h", "recoat_after: 5 parsecs"), encoding="utf-8")
    refused = build(root)
    assert refused.returncode == 1 and "my-trim-paint.yaml:" in refused.stderr and "Traceback" not in refused.stderr and files(root / "site") == after
    (tin.parent / "second.yaml").write_text(first.replace(f"name: {name}", "name: Second"), encoding="utf-8")
    tin.write_text(first, encoding="utf-8")
    assert build(root).returncode == 0
    after = files(root / "site")
    assert "coatings/second.html" in after and build(root, anew=True).returncode == 0 and files(root / "site") == after


def test_what_either_process_complains_of_is_told_once_and_in_order(tmp_path):
    """A link that leads nowhere on each of seven pages, first to last by their names: two processes read them."""
    root = tmp_path / "own"
    write(root)
    (root / "handbook").mkdir(exist_ok=True)
    named = [f"{letter}-page" for letter in "aehmsvz"]
    for link in ("nowhere-{}.md", "index.md#{}"):  # no such page; no such heading on one
        for name in named:
            (root / f"handbook/{name}.md").write_text(f"# Page {name}\n\nSee [there]({link.format(name)}).\n", encoding="utf-8")
        refused = build(root, anew=True)
        assert refused.returncode == 1 and [line.split(":")[:2] for line in refused.stderr.strip().splitlines()] == [[f"handbook/{name}.md", "3"] for name in named], refused.stderr
    for name, other in zip(named, reversed(named), strict=True):
        (root / f"handbook/{name}.md").write_text(f"# Page {name}\n\nSee [there]({other}.md#page-{other}).\n", encoding="utf-8")
    done = build(root, anew=True)
    assert done.returncode == 0, done.stderr
    if shutil.which("taskset"):  # on one core one process does it all
        subprocess.run(["taskset", "-c", "0", sys.executable, "-m", "generators.cli", "--handbook", str(root), "build", "--out", "alone"], cwd=ROOT, check=True)
        assert files(root / "alone") == files(root / "site")


@pytest.mark.sweep
def test_a_stopped_build_leaves_no_half_of_a_kept_copy(tmp_path):
    """Stopped while a second process makes everything and keeps it round by round; and where that process alone is killed, the first makes all."""
    if not sys.platform.startswith("linux") or len(os.sched_getaffinity(0)) < 2:
        pytest.skip("there is no second process on one core, and only Linux tells which it is")
    root = tmp_path / "own"
    write(root)

    def begun(out):
        process = subprocess.Popen([sys.executable, "-m", "generators.cli", "--handbook", str(root), "build", "--out", out], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        while not list((root / ".almanac").glob(".*.part")):
            assert process.poll() is None, process.stderr.read()
            time.sleep(0.02)
        return process

    for way in (signal.SIGINT, signal.SIGTERM):
        process = begun("site")
        process.send_signal(way)
        process.communicate(timeout=60)
        assert process.returncode == 128 + way and os.listdir(root / ".almanac") == [] and not (root / "site").exists()
    process = begun("site")
    for child in Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text(encoding="utf-8").split():
        os.kill(int(child), signal.SIGKILL)
    _, complaints = process.communicate(timeout=120)
    assert process.returncode == 0 and not complaints and [Path(name).suffix for name in os.listdir(root / ".almanac")] == [".zip"]
    assert build(root, "--quiet", anew=True).returncode == 0


HOOK = """
seen = []

def on_page_content(html, page, **_):
    seen.append(page.file.src_uri)
    return html

def on_post_build(config, **_):
    from pathlib import Path
    Path(config.site_dir, "seen.txt").write_text("\\n".join(seen), encoding="utf-8")
"""


def test_a_crews_own_hook_sees_every_page(tmp_path):
    """What it keeps of a page would be lost in a second process."""
    root = tmp_path / "own"
    write(root)
    shutil.copyfile(ROOT / "mkdocs.yml", root / "mkdocs.yml")
    with (root / "mkdocs.yml").open("a", encoding="utf-8") as settings:
        settings.write("\nhooks: [hook.py]\n")
    (root / "hook.py").write_text(HOOK, encoding="utf-8")
    done = build(root, anew=True)
    assert done.returncode == 0, done.stderr
    pages = {name.removesuffix(".html") for name in files(root / "site") if name.endswith(".html")} - {"404"}
    assert {name.removesuffix(".md") for name in (root / "site/seen.txt").read_text(encoding="utf-8").split("\n")} == pages


def test_notes_go_to_everybody_who_uses_what_was_worked_once():
    class Tin:
        pass

    tin, store = Tin(), {}
    noted.of_paints({"red": tin})

    def work():
        noted.read(tin, "voc")
        return 7

    with noted.noting() as first:
        assert noted.once(store, "a", work) == 7
    with noted.noting() as second:
        assert noted.once(store, "a", work) == 7
        with noted.apart():
            noted.read(tin, "density")
        noted.read(Tin(), "name")
    assert first == {("red", "voc")} and second == {("red", "voc"), (noted.STRANGER, "name")}
    told = noted.Told({"coating.voc": 1, "kit.pot": 2}, "red", "uk", frozenset({"coating.voc"}))
    with noted.noting() as third:
        other = told.like(told)
        assert other["kit.pot"] == 2 and list(other) == ["coating.voc", "kit.pot"]
    with noted.noting() as fourth:
        assert other.get("coating.voc") == 1 and "coating.voc" in other
    with noted.noting() as fifth:
        assert len(other.items()) == 2
    assert third == set() and fourth == fifth == {("red", "uk", "coating.voc")}
