"""The tables of law, of protection, of one tin's safety sheet and of the verdicts, worked a second time from the files as they are written: rows of law by their days, mist in a room by hand,
gloves by the worst of their families.

Nothing of `generators` works an expected value: it prints what is looked at. Rules and ranks are those of the files, with their sources beside them; what is worked is a balance of mass.
"""

from __future__ import annotations

import dataclasses
import math
import re
from datetime import date

import pytest
from by_hand import COATINGS, FLUID_OUNCE, FOOT, every, legend, limit, rows_of, stands, written
from conftest import ROOT, read_in

from generators import formulas, tables
from generators.quantity import Quantity
from generators.tables import law as law_tables
from generators.tables import verdicts as verdict_tables
from generators.tables.book import compute, first_paint, nozzle_words
from generators.verdicts import DECLARED

REGIONS = {path.stem: written(f"regions/{path.name}") for path in sorted((ROOT / "site_data/regions").glob("*.yaml"))}
SOURCES, STOPS, GLOVES, SOLVENTS, PROTECTION = written("sources.yaml"), written("stops.yaml"), rows_of("gloves.csv"), rows_of("solvents.csv"), written("protection.yaml")
SUBJECTS = sorted(path.stem for path in (ROOT / "site_data/law").glob("*.csv"))
LAW = {subject: rows_of(f"law/{subject}.csv") for subject in SUBJECTS}
TODAY = str(written("handbook.yaml")["date"])
MATERIALS = ("thin nitrile", "thick nitrile", "butyl", "laminate", "natural rubber", "PVC")
OLD = "△ Old: check again. "


def book(region, system="metric", day=TODAY, **changes):
    """The handbook in a region, on a day, where a file may say something else."""
    facts = read_in(region)
    facts = dataclasses.replace(facts, handbook=facts.handbook.model_copy(update={"made": day}), **changes)
    return tables.Book(facts, formulas.catalogue(facts), system)


def in_force(region, subject, day=TODAY):
    """(rules of a day, rules that begin after it): each key once, the last that has begun; Ireland after its own asks the EU's."""
    now, coming = {}, []
    for place in (region, *filter(None, [REGIONS[region].get("under")])):
        own = {}
        for row in LAW[subject]:
            if row["region"] == place and row["from"] > day:
                coming.append(row)
            elif row["region"] == place and (row["key"] not in own or own[row["key"]]["to"]):
                own[row["key"]] = row
        now = now | {key: row for key, row in own.items() if key not in now}
    return list(now.values()), coming


def amount(row):
    """The figure as it is printed: a year bare, times without a space."""
    if not row["figure"]:
        return ""
    return row["figure"] + {"year": "", "×": "×"}.get(row["unit"], f" {row['unit']}")


def is_old(row, day):
    return bool(row["to"] and row["to"] < day) or (date.fromisoformat(day) - date.fromisoformat(row["checked"])).days > 365


def dated(row):
    return ", ".join([row["basis"], f"checked {row['checked']}", *[f"{word} {row[word]}" for word in ("from", "to") if row[word]]])


def what(subject, row):
    first = row["key"].split("|")[0].replace("-", " ")
    first = first[:1].upper() + first[1:]
    if subject == "voc":
        return first + {"wb": ", waterborne", "sb": ", solvent-borne"}.get(row["key"].split("|")[-1], "")
    return f"{first}: {row['scope']}" if subject == "air" else row["scope"][:1].upper() + row["scope"][1:]


# Law


