"""Sixty questions as sprayers ask them, put to the van card and its charts alone: no phone, no book.

The bank is our own; which questions are the commonest is judgement, no source. What the card says is read back from its PDF; what a
chart says is read from its drawn strokes, as an edge reads it. Right answers are the test's own sums or the data sheets' words.
"""

from __future__ import annotations

import io
import math
import re
import subprocess

import numpy as np
import pytest
from pypdf import PdfReader
from test_edge import _cup, at, dew, seen, strokes

from generators.pages.card import Wanted, card_pdf
from generators.render.edge import edge_svg
from generators.tables import EDGES, Book

KIT, WATER, EPOXY = "five-stage-trolley", "gannet-trim-satin", "keel-two-pack-epoxy"
# (as it is asked, the side, the row or the words before, what must stand there). A side of figures is read by its row.
WORDS = [
    ("how thin has it got to be for my gun", "front", r"52 s or less in Ford cup 4"),
    ("how do i time it in the cup", "front", r"to the first break of the stream"),
    ("how big a first splash of thinner", "front", r"Far over\? Add 5 % of the paint\. Near\? 1 to 3 %"),
    ("can i thin the gloss till it sprays", "front", r"No dose .*VOC limit of its category"),
    ("too cold to spray the satin?", "front", r"Gannet Trim Satin.*?Air 8 to 30 °C"),
    ("epoxy and humidity, how damp is too damp", "front", r"Keel Two-pack Epoxy.*?to 75 %"),
    ("how far over the dew point for shellac", "front", r"Knotty Shellac Primer.*?11 over dew"),
    ("how long have i got with the epoxy", "front", r"Pot life, 1 L: 5:45 h at 20 °C"),  # 6 h times 1.5 to the 0.3, by ten to the 0.07: 5 h 46
    ("pot life in the heat", "front", r"2:40 h at 30 °C"),  # 6 h by 2.5 to the 0.7 and ten to the 0.07: 2 h 41
    ("what mask for water based", "front", r"Mask B: Indoors: powered or air-fed hood, or full mask with P3"),
    ("what mask for alkyd gloss", "front", r"Mask A: Indoors: full mask with A2P3"),
    ("can i wear a half mask with shellac", "front", r"Mask D: Air-fed"),
    ("does metal primer burn", "front", r"Hull Metal Primer.*?BURNS: no flame"),
    ("can i stand the tin in hot water", "front", r"water bath, lid loose, no flame"),
    ("can i warm mixed 2k", "front", r"Mixed two-pack is never warmed"),
    ("still too thick at the max, now what", "front", r"warm it .*or the other kit"),
    ("got it in my eye, who do i ring", "front", r"Poison 111"),
    ("ambulance", "back", r"Emergency 999"),
    ("can i spray 2k iso in a customers kitchen", "front", r"STOP No isocyanates at a customer's home"),
    ("old windows, can i sand", "back", r"STOP Old paint may hold lead"),
    ("spraying over a textured ceiling", "back", r"boards may hold asbestos"),
    ("its running", "back", r"Runs\? Faster\. Less paint"),
    ("orange peel", "back", r"Pebbled\? Thinner, or more air"),
    ("gun is spitting", "back", r"Spits\? Nozzle tight, pot full, lid sealed"),
    ("feels like sandpaper", "back", r"Rough\? Closer\. Less air, or more paint"),
    ("fan looks like a banana", "back", r"Curved fan\? Turn the cap half a turn"),
    ("fish eyes", "back", r"Dimples\? Stop: grease or silicone"),
    ("gone cloudy white", "back", r"White haze\? Stop: too near the dew point"),
    ("i can see stripes", "back", r"Stripes\? Mend the spacing"),
    ("where do i read more", "back", r"kits/five-stage-trolley\.html"),
    ("which edition is this card", "front", r"Revision 1, 2026"),
]
ROWS = [  # question, row, place in it, what is right
    ("how much water in a litre of satin", "Gannet Trim Satin", 0, "dose"), ("what will the cup say then", "Gannet Trim Satin", 1, "then"),
    ("last wet tooth for the satin", "Gannet Trim Satin", 2, "wet"), ("first dry tooth", "Gannet Trim Satin", 3, "dry"),
    ("when can the second coat go on, satin", "Gannet Trim Satin", 4, "coat"), ("latest coat on the epoxy", "Keel Two-pack Epoxy", 5, "latest"),
    ("coldest wall at 20 degrees and 60 percent", "20 °C", 1, "surface"), ("coldest wall at 15 degrees, 70", "15 °C", 2, "surface"),
    ("how wide is the fan at 200", "200 mm", 0, "fan"), ("how far do i step at 150", "150 mm", 1, "step"),
]
CHARTS = ("60 s then... i did 95, then 70 after 3 percent, how much in all", "timed 80, 64 after 5, how much in all",
          "dew point at 18 and 70 percent", "coldest surface at 13 and 65 percent",
          "hours to the next coat at 12 degrees, 70 percent",
          "wet film for 30 dry with 5 percent in", "gun speed for 90 wet, 150 steps", "epoxy mixed at 28, how long", "epoxy at 18, when must it be out of the gun")
