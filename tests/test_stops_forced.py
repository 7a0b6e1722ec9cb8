"""An isocyanate under every class, name and file left out keeps its stop: in facts, on pages, in tables, on the card and in the day's chain. Nothing a file says takes it away."""

from __future__ import annotations

import dataclasses
import random
import shutil
from pathlib import Path

import pytest
from conftest import ROOT
from markupsafe import escape
from test_chain import on_the_phone

from generators import formulas, tables
from generators.chain.answers import today
from generators.chain.day import Day
from generators.facts import FactsError, load
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages
from generators.pages.card import card_pdf
from generators.situation import read
from generators.table import Table

CLASSES = ("waterborne-trim-enamel", "wall-matt", "waterborne-primer", "waterborne-clear", "thin-stain", "opaque-stain", "preservative", "alkyd-enamel", "shellac-primer", "metal-primer", "two-pack-epoxy", "masonry", "oil-finish", "mineral")
PACK = 'two_pack: {ratio: "4:1", hardener_density: 1.0 kg/L, pot_life: 6 h}'
# Words of labels and safety data sheets, from memory; each is a line or two of a tin's file.
WAYS = {
    "said": "hardener: isocyanate", "two-tins-and-silence": PACK, "two-tins-that-say-none": f"{PACK}\nhardener: none", "a-note": "notes: Part B holds a polyisocyanate.", "a-note-in-capitals": "notes: CONTAINS ISOCYANATES.",
    "a-code-of-the-label": "notes: EUH204 on the tin.", "a-code-of-the-sheet": "sds: {codes: [EUH204]}", "asthma-by-breathing": "sds: {codes: [H317, H334]}", "an-ingredient": "sds: {solvents: [{name: Hexamethylene diisocyanate, share: 1–5 %}]}",
    "a-limit-of-the-sheet": "sds: {limits: [0.02 mg/m³ as NCO]}", "a-filter": "sds: {filter: Air-fed only because of the isocyanate}", "storage-words": "sds: {storage: Keep the MDI hardener dry}", "short-names": "notes: HDI trimer.", "moisture": "notes: A moisture-curing one-pack.",
    "moisture-in-other-words": "notes: Cures with air moisture.", "polyurethane": "notes: A one-pack polyurethane.", "two-k": "notes: 2K system.", "two-component": "notes: Two-component finish.", "a-hardener-in-words": "notes: Add the hardener first.", "misspelt": "notes: Contains isocynates.",
    "not-free": "notes: This is not isocyanate-free.", "a-denial-with-amine": f"{PACK}\nhardener: amine\nnotes: The other hardener of the range is an isocyanate.", "a-stop-that-is-named": "stops: [isocyanates]", "in-use": "uses: [polyisocyanate trim]", "polyaspartic": "notes: A polyaspartic.",
}


def tin(kind: str, way: str, name: str = "Plain Paint") -> str:
    return "\n".join([f"name: {name}", "basis: invented", f"class: {kind}", "volume_solids: 40 %", "dry_film: 30 µm", "density: 1.1 kg/L", "voc: 300 g/L", "thin_with: nothing", "thinner_density: 0 g/L", "thinner_max: 0 %", "supplied: 30 s in ford-4",
                      "air_min: 8 °C", "air_max: 30 °C", "humidity_max: 80 %", "recoat_after: 5 h", "nozzle: 1.5 mm", *([] if "uses:" in way else ["uses: [trim]"]), *(["stops: [preservative-label]"] if kind == "preservative" and "stops:" not in way else []), way]) + "\n"


def all_tins() -> dict[str, str]:
    found = {f"{kind}-{way}": tin(kind, text, f"Plain {kind} {place}") for kind in CLASSES for place, (way, text) in enumerate(WAYS.items()) if not (kind == "preservative" and "stops:" in text)}
    return found | {f"{name}-of-{kind}": tin(kind, "") for kind in CLASSES for name in ("isocyanate-clear", "mdi-clear", "clear-2k")}


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    root = tmp_path_factory.mktemp("forced")
    shutil.copytree(ROOT / "site_data", root / "site_data")
    shutil.copytree(ROOT / "handbook", root / "handbook")
    return root


