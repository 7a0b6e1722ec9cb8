"""Every cell of the tables of the survey and of keeping, worked a second time: pieces by school geometry, paint that is neither made nor lost, drops that fall, and words as their files have them.

Nothing of `generators` works an expected value: it prints what is looked at. Where no source stands beside a check, it is geometry or the definition of a unit.
"""

from __future__ import annotations

import dataclasses
import math
import re

import pytest
from by_hand import FOOT, KITS, MIL, QUART, every, legend, number, rows_of, stands, written
from conftest import read_in

from generators import formulas, tables
from generators.quantity import Quantity

PIECES, SUBSTRATES, FINISHES, CLEANING = (written(f"{name}.yaml") for name in ("pieces", "substrates", "finishes", "cleaning"))
LANDS = number(KITS[written("handbook.yaml")["default_kit"]]["transfer_efficiency"]) / 100
MARKED = {"yes": ("✓", "fine"), "care": ("△", "care"), "no": ("✕", "stop")}


def in_words(region, system):
    """A book of this handbook in a region's trade words."""
    facts = read_in(region)
    return tables.Book(facts, formulas.catalogue(facts), system)


@pytest.fixture(params=["metric", "us"])
def book(request):
    return in_words("uk", request.param)


def made(book, name, *more, **wanted):
    return tables.BUILDERS[name](book, *more, **wanted)


def with_facts(book, **changes):
    """The same book where a file says something else."""
    return tables.Book(dataclasses.replace(book.facts, **changes), book.formulas, book.system)


# Pieces


def square_metres(piece):
    """All that is sprayed of a piece: each face, and the edges round it, by school geometry; a wave step by step."""
    def mm(name):
        return number(piece[name])

    shape, wide, high, edge, faces = piece.get("shape", "flat"), mm("width"), mm("height"), mm("edge"), piece["faces"]
    round_it = 2 * (wide + high) * edge
    if shape == "flat":
        found = faces * number(piece["profile"]) * wide * high + round_it
    elif shape == "panelled":  # each moulding runs round its panel, on each face
        found = faces * (wide * high + piece["panels"] * 2 * (mm("panel_width") + mm("panel_height")) * mm("moulding")) + round_it
    elif shape == "louvred":  # a frame of four bars, outside and inside edges, and in its hole as many slats as the pitch has room for, each wrapped all round
        hole_wide, hole_high = wide - 2 * mm("frame"), high - 2 * mm("frame")
        slats = hole_high / mm("pitch") * 2 * (mm("slat") + mm("thickness")) * hole_wide
        found = 2 * (wide * high - hole_wide * hole_high) + round_it + 2 * (hole_wide + hole_high) * edge + slats
    elif shape == "turned":
        found = high * mm("girth")
    elif shape == "bars":
        found = wide / mm("pitch") * high * mm("girth") + piece["rails"] * wide * mm("rail_girth")
    elif shape == "boards":
        found = wide / (mm("slat") + mm("gap")) * high * (faces * mm("slat") + 2 * edge)
    elif shape == "lapped":
        found = wide * (high + high / mm("pitch") * edge)
    else:  # a sine wave: a thousand little straight steps along it, each over its base
        places = [2 * math.pi * step / 1000 for step in range(1000)]
        found = faces * wide * high * sum(math.hypot(1, math.pi * mm("depth") / mm("pitch") * math.cos(place)) for place in places) / 1000
    return found / 1e6


