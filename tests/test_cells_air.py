"""Every cell of the tables of air and surface, worked a second time: water vapour by Buck (1981) and psychrolib, Stokes' fall, hours counted in the file of weather.

Nothing of `generators` works an expected value: it only prints what is looked at. Limits are read from site_data/limits.yaml and from each paint's own file; that a cure doubles
for each ten degrees colder, and what of an hour, a margin or a wait is good enough where no limit is named, is common practice, no source.
"""

from __future__ import annotations

import csv
import gzip
import math
import re
from collections import defaultdict
from dataclasses import replace

import numpy as np
import psychrolib
import pytest
from by_hand import COATINGS, DATA, FOOT, MIL, MILE_AN_HOUR, SPRAYED, dash, every, family, legend, limit, number, over_dew, said, stands

from generators import tables

psychrolib.SetUnitSystem(psychrolib.SI)
FIRST = next(slug for slug in SPRAYED if family(slug) == "waterborne" and "trial" in COATINGS[slug])  # what a table of the whole handbook speaks of


def dew(air, humidity):
    """psychrolib's dew point, °C; below 0 °C it gives frost points."""
    return psychrolib.GetTDewPointFromRelHum(air, humidity / 100)


def made(book, name, *more, **wanted):
    return tables.BUILDERS[name](book, *more, **wanted)


def celsius(book, text):
    return said(text) if book.metric else (said(text) - 32) / 1.8


def shown(book, degrees):
    return degrees if book.metric else degrees * 1.8 + 32


def dew_over_water(air, humidity):
    """Where the air's own vapour would be all that fits over water (Buck 1981, from memory), by halving: below 0 °C too, where psychrolib tells frost."""
    def pressure(heat):
        return 6.1121 * math.exp((18.678 - heat / 234.5) * heat / (257.14 + heat))

    low, high = -60.0, air
    for _ in range(60):
        low, high = (low, (low + high) / 2) if pressure((low + high) / 2) > humidity / 100 * pressure(air) else ((low + high) / 2, high)
    return low


def stretch(air, humidity):
    """How much longer water takes to leave than at 23 °C and 50 %: by what the air still takes up at its wet bulb (psychrolib)."""
    def room(heat, damp):
        return psychrolib.GetSatVapPres(psychrolib.GetTWetBulbFromRelHum(heat, damp, 101325)) - damp * psychrolib.GetSatVapPres(heat)

    return room(23, 0.5) / room(air, humidity / 100)


def sides(value, edge, hair):
    """Whether a value is over an edge: both where two laws may differ on it."""
    return {True, False} if abs(value - edge) <= hair else {value > edge}


def worst(*tests):
    """The zones that a cell may have: `tests` are (zone, the answers that it may get)."""
    order = ("fine", "care", "stop")
    found = {0}
    for zone, answers in tests:
        found = {max(one, order.index(zone) if answer else 0) for one in found for answer in answers}
    return {order[one] for one in found}


def air_is_out(tin, air, humidity):
    return {air < number(tin["air_min"]) - 1e-9 or air > number(tin["air_max"]) + 1e-9 or humidity > number(tin["humidity_max"])}


def at_an_edge(tin, air):
    near = limit("air_edge")
    return {air < number(tin["air_min"]) + near - 1e-9}, {air > number(tin["air_max"]) - near + 1e-9}


def is_slow(slug, air, humidity):
    return sides(stretch(air, humidity), limit("drying_factor_max"), 0.06) if family(slug) in ("waterborne", "mineral") else {False}


def place(book):
    return 0.5 if book.metric else 1


def test_dew_point_everywhere(book):
    """Would notice: a dew point rounded down, frost for Fahrenheit by the wrong step."""
    table = made(book, "dew-point")
    for air, humidity, cell in every(table):
        stands(cell, shown(book, dew_over_water(celsius(book, air), said(humidity))), "up", place(book), slack=0.06)
    assert "sweats" in table.caption


