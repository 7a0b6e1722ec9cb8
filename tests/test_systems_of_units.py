"""US and metric each whole: no unit of the other system stands in an edition, but for what the law or a sheet prints and where a page says that it turns one into the other."""

from __future__ import annotations

import html
import io
import random
import re

import pytest
from conftest import ROOT, serving
from hands import unfold
from made_once import made_once
from pypdf import PdfReader

from generators import formulas
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages
from generators.paper import book
from generators.render.live import fields, twin
from generators.starter import write
from generators.tables.book import nozzle_words
from generators.units import convert, known, one_system, round_about, said, turned_range, within

# Left out of a page: the other system's table, folded under its own name; what a formula holds in the units of science; names of files, commands and places; what a script reads.
# And the law's own rows, which stand as the law prints them.
OTHER = re.compile(r'<details class="alm-how alm-other">.*?</details>|<(tr|p) class="alm-si"[^>]*>.*?</\1>|<(code|script|style|math)\b.*?</\2>|```.*?```|`[^`]*`|\{ ?[:#][^}]*\}'
                   r'|<table[^>]* class="alm-words[^"]*"[^>]*>\s*<caption[^>]*><strong>[^<]*</strong> As on \d{4}-\d\d-\d\d\. Check before you rely on it\..*?</table>', re.S)
SPOKEN = re.compile(r'\b(?:aria-label|title|alt|placeholder)="([^"]*)"')
TAGS = re.compile(r"<[^>]+>")
# What is named by a measure in every country: cups by their standard; nozzles and strainers by what is stamped on them, said as such; VOC as the law and the label print it.
NAMED = re.compile(r"(?:ISO [3-6]|DIN 4) mm cup|“4 mm cup”|marked \d[\d.]*(?: to \d[\d.]*)? (?:mm|µm)|grams of VOC in each liter|in each cubic meter\b", re.I)
FIGURE = r"(?<![\w/])\d[\d.,–½¼¾⅛⅜⅝⅞]*(?<![.,])[ \u00a0\u202f]"
METRIC = re.compile(rf"{FIGURE}(?:mm|cm|µm|°C|mL|L|kg|g|m|m²|m³|m/s|mm/s|km/h|mL/min|L/min|m²/L|mL/L|kg/L|bar)(?![\w/²³·])"
                    r"|(?<![\w/°])(?:mm|cm|µm|microns?|°C|mL|ml|kg|m²|km/h|[Ll]it(?:re|er)s?|metres?|meters|[a-z]*metres|millilit(?:re|er)s?|mL/min|m²/L|mL/L)(?![\w/²³·])")
US = re.compile(rf"{FIGURE}(?:in(?! (?:\d|one|January|February|March|April|May|June|July|August|September|October|November|December))|mil|°F|fl oz|oz|qt|gal|lb|lb/gal|ft|ft²|ft³|mph)(?![\w/²³])"
                r"|(?<![\w/])(?:mils?|°F|fl oz|qt|gal|ft|ft²|mph|inch|inches|[Qq]uarts?|[Gg]allons?)(?![\w/²³])")
# Pages whose words are the law's, a source's or a standard's own, and the one that turns units.
SAID_ELSEWHERE = ("reference/law.md", "reference/sources.md", "reference/checks.md", "reference/units.md")
ABOUT_THE_OTHER = {"reference/your-own.md": "begins in inches, gallons and °F"}  # which starter begins how


def words_of(page, facts, address=""):
    """What a reader sees or hears of a page, without what stands there as somebody else prints it."""
    text = re.sub(r"\]\([^()\s]+\)", "]", OTHER.sub(" ", page))  # where a link leads is no word of the page
    text = html.unescape(TAGS.sub(" ", text) + " ¦ " + " ¦ ".join(SPOKEN.findall(text)))
    text = " ".join(text.split()).replace(ABOUT_THE_OTHER.get(address, "\0"), " ")
    return plain(text, facts)


def plain(text, facts):
    for source in facts.sources.values():  # a source's own title is its name
        for name in (f"{source.title}, {source.part}" if source.part else "", source.title):
            if name and re.search(r"\d", name):
                text = text.replace(name, " ")
    for rule in facts.law(subject="voc"):
        text = text.replace(f"Binds: {rule.scope}", " ") if rule.scope else text
    return NAMED.sub(" ", text)