def test_pieces_and_their_paint(book):
    """Area times wet film over the share that lands (kits' own figure, invented). Would notice: area or paint rounded down, paint for one where it says twenty, edges left out, another
    film than the caption's, a US film that is not the metric one."""
    table = made(book, "pieces")
    film, unit = re.match(r"One coat of ([\d.]+) (µm|mil) wet when 65 % lands\.", table.caption).groups()
    wet = float(film) * (1 if unit == "µm" else MIL)
    assert LANDS == 0.65 and unit == ("µm" if book.metric else "mil") and wet == pytest.approx(75, rel=0.02)  # a usual wet coat of trim: common practice, no source
    assert table.columns.heads[1:] == tuple(f"paint for {count}, {'L' if book.metric else 'qt'}" for count in (1, 5, 10, 20))
    rows = dict(table.grid())
    assert list(rows) == [piece["label"] for piece in PIECES.values()]
    for piece in PIECES.values():
        area, *paints = rows[piece["label"]]
        metres = square_metres(piece)
        stands(area, metres / (1 if book.metric else FOOT**2), "up", 0.01 if book.metric else 0.1, hair=2e-6)
        for count, cell in zip((1, 5, 10, 20), paints, strict=True):
            stands(cell, metres * count * wet / 1000 / LANDS / (1 if book.metric else QUART), "up", 0.1, hair=2e-6)


def test_louvres_by_wrapping_each_slat(book):
    """A slat is wrapped all round, and there is one to each pitch of the face. Would notice: one side for two, rounding down, another slat than the caption's, one that no louvre has."""
    table = made(book, "louvres")
    thick, unit = re.search(r"([\d.]+) (mm|in) thick", table.caption).groups()
    assert float(thick) * (1 if unit == "mm" else 25.4) == pytest.approx(number(PIECES["louvre-door"]["thickness"]), rel=0.1)
    for slat, pitch, cell in every(table):
        stands(cell, 2 * (float(slat) + float(thick)) / float(pitch), "up", 0.1)


# Drops


AIRS, DROPS = (0.05, 0.2, 0.5), (10, 20, 30, 40, 50)  # m/s: hardly moving, doors shut, a fan or an open window: common practice, no source; µm


def test_how_far_mist_goes(book):
    """A small drop falls as Stokes found (1851): its weight, 1.2 kg for each litre (a usual paint: common practice, no source), against the drag of air of 20 °C, 18.1 µPa·s (a handbook's value).
    It goes on as far as the air moves in that time. Would notice: a distance rounded down, another height than the caption's, lighter drops, US airs or drops that are not the metric ones."""
    table = made(book, "mask-reach")
    high, unit = re.search(r"let go at ([\d.]+) (m|ft)", table.caption).groups()
    metre, drop_unit, air_unit = (1, 1, 1) if book.metric else (FOOT, MIL, FOOT / 60)
    assert unit == ("m" if book.metric else "ft") and float(high) * metre == pytest.approx(1.5, rel=0.02)
    for heads, unit_of, expected in ((table.columns.heads, air_unit, AIRS), (table.rows.heads, drop_unit, DROPS)):
        assert [float(head) * unit_of for head in heads] == pytest.approx(list(expected), rel=0.02)
    for drop, air, cell in every(table):
        fall = 1200 * 9.80665 * (float(drop) * drop_unit * 1e-6) ** 2 / (18 * 1.81e-5)  # m/s
        stands(cell, float(high) * metre / fall * float(air) * air_unit / metre, "up", 0.5 if book.metric else 1)


# Wood and its meter


def test_what_a_meter_leaves_up_to_the_limit(book):
    """Limits as substrates.yaml has them (common practice). Would notice: wood over the limit that may be painted, over what is good called fine, what is left rounded up, another kind's."""
    table = made(book, "moisture")
    wood = {one["label"].split(" (")[0]: (number(one["moisture_good"]), number(one["moisture_max"])) for one in SUBSTRATES.values() if "moisture_max" in one}
    assert list(table.columns.heads) == list(wood)
    for reading, kind, cell in every(table):
        good, most = wood[kind]
        stands(cell, most - float(reading), "down", 1)
        assert cell.zone == ("fine" if float(reading) <= good else "care" if float(reading) <= most else "stop"), (reading, kind, cell)
    words = legend(table)
    assert words["fine"] == "dry enough" and words["care"].startswith("only just") and words["stop"] == "too wet: do not paint"


