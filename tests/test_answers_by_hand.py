"""What stands round the walk of the chain, by hand: what an answer says and leaves out, what a phone is told, what the last pots are said to show, and facts with a spread of their own.

Figures are worked here from files read as text or from numbers made up beside the check; `generators` is looked at.
"""

from __future__ import annotations

import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest
from by_hand import CLASSES, COATINGS, rows_of
from conftest import read_in
from test_chain import day, sit
from test_chain_by_hand import FAIR, clock, until_of

from generators.chain import answers, described, jobs, last, own, studied, tell
from generators.chain.day import Day
from generators.chain.links import Pick
from generators.chain.today import chain
from generators.chain.walk import bounded
from generators.formula import Formula, Symbol
from generators.quantity import Quantity
from generators.verdict.held import number, text

ROOM = f"{FAIR} place=room now=10:30 air-temperature=18 relative-humidity=50 surface-temperature=18"


def answered(name, words, **tin):
    """One answer of a day, where the paint's file may say something else."""
    facts = day().facts
    slug = "gannet-trim-satin"
    other = Day(dataclasses.replace(facts, coatings={**facts.coatings, slug: facts.coatings[slug].model_copy(update=tin)}), day().formulas) if tin else day()
    return answers.ask(other, sit(words), name)


# What an answer says


@pytest.mark.parametrize("humidity,verdict,there", [(79, "care", True), (83, "stop", False)])
def test_a_stop_takes_its_figure_away_and_a_doubt_does_not(humidity, verdict, there):
    """Its sheet allows 80 %: at 79 a usual hygrometer (3 % off) hides whether it is past that, and the hours are told with care; at 83 there are none."""
    told = answered("coat-wait", f"{FAIR} place=room now=10:30 air-temperature=25 surface-temperature=25 relative-humidity={humidity}")
    assert ("value" in told) == there and told["verdict"] == verdict


def test_a_stop_of_another_kind_leaves_the_figure():
    """A surface of 12 °C in air whose dew point is 12 °C: stop, and how far it is over it is still said."""
    told = answered("margin", f"{FAIR} place=room now=10:30 instruments=exact air-temperature=20 surface-temperature=12 relative-humidity=60")
    assert told["verdict"] == "stop" and told["value"] == pytest.approx(0, abs=0.1)  # dew point of 20 °C and 60 %: 12.0 °C, by any table


def test_what_else_speaks_is_told_after_the_first():
    """One reason: nothing more. Two: the second. Three: the second and the third, each once."""
    cold = [f"{FAIR} place=room now=10:30 instruments=exact relative-humidity={humid} air-temperature={air} surface-temperature={surface}"
            for air, surface, humid in ((27, 29, 81), (4, 18, 50), (4, 4, 50), (4, 4, 83))]
    said = [answered("spray", words) for words in cold]
    assert said[0]["because"] == "Humidity is 81 %; the data sheet allows 80 %." and "also" not in said[0], said[0]
    both = said[2]
    wanted = ["The surface is at 4 °C; the data sheet wants 8 °C or more.", "The air is at 4 °C; the data sheet wants 8 °C or more."]
    assert [both["because"], *both["also"]][:2] == wanted and both["remedy"].startswith("Wait until the surface is warm")
    three = [said[3]["because"], *said[3]["also"]]
    assert set(three) > {*wanted, "Humidity is 83 %; the data sheet allows 80 %."} and len(three) == len(set(three))
    assert said[1]["because"] == wanted[1]


def test_two_reasons_are_one_because_and_one_more():
    """Somebody in the mist's way, and a flame beside a water paint."""
    told = answered("spray", ROOM.replace("people-out=yes", "people-out=no").replace("flames-out=yes", "flames-out=no"))
    assert told["because"].startswith("STOP. Somebody without a mask") and len(told["also"]) == 1 and told["also"][0].startswith("A flame, pilot or heater is near")


