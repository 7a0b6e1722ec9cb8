"""The card read back: its lines, limits and sides worked from the files of paints and kits as they are written; its composing watched with a press of paper that only counts.

Nothing of `generators` works an expected value. Sources stand beside each check; the card's own layout (what goes on which side, how much white is left) is a choice, no source.
"""

from __future__ import annotations

import dataclasses
import io
import math
import re
from datetime import UTC, datetime

import psychrolib
import pytest
from by_hand import COATINGS, CUPS, KITS, TIMED, family, limit, number, over_dew, written
from pypdf import PdfReader

from generators.basis import Basis
from generators.facts.doubts import Doubt
from generators.pages import card as composed
from generators.pages import card_words
from generators.pages.card import Wanted, card_data, card_json, card_of, card_pdf
from generators.pages.card_figures import Cell
from generators.quantity import Quantity

psychrolib.SetUnitSystem(psychrolib.SI)
KIT, WATER, TWO_PACK = "two-stage-tote", "plover-wall-matt", "keel-two-pack-epoxy"
STOPS = written("stops.yaml")


def other(facts, slug, **changes):
    """The facts with one paint's figures changed, as a crew's own file would say them."""
    return dataclasses.replace(facts, coatings={**facts.coatings, slug: facts.coatings[slug].model_copy(update=changes)})


# The line under a paint


def pot_minutes(slug, heat, litres):
    """Short end of a pot life, to five minutes down: 2.5 times as fast for each ten degrees over the sheet's, 1.5 times as slow under it, a pot's volume to the power 0.07 over the sheet's sample
    (from memory)."""
    over = heat - limit("sheet_temperature")
    minutes = 60 * number(COATINGS[slug]["two_pack"]["pot_life"]) * (2.5 if over > 0 else 1.5) ** (-over / 10) * (litres / limit("sheet_sample")) ** -0.07
    return int(minutes / 5) * 5


def line_by_hand(slug, system, letter):
    """Air and surface each to its safe side, in whole degrees (Fahrenheit by its definition); what burns is what is thinned with solvent."""
    tin, us = COATINGS[slug], system == "us"
    shown = (lambda heat: heat * 1.8 + 32) if us else (lambda heat: heat)
    low, high, over = math.ceil(shown(number(tin["air_min"])) - 1e-9), math.floor(shown(number(tin["air_max"])) + 1e-9), math.ceil(over_dew(slug) * (1.8 if us else 1) - 1e-9)
    unit = "°F" if us else "°C"
    words = f"Air {low} to {high} {unit}, to {number(tin['humidity_max']):g} %. Surface from {low} {unit}, {over} over dew."
    if "two_pack" in tin:
        lives = [(warm, pot_minutes(slug, (warm - 32) / 1.8 if us else warm, 0.946352946 if us else 1.0)) for warm in ((70, 85) if us else (20, 30))]
        words += f" Pot life, {'1 qt' if us else '1 L'}: " + ", ".join(f"{life // 60}:{life % 60:02d} h at {warm} {unit}" for warm, life in lives) + "."
    return words + f" Mask {letter}." + (" BURNS: no flame, no phone." if family(slug) in ("solvent", "oil", "two-pack") else "")


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("slug", TIMED)
def test_the_line_of_every_paint(facts_in, catalogue, system, slug):
    """Would notice: a limit rounded to the loose side, a pot life at another warmth or in another pot, told longer than it is, a solvent paint that does not burn."""
    facts = facts_in("us" if system == "us" else None)
    assert card_words.line(card_of(facts, catalogue, KIT, [slug]), slug) == line_by_hand(slug, system, "A")


def test_limits_between_two_degrees_and_over_the_dew_point(facts_in, catalogue):
    """8.3 °C is 46.94 °F, 28.7 °C is 83.66 °F: coldest up, warmest down. 5 °C over the dew point are 9 °F, 3 are 5.4, so 6; 11 are 19.8, so 20."""
    limits = {"air_min": Quantity.exact(8.3, "°C"), "air_max": Quantity.exact(28.7, "°C")}
    facts = other(facts_in("us"), WATER, **limits)
    assert card_words.line(card_of(facts, catalogue, KIT, [WATER]), WATER).startswith("Air 47 to 83 °F, to 80 %. Surface from 47 °F, 9 over dew.")
    assert "6 over dew" in line_by_hand("anchor-alkyd-gloss", "us", "A") and "20 over dew" in line_by_hand("knotty-shellac-primer", "us", "A")