def test_a_limit_between_two_readings_goes_down():
    """Would notice: half a point of moisture told as a whole one."""
    book, old = in_words("uk", "metric"), read_in("uk").substrates
    book = with_facts(book, substrates={**old, "fence": old["fence"].model_copy(update={"moisture_max": Quantity.exact(19.5, "%")})})
    column = [row[-1] for _, row in made(book, "moisture").grid()]
    assert [cell.text for cell in column] == [f"{math.floor(19.5 - reading)}".replace("-", "−") for reading in (8, 10, 12, 14, 15, 16, 17, 18, 19, 20, 22, 25)]
    assert [cell.zone for cell in column][-4:] == ["care", "stop", "stop", "stop"]


# Words as their files have them


@pytest.mark.parametrize("region", ["uk", "us"])
def test_tables_of_words(region):
    """Would notice: another surface's words, a percentage for plaster, a good reading for the limit, minutes of another family, a factor under the wrong head."""
    book, label = in_words(region, "us" if region == "us" else "metric"), "us_label" if region == "us" else "label"
    surfaces = made(book, "substrates").rows
    assert [row[0] for row in surfaces] == [one[label] for one in SUBSTRATES.values()]
    for row, one in zip(surfaces, SUBSTRATES.values(), strict=True):
        assert row[1] == (f"{one['moisture_good']} or less, never over {one['moisture_max']}." if "moisture_max" in one else "No percentage: a wood meter means nothing here.")
        assert row[3] == one["sound"] and row[5] == one["basis"] and row[2].split()[0] == one["damp"].split()[0]
    assert made(book, "rub-test").rows == tuple((one[label], one["rub"], one["looks"]) for one in FINISHES.values())
    assert made(book, "clean-down").rows == tuple((one[label], f"{one['sets_soon']} in warm air, {one['sets_late']} in cool air", one["between"]) for one in CLEANING.values())
    assert made(book, "sleeping").rows == tuple((one[label], one["frost"]) for one in CLEANING.values())
    lands = [(row["method"].removesuffix(", turbine"), row["efficiency"], row["basis"]) for row in rows_of("efficiencies.csv") if row["method"].endswith(", turbine")]
    assert [(row[0].lower(), *row[1:]) for row in made(book, "efficiency-by-work").rows] == lands


def test_factors_of_area_and_of_paint(book):
    """Would notice: a thirsty surface told as a bigger one, the low end alone, a spread where there is one figure."""
    rows = made(book, "area-factors").rows
    facts = rows_of("area_factors.csv")
    assert [row[0] for row in rows] == [one["shape" if book.metric else "us"] for one in facts]
    for row, one in zip(rows, facts, strict=True):
        low, high = one["low"], one["high"]
        told = f"× {low} to {high}" if float(low) < float(high) else f"× {low}"
        assert row[1:3] == ((told, "–") if one["counts"] == "area" else ("–", told)) and row[3:] == (one["why"], one["basis"])


def test_what_may_go_over_what():
    """Would notice: a no shown as a yes, another pair's words, a coat that is only ever found among those to spray."""
    book, new = in_words("uk", "metric"), [key for key, one in FINISHES.items() if one.get("new") != "no"]
    pairs = {(row["new"], row["old"]): row for row in rows_of("over.csv")}
    short, long = made(book, "over"), made(book, "over-why")
    assert short.heads == long.heads == ("New coat", *(f"Over {one['short']}" for one in FINISHES.values())) and 0 < len(new) < len(FINISHES)
    for key, row, zones, told, shades in zip(new, short.rows, short.zones, long.rows, long.zones, strict=True):
        assert row[0].lower() == FINISHES[key]["short"] and told[0] == FINISHES[key]["label"]
        for place, old in enumerate(FINISHES):
            pair = pairs[key, old]
            mark, zone = MARKED[pair["verdict"]]
            assert row[place + 1] == f"{mark} {pair['verdict']}: {pair['word']}" and zones[place] == shades[place] == zone
            assert told[place + 1] == f"{row[place + 1]}. {pair['why']}"
        assert made(book, "over-why", new=key).rows == (told,)
    for wrong in ("a coat that nobody knows", next(key for key in FINISHES if key not in new)):
        with pytest.raises(ValueError, match=r"no coat to spray .*; there are: " + new[0]):
            made(book, "over-why", new=wrong)
