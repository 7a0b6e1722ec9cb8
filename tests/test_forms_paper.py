"""Forms on paper: nothing typed is cut, an empty one has lines for a pen and no computed numbers, and what is private stays off the customer's sheet."""

from __future__ import annotations

import io
import re

import pytest
from hands import kept, open_form, pick, type_in
from pypdf import PdfReader

ADDRESSES = {"job": "job/job-sheet", "log": "job/daily-log", "recipe": "job/recipes", "care": "job/handover", "signoff": "train/sign-off"}
PAPERS = {"survey": "job/survey-sheet", "quote": "job/quote", "variation": "job/variation", "buying": "job/buying-list", "loading": "job/load-list", "neighbour": "job/neighbours-note",
    "method": "job/method-and-risks",
          "incident": "job/overspray-incident", "invoice": "job/invoice", "cancel": "job/cancellation"}
MOST = {"job": 4, "log": 2, "care": 1, "signoff": 6, "survey": 2, "quote": 2, "variation": 1, "buying": 1, "loading": 2, "neighbour": 1, "method": 2, "incident": 2, "invoice": 1,
    "cancel": 1}  # sheets of an empty one
SOME = [*ADDRESSES, "quote", *(pytest.param(kind, marks=pytest.mark.sweep) for kind in PAPERS if kind != "quote")]
MM = 96 / 25.4  # CSS pixels


@pytest.fixture
def page(browser):
    context = browser.new_context(viewport={"width": 360, "height": 800})
    yield context.new_page()
    context.close()


def printed(page, **how) -> tuple[int, str]:
    """Sheets, and all their text, without the line in the margin of each: a word that goes on over the page is whole."""
    reader = PdfReader(io.BytesIO(page.pdf(**{"format": "A4", **how})))
    return len(reader.pages), "\n".join(re.sub(r"\A\s*\d+\s*/\s*\d+\s*\n[^\n]*come first\.\n", "", sheet.extract_text()) for sheet in reader.pages)


@pytest.mark.parametrize("paper", ["A4", "A5"])
@pytest.mark.parametrize("kind", ["job", "log"])
def test_nothing_typed_is_cut(page, served, kind, paper):
    """A word of 400 letters and a text of 40 lines are found whole in the PDF, and so is every line of a table of lines."""
    form = open_form(page, f"{served}/{ADDRESSES[kind]}.html")
    word = "".join(chr(97 + (place * 7) % 26) for place in range(400))
    lines = [f"line {place} of what was seen, with its end {place}z" for place in range(40)]
    type_in(form, "title", word)
    if kind == "job":
        for fold in form.locator(".alm-fold").all():
            fold.click()
        type_in(form, "address", "\n".join(lines))
        type_in(form, "where", word[::-1])
        type_in(form, "hour-rate", "31.75")
    else:
        type_in(form, "seen", "\n".join(lines))
        form.locator('[data-do="short"]').click()
        type_in(form, "place", word[::-1])
        form.locator('[data-do="short"]').click()  # the short form hides entries on the screen; paper shows all that was typed
    kept(page)
    _, text = printed(page, format=paper)
    whole = re.sub(r"\s+", "", text)
    assert word in whole and word[::-1] in whole
    for line in lines:
        assert line.replace(" ", "") in whole, line
    if kind == "job":
        assert "31.75" in text


@pytest.mark.parametrize("kind", SOME)
@pytest.mark.parametrize("script", [True, False])
def test_an_empty_form_is_for_a_pen(browser, served, facts, kind, script):
    """All its fields, each with a line 8 mm high, and no number that was worked out or begun with, whether its script ran or not."""
    from generators.pages.forms import FORMS

    context = browser.new_context(viewport={"width": 794, "height": 1123}, java_script_enabled=script)
    page = context.new_page()
    page.goto(f"{served}/{ {**ADDRESSES, **PAPERS}[kind]}.html")
    if script:
        page.wait_for_selector(".alm-form[data-ready]")
    page.emulate_media(media="print")
    if kind == "recipe":  # that page prints its list; its form is for the screen
        context.close()
        return
    heights = []  # [entry, kind, height of its line]; Playwright's own measure, since one of the two pages runs no script
    for part in page.locator(".alm-entry").all():
        line = part.locator(".alm-said").first if script and part.get_attribute("data-is") != "photo" else part.locator("input, select, textarea").first
        if box := line.bounding_box():
            heights.append((part.get_attribute("data-name"), part.get_attribute("data-is"), box["height"]))
    assert {name for name, *_ in heights} >= {entry.name for block in FORMS[kind](facts).blocks if block.rows for entry in block.entries}
    low = [one for one in heights if one[1] not in ("tick", "photo") and one[2] < 8 * MM - 0.5]
    assert not low, low
    if not script:
        context.close()
        return
    sheets, text = printed(page)
    assert sheets <= MOST[kind]
    if kind in ("job", "survey"):  # the papers in hand where old paint is first touched
        assert " ".join(facts.stops["lead"].never.split()) in " ".join(text.split())
    blocks = FORMS[kind](facts).blocks
    entries = [entry for block in blocks for entry in block.entries]
    labels = " ".join([*(block.title for block in blocks), *(entry.label for entry in entries), *(words for entry in entries for _, words in entry.options)])
    body = text.split("Edition")[0]
    printed_with = {*re.findall(r"\d+(?:\.\d+)?", labels), *(str(place) for place in range(1, 14))}  # a line's number may stand over it
    strange = [number for number in re.findall(r"\d+(?:\.\d+)?", body) if number not in printed_with]
    assert not strange, strange
    assert not re.search(rf"\d\s*{re.escape(facts.handbook.coin)}|{re.escape(facts.handbook.coin)}\s*\d", body), "a price on an empty sheet"
    context.close()


def test_the_customer_s_sheet_leaves_out_paces_and_rates(page, served):
    form = open_form(page, f"{served}/job/job-sheet.html")
    pick(form, "coating", "gannet-trim-satin")
    page.evaluate("window.print = () => { window.was = document.querySelector('.alm-form').className; }")
    form.locator('[data-do="print-customer"]').click()
    assert "alm-customer" in page.evaluate("window.was") and "alm-customer" not in form.get_attribute("class")
    _, whole = printed(page)
    page.evaluate("document.querySelector('.alm-form').classList.add('alm-customer')")
    _, theirs = printed(page)
    assert "An hour" in whole and "By brush, an hour" in whole
    assert "An hour" not in theirs and "By brush, an hour" not in theirs and "Tax on the whole" not in theirs and "Price" in theirs


def test_a_record_that_is_filled_prints_on_few_sheets(page, served):
    """A care sheet with its dates: one sheet. A day's log with its readings: two at most, with its local day and zone."""
    form = open_form(page, f"{served}/job/handover.html")
    pick(form, "coating", "gannet-trim-satin")
    type_in(form, "finished", "2026-11-20")
    kept(page)
    assert printed(page)[0] == 1
    form = open_form(page, f"{served}/job/daily-log.html")
    type_in(form, "title", "gate")
    kept(page)
    sheets, text = printed(page)
    assert sheets <= 2 and re.search(r"Begun \d{4}-\d\d-\d\d \d\d:\d\d \(UTC[+-]\d\d:\d\d\)", text)