def test_a_letter_for_each_way_to_breathe(facts, catalogue):
    """The paints of one mask share a letter, in the order in which they come. Would notice: a letter of another paint's mask."""
    slugs = [WATER, "gannet-trim-satin", TWO_PACK, "anchor-alkyd-gloss", "knotty-shellac-primer"]
    card = card_of(facts, catalogue, KIT, slugs)
    said = [facts.breathing(facts.protection[facts.coatings[slug].class_key]) for slug in slugs]
    order = list(dict.fromkeys(said))
    assert card_words.masks(card) == {"ABCDE"[place]: words for place, words in enumerate(order)} and len(order) == 4
    for slug, words in zip(slugs, said, strict=True):
        assert f"Mask {'ABCDE'[order.index(words)]}." in card_words.line(card, slug)
    unknown = dataclasses.replace(facts, protection={})
    assert card_words.masks(card_of(unknown, catalogue, KIT, slugs)) == {"A": "The safety data sheet, section 8."}


# The limit


def thick(cup, seconds):
    """mm²/s of a cup's own line: Ford 3 and 4 (ASTM D1200), Zahn 2 (ASTM D4212), ISO 4 mm (ISO 2431); from memory but for Zahn's."""
    return {"ford-4": 3.85 * (seconds - 4.49), "ford-3": 2.31 * (seconds - 6.58), "zahn-2": 3.5 * (seconds - 14), "iso-4": 1.37 * seconds - 200 / seconds}[cup]


@pytest.mark.parametrize("cup", ["ford-3", "zahn-2", "iso-4"])
@pytest.mark.parametrize("seconds", [24, 26, 28])
def test_a_limit_in_another_cup_is_the_last_whole_second_that_still_sprays(facts, catalogue, cup, seconds):
    """Second by second in the other cup, while its liquid is no thicker than the kit's limit. Would notice: a second too many, even seconds only."""
    kit = facts.kits[KIT].model_copy(update={"limit": dataclasses.replace(facts.kits[KIT].limit, low=seconds, likely=seconds, high=seconds, text=f"{seconds} s in ford-4")})
    there = dataclasses.replace(facts, kits={**facts.kits, KIT: kit})
    last = max(one for one in range(15, 120) if thick(cup, one) <= thick("ford-4", seconds))
    told = card_words.BLOCKS["limit"](card_of(there, catalogue, KIT, [WATER], cup))
    assert told == {"k": "limit", "big": f"{last} s", "words": f"or less in {CUPS[cup]['label']} ({seconds} s in {CUPS['ford-4']['label']}), and it sprays"}


def test_a_limit_in_its_own_cup_and_in_one_that_is_too_coarse(facts, catalogue):
    for kit, rig in KITS.items():
        seconds, cup = number(rig["limit"]), rig["limit"].split(" in ")[1]
        assert card_words.BLOCKS["limit"](card_of(facts, catalogue, kit, [WATER])) == {"k": "limit", "big": f"{seconds:g} s", "words": f"or less in {CUPS[cup]['label']}, and it sprays"}
    for cup in ("ford-5", "zahn-3"):  # so thin a liquid runs through them too fast to be timed (both standards' spans)
        with pytest.raises(ValueError, match="ford-4"):
            card_words.BLOCKS["limit"](card_of(facts, catalogue, KIT, [WATER], cup))


# No dose


@pytest.mark.parametrize(("verdict", "because", "told"), [
    ("stop", "Not with this kit: it needs 12 % thinner.", ("Not with this kit", "It needs 12 % thinner. Warm it, or the other kit.")),
    ("stop", "it gels.", ("No dose", "It gels. Warm it, or the other kit.")), ("stop", "Stop: of two: the first", ("Stop: of two", "The first Warm it, or the other kit.")),
    ("go", "Not asked: fine.", ("", "")), ("care", "Perhaps: not.", ("", "")), ("unknown", "Who: knows.", ("", ""))])
