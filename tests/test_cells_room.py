"""Every cell of the tables of the room, of protection and of the law, worked a second time from the files as they are written.

Laws: a room that is always mixed (its balance of mass, solved by hand), an ideal gas, a level that falls with distance, halving by so many decibels. Rules of law are read
here as text: a district before its region, a region before the one it stands under, and on the handbook's own day.
Nothing of `generators` works an expected value: it prints what is looked at.
"""

from __future__ import annotations

import dataclasses
import functools
import math
import re
from collections import Counter
from datetime import date

import pytest
from by_hand import CLASSES, COATINGS, DATA, FLUID_OUNCE, FOOT, GALLON, QUART, dash, every, legend, limit, number, rows_of, stands, written
from conftest import read_in

from generators import formulas, tables
from generators.quantity import Quantity

REGIONS = {path.stem: written(f"regions/{path.name}") for path in sorted((DATA / "regions").glob("*.yaml"))}
SUBJECTS = [path.stem for path in sorted((DATA / "law").glob("*.csv"))]
LAW = {subject: rows_of(f"law/{subject}.csv") for subject in SUBJECTS}
SOURCES = written("sources.yaml")
TODAY = str(written("handbook.yaml")["date"])
GAS, KELVIN, ATMOSPHERE = 8.314462618, 273.15, 101.325  # J/(mol·K), K, kPa: definitions
ORDINARY = 3  # the mixing factor of an ordinary room: an older US rule's 3 to 10, from memory


@functools.cache
def in_region(region, system=None, day=None, district=None, room=None):
    """A book of this handbook as a region reads it; of another day, district or room where one is named."""
    facts = read_in(region)
    told = {"made": day} if day else {}
    facts = dataclasses.replace(facts, handbook=facts.handbook.model_copy(update={**told, "district": district}))
    if room:
        old = facts.limits["room_volume"]
        facts = dataclasses.replace(facts, limits={**facts.limits, "room_volume": Quantity.exact(room, "m³", old.origin)})
    return tables.Book(facts, formulas.catalogue(facts), system or facts.handbook.system)


@pytest.fixture(params=["metric", "us"])
def book(request):
    return in_region("uk", request.param)


def in_force(subject, region, day=TODAY):
    """Rules in force on a day, one for each key, the nearest place first. One that has ended with nothing after it still stands there."""
    line = [region]
    while "-" in line[-1]:
        line.append(line[-1].rpartition("-")[0])
    while REGIONS[line[-1]].get("under"):
        line.append(REGIONS[line[-1]]["under"])
    found = {}
    for place in line:
        mine = {}
        for rule in LAW[subject]:
            if rule["region"] == place and (not rule["from"] or rule["from"] <= day):
                before = mine.get(rule["key"])
                if before is None or (before["to"] and (not rule["to"] or rule["to"] > before["to"])):
                    mine[rule["key"]] = rule
        found = {**found, **{key: rule for key, rule in mine.items() if key not in found}}
    return list(found.values()), [rule for place in line for rule in LAW[subject] if rule["region"] == place and rule["from"] and rule["from"] > day]


def room_of(book, cubic=None):
    """m³ of the ordinary room; US readers have the round one below, in hundreds of cubic feet."""
    cubic = cubic or limit("room_volume")
    return cubic if book.metric else math.floor(cubic / FOOT**3 / 100) * 100 * FOOT**3


def still_in_the_air(grams, minutes, volume, changes):
    """Grams in each m³ when so many have come evenly over so many minutes into a room that is aired: what comes, less what goes, solved by hand."""
    out = changes / ORDINARY / 60  # share of the room that is fresh in a minute
    return grams / minutes / volume * (1 - math.exp(-out * minutes)) / out


# Vapour


