"""A crew's folder holds only what is theirs: what lies under it, what they take over, and what an upgrade does to older folders."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import struct
import subprocess
import zipfile
import zlib
from pathlib import Path

import older
import pytest
from conftest import ROOT

from generators import layers
from generators.cli import main
from generators.facts import FactsError, load
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages
from generators.starter import NoSuchPage, starters_own, take_over, upgrade, write


@pytest.fixture
def own(tmp_path):
    write(tmp_path / "own")
    return tmp_path / "own"


def files(folder):
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def everything(folder):
    return {name: hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in files(folder)}


def test_a_new_folder_holds_eight_files_of_theirs_and_reads_the_rest_from_under_it(own):
    assert files(own) == [".almanac-seen.zip", "almanac.yaml", "site_data/coatings.csv", "site_data/coatings/my-trim-paint.yaml", "site_data/coatings/my-wood-stain.yaml",
                          "site_data/handbook.yaml", "site_data/kits/my-kit.yaml", "site_data/templates/kitchen.yaml"]
    facts, stock = load(own), load(ROOT)
    assert list(facts.kits) == ["my-kit"] and set(facts.coatings) == {"my-trim-paint", "my-wood-stain"} and not facts.recipes
    for part in ("classes", "protection", "stops", "cups", "limits", "regions", "gloves", "over", "words"):
        assert getattr(facts, part) == getattr(stock, part), part
    assert [rule for rule in facts.rules.rules] == [rule for rule in stock.rules.rules]
    assert (own / "almanac.yaml").read_text(encoding="utf-8").startswith("#") and layers.settings(own)["format"] == "2"


def test_a_page_of_theirs_takes_the_stocks_place_and_a_new_one_is_found(own):
    (own / "handbook/mix").mkdir(parents=True)
    (own / "handbook/mix/thinning.md").write_text("# Thinning our way\n", encoding="utf-8")
    (own / "handbook/our-yard.md").write_text("# Our yard\n", encoding="utf-8")
    pages = build_pages(open_handbook(own), only={"mix/thinning.md", "our-yard.md", "air/dew-point.md"}.__contains__)
    assert pages["mix/thinning.md"].startswith("# Thinning our way") and pages["our-yard.md"].startswith("# Our yard") and "air/dew-point.md" in pages
    from generators.site.plugin import with_own_pages

    assert with_own_pages([{"Today": "index.md"}], own) == [{"Today": "index.md"}, {"Our own": ["our-yard.md"]}]


def test_an_entry_of_theirs_goes_before_the_stocks_and_one_without_a_value_takes_it_away(own):
    limits = own / "site_data/limits.yaml"
    assert main(["--handbook", str(own), "own", "limits.yaml", "dew_margin_min"]) == 0
    assert "kind: difference" in limits.read_text(encoding="utf-8")
    limits.write_text(limits.read_text(encoding="utf-8").replace("value: 3", "value: 4"), encoding="utf-8")
    (own / "site_data/words.yaml").write_text("turbine:\nour-word: {uk: our word, us: our word, meaning: Ours.}\n", encoding="utf-8")
    facts, stock = load(own), load(ROOT)
    assert facts.limits["dew_margin_min"].value == 4 and len(facts.limits) == len(stock.limits)
    words = {word.uk for word in facts.words}
    assert "our word" in words and "turbine" not in words and len(words) == len(stock.words)


def test_rows_of_theirs_go_before_the_stocks_with_that_key(own):
    assert main(["--handbook", str(own), "own", "law/noise.csv", "uk lower-action-value lower action value"]) == 0
    law = own / "site_data/law/noise.csv"
    assert len(law.read_text(encoding="utf-8").splitlines()) == 2
    law.write_text(law.read_text(encoding="utf-8").replace(",80,", ",77,"), encoding="utf-8")
    theirs = [rule for rule in load(own).rules.rules if rule.subject == "noise" and rule.region == "uk"]
    stock = [rule for rule in load(ROOT).rules.rules if rule.subject == "noise" and rule.region == "uk"]
    assert len(theirs) == len(stock) and {"77", "85"} <= {f"{rule.figure:g}" for rule in theirs if rule.figure}


@pytest.mark.parametrize(("asked", "entries", "told"), [
    ("mix/thining", (), "did you mean 'mix/thinning'?"), ("limits.yaml", (), "came none; there are: dew_margin_min"), ("limits.yaml", ("dew_margn_min",), "did you mean 'dew_margin_min'?"),
    ("../../etc/passwd", (), "wanted a page or a file of the stock"), ("site_data/kits/two-stage-tote.yaml", (), "each crew has its own"), ("generators/cli/door.py", (), "wanted a page"),
])
def test_what_cannot_be_taken_over_is_told_and_nothing_is_written(own, capsys, asked, entries, told):
    before = everything(own)
    assert main(["--handbook", str(own), "own", asked, *entries]) == 1
    assert told in capsys.readouterr().err and everything(own) == before


def test_what_is_theirs_already_is_not_copied_over(own):
    take_over(own, "mix/thinning")
    (own / "handbook/mix/thinning.md").write_text("# Ours\n", encoding="utf-8")
    with pytest.raises(NoSuchPage, match="yours already"):
        take_over(own, "mix/thinning.md")
    take_over(own, "limits.yaml", ["wind_go"])
    with pytest.raises(NoSuchPage, match="yours already"):
        take_over(own, "limits.yaml", ["wind_go"])


def test_a_mistake_in_an_entry_of_theirs_is_told_at_its_line_and_one_in_the_stock_as_the_stocks(own):
    (own / "site_data/limits.yaml").write_text("# ours\n\nwind_go:\n  value: fast\n  what: x\n  basis: invented\n", encoding="utf-8")
    with pytest.raises(FactsError) as caught:
        load(own)
    assert [str(problem).split(": wanted")[0] for problem in caught.value.problems] == ["site_data/limits.yaml:4"]
    (own / "site_data/limits.yaml").unlink()
    (own / "site_data/sources.yaml").write_text("marine-text:\n", encoding="utf-8")  # a source that the stock's limits cite
    with pytest.raises(FactsError) as caught:
        load(own)
    assert any(str(problem).startswith("stock: site_data/limits.yaml:") for problem in caught.value.problems)


@pytest.mark.parametrize(("text", "told"), [("format: 3\n", "bring the program up to date"), ("format: two\n", "write format: 2"), ("", "write format: 2"), ("\udcff", "write format: 2")])
def test_a_folder_of_a_later_format_is_not_guessed_at(own, text, told):
    (own / "almanac.yaml").write_bytes(text.encode("utf-8", "surrogateescape"))
    with pytest.raises(FactsError) as caught:
        load(own)
    assert told in str(caught.value) and str(caught.value).startswith("almanac.yaml:1:")


def test_no_setting_of_theirs_switches_a_hard_stop_off(own):
    (own / "site_data/stops.yaml").write_text("lead:\n", encoding="utf-8")
    with pytest.raises(FactsError) as caught:
        load(own)
    assert "hard stop" in str(caught.value)


@pytest.mark.parametrize("edition", [older.EDITIONS[0], *(pytest.param(edition, marks=pytest.mark.sweep) for edition in older.EDITIONS[1:])])
def test_an_older_folder_is_carried_over_and_nothing_of_theirs_is_lost(tmp_path, edition, capsys):
    if not older.there(edition):
        pytest.skip(f"NOT TESTED: the history of this repository is not here, so no folder of {edition} can be made")
    home = older.folder(edition, tmp_path / "home")
    theirs = older.lived_in(home)
    (home / "card.pdf").write_bytes(b"%PDF theirs")
    before = everything(home)
    assert main(["--handbook", str(home), "upgrade", "--look"]) == 0 and everything(home) == before
    capsys.readouterr()
    assert main(["--handbook", str(home), "upgrade"]) == 0, capsys.readouterr().err
    said = capsys.readouterr().out
    now = {name: (home / name).read_text(encoding="utf-8") for name in files(home) if not name.startswith("before-upgrade/") and name.endswith((".md", ".yaml", ".csv"))}
    for what, words in theirs.items():
        assert any(words in text for text in now.values()), (what, words)
    for name, digest in before.items():  # whole, as it was
        kept = home / ("before-upgrade/" + name if name.startswith(("site_data/", "handbook/", "mkdocs.yml")) else name)
        assert hashlib.sha256(kept.read_bytes()).hexdigest() == digest, name
    for told in ("handbook/mix/thinning.md", "handbook/our-yard.md", "coatings/harbour-green.yaml", "limits.yaml: dew_margin_min", "words.yaml: harbour-mix", "rows of yours"):
        assert told in said, told
    assert len([name for name in files(home) if not name.startswith("before-upgrade/")]) <= 16, "the copies of the stock are left to the stock"
    facts = open_handbook(home)
    assert facts.limits["dew_margin_min"].value == 4 and "Harbour Green" in {tin.name for tin in facts.coatings.values()}
    assert "harbor mix" in {word.us for word in facts.words}
    assert any("no turbine after six" in rule.says for rule in facts.rules.rules)
    again = everything(home)
    assert main(["--handbook", str(home), "upgrade"]) == 0 and everything(home) == again, "a second time changes nothing"


def test_an_older_folder_without_anything_of_theirs_becomes_a_new_one(tmp_path):
    home = older.whole(tmp_path / "home")
    upgrade(home)
    write(tmp_path / "new")
    assert [name for name in files(home) if not name.startswith("before-upgrade/")] == files(tmp_path / "new")


def test_what_the_stock_changed_since_is_told_with_what_it_touches(own, capsys):
    """The folder saw another edition: a page and a limit read otherwise then."""
    take_over(own, "safety/rags-and-waste")
    take_over(own, "limits.yaml", ["wind_go"])
    with zipfile.ZipFile(own / ".almanac-seen.zip") as kept:
        texts = {one: kept.read(one).decode() for one in kept.namelist()}
    texts["handbook/safety/rags-and-waste.md"] = texts["handbook/safety/rags-and-waste.md"].replace("\n", "\nAn old line.\n", 1)
    texts["site_data/limits.yaml"] = re.sub(r"(wind_go:\n  value: )\d+", r"\g<1>99", texts["site_data/limits.yaml"])
    texts["site_data/law/lead.csv"] = texts["site_data/law/lead.csv"].replace("1990", "1991", 1)
    with zipfile.ZipFile(own / ".almanac-seen.zip", "w") as kept:
        for name, text in texts.items():
            kept.writestr(name, text)
    (own / "almanac.yaml").write_text("format: 2\nstock: 0.1.9\n", encoding="utf-8")
    assert main(["--handbook", str(own), "upgrade", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert set(told["changed"]) == {"handbook/safety/rags-and-waste.md", "site_data/limits.yaml", "site_data/law/lead.csv"}
    assert "-An old line." in told["changed"]["handbook/safety/rags-and-waste.md"] and told["since"] == "edition 0.1.9"
    assert any("rags-and-waste.md: yours takes the whole page" in line for line in told["touches_yours"]) and any("wind_go" in line for line in told["touches_yours"])
    assert main(["--handbook", str(own), "upgrade", "--json"]) == 0 and json.loads(capsys.readouterr().out)["changed"] == {}


def test_check_tells_what_is_still_the_starters(own, capsys):
    assert any("crew: Your crew" in line for line in starters_own(own))
    assert main(["--handbook", str(own), "check"]) == 0
    out, err = capsys.readouterr()
    assert "site_data/handbook.yaml:4: still the starter's: crew: Your crew (change me)" in err and "not yet yours" in out
    settings = own / "site_data/handbook.yaml"
    settings.write_text(settings.read_text(encoding="utf-8").replace("Your crew (change me)", "Two Sisters"), encoding="utf-8")
    assert not any("crew:" in line for line in starters_own(own))


def test_an_older_folder_that_no_longer_reads_is_told_how_to_go_on(tmp_path, capsys):
    home = older.whole(tmp_path / "home")
    shutil.rmtree(home / "site_data/regions")
    assert main(["--handbook", str(home), "check"]) == 1
    assert "almanac upgrade" in capsys.readouterr().err.splitlines()[0]


LOGO = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><circle cx="5" cy="5" r="4" fill="#7a1f3d"/></svg>\n'


def looked(own, colour="#7a1f3d", logo=LOGO):
    (own / "look").mkdir(exist_ok=True)
    (own / "look/logo.svg").write_text(logo, encoding="utf-8")
    settings = own / "site_data/handbook.yaml"
    text = re.sub(r"(?m)^# (look_colour: ).*$", rf'\g<1>"{colour}"', settings.read_text(encoding="utf-8"))
    settings.write_text(re.sub(r"(?m)^# (look_logo: \S+).*$", r"\1", text), encoding="utf-8")


def test_a_crews_colour_and_mark_are_on_site_card_book_and_icon(own):
    from generators import formulas
    from generators.pages.card import Wanted, card_data, card_of
    from generators.pages.look import look_assets

    looked(own)
    facts = open_handbook(own)
    made = look_assets(facts)
    assert set(made) == {"assets/look.css", "assets/logo.svg", "assets/icon-192.png", "assets/icon-512.png"} and "#7a1f3d" in made["assets/look.css"]
    for side in (192, 512):  # width and height stand in a PNG's head
        png = made[f"assets/icon-{side}.png"]
        assert png.startswith(b"\x89PNG") and (int.from_bytes(png[16:20], "big"), int.from_bytes(png[20:24], "big")) == (side, side)
    assert look_assets(facts) == made, "the same bytes each time"
    assert card_data(card_of(facts, formulas.catalogue(facts), "my-kit"), Wanted())["band"] == "#7a1f3d"


def drawn_in(pdf: bytes, folder: Path, colour: tuple[int, int, int]) -> int:
    """Pixels of one colour on a PDF's first side, at 72 to the inch."""
    if not shutil.which("pdftoppm"):
        pytest.skip("NOT CHECKED: no pdftoppm on this machine, the crew's mark on paper was not looked at")
    (folder / "one.pdf").write_bytes(pdf)
    subprocess.run(["pdftoppm", "-r", "72", "-f", "1", "-l", "1", "-singlefile", str(folder / "one.pdf"), str(folder / "one")], check=True, timeout=60)
    pixels = (folder / "one.ppm").read_bytes()
    near = [all(abs(pixels[at + part] - colour[part]) <= 8 for part in range(3)) for at in range(len(pixels) % 3, len(pixels), 3)]
    return sum(near)


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_a_crews_mark_is_printed_on_its_card_and_its_book(own, tmp_path, kind):
    """A mark of a green of its own is found among the pixels of the card's front and of the book's title leaf."""
    from generators import formulas
    from generators.pages.card import card_pdf
    from generators.paper import book

    looked(own, logo='<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><rect width="10" height="10" fill="#1f7a3d"/></svg>\n')
    if kind == "png":
        square = struct.pack(">II", 40, 40) + bytes([8, 2, 0, 0, 0])
        rows = zlib.compress(b"".join(b"\0" + bytes([0x1F, 0x7A, 0x3D]) * 40 for _ in range(40)))
        parts = [b"IHDR" + square, b"IDAT" + rows, b"IEND"]
        (own / "look/logo.png").write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(struct.pack(">I", len(one) - 4) + one + struct.pack(">I", zlib.crc32(one)) for one in parts))
        settings = own / "site_data/handbook.yaml"
        settings.write_text(settings.read_text(encoding="utf-8").replace("look/logo.svg", "look/logo.png"), encoding="utf-8")
    facts = open_handbook(own)
    assert drawn_in(card_pdf(facts, formulas.catalogue(facts), "my-kit"), tmp_path, (0x1F, 0x7A, 0x3D)) > 60
    if kind == "png":
        assert drawn_in(book(own, chosen=["safety/noise.md"]), tmp_path, (0x1F, 0x7A, 0x3D)) > 1000


