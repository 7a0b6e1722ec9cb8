"""Printed numbers, worked a second time: from the files as they are written, with laws written by hand here or a reference library, read back from the finished page.

Nothing of `generators` works an expected value: it only prints what is looked at. Each test says which slip it would notice.
Laws: a room that is always mixed (mass balance, stepped through in small steps), school geometry, a straight log line for thinner, psychrolib for
dew points; that a pot life halves each ten degrees is common practice, from memory. Limits are read from site_data. Tables that are gone through cell by cell have files of
their own: test_cells_*.py.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections import defaultdict

import psychrolib
import pytest
import yaml
from conftest import ROOT, read_in
from pypdf import PdfReader

from generators import formulas, tables
from generators.pages.card import Wanted, card_pdf

DATA = ROOT / "site_data"
LIMITS = yaml.safe_load((DATA / "limits.yaml").read_text(encoding="utf-8"))
COATINGS = {path.stem: yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((DATA / "coatings").glob("*.yaml"))}
KITS = {path.stem: yaml.safe_load(path.read_text(encoding="utf-8")) for path in sorted((DATA / "kits").glob("*.yaml"))}
FAMILY = {key: kind["family"] for key, kind in yaml.safe_load((DATA / "classes.yaml").read_text(encoding="utf-8")).items()}
SPRAYED = [slug for slug, tin in COATINGS.items() if "stops" not in tin]
FOOT, QUART = 0.3048, 0.946352946  # m, L: exact by definition
ROOM_US = 1000 * FOOT**3  # m³: the ordinary room of 30 m³ as US readers have it, the next round one below
ORDINARY_ROOM = 3  # the mixing factor of an ordinary room: common practice (an older US rule's 3 to 10), from memory


def number(text):
    """The first number of a fact as it is written, in its own unit; Fahrenheit comes back in Celsius."""
    value = float(re.match(r"[-−]?[\d.]+", str(text))[0].replace("−", "-"))
    return (value - 32) / 1.8 if "°F" in str(text) and "Δ" not in str(text) else value


def limit(name):
    return number(LIMITS[name]["value"])


def celsius(head, system):
    value = float(head.replace("−", "-"))
    return value if system == "metric" else (value - 32) / 1.8


def said(text):
    return float(re.match(r"[−-]?[\d.]+", text)[0].replace("−", "-"))


def dew(air, humidity):
    """psychrolib's dew point over water; below 0 °C it gives frost points, so those are not asked for."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    return psychrolib.GetTDewPointFromRelHum(air, humidity / 100)


@pytest.fixture(params=["metric", "us"])
def book(request, facts, catalogue):
    return tables.Book(facts, catalogue, request.param)


def cells(table):
    """(row head, column head, cell) of all that holds a figure."""
    for head, row in table.grid():
        for column, cell in zip(table.columns.heads, row, strict=True):
            if not cell.reason:
                yield head, column, cell


def room_after(source, minutes, volume, changes, mixing):
    """What is in each m³ after so many minutes of `source` a minute into a room that is aired: stepped through by the second."""
    level, step = 0.0, 1 / 60
    for _ in range(round(minutes / step)):
        level += step * (source / volume - changes / mixing / 60 * level)
    return level


# What burns first of the solvents on its own sheet, as share of the air × g/mol: ethanol 3.1 %, xylene 0.9 % (IEC 60079-20-1 and the fire association's lists, read).
BURNS = {"knotty-shellac-primer": 0.031 * 46.07, "keel-two-pack-epoxy": 0.009 * 106.17}


