"""Tables: round to the safe side, dash with a reason, metric and US each on their own axis."""

from __future__ import annotations

import csv
import io
import itertools
import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from generators.chart import Chart
from generators.render import csv_text, html
from generators.table import Rounding, Table
from generators.tables import BUILDERS, Book


def built(facts, catalogue, name, system):
    """A table or picture for everything it is made for."""
    each = {"handbook": [[]], "kit": [[kit] for kit in facts.kits], "coating": [[coating] for coating in facts.coatings]}[BUILDERS[name].per]
    return [BUILDERS[name](Book(facts, catalogue, system), *slugs) for slugs in each]


def every(facts, catalogue, kind=Table):
    for system, name in itertools.product(("metric", "us"), BUILDERS):
        yield from (shown for shown in built(facts, catalogue, name, system) if isinstance(shown, kind))


def test_the_pictures_are_well_formed_and_described(facts, catalogue):
    from xml.etree import ElementTree

    for chart in every(facts, catalogue, Chart):
        drawn = ElementTree.fromstring(html(chart))
        assert drawn.find(".//desc").text.strip() and drawn.find(".//title").text.strip(), chart.name
        numbers = [float(n) for line in drawn.iter("polyline") for pair in line.get("points").split() for n in pair.split(",")]
        assert all(-1 <= n <= 361 for n in numbers), chart.name


def test_every_dash_has_a_reason_and_every_zone_a_word(facts, catalogue):
    for table in every(facts, catalogue):
        words = {zone for zone, _, _ in table.zones_used()}
        for _, cells in table.grid():
            for cell in cells:
                assert (cell.text == "–") == bool(cell.reason), (table.name, cell)
                assert cell.zone in ("", "none") or cell.zone in words or cell.zone == "stop", (table.name, cell)


def test_tables_say_something(facts, catalogue):
    for table in every(facts, catalogue):
        cells = [cell for _, row in table.grid() for cell in row]
        assert sum(not cell.reason for cell in cells) > len(cells) / 5, table.name


@given(st.floats(-1e4, 1e4), st.sampled_from([0.1, 0.25, 0.5, 1, 5]))
def test_rounding_goes_to_its_side(value, step):
    down, up = Rounding("down", step)(value), Rounding("up", step)(value)
    assert down <= value + 1e-6 and up >= value - 1e-6
    assert up - down <= step + 1e-6
    assert math.isclose(down / step, round(down / step), abs_tol=1e-6)


def test_a_dose_rounds_down_and_a_dew_point_rounds_up(facts, catalogue):
    metric = Book(facts, catalogue, "metric")
    dew = BUILDERS["dew-point"](metric)
    for row in range(dew.body.shape[0]):
        for column in range(dew.body.shape[1]):
            assert float(dew.cell(row, column).text.replace("−", "-")) >= dew.body.iat[row, column] - 1e-9
    dose = BUILDERS["thinner-dose"](metric, facts.handbook.default_kit)
    for row in range(dose.body.shape[0]):
        for column in range(dose.body.shape[1]):
            cell = dose.cell(row, column)
            assert cell.reason or float(cell.text) <= dose.body.iat[row, column] + 1e-9


def test_us_axes_are_round_in_us_units(facts, catalogue):
    for name in ("dew-point", "coverage", "fan-width"):
        metric, us = (BUILDERS[name](Book(facts, catalogue, system)) for system in ("metric", "us"))
        assert metric.unit != us.unit
        for table in (metric, us):
            for head in (*table.rows.heads, *table.columns.heads):
                assert len(head.rstrip(" %°")) <= 4, (table.system, head)


def test_dew_margin_stops_where_a_surface_as_warm_as_the_air_fails(facts, catalogue):
    """20 °C and 85 %: dew point 17.4 °C (psychrolib 17.4), so 3 °C of margin asks for more than the air's own warmth."""
    table = BUILDERS["dew-surface"](Book(facts, catalogue, "metric"))
    row, column = table.rows.heads.index("20"), table.columns.heads.index("85 %")
    assert table.cell(row, column).zone == "stop"
    assert table.cell(row, table.columns.heads.index("50 %")).zone == "fine"


def test_thinning_stops_at_the_data_sheet(facts, catalogue):
    for kit in facts.kits:
        table = BUILDERS["thinning-steps"](Book(facts, catalogue, "metric"), kit)
        names = {coating.name: coating for coating in facts.coatings.values()}
        for column, head in enumerate(table.columns.heads):
            most = names[head].thinner_max.to("%")
            for row, told in enumerate(table.rows.heads):
                percent = 0.0 if told == "as supplied" else float(told.split(" %")[0])
                cell = table.cell(row, column)
                if percent > most:
                    assert cell.text == "–" and cell.zone == "stop"
                elif not cell.reason:
                    assert (cell.zone == "fine") == (table.body.iat[row, column] <= facts.kits[kit].limit.seconds)


