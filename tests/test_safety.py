"""People can be hurt by a wrong page: stops that nothing switches off, each region's own law, plain words, one sheet each."""

from __future__ import annotations

import csv
import dataclasses
import io
import itertools
import re
import shutil

import pytest
from conftest import ROOT, copied
from pypdf import PdfReader

from generators import formulas, render, tables
from generators.facts import FactsError, load, old_values
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages
from generators.pages.card import card_pdf

SAFETY = ("index", "ppe", "vapour-and-fire", "isocyanates", "lead-and-asbestos", "rags-and-waste", "noise", "electricity-and-turbine", "working-at-height", "neighbours-and-children", "emergencies",
          "gloves", "dust-and-silica", "strippers", "static-and-pouring", "extinguishers", "carbon-monoxide-and-heat")


def plain(markdown):
    """The text of a finished page, without tags and Markdown's own marks."""
    import html

    text = re.sub(r"<(script|style|math|svg)\b.*?</\1>", " ", markdown, flags=re.S)
    text = re.sub(r"<details\b.*?</details>", " ", text, flags=re.S)
    text = re.sub(r"<table\b.*?</table>", " ", text, flags=re.S)
    text = re.sub(r"</?(p|li|td|th|h\d|summary|tr|div|aside|span)\b[^>]*>", "\n", text)
    return html.unescape(re.sub(r"<[^>]+>", "", text))


@pytest.fixture(scope="module", params=["uk", pytest.param("eu", marks=pytest.mark.sweep), "us"])
def region(request, facts_in, pages_in):
    return request.param, facts_in(request.param), pages_in(request.param)


def test_every_page_and_table_that_shows_a_stopped_coating_shows_the_stop(region, assets_in):
    _, facts, pages = region
    catalogue = formulas.catalogue(facts)
    stopped = {slug: coating for slug, coating in facts.coatings.items() if coating.stops}
    assert len(stopped) >= 2
    import html

    for address, page in pages.items():
        text = html.unescape(page)
        for slug, coating in stopped.items():
            if coating.name in text and not address.startswith("reference/"):
                for key in coating.stops:
                    assert facts.stops[key].title in text, (address, slug)
                    assert "STOP" in text and (facts.stops[key].who_decides in text or "data sheet" in text), (address, slug)
    for address, content in assets_in(region[0]).items():
        if address.endswith(".csv"):
            text = content.decode()
            for slug, coating in stopped.items():
                if coating.name in text or slug in address:
                    assert "STOP" in text and facts.stops[coating.stops[0]].title in text, address
    for kit in facts.kits:
        reader = PdfReader(io.BytesIO(card_pdf(facts, catalogue, kit)))
        text = " ".join(" ".join(page.extract_text().split()) for page in reader.pages)
        assert text.count("STOP") >= 2 and facts.stops["isocyanates"].title in text and "decide" in text
        assert not any(coating.name in text for coating in stopped.values())


def test_no_figure_for_spraying_a_stopped_coating(region):
    _, facts, pages = region
    book = tables.Book(facts, formulas.catalogue(facts), facts.handbook.system)
    for slug, coating in facts.coatings.items():
        if not coating.stops:
            continue
        page = pages[f"coatings/{slug}.md"]
        assert 'class="alm-live"' not in page and "Nozzle" not in page and "alm-math" not in page
        for name, builder in tables.BUILDERS.items():
            if builder.per == "coating":
                shown = builder(book, slug)
                assert isinstance(shown, tables.mix.TextTable) and shown.rows[0][0].startswith("STOP"), name
                assert "STOP" in render.csv_text(shown)


@pytest.mark.parametrize("key", ["isocyanates", "lead", "asbestos", "chromate-lead-primer", "preservative-label"])
def test_taking_a_stop_out_of_the_data_fails_the_build(tmp_path, key):
    shutil.copytree(ROOT / "site_data", tmp_path / "site_data")
    stops = tmp_path / "site_data/stops.yaml"
    text = stops.read_text()
    start = re.search(rf"^{key}:\n", text, re.M).start()
    end = re.search(r"^\S", text[start + len(key) :], re.M)
    stops.write_text(text[:start] + (text[start + len(key) + end.start() :] if end else ""))
    with pytest.raises(FactsError, match=key):
        load(tmp_path)


