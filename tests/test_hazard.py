"""An isocyanate keeps its stop under whatever class, name or field it is filed: in facts, tables, card, page and the day's chain."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from generators import formulas, tables
from generators.chain.answers import today
from generators.chain.day import Day
from generators.facts import load
from generators.formulas.own_cups import open_handbook
from generators.pages.card import card_pdf
from generators.situation import read
from generators.table import Table

ROOT = Path(__file__).parents[1]
PLAIN = (ROOT / "site_data/coatings/gannet-trim-satin.yaml").read_text()
PACK = 'two_pack: {ratio: "4:1", hardener_density: 0.98 kg/L, induction: 15 min, pot_life: 6 h}\n'
# From memory of labels and safety data sheets, in the words they use.
HIDDEN = {
    "silent-two-pack": PLAIN + PACK,
    "said-in-hardener": PLAIN + PACK + "hardener: isocyanate\n",
    "said-in-notes": PLAIN + "notes: Part B contains polyisocyanate.\n",
    "said-in-thinner": PLAIN.replace("thin_with: water", "thin_with: HDI-based hardener thinner"),
    "said-by-label": PLAIN + "notes: EUH204 is on the tin.\n",
    "moisture-cured": PLAIN + "notes: A moisture-cured one-pack.\n",
    "clear-isocyanate-lacquer": PLAIN,
    "by-its-class": PLAIN.replace("class: waterborne-trim-enamel", "class: two-pack-polyurethane") + "stops: [isocyanates]\n",
}
FREE = {"isocyanate-free-finish": PLAIN + PACK + "hardener: amine\nnotes: An isocyanate-free two-pack.\n", "amine-epoxy": PLAIN + PACK + "hardener: amine\n"}


@pytest.fixture(scope="module")
def facts(tmp_path_factory: pytest.TempPathFactory):
    root = tmp_path_factory.mktemp("hazard")
    shutil.copytree(ROOT / "site_data", root / "site_data")
    for slug, text in {**HIDDEN, **FREE}.items():
        (root / "site_data/coatings" / f"{slug}.yaml").write_text(text)
    return open_handbook(root)


def test_the_stop_is_on_the_tin_itself(facts):
    assert all("isocyanates" in facts.coatings[slug].stops for slug in HIDDEN)
    assert all(not facts.coatings[slug].stops for slug in FREE)
    assert load(ROOT).coatings["spar-two-pack-finish"].hardener == "isocyanate" and load(ROOT).coatings["keel-two-pack-epoxy"].hardener == "amine"


def test_no_table_shows_a_figure_for_it(facts):
    book = tables.Book(facts, formulas.catalogue(facts), "metric")
    for name, builder in tables.BUILDERS.items():
        for slug in HIDDEN if builder.per == "coating" else ():
            assert not isinstance(builder(book, slug), Table), (name, slug)
        if builder.per == "handbook" and name not in ("protection",):
            shown = builder(book)
            heads = (*shown.rows.heads, *shown.columns.heads) if isinstance(shown, Table) else tuple(row[0] for row in getattr(shown, "rows", ()))
            assert not {facts.coatings[slug].name for slug in HIDDEN if facts.coatings[slug].name != "Gannet Trim Satin"} & set(heads), name


def test_no_card_takes_it(facts):
    for slug in HIDDEN:
        with pytest.raises(ValueError, match="STOP"):
            card_pdf(facts, formulas.catalogue(facts), "five-stage-trolley", "a5", [slug])


def test_the_chain_shows_no_figure_for_it(facts):
    day = Day(facts, formulas.catalogue(facts))
    for slug in HIDDEN:
        typed = {"kit": "five-stage-trolley", "coating": slug, "air-temperature": "20", "relative-humidity": "50", "surface-temperature": "20", "cup-time": "50", "pot-litres": "1", "area": "5", "hardener": "none"}
        told = today(day, read(list(typed.items()), day.names()))
        assert told["verdict"] == "stop", slug
        assert not [name for name, answer in told["answers"].items() if isinstance(answer.get("value"), float)], slug
