"""Every cell of the film's tables, worked a second time: volume is neither made nor lost, ripples level and films slide as their laws have it.

Nothing of `generators` works an expected value: it only prints what is looked at. Where no source stands beside a check, it is arithmetic or the definition of a unit.
"""

from __future__ import annotations

import csv
import math
import re
import statistics
from dataclasses import replace

import numpy as np
import pytest
from by_hand import CLASSES, COATINGS, DATA, FOOT, GALLON, KITS, MIL, SPRAYED, dash, every, family, legend, number, said, stands
from fans_by_hand import HANDS, middle_fan, two_coats

from generators import tables

TEETH = [float(one) for one in next(csv.DictReader(line for line in (DATA / "combs.csv").read_text(encoding="utf-8").splitlines() if not line.startswith("#")))["teeth [µm]"].split()]
NAMES = {COATINGS[slug]["name"]: slug for slug in SPRAYED}


def made(book, name, *more):
    return tables.BUILDERS[name](book, *more)


def voc_limit(slug):
    """g/L that the law of the demonstration's own region (UK) allows in a paint's category, water-borne or solvent-borne, as site_data/law/voc.csv has it; no limit where it has none."""
    water = family(slug) in ("waterborne", "mineral")
    rules = list(csv.DictReader((DATA / "law/voc.csv").read_text(encoding="utf-8").splitlines()))
    found = [float(rule["figure"]) for rule in rules if rule["region"] == "uk" and rule["key"] == f"{COATINGS[slug].get('voc_category')}|{'wb' if water else 'sb'}"]
    return found[0] if found else math.inf


def wet(slug, percent):
    """µm of wet film, with so much thinner in % of the paint, that dries to what the data sheet asks: solids stay, all else leaves."""
    tin = COATINGS[slug]
    return number(tin["dry_film"]) / (number(tin["volume_solids"]) / 100) * (1 + percent / 100)


def voc_of_mix(slug, percent):
    """g of solvent in a litre of the mix."""
    return (number(COATINGS[slug]["voc"]) + percent / 100 * number(COATINGS[slug]["thinner_density"])) / (1 + percent / 100)


def test_coverage_is_a_box(book):
    """A litre (gallon) spread to a film that, dried, is as thick as it should be. Would notice: wet for dry, all for what lands, rounding up."""
    litre, area, film = (1, 1, 1) if book.metric else (GALLON, FOOT**2, MIL)
    table = made(book, "coverage")
    assert "65 %" in table.title and "65 %" in table.caption
    for solids, dry, cell in every(table):
        spread = litre * 1e-3 * said(solids) / 100 * 0.65 / (float(dry) * film * 1e-6)
        stands(cell, spread / area, "down", 0.1 if book.metric else 5)


def test_wet_film_of_every_paint(book):
    """Would notice: a film rounded down, thinner that brings solids, a figure past the label, a mix past the law that is not marked."""
    mil, step, table, stopped = 1 if book.metric else MIL, 1 if book.metric else 0.1, made(book, "wet-film"), 0
    assert list(table.rows.heads) == list(NAMES)
    for name, percent, cell in every(table):
        slug, thinner = NAMES[name], said(percent)
        if thinner > number(COATINGS[slug]["thinner_max"]):
            dash(cell, "past the data sheet's maximum thinner")
            assert cell.zone == "stop", (name, percent, cell)
            continue
        stands(cell, wet(slug, thinner) / mil, "up", step)
        over = thinner > 0 and voc_of_mix(slug, thinner) > voc_limit(slug)
        stopped += over
        assert cell.zone == ("stop" if over else ""), (name, percent, cell)
    assert stopped == 1  # an alkyd near its limit: white spirit takes it over
    assert "data sheet's maximum" in legend(table)["stop"] and "law" in legend(table)["stop"]


def most(slug):
    """% of thinner that the label and the law leave room for: solved by halving."""
    low, high = 0.0, number(COATINGS[slug]["thinner_max"])
    if voc_of_mix(slug, high) <= voc_limit(slug):
        return high
    for _ in range(60):
        low, high = (low, (low + high) / 2) if voc_of_mix(slug, (low + high) / 2) > voc_limit(slug) else ((low + high) / 2, high)
    return low