@pytest.mark.parametrize("slug", ["", *SPRAYED])
def test_coldest_surface_everywhere(book, slug):
    """Would notice: a margin of another kind of paint, a surface colder than the sheet allows, one warmer than the air called possible, rounding down."""
    table = made(book, "dew-surface", **({"coating": slug} if slug else {}))
    slug = slug or FIRST
    tin = COATINGS[slug]
    assert table.title.endswith(tin["name"])
    for head, humidity, cell in every(table):
        air = celsius(book, head)
        least = max(dew_over_water(air, said(humidity)) + over_dew(slug), number(tin["air_min"]))
        stands(cell, shown(book, least), "up", place(book), slack=0.06)
        assert cell.zone in worst(("stop", air_is_out(tin, air, said(humidity))), ("stop", sides(least, air, 0.04)),
                                  ("care", sides(least + limit("surface_slack"), air, 0.04)), ("care", at_an_edge(tin, air)[1])), (slug, head, humidity, cell, least)
    words = legend(table)
    near = f"within {limit('surface_slack'):g} °C of" if book.metric else f"within {1.8 * limit('surface_slack'):g} °F of"
    assert "passes" in words["fine"] and near in words["care"] and words["stop"].startswith("stop")


def of_margin(book, slug, head, humidity, colder, cell):
    """One cell that tells a margin over the dew point, outdoors and with all else well: its figure and its zone."""
    tin, air = COATINGS[slug], celsius(book, head)
    surface = air - colder / (1 if book.metric else 1.8)
    margin = surface - dew_over_water(air, humidity)
    stands(cell, margin * (1 if book.metric else 1.8), "down", place(book), slack=0.09)
    cold, hot = at_an_edge(tin, air)
    assert cell.zone in worst(
        ("stop", air_is_out(tin, air, humidity)), ("stop", sides(limit("dew_margin_min"), margin, 0.05)), ("stop", {surface < number(tin["air_min"]) - 1e-9}),
        ("care", sides(over_dew(slug), margin, 0.05)), ("care", is_slow(slug, air, humidity)), ("care", cold), ("care", hot),
    ), (slug, head, humidity, colder, cell, margin)
    return cell.zone


@pytest.mark.parametrize("colder", [0.0, 4.0])
@pytest.mark.parametrize("slug", SPRAYED)
def test_go_or_wait_everywhere(book, slug, colder):
    """Would notice: a surface warmer than the air for one that is colder, another paint's air or margin, a margin rounded up, care for stop."""
    table = made(book, "go-or-wait", slug, colder=colder)
    seen = {of_margin(book, slug, head, said(humidity), colder, cell) for head, humidity, cell in every(table)}
    assert {"care", "stop"} <= seen and ("as warm as the air" in table.caption if not colder else "4 °" in table.caption)
    words = legend(table)
    assert {zone: words[zone] for zone in seen} == {zone: {"fine": "go", "care": "take care", "stop": "wait"}[zone] for zone in seen}


@pytest.mark.parametrize("slug", ["", "anchor-alkyd-gloss"])
def test_by_dusk_everywhere(book, slug):
    """Would notice: a roof that warms towards the sky, another air than the caption's, a heading that is not how much colder."""
    table = made(book, "dusk", **({"coating": slug} if slug else {}))
    air = 15 if book.metric else 60
    slug = slug or FIRST
    assert f"{COATINGS[slug]['name']} in air of {air} " in table.caption
    seen = {of_margin(book, slug, str(air), said(humidity), said(drop), cell) for humidity, drop, cell in every(table)}
    words = legend(table)
    assert seen >= {"fine", "stop"} and "holds" in words["fine"] and "do not start" in words["stop"] and words.get("care", "dry it before dusk") == "dry it before dusk"