@pytest.mark.parametrize("region,day", [*((region, TODAY) for region in sorted(REGIONS)), ("au", "2026-12-02"), ("eu", "2029-02-01"), ("uk", "2028-03-01")])
def test_the_rules_of_a_region_are_those_of_the_files(region, day):
    """Every row of every subject: what, rule with its mark, basis and days, source, whom to ask. Would notice a rule of another day or place."""
    mine, told = book(region, day=day), set()
    for subject in SUBJECTS:
        now, coming = in_force(region, subject, day)
        rows = []
        for row in (*now, *coming):
            says = "; ".join(part for part in (amount(row), row["says"], row["scope"] if subject == "voc" else "") if part)
            mark = f"From {row['from']}: " if row in coming else OLD if is_old(row, day) else ""
            rows.append((what(subject, row), mark + says, dated(row), SOURCES.get(row["source"], {}).get("title", row["source"]), row["ask"] or REGIONS[region]["ask"][0]))
        full, brief = law_tables.rules(mine, subject), law_tables.brief(mine, subject)
        if rows:
            told.add(subject)
            assert full.rows == tuple(rows), subject
            assert (full.heads, brief.heads) == (("What", "Rule", "Basis", "Source", "Whom to ask"), ("What", "Rule", "Basis"))
            assert brief.rows == tuple(row[:3] for row in rows)
        else:
            assert full.rows == (("Any", REGIONS[region]["ask"][0]),) and "No rule for this region" in full.caption
    assert set(law_tables.shown(mine.facts)) == told and len(told) >= 10


def test_a_rule_of_words_or_of_nothing_is_named_by_its_key_and_says_no_figure():
    """Made up: a rule whose file gives no scope, one without words and figure, and a subject that has one rule, to come."""
    rule = book("uk").facts.law(subject="height")[0]
    bare = dataclasses.replace(rule, key="roof-edge", scope="", says="", figure=math.nan, ask="the roofer")
    assert law_tables._row(book("uk"), bare)[:2] == ("Roof edge", "no figure") and law_tables._row(book("uk"), bare)[-1] == "the roofer"
    facts = book("uk").facts
    later = dataclasses.replace(facts, rules=type(facts.rules)([dataclasses.replace(rule, begins="2030-01-01")]))
    assert set(law_tables.shown(later)) == {"height"}


# Masks, mist, gloves


@pytest.mark.parametrize("region", sorted(REGIONS))
def test_what_a_mask_counts_for_is_what_the_file_says(region):
    rows = tuple((row["scope"], amount(row) or "–", "; ".join(part for part in (row["says"], dated(row)) if part)) for row in in_force(region, "masks")[0])
    assert tables.BUILDERS["factors"](book(region)).rows == rows
    old = tables.BUILDERS["factors"](book(region, day="2028-03-01")).rows
    assert [row[2] for row in old] == [OLD + row[2] for row in rows]


def room_of(system):
    """The usual room in m³, for US readers a whole number of hundreds of cubic feet no larger."""
    foot = (FOOT**3) * 100
    return limit("room_volume") if system == "metric" else math.floor(limit("room_volume") / foot) * foot


def mist_after_ten_minutes(flow, changes, room):
    """mg/m³: 600 g of solids in a litre, 65 in 100 land, a tenth of the rest stays in the air; a third of the air changes count. Added up in small steps of time."""
    each_minute = flow / 1000 * 600 * 1000 * 0.35 * 0.1 / room
    level, steps = 0.0, 4000
    for _ in range(steps):  # to the second order
        slope = each_minute - changes / 3 / 60 * level
        level += 10 / steps * (slope + each_minute - changes / 3 / 60 * (level + 10 / steps * slope)) / 2
    return level


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("region", ["uk", "us", "eu", "ie", "ca", "nz"])
def test_mist_and_the_mask_that_it_asks_for(region, system):
    """A balance of mass, added up minute by minute; limits for dust and factors of masks by the files of law. Up to what a half mask counts for: care; over it: stop."""
    table, room = tables.BUILDERS["mist"](book(region, system)), room_of(system)
    dust = {row["key"]: float(row["figure"]) for row in in_force(region, "dust")[0] if row["figure"]}
    masks = {row["key"]: float(row["figure"]) for row in in_force(region, "masks")[0] if row["figure"]}
    kinds = {kind: masks.get(key, math.nan) for kind, key in REGIONS[region].get("masks", {}).items()}
    whole = dust.get("dust|inhalable")
    seen = set()
    for changes, flow, cell in every(table):
        level = mist_after_ten_minutes(float(flow) * (1 if system == "metric" else FLUID_OUNCE), float(changes), room)
        stands(cell, level / whole if whole else level, "up", 1 if whole else 10)
        assert cell.zone == ("" if not whole else "care" if level / whole <= kinds["half"] else "stop"), (cell, level)
        seen.add(cell.zone)
    notes = " ".join(table.notes)
    assert re.search(r"room of ([\d,.]+)", table.caption)[1].replace(",", "") == f"{room if system == 'metric' else room / FOOT**3:.0f}"
    if not whole:
        assert seen == {""} and "No limit for dust is known" in notes and table.unit == "mg/m³"
        return
    assert set(legend(table)) == seen == {"stop"}  # in a room of 30 m³ no half mask is enough for any of them
    assert f"counts {kinds['half']:g}" in table.zone_words["care"] and table.zone_words["stop"].startswith("more than a half mask")
    assert (f"With a gas filter as well a half mask counts {kinds['half_gas']:g} only" in notes) == (kinds["half_gas"] < kinds["half"]) == ("gas filter" in notes)
    assert f"A full mask counts {kinds['full']:g}, air-fed or powered kit {kinds['air_fed']:g}" in notes
    assert ("reach deep into the lung" in notes) == ("dust|respirable" in dust)
    if "dust|respirable" in dust:
        assert f"each figure {whole / dust['dust|respirable']:.2g} times as high" in notes


