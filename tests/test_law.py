"""Law as dated data: each rule with its day and its basis reaches its page; nonsense is refused at its line; the day decides which list holds."""

from __future__ import annotations

import dataclasses
import functools
import html
import math
import re
import shutil

import pytest
from conftest import ROOT, copied

from generators import formulas, render, tables, units
from generators.cli import main
from generators.facts import FactsError, load
from generators.facts.law import SUBJECTS
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages
from generators.tables.room import breathing_limit, lowest

REGIONS = ("au", "ca", "eu", "ie", "nz", "uk", "us")
FACTS = {region: open_handbook(ROOT, region) for region in REGIONS}
CATALOGUE = formulas.catalogue(FACTS["uk"])


def book(region, facts=None):
    facts = facts or FACTS[region]
    return tables.Book(facts, CATALOGUE, facts.handbook.system)


def on(facts, day):
    """The same facts in a handbook of another day."""
    return dataclasses.replace(facts, handbook=facts.handbook.model_copy(update={"made": day}))


LAW_PAGES = ("reference/law", *(f"safety/{name}" for name in (
    "emergencies", "gloves", "noise", "strippers", "isocyanates", "dust-and-silica", "static-and-pouring", "extinguishers", "carbon-monoxide-and-heat")))


def some_pages(facts, root, addresses=LAW_PAGES):
    """These pages of the handbook as they are built, from one tin and one kit: the same templates, facts and words, without the pages beside them."""
    for name in (*addresses, "reference/words"):  # words are linked where their page is there
        (root / "handbook" / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / f"handbook/{name}.md", root / f"handbook/{name}.md")
    tin, kit = "gannet-trim-satin", facts.handbook.default_kit
    return build_pages(dataclasses.replace(facts, root=root, coatings={tin: facts.coatings[tin]}, kits={kit: facts.kits[kit]}, faults={}, drills={}, protection={}))


@pytest.fixture(scope="module")
def pages_of(tmp_path_factory):
    """Pages of a region by their addresses, made once."""
    root = tmp_path_factory.mktemp("law")
    return functools.cache(lambda region: some_pages(FACTS[region], root))


@pytest.mark.sweep
@pytest.mark.parametrize("region", REGIONS)
def test_the_pages_read_here_are_those_of_the_whole_handbook(region, pages_of, pages_in):
    for address in (f"{name}.md" for name in LAW_PAGES):
        assert pages_of(region)[address] == pages_in(region)[address], address


@pytest.fixture
def folder(tmp_path):
    return copied(tmp_path, settings=False)


def refused(folder, region=None):
    with pytest.raises(FactsError) as caught:
        load(folder, region)
    return [str(problem) for problem in caught.value.problems]


# ---- every row reaches its page