def test_what_stands_over_a_paint_without_a_dose(verdict, because, told):
    """Only a stop bars the figures; unknown has its own mark. Would notice: a reason for a paint that may be sprayed, none for one that may not."""
    cell = Cell("front", "paints", "Invented", "mL in 1 L", "–", "pot", {"verdict": verdict, "because": because})
    assert card_words.verdict_line([cell]) == told


# Where the figures come from, whom to call, what is doubtful


def from_where(facts, catalogue, kit=None, **paints):
    """The words of a card whose kit, and paints by name, are of another basis."""
    there = dataclasses.replace(facts, kits={**facts.kits, KIT: facts.kits[KIT].model_copy(update={"basis": kit})} if kit else facts.kits,
                                coatings={**facts.coatings, **{slug.replace("_", "-"): facts.coatings[slug.replace("_", "-")].model_copy(update={"basis": basis}) for slug, basis in paints.items()}})
    return card_words.data_words(card_of(there, catalogue, KIT, [slug.replace("_", "-") for slug in paints]))


def test_what_is_invented_is_named(facts, catalogue):
    """All of it, some of it by name, none of it. Would notice: an invented paint among measured ones that nobody names, a measured one called invented."""
    bare = Basis.INVENTED
    assert from_where(facts, catalogue, bare, plover_wall_matt=bare, keel_two_pack_epoxy=bare) == "Demonstration data, invented: your own data sheets come first."
    assert from_where(facts, catalogue, Basis.MEASURED, plover_wall_matt=bare, keel_two_pack_epoxy=Basis.PUBLISHED) == (
        "Invented: Plover Wall Matt. Worked from: invented, measured, published. The data sheet in your hand comes first.")
    assert from_where(facts, catalogue, bare, plover_wall_matt=bare, keel_two_pack_epoxy=Basis.MEASURED) == (
        "Invented: Two-stage tote, Plover Wall Matt. Worked from: invented, measured. The data sheet in your hand comes first.")
    assert from_where(facts, catalogue, Basis.MEASURED, plover_wall_matt=Basis.MEASURED) == "Worked from: measured. The data sheet in your hand comes first."


@pytest.mark.parametrize(("where", "hours", "told"), [("", "day and night", "5550 111"), ("in the islands", "day and night, all year", "5550 111 (in the islands)"),
                                                      ("", "8 to 18", "5550 111 (8 to 18)"),
                                                      ("in the islands", "8 to 18", "5550 111 (in the islands, 8 to 18)"), (None, "8 to 18", "5550 111 (8 to 18)")])
def test_each_number_has_its_place_and_hours(facts, where, hours, told):
    """An invented number, for both; where a region has none, lines for a pen. Would notice: a number told without the hours at which nobody answers."""
    region = facts.regions[facts.handbook.region]
    for kind in ("emergency", "poison"):
        known = getattr(region.phones, kind)[0].model_copy(update={"call": "5550 111", "where": where, "hours": hours})
        changed = region.model_copy(update={"phones": region.phones.model_copy(update={kind: [known]})})
        assert f"{kind.capitalize()} {told}." in card_words.phones(dataclasses.replace(facts, regions={**facts.regions, facts.handbook.region: changed}))
    silent = region.model_copy(update={"phones": None})
    assert card_words.phones(dataclasses.replace(facts, regions={**facts.regions, facts.handbook.region: silent})) == "Emergency ________  Poison ________"


def test_a_doubt_is_named_on_the_card_that_it_touches(facts, catalogue):
    """A kit's on its own card, a paint's where it stands, the handbook's on all. Would notice: another kit's doubt, one of a paint that is not on the card."""
    def told(*doubts):
        return card_words.doubts(card_of(dataclasses.replace(facts, doubts=doubts), catalogue, KIT, [WATER]))

    def doubt(fact, entry, field):
        return Doubt("site_data/invented.yaml", 1, "something else", "this", "weigh it again", fact, entry, field)

    assert told() == "" and told(doubt("kits", "five-stage-trolley", "flow")) == "" and told(doubt("coatings", TWO_PACK, "recoat_after")) == ""
    assert told(doubt("kits", KIT, "flow")) == "DOUBTFUL figures, not signed off: Two-stage tote; see their pages. "
    assert told(doubt("coatings", WATER, "recoat_after"), doubt("kits", KIT, "flow")) == "DOUBTFUL figures, not signed off: Plover Wall Matt, Two-stage tote; see their pages. "
    assert told(doubt("limits", "margin", "value")) == "DOUBTFUL figures, not signed off: this handbook's limits or law; see their pages. "


