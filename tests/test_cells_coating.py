"""Every cell of the tables that follow from one coating's facts, worked a second time from its file as it is written.

Laws: balances of volume and mass, a log line through the sheet's two timings, a share of viscosity for each part of a degree, a film that runs with its third power
(a falling film, any textbook). Nothing of `generators` works an expected value: it prints what is looked at.
"""

from __future__ import annotations

import dataclasses
import math
import re

import pytest
from by_hand import (
    CLASSES,
    COATINGS,
    FLUID_OUNCE,
    FOOT,
    GALLON,
    KITS,
    MIL,
    POUND,
    QUART,
    TIMED,
    celsius,
    dash,
    every,
    found_by_halving,
    legend,
    limit,
    number,
    read_in_cup,
    rows_of,
    said,
    seconds_in,
    stands,
    thickness,
    written,
)

from generators import tables

HANDBOOK = written("handbook.yaml")
STOPPED = [slug for slug, tin in COATINGS.items() if "stops" in tin]
PAIRS = [slug for slug, tin in COATINGS.items() if "two_pack" in tin and "stops" not in tin]
STEPS = (0, 2, 4, 6, 8, 10, 12, 15, 20, 25, 30)  # % of thinner, as the tables' rows


def viscosity(tin, share):
    """(as supplied, with so much thinner): a straight line of the log in the share of the mix, through the sheet's two timings (Arrhenius; common practice)."""
    (first, cup), (second, _), dosed = seconds_in(tin["supplied"]), seconds_in(tin["trial"]["time"]), number(tin["trial"]["thinner"]) / 100
    one, two = thickness(cup, first), thickness(cup, second)
    return one, one * (two / one) ** ((share / (1 + share)) / (dosed / (1 + dosed)))


def thickest(tin, share):
    """The thickest that any of three laws through the two timings says, over the likely one: the line above, one in thinner over paint, and spheres that lock at 0.63 with 2.5
    (Krieger and Dougherty 1959, read), whose crowd is found by halving. A paint is thin enough only if it is so by each of them."""
    one, likely = viscosity(tin, share)
    two, dosed, power = viscosity(tin, number(tin["trial"]["thinner"]) / 100)[1], number(tin["trial"]["thinner"]) / 100, 2.5 * 0.63
    crowd = found_by_halving(lambda x: ((1 - x / (1 + dosed)) / (1 - x)) ** power - one / two, 1e-9, 1 - 1e-12)
    return max(1.0, one * (two / one) ** (share / dosed) / likely, one * ((1 - crowd) / (1 - crowd / (1 + share))) ** power / likely)


def voc(tin, share):
    """g/L of the mix: what paint and thinner bring, over what both fill."""
    return (number(tin["voc"]) + share * number(tin["thinner_density"])) / (1 + share)


def past_the_law(tin, share):
    """True where the mix holds more than its category may, ready to use: the UK's file of law. Water adds nothing."""
    base = "wb" if CLASSES[tin["class"]]["family"] in ("waterborne", "mineral") else "sb"
    allowed = next(float(rule["figure"]) for rule in rows_of("law/voc.csv") if (rule["region"], rule["key"]) == (HANDBOOK["region"], f"{tin['voc_category']}|{base}"))
    return number(tin["thinner_density"]) > 0 and voc(tin, share) > allowed


@pytest.mark.parametrize("kit", [None, "five-stage-trolley"])
@pytest.mark.parametrize("slug", TIMED)
def test_what_each_dose_does(book, slug, kit):
    """Would notice: a row past the sheet's most thinner or none at it, another kit's cup or limit, solids rounded up, a film rounded down, coverage of the tin's paint for the mix's."""
    tin, rig = COATINGS[slug], KITS[kit or HANDBOOK["default_kit"]]
    table = tables.BUILDERS["thinning-effects"](book, slug, **({"kit": kit} if kit else {}))
    (most, cup), rows = seconds_in(rig["limit"]), dict(table.grid())
    assert rig["name"] in table.caption and [float(head) for head in rows] == [step for step in STEPS if step <= number(tin["thinner_max"])]
    for head, (seconds, solids, film, covers, runs, vapour) in rows.items():
        share = float(head) / 100
        before, now = viscosity(tin, share)
        if past_the_law(tin, share):
            dash(seconds, "the law allows")
            assert seconds.zone == "stop"
        else:
            there = read_in_cup(cup, now)
            stands(seconds, there, "up", 1)
            worst = now * thickest(tin, share) / thickness(cup, most)
            assert seconds.zone == ("fine" if worst <= 1 + 1e-6 else "care"), (head, seconds)
        mixed = number(tin["volume_solids"]) / (1 + share)
        wet = number(tin["dry_film"]) / (mixed / 100)
        stands(solids, mixed, "down", 0.5)
        stands(film, wet / (1 if book.metric else MIL), "up", 1 if book.metric else 0.1)
        lands = number(rig["transfer_efficiency"]) / 100
        area = lands * 1000 / wet  # m² that a litre lies on, as thick as the film: a litre over a square metre is a millimetre
        stands(covers, area if book.metric else area / FOOT**2 * GALLON, "down", 0.1 if book.metric else 5)
        stands(runs, (1 + share) ** 3 * before / now, "up", 0.1)
        stands(vapour, voc(tin, share), "up", 1)
        assert {one.zone for one in (solids, film, covers, runs, vapour)} == {""}
    words = legend(table)
    assert words and all(words[zone] == {"fine": "thin enough for this kit", "care": "still too thick", "stop": "past the data sheet's maximum thinner"}[zone] for zone in words)