@pytest.mark.parametrize("slug", [slug for slug, tin in COATINGS.items() if "stops" not in tin])
def test_vapour_of_ten_minutes_spraying(book, slug):
    """An ideal gas at 20 °C (68 °F). The solvent of the data sheet that burns first; where none is named, the lowest of all that are likely (0.6 % of white spirit, 142 g/mol).
    A water paint's solvent boils too high to be in the air in ten minutes (from memory), so over the level it is told with care; any other paint is stopped.
    Would notice: a share over the level to act at that is not a stop; a share rounded down; half the minutes."""
    tin, solvents = COATINGS[slug], {row["name"]: row for row in rows_of("solvents.csv")}
    named = [solvents[one["name"]] for one in tin.get("sds", {}).get("solvents", [])] or [solvents["White spirit, the family"]]
    burns = min(lowest(row, "lel") / 100 * float(row["molar_mass [g/mol]"]) for row in named) / (GAS * (KELVIN + 20) / ATMOSPHERE / 1000)  # g/m³
    table, act, seen = tables.BUILDERS["room-vapour"](book, slug), limit("explosive_share_act"), set()
    assert act == 10 and f"{room_of(book) / (1 if book.metric else FOOT**3):.0f} {'m³' if book.metric else 'ft³'}" in table.caption
    for changes, sprayed, cell in every(table):
        grams = float(sprayed) * (1 if book.metric else QUART) * number(tin["voc"])
        share = 100 * still_in_the_air(grams, 10, room_of(book), float(changes)) / burns
        stands(cell, share, "up", 0.1, hair=1e-4)
        if abs(share / act - 1) > 1e-4:
            assert cell.zone == ("stop" if share > act and CLASSES[tin["class"]]["family"] not in ("waterborne", "mineral") else "care"), (changes, sprayed, cell, share)
        seen.add(cell.zone)
    words = legend(table)
    assert set(words) == seen and ("stop" not in seen or words["stop"].startswith("stop: no more spraying")) and ("care" not in seen or "under the level to act at" in words["care"])


def lowest(row, what):
    """The lowest that any list gives of a solvent; None where none does."""
    found = [float(value) for head, value in row.items() if head.startswith(what) and "g11" not in head and value]
    return min(found, default=None)


def test_a_hard_stop_has_no_vapour(book):
    """Would notice: a paint that may not be sprayed at all with a share under the level to act at."""
    told = tables.BUILDERS["room-vapour"](book, "spar-two-pack-finish")
    assert told.heads == ("No figures",) and told.rows[0][0].startswith("STOP. ")


def test_a_room_clears_as_its_balance_says(book):
    """Half a litre (a pint) at 400 g/L over ten minutes, by the same balance, then what is left falls by itself.
    Would notice: another paint, a fall that begins too soon, a line under another name."""
    chart, litres = tables.BUILDERS["clearing"](book), 0.5 if book.metric else QUART / 2
    left = {}
    for line, changes in zip(chart.lines, (1, 4, 12), strict=True):
        assert line.label == f"{changes} changes/h" and len(line.xs) == len(line.ys) == 180 and (line.xs[0], line.xs[-1]) == (0.5, 90)
        for minutes, level in zip(line.xs, line.ys, strict=True):
            on = min(minutes, 10)
            grams = still_in_the_air(litres * 400 * on / 10, on, room_of(book), changes) * math.exp(-changes / ORDINARY / 60 * (minutes - on))
            assert level == pytest.approx(grams, rel=1e-6), (changes, minutes)
        left[changes] = level
    assert f"{left[1]:.1f} g/m³ are left at 1 air change an hour, {left[4]:.1f} at 4, and {left[12]:.2f} at 12" in chart.description
    assert ("Half a litre at 400 g/L sprayed over 10 minutes in 30 m³" if book.metric else "A pint at 400 g/L sprayed over 10 minutes in 1000 ft³") in chart.caption


def test_minutes_to_clear_the_air(book):
    """By halving: what is left after each 60·ln 2 / changes minutes is half; three times that in an ordinary room. (The published table, CDC 1994, has the same law.)
    Would notice: minutes rounded down, an ordinary room that clears as a perfect one, another share under the head."""
    table = tables.BUILDERS["clearance"](book)
    assert table.columns.heads == ("90 %", "99 %", "99.9 %", "ordinary 90 %", "ordinary 99 %", "ordinary 99.9 %")
    for changes, head, cell in every(table):
        left = 1 - float(re.search(r"[\d.]+", head)[0]) / 100
        stands(cell, 60 * math.log(2) / float(changes) * math.log2(1 / left) * (ORDINARY if "ordinary" in head else 1), "up", 1)