# Sides


def test_what_each_side_says(facts, catalogue):
    """Fronts are even, backs odd, however many there are: kit and crew and the stop for isocyanates in front; the stops for lead and asbestos and the code behind. All say whom to call."""
    card = card_of(facts, catalogue, KIT, [WATER])
    for place in range(6):
        side, back = card_words.side_data(card, ["steps", {"k": "made", "words": "before"}, "notes"], place), place in (1, 3, 5)
        assert side["band"] == ("Air, gun, something wrong" if back else "Two-stage tote") and side["aside"] == ("Two-stage tote" if back else facts.handbook.crew) and side["qr"] is back, place
        titles = [STOPS["lead"]["title"], STOPS["asbestos"]["title"]] if back else [STOPS["isocyanates"]["title"]]
        assert side["stop"] == ". ".join(titles) + ". Safety data sheet, law and a competent person decide.", place
        assert [block["k"] for block in side["blocks"]] == ["steps", "made", "notes"] and side["phones"] == card_words.phones(facts)
        assert side["foot"] == f"{facts.handbook.title}. Revision {facts.handbook.revision}, {facts.handbook.date}, UK. Demonstration data, invented: your own data sheets come first."


# Millimetres: A5 and A4 of ISO 216, letter of ANSI/ASME Y14.1 (8½ × 11 in); type grows by 1.36 on the larger two, white at sides, top and foot by as much: a choice, no source.
@pytest.mark.parametrize(("size", "wide", "high", "grown"), [("a5", 148, 210, 1.0), ("a4", 210, 297, 1.36), ("letter", 8.5 * 25.4, 11 * 25.4, 1.36)])
@pytest.mark.parametrize("count", [1, 2, 3, 4, 5])
def test_a_card_by_itself_and_how_much_of_it_a_chart_may_fill(facts, catalogue, monkeypatch, size, wide, high, grown, count):
    """Charts fill the paper between the two white sides; where their number is odd, the last back holds what goes wrong. Would notice: a chart over the edge, a front without a back."""
    asked = []

    def drawn(card, across, scale):
        asked.append((across, scale))
        return [{"k": "chart", "title": f"chart {place}"} for place in range(count)]

    monkeypatch.setattr(composed, "charts_of", drawn)
    card = card_of(facts, catalogue, KIT, [WATER])
    data = card_data(card, Wanted(size, charts=True))
    assert (data["width"], data["height"], data["scale"], data["sheet"]) == (pytest.approx(wide), pytest.approx(high), grown, [])
    assert data["inset"] == pytest.approx([7 * grown, 6 * grown, 5 * grown])
    assert [(across + 7 * grown + 7 * grown, scale) for across, scale in asked] == [(pytest.approx(wide), grown)]
    told = [side["blocks"][0] for side in data["sides"]]
    assert [block.get("title") for block in told[:count]] == [f"chart {place}" for place in range(count)]
    assert len(told) == 2 * math.ceil(count / 2) and [block["k"] for block in told[count:]] == ["faults"] * (count % 2)
    assert data["address"].endswith("/charts.html")


@pytest.mark.parametrize(("sheet", "wide", "high"), [("a4", 297, 210), ("letter", 11 * 25.4, 8.5 * 25.4)])
def test_two_cards_side_by_side_on_a_sheet(facts, catalogue, sheet, wide, high):
    """A sheet lies on its side and two cards and three strips for the marks fill it. Would notice: a card as large as the sheet, a size of three figures."""
    data = card_data(card_of(facts, catalogue, KIT, [WATER]), Wanted(sheet=sheet), 0.9)
    assert data["sheet"] == [pytest.approx(wide), pytest.approx(high)] and data["scale"] == 0.9 and data["inset"] == [6, 6, 6]
    assert 0 < wide - 2 * data["width"] < 25 and 0 < high - data["height"] < 15 and data["height"] > data["width"] > 130
    assert len(data["sides"]) == 2 and data["address"].endswith(f"/kits/{KIT}.html")