@pytest.mark.parametrize("slug", TIMED)
def test_warm_it_or_thin_it(book, slug):
    """Each thousandth of a degree takes its share (the class's slope; common practice) from the paint at 23 °C. Would notice: warmth that thickens, a figure past the label or the law,
    a paint called thin enough over the kit's limit."""
    tin, (most, cup) = COATINGS[slug], seconds_in(KITS[HANDBOOK["default_kit"]]["limit"])
    table, slope = tables.BUILDERS["warm-or-thin"](book, slug), number(tin.get("viscosity_slope") or CLASSES[tin["class"]]["viscosity_slope"])
    assert f"at {most:g} s or less" in table.caption
    for heat, percent, cell in every(table):
        share = float(percent) / 100
        warmer = celsius(heat, book.system) - limit("sheet_temperature")
        now = viscosity(tin, share)[1] * (1 - slope / 1e4) ** (warmer * 1e4)
        there = read_in_cup(cup, now)
        if float(percent) > number(tin["thinner_max"]) or past_the_law(tin, share):
            dash(cell, "past the data sheet's maximum thinner", "the law allows", "kinematic viscosity must lie")
            assert cell.zone == "stop", (heat, percent, cell)
        elif there is None:
            dash(cell, "kinematic viscosity must lie")
            assert cell.zone == ("care" if now > thickness(cup, most) else "fine"), (heat, percent, cell)
        else:
            stands(cell, there, "up", 1, hair=1e-4)
            worst = now * thickest(tin, share) / thickness(cup, most)
            assert cell.zone == ("fine" if worst <= 1 else "care") or abs(worst - 1) < 1e-3, (heat, percent, cell, there)
    words = legend(table)
    assert ("stop" in words) == (number(tin["thinner_max"]) < 15)
    assert all(words[zone] == {"fine": "thin enough for this kit", "care": "still too thick", "stop": "past the data sheet's maximum thinner"}[zone] for zone in words)


@pytest.mark.parametrize("name", ["thinning-effects", "warm-or-thin", "batch", "pot-life"])
@pytest.mark.parametrize("slug", COATINGS)
def test_why_there_are_no_figures(books, slug, name):
    """Would notice: a two-pack with isocyanates that gets a batch or a pot life, a gel with seconds, a paint that nobody timed with figures, another paint's reason."""
    tin, told = COATINGS[slug], tables.BUILDERS[name](books["metric"], slug)
    if "stops" in tin:
        assert told.heads == ("No figures",) and told.rows[0][0].startswith("STOP. "), told
    elif name in ("batch", "pot-life"):
        assert ("two_pack" in tin) == (told.name == name and not hasattr(told, "heads")) and ("two_pack" in tin or told.rows == (("This is not a two-pack coating.",),)), told
    elif "cup_refused" in tin:
        assert told.heads == ("No figures",) and told.rows == ((tin["cup_refused"],),)
    elif slug not in TIMED:
        assert told.rows == (("This handbook has no two timings for it. Time it as supplied, add a first small dose, and time it again.",),)
    else:
        assert not hasattr(told, "heads")
    assert STOPPED and PAIRS and tin["name"] in told.title


