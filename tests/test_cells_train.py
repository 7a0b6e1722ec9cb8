"""Every cell of the drills, worked a second time from drills.yaml as it is written: what is asked, how often a good and a bad hand pass, and in whose units.

Chances: so many right of so many (binomial), the mean of readings (a bell curve), their scatter (chi-squared, its density added up); boards are drawn here, stroke by stroke, with dice of
their own. Nine of ten good hands pass and nine of ten bad ones do not: common practice, no source. What two hands can do is in the file or, for strokes, common practice, no source.
Nothing of `generators` works an expected value: it prints what is looked at.
"""

from __future__ import annotations

import dataclasses
import math
import re
from statistics import NormalDist

import numpy as np
import pytest
from by_hand import FLUID_OUNCE, INCH, KITS, number, written
from conftest import read_in
from fans_by_hand import OF_KIT, SHAPES

from generators import formulas, tables
from generators.quantity import Quantity
from generators.tables import train

DRILLS = written("drills.yaml")
TITLED = {one["title"]: one for one in DRILLS.values()}
TRAINED, NEW = (12, 0.10), (25, 0.20)  # mm that a stroke is off its place, and its speed as a share, one standard deviation each: common practice, no source
BOARDS, DEFAULT = ("weight", "one-coat", "two-coats"), written("handbook.yaml")["default_kit"]
TO_US = {"mm": (INCH, 2, "in"), "mL": (FLUID_OUNCE, 1, "fl oz")}  # size of the US unit, the places a rule or a jug shows, its sign


@pytest.fixture(params=["metric", "us"])
def book(request):
    facts = read_in("uk")
    return tables.Book(facts, formulas.catalogue(facts), request.param)


def unit_of(mark):
    """Unit that a mark's limit is in."""
    return "%" if mark["kind"] in BOARDS else re.sub(r"^[\d.]+ ", "", mark["bad"])


def right_of(tries, least, share):
    """Chance to get so many of so many right."""
    return sum(math.comb(tries, right) * share**right * (1 - share) ** (tries - right) for right in range(least, tries + 1))


def under(most, freedom):
    """Chance that a sum of so many squares of a bell curve stays under it: its density, added up in thin strips (Simpson)."""
    strips, height = 4000, most / 4000

    def density(x):
        return x ** (freedom / 2 - 1) * math.exp(-x / 2) / (2 ** (freedom / 2) * math.gamma(freedom / 2)) if x else 0.0

    return height / 3 * sum((1 if strip in (0, strips) else 4 if strip % 2 else 2) * density(strip * height) for strip in range(strips + 1))


def laid(rng, kit, coats, hand, boards):
    """Boards of 1 m across their strokes: (weighed means, comb readings at twelve places), as shares of the film meant. Strokes half a fan apart, a second coat half a step over."""
    rig = KITS[kit]
    wide = (number(rig["near"]) + number(rig["far"])) * math.tan(math.radians(number(rig["fan_angle"]) / 2))
    across, step = SHAPES[OF_KIT[rig["pattern"]]], wide / 2
    places = np.concatenate([np.linspace(0, 1000, 31), np.linspace(60, 940, 12)])
    film = np.zeros((boards, len(places)))
    for coat in range(coats):
        for stroke in range(-4, math.ceil(1000 / step) + 4):
            centre = (stroke + coat / 2) * step + hand[0] * rng.standard_normal((boards, 1))
            share = (places - centre) / wide
            film += np.where(abs(share) <= 0.5, np.maximum(across(share), 0), 0) / np.maximum(1 + hand[1] * rng.standard_normal((boards, 1)), 0.4)
    film /= film[:, :31].mean()
    weighed = film[:, :31].mean(axis=1) * (1 + 0.01 * rng.standard_normal(boards))
    return weighed, (np.floor(film[:, 31:] / 0.25) + 0.5) * 0.25  # 25 µm from tooth to tooth on a film of 100: halfway to the next one