def test_a_crews_colour_is_its_own(facts, catalogue):
    """Black where a crew named none. Would notice: a card that goes black for a crew with a colour."""
    for colour, told in (("#1a5e63", "#1a5e63"), ("", "#000000"), (None, "#000000")):
        there = dataclasses.replace(facts, handbook=facts.handbook.model_copy(update={"look_colour": colour}))
        assert card_data(card_of(there, catalogue, KIT, [WATER]), Wanted(front=("notes",), back=("notes",)))["band"] == told, colour


def test_charts_are_drawn_to_the_width_that_is_left(facts, catalogue, monkeypatch):
    """As wide on the paper as the room that is given, once it is enlarged; one for the kit's grid, one for its speed, and one of each kind for each paint. Would notice: a chart enlarged twice, the
    charts of a kit for every paint."""
    asked = []

    def builder(name, per):
        def build(_book, thing, **more):
            asked.append((name, thing, more))

        build.per = per
        return build

    kinds = {"thinner-grid": "kit", "speed-edge": "kit", "drying-edge": "coating", "pot-edge": "coating"}
    monkeypatch.setattr(card_words.tables, "EDGES", {name: builder(name, per) for name, per in kinds.items()})
    card = card_of(facts, catalogue, KIT, [WATER, TWO_PACK])
    assert card_words.charts_of(card, 136.0, 0.85) == []  # none is a chart: all read too coarse
    assert [(name, thing) for name, thing, _ in asked] == [("thinner-grid", KIT), ("speed-edge", KIT), ("drying-edge", WATER), ("pot-edge", WATER), ("drying-edge", TWO_PACK), ("pot-edge", TWO_PACK)]
    assert asked[0][2]["wide"] * 0.85 == pytest.approx(136.0) and asked[0][2]["coatings"] == (WATER, TWO_PACK) and all(not more for _, _, more in asked[1:])


# Composing, with a press that only counts