# What the card does not hold, and where it stands.
ELSEWHERE = [("what do i charge for a fence", "job/price"), ("paint for 20 doors", "survey/quantities"), ("does oil go over water based", "survey/what-over-what"),
             ("paint froze in the van", "clean/storage-and-frost"),
             ("how many minutes next to the turbine", "safety/noise"), ("how much can i spray in a shut room", "safety/vapour-and-fire"), ("what do i do with oily rags", "safety/rags-and-waste"),
             ("which gloves for xylene", "safety/gloves"), ("how do i clean the gun", "clean/clean-down"), ("which strainer", "mix/stirring-and-straining")]


@pytest.fixture(scope="module")
def card(facts, catalogue):
    """{side: words}, {row: its figures} of the kit's card, read back."""
    made = card_pdf(facts, catalogue, KIT)
    sides = [" ".join(page.extract_text().split()).replace("- ", "-") for page in PdfReader(io.BytesIO(made)).pages]
    laid = subprocess.run(["pdftotext", "-layout", "-", "-"], input=made, capture_output=True, check=True).stdout.decode()
    rows = {}
    for line in laid.splitlines():
        if found := re.match(r"\s*(.*?\S)\s+((?:(?:–|[\d.−]+)[*×?]?\s*){3,6})$", line):
            rows.setdefault(found[1], found[2].split())
    return dict(zip(("front", "back"), sides, strict=True)), rows


def test_there_are_sixty_questions():
    asked = [one[0] for one in (*WORDS, *ROWS, *ELSEWHERE)] + list(CHARTS)
    assert len(asked) == len(set(asked)) == 60 and len(asked) - len(ELSEWHERE) >= 30


@pytest.mark.parametrize(("asked", "side", "said"), WORDS, ids=[one[0] for one in WORDS])
def test_the_card_says_it(card, asked, side, said):
    assert re.search(said, card[0][side]), (asked, card[0][side])


def _figure(text):
    return float(text.rstrip("*×?"))


def test_figures_in_their_rows(card, facts):
    _, rows = card
    tin, rig = facts.coatings[WATER], facts.kits[KIT]
    thick = {name: _cup(name) for name in {tin.supplied.cup, tin.trial.time.cup, rig.limit.cup}}
    one, two, wanted = thick[tin.supplied.cup](tin.supplied.seconds), thick[tin.trial.time.cup](tin.trial.time.seconds), thick[rig.limit.cup](rig.limit.seconds)
    percent = tin.trial.thinner.to("%") * math.log(one / wanted) / math.log(one / two)
    film = tin.dry_film.to("µm") / (tin.volume_solids.to("%") / 100) * (1 + percent / 100)
    width = 2 * math.tan(math.radians(rig.fan_angle.to("deg") / 2))
    right = {
        "dose": lambda x, _: 10 * percent - 5.01 <= x <= 10 * percent + 0.01, "then": lambda x, _: x <= rig.limit.seconds + 1.01,
        "wet": lambda x, _: film - 25 < x <= film + 0.01, "dry": lambda x, _: film < x <= film + 25.01, "coat": lambda x, _: x == tin.recoat_after.to("h"),
        "latest": lambda x, _: x == facts.coatings[EPOXY].recoat_before.to("h"),
        "surface": lambda x, row: dew(float(row.split()[0]), {"20 °C": 60, "15 °C": 70}[row]) + 5 <= x + 0.01 <= dew(float(row.split()[0]), {"20 °C": 60, "15 °C": 70}[row]) + 5.6,
        "fan": lambda x, row: abs(x - width * 200) <= 2.51, "step": lambda x, row: 0.5 * width * 150 <= x + 5 <= 0.8 * width * 150 + 5,
    }
    for asked, row, place, what in ROWS:
        assert right[what](_figure(rows[row][place]), row), (asked, rows[row])