# Air for each measure of solvent


def breathing(solvent, region, day):
    """(lowest ppm or None, whose rule, why there is none): the lowest of the list over eight hours, a quarter of an hour or never above it; weights by an ideal gas at the list's own warmth.
    Where an eight-hour rule holds whose figure nobody knows here, there is none, whatever else there is."""
    mine = [rule for rule in in_force("air", region, day)[0] if rule["key"].split("|")[0] == solvent["key"] and rule["key"].split("|")[1] in ("8h", "15min", "ceiling")]
    for rule in mine:
        if rule["key"].endswith("|8h") and not rule["figure"] and "not known here" in rule["says"]:
            return None, None, rule["says"]
    found = []
    for rule in mine:
        if rule["figure"]:
            warm = number(REGIONS[region.partition("-")[0]]["air_at"])
            each = 1 if rule["unit"] == "ppm" else GAS * (KELVIN + warm) / ATMOSPHERE / float(solvent["molar_mass [g/mol]"])  # mg/m³ to parts in a million
            found.append((float(rule["figure"]) * each, rule))
    if found:
        return *min(found, key=lambda one: one[0]), ""
    return None, None, next((rule["says"] for rule in mine if rule["says"]), "no figure in this region's list")


@pytest.mark.parametrize(("region", "system", "day"), [("uk", "metric", TODAY), ("uk", "us", TODAY), ("us", "us", TODAY), ("eu", "metric", TODAY), ("au", "metric", TODAY),
                                                       ("au", "metric", "2026-12-02"), ("ca", "metric", TODAY), ("nz", "metric", TODAY), ("ie", "metric", TODAY)])
def test_air_for_each_measure_of_solvent(region, system, day):
    """Vapour of a litre (gallon) by an ideal gas at 21 °C (70 °F), in so much air that a tenth of what burns, or what may be breathed, is left. Flash points, limits to burn and to breathe rounded
    down, air up. Would notice: another list's higher limit, a limit by weight taken for parts in a million, an old figure where the new one is not known, less air than it takes."""
    book = in_region(region, system, day)
    table, metric = tables.BUILDERS["air-needed"](book), system == "metric"
    solvents = {row["name"]: row for row in rows_of("solvents.csv") if row["key"] and lowest(row, "lel")}
    rows, named, volume = dict(table.grid()), [], 1 if metric else GALLON / 1000 / FOOT**3 * 1000  # m³/L in ft³/gal
    assert list(rows) == list(solvents)
    for name, (flash, lel, air, breathe, to_breathe, times) in rows.items():
        row = solvents[name]
        point, burns = lowest(row, "flash"), lowest(row, "lel")
        if point is None:
            dash(flash, "not known here")
        else:
            stands(flash, point if metric else point * 1.8 + 32, "down", 1)
        stands(lel, burns, "down", 0.1)
        vapour = float(row["density [kg/L]"]) * GAS * (KELVIN + 21) / float(row["molar_mass [g/mol]"]) / ATMOSPHERE
        stands(air, vapour * (1 - burns / 100) / (burns / 100 * 0.1) * volume, "up", 1 if metric else 100)
        ppm, rule, why = breathing(row, region, day)
        if ppm is None:
            for cell in (breathe, to_breathe, times):
                assert cell.text == "–" and cell.reason == why, (name, cell, why)
            continue
        named.append(rule["key"].partition("|")[0].replace("-", " "))
        stands(breathe, ppm, "down", 1)
        stands(to_breathe, vapour / (ppm * 1e-6) * volume, "up", 10 if metric else 1000)
        stands(times, burns / 100 * 0.1 / (ppm * 1e-6), "up", 1)
    note = table.notes[-1]
    told = sorted({one for part in re.findall(r": ([^:.]*)\.", note) for one in part.split(", ")} - {"check again"})
    assert note.startswith("Limits to breathe: ") and (": all." in note or told == sorted(named)), (note, named)