def test_a_coating_with_a_hard_stop_is_in_no_thinning_or_film_table(facts, catalogue):
    stopped = {coating.name for coating in facts.coatings.values() if coating.stops}
    assert stopped
    for table in every(facts, catalogue):
        assert not stopped & {*table.rows.heads, *table.columns.heads}, table.name


def test_protection_says_stop_for_isocyanates_in_every_region(facts, catalogue):
    for region in ("uk", "eu", "us"):
        there = facts.handbook.model_copy(update={"region": region})
        import dataclasses

        table = BUILDERS["protection"](Book(dataclasses.replace(facts, handbook=there), catalogue, "metric"))
        assert len(table.rows) >= 12
        row = next(row for row in table.rows if "olyurethane" in row[0])
        assert row[1].startswith("STOP")


def test_csv_is_safe_to_open_and_complete(facts, catalogue):
    for table in every(facts, catalogue):
        rows = list(csv.reader(io.StringIO(csv_text(table))))
        assert len(rows) == len(table.rows.heads) + 1
        assert all(len(row) == len(table.columns.heads) + 1 for row in rows)
        assert not any(cell.startswith(("=", "+", "@")) for row in rows for cell in row)


def test_html_escapes_names(facts, catalogue):
    bad = facts.coatings["gannet-trim-satin"].model_copy(update={"name": "<script>alert(1)</script>"})
    import dataclasses

    other = dataclasses.replace(facts, coatings={**facts.coatings, "gannet-trim-satin": bad})
    page = html(BUILDERS["thinning-steps"](Book(other, catalogue, "metric"), other.handbook.default_kit))
    assert "<script" not in page and "&lt;script&gt;" in page


def test_caption_says_the_unit(facts, catalogue):
    for table in every(facts, catalogue):
        page = html(table)
        assert "<caption>" in page and (f"In {table.unit}," in page or (table.roundings and len(table.roundings) == len(table.columns.heads))), table.name


def test_every_cell_of_what_over_what_has_a_mark_and_a_word(facts, catalogue):
    """A colour never stands alone: mark, verdict and what to do, in both renderings and in the sheet."""
    book = Book(facts, catalogue, "metric")
    marks = {"✓ yes: ", "△ care: ", "✕ no: "}
    for name in ("over", "over-why"):
        table = BUILDERS[name](book)
        assert len(table.heads) == 1 + len(facts.finishes)
        for row, zones in zip(table.rows, table.zones, strict=True):
            for cell, zone in zip(row[1:], zones, strict=True):
                mark = next((one for one in marks if cell.startswith(one)), "")
                assert mark and len(cell) > len(mark) + 1 and {"✓": "fine", "△": "care", "✕": "stop"}[mark[0]] == zone, cell
        printed = html(table)
        assert printed.count("<td class=\"zone-") == len(table.rows) * len(facts.finishes)
        assert len(next(csv.reader(io.StringIO(csv_text(table))))) >= 1


def test_the_answer_to_oil_over_water_and_back(facts):
    """Common practice, no source: both want care, neither is a plain yes; strong solvent over either is a no."""
    assert facts.over["alkyd", "water"]["verdict"] == facts.over["water", "alkyd"]["verdict"] == "care"
    assert {facts.over["lacquer", old]["verdict"] for old in ("water", "alkyd")} == {"no"}


def test_the_meter_says_19(facts, catalogue):
    """Common practice: joinery indoors 12 to 14 %, outdoors 18 %. 19 is over both; it is what US lumber may be sold at as dry."""
    table = BUILDERS["moisture"](Book(facts, catalogue, "metric"))
    row = dict(zip(table.columns.heads, dict(table.grid())["19"], strict=True))
    assert row["Joinery indoors"].zone == row["Joinery outdoors"].zone == row["Decking"].zone == "stop"
    assert row["Joinery indoors"].text == "−5"
    dry = dict(table.grid())["12"]
    assert {cell.zone for cell in dry} == {"fine"}


def test_a_louvre_by_counting_its_slats(catalogue):
    """45 × 6 mm slats at 35 mm: a face of 1 m by 3.5 m holds a hundred, each with 102 mm of skin all round. By hand, geometry."""
    slats, skin = 100, 2 * 0.045 + 2 * 0.006
    assert math.isclose(catalogue["louvre-area-factor"].work({"slat-width": 45, "slat-thickness": 6, "slat-pitch": 35}).value, slats * skin * 1.0 / 3.5, rel_tol=1e-12)


def test_mist_indoors_only_gets_farther_with_air_and_nearer_with_size(facts, catalogue):
    for system in ("metric", "us"):
        body = BUILDERS["mask-reach"](Book(facts, catalogue, system)).body.to_numpy()
        known = body[~np.isnan(body).any(axis=1)]
        assert len(known) >= 3 and (np.diff(known, axis=0) < 0).all() and (np.diff(known, axis=1) > 0).all()