@pytest.mark.parametrize("slug", SPRAYED)
def test_hours_to_the_next_coat_everywhere(book, slug):
    """Water paint waits for the air to take its water up, the others for a cure that doubles for each ten degrees colder; never sooner than the sheet. Would notice: a wait rounded
    down, one told where the sheet forbids the air, a wet hour that is not marked."""
    tin, table, water = COATINGS[slug], made(book, "next-coat", slug), family(slug) in ("waterborne", "mineral")
    hours, least, most = number(tin["recoat_after"]), number(tin["air_min"]), number(tin["air_max"])
    assert f"The data sheet says {hours:g} h" in table.caption and ("recoat_before" not in tin or f"No later than {number(tin['recoat_before']):g} h" in table.caption)
    assert (len(table.columns.heads) > 1) is water
    for head, humidity, cell in every(table):
        air = celsius(book, head)
        damp = water and said(humidity) > number(tin["humidity_max"])
        if air < least - 1e-9 or air > most + 1e-9 or damp:
            dash(cell, "no wait helps" if air < least else "Hotter" if air > most else "Damper")
            assert cell.zone == "stop", (head, humidity, cell)
            continue
        times = stretch(air, said(humidity)) if water else 2 ** ((23 - air) / 10)
        stands(cell, hours * max(times, 1), "up", 0.5, slack=0.02 * hours * times if water else 0)
        too_slow = sides(times, limit("drying_factor_max"), 0.06) if water else {False}
        assert cell.zone in worst(("stop", too_slow), ("care", sides(times, limit("drying_factor_near"), 0.03 if water else 1e-9))), (head, humidity, cell, times)
    words = legend(table)
    assert "near the data sheet" in words["fine"] and "slow" in words["care"] and "better air first" in words["stop"]


def weather():
    """(month, hour that it begins with, air, humidity, wind) of each hour in the file, as it is written there."""
    with gzip.open(DATA / "weather/saltmarsh-quay.epw.gz", "rt", encoding="utf-8") as file:
        return [(int(row[1]), int(row[3]) - 1, float(row[6]), float(row[8]), float(row[21])) for row in list(csv.reader(file))[8:]]


# A degree over the least air and no damper than 80 % for water paint, 85 % for solvent paint: this handbook's own choice.
NEEDS = {"waterborne": (1, 80, "dew_margin_waterborne"), "solvent": (0, 85, "dew_margin_min")}


def fit_share(kind):
    """{(month, hour): (least, most) % of its hours that are fit, a degree colder surface and all}: an hour on the very limit of its margin counts both ways."""
    over, damp, margin = NEEDS[kind]
    found, total = defaultdict(lambda: [0, 0]), defaultdict(int)
    for month, hour, air, humidity, wind in weather():
        total[month, hour] += 1
        if limit("air_min") + over <= air <= limit("air_max") and humidity <= damp and wind <= limit("wind_go"):
            spare = air - 1 - dew(air, humidity) - limit(margin)
            found[month, hour][0] += spare >= 0.05
            found[month, hour][1] += spare >= -0.05
    return {key: [100 * count / total[key] for count in found[key]] for key in total}


@pytest.mark.parametrize("kind", NEEDS)
def test_every_fit_hour_of_the_season(book, kind):
    """Would notice: another humidity, margin or wind than the caption says, an hour or a month beside its own, a share rounded up, hours by luck called likely."""
    table, shares = made(book, "fit-hours", **({} if kind == "waterborne" else {"family": kind})), fit_share(kind)
    over, damp, margin = NEEDS[kind]
    degree, wind = (1, 1) if book.metric else (1.8, MILE_AN_HOUR)
    low, high = (float(one) for one in re.search(r"air ([\d.]+) to ([\d.]+) °[CF],", table.caption).groups())
    least, most = shown(book, limit("air_min") + over), shown(book, limit("air_max"))
    assert least - 1e-9 <= low < least + (0.11 if book.metric else 1) and most - (0.51 if book.metric else 1) < high <= most + 1e-9, (low, high, least, most)
    assert f"humidity to {damp} %, margin {limit(margin) * degree:.3g} °" in table.caption
    assert float(re.search(r"wind to ([\d.]+) ", table.caption)[1]) == pytest.approx(limit("wind_go") / wind, rel=0.005)
    seen = set()
    for month, (_, row) in enumerate(table.grid(), 1):
        for hour, cell in zip(table.columns.heads, row, strict=True):
            fewest, most_of_them = shares[month, int(hour)]
            value = said(cell.text)
            assert re.fullmatch(r"\d+", cell.text) and fewest - 1 - 1e-6 <= value <= most_of_them + 1e-6, (month, hour, cell, fewest, most_of_them)
            assert cell.zone in {"fine" if share >= 60 else "care" if share >= 25 else "stop" for share in (fewest, most_of_them)}, (month, hour, cell)
            seen.add(cell.zone)
    assert seen >= {"care", "stop"} and "luck" in legend(table)["care"] and "indoor" in legend(table)["stop"]