def test_the_teeth_of_a_comb(book):
    """The last tooth that a film touches is wet, the next is dry. Would notice: a tooth one place aside, the film of another thinner, unthinned at both places."""
    mil, step, table = 1 if book.metric else MIL, 1 if book.metric else 0.1, made(book, "comb-teeth")
    assert list(table.rows.heads) == list(NAMES) and list(table.columns.heads) == ["unthinned", "wet tooth", "dry tooth", "most thinner", "wet tooth", "dry tooth"]
    for name, row in table.grid():
        for thinner, (film, touched, clear) in zip((0.0, most(NAMES[name])), (row[:3], row[3:]), strict=True):
            exact = wet(NAMES[name], thinner)
            stands(film, exact / mil, "nearest", step)
            under, over = [tooth for tooth in TEETH if tooth <= exact + 1e-6], [tooth for tooth in TEETH if tooth > exact + 1e-6]
            if under and over:
                stands(touched, under[-1] / mil, "nearest", step)
                stands(clear, over[0] / mil, "nearest", step)
            else:
                dash(touched, "first tooth")
                dash(clear, "first tooth")


@pytest.mark.parametrize("kit", KITS)
def test_aim_higher_than_the_minimum(book, kit):
    """The mean at which 95 places in 100 hold the least film, by dice of our own (two hundredths to the safe side at the most, next to nothing to the other). All rows of a column
    tell one share. Would notice: a mean under the least, a new hand's for a trained one's, one coat's for two, rounding down."""
    shape, width = middle_fan(kit)
    step, table = 1 if book.metric else 0.05, made(book, "minimum-film", kit)
    heads = [(hand, coats) for hand in HANDS for coats in ("one coat", "two coats in all")]
    assert list(table.columns.heads) == [f"{hand} hand, {coats}" for hand, coats in heads]
    for column, (hand, coats) in enumerate(heads):
        low = two_coats(shape, 0.5, HANDS[hand][0] / width, HANDS[hand][1], "one coat" if coats == "one coat" else "two coats, the second half a step over")[1] / 100
        spans = []
        for least, row in table.grid():
            aim = said(row[column].text)
            stands(row[column], aim, "nearest", step)
            spans.append((float(least) / aim, float(least) / (aim - step)))
        told, under = max(span[0] for span in spans), min(span[1] for span in spans)
        again = dict(made(book, "second-coat", kit).grid())["one coat" if coats == "one coat" else "two coats, the second half a step over"]
        whole = said(next(cell.text for head, cell in zip(made(book, "second-coat", kit).columns.heads, again, strict=True) if head.startswith(f"{hand}: low")))
        assert whole / 100 - 1e-9 <= under and told < whole / 100 + 0.01, (hand, coats, whole, told, under)  # the other table prints the same share, rounded down
        assert told < under and low - 0.022 <= told and under <= low + 0.02, (kit, hand, coats, told, under, low)


@pytest.mark.parametrize("kit", KITS)
def test_your_own_hand_as_measured(book, kit):
    """A crew that measured its own scatter: of a bell-shaped spread 95 places in 100 lie over the mean less 1.645 standard deviations (any table of the bell curve); a real
    film's spread is a little over that or under it. Would notice: the column left out, the kind end taken, another step's spreads."""
    one = book.facts.kits[kit]
    facts = replace(book.facts, kits={**book.facts.kits, kit: one.model_copy(update={"hand_scatter": type(one.flow)(10, 12, 15, "%")})})
    table = made(tables.Book(facts, book.formulas, book.system), "minimum-film", kit)
    assert table.columns.heads[-1] == "your hand as measured, one coat"
    spreads = min(1.0 / (float(head) / said(row[-1].text)) for head, row in table.grid())
    # Drawn by our own dice for hands from half as unsteady as a trained one to twice.
    shape, width = middle_fan(kit)
    drawn = [two_coats(shape, 0.5, times * HANDS["trained"][0] / width, times * HANDS["trained"][1], "one coat") for times in (0.5, 1, 1.5, 2)]
    worst = max((100 - low) / scatter for scatter, low in drawn)
    low = 1 - worst * 0.15
    assert 1 / (low + 0.01) <= spreads <= 1 / (low - 0.02) and abs(worst - 1.645) < 0.3, (kit, spreads, low)


