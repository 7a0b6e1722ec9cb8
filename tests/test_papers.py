"""Papers of a job: from a template to a signed quote on a phone; nothing unknown is signed without "subject to"; signed text stays as it was."""

from __future__ import annotations

import pytest
from conftest import ROOT  # noqa: F401  (the shared fixtures)
from hands import again, kept, open_form, pick, type_in, unfold

from generators.chain.job import work_job
from generators.chain.jobs import template_job
from generators.pages.forms import FORMS

SIGNED = ("quote", "variation", "method")


def test_the_kitchen_from_a_template_to_a_signed_quote(phone, served, facts, catalogue):
    """Fourteen doors and six drawer fronts: every stage, days drawn, Python's price; then a quote in a dozen acts (thirty seconds each at the worst are six minutes), read on a phone."""
    acts = 0

    def act(do, *words):
        nonlocal acts
        acts += 1
        do(*words)

    form = open_form(phone, f"{served}/job/job-sheet.html")
    act(pick, form, "template", "kitchen")
    act(type_in, form, "title", "Kitchen at the quay")
    act(type_in, form, "client", "Ms Rowan")
    mine = work_job(catalogue, template_job(facts, catalogue, "kitchen"), "spray").held
    shown = form.locator(".alm-sum-up").inner_text()
    assert f"{float(mine['hours'].likely):.1f} h, {float(mine['visits'].likely):g} visits, £{float(mine['price'].likely):.0f}" in shown
    for name in ("hours", "days"):
        unfold(form.locator(f'[data-out="{name}"] details > *').last)
    stages = set(form.locator('[data-out="hours"] tbody th').all_inner_texts())
    assert {"Survey and quote", "Sample approved", "Floor sheets", "Taking off and marking", "Wrapping and carrying", "Washing and degreasing", "Sanding, dust caught", "Filling",
        "Vacuum and tack", "Masking: tape", "Ventilating",
            "Turning and racking", "Putting it on", "Flatting between coats", "Tape off", "Snags in the agreed light", "Rehanging", "Walk-round", "Clean-down and waste", "Travel"} <= stages
    assert form.locator('[data-out="days"] svg').bounding_box()["width"] > 250 and form.locator('[data-out="days"] ol li').count() == float(mine["visits"].likely)
    assert "Not known" in form.locator('[data-out="fits"]').inner_text()
    kept(phone)
    act(lambda: form.locator('[data-do="quote"]').click())
    form.locator(".alm-told a").wait_for()
    act(lambda: form.locator(".alm-told a").click())
    paper = phone.locator('.alm-form[data-kind="quote"][data-ready]')
    paper.wait_for()
    value = lambda name: paper.locator(f'[data-name="{name}"] :is(input, textarea, select)').input_value()  # noqa: E731
    assert value("customer") == "Ms Rowan" and float(value("price")) == pytest.approx(float(mine["price"].likely), abs=0.01) and "14 × " in value("scope")
    act(type_in, paper, "signed-us", "W")
    act(type_in, paper, "signed-customer", "R")
    act(type_in, paper, "signed-on", "2026-11-27")
    assert value("subject").startswith("Subject to the age of the building, the old finish, lead, asbestos")
    type_in(paper, "subject", "")
    paper.locator('[data-do="sign"]').click()
    assert "Not signed. Not known" in paper.locator(".alm-told").inner_text() and paper.locator(".alm-frozen").count() == 0
    act(type_in, paper, "subject", "Subject to the age of the building, the old finish, lead and asbestos.")
    act(lambda: paper.locator('[data-do="sign"]').click())
    frozen = paper.locator(".alm-frozen").inner_text()
    assert "Ms Rowan" in frozen and "Subject to" in frozen and paper.locator('[data-name="price"] input').is_disabled()
    kept(phone)
    again(phone)
    assert paper.locator(".alm-frozen").inner_text() == frozen and paper.locator('[data-name="price"] input').is_disabled() and paper.locator('[data-do="sign"]').is_hidden()
    assert acts <= 12


def test_a_log_gives_back_what_it_took(phone, served):
    """Hours by stage in the log of the same job stand beside those that were quoted."""
    form = open_form(phone, f"{served}/job/job-sheet.html")
    pick(form, "template", "kitchen")
    type_in(form, "title", "Kitchen at the quay")
    kept(phone)
    log = open_form(phone, f"{served}/job/daily-log.html")
    type_in(log, "title", "Kitchen at the quay")
    log.locator('[data-do="short"]').click()
    log.locator('[data-block="took"] .alm-fold').click()
    log.locator('[data-block="took"] [data-do="more"]').click()
    pick(log, "stage", "rehang")
    type_in(log, "stage-hours", "2.5")
    type_in(log, "people", "2")
    kept(phone)
    form = open_form(phone, f"{served}/job/job-sheet.html")
    phone.wait_for_selector('[data-out="hours"] thead th:has-text("Took")', state="attached")
    unfold(form.locator('[data-out="hours"] table'))
    row = form.locator('[data-out="hours"] tbody tr', has_text="Rehanging")
    assert row.locator("td").last.inner_text() == "5.0"


@pytest.mark.parametrize("kind", SIGNED)
def test_what_is_signed_asks_what_has_to_be_known(facts, kind):
    blocks = {block.name: {entry.name for entry in block.entries} for block in FORMS[kind](facts).blocks}
    assert {"age", "old-finish", "lead-is", "asbestos-is", "subject"} <= blocks["known"] and {"signed-us", "signed-customer", "signed-on"} <= blocks["signed"]
    assert all(("signed-us" in {entry.name for block in FORMS[other](facts).blocks for entry in block.entries}) <= (other in (*SIGNED, "log")) for other in FORMS)