@pytest.mark.parametrize("outcome,word", [("sound", "spray"), ("unsure", "spray with care")])
def test_may_i_spray_is_said_in_words(outcome, word):
    said = ROOM if outcome == "sound" else f"{ROOM.replace('old-finish=none', 'old-finish=not-sure')} lead=no"
    told = answered("spray", f"{said} building-year=2005")
    assert (told["value"], told["verdict"]) == (word, "go" if outcome == "sound" else "care")


def test_a_figure_that_nobody_can_work_is_not_known_though_its_verdict_is_go():
    """Litres without an area: the area is asked for, before what the verdict says. A one-pack has no weights of two parts, and nothing is missing: it stays go. A stop stays a stop."""
    timed = f"{ROOM} cup-time=62 dose=5%:45s pot-litres=0.8"
    told = answered("litres", timed)
    assert told["verdict"] == "unknown" and told["because"] == "Not known: area." and told["remedy"] and "value" not in told
    assert answered("litres", f"{timed} area=12")["verdict"] in ("go", "care")
    whole = answered("base-weight", timed)
    assert whole["verdict"] == "go" and "value" not in whole and whole["because"].startswith("No stop is known")
    stopped = answered("litres", timed.replace("45s", "60s"))  # a dose that hardly thinned it: this kit cannot spray it
    assert stopped["verdict"] == "stop" and stopped["because"].startswith("Not with this kit") and not any("area" in one for one in stopped["also"])


def test_a_figure_that_its_formula_refuses_says_so_in_the_formulas_words():
    """A dose that made it hardly thinner: the band is too wide to say anything, which stands before what the verdict says."""
    told = answered("in-all-band", f"{ROOM} cup-time=62 dose=5%:60s pot-litres=0.8")
    assert told["verdict"] == "unknown" and told["because"] == "No answer: too wide to say anything: pour the safe part, and time again." and told["remedy"] == "Look at the readings."


def test_a_reason_names_words_as_they_are_and_what_nobody_knows_as_that():
    """A place, a word that nobody said, a figure, and a name that is none of the chain's."""
    out = SimpleNamespace(held={"place": text("room"), "comb": text(None), "depth": number(2.5), "lost": number(np.nan), "wide": number(np.array([[1.0, 2.0], [3.0, 4.0]]))})
    units = {"depth": "mm", "wide": "%"}
    assert answers.filled("In a {place}, {comb}, {depth}, {lost}, {nothing}.", out, units, "metric") == "In a room, not known, 2.5 mm, not known, {nothing}."
    assert answers.filled("{wide} of {depth}", out, units, "metric", (1, 0)) == "3 % of 2.5 mm"


def test_a_readings_hours_are_the_likely_ones_of_their_limit():
    """Made up: three to five hours in a closed room, likely four. Read at ten, it is good until two."""
    facts = day().facts
    wide = Day(dataclasses.replace(facts, limits={**facts.limits, "reading_hours_room": Quantity(3.0, 4.0, 5.0, "h")}), day().formulas)
    one = sit(f"{FAIR} place=room now=10:30 air-temperature=18@10:00 relative-humidity=50@10:10 surface-temperature=18@10:20")
    assert answers.ask(wide, one, "spray")["until"][-5:] == clock(14 * 60)
    assert until_of(f"{FAIR} place=room now=10:30 air-temperature=18@10:00 relative-humidity=50@10:10 surface-temperature=18@10:20") == "14:00"


def test_an_answer_rests_on_the_law_that_was_chosen():
    """Two timings go through three laws of thinning, one timing of a paint nobody measured through none of them: the sources say so."""
    two = answered("thinner-in-all", f"{ROOM} cup-time=62 dose=5%:45s pot-litres=0.8")["sources"]
    one = answered("thinner-in-all", f"{ROOM} dose=5%:45s pot-litres=0.8")["sources"]
    assert {"krieger-1959", "arrhenius-1887"} <= set(two) and "krieger-1959" not in one


