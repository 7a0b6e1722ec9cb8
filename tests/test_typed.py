"""Typed values: every case of the grammar, and 10,000 made by a grammar of this file with an oracle of its own, in Python and in JavaScript.

The oracle never reads a text: it makes the text from parts whose worth is known as an exact fraction. Unit factors are definitions:
the inch is 25.4 mm, the pound 0.45359237 kg, the US gallon 231 in³, the nautical mile 1852 m (NIST SP 811, from memory).
"""

from __future__ import annotations

import json
import math
import os
import random
import re
import shutil
import subprocess
from fractions import Fraction as F
from pathlib import Path

import pytest

from generators import quantity, units
from generators.quantity.read import grammar

ASSETS = Path(__file__).resolve().parent.parent / "generators/site/theme/assets"
INCH, POUND, GALLON = F(254, 10), F(45359237, 100000000), 231 * F(254, 100) ** 3 / 1000  # mm, kg, L
# Spellings as sheets and people have them, written down here anew: (wanted unit, spelling, worth of one in it).
UNITS = [
    ("mm", "mm", F(1)), ("mm", "cm", F(10)), ("mm", "in", INCH), ("mm", "inches", INCH), ("mm", '"', INCH), ("mm", "ft", 12 * INCH), ("mm", "m", F(1000)),
    ("µm", "µm", F(1)), ("µm", "um", F(1)), ("µm", "microns", F(1)), ("µm", "mil", INCH), ("µm", "mils", INCH), ("µm", "thou", INCH), ("µm", "mm", F(1000)),
    ("L", "L", F(1)), ("L", "litres", F(1)), ("L", "liter", F(1)), ("L", "ml", F(1, 1000)), ("L", "mL", F(1, 1000)),
    ("L", "gal", GALLON), ("L", "qt", GALLON / 4), ("L", "fl oz", GALLON / 128), ("L", "floz", GALLON / 128),
    ("min", "min", F(1)), ("min", "minutes", F(1)), ("min", "h", F(60)), ("min", "hr", F(60)), ("min", "hours", F(60)), ("min", "sec", F(1, 60)), ("min", "days", F(1440)),
    ("%", "%", F(1)), ("%", "percent", F(1)), ("kg/L", "kg/L", F(1)), ("kg/L", "g/L", F(1, 1000)),
    ("kg/L", "lb/gal", POUND / GALLON), ("kg/L", "lbs/gal", POUND / GALLON), ("g/L", "oz/gal", 1000 * POUND / 16 / GALLON),
    ("m/s", "m/s", F(1)), ("m/s", "km/h", F(10, 36)),
    ("m/s", "mph", 63360 * INCH / 3600000), ("m/s", "kn", F(1852, 3600)), ("m²/L", "m²/L", F(1)), ("m²/L", "ft²/gal", (12 * INCH / 1000) ** 2 / GALLON),
    ("mPa·s", "mPa·s", F(1)), ("mPa·s", "cP", F(1)), ("mPa·s", "P", F(100)), ("g", "lb", 1000 * POUND), ("Δ°C", "°C", F(1)), ("Δ°C", "°F", F(5, 9)),
]
GAPS = ("", " ", "\u00a0")
DEGREES = [("°C", "°C"), ("°C", "C"), ("°C", "degC"), ("°F", "°F"), ("°F", "F"), ("°F", "deg F")]


def read(text: str, unit: str, comma: str | None = None):
    """What the Python reader makes of it: three figures in `unit`, two texts where it asks, None where it refuses."""
    try:
        typed = quantity.read(text, unit, comma).to(unit)
        return (typed.low, typed.likely, typed.high)
    except quantity.TwoReadings as two:
        return [one.said for one in two.readings]
    except units.UnitError as error:
        assert error.wanted and error.came and error.mend
        return None