def stands(text, other):
    return [f"{text[max(0, match.start() - 40):match.start()]}▶{match[0]}◀{text[match.end():match.end() + 20]}" for match in other.finditer(text)]


EDITIONS = pytest.mark.parametrize(("region", "system", "other"), [("us", "us", METRIC), (None, "metric", US)], ids=["us", "metric"])


def test_prose_that_says_a_measure_both_ways_keeps_the_editions_own():
    assert one_system("at 23 °C (73 °F) and 200–250 mm (8–10 in)", "us") == "at 73 °F and 8–10 in"
    assert one_system("at 23 °C (73 °F) and 200–250 mm (8–10 in)", "metric") == "at 23 °C and 200–250 mm"
    assert one_system("every 20 mm (¾ in)", "us") == "every ¾ in" and one_system("wait 3 h (overnight)", "us") == "wait 3 h (overnight)"


@pytest.mark.parametrize(("text", "us", "metric"), [
    ("VOC for each litre (gallon) of solids", "VOC for each gallon of solids", "VOC for each litre of solids"), ("Litres (Quarts) through the gun", "Quarts through the gun", "Litres through the gun"),
    ("for each square metre (square foot), all", "for each square foot, all", "for each square metre, all"), ("For a metre (foot)", "For a foot", "For a metre"),
    ("noise at one metre (three feet), flow", "noise at three feet, flow", "noise at one metre, flow"), ("half a metre (18 inches), taped", "18 inches, taped", "half a metre, taped"),
    ("boards of 1 m² (3 ft 3 in square)", "boards of 3 ft 3 in square", "boards of 1 m²"), ("by 1 to 2 mm (1/16 in) first", "by 1/16 in first", "by 1 to 2 mm first"),
    ("5 m (see 3 ft)", "5 m (see 3 ft)", "5 m (see 3 ft)")])
def test_words_and_ranges_said_both_ways(text, us, metric):
    assert one_system(text, "us") == us and one_system(text, "metric") == metric


@pytest.mark.parametrize(("value", "unit", "text"), [(4.92, "in", "4⅞ in"), (7.87, "in", "7⅞ in"), (5, "in", "5 in"), (11.81, "mil", "11.8 mil"), (1.18, "mil", "1.18 mil"),
    (73.4, "°F", "73 °F"), (0.059, "in", "0.059 in")])
def test_a_measure_as_people_say_it(value, unit, text):
    assert said(value, unit) == text


@pytest.mark.parametrize(("value", "unit", "side", "text"), [(46.4, "°F", "up", "47 °F"), (82.4, "°F", "down", "82 °F"),
    (50.000000000000064, "°F", "up", "50 °F"), (85.99999999999999, "°F", "down", "86 °F"),
    (7.9, "in", "down", "7⅞ in"), (7.8, "in", "up", "7⅞ in"), (-0.4, "°C", "down", "−0.4 °C")])
def test_a_limit_is_rounded_to_its_safe_side_and_a_hair_moves_nothing(value, unit, side, text):
    assert said(value, unit, side) == text


@pytest.mark.parametrize(("value", "unit", "near"), [(68.4, "°F", 68), (7.874, "in", 8), (8.66, "in", 9), (3.346, "mil", 3.5), (1.0567, "qt", 1), (0.8454, "qt", 0.8),
    (2.237, "mph", 2.2), (0.0, "in", 0), (-1.97, "in", -2)])
def test_an_example_begins_with_a_round_figure_near_by(value, unit, near):
    assert round_about(value, unit) == pytest.approx(near)


@pytest.mark.parametrize("seed", range(3))
def test_a_printed_range_is_never_wider_than_the_formulas(seed):
    rng = random.Random(seed)
    for _ in range(2000):
        low = rng.choice((-1, 1)) * 10 ** rng.uniform(-6, 6)
        high = low + 10 ** rng.uniform(-6, 6)
        least, most = within(low, high)
        assert least >= low - 1e-6 * abs(low) and most <= high + 1e-6 * abs(high) and least == pytest.approx(low, rel=0.01) and most == pytest.approx(high, rel=0.01)