def boards_pass(mark, kit, boards, limit):
    """Shares of good and of bad hands whose boards pass, drawn."""
    rng, sets = np.random.default_rng(77), 700
    if mark["kind"] == "weight":
        weighed = laid(rng, kit, 1, TRAINED, sets * boards)[0].reshape(sets, boards).mean(axis=1)
        off = number(mark["bad"]) / 100
        return np.mean(abs(weighed - 1) * 100 <= limit), max(np.mean(abs(weighed * side - 1) * 100 <= limit) for side in (1 + off, 1 - off))
    shares = []
    for hand in (TRAINED, NEW):
        read = laid(rng, kit, 1 if mark["kind"] == "one-coat" else 2, hand, sets * boards)[1].reshape(sets, -1)
        shares.append(np.mean(100 * read.std(axis=1, ddof=1) / read.mean(axis=1) <= limit))
    return tuple(shares)


def chances(mark, readings, limit):
    """(good, bad) exactly, for what is no board."""
    good, bad = (number(mark[hand]) if hand in mark else 0.0 for hand in ("good", "bad"))
    if mark["kind"] == "count":
        return right_of(readings, limit, good / 100), right_of(readings, limit, bad / 100)
    if mark["kind"] == "spread":
        return tuple(under((readings - 1) * (limit / hand) ** 2, readings - 1) for hand in (good, bad))
    if mark["kind"] == "most":
        return tuple(NormalDist(hand, number(mark["scatter"]) / 100 * hand / math.sqrt(readings)).cdf(limit) for hand in (good, bad))
    wide = number(mark["scatter"]) / math.sqrt(readings)
    return tuple(NormalDist(off, wide).cdf(limit) - NormalDist(off, wide).cdf(-limit) for off in (0.0, bad))


def one_of(many):
    """One of them, in English."""
    return many[:-2] if many.endswith("xes") else many[:-1]


def asked(mark, words, metric):
    """(readings, limit in the file's own unit) as the words have them, when they are the words for this mark."""
    unit, of = unit_of(mark), mark["of"]
    if mark["kind"] == "count":
        found = re.fullmatch(rf"(?:all|(\d+) of) (\d+) {of} right", words)
        readings, right = int(found[2]), int(found[1] or found[2])
        assert (found[1] is None) == (right == readings) and (right == readings or not mark.get("all"))
        return readings, right
    found = re.fullmatch(r"(\d+) ([^:,]+)(?:, 12 readings on each)?: .*?([\d.]+) (%|[A-Za-z][A-Za-z ]*?)(?: or less.*| of the .*)", words)
    readings, limit = int(found[1]), float(found[3])
    size, places, shown = (1, None, unit) if metric or unit not in TO_US else TO_US[unit]
    assert found[2] == (one_of(of) if readings == 1 else of) and found[4] == shown, words
    mean, figure = readings > 1, f"{found[3]} {shown}"
    assert words.partition(": ")[2] == {
        "spread": f"scatter {figure} or less{' of the mean' if unit == '%' else ''}", "most": f"{figure} or less{' on the mean' if mean else ''}",
        "within": f"{'the mean ' if mean else ''}within {figure} of the aim", "weight": f"{'the mean ' if mean else ''}within {figure} of the {'grams' if metric else 'ounces'} asked",
        "one-coat": f"scatter {figure} of the mean or less", "two-coats": f"scatter {figure} of the mean or less"}[mark["kind"]]
    assert ("12 readings on each" in words) == (mark["kind"] in ("one-coat", "two-coats"))
    assert places is None or len(found[3].partition(".")[2]) <= places
    return readings, limit * size


def looked_at(mark, row, kit, metric):
    """One row of a table against its mark: its words, and both chances."""
    if mark["kind"] == "paper":
        assert row[1:4] == ("passed, and the paper kept", "the tester says", "the tester says")
        return
    readings, limit = asked(mark, row[1], metric)
    assert readings == mark.get("tries", readings)
    told = [int(re.fullmatch(r"(\d+) of 100", words)[1]) for words in row[2:4]]
    assert told[0] >= 90 and told[1] <= 10, row
    if mark["kind"] in BOARDS:
        for said, share in zip(told, boards_pass(mark, kit, readings, limit), strict=True):
            assert abs(100 * share - said) <= 4, (row, share)
        return
    good, bad = chances(mark, readings, limit)
    hair = 0 if metric or unit_of(mark) not in TO_US else 1  # chances are those of the metric limit: one that is rounded in for a US rule may be a hundredth stricter
    assert all(0 <= proud <= hair for proud in (told[0] - math.floor(100 * good + 1e-6), told[1] - math.ceil(100 * bad - 1e-6))), (row, good, bad)


