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
from contextlib import contextmanager

import pytest
from conftest import ROOT

from generators.starter import write


@contextmanager
def serving(tmp_path, code):
    """A handbook that lies in a folder, served on a free port by the code in another: read a page."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    environment = {**os.environ, "PYTHONPATH": str(code), "PYTHONDONTWRITEBYTECODE": "1"}
    log = tmp_path / "serve.log"
    with log.open("w") as out:
        process = subprocess.Popen([sys.executable, "-m", "generators.cli", "serve", "--here", "--port", str(port)], cwd=tmp_path, env=environment, stdout=out, stderr=subprocess.STDOUT)

    def read(address, wanted, seconds=180):
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

    try:
        yield read
    finally:
        process.terminate()
        process.wait(timeout=20)


def fact_changed_spoilt_and_mended(folder, read, slug):
    """A coating gets another name, then a unit that is none, then its old text again."""
    tin = folder / f"site_data/coatings/{slug}.yaml"
    good = tin.read_text()
    name = re.search(r"^name: (.*)", good, re.M)[1]
    tin.write_text(good.replace(f"name: {name}", "name: Renamed Satin"))
    read(f"coatings/{slug}.html", "Renamed Satin")
    line = next(number for number, text in enumerate(good.splitlines(), 1) if text.startswith("volume_solids"))
    tin.write_text(re.sub(r"^volume_solids: (\d+) %", r"volume_solids: \1 apples", good, flags=re.M))
    read(f"coatings/{slug}.html", rf"site_data/coatings/{slug}\.yaml:{line}:")
    tin.write_text(good)
    read(f"coatings/{slug}.html", f"{name}</h1>")


def test_serve_shows_a_changed_fact_and_a_mistake(tmp_path):
    """A crew's own small handbook."""
    write(tmp_path / "own")
    with serving(tmp_path / "own", ROOT) as read:
        read("index.html", "Today</h1>")
        assert '<script src="/assets/preview.js" data-epoch="' in read("index.html", "</body>") and "livereload(" not in read("index.html", "</body>")
        fact_changed_spoilt_and_mended(tmp_path / "own", read, "my-trim-paint")
        page = read("coatings/my-trim-paint.html", "My trim paint</h1>")
        assert page.count('<button type="submit" hidden>Go</button>') == page.count("</form>"), "mended once, however often it was built"


@pytest.mark.sweep
def test_serve_shows_changes_in_facts_pages_and_code(tmp_path):
    """A copy of the whole project."""
    for name in ("site_data", "handbook", "generators"):
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copyfile(ROOT / "mkdocs.yml", tmp_path / "mkdocs.yml")
    with serving(tmp_path, tmp_path) as read:
        read("index.html", "Today</h1>")
        fact_changed_spoilt_and_mended(tmp_path, read, "gannet-trim-satin")

        page = tmp_path / "handbook/mix/thinning.md"
        page.write_text(page.read_text() + "\nA line of today.\n")
        read("mix/thinning.html", "A line of today")

        code = tmp_path / "generators/tables/gun.py"
        code.write_text(code.read_text().replace('"Fan width', '"Width of the fan'))
        read("gun/distance-and-fan.html", "Width of the fan")


def test_a_page_of_the_preview_asks_by_a_file_of_ours_whether_it_is_the_newest():
    """The site's policy runs no script that stands inside a page."""
    from generators.site.preview import with_script

    page = with_script(b"<html><body><p>x</p></body></html>", 17)
    assert page == b'<html><body><p>x</p><script src="/assets/preview.js" data-epoch="17"></script></body></html>'
    assert with_script(b"no body", 17) == b"no body"


def test_the_address_for_a_phone_is_one_of_this_machine_and_its_code_says_it():
    from generators.site import preview

    found = preview.address_on_the_network()
    assert found is None or (found.count(".") == 3 and not found.startswith("127."))
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        number = taken.getsockname()[1]
        assert preview.free_port(number, "127.0.0.1") > number