def test_taking_a_stop_off_a_coating_fails_the_build(tmp_path):
    shutil.copytree(ROOT / "site_data", tmp_path / "site_data")
    tin = tmp_path / "site_data/coatings/spar-two-pack-finish.yaml"
    tin.write_text(re.sub(r"^stops:.*\n", "", tin.read_text(), flags=re.M))
    with pytest.raises(FactsError, match="isocyanates"):
        load(tmp_path)


def test_each_region_shows_its_own_law_and_no_other(region):
    name, facts, pages = region
    own = {"uk": ("COSHH", "HSE"), "eu": ("2003/10/EC", "national labour inspectorate"), "us": ("OSHA", "EPA")}
    # reference/ lists where values come from, by title; it is not advice.
    text = "\n".join(page for address, page in pages.items() if address.startswith("safety/"))
    for word in own[name]:
        assert word in text
    for other, words in own.items():
        if other != name:
            for word in words:
                assert not re.search(rf"\b{re.escape(word)}\b", text), (name, word)  # a HEPA filter is no agency
    factors = pages["safety/ppe.md"]
    devices = {r: {rule.scope for rule in facts.law(r, "masks")} for r in ("uk", "us")}
    for other in {"uk", "us"} - {name}:
        for device in devices[other] - devices.get(name, set()):
            assert f">{device}<" not in factors, (name, device)
    assert facts.regions[name].title in text and "check before you rely on it" in text.lower()


def test_every_safety_page_ends_with_who_decides(region):
    _, _, pages = region
    for name in SAFETY:
        page = pages[f"safety/{name}.md"]
        last = re.findall(r"^## (.+)$", page, re.M)[-1]
        assert last == "Who decides", name
        assert len(plain(page.split("## Who decides")[-1]).split()) >= 8


def test_old_values_say_so(tmp_path, facts_in):
    copied(tmp_path, settings=False)
    regions = tmp_path / "site_data/regions/uk.yaml"
    regions.write_text(regions.read_text().replace("checked: 2026-11-26", "checked: 2025-01-01"))
    facts = open_handbook(tmp_path)
    assert any("regions/uk.yaml" in line for line in old_values(facts))
    assert "△ Old:" in build_pages(facts, only={"safety/lead-and-asbestos.md"}.__contains__)["safety/lead-and-asbestos.md"]
    assert old_values(facts_in(None)) == []


def test_old_values_are_told_by_check(tmp_path, capsys):
    from generators.cli import main

    copied(tmp_path)
    noise = tmp_path / "site_data/law/noise.csv"
    noise.write_text(noise.read_text().replace("2026-11-25", "2024-01-01"))
    assert main(["--handbook", str(tmp_path), "check"]) == 0
    assert "old: site_data/law/noise.csv" in capsys.readouterr().err


def test_sentences_are_short(region):
    """Mean words in a sentence under 18 on the safety pages (the bar's own figure)."""
    _, _, pages = region
    for name in SAFETY:
        lines = [line.strip() for line in plain(pages[f"safety/{name}.md"]).splitlines()]
        sentences = [part for line in lines if line and not line.startswith(("#", "|", "{")) for part in re.split(r"(?<=[.!?:])\s+", re.sub(r"[*_`]|^\d+\. |^- ", "", line)) if len(part.split()) > 2]
        mean = sum(len(part.split()) for part in sentences) / len(sentences)
        assert mean < 18, (name, mean)


def test_every_abbreviation_is_explained(region):
    """Capitals on a safety page are in the glossary, or spelled out beside them, or a name of a law or standard."""
    _, facts, pages = region
    known = " ".join(f"{word.uk} {word.us} {word.meaning}" for word in facts.words)
    standing = {"STOP", "AND", "NOT", "EN", "ISO", "CFR", "EC", "EU", "UK", "US", "BACK", "FRONT", "READ", "AX", "OV", "NIOSH", "NFPA", "II", "OK", "GHS"}
    for name in SAFETY:
        text = plain(pages[f"safety/{name}.md"])
        for word in set(re.findall(r"\b[A-Z]{2,6}\b", text)) - standing:
            spelled = re.search(rf"\({word}\)|{word} \(", text) or re.search(rf"\b{word}\b", known)
            assert spelled, (name, word)