class Press:
    """A page for each side, and one more for each side whose paints, in its size of type, are more than `room`."""

    def __init__(self, room):
        self.room, self.tried = room, []

    def __call__(self, cards, addresses, made):
        assert made == datetime(2026, 11, 25, tzinfo=UTC) and addresses == [card["address"] for card in cards]
        paints = [[row["head"] for side in card["sides"] for block in side["blocks"] if block["k"] == "paints" for row in block["rows"]] for card in cards]
        need = [len(names) * card["scale"] if names else card["scale"] for names, card in zip(paints, cards, strict=True)]
        self.tried.append((paints, [card["scale"] for card in cards], [card["sheet"] for card in cards]))
        pages = sum(len(card["sides"]) + (more > self.room + 1e-9) for card, more in zip(cards, need, strict=True))
        return b"/Type /Pages" + b"/Type /Page " * (pages // 2) + b"/Type/Page " * (pages - pages // 2)


def pressed(monkeypatch, room):
    press = Press(room)
    monkeypatch.setattr(composed, "typeset", press)
    monkeypatch.setattr(composed, "charts_of", lambda card, _across, _scale: [{"k": "chart", "title": slug} for slug in card.paints])
    return press


SIX = [COATINGS[slug]["name"] for slug in TIMED[:6]]


@pytest.mark.parametrize("room", [6, 5, 3])
def test_where_nobody_chose_as_many_paints_as_fit(facts, catalogue, monkeypatch, room):
    """The first six that may be thinned, then one less, and again, in type of one size. Would notice: two dropped at once, smaller type for one paint more, a card of none."""
    press = pressed(monkeypatch, room)
    assert b"/Page" in card_pdf(facts, catalogue, KIT, wanted=Wanted(front=("paints",), back=("notes",)))
    assert [paints for paints, _, _ in press.tried] == [[SIX[:count]] for count in range(6, room - 1, -1)] and {scale for _, scales, _ in press.tried for scale in scales} == {1.0}
    press = pressed(monkeypatch, 0.5)
    with pytest.raises(ValueError, match="fit"):
        card_pdf(facts, catalogue, KIT, wanted=Wanted(front=("notes",), back=("notes",)))
    assert len(press.tried) == 6


def test_what_somebody_chose_is_set_whole_or_refused(facts, catalogue, monkeypatch):
    """Would notice: a chosen paint that is left out, other paints than those chosen."""
    chosen = [WATER, TWO_PACK, "tern-clear-satin"]
    for given in ({"chosen": chosen}, {"wanted": Wanted(coatings=tuple(chosen), back=("notes",))}):
        press = pressed(monkeypatch, 3)
        card_pdf(facts, catalogue, [KIT, "five-stage-trolley"], **given)
        names = [COATINGS[slug]["name"] for slug in chosen]
        assert press.tried == [([names, names], [1.0, 1.0], [[], []])]
        press = pressed(monkeypatch, 2)
        with pytest.raises(ValueError, match="3 coatings"):
            card_pdf(facts, catalogue, KIT, **given)
        assert len(press.tried) == 1


def test_a_size_that_is_asked_for_is_the_size(facts, catalogue, monkeypatch):
    press = pressed(monkeypatch, 9)
    card_pdf(facts, catalogue, KIT, "a4", [WATER])
    card_pdf(facts, catalogue, KIT, "a5", [WATER], Wanted("letter", (TWO_PACK,), back=("notes",)))  # what is composed says it all
    assert [(paints, scales) for paints, scales, _ in press.tried] == [([[COATINGS[WATER]["name"]]], [1.36]), ([[COATINGS[TWO_PACK]["name"]]], [1.36])]


def test_a_sheet_is_set_once_its_cards_fit_by_themselves(facts, catalogue, monkeypatch):
    """First each side on a page of its own. Would notice: a sheet that hides words that run over."""
    press = pressed(monkeypatch, 5)
    card_pdf(facts, catalogue, KIT, wanted=Wanted(sheet="a4", front=("paints",), back=("notes",)))
    assert [(len(paints[0]), sheets) for paints, _, sheets in press.tried] == [(6, [[]]), (5, [[]]), (5, [[297, 210]])]


@pytest.mark.parametrize(("room", "sizes"), [(1.0, [1.0]), (0.95, [1.0, 0.95]), (0.86, [1.0, 0.95, 0.9, 0.85]), (0.85, [1.0, 0.95, 0.9, 0.85]), (0.8, None)])
@pytest.mark.parametrize("chosen", [(), (WATER,), (WATER, TWO_PACK)])
def test_a_card_of_charts_may_be_set_a_little_smaller(facts, catalogue, monkeypatch, room, sizes, chosen):
    """Down to 0.85 and no further (words stay over 8 pt: a choice, no source), on a sheet, where type may shrink; where nobody chose, one paint's. Would notice: charts of two paints that nobody
    asked for, a size that is never tried."""
    press = pressed(monkeypatch, room)
    wanted = Wanted(charts=True, sheet="a4", coatings=chosen)
    if sizes is None:
        with pytest.raises(ValueError, match="fit"):
            card_pdf(facts, catalogue, KIT, wanted=wanted)
        assert [scales for _, scales, _ in press.tried] == [[one] for one in (1.0, 0.95, 0.9, 0.85)]
        return
    told = []
    monkeypatch.setattr(composed, "charts_of", lambda card, _across, _scale: told.append(card.paints) or [{"k": "chart", "title": "one"}, {"k": "chart", "title": "two"}])
    card_pdf(facts, catalogue, KIT, wanted=wanted)
    assert [scales for _, scales, _ in press.tried] == [[one] for one in (*sizes, sizes[-1])] and {*told} == {chosen or (TIMED[0],)}


# Which card


def test_which_paints_and_which_cup(facts, catalogue):
    """Up to six; the kit's own cup where none is named. Would notice: seven, an unknown cup, a choice that nobody listens to, a paint with a hard stop that is let through."""
    card = card_of(facts, catalogue, KIT)
    assert (card.paints, card.cup) == (tuple(TIMED[:6]), KITS[KIT]["limit"].split(" in ")[1])
    card = card_of(facts, catalogue, KIT, TIMED[2:8], "iso-4")
    assert (card.paints, card.cup) == (tuple(TIMED[2:8]), "iso-4")
    stopped = next(slug for slug, tin in COATINGS.items() if "stops" in tin)
    for chosen, cup, words in ((TIMED[:7], "", "came 7"), ([WATER], "mug", "mug"), ([stopped], "", "STOP"), ([WATER, "nothing-such"], "", "nothing-such"), (["heron-opaque-stain"], "", "two timings")):
        with pytest.raises(ValueError, match=words):
            card_of(facts, catalogue, KIT, chosen, cup)


# Figures, read back from the finished card


@pytest.fixture(scope="module")
def back(facts_in, catalogue):
    """Lines of the back of a card of one water paint."""
    reader = PdfReader(io.BytesIO(card_pdf(facts_in(None), catalogue, KIT, chosen=[WATER])))
    return [" ".join(line.split()) for line in reader.pages[1].extract_text().splitlines()]


def test_the_coldest_surface_on_paper(back):
    """Dew point by psychrolib and what a water paint needs over it, never under the sheet's coldest; each figure is no lower, and not a degree higher. Stop where the surface, as warm as the air or
    colder, cannot be that warm. Would notice: a margin left out, a figure rounded down, a row of another air."""
    rows = [re.fullmatch(r"(\d+) °C ((?:[\d.]+[*×?]? ?){6})", line) for line in back]
    told = {int(row[1]): re.findall(r"([\d.]+)([*×?]?)", row[2]) for row in rows if row}
    assert sorted(told) == [8, 10, 15, 20, 25, 30]
    for air, cells in told.items():
        for damp, (text, mark) in zip((50, 60, 70, 75, 80, 85), cells, strict=True):
            least = max(number(COATINGS[WATER]["air_min"]), psychrolib.GetTDewPointFromRelHum(air, damp / 100) + over_dew(WATER))
            assert least - 0.25 <= float(text) < least + 1.0, (air, damp, text, least)
            assert (mark == "×") == (float(text) > air), (air, damp, text, mark)


def test_the_fan_on_paper(back):
    """A triangle of the kit's angle (geometry), to 5 mm; a step of half a fan that tapers is level. Out of the kit's reach is marked. Would notice: the whole angle for the half."""
    told = [re.fullmatch(r"(\d+) mm (\d+)([*×?]?) (\d+)([*×?]?) (\d+)([*×?]?)", line) for line in back]
    rows = [row for row in told if row]
    assert [int(row[1]) for row in rows] == [100, 125, 150, 175, 200, 225, 250]
    for row in rows:
        wide = 2 * int(row[1]) * math.tan(math.radians(number(KITS[KIT]["fan_angle"]) / 2))
        assert abs(int(row[2]) - wide) <= 2.5 + 1e-9 and wide / 2 - 5 <= int(row[4]) <= wide / 2 + 1e-9 and row[6] == "100"
        assert (row[3] == "*") == (not number(KITS[KIT]["near"]) <= int(row[1]) <= number(KITS[KIT]["far"]))


def test_data_of_a_card_are_its_figures_and_its_lines(facts, catalogue):
    """Five figures for each paint, 36 of the surface, 21 of the strokes, a line for each paint. Would notice: a table that is not told, a line of another paint."""
    told = card_json(facts, catalogue, [KIT, "five-stage-trolley"], [WATER, TWO_PACK])
    for kit in (KIT, "five-stage-trolley"):
        mine = [cell for cell in told if cell["kit"] == kit]
        assert [sum(cell["table"] == table and "answer" in cell for cell in mine) for table in ("paints", "surface", "strokes")] == [10, 36, 21]
        words = {cell["row"]: cell["text"] for cell in mine if "answer" not in cell}
        for slug, letter in ((WATER, "A"), (TWO_PACK, "B")):
            assert words[COATINGS[slug]["name"]].endswith(line_by_hand(slug, "metric", letter)), slug
