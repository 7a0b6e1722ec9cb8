"""A day's training as a newcomer walks it on a phone: first week, a drill done and one missed, what comes first, the trainee's record, another phone, paper, and the weeks after."""

from __future__ import annotations

import io

from hands import BRING, file_of, open_form, records, unfold, until
from playwright.sync_api import expect
from pypdf import PdfReader

KEPT = "document.querySelector('.alm-told').textContent.startsWith('✓ Kept')"


def lesson(page, address):
    """A page of drills, ready for readings."""
    page.goto(address)
    page.wait_for_selector(".alm-lesson[data-ready]")


def test_a_day_s_training_as_a_newcomer_walks_it(browser, served, facts):
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    # The first week leads to the first day, and no trigger stands before the third.
    page.goto(f"{served}/train/first-week.html")
    page.get_by_role("link", name="Day 1: safety, kit, paper").click()
    page.wait_for_selector(".alm-lesson[data-ready]")
    expect(page.locator("h1")).to_contain_text("Day 1")
    expect(page.locator(".md-content")).to_contain_text("No trigger is pulled today.")
    box = page.locator('.alm-own[data-drill="stops-from-memory"]')
    # Readings are judged before anybody has a name; they are kept only when somebody has.
    unfold(box)
    box.locator(".alm-readings").fill("7")
    expect(box.locator(".alm-verdict")).to_contain_text("✓ Passed: 7 of 7 right; the mark is 7 of 7 at the least. Give the trainee a name")
    assert box.locator("button").is_hidden()
    page.fill("#alm-trainee-new", "Wren Alder")
    page.click('.alm-lesson [data-do="begin"]')
    box.locator("button").click()
    expect(box.locator(".alm-verdict")).to_contain_text("✓ Wren Alder: passed on")
    # Words that are no readings are told, and so are too few.
    run = page.locator('.alm-own[data-drill="safety-sheet"]')
    unfold(run)
    tried = (("quick", "is no figure that can be read"), ("80 95", "3 figures are wanted; here are 2"), ("80 95 -3", "A figure under nought"), ("160 150 140", "✗ Not yet: mean 150 s; the mark is"))
    for text, told in tried:
        run.locator(".alm-readings").fill(text)
        expect(run.locator(".alm-verdict")).to_contain_text(told)
    run.locator("button").click()
    expect(run.locator(".alm-verdict")).to_contain_text("✗ Wren Alder: not yet, 1 try")
    until(page, KEPT)
    # Shut, a drill says how it stands.
    said = [page.locator(f'details:has([data-drill="{drill}"]) > summary .alm-stands').first for drill in ("stops-from-memory", "safety-sheet")]
    assert [one.inner_text() for one in said] == ["✓ passed", "✗ not yet"]
    # What comes before is asked for on the third day.
    lesson(page, f"{served}/train/day-3.html")
    expect(page.locator('.alm-own[data-drill="fan-width"] .alm-verdict')).to_contain_text("△ First: Stop, and out; A mask, put on and worn")
    place = page.locator('.alm-own[data-drill="place-scatter"]')
    unfold(place)
    place.locator(".alm-readings").fill("4 -9 12 14 -16 11\n-8 3 15 -11")
    expect(place.locator(".alm-verdict")).to_contain_text("✓ Passed: scatter 11.6 mm; the mark is 16 mm at most")  # √(Σ(x − mean)² / 9) by hand
    place.locator("button").click()
    until(page, KEPT)
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    # The record says how far, and prints.
    form = open_form(page, f"{served}/train/sign-off.html")
    expect(form.locator('[data-out="progress"]')).to_contain_text(f"2 of {len(facts.drills)} drills passed. Next: day 1, Which tin may be opened.")
    expect(form.locator('[data-out="progress"]')).to_contain_text("✗ Find it on a safety data sheet")
    paper = " ".join(" ".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(page.pdf(format="A4"))).pages).split())
    assert "Wren Alder" in paper and "4 -9 12 14 -16 11 -8 3 15 -11 mm" in paper and "Next: day 1" in paper
    one = next(record for record in records(page) if record["kind"] == "signoff")
    assert one["fields"]["trainee"] == "Wren Alder" and [(line["drill"], line["raw"], line["passed"]) for line in one["lines"]["readings"]] == [
        ("stops-from-memory", "7 of 7", "yes"), ("safety-sheet", "160 150 140 s", "no"), ("place-scatter", "4 -9 12 14 -16 11 -8 3 15 -11 mm", "yes")]
    # Another phone has it from the file, and goes on from there; twice is once.
    text = file_of(page)
    other = browser.new_context(viewport={"width": 360, "height": 800})
    second = other.new_page()
    lesson(second, f"{served}/train/day-1.html")
    for _ in range(2):
        assert second.evaluate(BRING, text)[0] == "in"
    expect(second.locator("#alm-trainee")).to_have_value(one["id"])
    expect(second.locator('.alm-own[data-drill="stops-from-memory"] .alm-verdict')).to_contain_text("✓ Wren Alder: passed on")
    assert next(record for record in records(second) if record["kind"] == "signoff") == one
    other.close()
    # Six weeks after: their own logs, counted from the sign-off's date.
    said = {"operator": "wren alder ", "date": one["fields"]["date"], "seconds": "27", "faults": "a run"}
    page.evaluate("(said) => almanacRecords.start('log', Object.fromEntries(Object.entries(said).map(([name, text]) => [name, { text, unit: '' }])))", said)
    until(page, "almanacKeeper.status.is === 'kept'")
    lesson(page, f"{served}/train/six-weeks-after.html")
    expect(page.locator(".alm-weeks")).to_contain_text("Week 1: 1 log, 0 readings of the air, 1 cup time, 0 readings of the film (△ fewer than three in 1 log), 1 fault written down, 0 incidents.")
    expect(page.locator(".alm-weeks")).to_contain_text("Week 2: – no log of theirs")
    assert not errors
    context.close()