@pytest.mark.parametrize(("colour", "logo", "told"), [
    ("#ffcc00", LOGO, "contrast"), ("red", LOGO, "look_colour"), ("#7a1f3d", "<p>no drawing</p>", "a drawing and nothing else"),
    ("#7a1f3d", LOGO.replace("<circle", "<script>1</script><circle"), "scripts"),
    ("#7a1f3d", LOGO.replace("<circle", '<image href="https://elsewhere.example/x.png"/><circle'), "links"), ("#7a1f3d", LOGO.replace("<circle", '<circle onload="x()"'), "scripts"),
])
def test_a_look_that_cannot_be_read_or_trusted_is_told_at_its_line(own, colour, logo, told):
    looked(own, colour, logo)
    with pytest.raises(FactsError) as caught:
        load(own)
    assert told in str(caught.value) and re.match(r"site_data/handbook\.yaml:1[0-2]: ", str(caught.value)), str(caught.value)


def test_contrast_is_as_published():
    """WCAG 2.2: white on black is 21:1, white on itself 1:1; #767676 is the lightest grey at 4.5 (W3C, Understanding SC 1.4.3: 4.54)."""
    from generators.facts.look import contrast_with_white

    assert contrast_with_white("#000000") == pytest.approx(21) and contrast_with_white("#ffffff") == pytest.approx(1)
    assert contrast_with_white("#767676") == pytest.approx(4.54, abs=0.005)
