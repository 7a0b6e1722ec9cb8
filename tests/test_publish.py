"""From a folder to phones: the address on pages, cards and codes; a site looked at as a stranger would; a zip and a workflow file."""

from __future__ import annotations

import json
import zipfile

import pytest
import yaml
from conftest import ROOT

from generators.cli import main
from generators.pages.card import Wanted, card_data, card_of
from generators.site import published
from generators.starter import take_over, write

HEAD = '<!DOCTYPE html><html><head><meta http-equiv="Content-Security-Policy" content="default-src \'none\'"><link rel="stylesheet" href="{up}a.css"></head>'


@pytest.fixture
def small(tmp_path):
    """As small as a finished site can be, for an address with a path of its own."""
    folder = tmp_path / "published"
    (folder / "mix").mkdir(parents=True)
    (folder / "a.css").write_text("p { color: black }", encoding="utf-8")
    (folder / "index.html").write_text(HEAD.format(up="") + '<a href="mix/thinning.html">mix</a><a href="https://elsewhere.example/">away</a></html>', encoding="utf-8")
    (folder / "mix/thinning.html").write_text(HEAD.format(up="../") + '<a href="../index.html">home</a></html>', encoding="utf-8")
    (folder / "404.html").write_text(HEAD.format(up="/spray/") + "<h1>Not found</h1></html>", encoding="utf-8")
    (folder / "sw.js").write_text('const FILES = {"index.html":"1","a.css":"2","mix/thinning.html":"3"};\n', encoding="utf-8")
    return folder


ADDRESS = "https://two-sisters.org/spray"


def test_a_sound_site_under_a_path_of_its_own_has_nothing_to_stumble_over(small):
    assert published.stranger(small, ADDRESS) == []


@pytest.mark.parametrize(("file", "old", "new", "told"), [
    ("mix/thinning.html", "../index.html", "../gone.html", "/spray/gone.html: wanted a page"), ("mix/thinning.html", "../index.html", "/index.html", "wanted links inside /spray/"),
    ("index.html", "a.css", "https://fonts.example/a.css", "nothing from other people's machines"), ("404.html", "/spray/a.css", "a.css", "404.html: wanted styles and scripts"),
    ("404.html", "<h1>", "<p>", "404.html: wanted a page"), ("sw.js", "a.css", "b.css", "came none for b.css"), ("sw.js", "const FILES", "let files", "a list of files to keep"),
    ("index.html", "Content-Security-Policy", "X", "keeps foreign scripts out"),
])
def test_what_a_stranger_would_stumble_over_is_told(small, file, old, new, told):
    path = small / file
    assert old in path.read_text(encoding="utf-8")
    path.write_text(path.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    found = published.stranger(small, ADDRESS)
    assert found and any(told in line for line in found), found


def test_sources_among_the_files_are_told(small):
    (small / "site_data").mkdir()
    assert any(line.startswith("site_data: ") for line in published.stranger(small, ADDRESS))


@pytest.mark.parametrize(("address", "fine"), [
    ("https://two-sisters.org", True), ("https://two-sisters.org/spray", True), ("http://127.0.0.1:8000", True), ("http://two-sisters.org", False), ("https://handbook.example", False),
    ("https://a.invalid/x", False), ("two-sisters.org", False), ("https://two-sisters.org/?x", False), ("https://two sisters.org", False), ("ftp://two-sisters.org", False),
])
def test_an_address_that_readers_can_use(address, fine):
    assert (published.wrong_address(address) == "") == fine


def test_an_address_that_belongs_to_nobody_is_refused_before_the_work(tmp_path, capsys):
    write(tmp_path / "own")
    assert main(["--handbook", str(tmp_path / "own"), "publish"]) == 1
    assert "base_url: wanted the address that your host gave you" in capsys.readouterr().err and not (tmp_path / "own/published").exists()


def test_the_address_given_is_on_the_cards_code_too(tmp_path, monkeypatch):
    """What the card's square code holds, for the address of the build and no other."""
    from generators.site import finished, made

    seen = {}

    def pages(facts, only, **_):
        from generators import formulas

        seen["code"] = card_data(card_of(facts, formulas.catalogue(facts), next(iter(facts.kits))), Wanted())["address"]
        return {"index.md": "# Today\n"}

    write(tmp_path / "own")
    monkeypatch.setattr("generators.site.rounds.build_pages", pages)
    monkeypatch.setattr("generators.site.rounds.build_assets", lambda *_: {})
    monkeypatch.setattr("generators.site.rounds.build_drawn", lambda *_: {})
    made.make(tmp_path / "own", None, ADDRESS + "/")
    assert seen["code"] == f"{ADDRESS}/kits/my-kit.html"
    assert finished._keys(tmp_path / "own", None, ADDRESS) != finished._keys(tmp_path / "own", None, None)


def test_the_workflow_file_is_sound_and_names_this_edition(tmp_path, capsys):
    from generators.version import NUMBER

    write(tmp_path / "own")
    out = tmp_path / "handbook.yml"
    for _ in range(2):  # over its own, too
        assert main(["--handbook", str(tmp_path / "own"), "publish", "--base-url", ADDRESS, "--workflow", str(out)]) == 0, capsys.readouterr().err
    steps = yaml.safe_load(out.read_text(encoding="utf-8"))["jobs"]["handbook"]["steps"]
    said = " ".join(step.get("run", "") for step in steps)
    assert f"sprayers-almanac=={NUMBER}" in said and f"almanac publish --base-url {ADDRESS}" in said
    out.write_text("mine\n", encoding="utf-8")
    assert main(["--handbook", str(tmp_path / "own"), "publish", "--base-url", ADDRESS, "--workflow", str(out)]) == 1 and out.read_text(encoding="utf-8") == "mine\n"


@pytest.mark.sweep
def test_a_crews_folder_published_and_packed(tmp_path, capsys):
    own, pack = tmp_path / "own", tmp_path / "handbook.zip"
    write(own, "us")
    take_over(own, "mix/thinning")
    (own / "handbook/our-yard.md").write_text("# Our yard\n\nThe gate code is with Bo.\n", encoding="utf-8")
    for _ in range(2):
        assert main(["--handbook", str(own), "publish", "--base-url", ADDRESS, "--zip", str(pack), "--json"]) == 0, capsys.readouterr()
        told = json.loads(capsys.readouterr().out)
    assert told["problems"] == [] and told["files"] > 200
    with zipfile.ZipFile(pack) as packed:
        names = packed.namelist()
    assert {"index.html", "404.html", "sw.js", "_headers", "our-yard.html"} <= set(names) and not [name for name in names if name.startswith(".almanac")]
    page = (own / "published/mix/thinning.html").read_text(encoding="utf-8")
    assert f'href="{ADDRESS}/mix/thinning.html"' in page  # the canonical address
    assert "/spray/assets/" in (own / "published/404.html").read_text(encoding="utf-8")


def test_build_and_publish_are_one_address(capsys):
    assert main(["--handbook", str(ROOT), "build", "--base-url", "two-sisters.org"]) == 1
    assert "--base-url: wanted an address that begins with https://" in capsys.readouterr().err