@pytest.mark.parametrize("spread,verdict", [((20.0, 25.0, 28.0), "go"), ((20.0, 25.0, 200.0), "stop"), ((190.0, 195.0, 200.0), "stop")])
def test_a_paint_that_may_be_over_the_law_by_its_spread_alone_is_not_allowed(spread, verdict):
    """A limit of 130 g/L (the UK's for trim, from its file): all of the sheet's own range has to be under it."""
    row = next(one for one in rows_of("law/voc.csv") if one["region"] == "uk" and one["key"] == f"{COATINGS['gannet-trim-satin']['voc_category']}|wb")
    assert (spread[2] <= float(row["figure"])) == (verdict == "go")
    told = answered("allowed", ROOM, voc=Quantity(*spread, "g/L"))
    assert (told["verdict"], told["value"]) == (verdict, {"go": "yes", "stop": "no"}[verdict])


# Columns, and ends of facts


def test_each_cell_of_a_column_has_its_own_reason():
    """A formula that answers between nought and ten, asked of three cells at once and of one alone."""
    formula = Formula("told-back", "Told back", inputs=(Symbol("given", "a", "1", -100, 100, "given", 1),), answer=Symbol("answer", "x", "1", 0, 10, "given"), expression="2*a",
                      origin=day().formulas["share-more"].origin)
    held = bounded(formula, {"given": number(np.array([3.0, 6.0, -2.0]))})
    assert [bool(one) for one in held.why] == [False, True, True] and all("must lie between 0 and 10" in one for one in held.why[1:]) and held.likely[0] == 6.0
    alone = bounded(formula, {"given": number(6.0)})
    assert isinstance(alone.why, str) and "must lie between 0 and 10" in alone.why and bounded(formula, {"given": number(3.0)}).why == ""
    assert isinstance(bounded(formula, {"given": number(np.array([3.0, 4.0]))}).why, str)


def tin_with(slug, region, **changes):
    facts = read_in(region) if region else day().facts
    return {name.partition(".")[2]: one.value for name, one in tell.tin_told(facts, facts.coatings[slug].model_copy(update=changes), region or "uk", slug).items()}


def test_thinner_that_is_likely_water_weighs_as_water():
    """Likely no VOC in it, ten grams at the most: a litre weighs a kilogram. With any likely it weighs what it says."""
    assert tin_with("gannet-trim-satin", "uk", thinner_density=Quantity(0.0, 0.0, 10.0, "g/L"))["thinner_weight"] == (1.0, 1.0, 1.0)
    assert tin_with("gannet-trim-satin", "uk", thinner_density=Quantity(0.0, 790.0, 800.0, "g/L"))["thinner_weight"] == pytest.approx((0.0, 0.79, 0.8))


@pytest.mark.parametrize("region,less_water,counts", [("uk", True, "counts"), ("uk", False, "counts"), ("us", True, "none"), ("us", False, "counts")])
def test_solvent_uses_up_the_laws_room_unless_the_litre_is_counted_without_its_water(region, less_water, counts):
    """The UK counts the litre as it is; where the US file gives the VOC less water, the room for thinner is not known from it."""
    slug = next(slug for slug, tin in COATINGS.items() if tin.get("voc_category") and tin.get("voc_category_us") and CLASSES[tin["class"]]["family"] not in ("waterborne", "mineral")
                and tell.tin_told(read_in("us"), read_in("us").coatings[slug], "us", slug)["coating.voc_rule"].value == "limited")
    told = tin_with(slug, region, voc_less_water=Quantity(300.0, 300.0, 300.0, "g/L") if less_water else None)
    assert (told["voc_rule"], told["voc_room"]) == ("limited", counts)


# What a phone is told