def test_the_drills_of_the_week(book):
    """Would notice: a mark that a bad hand passes, a chance rounded to the proud side, another hand's, one reading for three, a US limit that is looser, ounces for grams, a drill of another day."""
    table = tables.BUILDERS["drills"](book)
    assert [row[0] for row in table.rows] == list(TITLED)
    for row in table.rows:
        one = TITLED[row[0]]
        assert row[4:] == (str(one["minutes"]), one["judge"])
        if book.metric or one["mark"]["kind"] not in ("one-coat", "two-coats"):  # the same boards are drawn once
            looked_at(one["mark"], row, DEFAULT, book.metric)
    for day in range(1, 8):
        of_day = tables.BUILDERS["drills"](book, day=day)
        assert of_day.rows == tuple(row for row in table.rows if TITLED[row[0]]["day"] == day) and of_day.title == f"Drills of day {day}"


@pytest.mark.parametrize("tries", [1, 2, 3])
def test_a_mark_of_two_readings_is_on_their_mean(book, tries):
    """Would notice: two times that must each be under the limit, where the chances are those of their mean; a mean of one."""
    drill = book.facts.drills["safety-sheet"]
    drill = drill.model_copy(update={"mark": drill.mark.model_copy(update={"tries": tries})})
    row = tables.BUILDERS["drills"](tables.Book(dataclasses.replace(book.facts, drills={"safety-sheet": drill}), book.formulas, book.system)).rows[0]
    assert row[1].startswith(f"{tries} product") and row[1].endswith(" or less on the mean") == (tries > 1)
    readings, limit = asked({**DRILLS["safety-sheet"]["mark"], "tries": tries}, row[1], book.metric)
    good, bad = chances(DRILLS["safety-sheet"]["mark"], readings, limit)
    assert [int(words.split()[0]) for words in row[2:4]] == [math.floor(100 * good + 1e-6), math.ceil(100 * bad - 1e-6)]


@pytest.mark.parametrize("kit", KITS)
def test_pass_marks_of_boards(kit):
    """Would notice: another kit's fan, its width at one end of its reach, half its angle or all of it, a comb with other teeth."""
    facts = read_in("uk")
    table = tables.BUILDERS["pass-marks"](tables.Book(facts, formulas.catalogue(facts), "metric"), kit)
    assert [row[0] for row in table.rows] == [one["title"] for one in DRILLS.values() if one["mark"]["kind"] in BOARDS] and KITS[kit]["name"] in table.title
    for row in table.rows:
        looked_at(TITLED[row[0]]["mark"], row, kit, True)


def test_us_limits_are_never_looser():
    """On digits that a rule or a jug shows. Would notice: an inch's hundredth too much, or one more than need be too little."""
    metric, us = (dict((row[0], row[1]) for row in tables.BUILDERS["drills"](tables.Book(read_in("uk"), formulas.catalogue(read_in("uk")), system)).rows) for system in ("metric", "us"))
    seen = set()
    for title, one in TITLED.items():
        if one["mark"]["kind"] not in ("paper", "count"):
            (_, limit), (_, told) = asked(one["mark"], metric[title], True), asked(one["mark"], us[title], False)
            size, places, _ = TO_US.get(unit_of(one["mark"]), (1, 9, ""))
            assert 0 <= limit - told + 1e-9 < size / 10**places + 1e-6, title
            seen.add(unit_of(one["mark"]))
    assert seen >= {"mm", "mL", "%", "s", "min"}


