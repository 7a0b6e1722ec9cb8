"""Cells of the tables of the job, and what is told from a safety data sheet, worked a second time from the files as they are written.

Paint is neither made nor lost; a fence's price is looked at one cause at a time (all other rates at nought): what a litre costs, what an hour at its edges and its sheets costs.
Rates are invented; margin, markup and tax are plain percentages. Nothing of `generators` works an expected value: it prints what is looked at.
"""

from __future__ import annotations

import dataclasses
import math

import pytest
from by_hand import COATINGS, FOOT, KITS, QUART, dash, every, number, rows_of, said, stands, written
from conftest import read_in
from test_cells_survey import PIECES, in_words, made, square_metres, with_facts

from generators import tables
from generators.quantity import Quantity

SURFACES, RATES = {row["name"]: row for row in rows_of("surfaces.csv")}, written("rates.yaml")
EACH = [row for row in SURFACES.values() if row["counted"] == "each"]


def meant_for(use):
    """The first tin without a hard stop that is meant for it."""
    return next(tin for tin in COATINGS.values() if "stops" not in tin and use in tin["uses"])


def litres_for_two(square, tin, row):
    """Two coats of one dry film on so many m², the first with what bare wood drinks more; what misses is lost."""
    return square * number(tin["dry_film"]) / 1000 * (float(row["drink"]) + 1) / (number(tin["volume_solids"]) / 100) / (float(row["spray_lands [%]"]) / 100)


@pytest.fixture(params=["metric", "us"])
def book(request):
    return in_words("uk", request.param)


# Paint by the piece


@pytest.mark.parametrize("region", ["uk", "us"])
@pytest.mark.parametrize("system", ["metric", "us"])
def test_paint_for_two_coats_by_the_piece(region, system):
    """Would notice: litres rounded down, one coat for two, paint for a wall among the pieces, another paint than the caption's, British words for a US reader."""
    table, tin = made(in_words(region, system), "paint-by-piece"), meant_for("doors")
    assert f"with the solids and film of {tin['name']}:" in table.caption and table.caption.startswith("Litres" if system == "metric" else "US quarts")
    assert table.columns.heads == ("1", "2", "6", "10", "20", "40")
    rows = dict(table.grid())
    assert list(rows) == [row["us_label" if region == "us" else "label"] for row in EACH]
    for row, cells in zip(EACH, rows.values(), strict=True):
        for count, cell in zip(table.columns.heads, cells, strict=True):
            stands(cell, litres_for_two(square_metres(PIECES[row["piece"]]) * float(count), tin, row) / (1 if system == "metric" else QUART), "up", 0.1, hair=2e-6)


def test_a_piece_as_big_as_a_street_has_a_dash_with_its_reason(book):
    """Would notice: a dash that does not say why, its neighbours dashed with it."""
    pieces = book.facts.pieces
    vast = pieces["flush-door"].model_copy(update={"width": Quantity.exact(60, "m"), "height": Quantity.exact(60, "m")})
    rows = [cells for _, cells in made(with_facts(book, pieces={**pieces, "flush-door": vast}), "paint-by-piece").grid()]
    for cell in rows[0]:
        dash(cell, "one face")
    assert all(not cell.reason and said(cell.text) > 0 for cells in rows[1:] for cell in cells)


def test_without_pieces_or_paint_there_are_no_figures(book):
    """Would notice: a table of nothing, or half of one."""
    for name, changes in (("paint-by-piece", {"surfaces": ()}), ("paint-by-piece", {"coatings": {}}), ("fence-price", {"coatings": {}}),
                          ("fence-price", {"surfaces": tuple(row for row in book.facts.surfaces if row.name != "rough-fence")}),
                          *(("fence-price", {"rates": {key: one for key, one in book.facts.rates.items() if key != lost}}) for lost in ("hour", "paint"))):
        told = made(with_facts(book, **changes), name)
        assert told.heads == ("No figures",) and told.rows[0][0].startswith("This handbook has no site_data/"), (name, list(changes))