@pytest.mark.parametrize("slug", ["gannet-trim-satin", "anchor-alkyd-gloss", "knotty-shellac-primer"])
def test_vapour_in_an_ordinary_room(book, slug):
    """Would notice: the mixing factor of an ordinary room as 1, minutes for hours, quarts for litres, the level to act at doubled."""
    table = tables.BUILDERS["room-vapour"](book, slug)
    litre, volume, act, seen = (1 if book.metric else QUART), (limit("room_volume") if book.metric else ROOM_US), limit("explosive_share_act"), set()
    for changes, sprayed, cell in cells(table):
        grams = room_after(float(sprayed) * litre * number(COATINGS[slug]["voc"]) / 10, 10, volume, float(changes), ORDINARY_ROOM)
        share = 100 * grams / (BURNS.get(slug, 0.006 * 142) / 24.055e-3)  # 0.6 % of a gas whose mole weighs 142 g and takes 24.055 L at 20 °C
        assert share * 0.997 - 1e-9 <= said(cell.text) <= share * 1.003 + 0.1, (changes, sprayed, cell, share)
        if abs(share / act - 1) > 0.01:
            assert cell.zone == ("stop" if share >= act else "care"), (changes, sprayed, cell, share)
            seen.add(cell.zone)
    assert seen == {"care", "stop"} or number(COATINGS[slug]["voc"]) < 200


def test_mist_of_water_paint(book):
    """Would notice: the mixing factor as 1, the limit or the mask's twenty times doubled. In the UK a half mask counts 20 (HSG53, from memory)."""
    rules = csv.DictReader((DATA / "law/dust.csv").read_text(encoding="utf-8").splitlines())
    allowed = next(float(rule["figure"]) for rule in rules if (rule["region"], rule["key"]) == ("uk", "dust|inhalable"))
    half_mask, millilitres, volume = (20, 1, limit("room_volume")) if book.metric else (20, QUART * 1000 / 32, ROOM_US)
    for changes, flow, cell in cells(tables.BUILDERS["mist"](book)):
        in_air = float(flow) * millilitres / 1000 * 600_000 * 0.35 * 0.1  # mg each minute: 600 g/L, 35 % misses, a tenth of that stays up
        times = room_after(in_air, 10, volume, float(changes), ORDINARY_ROOM) / allowed
        assert times * 0.997 - 1e-9 <= said(cell.text) <= times * 1.003 + 1, (changes, flow, cell, times)
        if abs(math.ceil(times) - half_mask) > 1:
            assert cell.zone == ("care" if times < half_mask else "stop"), (changes, flow, cell)


def test_minutes_to_clear_an_ordinary_room(book):
    """Would notice: an ordinary room that clears as quickly as a perfect one. By halving: 90 % gone is 3.32 halvings."""
    for changes, head, cell in cells(tables.BUILDERS["clearance"](book)):
        left = 1 - float(re.search(r"[\d.]+", head)[0]) / 100
        minutes = 60 / float(changes) * math.log(2) * math.log2(1 / left) * (ORDINARY_ROOM if "ordinary" in head else 1)
        assert minutes - 1e-6 <= said(cell.text) <= minutes + 1, (changes, head, cell)


@pytest.mark.parametrize("slug", [slug for slug in SPRAYED if "two_pack" in COATINGS[slug]])
def test_a_two_pack_is_out_of_the_gun_before_it_sets(book, slug):
    """Would notice: a clean-by at or after the pot life, a pot life that grows with warmth, hours for minutes, a big pot that lasts as long as a small one.
    By the ends of what is known: 2.5 times as fast for each ten degrees over the sheet's, 1.5 times as slow under it, and a pot's volume to the power 0.07 over a tenth of a litre."""
    table, share = tables.BUILDERS["pot-life"](book, slug), limit("clean_before_pot_life") / 100
    hours, rows = number(COATINGS[slug]["two_pack"]["pot_life"]), defaultdict(dict)
    assert share < 1
    for head, column, cell in cells(table):
        litres = float(re.search(r", ([\d.]+) (?:L|qt)", column)[1]) * (0.946353 if "qt" in column else 1)
        rows[head, litres]["clean" if "clean" in column else "set"] = said(cell.text)
    assert len(rows) >= 12
    for (head, litres), row in rows.items():
        degrees = celsius(head, book.system) - 23
        minutes = hours * 60 * (2.5 if degrees > 0 else 1.5) ** (-degrees / 10) * (litres / 0.1) ** -0.07
        assert minutes - 5.1 <= row["set"] <= minutes + 0.1, (head, litres, row, minutes)
        assert minutes * share - 5.1 <= row["clean"] <= minutes * share + 0.1 and row["clean"] < row["set"], (head, litres, row, minutes)