def test_which_hands_are_told_apart(book):
    """As the file has them; US readers have inches and ounces. Would notice: the hands of another kind of mark, a bad hand for a good one, a scatter left out."""
    def said(text):
        unit = re.sub(r"^[\d.]+ ", "", text)
        if book.metric or unit not in TO_US:
            return text
        size, places, shown = TO_US[unit]
        return f"{round(number(text) / size, places):g} {shown}"

    steady, shaky = (f"places within {said(f'{place} mm')}, speed within {100 * speed:g} %" for place, speed in (TRAINED, NEW))
    for key, one in DRILLS.items():
        mark, told = one["mark"], train.hands_words(book.facts.drills[key], book.system)
        good, bad, scatter = (said(mark.get(name, "")) for name in ("good", "bad", "scatter"))
        assert told == {
            "paper": "", "count": f"Good hand: right {good.removesuffix(' %')} times of 100. Bad hand: {bad.removesuffix(' %')}.", "spread": f"Good hand: scatter {good}. Bad hand: {bad}.",
            "most": f"Good hand: {good} on the mean. Bad hand: {bad}. Both scatter by {scatter}.",
            "within": f"Good hand: on the aim. Bad hand: {bad} off it. Each single one scatters by {scatter}.",
            "weight": f"Good hand: {steady}. Bad hand: just as steady, and {bad} too heavy, or too light."}.get(mark["kind"], f"Good hand: {steady}. Bad hand: {shaky}."), key


def test_how_many_figures_a_trainee_writes(book):
    """One where rights are counted, twelve for each combed board, else one for each reading; a share is judged as a share.
    Would notice: a form that asks for other figures than the mark was worked for."""
    rows = {row[0]: row for row in tables.BUILDERS["drills"](book).rows}
    for key, one in DRILLS.items():
        mark, drill = one["mark"], book.facts.drills[key]
        wanted, how = train.wanted(drill, train.chosen(book.facts, drill)), train.how(drill)
        if mark["kind"] == "paper":
            assert wanted == 0 and not how
            continue
        readings, _ = asked(mark, rows[one["title"]][1], book.metric)
        assert wanted == (1 if mark["kind"] == "count" else 12 * readings if mark["kind"] in ("one-coat", "two-coats") else readings), key
        assert how.partition("-")[0] == {"within": "off", "weight": "off", "one-coat": "combed", "two-coats": "combed"}.get(mark["kind"], mark["kind"])
        assert how.endswith("-share") == (mark["kind"] in ("spread", "within", "weight") and unit_of(mark) == "%"), key


def test_figures_on_a_whole_step_stay_on_it():
    """An inch is 25.4 mm, a tenth is ten of a hundred. Would notice: 0.99 in for an inch, 11 of 100 for a tenth, 28 for 29."""
    assert train.limit_in(25.4, "mm", "us") == (1.0, "in") and train.limit_in(10 * FLUID_OUNCE, "mL", "us") == (10.0, "fl oz") and train.limit_in(25.4, "mm", "metric") == (25.4, "mm")
    for share in (0.1, 0.29, 0.57, 0.93):  # 0.29 and 0.57 are a hair under in binary figures
        assert train.hand_share(share, True) == train.hand_share(share, False) == round(100 * share)
    assert train.hand_share(0.955, True) == 96 and train.hand_share(0.955, False) == 95


def test_a_comb_s_gap_is_the_one_round_the_film():
    """Teeth of 50, 90, 130, 200 and 300: a film of 130 is read between 130 and 200; one past the comb, or with no comb, by a quarter of itself (common practice, no source).
    Would notice: the gap under the film, the first gap over it, a sum for a gap."""
    facts = read_in("uk")
    comb = facts.combs[0]
    uneven = dataclasses.replace(facts, combs=(comb.model_copy(update={"teeth": [Quantity.exact(tooth, "µm") for tooth in (50, 90, 130, 200, 300)]}),))
    for film, gap in ((60, 40), (100, 40), (130, 70), (250, 100)):
        assert train._tooth(uneven, film) == pytest.approx(gap / film, abs=1e-4), film
    assert train._tooth(uneven, 400) == train._tooth(dataclasses.replace(facts, combs=()), 100) == 0.25