def counted(**factors):
    """The United Kingdom's facts where its file of masks has other factors for some kinds; None: the kind is not in it."""
    facts = book("uk").facts
    keys = {REGIONS["uk"]["masks"][kind]: factor for kind, factor in factors.items()}
    kept = [dataclasses.replace(rule, figure=keys[rule.key]) if rule.subject == "masks" and rule.region == "uk" and rule.key in keys else rule for rule in facts.rules.rules
            if not (rule.subject == "masks" and rule.region == "uk" and rule.key in keys and keys[rule.key] is None)]
    return {"rules": type(facts.rules)(kept)}


def test_where_a_half_mask_is_enough_it_is_said_so():
    """Made up: a half mask that counts 50. Up to 50 times the limit it is enough, and no further."""
    table, seen = tables.BUILDERS["mist"](book("uk", **counted(half=50.0))), set()
    for changes, flow, cell in every(table):
        times = mist_after_ten_minutes(float(flow), float(changes), 30) / 10
        assert cell.zone == ("care" if times <= 50 else "stop")
        seen.add(cell.zone)
    told = legend(table)
    assert seen == set(told) == {"care", "stop"} and "a half mask with particle filters" in told["care"] and told["stop"].startswith("more than a half mask, which counts 50")


@pytest.mark.parametrize("left_out", ["air_fed", "full", "half_gas", "half"])
def test_mist_says_nothing_of_masks_that_a_region_does_not_count(left_out):
    """Made up: a file of masks without one of the kinds."""
    table = tables.BUILDERS["mist"](book("uk", **counted(**{left_out: None})))
    notes = " ".join(table.notes)
    assert ("A full mask counts" in notes) == (left_out in ("half_gas", "half")) and ("With a gas filter" in notes) == (left_out in ("air_fed", "full"))
    assert {cell.zone for _, _, cell in every(table)} == {"stop"} and table.zone_words["stop"].startswith("powered or air-fed" if left_out == "half" else "more than a half mask")


def test_a_gas_filter_that_counts_as_much_or_more_is_not_told():
    for factor, there in ((19.0, True), (20.0, False), (40.0, False)):
        assert ("With a gas filter" in " ".join(tables.BUILDERS["mist"](book("uk", **counted(half_gas=factor))).notes)) == there


def test_a_dust_rule_in_words_alone_is_no_limit():
    """From 1 December 2026 Australia's file has words in the place of a figure: milligrams are printed, and no mask is called enough."""
    before, after = (tables.BUILDERS["mist"](book("au", day=day)) for day in ("2026-11-30", "2026-12-01"))
    assert before.unit == "×" and after.unit == "mg/m³" and after.zones is None


