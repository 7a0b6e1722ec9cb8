"""A table of a reading, worked a second time: which cells are dashes and why, which note is made for which cell, what each column assumed.

Dew points by Magnus (WMO No. 8's constants, from memory), a paint's own limits from its file, by hand; `generators` prints what is looked at.
"""

from __future__ import annotations

import math
import re

import pytest
from by_hand import COATINGS, every, limit, number
from conftest import read_in

from generators import formulas, tables
from generators.table import Axis, Rounding
from generators.tables.sweep import OUTDOORS, Along, on_its_side, pairs_of, side_by_side, sweep

PAINT = "gannet-trim-satin"
COLDEST, WARMEST, DAMPEST = (number(COATINGS[PAINT][name]) for name in ("air_min", "air_max", "humidity_max"))


@pytest.fixture(scope="module")
def mine():
    facts = read_in("uk")
    return tables.Book(facts, formulas.catalogue(facts), "metric")


def dew_point(air, humidity):
    """Where so much water in the air would be all that it holds: Magnus, halved to."""
    def holds(degrees):
        return math.exp(17.62 * degrees / (243.12 + degrees))

    low, high = -60.0, air
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) < humidity / 100 * holds(air) else (low, middle)
    return low


def margin(air, humidity):
    return air - dew_point(air, humidity)


def swept(mine, answer, rows, columns=None, unit="Δ°C", **more):
    """A table of our own, of one paint."""
    base = {"coating": PAINT, **OUTDOORS, **more.pop("base", {})}
    for name in more.pop("without", ()):
        del base[name]
    return sweep(mine, "ours", "", "", answer, base, rows, columns, unit, Rounding("down", 0.01), {}, **more)


def test_each_note_is_of_the_first_cell_that_its_test_decides(mine):
    """A stop over every other, then doubt, then care. Would notice a note of a cell that another test decides, figures of another cell, a mark of another weight."""
    table = tables.BUILDERS["go-or-wait"](mine, PAINT)
    airs, humidities = ([float(re.match(r"[\d.]+", head)[0]) for head in heads] for heads in (table.rows.heads, table.columns.heads))
    cells = [(air, humidity) for air in airs for humidity in humidities]  # as they are read
    least = limit("dew_margin_min")

    def stopped(air, humidity):
        return air < COLDEST or air > WARMEST or humidity > DAMPEST or margin(air, humidity) < least

    notes = [note for note in table.notes if "For example" in note]
    marks = [note[0] for note in notes]
    told = {}
    for note in notes:
        for name, words in (("dew", "over the dew point; 3 °C is the least"), ("surface", "The surface is at"), ("cold", "The air is at"), ("damp", "Humidity is"), ("left", "when it is left")):
            if words in note:
                told.setdefault(name, []).append((note[0], float(re.search(r"[\d.]+", note)[0])))
    air, humidity = next(cell for cell in cells if margin(*cell) < least)
    assert told["dew"] == [("✕", pytest.approx(margin(air, humidity), abs=0.02))]
    cold, hot = next(cell for cell in cells if cell[0] < COLDEST), next(cell for cell in cells if cell[0] > WARMEST)
    assert told["cold"] == [("✕", cold[0]), ("✕", hot[0])] and told["surface"] == [("✕", cold[0])]
    assert told["damp"] == [("✕", next(cell for cell in cells if cell[1] > DAMPEST)[1])]
    air, humidity = next(cell for cell in cells if not stopped(*cell) and margin(*cell) < limit("dew_margin_waterborne"))
    assert told["left"] == [("△", pytest.approx(margin(air, humidity), abs=0.02))]
    assert sum("near the coldest" in note for note in notes) == sum("near the warmest" in note for note in notes) == 1
    assert set(marks) == {"✕", "△"} and len(notes) == len(set(notes))
    for air, humidity, cell in every(table):
        assert (cell.zone == "stop") == stopped(float(air), number(humidity)), (air, humidity, cell)


def test_what_nobody_looked_at_is_told_by_its_name_and_what_cannot_be_worked_by_its_test(mine):
    """Nobody said whether people are out: no cell is go. In air drier than any dew point is told of, the margin is not known, though every reading was taken."""
    airs, humidities = Along("air-temperature", [15.0, 20.0], "°C", "Air"), Along("relative-humidity", [40.0, 50.0], "%", "Humidity")
    airs = Along("air-temperature", [15.0, 20.0], "°C", "Air", more={"surface-temperature": (["15 °C", "20 °C"], [15.0, 20.0])})
    table = swept(mine, "margin", airs, humidities, without=("people-out",))
    assert {cell.zone for _, _, cell in every(table)} == {"unknown"} and [note for note in table.notes if note.startswith("?")] == ["? For example: Not known: people out."]
    dry = swept(mine, "margin", airs, Along("relative-humidity", [0.01, 50.0], "%", "Humidity"))
    assert [(cell.text, cell.zone) for _, column, cell in every(dry) if column == "0.01"] == [("–", "unknown")] * 2
    assert all("must lie between" in cell.reason for _, column, cell in every(dry) if column == "0.01")
    assert [cell.zone for _, column, cell in every(dry) if column == "50"] == ["fine", "fine"]
    said = [note for note in dry.notes if note.startswith("?")]
    assert said and not any("a fact that no file gives" in note for note in said) and any("The surface is not known over the dew point" in note for note in said)