def test_a_phone_is_told_each_answer_with_its_step_and_its_side():
    """Over the dew point: down to half a degree, or to one of Fahrenheit's; what it rests on by name; words are not stretched."""
    plain = described.day_described(day())
    margin = next(one for one in plain["answers"] if one["name"] == "margin")
    assert margin["printed"] == {"metric": ["Δ°C", "down", 0.5, 1.0, 0.0], "us": ["Δ°F", "down", 1, pytest.approx(1.8), 0.0]}
    assert {"air-temperature", "relative-humidity", "surface-temperature"} <= set(margin["rests"]) and margin["rests"] == sorted(margin["rests"])
    worded = [(link, one) for link, one in zip(chain().links, plain["links"], strict=True) if isinstance(link, Pick) and any(name not in day().units for name in link.of)]
    assert worded and all(source == [name, 1.0, 0.0] for link, one in worded for name, source in zip(link.of, one["of"], strict=True) if name not in day().units)
    names = described.formula_names()
    assert "dew-point" in names and "thinner-by-steepness" in names and len(names) == len(set(names))
    assert set(described.formula_names(last.chain())) == {"cup-viscosity", "steepness-seen", "log-apart", "log-squared", "freedom-of", "middle-of", "half-of-few", "more-than-told"}


def test_a_phone_is_told_what_lands_on_each_shape():
    """By the rows of surfaces.csv that a shape stands for; no shape, nothing."""
    lands = {row["name"]: float(row["spray_lands [%]"]) for row in rows_of("surfaces.csv")}
    told = {shape: facts["surface.lands"] for shape, facts in described.day_facts(day())["shapes"].items()}
    assert told[""][0] is None and {shape: told[shape][0][1] if isinstance(told[shape][0], (list, tuple)) else told[shape][0] for shape in ("flat", "panelled", "open")} == {
        "flat": lands["wall"], "panelled": lands["panel-door"], "open": lands["railing"]}


def test_the_tooth_after_each_of_a_comb():
    """Teeth by combs.csv: the next one up from each but the last."""
    teeth = [float(one) for one in next(row for row in rows_of("combs.csv") if row["comb"] == "usual")["teeth [µm]"].split()]
    told = studied.studies(day().facts)
    assert (told["comb"]["axis"], told["comb"]["rows"]["usual"]) == (teeth, teeth)
    assert told["comb-next"]["axis"] == teeth[:len(teeth) - 1] and told["comb-next"]["rows"]["usual"] == teeth[1:]
    assert dict(zip(told["comb-next"]["axis"], told["comb-next"]["rows"]["usual"], strict=True))[25.0] == 50.0


@pytest.mark.parametrize("region", ["uk", "us"])
def test_a_crews_own_paint_is_told_in_the_words_and_with_the_fields_of_the_files(region):
    """Labels of the trade as the region has them; of a two-pack no figure is asked for, since a one-pack has none of them."""
    facts = read_in(region)
    made_up = dataclasses.replace(facts, own_cups={**facts.own_cups, "a-jar-with-a-hole": next(iter(facts.own_cups.values()))})
    plain = own.own_described(Day(made_up, day().formulas))
    assert plain["cups"]["a-jar-with-a-hole"][0] == 0 and plain["cups"]["a-jar-with-a-hole"][1] >= 1e6  # no measured times yet: any number of seconds may be typed
    words = "us_label" if facts.handbook.words == "us" else "label"
    assert {key: one["label"] for key, one in plain["classes"].items()} == {key: kind[words] for key, kind in CLASSES.items()}
    assert any(kind["us_label"] != kind["label"] for kind in CLASSES.values())
    fields = plain["coating"]["fields"]
    assert all(len(row) == 6 for row in fields.values()) and fields["volume_solids"][-1] is True
    for name in ("pot_life", "hardener_density", "induction", "pot_life_at", "pot_life_of"):
        assert fields[name][-1] is False and isinstance(fields[name][4], str), fields[name]


@pytest.mark.parametrize("example,metric,us", [("12 mm", "12 mm", "0.5 in"), ("40 %", "40 %", "40 %"), ("5.2", "5.2", "5.2"), ("2 m", "2 m", "7 ft")])
def test_an_example_of_what_to_type_is_in_the_readers_units(example, metric, us):
    """12 mm is 0.47 in, 2 m are 6.6 ft: to one figure."""
    assert (own._such_as(example, "metric"), own._such_as(example, "us")) == (metric, us)