def test_gloves_stand_as_the_file_ranks_them():
    marks, zones = {"good": "✓ good", "fair": "△ fair", "splash": "△ splash only", "no": "✕ no", "ask": "? ask"}, {"good": "fine", "fair": "care", "splash": "care", "no": "stop", "ask": "care"}
    table = tables.BUILDERS["gloves"](book("uk"))
    assert table.rows == tuple((row["family"], *(marks[row[material]] for material in MATERIALS)) for row in GLOVES)
    assert table.zones == tuple(tuple(zones[row[material]] for material in MATERIALS) for row in GLOVES)
    assert tables.BUILDERS["gloves"](book("uk", gloves=())).rows == (("any", *["? ask"] * 6),)


def test_every_type_of_coating_has_its_row_of_protection():
    table = tables.BUILDERS["protection"](book("uk"))
    assert len(table.rows) == len(PROTECTION)
    for row, guard in zip(table.rows, PROTECTION.values(), strict=True):
        stop = f"STOP. {STOPS[guard['stop']]['title']}. " if guard.get("stop") else ""
        assert row[1] == stop + guard["hazards"] and row[3:6] == (guard["eyes"], guard["hands"], guard["body"]) and row[-1] == guard["who_decides"]
    two = tables.BUILDERS["protection"](book("uk"), classes=("wall-matt", "masonry"))
    assert [row[1] for row in two.rows] == [guard["hazards"] for name, guard in PROTECTION.items() if name in ("wall-matt", "masonry")]


# One tin's sheet


def solvent(name):
    """Its row, by name or key."""
    return next((row for row in SOLVENTS if name.lower() in (row["name"].lower(), row["key"], row["key"].replace("-", " "))), None)


def glove_family(key):
    """The row of gloves.csv that a solvent belongs to."""
    words = "glycol ethers" if key in ("pgme", "pgme-acetate", "2-butoxyethanol", "dpgme") else key.replace("-", " ")
    return next((row for row in GLOVES if words and words in [part.strip().replace("-", " ").lower() for part in row["family"].split(",")]), None)


def gloves_for(solvents, thinner):
    """What is said of gloves against all of these at once: the worst of their families; two families are a mixture, which is asked as one more."""
    found = [row for name in (*solvents, thinner) if solvent(name) and (row := glove_family(solvent(name)["key"]))]
    if not found:
        return "no family of solvents known: ask the maker"
    if len({row["family"] for row in found}) > 1:
        found += [row for row in GLOVES if row["family"].startswith("Lacquer thinner")]
    order = ["good", "fair", "splash", "no", "ask"]
    worst = {material: max((row[material] for row in found), key=order.index) for material in MATERIALS}
    words = {"good": "good", "fair": "fair", "splash": "against splashes only, off at once", "ask": "ask the glove's maker", "no": "never"}
    told = [f"{words[rank]}: {', '.join(one for one in MATERIALS if worst[one] == rank)}" for rank in words if rank in worst.values()]
    unranked = [name for name in solvents if solvent(name) is None or glove_family(solvent(name)["key"]) is None]
    if thinner not in ("water", "nothing") and (solvent(thinner) is None or glove_family(solvent(thinner)["key"]) is None):
        unranked.append(f"its thinner ({thinner})")
    return "; ".join([*told, *([f"not ranked here, ask the maker: {', '.join(unranked)}"] if unranked else [])])


def breathed(region, name):
    """The limit to breathe over 8 hours that a region's file has for a solvent."""
    row = solvent(name)
    rule = next((one for one in in_force(region, "air")[0] if row and row["key"] and one["key"] == f"{row['key']}|8h"), None)
    if rule is None or not rule["figure"]:
        return "no limit known here: look in section 8"
    return f"limit here {amount(rule)} over 8 hours{', ' + rule['says'] if rule['says'] else ''} [{dated(rule)}]"