def test_glycerol_and_water_of_known_strength(book):
    """Would notice: viscosity times density for over it, strengths one row aside. Segur and Oberstar 1951 (seen as transcribed) over a handbook's densities (from memory)."""
    told = {(float(share), round(celsius(heat, book.system), 1)): said(cell.text) for share, heat, cell in cells(tables.BUILDERS["calibration-liquids"](book))}
    for share, dynamic, density in ((50, 6.0, 1.1263), (65, 15.2, 1.1670), (80, 60.1, 1.2085), (90, 219, 1.2351)):
        assert told[share, 20.0] == pytest.approx(dynamic / density, rel=0.05), share


# The card, as a reader sees it: texts with their places on the sheet


def placed(facts, catalogue, kit):
    """(x, y, text) of each side of a kit's card."""
    sides = []
    for page in PdfReader(io.BytesIO(card_pdf(facts, catalogue, kit))).pages:
        found = []
        page.extract_text(visitor_text=lambda text, cm, tm, font, size, found=found: found.append((tm[4] + cm[4], tm[5] + cm[5], text.strip())) if text.strip() else None)
        sides.append(found)
    return sides


def under(side, first_head, heads):
    """{row head: {head: text}} of a table on the card: each cell goes to the head that stands nearest above it."""
    corner = next(one for one in side if one[2] == first_head)
    line = {text: x for x, y, text in side if abs(y - corner[1]) < 1}
    assert list(heads) == [text for text in line if text in heads], line
    rows, last = {}, corner[1]
    for y, row in sorted(((y, text) for x, y, text in side if abs(x - corner[0]) < 1 and y < corner[1]), reverse=True):
        if last - y > 25 or not re.fullmatch(r"[\d−.]+ (°C|mm)", row):
            break
        last = y
        there = [(x, text) for x, at, text in side if abs(at - y) < 3 and x > corner[0] + 5]
        assert len(there) == len(heads), (row, there)
        rows[row] = {min(heads, key=lambda head, x=x: abs(line[head] - x)): text for x, text in there}
        assert len(rows[row]) == len(heads), (row, there)
    return rows


def words_of(side):
    return " ".join(text for _, _, text in side)


def margin(tin):
    """What a paint's kind needs over the dew point: shellac 11, water paint 5, others 3 Δ°C, read from the file of limits."""
    kind = tin["class"]
    return limit("dew_margin_lacquer" if kind.startswith("shellac") else "dew_margin_waterborne" if FAMILY[kind] == "waterborne" else "dew_margin_min")


@pytest.mark.parametrize("kit", KITS)
def test_the_cards_coldest_surface_stands_under_its_own_heads(facts, catalogue, kit):
    """Would notice: columns one head aside, another margin, a surface colder than the sheet allows, air that the sheet forbids called fine."""
    heads = ["50 %", "60 %", "70 %", "75 %", "80 %", "85 %"]
    back = placed(facts, catalogue, kit)[1]
    named = re.search(r"For whichever of (.*?) asks most", words_of(back))[1].split(", ")
    tins = [tin for tin in COATINGS.values() if tin["name"] in named]
    assert len(tins) == len(named)
    rows = under(back, "Air °C", heads)
    assert len(rows) == 6
    for air, row in rows.items():
        for head, text in row.items():
            warm, damp = said(air), said(head)
            least = [max(dew(warm, damp) + margin(tin), number(tin["air_min"])) for tin in tins]
            assert max(least) - 0.06 <= said(text) <= max(least) + 0.56 or text.endswith("×"), (air, head, text, least)
            out = any(warm < number(tin["air_min"]) or warm > number(tin["air_max"]) or damp > number(tin["humidity_max"]) for tin in tins)
            if out or max(least) > warm + 0.06:
                assert text.endswith("×"), (air, head, text)
            if abs(said(text) - min(least)) < 0.5:
                assert said(text) >= min(number(tin["air_min"]) for tin in tins) - 1e-9