@pytest.mark.parametrize("row", ["flush-door", "wall", "spindle"])
def test_a_jobs_surface_is_loose_where_its_row_says_so(row):
    facts = day().facts
    thing = next(one for one in facts.surfaces if one.name == row)
    told = next(one for one in rows_of("surfaces.csv") if one["name"] == row)["loose"]
    assert jobs.surface_part(facts, day().formulas, "s", thing, 2, "worn")["loose"] == told
    assert jobs.surface_part(facts, day().formulas, "s", thing.model_copy(update={"loose": None}), 2, "worn")["loose"] == "no"


# The last pots


def pots(count, low, likely, high, told=True):
    """What a walk over so many pots holds."""
    held = {"count": number(float(count)), "told": number(5.0 if told else np.nan), "more-low": number(low), "more": number(likely), "more-high": number(high),
            "half": SimpleNamespace(why="three of one figure"), }
    return SimpleNamespace(held=held)


@pytest.mark.parametrize("count,low,likely,high,said", [
    (0, 1.0, 2.0, 3.0, ""),
    (1, 1.0, 2.0, 3.0, "1 of your pots of X was timed before and after thinner: three are needed to say how it thins."),
    (2, 1.0, 2.0, 3.0, "2 of your pots of X were timed before and after thinner: three are needed to say how it thins."),
    (3, 4.0, 12.52, 21.46, "Your last 3 pots of X took 13 % more thinner than the handbook says (nine chances in ten: 4 to 21 % more)."),
    (4, -21.46, -12.47, -4.0, "Your last 4 pots of X took 12 % less thinner than the handbook says (nine chances in ten: 4 to 21 % less)."),
    (6, -8.0, 2.0, 12.0, "Your last 6 pots of X took as much thinner as the handbook says (nine chances in ten: 8 % less to 12 % more)."),
    (5, -8.0, -4.0, 0.0, "Your last 5 pots of X took as much thinner as the handbook says (nine chances in ten: 8 % less to 0 % more)."),
    (5, 0.0, 4.0, 8.0, "Your last 5 pots of X took as much thinner as the handbook says (nine chances in ten: 0 % more to 8 % more)."),
    (3, np.nan, np.nan, np.nan, "Your last 3 pots of X say nothing yet: three of one figure."),
])
def test_what_the_last_pots_are_said_to_show(count, low, likely, high, said):
    """Three at the least; both ends on one side of nought say a difference, the nearer first; a half goes up. (3 pots with nought at an end say none.)"""
    assert last.said("X", pots(count, low, likely, high)) == said


def test_pots_of_a_paint_that_the_handbook_never_timed_show_nothing():
    assert last.said("X", pots(4, 1.0, 2.0, 3.0, told=False)) == "The handbook has no timing of X to hold your pots against."


def test_a_whole_per_cent_is_the_nearest():
    assert [last._whole(one) for one in (0.0, 0.449, 0.46, 0.5, -0.46, -12.49, 12.5, -12.5)] == [0, 0, 0, 1, 0, 12, 13, 13]


def test_a_paint_that_is_allowed_with_care_is_allowed():
    """Made up, since each test of it stops where it doubts: a verdict of the hazards that only asks for care."""
    one, answer = sit(ROOM), next(one for one in chain().answers if one.name == "allowed")
    walked = day().walk(one)
    careful = SimpleNamespace(outcome=lambda cell=(): "care", codes=1, speaking=lambda: [], verdict=walked.verdicts["allowed"].verdict)
    told = answers.one_answer(day(), one, answer, dataclasses.replace(walked, verdicts={**walked.verdicts, "allowed": careful}), day().units, "metric")
    assert (told["verdict"], told["value"]) == ("care", "yes")