# What a fence costs

FENCES = {"planed, one side": ("planed-fence", 1), "planed, both sides": ("planed-fence", 2), "sawn, one side": ("rough-fence", 1), "sawn, both sides": ("rough-fence", 2)}
ON_TOP = (1 + number(RATES["margin"]["value"]) / 100) * (1 + number(RATES["tax"]["value"]) / 100)


def at_rates(book, **rates):
    """The fence's table where every rate but shares, the crew, its day and its waits is nought, and those named are theirs, good day or bad."""
    old, stay = book.facts.rates, ("day", "stay", "holds", "flash", "dusk_lead", "wash_dry")
    nought = {name: rate if rate.unit in ("%", "×") or (name in stay and name not in rates) else Quantity.exact(rates.get(name, 0.0), rate.unit, rate.origin) for name, rate in old.items()}
    return made(with_facts(book, rates=nought), "fence-price")


def test_a_fence_price_cause_by_cause(book):
    """Nothing costs anything but wear, 100 for each litre through the gun, and an hour, 60; nothing takes time but the trigger, the tape along both edges (5 min a metre) and a metre
    of sheet along it (9 min a m²). So: litres, minutes, margin, tax. Would notice: another height, one side for both, a coat more or less, one edge or three, drink or tax left out,
    rounding down, a foot's price for a metre's."""
    table, tin, kit = at_rates(book, wear=100.0, hour=60.0, edge_pace=5.0, sheet_pace=9.0), meant_for("fences"), KITS[written("handbook.yaml")["default_kit"]]
    assert f"Paint like {tin['name']} at " in table.notes[0] and table.columns.heads == tuple(FENCES)
    assert table.rows.heads == (("0.9", "1.2", "1.5", "1.8", "2.1") if book.metric else ("3", "4", "5", "6", "7"))
    metre, trigger = 1 if book.metric else FOOT, number(kit["flow"]) / 1000 * number(RATES["duty"]["value"]) / 100  # L in each minute
    for height, kind, cell in every(table):
        name, sides = FENCES[kind]
        litres = litres_for_two(float(height) * metre * sides * float(SURFACES[name]["profile"]), tin, SURFACES[name])  # of one metre
        low, likely, high = (litres / trigger / number(RATES["duty"][end]) * number(RATES["duty"]["value"]) for end in ("high", "value", "low"))
        minutes = (low + 4 * likely + high) / 6 + 2 * 5 + 9  # what to count on, from three figures: from memory
        stands(cell, (litres * 100 + minutes / 60 * 60) * ON_TOP * metre, "up", 0.5 if book.metric else 0.25)


def test_a_fence_without_a_price_says_why():
    """Would notice: a dash alone. What is washed cannot dry in no time at all."""
    for _, _, cell in every(at_rates(in_words("uk", "us"), wash_dry=0.0)):
        dash(cell, "must lie between")


def test_a_fence_at_the_crew_s_own_rates_costs_more_than_its_parts():
    """Would notice: a price under what its paint and the least of its hours cost, a lower price for a higher fence, for the second side or for sawn wood."""
    table, tin, metre = made(in_words("uk", "metric"), "fence-price"), meant_for("fences"), 1
    rows, litre = dict(table.grid()), number(RATES["paint"]["value"]) * (1 + number(RATES["markup"]["value"]) / 100) + number(RATES["wear"]["value"])
    for height, cells in rows.items():
        for (name, sides), cell in zip(FENCES.values(), cells, strict=True):
            square = float(height) * metre * sides * float(SURFACES[name]["profile"])
            brushed = square * number(RATES["condition_worn"]["value"]) * float(SURFACES[name]["detail"]) * number(RATES["growth"]["low"]) / 60  # h
            least = (litres_for_two(square, tin, SURFACES[name]) * litre + (brushed + 2 * number(RATES["edge_pace"]["low"]) / 60) * number(RATES["hour"]["value"])) * ON_TOP * metre
            assert said(cell.text) > least, (height, name, cell, least)
        planed, both, sawn, sawn_both = (said(cell.text) for cell in cells)
        assert planed < both < sawn_both and planed < sawn < sawn_both
    for column in zip(*rows.values(), strict=True):
        assert [said(cell.text) for cell in column] == sorted(said(cell.text) for cell in column)