def test_both_ends_of_a_range_are_in_one_unit():
    low, high, unit = turned_range(0.01, 3, "m/s", "us")  # a hand
    assert unit == "in/s" and (low, high) == pytest.approx((0.394, 118))
    low, high, unit = turned_range(0, 20, "m/s", "us")  # a wind
    assert unit == "mph" and (low, high) == pytest.approx((0, 44.7))


def test_a_us_readers_worked_example_is_in_us_units(facts_in, catalogue):
    from generators.pages.system import worked_in

    formula = catalogue["wet-film"]
    worked = worked_in(formula.work({"dry-film": 25.0, "volume-solids": 40.0, "thinner": 10.0}), "us")
    assert worked.unit == "mil" and worked.value == pytest.approx(68.75 / 25.4) and not {unit for _, _, unit in worked.inputs} & {"µm", "mm", "°C", "mL", "L"}


def test_the_check_finds_what_it_looks_for(facts_in):
    """A check that cannot fail checks nothing: each kind of leak is found, and nothing that is excused."""
    facts = facts_in("us")
    for leak in ("<p>at 23 °C</p>", "<th>Droplet <span>µm</span></th>", "<p>a litre of it</p>", '<td title="0.5 mm">3</td>', "<label>Air <span>°C</span></label>",
                 "<svg><text>100 mm</text></svg>", "<p>0.2 m/s</p>"):
        assert stands(words_of(leak, facts), METRIC), leak
    for fine in ("<p>ISO 4 mm cup</p>", "<p>0.051 in, marked 1.3 mm</p>", "<p>a moisture meter</p>", "<p>50 g/L</p>", '<tr class="alm-si"><td>0 °C</td></tr>', "<p>40 mm²/s</p>"):
        assert not stands(words_of(fine, facts), METRIC), fine
    assert stands("the gun 8 in off", US) and stands("in °F", US) and not stands("95 in 100, and 4.9 in July", US)


@EDITIONS
def test_no_unit_of_the_other_system_stands_in_an_edition(pages_in, facts_in, region, system, other):
    found = [f"{address}: {one}" for address, page in pages_in(region).items() if address not in SAID_ELSEWHERE for one in stands(words_of(page, facts_in(region), address), other)]
    assert not found, f"{len(found)}: " + "; ".join(found[:60])


@pytest.mark.sweep
def test_nor_in_the_folder_of_a_us_firm_that_typed_its_own_in_inches_and_gallons(tmp_path):
    write(tmp_path / "firm", "us")
    facts = open_handbook(tmp_path / "firm")
    assert any(coating.nozzle.text == "0.059 in" for coating in facts.coatings.values())
    found = [f"{address}: {one}" for address, page in build_pages(facts).items() if address not in SAID_ELSEWHERE for one in stands(words_of(page, facts, address), METRIC)]
    assert not found, f"{len(found)}: " + "; ".join(found[:60])
    tables = {nozzle_words(coating.nozzle, "us") for coating in facts.coatings.values()}
    assert tables == {coating.nozzle.text for coating in facts.coatings.values()}, "a nozzle that is stamped in inches is not told in millimetres"


# Strings of a script that a reader sees: sentences and titles. A name of the chain or of a formula (pot-litres) is no word of the page, and one that is a bare unit is told by its neighbour.
LITERAL = re.compile(r'"((?:[^"\\]|\\.)*)"')


def literals(script):
    for text in LITERAL.findall(script):
        told = re.sub(r"\\u([0-9a-f]{4})", lambda match: chr(int(match[1], 16)), text)
        if " " in told and not known(told):
            yield told


@pytest.mark.sweep
@EDITIONS
def test_nor_in_its_cards_exercise_sheets_tables_and_scripts(assets_in, facts_in, region, system, other):
    facts, found = facts_in(region), []
    for address, asset in assets_in(region).items():
        if address.endswith(".pdf"):
            texts = [" ".join(" ".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(asset)).pages).split())]
        elif address.endswith(f"-{system}.csv") and not address.startswith(("tables/law-", "tables/here-")):
            texts = [asset.decode()]
        elif address.endswith(".js") and not address.endswith("grammar.js"):
            texts = literals(asset.decode())
        else:
            continue
        found += [f"{address}: {one}" for text in texts for one in stands(plain(text, facts), other)]
    assert not found, f"{len(found)}: " + "; ".join(found[:60])