def test_charts_say_it(facts, catalogue):
    """Laid without error, each reads to within its own table's rounding of the sum."""
    book = Book(facts, catalogue, "metric")
    made = card_pdf(facts, catalogue, KIT, wanted=Wanted(charts=True, coatings=(WATER, EPOXY)))
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(made)).pages)
    drawn = {name: EDGES[name](book, slug) for name, slug in (("thinner-grid", KIT), ("speed-edge", KIT), ("dew-edge", WATER), ("drying-edge", WATER), ("film-edge", WATER), ("life-edge", EPOXY))}
    assert all(chart.title in " ".join(text.split()) for chart in drawn.values())
    rules = {name: strokes(edge_svg(chart)) for name, chart in drawn.items()}

    def edge(name, first, x, second, y, answer):
        one, two, three = (rules[name][rule] for rule in (first, second, answer))
        share = (three[2] - one[2]) / (two[2] - one[2])
        return float(seen(three, np.array((1 - share) * at(one, x) + share * at(two, y))))

    def dots(first, dose, then):
        grid = rules["thinner-grid"]
        x, y, wanted = [at(grid["thinner"], value) for value in (0, dose)], [at(grid["seconds"], value) for value in (first, then)], at(grid["seconds"], facts.kits[KIT].limit.seconds)
        return float(seen(grid["thinner"], np.array(x[0] + (x[1] - x[0]) * (wanted - y[0]) / (y[1] - y[0]))))

    thick, limit = _cup(facts.kits[KIT].limit.cup), facts.kits[KIT].limit.seconds
    rig, tin, epoxy = facts.kits[KIT], facts.coatings[WATER], facts.coatings[EPOXY]
    for first, dose, then in ((95, 3, 70), (80, 5, 64)):
        assert dots(first, dose, then) == pytest.approx(dose * math.log(thick(first) / thick(limit)) / math.log(thick(first) / thick(then)), abs=0.5)
    assert edge("dew-edge", "relative-humidity", 70, "air-temperature", 18, "dew-point") == pytest.approx(dew(18, 70), abs=0.5)
    assert edge("dew-edge", "relative-humidity", 65, "air-temperature", 13, "lowest-surface") == pytest.approx(dew(13, 65) + 5, abs=0.5)
    longer = float(catalogue["drying-stretch"].column({"air-temperature": 12.0, "relative-humidity": 70.0}))
    assert edge("drying-edge", "relative-humidity", 70, "air-temperature", 12, "coat-wait") == pytest.approx(tin.recoat_after.to("h") * longer, abs=0.5)
    assert edge("film-edge", "dry-film", 30, "thinner", 5, "wet-film") == pytest.approx(30 * 1.05 / (tin.volume_solids.to("%") / 100), abs=1)
    assert edge("speed-edge", "wet-film", 90, "stroke-spacing", 150, "gun-speed") == pytest.approx(rig.flow.to("mL/min") / 60e6 * rig.transfer_efficiency.to("%") / 100 / (90e-6 * 0.15), abs=0.01)
    for warm, answer, share, side in ((28, "pot-life", 1, "mix-0"), (18, "clean-by", 0.75, "mix-1")):
        read = float(seen(rules["life-edge"][answer], np.array(at(rules["life-edge"][side], warm))))
        short = (2.5 if warm > 23 else 1.5) ** ((23 - warm) / 10) * 10 ** -0.07  # a litre, and the short end of what is known
        assert read == pytest.approx(share * epoxy.two_pack.pot_life.to("h") * 60 * short, abs=5)


def test_what_the_card_lacks_stands_in_the_handbook(facts):
    for asked, page in ELSEWHERE:
        assert (facts.root / "handbook" / f"{page}.md").is_file(), asked