# From the safety data sheet

SOLVENTS = {row["name"]: row for row in rows_of("solvents.csv")}
FAMILY = {"White spirit, the family": "White spirit", "Xylene (mixed)": "Xylene, toluene", "Ethyl alcohol": "Ethanol, 2-propanol", "Butyl acetate (n)": "Butyl acetate",
          "Methyl ethyl ketone": "Acetone, MEK"}  # school chemistry; butyl alcohol has no row
RANKS = ("good", "fair", "splash", "no", "ask")
WORDS = {"good": "good", "fair": "fair", "splash": "against splashes only, off at once", "ask": "ask the glove's maker", "no": "never"}
NOT_HERE = "Not in this handbook: look in section"


def sheet_of(book, slug, **changes):
    """What is told of a tin whose sheet says something else."""
    tin = book.facts.coatings[slug]
    if changes:
        tin = tin.model_copy(update={"sds": tin.sds.model_copy(update=changes)})
    return dict(made(with_facts(book, coatings={**book.facts.coatings, slug: tin}), "safety-sheet", slug).rows)


def gloves_by_rank(named):
    """{rank: materials}: each the worst that any family of the tin gives it, and that of a mixture where there are two."""
    rows = {row["family"]: row for row in rows_of("gloves.csv")}
    families = {FAMILY[name] for name in named if name in FAMILY} | ({"Lacquer thinner, any mixture"} if len({FAMILY[name] for name in named if name in FAMILY}) > 1 else set())
    found = {}
    for material in next(iter(rows.values())):
        if material not in ("family", "basis", "source") and families:
            found.setdefault(max((rows[family][material] for family in families), key=RANKS.index), []).append(material)
    return found


def limits_of(name):
    """What UK law lets be breathed of a solvent over eight hours, as air.csv has it."""
    key = SOLVENTS[name]["key"] if name in SOLVENTS else ""
    return next((row for row in rows_of("law/air.csv") if row["region"] == "uk" and row["key"] == f"{key}|8h" and key and row["figure"]), None)


@pytest.mark.parametrize("slug", COATINGS)
def test_what_a_sheet_says(book, slug):
    """Would notice: a code, a solvent, its limit or its way through the skin left out, a flash point rounded up, a glove that is let through called good, one ranked for half the tin,
    what is not known told as nothing, a hard stop that is not first."""
    tin, told = COATINGS[slug], sheet_of(book, slug)
    sheet = tin.get("sds")
    assert (next(iter(told)) == "STOP") == ("stops" in tin)
    named = [one["name"] for one in sheet["solvents"]] if sheet else []
    if sheet is None:
        assert told["The sheet"].startswith("None is recorded in this handbook. Ask the supplier") and "Hazards (section 2)" not in told
    else:
        assert told["The sheet"] == f"made {sheet['date']}."
        hazards = told["Hazards (section 2)"].split("; ")
        assert [one.split()[0] for one in hazards] == sheet["codes"] and all(len(one.split()) > 2 for one in hazards) and "see the label" not in told["Hazards (section 2)"]
        for one in sheet["solvents"]:
            rule = limits_of(one["name"])
            more = f", {rule['says']}" if rule and rule["says"] else ""  # such as: also through the skin
            words = f"limit here {rule['figure']} {rule['unit']} over 8 hours{more} [{rule['basis']}, checked {rule['checked']}" if rule else "no limit known here: look in section 8"
            assert f"{one['name']} {one['share']}: {words}" in told["Solvents (section 3)"]
        assert told["Its own limits (section 8)"] == f"{NOT_HERE} 8."
        point = number(sheet["flash_point"])
        assert told["Flash point (section 9)"] == (sheet["flash_point"] if book.metric else f"{math.floor(point * 1.8 + 32 + 1e-9)} °F")
    ranked = gloves_by_rank(named + (["White spirit, the family"] if tin["thin_with"] == "white spirit" else []))
    words = "; ".join(f"{WORDS[rank]}: {', '.join(ranked[rank])}" for rank in ("good", "fair", "splash", "ask", "no") if rank in ranked) or "no family of solvents known: ask the maker"
    unknown = [name for name in named if name not in FAMILY]
    unknown += [f"its thinner ({tin['thin_with']})"] if tin["thin_with"] not in ("water", "nothing", "white spirit") else []  # a glove that was ranked for the tin alone was not asked about it
    words += f"; not ranked here, ask the maker: {', '.join(unknown)}" if ranked and unknown else ""
    own = f"{sheet['gloves']}, by its sheet. " if sheet and "gloves" in sheet else ""
    assert told["Gloves (section 8)"].startswith(f"{own}By rank: {words}.")
    assert told["What hardens it"].startswith({"isocyanate": "isocyanate", "amine": "amine"}.get(tin.get("hardener"), "nothing: one tin"))