def hidden(folder: Path, tins: dict[str, str]):
    for slug, text in tins.items():
        (folder / f"site_data/coatings/{slug}.yaml").write_text(text, encoding="utf-8")
    try:
        return open_handbook(folder)
    finally:
        for slug in tins:
            (folder / f"site_data/coatings/{slug}.yaml").unlink()


def test_every_tin_carries_the_stop_and_counts_as_isocyanate(folder):
    tins = all_tins()
    facts = hidden(folder, tins)
    assert len(tins) > 350 and {*CLASSES, "two-pack-polyurethane"} == set(facts.classes)  # the last is refused without its stop (test_safety)
    assert not [slug for slug in tins if "isocyanates" not in facts.coatings[slug].stops or facts.coatings[slug].hardener != "isocyanate"]


@pytest.mark.parametrize("many", [6, pytest.param(0, marks=pytest.mark.sweep)])
def test_no_hole_in_tables_card_chain_or_phone(folder, many, tmp_path):
    tins = all_tins()
    tins = dict(random.Random(3).sample(list(tins.items()), many)) if many else tins
    facts = hidden(folder, tins)
    catalogue = formulas.catalogue(facts)
    book, day = tables.Book(facts, catalogue, "metric"), Day(facts, catalogue)
    holes, asked = [], []
    for slug in tins:
        for name, builder in tables.BUILDERS.items():
            if builder.per == "coating" and (isinstance(shown := builder(book, slug), Table) or "STOP" not in str(shown.rows)):
                holes.append((slug, name))
        try:
            card_pdf(facts, catalogue, "five-stage-trolley", "a5", [slug])
            holes.append((slug, "card"))
        except ValueError as error:
            if "STOP" not in str(error):
                holes.append((slug, str(error)))
        typed = {"kit": "five-stage-trolley", "coating": slug, "air-temperature": "20", "relative-humidity": "50", "surface-temperature": "20", "cup-time": "30", "pot-litres": "1", "area": "5", "hardener": "none"}
        asked.append(read(list(typed.items()), day.names()))
        told = today(day, asked[-1])
        if told["verdict"] != "stop" or [name for name, answer in told["answers"].items() if isinstance(answer.get("value"), float)]:
            holes.append((slug, "chain"))
    for slug, told in zip(tins, on_the_phone(asked, tmp_path, one=day), strict=True):
        if told["verdict"] != "stop" or [name for name, answer in told["answers"].items() if isinstance(answer.get("value"), (int, float))]:
            holes.append((slug, "phone"))
    for name, builder in tables.BUILDERS.items():
        if builder.per == "handbook" and name not in ("protection",):
            shown = builder(book)
            heads = (*shown.rows.heads, *shown.columns.heads) if isinstance(shown, Table) else tuple(row[0] for row in getattr(shown, "rows", ()))
            holes += [(name, head) for head in heads if head in {facts.coatings[slug].name for slug in tins} and head != "Plain Paint"]
    assert not holes, holes[:20]


@pytest.mark.parametrize("many", [3, pytest.param(0, marks=pytest.mark.sweep)])
def test_its_page_begins_with_the_stop(folder, many, tmp_path):
    tins = all_tins()
    tins = dict(random.Random(4).sample(list(tins.items()), many)) if many else tins
    facts = hidden(folder, tins)
    if many:  # the same pages without those beside them; the long round builds all
        kit = facts.handbook.default_kit
        facts = dataclasses.replace(facts, root=tmp_path, coatings={slug: facts.coatings[slug] for slug in ("gannet-trim-satin", *tins)}, kits={kit: facts.kits[kit]}, faults={}, drills={}, protection={})
    pages = build_pages(facts)
    title = str(escape(facts.stops["isocyanates"].title))
    for slug in tins:
        page = pages[f"coatings/{slug}.md"]
        assert title in page and page.index(title) < page.index("alm-kind") and "thinning-effects" not in page and "alm-worked" not in page, slug


