"""From phone to phone: links packed and opened, refused where they are damaged or made in bad faith, shown and taken by a press, and in no request."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest
from hands import until
from test_own import PAINT
from test_today import ROOM, give

ASSETS = Path(__file__).parent.parent / "generators" / "site" / "theme" / "assets"
SMALL = {"width": 360, "height": 640}


@pytest.mark.parametrize("count", [400, pytest.param(4000, marks=pytest.mark.sweep)])
def test_links_hold_and_hostile_ones_are_refused(count):
    """In Node: there and back in letters and digits; every hostile link refused; of links with a letter changed or cut, none opens as another thing."""
    done = subprocess.run(["node", str(Path(__file__).parent / "share_phone.js"), str(ASSETS), str(count)], capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    out = json.loads(done.stdout)
    assert out["through"] == [True, True] and out["taken"] == [] and out["passed"] == 0 and out["hostile"] >= 25


PASTE = "text => { const box = document.getElementById('alm-pasted'); box.value = text; [...document.querySelectorAll('.alm-pass button')].find((one) => one.textContent === 'Look at it').click(); }"


def test_a_situation_goes_from_phone_to_phone(browser, served):
    """One phone packs its day; another looks at it, takes it, and every reading waits to be read again there. No request of either carries a word of it."""
    asked: list[str] = []
    links = []
    first = browser.new_context(viewport=SMALL)
    page = first.new_page()
    page.goto(f"{served}/index.html")
    page.wait_for_selector("#alm-day[data-ready]")
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", **ROOM, "pot-litres": "1", "cup-time": "56"}.items():
        give(page, name, text)
    page.evaluate("window.almanacKept.call('place', 'Mrs Marsh, 4 Quay Lane')")
    page.goto(f"{served}/own/pass-on.html")
    page.wait_for_selector(".alm-pass-on[data-ready]")
    page.locator("#alm-whose").fill("Ben")
    page.get_by_text("Today’s situation").click()
    page.locator(".alm-code").wait_for()
    links.append(page.locator(".alm-pass-link").input_value())
    assert links[0].startswith(f"{served}/own/pass-on.html#b1.")
    first.close()

    second = browser.new_context(viewport=SMALL)
    page = second.new_page()
    page.on("request", lambda request: asked.append(request.url + (request.post_data or "")))
    page.goto(links[0])
    page.locator(".alm-came h2").wait_for()
    shown = page.locator(".alm-came").inner_text()
    assert "Ben" in shown and "19 °C" in shown and "Marsh" not in shown and "Quay" not in shown
    assert page.evaluate("window.almanacKept.get('air-temperature')") is None  # nothing is taken by looking
    page.get_by_role("button", name="Take it", exact=True).click()
    assert "#" not in page.url
    page.get_by_text("Open it").click()
    page.wait_for_selector("#alm-day[data-ready]")
    worked = page.evaluate("({ words: window.almanacNow.situation.words, numbers: window.almanacNow.situation.numbers, verdict: window.almanacNow.worked.answers.spray.verdict })")
    assert worked["words"]["kit"] == "five-stage-trolley" and worked["words"]["coating"] == "gannet-trim-satin"
    assert set(worked["numbers"]) <= {"now", "stroke-length"} and worked["verdict"] == "unknown"
    button = page.locator("#alm-day [data-reading='air-temperature']").first
    assert "19 °C" in button.inner_text() and "again" in button.inner_text()
    button.click()
    page.get_by_text("Read again, the same").click()
    until(page, "window.almanacNow.situation.numbers['air-temperature'] === 19")
    assert not any("#" in one or "b1." in one for one in asked)
    page.goto(f"{served}/own/pass-on.html")
    page.wait_for_selector(".alm-pass-on[data-ready]")
    page.evaluate(PASTE, links[0][:-3] + "AAA")
    page.get_by_text("Not taken, and nothing here is changed").wait_for()
    second.close()


def test_an_own_paint_goes_by_link_and_stays_a_stop(browser, site):
    """From a folder of files: an own two-pack whose hardener nobody said, typed, in use as a stop, passed on as letters, taken beside what is there."""
    context = browser.new_context(viewport=SMALL)
    context.set_offline(True)
    page = context.new_page()
    page.goto((site / "own/paint.html").as_uri())
    page.wait_for_selector(".alm-form[data-ready]")
    typed = {**PAINT, "name": ("Slip Two-pack", ""), "class": ("two-pack-epoxy", "")}
    for name, (text, _) in typed.items():
        field = page.locator(f'.alm-entry[data-name="{name}"]').locator("input, select").first
        if name == "basis":
            continue
        if field.evaluate("one => one.tagName") == "SELECT":
            field.select_option(text)
        else:
            field.fill(text)
    page.locator('.alm-entry[data-name="thinner-density"] input').evaluate("(one) => { one.value = '800'; one.dispatchEvent(new Event('input', { bubbles: true })); }")
    page.get_by_role("button", name="Use it today", exact=True).click()
    page.get_by_role("link", name="Today’s screen", exact=True).click()
    page.wait_for_selector("#alm-day[data-ready]")
    assert "Stop." in page.locator("#alm-day .alm-day-line").first.inner_text() and "isocyanate" in page.locator("#alm-day").inner_text().lower()
    page.goto((site / "own/pass-on.html").as_uri())
    page.wait_for_selector(".alm-pass-on[data-ready]")
    page.get_by_text("A paint: Slip Two-pack").click()
    letters = page.locator(".alm-pass-link").input_value()
    assert letters.startswith("#b1.") and page.locator(".alm-code").count() == 0  # a file has no address
    page.evaluate(PASTE, letters)
    page.locator(".alm-came h2").wait_for()
    assert "STOP" in page.locator(".alm-came").inner_text()
    before = page.evaluate("window.almanacOwnThings.all().length")
    page.get_by_role("button", name="Take it", exact=True).click()
    assert page.evaluate("window.almanacOwnThings.all().length") == before + 1
    context.close()