# The book holds a formula's constants, in the units of science, on one page; and the law's rows among its pages, as the law prints them.
SCIENCE = (*SAID_ELSEWHERE, "reference/formulas.md")


@pytest.mark.sweep
@EDITIONS
def test_nor_in_its_book(pages_in, facts_in, region, system, other):
    facts = facts_in(region)
    chosen = [address for address, page in pages_in(region).items() if address not in (*SCIENCE, *ABOUT_THE_OTHER) and "\npaper: false\n" not in page]

    def make(folder):
        (folder / "book.pdf").write_bytes(book(ROOT, region, "letter" if region == "us" else "a4", chosen=chosen))

    sheets = [" ".join(sheet.extract_text().split()) for sheet in PdfReader(made_once(f"book-of-units-{region}", make) / "book.pdf").pages]
    law = {rule.amount for subject in ("waste", "voc", "height") for rule in facts.law(subject=subject) if rule.amount}
    found = []
    for number, text in enumerate(sheets, 1):
        for amount in law:
            text = text.replace(amount, " ")
        found += [f"{number}: {one}" for one in stands(plain(text, facts), other)]
    assert len(sheets) > 100 and not found, f"{len(found)}: " + "; ".join(found[:60])


# The edition on a phone: its scripts run, and what they write is read.


@pytest.fixture(scope="module")
def us_site():
    from generators.site.build import build

    with serving(made_once("site-us", lambda folder: build(ROOT, folder / "site", region="us")) / "site") as address:
        yield address


@pytest.mark.sweep
def test_every_live_answer_of_the_us_edition_takes_and_gives_us_units_and_python_s_figure(look, us_site, facts_in):
    """Each at round US figures: typed in the unit beside the field, answered in a US unit, the same sum as Python's to three digits."""
    look.goto(f"{us_site}/answers.html")
    answered = 0
    for name, formula in formulas.catalogue(facts_in("us")).items():
        part, inputs = look.locator(f'.alm-live[data-formula="{name}"]'), {}
        unfold(part)
        option = formula.choice.example if formula.choice else None
        if option:
            part.locator(".alm-option").select_option(option)
        for one in fields(formula, {}):
            typed = round_about(convert(one.symbol.example, one.unit, one.us_unit), one.us_unit) if one.us_unit != one.unit else one.symbol.example
            inputs[one.symbol.name] = convert(typed, one.us_unit, one.unit)
            part.locator(f'.alm-field[data-name="{one.symbol.name}"] input').fill(f"{typed:.12g}")
        value, (unit, scale, offset) = float(formula.column({**inputs, **({formula.choice.name: option} if option else {})})), twin(formula.answer.unit, formula.answer.high)
        told = part.locator(".alm-answer-is").inner_text().replace("−", "-")
        assert not stands(NAMED.sub(" ", part.inner_text()), METRIC), name
        if value == value:
            answered += 1
            assert float(told.split()[0]) == pytest.approx((value - offset) / scale, rel=6e-3, abs=1e-12), (name, inputs, told)
            assert told.endswith(("" if unit == "1" else unit).replace("Δ", "").replace("money", "$")), (name, told)
    assert answered > 100


@pytest.mark.sweep
def test_no_metric_unit_stands_on_a_page_of_the_us_edition_once_its_scripts_have_run(look, us_site, pages_in, facts_in):
    found = []
    for address in pages_in("us"):
        if address not in SAID_ELSEWHERE:
            look.goto(f"{us_site}/{address.removesuffix('.md')}.html")
            look.wait_for_load_state("networkidle")
            found += [f"{address}: {one}" for one in stands(words_of(look.locator("article").evaluate("part => part.outerHTML"), facts_in("us")), METRIC)]
    assert not found, f"{len(found)}: " + "; ".join(found[:40])