def test_a_dash_says_what_is_missing_or_what_a_formula_said(mine):
    """No humidity: its name. Dry as no table of dew points is, everywhere: the formula's own words."""
    airs = Along("air-temperature", [15.0, 20.0], "°C", "Air", more={"surface-temperature": (["15 °C", "20 °C"], [15.0, 20.0])})
    missing = swept(mine, "margin", airs)
    assert [(cell.text, cell.reason) for _, _, cell in every(missing)] == [("–", "Not known: relative humidity.")] * 2
    dry = swept(mine, "margin", airs, Along("relative-humidity", [0.01, 0.02], "%", "Humidity"))
    assert len(list(every(dry))) == 4 and all(cell.text == "–" and "must lie between" in cell.reason for _, _, cell in every(dry))


@pytest.mark.parametrize("slug", [PAINT, "anchor-alkyd-gloss"])
def test_a_stop_that_leaves_no_wait_to_trust_is_a_dash_with_the_end_of_its_sentence(mine, slug):
    """Colder, hotter or damper than the sheet: no hours. Everywhere else there are hours, and no reason. The paint that does not dry by water has one column."""
    tin, table = COATINGS[slug], tables.BUILDERS["next-coat"](mine, slug)
    water = slug == PAINT
    assert table.columns.heads == (tuple(f"{one} %" for one in (30, 40, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95)) if water else ("hours",))
    assert table.swept.columns == ((tuple(((("relative-humidity", f"{one} %"),)) for one in (30, 40, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95))) if water else ((),))
    for air, column, cell in every(table):
        degrees, humidity = float(air), number(column) if water else 50.0
        told = {reason for reason, there in (("no wait helps", degrees < number(tin["air_min"])), ("Hotter than the data sheet allows", degrees > number(tin["air_max"])),
                                             ("Damper than the data sheet allows", humidity > number(tin["humidity_max"]) if "humidity_max" in tin else False)) if there}
        if told:
            assert cell.text == "–" and cell.zone == "stop" and cell.reason in told, (air, column, cell)
        elif cell.zone != "stop":
            assert not cell.reason and float(cell.text) >= number(tin["recoat_after"]), (air, column, cell)
    assert any(cell.zone == "fine" for _, _, cell in every(table))


def test_a_figure_of_the_chain_may_be_given(mine):
    """A dew point of 4 °C put in its place: surfaces of 15 and 20 °C are 11 and 16 over it. Such a table is of no reading, and no phone sweeps it again."""
    airs = Along("air-temperature", [15.0, 20.0], "°C", "Air", more={"surface-temperature": (["15 °C", "20 °C"], [15.0, 20.0])})
    table = swept(mine, "margin", airs, base={"relative-humidity": "50 %"}, given={"margin": [[11.0], [16.0]]})
    assert [float(cell.text) for _, _, cell in every(table)] == [11, 16] and table.swept.scale is None
    own = swept(mine, "margin", airs, base={"relative-humidity": "50 %"})
    assert [float(cell.text) for _, _, cell in every(own)] == [pytest.approx(margin(air, 50), abs=0.03) for air in (15, 20)] and own.swept.scale == (1.0, 0.0)
    fahrenheit = swept(mine, "margin", airs, unit="Δ°F", base={"relative-humidity": "50 %"})
    assert [float(cell.text) for _, _, cell in every(fahrenheit)] == [pytest.approx(1.8 * margin(air, 50), abs=0.05) for air in (15, 20)]
    assert fahrenheit.swept.scale == (pytest.approx(1.8), 0.0)


def test_only_doses_stand_in_one_text():
    assert pairs_of({"kit": "a;b", "dose": "0%:62s; 5%:45s", "cup": "ford-4"}) == [("kit", "a;b"), ("dose", "0%:62s"), ("dose", "5%:45s"), ("cup", "ford-4")]


def test_columns_side_by_side_keep_what_each_assumed(mine):
    """Humidities of 40 and 60 %, a column each: what both assumed is told once, what is its own with its column. Turned on its side, rows are columns."""
    airs = Along("air-temperature", [15.0, 20.0, 25.0], "°C", "Air", more={"surface-temperature": (["15 °C", "20 °C", "25 °C"], [15.0, 20.0, 25.0])})
    two = [swept(mine, "margin", airs, base={"relative-humidity": f"{humidity} %"}) for humidity in (40, 60)]
    axis = Axis("Humidity", "%", ("40", "60"))
    joined, turned = side_by_side(two, axis), on_its_side(two, axis)
    wanted = [[margin(air, humidity) for humidity in (40, 60)] for air in (15, 20, 25)]
    assert joined.body.to_numpy().tolist() == [pytest.approx(row, abs=0.03) for row in wanted] and joined.zones.shape == joined.reasons.shape == (3, 2)
    assert turned.body.to_numpy().tolist() == [pytest.approx(list(row), abs=0.03) for row in zip(*wanted, strict=True)] and turned.zones.shape == (2, 3)
    assert (turned.rows, turned.columns.heads) == (axis, ("15", "20", "25"))
    for table, columns in ((joined, joined.swept.columns), (turned, turned.swept.rows)):
        assert columns == ((("relative-humidity", "40 %"),), (("relative-humidity", "60 %"),))
        assert dict(table.swept.base) == {"coating": PAINT, **OUTDOORS} and table.swept.each == () and table.swept.answer == "margin"
    assert turned.swept.columns == joined.swept.rows and len(joined.swept.rows) == 3 and (joined.swept.scale, turned.swept.scale) == ((1.0, 0.0), None)
    # Two answers, and two of three alike: each column says its own.
    other = swept(mine, "lowest-surface", airs, unit="°F", base={"relative-humidity": "40 %"})
    for columns in ([two[0], other], [two[0], two[1], other]):
        each = side_by_side(columns, Axis("", "", tuple("abc"[:len(columns)]))).swept.each
        assert [name for name, _ in each] == [*(["margin"] * (len(columns) - 1)), "lowest-surface"] and each[-1][1] == (pytest.approx(1.8), pytest.approx(32))