@pytest.mark.parametrize("region,system", [("uk", "metric"), ("us", "us"), ("eu", "metric")])
@pytest.mark.parametrize("slug", sorted(COATINGS))
def test_the_sheet_of_a_tin_says_what_its_file_says(slug, region, system):
    tin, said = COATINGS[slug], dict(tables.BUILDERS["safety-sheet"](book(region, system), slug).rows)
    sheet = tin.get("sds")
    assert ("STOP" in said) == ("stops" in tin)
    if sheet is None:
        assert said["The sheet"].startswith("None is recorded") and "Hazards (section 2)" not in said
        return
    assert said["The sheet"] == f"made {sheet['date']}."  # in 2026 a sheet of 2025 is not three years old
    assert [part.split(" ")[0] for part in said["Hazards (section 2)"].split("; ")] == sheet["codes"] and "see the label" not in said["Hazards (section 2)"]
    assert said["Solvents (section 3)"] == ". ".join(f"{one['name']} {one['share']}: {breathed(region, one['name'])}" for one in sheet["solvents"])
    assert said["Its own limits (section 8)"] == "Not in this handbook: look in section 8."
    warm = float(str(sheet["flash_point"]).split(" ")[0])
    assert said["Flash point (section 9)"] == (f"{warm:g} °C" if system == "metric" else f"{math.floor(warm * 1.8 + 32 + 1e-9)} °F")  # a liquid that flashes is never said to flash later
    assert f"By rank: {gloves_for([one['name'] for one in sheet['solvents']], tin['thin_with'])}. No glove" in said["Gloves (section 8)"]
    hardeners = {None: "nothing: one tin.", "amine": "amine.", "isocyanate": "isocyanate, or counted as one: the stop above holds."}
    assert said["What hardens it"] == hardeners[tin.get("hardener")]


def made_up(slug="keel-two-pack-epoxy", **sheet):
    """A tin whose sheet says something else."""
    facts = book("uk").facts
    tin = facts.coatings[slug]
    return dict(tables.BUILDERS["safety-sheet"](book("uk", coatings={**facts.coatings, slug: tin.model_copy(update={"sds": tin.sds.model_copy(update=sheet)})}), slug).rows)


def test_a_sheet_grows_old_after_three_years_and_one_without_a_day_has_none():
    """The handbook's day is 2026-11-25; 1,095 days before it is 2023-11-26."""
    facts = book("uk").facts
    field = next(name for name in type(facts.coatings["keel-two-pack-epoxy"].sds).model_fields if name in ("date", "made"))
    for day, said in (("2023-11-26", "made 2023-11-26."), ("2023-11-25", "made 2023-11-25. Old: ask the supplier for the present one."), ("", "its date is not recorded.")):
        assert made_up(**{field: day})["The sheet"] == said


def test_a_sheet_that_leaves_out_names_the_section_and_one_that_says_is_quoted():
    facts = book("uk").facts
    solvents = facts.coatings["keel-two-pack-epoxy"].sds.solvents
    strange = [solvents[0], solvents[0].model_copy(update={"name": "Amyl alcohol (n)", "share": None}), solvents[0].model_copy(update={"name": "Something secret", "share": None})]
    said = made_up(codes=[], solvents=strange, limits=["one of its own", "another"], flash_point=None)
    assert said["Hazards (section 2)"] == "Not in this handbook: look in section 2." and said["Flash point (section 9)"] == "Not in this handbook: look in section 9."
    assert said["Its own limits (section 8)"] == "one of its own; another"
    assert said["Solvents (section 3)"].endswith("Amyl alcohol (n), share not said: no limit known here: look in section 8. Something secret, share not said: no limit known here: look in section 8")
    assert "not ranked here, ask the maker: Amyl alcohol (n), Something secret, its thinner (epoxy thinner). No glove" in said["Gloves (section 8)"]
    assert made_up(solvents=[])["Solvents (section 3)"] == "Not in this handbook: look in section 3."


# Verdicts


@pytest.mark.parametrize("name", list(DECLARED))
def test_the_tests_of_a_verdict_are_told_as_they_were_declared(name):
    """Outcome, doubt, reason and remedy of each; the reason without the figures of one day."""
    table = verdict_tables.verdict(book("uk"), name)
    for row, test in zip(table.rows, DECLARED[name].tests, strict=True):
        assert row[1] == {"stop": "✕ stop", "care": "△ take care"}[test.outcome] and row[2] == {"stop": "stop", "care": "take care"}[test.doubt]
        assert row[3] == re.sub(r"\{[^}]*\}", "…", test.because) and row[4] == test.remedy
        sign = {"<": " under ", ">": " over ", "is": " is ", "not": " is not ", "known": " is not known"}[test.sign]
        assert sign in row[0] and (" (when " in row[0]) == bool(test.when) and (not test.when or row[0].endswith(")"))