def test_a_year_whose_shares_are_known(book):
    """Twenty hours of each kind, so many of them fit: what is just likely, just by luck, whole or none. Would notice: the limit itself on its worse side, a month without an hour
    that is told a figure, an hour fit that blows, is damp, cold or hot."""
    fit, bad = (20.0, 50.0, 1.0), ((20.0, 50.0, 4.2), (20.0, 81.0, 1.0), (8.1, 30.0, 1.0), (33.0, 30.0, 1.0), (20.0, 79.0, 1.0))
    wanted = {(month, hour): (12, 5, 20, 0, 11, 4, 13, 6)[(month + hour) % 8] for month in range(1, 13) for hour in range(6, 21)} | {(2, 9): None}
    rows = [(month, hour, *(fit if one < count else bad[one % len(bad)])) for (month, hour), count in wanted.items() if count is not None for one in range(20)]
    (name, year), *_ = book.facts.weather.items()
    columns = dict(zip(("month", "hour", "air", "humidity", "wind"), np.array(rows).T, strict=True))
    table = made(tables.Book(replace(book.facts, weather={name: replace(year, **columns)}), book.formulas, book.system), "fit-hours")
    for month, (_, row) in enumerate(table.grid(), 1):
        for hour, cell in zip(table.columns.heads, row, strict=True):
            count = wanted[month, int(hour)]
            if count is None:
                dash(cell, "no such hour")
                assert cell.zone in ("", "none")
            else:
                assert (cell.text, cell.zone) == (f"{5 * count}", "fine" if count >= 12 else "care" if count >= 5 else "stop"), (month, hour, cell)
    words = legend(table)
    assert words["fine"] == "likely" and "luck" in words["care"] and "indoor" in words["stop"]


def test_the_picture_of_the_season(book):
    """Would notice: a month beside its own, a share for hours, one paint's line for the other's, a best month that is none."""
    chart = made(book, "season")
    assert [line.label for line in chart.lines] == list(NEEDS) and [line.strong for line in chart.lines] == [True, False]
    for line, kind in zip(chart.lines, NEEDS, strict=True):
        shares = fit_share(kind)
        assert line.xs == tuple(range(1, 13))
        ends = np.array([[sum(shares[month, hour][end] for hour in range(6, 21)) / 100 for end in (0, 1)] for month in range(1, 13)])
        assert (ends[:, 0] - 1e-9 <= line.ys).all() and (line.ys <= ends[:, 1] + 1e-9).all(), (kind, line.ys, ends)
        worst_told, best_told, month = re.search(rf"{kind}: from ([\d.]+) hours a day at worst to ([\d.]+) in (\w+)", chart.description).groups()
        assert float(worst_told) == pytest.approx(min(line.ys), abs=0.051) and float(best_told) == pytest.approx(max(line.ys), abs=0.051)
        assert month == ("January February March April May June July August September October November December".split())[int(np.argmax(line.ys))]


def fall(micrometres):
    """Metres in a second that a drop of water falls in still air at 20 °C (Stokes 1851; air of 1.204 kg/m³ and 18.13 µPa·s, from memory); None where it is too big for that law."""
    speed = (1000 - 1.204) * 9.80665 * (micrometres * 1e-6) ** 2 / (18 * 18.13e-6)
    return speed if 1.204 * speed * micrometres * 1e-6 / 18.13e-6 < 0.5 else None  # Reynolds' number


def drifts(book, cell, away):
    unit = 1 if book.metric else FOOT
    stands(cell, away / unit, "up", 1, slack=0.004 * away / unit)