@pytest.mark.parametrize("region", REGIONS)
def test_every_rule_reaches_the_page_with_its_day_and_its_basis(region, pages_of):
    """Read off the finished Markdown of reference/law.md: figure or words, basis and day of each rule, in one row."""
    facts = FACTS[region]
    page = html.unescape(pages_of(region)["reference/law.md"])
    rows = [re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", re.sub(r"</t[dh]>", " ", row))) for row in re.findall(r"<tr>.*?</tr>", page, re.S)]
    seen = 0
    for subject in SUBJECTS:
        for rule in (*facts.law(subject=subject), *facts.coming(subject=subject)):
            seen += 1
            assert any(rule.amount in row and rule.says in row and f"{rule.origin.basis}, checked {rule.checked}" in row for row in rows), rule
    assert seen >= 50, (region, seen)


def test_every_row_of_every_file_belongs_to_a_place_that_can_be_asked():
    facts = FACTS["uk"]
    for rule in facts.rules.rules:
        day = rule.begins or "2026-11-26"
        assert rule in facts.rules(rule.region, rule.subject, day), rule
        assert rule.origin.source in facts.sources or rule.origin.basis == "common practice", rule


@pytest.mark.parametrize("region", REGIONS)
def test_rules_from_memory_are_marked_on_the_tables_at_the_bench(region):
    """Wherever a table of numbers rests on rules from memory it names them, or says that all are."""
    facts = FACTS[region]
    for name in ("air-needed", "mist", "voc-classes"):
        shown = tables.BUILDERS[name](book(region))
        text = html.unescape(render.html(shown)).lower()
        if name == "mist" and shown.unit != "×":
            assert "no limit for dust is known" in text
            continue
        subject = {"air-needed": "air", "mist": "dust", "voc-classes": "voc"}[name]
        if any(rule.origin.basis == "from memory" for rule in facts.law(subject=subject)):
            assert "from memory" in text, (region, name)
    for name in ("factors", "noise-limits", "here-lead", "here-height"):
        shown = tables.BUILDERS[name](book(region))
        for row in shown.rows:
            assert re.search(r"(published|second-hand|from memory|common practice), checked \d{4}-\d\d-\d\d", row[-1]), (region, name, row)


# ---- the day decides


def test_australia_before_and_after_the_first_of_december():
    """Days and the reported figures: Safe Work Australia's pages (read) and reports that quote it (second-hand)."""
    facts = FACTS["au"]
    before, after = (facts.rule("au", "air", "acetone|8h", on=day) for day in ("2026-11-30", "2026-12-01"))
    assert (before.figure, before.ends) == (500, "2026-11-30") and (after.figure, after.begins) == (250, "2026-12-01")
    assert facts.rule("au", "isocyanates", "limit|8h", on="2026-11-30").figure == 0.02
    assert facts.rule("au", "isocyanates", "limit|8h", on="2026-12-01").figure == 0.005
    assert any(rule.key == "acetone|8h" and rule.figure == 250 for rule in facts.coming("au", "air", on="2026-11-25"))
    # A figure that nobody here has found in the new list is none: never the old one.
    xylene = next(row for row in facts.solvents if row.key == "xylene")
    assert breathing_limit(book("au"), xylene)[0] == 80
    later = on(facts, "2026-12-02")
    ppm, _, why = breathing_limit(book("au", later), xylene)
    assert math.isnan(ppm) and "not known here" in why
    text = render.csv_text(tables.BUILDERS["air-needed"](book("au", later)))
    row = next(line for line in text.splitlines() if line.startswith("Xylene"))
    assert row.endswith("–,–,–")


def test_the_eu_limit_for_isocyanates_falls_in_2029():
    """Directive 98/24/EC as amended by (EU) 2024/869: 10 and 20 µg/m³ as NCO, from 2029 6 and 12."""
    for region in ("eu", "ie"):
        assert [FACTS["uk"].rule(region, "isocyanates", key, on="2028-12-31").figure for key in ("limit|8h", "limit|15min")] == [0.010, 0.020]
        assert [FACTS["uk"].rule(region, "isocyanates", key, on="2029-01-01").figure for key in ("limit|8h", "limit|15min")] == [0.006, 0.012]


def test_a_rule_that_has_grown_old_says_so_on_its_pages(folder, tmp_path_factory):
    settings = folder / "site_data/handbook.yaml"
    settings.write_text(settings.read_text().replace("date: 2026-11-25", "date: 2028-01-01"))
    facts = open_handbook(folder)
    pages = some_pages(facts, tmp_path_factory.mktemp("old"))
    assert "△ Old: check again" in pages["reference/law.md"] and "△ Old: check again" in pages["safety/noise.md"]
    for name in ("emergencies", "strippers", "isocyanates", "dust-and-silica", "static-and-pouring", "extinguishers", "carbon-monoxide-and-heat"):
        assert "△ Old" in pages[f"safety/{name}.md"], name
    assert "△ Old" in html.unescape(render.html(tables.BUILDERS["air-needed"](book("uk", facts))))


# ---- masks and mist


def test_the_us_cell_of_eighteen_is_more_than_a_half_mask():
    """29 CFR 1910.134 table 1: a half mask counts 10."""
    shown = tables.BUILDERS["mist"](book("us"))
    cell = shown.cell(shown.rows.heads.index("20"), shown.columns.heads.index("2"))  # 2 fl oz a minute, 1000 ft³
    assert (cell.text, cell.zone) == ("18", "stop")
    assert "counts 10" in shown.zone_words["stop"]
    assert FACTS["us"].mask("us", "half").figure == 10


@pytest.mark.parametrize("region", [one for one in REGIONS if one != "eu"])
def test_mist_never_calls_a_half_mask_enough_above_its_own_factor(region):
    facts, shown = FACTS[region], tables.BUILDERS["mist"](book(region))
    half = facts.mask(None, "half").figure
    for _, cells in shown.grid():
        for cell in cells:
            assert (cell.zone == "care") == (float(cell.text) <= half), (region, cell)
    fine = facts.rule(None, "dust", "dust|respirable")
    if fine and fine.unit:
        assert fine.amount in " ".join(shown.notes)


def test_the_eu_has_no_limit_of_its_own_for_dust():
    shown = tables.BUILDERS["mist"](book("eu"))
    assert shown.unit == "mg/m³" and shown.zones is None and "No limit for dust" in shown.notes[0]
    assert FACTS["eu"].mask("eu") is None


@pytest.mark.parametrize("region", REGIONS)
def test_sheets_agree_with_the_mist_table(region):
    """No sheet calls a half mask alone enough indoors, and each has words for each region."""
    facts = FACTS[region]
    for key, guard in facts.protection.items():
        said = facts.breathing(guard)
        assert "No words for this region" not in said
        if "half" in said.lower():
            assert re.search(r"(unless the mist table|Outdoors)", said), (region, key, said)


# ---- solvents

# Dilution air in cubic feet for a US pint, from a US ventilation handbook's table: from memory. (key, limit in ppm, ft³)
DILUTION = (("acetone", 750, 7350), ("1-butanol", 50, 88000), ("butyl-acetate", 150, 20400), ("ethyl-acetate", 400, 10300), ("ethanol", 1000, 6900),
            ("2-propanol", 400, 13200), ("methanol", 200, 49100), ("mek", 200, 22500), ("xylene", 100, 33000))
# 10 % of the explosive limit over the UK's limit to breathe: worked by hand from IEC 60079-20-1 and EH40.
MULTIPLES = {"2-butoxyethanol": 44, "methanol": 30, "toluene": 20, "pgme": 15, "butyl-acetate": 8, "mek": 7.5, "acetone": 5, "2-propanol": 5, "ethanol": 3}


@pytest.mark.parametrize(("key", "ppm", "published"), DILUTION)
def test_air_to_breathe_agrees_with_the_published_dilution_air(key, ppm, published):
    solvent = next(row for row in FACTS["us"].solvents if row.key == key)
    vapour = CATALOGUE["vapour-volume"].work({"density": solvent.density.to("kg/L"), "molar-mass": solvent.molar_mass.to("g/mol"), "temperature": "70 °F"}).value
    air = CATALOGUE["breathing-air"].work({"vapour": vapour, "limit": ppm}).value
    assert units.convert(air, "m³/L", "ft³/gal") / 8 == pytest.approx(published, rel=0.025)


@pytest.mark.parametrize("key", MULTIPLES)
def test_safe_from_fire_is_not_safe_to_breathe(key):
    solvent = next(row for row in FACTS["uk"].solvents if row.key == key)
    limit = FACTS["uk"].rule("uk", "air", f"{key}|8h").figure
    lel = (solvent.lel_iec or solvent.lel_other).to("%")
    assert CATALOGUE["fire-over-breathing"].work({"explosive-limit": lel, "fraction": 10, "limit": limit}).value == pytest.approx(MULTIPLES[key], abs=0.5)


def test_sixteen_solvents_have_a_limit_to_breathe_somewhere_and_the_lowest_of_each_list():
    keyed = [row for row in FACTS["uk"].solvents if row.key]
    assert len(keyed) >= 16
    assert sum(not math.isnan(breathing_limit(book("us"), row)[0]) for row in keyed) >= 15
    by = {row.key: row for row in keyed}
    # IEC 60079-20-1 and NFPA 497 as both are tabulated in an open library: the lower of the two.
    assert [lowest(by[key].explosive_limits, "%") for key in ("xylene", "mek", "butyl-acetate")] == pytest.approx([0.9, 1.4, 1.2])
    assert [lowest(by[key].flash_points, "°C") for key in ("methanol", "mek", "white-spirit")] == pytest.approx([9, -10, 21])
    # The US list to breathe by is the lower of law and health body: 2-butoxyethanol 50 and 5.
    assert breathing_limit(book("us"), by["2-butoxyethanol"])[0] == 5
    weights = {key: row.molar_mass.to("g/mol") * lowest(row.explosive_limits, "%") for key, row in by.items() if row.explosive_limits}
    assert min(weights, key=weights.get) == "white-spirit"  # so a room worked like it never looks better than it is


# ---- nonsense

NONSENSE = (
    ("masks", "uk,half-mask-p3,half mask P3,20,", "uk,half-mask-p3,half mask P3,-10,", r"masks\.csv:\d+: wanted a figure between 1 and 100000 ×; came '-10'"),
    ("masks", "uk,half-mask-p3,half mask P3,20,", "mars,half-mask-p3,half mask P3,20,", r"masks\.csv:\d+: wanted a known region or district; came 'mars'"),
    ("noise", "80,dBA,", "eighty,dBA,", r"noise\.csv:\d+: wanted a number in column figure; came 'eighty'"),
    ("noise", "80,dBA,", "80,mg/m³,", r"noise\.csv:\d+: wanted a unit: dBA, dBC; came 'mg/m³'"),
    ("noise", "2026-11-25,from memory", "banana,from memory", r"noise\.csv:\d+: wanted a date such as 2026-11-26 in column checked; came 'banana'"),
    ("noise", "from memory,noise-2005", "from memory,", r"noise\.csv:\d+: wanted a source in sources\.yaml"),
    ("noise", "from memory,noise-2005", "hearsay,noise-2005", r"noise\.csv:\d+: wanted a basis"),
    ("noise", "from memory,noise-2005", "published,noise-2005", r"noise\.csv:\d+: wanted a basis that its source can carry"),
    ("air", ",,2026-11-30,2026-11-26,from memory,swa-wes", ",2027-01-01,2026-11-30,2026-11-26,from memory,swa-wes",
     r"air\.csv:\d+: wanted a last day on or after the first; came 2027-01-01 to 2026-11-30"),
    ("air", ",,2026-11-30,2026-11-26,from memory,swa-wes", ",,2026-12-31,2026-11-26,from memory,swa-wes", r"air\.csv:\d+: wanted one rule for au \S+ at a time"),
    ("air", "xylene|8h,8 hours,50,ppm", "xylene|8h,8 hours,50000,ppm", r"air\.csv:\d+: wanted a figure between 0\.001 and 5000 ppm; came '50000'"),
    ("dust", ",10,mg/m³,", ",,,", r"dust\.csv:\d+: wanted a figure or a few words in column says"),
    ("dust", ",10,mg/m³,", ",,mg/m³,", r"dust\.csv:\d+: wanted a figure for the unit"),
    ("voc", ",30,g/L,", ",30000,g/L,", r"voc\.csv:\d+: wanted a figure between 1 and 1000 g/L"),
    ("extinguishers", "burning gas,,,C", "burning gas,3,kg,C", r"extinguishers\.csv:\d+: wanted a rule in words"),
)


@pytest.mark.parametrize(("file", "was", "now", "wanted"), NONSENSE)
def test_nonsense_is_refused_at_its_line(folder, file, was, now, wanted):
    path = folder / f"site_data/law/{file}.csv"
    text = path.read_text(encoding="utf-8")
    assert was in text
    path.write_text(text.replace(was, now, 1), encoding="utf-8")
    assert any(re.search(wanted, line) for line in refused(folder)), refused(folder)


def test_a_strange_file_and_a_time_for_a_glove_are_refused(folder):
    (folder / "site_data/law/parking.csv").write_text("region\n")
    gloves = folder / "site_data/gloves.csv"
    gloves.write_text(gloves.read_text().replace("White spirit,splash", "White spirit,30 min"))
    told = refused(folder)
    assert any("law/parking.csv:1: wanted a file named for its subject" in line for line in told)
    assert any(re.search(r"gloves\.csv:3: wanted a rank in column thin nitrile", line) for line in told)


def test_all_problems_are_told_at_once_and_a_broken_region_does_not_multiply_them(folder):
    path = folder / "site_data/regions/us.yaml"
    path.write_text(path.read_text().replace("coin: $", "coin: [$"))
    told = refused(folder)
    assert any("regions/us.yaml" in line for line in told) and len(told) <= 3, told


# ---- regions


def test_mars_is_refused_wherever_it_is_named(folder, tmp_path, capsys):
    assert any("came 'mars'" in line and "site_data/regions" in line for line in refused(folder, "mars"))
    assert main(["--handbook", str(folder), "pages", "--region", "mars", "--out", str(tmp_path / "out")]) == 1
    assert main(["new", str(tmp_path / "mine"), "--region", "mars"]) == 1
    assert "came 'mars'" in capsys.readouterr().err and not (tmp_path / "mine").exists()
    settings = folder / "site_data/handbook.yaml"
    settings.write_text(settings.read_text().replace("region: uk", "region: mars"))
    assert any(re.search(r"handbook\.yaml:\d+: wanted a known region", line) for line in refused(folder))


def test_a_handbook_brings_its_own_region(folder, tmp_path_factory):
    text = (folder / "site_data/regions/eu.yaml").read_text().replace("title: European Union", "title: Germany").replace("words: uk", "words: uk\nunder: eu\nmasks_like: eu")
    (folder / "site_data/regions/de.yaml").write_text(text)
    with (folder / "site_data/law/dust.csv").open("a") as out:
        out.write("de,dust|inhalable,inhalable dust,10,mg/m³,,,,2026-11-26,from memory,region-notes,\n")
    facts = open_handbook(folder, "de")
    assert facts.handbook.coin == "€" and facts.rule(None, "dust", "dust|inhalable").figure == 10
    assert facts.rule(None, "isocyanates", "limit|8h").figure == 0.010  # from the region that it stands under
    assert "Germany" in some_pages(facts, tmp_path_factory.mktemp("own"))["safety/dust-and-silica.md"]


@pytest.mark.parametrize(("region", "coin", "system", "words"), [
    ("uk", "£", "metric", "uk"), ("eu", "€", "metric", "uk"), ("ie", "€", "metric", "uk"), ("us", "$", "us", "us"), ("ca", "$", "metric", "us"), ("au", "$", "metric", "uk"),
     ("nz", "$", "metric", "uk")])
def test_each_region_is_whole(region, coin, system, words):
    facts = FACTS[region]
    assert (facts.handbook.coin, facts.handbook.system, facts.handbook.words) == (coin, system, words)
    assert {"air", "asbestos", "contracts", "dust", "extinguishers", "height", "isocyanates", "lead", "masks", "noise", "pouring", "quiet", "strippers", "toys", "training", "voc", "waste"} \
        == set(tables.law.shown(facts))


def test_a_district_is_stricter_and_never_borrows_a_federal_figure(folder):
    """South Coast Rule 1113, 2016 edition, from memory: flat 50 g/L; 40 CFR 59: 250."""
    settings = folder / "site_data/handbook.yaml"
    settings.write_text(settings.read_text().replace("region: uk", "region: us\ndistrict: us-ca-south-coast"))
    facts = load(folder)
    assert facts.rule(None, "voc", "flat|any").figure == 50 and facts.rule("us", "voc", "flat|any").figure == 250
    shown = tables.BUILDERS["voc-classes"](book("us", facts))
    assert "South Coast" in shown.title and "us" not in {rule.region for rule in tables.mix._voc_rules(book("us", facts))}
    assert facts.rule(None, "air", "acetone|8h").figure == 500  # the state's, over the federal 1000


@pytest.mark.parametrize("region", REGIONS)
def test_numbers_to_call_stand_with_their_hours_and_basis(region, pages_of):
    page = html.unescape(pages_of(region)["safety/emergencies.md"])
    phones = FACTS[region].region.phones
    for one in (*phones.emergency, *phones.poison):
        assert one.call in page and one.hours in page and f"{one.basis}, checked {one.checked}" in page
    if region == "ie":  # Ireland's poisons centre, its own site: not a night line
        assert "01 809 2166" in page and "08:00 to 22:00" in page


@pytest.mark.parametrize("whole", [False, pytest.param(True, marks=pytest.mark.sweep)])
def test_an_older_folder_still_reads(folder, whole, tmp_path_factory):
    data = folder / "site_data"
    shutil.rmtree(data / "regions")
    shutil.rmtree(data / "law")
    (data / "regions.yaml").write_text(
        "".join(f"{key}:\n  title: {title}\n  basis: from memory\n  source: region-notes\n  checked: 2026-11-25\n  law: [a law]\n  ask: [somebody]\n  lead: Old.\n"
                f"  asbestos: Old.\n  waste: Old.\n  mist_limit: {limit} mg/m³\n  emergency: 'write your number here'\n  poison: 'write your number here'\n"
                for key, title, limit in (("uk", "United Kingdom", 10), ("eu", "European Union", 10), ("us", "United States", 15))))
    categories = sorted({(rule.region, rule.key) for rule in FACTS["uk"].rules.rules if rule.subject == "voc" and rule.region in ("uk", "eu", "us")})
    (data / "voc_limits.csv").write_text("region,category,base,limit [g/L],meaning,checked,basis,source\n" + "".join(
        f'{region},"{key.partition("|")[0]}",{key.partition("|")[2]},30,walls,2026-11-25,from memory,uk-voc-2012\n' for region, key in categories))
    (data / "noise_limits.csv").write_text("region,what,level [dBA],do,checked,basis,source\nuk,lower action value,80,tell people,2026-11-25,from memory,noise-2005\n")
    (data / "protection_factors.csv").write_text("region,key,device,factor,checked,basis,source\n" + "".join(
        f"{region},{key},a mask,{factor},2026-11-25,published,hsg53\n" for region, key, factor in (
            ("uk", "half-mask-p3", 20), ("uk", "half-mask-gas-p3", 10), ("uk", "full-mask-p3", 40), ("uk", "powered-hood-th3", 40),
            ("us", "apr-half-mask-incl-filtering-facepiece", 10), ("us", "apr-full-facepiece", 50), ("us", "sar-continuous-full", 1000))))
    solvents = data / "solvents.csv"
    solvents.write_text("name,density [kg/L],molar_mass [g/mol],lel_iec [%],lel_nfpa [%],lel_g11 [%],basis,source\n"
                        "Toluene,0.8669,92.14,1.0,1.1,1.4,published,iec-60079-20-1\n")
    facts = open_handbook(folder)
    assert facts.handbook.coin == "£" and facts.mask("us").figure == 10 and facts.rule("uk", "dust", "dust|inhalable").figure == 10
    assert facts.rule("eu", "dust", "dust|inhalable") is None
    pages = build_pages(facts) if whole else some_pages(facts, tmp_path_factory.mktemp("older"), ("safety/emergencies", "safety/vapour-and-fire"))
    assert "Your own: ______" in html.unescape(pages["safety/emergencies.md"])
    assert "No solvent of this handbook" in html.unescape(pages["safety/vapour-and-fire.md"])
    path = data / "protection_factors.csv"
    path.write_text(path.read_text().replace("a mask,20", "a mask,-10"))
    assert any(re.search(r"protection_factors\.csv:2: wanted a figure between", line) for line in refused(folder))


def test_no_time_is_printed_for_a_glove(pages_of):
    page = html.unescape(pages_of("uk")["safety/gloves.md"])
    assert not re.search(r"\d+ ?(min|minutes|hours|h)\b", page) and "from memory" in page