def test_a_limit_is_told_with_its_figure_and_one_that_is_left_out_so():
    """limits.yaml: evenness in %, how steeply paints thin as so many times, which has no unit to be told in."""
    mine = book("uk")
    assert verdict_tables.words_of(mine, "limits.thinning_steepness_low") == f"{limit('thinning_steepness_low'):g}"
    assert re.sub(r"\s", " ", verdict_tables.words_of(mine, "limits.evenness_fine")) == f"{limit('evenness_fine'):g} %"
    gone = book("uk", limits={key: one for key, one in mine.facts.limits.items() if key != "evenness_fine"})
    assert verdict_tables.words_of(gone, "limits.evenness_fine") == "a limit that this handbook leaves out"
    assert verdict_tables.words_of(mine, "pot-temperature") == "pot temperature" and verdict_tables.words_of(mine, "coating.thinner_max").endswith("of the sheet")


# What every builder is given


@pytest.mark.parametrize("slugs,wanted", [
    (("curlew-thin-stain", "gannet-trim-satin"), "gannet-trim-satin"),  # the first names no second timing
    (("heron-opaque-stain", "plover-wall-matt"), "plover-wall-matt"),  # the first names no timing at all
    (("spar-two-pack-finish", "anchor-alkyd-gloss"), "anchor-alkyd-gloss"),  # the first may not be sprayed
    (("anchor-alkyd-gloss", "gannet-trim-satin", "sandpiper-primer"), "gannet-trim-satin"),  # a water paint before a solvent paint, and the first of them
    (("spar-two-pack-finish",), "spar-two-pack-finish"), (("spar-two-pack-finish", "curlew-thin-stain"), "curlew-thin-stain")])  # none may: any, a water paint before others
def test_a_table_of_the_whole_handbook_stands_on_a_paint_that_may_be_sprayed_and_thinned(slugs, wanted):
    facts = book("uk").facts
    assert first_paint(book("uk", coatings={slug: facts.coatings[slug] for slug in slugs})) == wanted


def test_a_paint_that_was_measured_needs_no_second_timing():
    facts = book("uk").facts
    measured = facts.coatings["curlew-thin-stain"].model_copy(update={"steepness": Quantity(4.0, 5.0, 6.0, "1")})
    assert first_paint(book("uk", coatings={"curlew-thin-stain": measured, "gannet-trim-satin": facts.coatings["gannet-trim-satin"]})) == "curlew-thin-stain"


def test_a_nozzle_is_told_by_what_is_stamped_on_it():
    """1.8 mm is 0.0709 in; 0.055 in is 1.397 mm."""
    millimetres, inches = Quantity(1.8, 1.8, 1.8, "mm"), Quantity(0.055, 0.055, 0.055, "in")
    assert nozzle_words(millimetres, "metric") == "1.8 mm" and nozzle_words(inches, "us") == "0.055 in"
    assert re.fullmatch(r"0\.071? in, marked 1\.8 mm", nozzle_words(millimetres, "us")) and re.fullmatch(r"1\.4 mm", nozzle_words(inches, "metric"))


def test_a_column_is_worked_in_the_units_that_it_is_given_in():
    """A fan of 60° at 8 in, by school geometry; and without a word about units in the formula's own."""
    formula = read_catalogue()["fan-width"]
    wide, why = compute(formula, {"distance": [8.0, 1e6], "fan-angle": 60.0}, "in", {"distance": "in"})
    assert wide[0] == pytest.approx(2 * 8 / math.sqrt(3)) and math.isnan(wide[1]) and why[0] == "" and "must lie between" in why[1]
    assert compute(formula, {"distance": 203.2, "fan-angle": 60.0}, "mm")[0] == pytest.approx(2 * 203.2 / math.sqrt(3))


def read_catalogue():
    return formulas.catalogue(read_in("uk"))