def test_what_is_really_free_is_free(folder):
    free = {"plain-water": tin("waterborne-trim-enamel", ""), "amine-epoxy": tin("two-pack-epoxy", f"{PACK}\nhardener: amine"), "free-by-its-words": tin("two-pack-epoxy", f"{PACK}\nhardener: amine\nnotes: Isocyanate-free."),
            "said-none": tin("alkyd-enamel", "hardener: none\nnotes: A polyurethane alkyd."), "acid": tin("two-pack-epoxy", f"{PACK}\nhardener: acid\nnotes: Contains no isocyanates.")}
    facts = hidden(folder, free)
    assert not {slug: facts.coatings[slug].stops for slug in free if facts.coatings[slug].stops}


def test_lead_and_chromate_force_their_stop_too(folder):
    tins = {"code": tin("metal-primer", "sds: {codes: [EUH203]}"), "lead": tin("metal-primer", "sds: {codes: [EUH201]}"), "word": tin("metal-primer", "notes: With zinc chromate."), "red": tin("oil-finish", "notes: Red lead in oil."), "free": tin("metal-primer", "notes: Lead-free and free of chromate.")}
    facts = hidden(folder, tins)
    assert {slug: "chromate-lead-primer" in facts.coatings[slug].stops for slug in tins} == {"code": True, "lead": True, "word": True, "red": True, "free": False}


@pytest.mark.parametrize("many", [12, pytest.param(0, marks=pytest.mark.sweep)])
def test_a_file_left_out_takes_no_stop_away(many, tmp_path):
    """Each file of facts away in turn: the handbook is refused, or the stop stands, on the tin and in the handbook."""
    shutil.copytree(ROOT / "site_data", tmp_path / "site_data")
    (tmp_path / "site_data/coatings/hidden.yaml").write_text(tin("wall-matt", "notes: With MDI."), encoding="utf-8")
    files = sorted(path for path in (tmp_path / "site_data").rglob("*.*") if path.is_file() and path.parent.name != "schemas" and path.name != "hidden.yaml")
    files = [*random.Random(5).sample(files, many), tmp_path / "site_data/stops.yaml", tmp_path / "site_data/protection.yaml"] if many else files
    stood = refused = 0
    for path in dict.fromkeys(files):
        text = path.read_bytes()
        path.unlink()
        try:
            facts = load(tmp_path)
            assert "isocyanates" in facts.coatings["hidden"].stops and "isocyanates" in facts.stops, path.name
            stood += 1
        except FactsError:
            refused += 1
        path.write_bytes(text)
    assert stood >= 3 and refused >= 2, (stood, refused)


def test_a_glove_has_a_rank_and_never_minutes(folder):
    for bad in ("nitrile, 480 min", "butyl > 8 hours", "laminate 30 minutes"):
        with pytest.raises(FactsError) as caught:
            hidden(folder, {"gloved": tin("alkyd-enamel", f"sds: {{gloves: '{bad}'}}")})
        assert "without a time" in str(caught.value)
    facts = hidden(folder, {"gloved": tin("alkyd-enamel", "sds: {gloves: laminate, solvents: [{name: Xylene (mixed)}, {name: Acetone}]}")})
    words = tables.sheet.glove_words(facts, facts.coatings["gloved"])
    assert words.startswith("good: laminate") and "never" in words and not any(mark.isdigit() for mark in words), words


@pytest.mark.parametrize(("thinner", "named"), [("water", False), ("clean water", False), ("nothing", False), ("white spirit", False), ("Mineral spirits", False), ("butyl acetate", False), ("the thinner of its data sheet", True), ("water with alcohol", True), ("mystery", True)])
def test_a_thinner_that_no_glove_was_ranked_against_is_named(folder, thinner, named):
    """A rank that holds for what is in the tin says nothing of what is poured into it. Common practice, no source."""
    text = tin("alkyd-enamel", "sds: {solvents: [{name: Xylene (mixed)}]}").replace("thin_with: nothing", f"thin_with: {thinner}")
    facts = hidden(folder, {"gloved": text if "water" in thinner or thinner == "nothing" else text.replace("thinner_density: 0 g/L", "thinner_density: 800 g/L")})
    assert (f"ask the maker: its thinner ({thinner})" in tables.sheet.glove_words(facts, facts.coatings["gloved"])) == named