@pytest.mark.parametrize("kit", KITS)
def test_the_cards_fan_is_its_triangle(facts, catalogue, kit):
    """Would notice: the fan's width by the wrong angle or in the wrong column, the step of another shape of fan, a reach that is not the kit's."""
    rows = under(placed(facts, catalogue, kit)[1], "Gun mm", ["fan", "step", "even, %"])
    angle, near, far = (number(KITS[kit][key]) for key in ("fan_angle", "near", "far"))
    # Width at half height: of a straight-sided peak a half; of a level middle half with straight sides three quarters; of a bell of spread 0.18 by its own law.
    share = {"taper": 0.5, "flat-core": 0.75, "bell": 2 * 0.18 * math.sqrt(2 * math.log(2))}[KITS[kit]["pattern"]]
    assert len(rows) >= 6
    for distance, row in rows.items():
        width = 2 * said(distance) * math.tan(math.radians(angle / 2))
        assert width - 2.51 <= said(row["fan"]) <= width + 2.51, (distance, row, width)
        assert share * width - 5.05 <= said(row["step"]) <= share * width + 0.05, (distance, row, width)  # rounded down
        assert row["fan"].endswith("*") == row["step"].endswith("*") == (not near <= said(distance) <= far), (distance, row)


def paint_rows(front, names):
    """{paint: its figures, or the words that stand in the place of a dose and the two of its next coat}, as they stand on the line of its name."""
    found = {}
    for x, y, name in front:
        if name in names and name not in found:
            found[name] = [text for at, line, text in sorted(front) if abs(line - y) < 3 and at > x + 5]
    return found


@pytest.mark.parametrize("region", ["uk", "us"])
def test_a_cards_pot_life_is_that_of_its_pot_at_its_warmth(catalogue, region):
    """Would notice: another warmth or pot than the words name, minutes for hours, a pot that lasts longer than the mix. By the ends of what is known, as above."""
    facts, (degree, pot, litres, mixes) = read_in(region), ("°F", "qt", QUART, (70, 85)) if region == "us" else ("°C", "L", 1, (20, 30))
    card = PdfReader(io.BytesIO(card_pdf(facts, catalogue, "five-stage-trolley", wanted=Wanted(coatings=("keel-two-pack-epoxy",)))))
    front = " ".join(card.pages[0].extract_text().split())
    (told,) = re.findall(rf"Pot life, 1 {pot}: (\d+):(\d\d) h at {mixes[0]} {degree}, (\d+):(\d\d) h at {mixes[1]} {degree}", front)
    for warm, hours, rest in ((mixes[0], *told[:2]), (mixes[1], *told[2:])):
        degrees = celsius(str(warm), "us" if region == "us" else "metric") - 23
        minutes = number(COATINGS["keel-two-pack-epoxy"]["two_pack"]["pot_life"]) * 60 * (2.5 if degrees > 0 else 1.5) ** (-degrees / 10) * (litres / 0.1) ** -0.07
        assert minutes - 5.1 <= 60 * int(hours) + int(rest) <= minutes + 0.1, (warm, told, minutes)