def test_a_limit_to_burn_between_two_tenths_goes_down():
    """Would notice: 0.97 % told as 1.0 %: vapour that burns sooner than it says."""
    book = in_region("uk")
    solvents = [one.model_copy(update={"lel_iec": Quantity.exact(0.97, "%", one.lel_iec.origin)}) if one.name == "Toluene" else one for one in book.facts.solvents]
    rows = dict(tables.room.air_needed(tables.Book(dataclasses.replace(book.facts, solvents=tuple(solvents)), book.formulas, "metric")).grid())
    assert [rows["Toluene"][place].text for place in (1, 5)] == ["0.9", "20"]  # 0.097 % is 970 parts in a million, 19.4 times 50


# Noise


@pytest.mark.parametrize("region", ["uk", "us"])
def test_how_long_at_a_noise(region):
    """Eight hours at 85 dBA, half of it for each 3 dB more (a health body's advice, published); in the US law's own rule too, 90 dBA and 5 dB.
    Would notice: minutes rounded up, a shorter day, the law's laxer rule shown elsewhere, a level that asks for protection with no stop."""
    table = tables.BUILDERS["noise-time"](in_region(region))
    assert table.columns.heads == (("3 dB rule, from 85 dBA", "5 dB rule, from 90 dBA") if region == "us" else ("3 dB rule, from 85 dBA",))
    for level, head, cell in every(table):
        step, whole = (3, limit("noise_action")) if head.startswith("3") else (5, 90)
        minutes = 480 * 0.5 ** ((float(level) - whole) / step)
        stands(cell, min(minutes, 24 * 60), "down", 1)  # a day has no more
        assert cell.zone == ("care" if minutes >= 480 - 1e-6 else "stop"), (level, head, cell)
    assert legend(table) == {"care": "a whole day: plugs are still wise", "stop": "wear protection"}


def test_noise_further_off(book):
    """Twenty times the log of times further (an open field; from memory). Would notice: a level rounded down, metres for feet."""
    for level, away, cell in every(tables.BUILDERS["noise-away"](book)):
        stands(cell, float(level) - 20 * math.log10(float(away) / (1 if book.metric else 3)), "up", 1)


@pytest.mark.parametrize(("region", "day"), [("uk", TODAY), ("us", TODAY), ("ca", TODAY), ("ie", TODAY), ("uk", "2028-01-01")])
def test_what_the_law_asks_of_noise(region, day):
    """Would notice: another region's rules, a level without what to do, an old rule that does not say so."""
    rules, _ = in_force("noise", region, day)
    told = tables.BUILDERS["noise-limits"](in_region(region, day=day))
    assert told.name == "noise-limits" and [row[:3] for row in told.rows] == [(rule["scope"], amount(rule), old(rule, day) + rule["says"]) for rule in rules] and rules


# Mist


@pytest.mark.parametrize(("region", "system", "room"), [
    ("uk", "metric", None), ("uk", "us", None), ("us", "us", None), ("eu", "metric", None), ("au", "metric", None), ("au", "metric", 200.0), ("uk", "metric", 120.0), ("ca", "us", 150.0)])
