"""US and metric each whole: no unit of the other system stands in an edition, but for what the law or a sheet prints and where a page says that it turns one into the other."""

from __future__ import annotations

import re

import pytest

from generators.pages.system import one_system, said

TAGS = re.compile(r"<[^>]+>")
# Left out: the other system's table, folded under its own name; names of files and commands; what the law and sources say in their own words.
OTHER = re.compile(r'<details class="alm-how alm-other">.*?</details>|<code>.*?</code>|```.*?```|`[^`]*`|<svg.*?</svg>|data-[a-z-]+="[^"]*"|<script.*?</script>', re.S)
METRIC = re.compile(r"(?<![\w/])\d[\d.,]*(?:–[\d.,]+)?[ \u00a0](?:mm|cm|µm|°C|mL|mL/min|L|kg|kg/L|m²|m³|m/s|m²/L|km/h)(?![\w/²³])")
US = re.compile(r"(?<![\w/])\d[\d.,]*(?:–[\d.,]+)?[ \u00a0](?:in|mil|°F|fl oz|qt|gal|lb|lb/gal|ft|ft²|mph)(?![\w/²³])")
# Pages whose words are the law's, a source's or a standard's, and those that hold both on purpose.
SAID_ELSEWHERE = ("reference/law.md", "reference/sources.md", "reference/checks.md", "reference/units.md", "reference/your-own.md",
                  "reference/verdicts.md", "reference/formulas.md", "reference/words.md")


def shown(page):
    return TAGS.sub(" ", OTHER.sub(" ", page))


def test_prose_that_says_a_measure_both_ways_keeps_the_editions_own():
    assert one_system("at 23 °C (73 °F) and 200–250 mm (8–10 in)", "us") == "at 73 °F and 8–10 in"
    assert one_system("at 23 °C (73 °F) and 200–250 mm (8–10 in)", "metric") == "at 23 °C and 200–250 mm"
    assert one_system("every 20 mm (¾ in)", "us") == "every ¾ in" and one_system("wait 3 h (overnight)", "us") == "wait 3 h (overnight)"


@pytest.mark.parametrize(("value", "unit", "text"), [(4.92, "in", "4⅞ in"), (7.87, "in", "7⅞ in"), (5, "in", "5 in"), (11.81, "mil", "11.8 mil"), (1.18, "mil", "1.18 mil"),
    (73.4, "°F", "73 °F"), (0.059, "in", "0.059 in")])
def test_a_measure_as_people_say_it(value, unit, text):
    assert said(value, unit) == text


def test_a_us_readers_worked_example_is_in_us_units(facts_in, catalogue):
    from generators.pages.system import worked_in

    formula = catalogue["wet-film"]
    worked = worked_in(formula.work({"dry-film": 25.0, "volume-solids": 40.0, "thinner": 10.0}), "us")
    assert worked.unit == "mil" and worked.value == pytest.approx(68.75 / 25.4) and not {unit for _, _, unit in worked.inputs} & {"µm", "mm", "°C", "mL", "L"}


# NOT DONE: titles and notes of tables, cup names read as sizes, recipes and a few tables still say the other system. Strict: it fails the day that they do not.
@pytest.mark.sweep
@pytest.mark.xfail(strict=True, reason="NOT DONE: some 446 metric figures stand in the US edition yet")
@pytest.mark.parametrize(("region", "other"), [("us", METRIC)])
def test_no_unit_of_the_other_system_stands_in_an_edition(pages_in, region, other):
    found = []
    for address, page in pages_in(region).items():
        if address not in SAID_ELSEWHERE:
            found += [f"{address}: {match[0]}" for match in other.finditer(shown(page))]
    assert not found, f"{len(found)}: " + "; ".join(found[:60])