_DRIVER = """
const store = {}; global.window = { dispatchEvent() {} }; global.CustomEvent = class {};
global.localStorage = { getItem: (k) => k in store ? store[k] : null, setItem: (k, v) => { store[k] = String(v); }, removeItem: (k) => { delete store[k]; } };
"""
_ANSWER = """((jobs) => jobs.map(([text, unit, comma]) => {
  window.almanacTyped.comma(comma);
  const is = window.almanacTyped.read(text, unit), end = (value) => value === Infinity ? "inf" : value === -Infinity ? "-inf" : value;
  return is.value !== null ? { is: [end(is.low), end(is.value), end(is.high)] } : is.ask ? { ask: is.ask.map((one) => one.said) } : {};
}))"""


def on_the_phone(jobs: list[tuple[str, str, str | None]]) -> list:
    """What typed.js makes of the same, run by Node, else by Chromium; skipped loudly where there is neither, and failed where CI says there must be."""
    scripts = quantity.script() + (ASSETS / "typed.js").read_text(encoding="utf-8")
    if shutil.which("node"):
        program = f"{_DRIVER}\n{scripts}\nconsole.log(JSON.stringify({_ANSWER}(JSON.parse(require('fs').readFileSync(0, 'utf8')))));"
        done = subprocess.run(["node", "-e", program], input=json.dumps(jobs), capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        found = json.loads(done.stdout)
    else:
        chromium = shutil.which("chromium")
        if chromium is None:
            if os.environ.get("CI"):
                pytest.fail("CI has neither node nor chromium: the phone's reader was not run")
            pytest.skip("NOT CHECKED: neither node nor chromium is here, so the phone's reader was not run")
        from playwright.sync_api import sync_playwright

        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
            page = browser.new_page()
            page.add_script_tag(content=scripts)
            found = page.evaluate(_ANSWER, jobs)
            browser.close()
    return [tuple(float(end) for end in one["is"]) if "is" in one else one.get("ask") for one in found]


def same(found, wanted, hair=1e-12) -> bool:
    """Figures to a hair; readings asked about letter by letter; a refusal only as a refusal."""
    if isinstance(found, tuple) and isinstance(wanted, tuple):
        return all(a == b or math.isclose(a, b, rel_tol=hair, abs_tol=hair) for a, b in zip(found, wanted, strict=True))
    return type(found) is type(wanted) and found == wanted


def wanted_of(case: dict):
    """A case of grammar.json in the same form."""
    if "is" in case:
        figures = case["is"] if isinstance(case["is"], list) else [case["is"]] * 3
        return tuple(float(figure) for figure in figures)
    return case.get("ask")


def test_every_case_of_the_grammar_in_both_languages():
    cases = grammar()["cases"]
    jobs = [(case["text"], case["unit"], case.get("comma")) for case in cases]
    here, there = [read(*job) for job in jobs], on_the_phone(jobs)
    wrong = [(job, wanted_of(case), mine, phone) for job, case, mine, phone in zip(jobs, cases, here, there, strict=True)
             if not (same(mine, wanted_of(case)) and same(phone, wanted_of(case)))]
    assert len(cases) > 200 and not wrong, wrong


def test_every_unit_and_every_spelling_is_read_in_both_languages():
    """Each spelling alone, against the registry: pint is a general-purpose library, and its factors are its own."""
    jobs = [(f"7 {spelling}" if unit != "1" else "7", unit, None) for unit, others in grammar()["units"].items() for spelling in (unit, *others) if spelling != "1"]
    here, there = [read(*job) for job in jobs], on_the_phone(jobs)
    for job, mine, phone in zip(jobs, here, there, strict=True):
        assert mine == (7.0, 7.0, 7.0) == phone, job
    assert all(units.known(unit) for unit in grammar()["units"])


def figure(rng: random.Random, small: bool = False):
    """(text, worth) of one figure; or (text, (as a decimal, in thousands)) where the comma can mean two things."""
    way = rng.choice(("whole", "point", "comma", "long comma", "spaces", "commas", "mixed", "glyph", "fraction") if small else
        ("whole", "point", "comma", "long comma", "ask", "spaces", "commas", "commas and point", "mixed", "glyph"))
    whole, digits = rng.randrange(0, 1000), lambda count: "".join(rng.choice("0123456789") for _ in range(count))
    if way == "whole":
        return str(whole), F(whole)
    if way == "point":
        part = digits(rng.randrange(1, 6))
        return f"{whole}.{part}", whole + F(int(part), 10 ** len(part))
    if way in ("comma", "long comma"):
        part = digits(rng.choice((1, 2)) if way == "comma" else rng.choice((4, 5)))
        return f"{whole},{part}", whole + F(int(part), 10 ** len(part))
    if way == "ask":
        part = digits(3)
        return f"{whole},{part}", (whole + F(int(part), 1000), F(whole * 1000 + int(part)))
    if way in ("spaces", "commas", "commas and point"):
        groups = [digits(3) for _ in range(rng.choice((1, 2)) if way != "commas" else rng.choice((2, 3)))]
        mark = rng.choice((" ", "\u00a0", "\u202f", "\u2009")) if way == "spaces" else ","
        text, worth = mark.join([str(whole := rng.randrange(1, 1000)), *groups]), F(int(str(whole) + "".join(groups)))
        if way == "commas and point" or (way == "spaces" and rng.random() < 0.4):
            part, point = digits(rng.randrange(1, 4)), "," if way == "spaces" and rng.random() < 0.5 else "."
            return f"{text}{point}{part}", worth + F(int(part), 10 ** len(part))
        return text, worth
    bottom = rng.choice((2, 4, 8, 16, 32))
    top = rng.randrange(1, bottom)
    if way == "glyph":
        glyph, part = rng.choice((("½", F(1, 2)), ("¼", F(1, 4)), ("¾", F(3, 4)), ("⅛", F(1, 8)), ("⅞", F(7, 8))))
        return rng.choice((f"{whole + 1}{glyph}", f"{whole + 1} {glyph}")), whole + 1 + part
    return (f"{top}/{bottom}", F(top, bottom)) if way == "fraction" else (f"{whole + 1}{rng.choice(' -')}{top}/{bottom}", whole + 1 + F(top, bottom))


NOISE = ("0x{}", "{}e3", "{}E-2", "Infinity{}", "NaN", "{}..", "{},", "--{}", "{}-", "+-{}", "{}_000", "{}'000", "{} 1", "{}:30", "£{}", "({})", "{} furlongs", "{}.5.5", "{},5,5",
    "{}²", "{}\u0663", "\uff11{}", "={}", "{}mm mm",
         "{}/0", "{}/7 in", "{} / 2", "<{}–{}", "2-1-{}", "~{}~", "{}~", "{}!", "{};5", "{}\\", "±{}", "{} ±", "> {} ± 1", "{}×10", "{}^2", "", " ", "in", "mm {}")


def made(rng: random.Random):
    """(text, unit, answer) where the answer is three exact figures, two for a question, or None where it may not be read."""
    kind = rng.random()
    if kind < 0.15:
        number = str(rng.randrange(1, 900))
        return rng.choice(NOISE).replace("{}", number), "mm", None
    if kind < 0.3:
        unit, (own, spelling) = rng.choice(("°C", "°F")), rng.choice(DEGREES)
        number = F(rng.randrange(-400, 1500), rng.choice((1, 10)))
        text = f"{float(abs(number)):g}"
        minus = rng.choice("-−–") if number < 0 else rng.choice(("", "", "+"))
        there = number if unit == own else (number - 32) * F(5, 9) if unit == "°C" else number * F(9, 5) + 32
        return f"{minus}{text}{rng.choice(GAPS)}{spelling}", unit, (there,) * 3
    unit, spelling, one = rng.choice(UNITS)
    gap = rng.choice(GAPS)
    if rng.random() < 0.2:
        spelling, one, gap = "", F(1), ""
    text, worth = figure(rng)
    if isinstance(worth, tuple):
        return f"{text}{gap}{spelling}", unit, worth
    minus = -1 if rng.random() < 0.1 else 1
    text = (rng.choice("-−") if minus < 0 else rng.choice(("", "", "+", " "))) + text
    worth *= minus
    if kind < 0.75:
        return f"{text}{gap}{spelling}", unit, (worth * one,) * 3
    more, other = figure(rng, small=True)
    if kind < 0.85:
        return f"{text} {rng.choice(('±', '+/-'))} {more}{gap}{spelling}", unit, ((worth - other) * one, worth * one, (worth + other) * one)
    if kind < 0.93:
        text, worth = (text, worth) if minus > 0 else (text[1:], -worth)
        if "-" in text:  # a hyphen inside a figure, and one between two, would be hard reading for anybody
            return f"{text}{gap}{spelling}", unit, (worth * one,) * 3
        mark = rng.choice(("–", " – ", " to ", "-", " - ")) if "/" not in more else rng.choice((" – ", " to "))
        return f"{text.strip()}{mark}{more}{gap}{spelling}", unit, (worth * one, (worth + other) / 2 * one, other * one) if worth <= other else None
    mark, below = rng.choice((("<", True), ("≤ ", True), ("up to ", True), ("max. ", True), (">", False), (">= ", False), ("at least ", False)))
    return f"{mark}{text}{gap}{spelling}", unit, (-math.inf if below else worth * one, worth * one, worth * one if below else math.inf)


def test_ten_thousand_typed_values_none_misread():
    rng = random.Random(20261126)
    all_made = [made(rng) for _ in range(10_000)]
    jobs = [(text, unit, None) for text, unit, _ in all_made]
    here, there = [read(*job) for job in jobs], on_the_phone(jobs)
    told = {"value": 0, "asked": 0, "refused": 0}
    wrong = []
    for (text, unit, answer), mine, phone in zip(all_made, here, there, strict=True):
        if answer is None:
            told["refused"] += 1
            right = mine is None and phone is None
        elif len(answer) == 2:
            told["asked"] += 1
            right = all(isinstance(found, list) and [F(one) for one in found] == [*answer] for found in (mine, phone))
        else:
            told["value"] += 1
            right = same(mine, tuple(float(figure) for figure in answer)) and same(phone, tuple(float(figure) for figure in answer))
        if not right:
            wrong.append((text, unit, answer, mine, phone))
    assert not wrong, (len(wrong), wrong[:12])
    assert min(told.values()) > 300, told


def test_both_languages_agree_on_texts_that_nobody_would_type():
    """Random letters of the grammar's own: no oracle, but the same answer, and never a crash."""
    rng = random.Random(7)
    letters = "0123456789.,,.  -–−+/½±<>≤'\"°CFmµinhtolsgL%e x\u00a0"
    jobs = [("".join(rng.choice(letters) for _ in range(rng.randrange(1, 12))), rng.choice(("mm", "°C", "L", "%", "Δ°C")), rng.choice((None, None, "decimal", "thousands"))) for _ in range(20_000)]
    here, there = [read(*job) for job in jobs], on_the_phone(jobs)
    apart = [(job, mine, phone) for job, mine, phone in zip(jobs, here, there, strict=True) if not (same(mine, phone) if not isinstance(mine, list) else isinstance(phone, list))]
    assert not apart, (len(apart), apart[:10])
    assert sum(isinstance(mine, tuple) for mine in here) > 500


@pytest.mark.parametrize(("text", "wanted", "near"), [("12 galons", "L", ["gal", "L"]), ("3 houres", "min", ["h", "min"]), ("20 km/j", "m/s", ["km/h", "m/s"]), ("5 grams", "mm", ["mm"])])
def test_a_unit_that_nobody_knows_is_answered_with_two_of_its_kind(text, wanted, near):
    """The nearest and the wanted one, no unit of another kind, and no list."""
    with pytest.raises(units.UnitError) as told:
        quantity.read(text, wanted)
    offered = re.search(r"write it in (.+)$", str(told.value))[1].split(" or ")
    assert len(offered) == 2 and set(near) <= set(offered) and all(units.same_kind(one, wanted) for one in offered)


@pytest.mark.parametrize(("text", "quoted"), [("x" * 80, "'" + "x" * 60 + "'"), ("1e9 " + "y" * 80, "'1e9 " + "y" * 56 + "'"), ("7 " + "z" * 80, "'7 " + "z" * 58 + "'")])
def test_a_long_text_is_told_short(text, quoted):
    """An error is read on a phone: of what was typed it repeats sixty letters."""
    with pytest.raises(units.UnitError) as told:
        quantity.read(text, "mm")
    assert quoted in str(told.value)