def test_mist_and_what_a_mask_must_count(region, system, room):
    """Limits.yaml: 600 g of solids in a litre, a tenth of what misses stays up; 65 % lands (common practice, no source). Ten minutes, the room's own balance, over the region's limit for dust.
    Would notice: mist that a half mask is too little for with no stop, a factor rounded down, a gas filter's lower count not told, no words where no limit is known."""
    book = in_region(region, system, room=room)
    table, rules = tables.BUILDERS["mist"](book), {rule["key"]: rule for rule in in_force("dust", region)[0]}
    inhaled = rules.get("dust|inhalable", {}).get("figure")
    masks = {rule["key"]: float(rule["figure"]) for rule in in_force("masks", region)[0] if rule["figure"]}
    counts = {kind: masks[key] for kind, key in (REGIONS[region].get("masks") or {}).items()}
    for changes, flow, cell in every(table):
        grams = float(flow) * (1 if book.metric else FLUID_OUNCE) / 1000 * 10 * limit("mist_solids") * 0.35 * limit("mist_airborne") / 100
        level = 1000 * still_in_the_air(grams, 10, room_of(book, room), float(changes))
        if not inhaled:
            stands(cell, level, "up", 10)
            assert cell.zone == ""
            continue
        times = level / float(inhaled)
        stands(cell, times, "up", 1)
        assert cell.zone == ("care" if math.ceil(times) <= counts["half"] else "stop"), (changes, flow, cell, times)
    words, notes = legend(table), " ".join(table.notes)
    if not inhaled:
        assert table.unit == "mg/m³" and not words and "No limit for dust is known here" in notes and "powered or air-fed, or a brush" in notes
        return
    if room:
        assert "care" in words
    assert all(f"counts {counts['half']:g}" in words[zone] and {"care": "a half mask with particle filters", "stop": "more than a half mask"}[zone] in words[zone] for zone in words)
    assert ("With a gas filter as well a half mask counts" in notes) == (counts["half_gas"] < counts["half"])
    assert f"A full mask counts {counts['full']:g}, air-fed or powered kit {counts['air_fed']:g}:" in notes
    fine = rules.get("dust|respirable", {}).get("figure")
    assert ("fine enough to reach deep into the lung" in notes) == bool(fine)
    if fine:
        assert f"the limit is {fine} mg/m³, and each figure {float(inhaled) / float(fine):.2g} times as high" in notes


def test_mist_where_a_region_knows_only_some_masks():
    """Would notice: a full mask's count told with none for air-fed kit, or the other way round."""
    book = in_region("uk")
    masks = book.facts.regions["uk"].masks
    uk = book.facts.regions["uk"].model_copy(update={"masks": masks.model_copy(update={"air_fed": "nothing-of-the-kind"})})
    facts = dataclasses.replace(book.facts, regions={**book.facts.regions, "uk": uk})
    notes = " ".join(tables.safety.mist(tables.Book(facts, book.formulas, "metric")).notes)
    assert "A full mask counts" not in notes and "With a gas filter as well a half mask counts 10 only." in notes


# Protection


@pytest.mark.parametrize("region", ["uk", "eu", "us", "au"])
def test_what_masks_and_gloves_count_for(region):
    """Every device of the region's own list, and every rank of gloves.csv, with its mark in words.
    Would notice: another region's factor, a dash for a figure, a glove that lets it through called good."""
    told = tables.BUILDERS["factors"](in_region(region))
    rules, _ = in_force("masks", region)
    assert [row[:2] for row in told.rows] == [(rule["scope"], f"{rule['figure']}×" if rule["figure"] else "–") for rule in rules]
    assert all(row[2].startswith(f"{rule['says']}; " if rule["says"] else rule["basis"]) and f"checked {rule['checked']}" in row[2] for row, rule in zip(told.rows, rules, strict=True))
    gloves = tables.BUILDERS["gloves"](in_region(region))
    marks = {"good": ("✓ good", "fine"), "fair": ("△ fair", "care"), "splash": ("△ splash only", "care"), "no": ("✕ no", "stop"), "ask": ("? ask", "care")}
    ranks = [{key: value for key, value in row.items() if key not in ("basis", "source")} for row in rows_of("gloves.csv")]
    assert list(gloves.rows) == [(row["family"], *(marks[row[head]][0] for head in gloves.heads[1:])) for row in ranks]
    assert list(gloves.zones) == [tuple(marks[row[head]][1] for head in gloves.heads[1:]) for row in ranks]


def test_factors_that_were_not_looked_at_for_a_year_say_so():
    """Would notice: a count of a mask from an old look, shown as a fresh one."""
    told = tables.BUILDERS["factors"](in_region("uk", day="2028-01-01"))
    assert told.rows and all(row[2].startswith("△ Old: check again.") for row in told.rows)