@pytest.mark.parametrize("act", [limit("drift_act"), 20])
def test_how_far_mist_drifts_everywhere(book, act):
    """By the limit as it is written, and as somebody else may write it. Would notice:
    miles an hour taken for metres a second, feet for metres, a height that is not the caption's, a drop of another weight, a figure where the law does not hold."""
    written = book.facts.limits["drift_act"]
    facts = replace(book.facts, limits={**book.facts.limits, "drift_act": type(written).exact(act, "m")})
    table, (up, wind_unit, drop) = made(tables.Book(facts, book.formulas, book.system), "drift-distance"), (1.5, 1, 1) if book.metric else (5 * FOOT, MILE_AN_HOUR, MIL)
    assert ("from 1.5 m up" if book.metric else "from 5 ft up") in table.caption
    for size, wind, cell in every(table):
        speed = fall(float(size) * drop)
        if speed is None:
            dash(cell, "falls slower")
            assert cell.zone in ("", "none")
            continue
        away = up / speed * float(wind) * wind_unit
        drifts(book, cell, away)
        assert cell.zone in {"stop" if over else "care" for over in sides(away, act, 0.02 * away)}, (size, wind, cell, away)
    words = legend(table)
    assert "travels on" in words["stop"] and ("care" not in words if act < 6 else "car's length" in words["care"])  # all of it travels further than a car is long


def test_the_higher_the_further_everywhere(book):
    """Would notice: another wind than the caption's, a height in the other unit, a drop of another weight."""
    table, drop = made(book, "drift-height"), 1 if book.metric else MIL
    assert float(re.search(r"at ([\d.]+) (?:m/s|mph)", table.caption)[1]) == pytest.approx(limit("wind_max_near_cars") / (1 if book.metric else MILE_AN_HOUR), rel=0.02)
    for size, up, cell in every(table):
        speed = fall(float(size) * drop)
        if speed is None:
            dash(cell, "falls slower")
        else:
            drifts(book, cell, float(up) * (1 if book.metric else FOOT) / speed * limit("wind_max_near_cars"))


def test_dust_or_sticky_everywhere(book):
    """Stokes, and the law of the square of the diameter with psychrolib's wet bulb and vapour (diffusivity 2.4e-5 m²/s at 20 °C, from memory). Would notice: a fall from another
    height, summer's air for winter's, dust for sticky, a mark on the fall itself."""
    def vapour(air, share=1.0):
        return share * psychrolib.GetSatVapPres(air) / 461.5 / (air + 273.15)  # kg in each m³

    table, up, seen = made(book, "drift-dust"), 1.5 if book.metric else 5 * FOOT, set()
    for head, words in zip(table.columns.heads[1:], ("20 °C 50 %", "10 °C 80 %") if book.metric else ("68 °F 50 %", "50 °F 80 %"), strict=True):
        assert words in head
    assert ("1.5 m" if book.metric else "5 ft") in table.caption
    for size, (falls, *lasts) in table.grid():
        speed = fall(float(size) * (1 if book.metric else MIL))
        if speed is None:
            dash(falls, "falls slower")
        else:
            stands(falls, up / speed, "up", 0.1, slack=0.006 * up / speed)
        assert falls.zone in ("", "none")
        for cell, (air, humidity) in zip(lasts, ((20, 0.5), (10, 0.8)), strict=True):
            wet = psychrolib.GetTWetBulbFromRelHum(air, humidity, 101325)
            life = 1000 * (float(size) * (1 if book.metric else MIL) * 1e-6) ** 2 / (8 * 2.4e-5 * (vapour(wet) - vapour(air, humidity)))
            stands(cell, life, "up", 0.1, slack=0.03 * life)
            if speed is None:  # how long it falls is not known: never "dust before it lands"
                assert cell.zone == "care", (size, air, cell)
            elif abs(life * speed / up - 1) > 0.05:
                assert cell.zone == ("fine" if life < up / speed else "care"), (size, air, cell)
                seen.add(cell.zone)
    words = legend(table)
    assert seen == {"fine", "care"} and "dust" in words["fine"] and "sticky" in words["care"]