@pytest.mark.parametrize("kit", KITS)
def test_the_cards_doses_follow_a_straight_log_line_and_never_pass_a_label(facts, catalogue, kit):
    """Would notice: a dose past the data sheet, of another paint or kit; a tooth that is not the last under the film; another coat's hours."""
    front = placed(facts, catalogue, kit)[0]
    cups = {row["name"]: row for row in csv.DictReader((DATA / "cups.csv").read_text(encoding="utf-8").splitlines())}
    thickness = {name: (lambda seconds, row=row: float(row["A [mm²/s²]"]) * (seconds - float(row["C [s]"])) - float(row["B [mm²]"]) / seconds) for name, row in cups.items()}
    teeth = [float(one) for one in next(csv.DictReader(line for line in (DATA / "combs.csv").read_text(encoding="utf-8").splitlines() if not line.startswith("#")))["teeth [µm]"].split()]
    most, cup = re.match(r"([\d.]+) s in (\S+)", KITS[kit]["limit"]).groups()
    tins = [COATINGS[slug] for slug in COATINGS if slug in tables.mix.sprayable(facts)][:6]
    rows = paint_rows(front, [tin["name"] for tin in tins])
    words = words_of(front)
    assert list(rows) == [tin["name"] for tin in tins], rows
    for tin, shown in ((tin, rows[tin["name"]]) for tin in tins):
        first, first_cup = re.match(r"([\d.]+) s in (\S+)", tin["supplied"]).groups()
        second, second_cup = re.match(r"([\d.]+) s in (\S+)", tin["trial"]["time"]).groups()
        one, two, wanted = thickness[first_cup](float(first)), thickness[second_cup](float(second)), thickness[cup](float(most))
        percent = max(0.0, number(tin["trial"]["thinner"]) * math.log(one / wanted) / math.log(one / two))
        label = number(tin["thinner_max"])
        assert abs(percent - label) > 0.01  # no demonstration paint sits on its label
        *dosed, hours, latest = shown
        assert number(tin["recoat_after"]) <= said(hours) < number(tin["recoat_after"]) + 0.5, (tin["name"], hours)  # rounded up to the half hour
        assert latest == (f"{number(tin['recoat_before']):g}" if "recoat_before" in tin else "–"), (tin["name"], latest)
        film = number(tin["dry_film"]) / number(tin["volume_solids"]) * 100 * (1 + percent / 100)
        voc = (number(tin["voc"]) + percent / 100 * number(tin["thinner_density"])) / (1 + percent / 100)
        if percent > label:  # or where the law's own wall comes sooner
            assert dosed in (["× Not with this kit"], ["× No dose"]), (tin["name"], shown, percent)
            continue
        if dosed == ["× No dose"]:  # the law's own wall: the mix would hold more than its category may
            assert voc > number(tin["voc"]) and number(tin["thinner_density"]) > 0 and "VOC limit of its category" in words, tin["name"]
            continue
        dose, then, wet, dry = dosed
        assert 10 * percent - 5.01 <= said(dose) <= 10 * percent + 0.01, (tin["name"], dose, percent)  # mL in a litre of paint, rounded down
        assert dose.endswith("*")  # the sheet's figures, nobody has timed it
        assert said(then) <= float(most) + 1.01  # its own forecast, rounded up
        assert said(wet) == max(tooth for tooth in teeth if tooth <= film + 1e-6) and said(dry) == min(tooth for tooth in teeth if tooth > film + 1e-6), (tin["name"], wet, dry, film)


@pytest.mark.parametrize("kit", KITS)
def test_the_cards_words_are_the_data_sheets(facts, catalogue, kit):
    """Would notice: the coldest air for the warmest, another paint's humidity, another margin over the dew point, a paint with no mask."""
    front = words_of(placed(facts, catalogue, kit)[0])
    for tin in [COATINGS[slug] for slug in COATINGS if slug in tables.mix.sprayable(facts)][:6]:
        low, high = number(tin["air_min"]), number(tin["air_max"])
        assert low < high and f"Air {low:g} to {high:g} °C, to {number(tin['humidity_max']):g} %." in front, tin["name"]
        assert f"Surface from {low:g} °C, {margin(tin):g} over dew." in front, tin["name"]


def test_a_us_cards_limits_are_no_looser_than_the_sheets():
    """Fahrenheit worked by hand (9/5 and 32; a margin without the 32): the coldest and the margin rounded up, the warmest down. Would notice: 8 °C printed as 46 °F."""
    facts = read_in("us")
    front = words_of(placed(facts, formulas.catalogue(facts), next(iter(KITS)))[0])
    for tin in [COATINGS[slug] for slug in COATINGS if slug in tables.mix.sprayable(facts)][:5]:
        low, high, over = math.ceil(number(tin["air_min"]) * 9 / 5 + 32 - 1e-9), math.floor(number(tin["air_max"]) * 9 / 5 + 32 + 1e-9), math.ceil(margin(tin) * 9 / 5 - 1e-9)
        assert f"Air {low} to {high} °F," in front and f"Surface from {low} °F, {over} over dew." in front, tin["name"]