def test_what_each_kind_wants(book):
    """Would notice: a kind without its hard stop first, another kind's hazards, kinds that nobody asked for."""
    guards, stops = written("protection.yaml"), written("stops.yaml")
    rows = {row[0]: row for row in tables.BUILDERS["protection"](book).rows}
    assert list(rows) == [CLASSES[key]["label"] if key in CLASSES else key for key in guards]
    for key, guard in guards.items():
        row = rows[CLASSES[key]["label"] if key in CLASSES else key]
        assert row[1] == (f"STOP. {stops[guard['stop']]['title']}. " if "stop" in guard else "") + guard["hazards"] and row[2] == guard["respiratory"]["uk"]
        assert (row[3], row[4], row[-1]) == (guard["eyes"], guard["hands"], guard["who_decides"])
    some = tables.BUILDERS["protection"](book, classes=("shellac-primer", "mineral"))
    assert [row[0] for row in some.rows] == [CLASSES[key]["label"] for key in guards if key in ("shellac-primer", "mineral")]


# The law as tables of words


def amount(rule):
    """Figure and unit as print."""
    if not rule["figure"]:
        return ""
    figure = f"{float(rule['figure']):.10g}"
    return figure if rule["unit"] == "year" else f"{figure}×" if rule["unit"] == "×" else f"{figure} {rule['unit']}"


def old(rule, day):
    """The words before a rule that nobody has looked at for a year, or that has ended."""
    days = (date.fromisoformat(day) - date.fromisoformat(rule["checked"])).days
    return "△ Old: check again. " if days > 365 or (rule["to"] and day > rule["to"]) else ""


def row_of(rule, subject, region, day, coming):
    """(what, the rule, source, whom to ask) as a reader must find them."""
    what, which = rule["key"].partition("|")[0].replace("-", " "), rule["key"].rpartition("|")[2]
    first, scope = what[0].upper() + what[1:], rule["scope"]
    label = {"voc": first + {"wb": ", waterborne", "sb": ", solvent-borne"}.get(which, ""), "air": f"{first}: {scope}"}.get(subject) or (scope[0].upper() + scope[1:] if scope else first)
    says = "; ".join(part for part in (amount(rule), rule["says"], scope if subject == "voc" else "") if part)
    mark = f"From {rule['from']}: " if coming else old(rule, day)
    source = SOURCES.get(rule["source"], {}).get("title", rule["source"])
    return label, mark + says, source, rule["ask"] or REGIONS[region.partition("-")[0]]["ask"][0]


@pytest.mark.parametrize(("region", "district", "day"), [
    ("uk", None, TODAY), ("eu", None, TODAY), ("ie", None, TODAY), ("us", "us-ca-south-coast", TODAY), ("au", None, TODAY), ("au", None, "2026-12-02"), ("ca", None, TODAY), ("nz", None, TODAY),
    ("uk", None, "2028-01-01")])
def test_the_law_as_its_files_have_it(region, district, day):
    """Every rule of every subject, those in force and then those to come. Would notice: a rule of another place or day, a figure without its words, a rule of the future as one of today,
    whom to ask left out, a paint's base lost."""
    book, shown = in_region(region, day=day, district=district), Counter()
    for subject in SUBJECTS:
        told = tables.BUILDERS[f"law-{subject}"](book)
        now, later = in_force(subject, district or region, day)
        expected = [row_of(rule, subject, region, day, False) for rule in now] + [row_of(rule, subject, region, day, True) for rule in later]
        one_system = [tuple(cell for place, cell in enumerate(row) if place != 2) for row in told.rows]
        if not expected:
            assert told.heads == ("What", "Whom to ask") and told.rows == (("Any", REGIONS[region]["ask"][0]),)
        else:
            assert told.heads == ("What", "Rule", "Basis", "Source", "Whom to ask") and one_system == expected, subject
            assert all(rule["basis"] in row[2] and f"checked {rule['checked']}" in row[2] for row, rule in zip(told.rows, [*now, *later], strict=True))
            shown[subject] += 1
        brief = tables.BUILDERS.get(f"here-{subject}")
        assert (brief is None) == (subject in ("air", "voc", "masks"))
        if brief:
            short = brief(book)
            assert short.heads == told.heads[:3] and short.rows == tuple(row[:3] for row in told.rows)
    assert set(tables.law.shown(book.facts)) == set(shown)