@pytest.mark.sweep
def test_an_open_page_reloads_by_itself_under_the_sites_own_policy(tmp_path, browser):
    """In a browser: the page that somebody looks at shows the new name, and the policy had nothing to refuse."""
    write(tmp_path / "own")
    with serving(tmp_path / "own", ROOT) as read:
        read("coatings/my-trim-paint.html", "My trim paint</h1>")
        port = re.search(r"127\.0\.0\.1:(\d+)", (tmp_path / "own/serve.log").read_text())[1]
        page = browser.new_page()
        refused = []
        page.on("console", lambda told: refused.append(told.text) if "Content Security Policy" in told.text else None)
        page.goto(f"http://127.0.0.1:{port}/coatings/my-trim-paint.html")
        tin = tmp_path / "own/site_data/coatings/my-trim-paint.yaml"
        tin.write_text(tin.read_text(encoding="utf-8").replace("My trim paint", "Renamed Satin"), encoding="utf-8")
        page.wait_for_selector("h1:has-text('Renamed Satin')", timeout=120_000)
        assert not refused, refused
        page.close()


@pytest.mark.sweep
def test_the_page_that_is_looked_at_comes_first_and_the_others_follow(tmp_path):
    """After one changed fact its paint's page is new while another that shows the same fact is still old and is sent at once; then that one is new, too."""
    write(tmp_path / "own")
    with serving(tmp_path / "own", ROOT) as read:
        read("coatings/my-trim-paint.html", "5 h")
        tin = tmp_path / "own/site_data/coatings/my-trim-paint.yaml"
        tin.write_text(tin.read_text(encoding="utf-8").replace("recoat_after: 5 h", "recoat_after: 11 h"), encoding="utf-8")
        read("coatings/my-trim-paint.html", "11 h")
        assert "11 h" not in read("air/drying-and-recoat.html", "</body>", seconds=4)
        read("air/drying-and-recoat.html", "11 h")
        tin.write_text(tin.read_text(encoding="utf-8").replace("recoat_after: 11 h", "recoat_after: 12 h"), encoding="utf-8")
        read("air/drying-and-recoat.html", "12 h")
        tin.write_text(tin.read_text(encoding="utf-8").replace("recoat_after: 12 h", "recoat_after: 13 h"), encoding="utf-8")  # while the others are still being made
        read("coatings/my-trim-paint.html", "13 h")
        read("air/drying-and-recoat.html", "13 h")


def test_what_is_looked_at_is_noted_and_old_pages_are_sent_again():
    """Of a server that is none: the last two pages, and whether somebody has opened an old page while the new ones were made."""
    import threading
    from types import SimpleNamespace

    from generators.site.preview import Glance

    server = SimpleNamespace(mount_path="/", observer=SimpleNamespace(), _serve_request=lambda environ, start: environ["PATH_INFO"], _want_rebuild=False,
                             _rebuild_cond=threading.Condition(), _epoch_cond=threading.Condition(), _visible_epoch=7, _wanted_epoch=9)
    glance = Glance()
    glance.watch(server)
    for path in ("/", "/mix/thinning.html", "/assets/day.js", "/livereload/7/1", "/air/go-or-wait.html"):
        assert server._serve_request({"PATH_INFO": path}, None) == path
    assert glance.seen == ["air/go-or-wait.md", "mix/thinning.md"]
    glance.again(glance.seen)
    assert glance.rest and glance.overtaken()
    glance.behind_their_backs()
    assert server._wanted_epoch == 7, "nothing waits for the others"
    server._serve_request({"PATH_INFO": "/air/go-or-wait.html"}, None)
    glance.done()
    assert server._wanted_epoch == 7, "whoever looked at a new page keeps it"
    glance.again(["air/go-or-wait.md"])
    glance.behind_their_backs()
    server._serve_request({"PATH_INFO": "/kits/index.html"}, None)
    glance.done()
    assert server._wanted_epoch == 8, "an old page was opened meanwhile: it comes again"


def test_work_that_nobody_wants_any_more_ends_and_no_catcher_of_mistakes_stops_it():
    from generators import progress

    done = []
    with pytest.raises(progress.Overtaken), progress.while_wanted(lambda: len(done) == 3):
        for number in range(9):
            try:
                progress.at("pages", number, 9)
            except Exception:
                pytest.fail("taken for a mistake")
            done.append(number)
    assert done == [0, 1, 2]
    progress.at("pages", 1, 9)