@pytest.mark.parametrize("base_parts", [None, 6])
@pytest.mark.parametrize("slug", PAIRS)
def test_a_batch_by_its_balance(book, slug, base_parts):
    """So many parts to one, by volume; what each weighs by its density. Would notice: parts turned round, ounces of weight for ounces of volume, a hardener rounded to one side."""
    tin, pair = COATINGS[slug], COATINGS[slug]["two_pack"]
    parts, density, told = [number(part) for part in pair["ratio"].split(":")], (number(tin["density"]), number(pair["hardener_density"])), book
    if base_parts:  # another sheet's ratio: six to one gives no whole millilitres
        mine = book.facts.coatings[slug]
        parts, other = [base_parts, 1], mine.model_copy(update={"two_pack": mine.two_pack.model_copy(update={"ratio": float(base_parts)})})
        told = tables.Book(dataclasses.replace(book.facts, coatings={**book.facts.coatings, slug: other}), book.formulas, book.system)
    table = tables.BUILDERS["batch"](told, slug)
    assert [float(head) for head in table.rows.heads] == ([0.25, 0.5, 1, 2, 5] if book.metric else [0.25, 0.5, 1, 2, 4])
    for head, row in table.grid():
        litres = float(head) * (1 if book.metric else QUART)
        for place in (0, 1):
            mine = litres * 1000 * parts[place] / sum(parts)
            stands(row[place], mine / (1 if book.metric else FLUID_OUNCE), "nearest", 1 if book.metric else 0.05)
            stands(row[place + 2], mine * density[place] / (1 if book.metric else POUND), "nearest", 1 if book.metric else 0.005)
        assert {cell.zone for cell in row} == {""}
    assert f"to hardener {parts[0] / parts[1]:.3g} to 1 by volume, {parts[0] * density[0] / parts[1] / density[1]:.2f} to 1 by weight" in table.caption


@pytest.mark.parametrize("slug", PAIRS)
def test_how_long_a_mix_keeps(book, slug):
    """The short ends of what is known (limits.yaml; that it halves each ten degrees is from memory): 2.5 times as fast for each ten degrees over the sheet's, 1.5 times as slow under it, a pot's
    volume to the power 0.07 over a tenth of a litre; out of the gun by three quarters of it. Would notice: minutes rounded up, a bigger pot's minutes under a smaller one's head, figures
    outside the sheet's air."""
    tin, share, unit, litre = COATINGS[slug], limit("clean_before_pot_life") / 100, *(("L", 1.0) if book.metric else ("qt", QUART))
    table = tables.BUILDERS["pot-life"](book, slug)
    assert list(table.columns.heads) == [f"{what} min, {pot} {unit}" for what in ("pot life", "clean by") for pot in ("0.5", "1", "5")]
    rate, warms = limit("pot_life_rate"), limit("self_heating")
    assert (rate, warms) == (2, 5) and "± 0.5" in rate_text("pot_life_rate") and "± 2" in rate_text("self_heating")
    for heat, head, cell in every(table):
        warm = celsius(heat, book.system)
        if not number(tin["air_min"]) <= warm <= number(tin["air_max"]):
            dash(cell, "outside the data sheet's air temperatures")
            continue
        over, pot = warm - limit("sheet_temperature"), float(re.search(r", ([\d.]+) ", head)[1]) * litre
        minutes = 60 * number(tin["two_pack"]["pot_life"]) * (2.5 if over > 0 else 1.5) ** (-over / 10) * (pot / limit("sheet_sample")) ** -0.07
        stands(cell, minutes * (share if head.startswith("clean") else 1), "down", 5)
        assert cell.zone == ""


def rate_text(name):
    """A limit as it is written, with its ends."""
    return written("limits.yaml")[name]["value"]


def test_each_coating_at_a_glance(book):
    """Would notice: a comb reading rounded down (a film too thin), the same reading said twice, colder air than the sheet's or warmer, a coating with a hard stop among them."""
    told = tables.BUILDERS["coating-lines"](book)
    rows = {row[0]: row[1:] for row in told.rows}
    assert list(rows) == [tin["name"] for slug, tin in COATINGS.items() if slug not in STOPPED]
    step, degree = (5, 1) if book.metric else (0.1, 1.8)
    for slug, tin in COATINGS.items():
        if slug in STOPPED:
            continue
        nozzle, comb, air, coat = rows[tin["name"]]
        ends = [number(tin["dry_film"]) * (1 + more) / (number(tin["volume_solids"]) / 100) / (1 if book.metric else MIL) for more in (0, number(tin["thinner_max"]) / 100)]
        shown = [math.ceil(end / step - 1e-9) * step for end in ends]
        assert [said(one) for one in comb.split(" to ")] == pytest.approx(shown if shown[0] != shown[1] else shown[:1]), (slug, comb, ends)
        low, high = ((number(tin[key]) * degree + (0 if book.metric else 32)) for key in ("air_min", "air_max"))
        assert air == f"{math.ceil(low - 1e-9)} to {math.floor(high + 1e-9)}" and coat == f"{number(tin['recoat_after']):g} h" and f"{number(tin['nozzle']):g} mm" in nozzle, (slug, air)
    two = tables.BUILDERS["coating-lines"](book, coatings=("tern-clear-satin", "anchor-alkyd-gloss"))
    assert [row[0] for row in two.rows] == ["Tern Clear Satin", "Anchor Alkyd Gloss"]