GRAVITY = 9.80665
# 30 mN/m, 1200 kg/m³, 3 mm of slide that an eye sees: common practice, no source, as the picture's own note says.
TENSION, DENSITY, SLIDE = 30e-3, 1200, 3e-3


def seconds(text):
    return number(text) * (60 if "min" in text else 1)


@pytest.mark.parametrize("ripple", [2, 4, 5, 6])
@pytest.mark.parametrize("kind", ["waterborne", "solvent", "two-pack", "oil", "mineral"])
def test_between_orange_peel_and_runs(book, kind, ripple, monkeypatch):
    """A ripple in a thin film shrinks as Orchard (1962) has it, a film on a wall slides as any text on viscous flow has it (both from memory); with the picture's ripple of 2 mm,
    and with longer ones that level late. Would notice: minutes for seconds, a window that is upside down or told where there is none, a fifth or a half for a twentieth, another
    family's open time, a run marked as care."""
    time = statistics.median(seconds(one["open_time"]) for one in CLASSES.values() if one["family"] == kind)
    if ripple == 2:
        chart = made(book, f"window-{kind}")
        assert ("2 mm" if book.metric else "0.08 in") in chart.notes[0] and ("3 mm" if book.metric else "⅛ in") in chart.notes[0]
    else:
        monkeypatch.setattr(tables.film, "RIPPLE", float(ripple))
        chart = made(replace(book, kept={}), f"window-{kind}")
    assert f"open for {time / 60:g} minutes" in chart.caption and f"{time / 60:g} minutes" in chart.description
    assert (chart.y.low, chart.y.high) == (min(chart.y.ticks), max(chart.y.ticks)) == (0.2, 100)
    x = np.array(chart.lines[0].xs) * (1 if book.metric else MIL) * 1e-6
    assert x[0] == pytest.approx(30e-6) and x[-1] == pytest.approx(250e-6) and (chart.x.low, chart.x.high) == (chart.lines[0].xs[0], chart.lines[0].xs[-1])
    # A wave of height a on a film h thick: da/dt = −(σ h³/3η)(2π/λ)⁴ a. A twentieth is left after ln 20 of its times.
    levels = time * TENSION * x**3 * (2 * math.pi / (ripple / 1000)) ** 4 / 3 / math.log(20)
    # A film under its own weight: its surface runs at ρ g h²/2η.
    holds = DENSITY * GRAVITY * x**2 / 2 * time / SLIDE
    (peel,), (runs,), (good,) = ([band for band in chart.bands if band.zone == zone] for zone in ("care", "stop", "fine"))

    def drawn(ys, values):
        return np.allclose(ys, np.clip(values, 0.2, 100), rtol=1e-6)

    assert drawn(chart.lines[0].ys, levels) and drawn(chart.lines[1].ys, holds) and chart.lines[0].strong
    assert peel.label == "orange peel" and drawn(peel.low, np.maximum(levels, holds)) and np.allclose(peel.high, 100)
    assert runs.label == "runs" and np.allclose(runs.low, 0.2) and drawn(runs.high, np.minimum(levels, holds))
    assert drawn(good.low, np.minimum(levels, holds)) and drawn(good.high, levels)
    meet = 3 * math.log(20) * DENSITY * GRAVITY / (2 * SLIDE) / (TENSION * (2 * math.pi / (ripple / 1000)) ** 4)  # m of film where both viscosities are one
    if meet <= 30e-6:
        assert "all along" in chart.description
    elif meet < 250e-6:
        told = float(re.search(r"From about ([\d.]+) (?:µm|mil) a window opens", chart.description)[1]) * (1 if book.metric else MIL)
        assert told == pytest.approx(meet * 1e6, abs=3)  # drawn every 2 µm
    else:
        assert "also runs" in chart.description
    assert good.label == ("levels and holds" if meet < 180e-6 else "")  # where there is room for the words