def test_what_a_sheet_leaves_out_names_its_section():
    """Would notice: no hazards told where none are written down, a limit of the sheet itself lost, a sheet without a date called fresh, an unheard-of solvent with a limit."""
    book = in_words("uk", "metric")
    told = sheet_of(book, "hull-metal-primer", codes=[], solvents=[], limits=["xylene 20 ppm, the maker's own"], flash_point=None, made=None)
    assert told["Hazards (section 2)"] == f"{NOT_HERE} 2." and told["Solvents (section 3)"] == f"{NOT_HERE} 3." and told["Flash point (section 9)"] == f"{NOT_HERE} 9."
    assert told["Its own limits (section 8)"] == "xylene 20 ppm, the maker's own" and told["The sheet"] == "its date is not recorded."
    one = read_in("uk").coatings["hull-metal-primer"].sds.solvents[0]
    strange = sheet_of(book, "hull-metal-primer", solvents=[one.model_copy(update={"name": "Something unheard of", "share": None})])
    half = sheet_of(book, "hull-metal-primer", solvents=[one, one.model_copy(update={"name": "Something unheard of"})])  # thinned with white spirit, which has its rank
    assert "not ranked here, ask the maker: Something unheard of. No glove" in half["Gloves (section 8)"]
    assert strange["Solvents (section 3)"] == "Something unheard of, share not said: no limit known here: look in section 8"


def test_a_sheet_of_more_than_three_years_is_old(book):
    """Three years: common practice, no source. Would notice: an old sheet called fresh, a fresh one old, the day of the handbook forgotten."""
    for day, old in (("2026-11-25", False), ("2028-04-29", False), ("2028-05-03", True), ("2031-01-01", True)):
        facts = dataclasses.replace(book.facts, handbook=book.facts.handbook.model_copy(update={"made": day}))
        told = sheet_of(tables.Book(facts, book.formulas, book.system), "hull-metal-primer")["The sheet"]
        assert told == "made 2025-05-01" + (". Old: ask the supplier for the present one." if old else "."), day


def test_a_limit_whose_new_figure_nobody_knows_here_is_none():
    """Australia's list changes on 1 December 2026 (its file says so); the new figures are not in this handbook. Would notice: the old limit told as today's, not-a-number as a figure."""
    facts = read_in("au")
    facts = dataclasses.replace(facts, handbook=facts.handbook.model_copy(update={"made": "2026-12-02"}))
    unknown = [row["key"] for row in rows_of("law/air.csv") if row["region"] == "au" and row["from"] == "2026-12-01" and not row["figure"]]
    told = sheet_of(tables.Book(facts, in_words("au", "metric").formulas, "metric"), "hull-metal-primer")["Solvents (section 3)"]
    assert "xylene|8h" in unknown and "Xylene (mixed) 10–25 %: no limit known here: look in section 8" in told and "nan" not in told