NEVER = (
    r"\b\d+ ?(mg|mL|ml) (of )?(atropine|salbutamol|charcoal|antihistamine)",
    r"safe (level|time|amount) (of|for) isocyanate",
    r"safe(ly)? (dry )?sand(ing)? lead", r"induce vomiting", r"safe to breathe\b(?!\.?\s*(?:no|never))",
)


def test_never_printed(region):
    _, _, pages = region
    for address, page in pages.items():
        for pattern in NEVER:
            for found in re.finditer(pattern, plain(page), re.I):
                before = plain(page)[max(0, found.start() - 60) : found.start()].lower()
                assert re.search(r"\b(not|no|never)\b", before), (address, found.group(0))


def own_words(sheets):
    """Each sheet's words without what stands on every one of them: its number, and the line at the foot, in whichever order they were drawn."""
    bare = [re.sub(r"^\d+ / \d+\s*", "", sheet) for sheet in sheets]
    words = [sheet.split(" ") for sheet in bare]
    same = sum(1 for _ in itertools.takewhile(lambda column: len(set(column)) == 1, zip(*words, strict=False))) if len(bare) > 1 else 0
    return [" ".join(sheet[same:]) for sheet in words]


def assert_one_sheet(page, site, names, papers):
    for name in names:
        page.goto((site / f"safety/{name}.html").as_uri())
        for paper in papers:
            sheets = own_words([" ".join(sheet.extract_text().split()) for sheet in PdfReader(io.BytesIO(page.pdf(format=paper))).pages])
            if page.locator(".alm-sheet").count():  # its words on the first, its tables and sums whole on those after
                page.emulate_media(media="print")
                heads = [head.inner_text() for head in page.locator(".md-typeset > h2").all() if head.is_visible()]
                page.emulate_media(media="null")
                lost = [head for head in heads if head.replace("¶", "").strip() not in sheets[0]]
                assert heads[-1].startswith("Who decides") and not lost, (name, paper, lost, sheets)
                if not page.locator(".md-typeset :is(td, .alm-formula)").count():
                    assert len(sheets) == 1, (name, paper, len(sheets))
                    continue
                assert sheets[1].startswith("Tables and sums of this page") and not any("Who decides" in sheet for sheet in sheets[1:]), (name, paper, [sheet[:60] for sheet in sheets])
                numbers = page.evaluate("[...document.querySelectorAll('.md-typeset td')].flatMap(cell => cell.textContent.match(/[0-9]+([.][0-9]+)?/g) || [])")
                text = " ".join(sheets)
                assert not [one for one in numbers if one not in text], (name, paper)
            else:
                assert len(sheets) == 1, (name, paper, len(sheets))


def test_the_longest_danger_prints_on_one_sheet(look, site):
    """The page with the most text, and the one that is asked for most."""
    pages = sorted((site / "safety").glob("*.html"), key=lambda path: len(plain(path.read_text(encoding="utf-8")).split()))
    assert_one_sheet(look, site, [pages[-1].stem, "emergencies"], ["A4", "Letter"])


@pytest.mark.sweep
def test_each_danger_prints_on_one_sheet(look, site):
    assert_one_sheet(look, site, sorted(path.stem for path in (site / "safety").glob("*.html")), ["A4", "Letter"])


def test_signs_are_drawn_and_told(region):
    _, _, pages = region
    from xml.etree import ElementTree

    for code in render.SIGNS:
        drawn = ElementTree.fromstring(render.signs_html((code,)))
        assert code in "".join(drawn.itertext())
    assert "M017" in pages["safety/ppe.md"] and "M016" not in pages["safety/ppe.md"]


def test_protection_factor_rows_are_complete():
    """Every published factor that the reference rows carry is a fact here, and agrees (test_reference holds the figures)."""
    with (ROOT / "tests/reference/protection-factors.csv").open() as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    assert len(rows) >= 35 and sum(row["how"] != "none" for row in rows) >= 35


def test_more_mist_never_asks_for_less(facts, catalogue):
    table = tables.BUILDERS["mist"](tables.Book(facts, catalogue, "metric"))
    body = table.body.to_numpy()
    assert (body[:, 1:] >= body[:, :-1]).all() and (body[1:] <= body[:-1]).all()
    assert table.rounding.side == "up"
    assert dataclasses.is_dataclass(table)
