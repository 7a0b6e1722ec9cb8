"""Search in the reader's words: questions as they are typed, misspellings kept, through the search box itself."""

from __future__ import annotations

import pytest

# Question as typed → pages that answer it. Common practice, no source: what a sprayer asks.
ASKED = {
    "how much do i thin emulsion for hvlp": {"mix/thinning.html"},
    "spray gun spitting / sputtering": {"faults/spitting.html"},
    "runs and sags on vertical door fix": {"faults/runs.html"},
    "rough like sandpaper finish dry spray": {"faults/dry-spray.html"},
    "how much paint do i need for a 6 panel door / 20 doors": {"survey/quantities.html", "survey/before-you-quote.html", "gun/speed-and-film.html"},
    "what respirator for spraying water based paint": {"safety/ppe.html"},
    "tannin bleed thru white paint oak": {"faults/tannin.html"},
    "overspray on neighbors car": {"air/drift.html", "faults/overspray.html"},
    "no paint coming out of hvlp gun": {"faults/nothing-comes.html"},
    "banana shape spray pattern": {"faults/crescent.html"},
    "how do i convert dip cup secs to ford 4": {"mix/cup-times.html"},
    "floor or hood over the gun upside down ceilings wont pick up": {"gun/surfaces.html"},
    "how to spray louvre doors without drips": {"gun/surfaces.html"},
    "spray both sides of a door same day": {"air/drying-and-recoat.html", "gun/surfaces.html"},
    "strainer mesh size micron for gloss": {"mix/stirring-and-straining.html"},
    "can i spray 2 pack at a customers house": {"safety/isocyanates.html", "mix/two-pack.html"},
    "house built 1965 do i need rrp": {"safety/lead-and-asbestos.html"},
    "is asbestos in popcorn/stipple ceiling": {"safety/lead-and-asbestos.html"},
    "how dry must wood be b4 painting, moisture meter says 19": {"survey/substrate-checks.html"},
    "pot life 2 pack hot day": {"mix/two-pack.html"},
    "patchy shiny bits flashing sprayed wall touch up": {"faults/flashing.html"},
    "how wide fan for skirting/baseboard": {"gun/distance-and-fan.html", "gun/surfaces.html"},
    "mils to microns 3 mil": {"reference/units.html"},
    "can i spray in 85% humidity": {"air/go-or-wait.html", "air/dew-point.html"},
    "turbine overheating cutting out": {"gun/nozzle-and-air.html", "safety/electricity-and-turbine.html"},
    "how do i dispose paint water / gun wash": {"safety/rags-and-waste.html"},
    "fume headache, how long to air room before family returns": {"safety/vapour-and-fire.html"},
    "cleaning hvlp gun between coats water based can i leave it": {"clean/clean-down.html"},
    "paint froze in the van is it any good": {"clean/storage-and-frost.html"},
    "can you put oil over water based or vice versa": {"survey/what-over-what.html"},
    "when to pull masking tape": {"survey/masking.html"},
    "moister meter says 19 on my deck": {"survey/substrate-checks.html"},
    "fisheys in laquer": {"faults/fisheyes.html"},
    "orange peal": {"faults/orange-peel.html"},
    "dew piont": {"air/dew-point.html"},
    "isocianates": {"safety/isocyanates.html"},
}


def settled(page):
    """Addresses of what was found, once the list has stood still: it changes with each key."""
    seen, still = None, 0
    for _ in range(100):
        links = page.locator(".md-search-result__item > a.md-search-result__link").evaluate_all("all => all.map(one => one.getAttribute('href'))")
        still = still + 1 if links and links == seen else 0
        if still == 4:
            break
        seen = links
        page.wait_for_timeout(150)
    return seen


def pages_for(browser, served, questions):
    """For each question, the pages in the order that the box shows them."""
    context = browser.new_context(viewport={"width": 1280, "height": 800})
    page = context.new_page()
    page.goto(f"{served}/index.html")
    box = page.locator("input[name=query]")
    box.click()
    answers = {}
    for question in questions:
        box.fill("")
        box.press_sequentially(question)
        links = settled(page)
        answers[question] = list(dict.fromkeys(link.split("#")[0].split("?")[0].split("127.0.0.1")[-1].split("/", 1)[-1] for link in links))
    context.close()
    return answers


def test_a_question_of_each_kind_finds_its_page(browser, served):
    """A sentence, a misspelling, a danger, a size: the page is among the first three."""
    asked = ("how much do i thin emulsion for hvlp", "orange peal", "can i spray 2 pack at a customers house", "mils to microns 3 mil", "what respirator for spraying water based paint")
    for question, pages in pages_for(browser, served, asked).items():
        assert ASKED[question] & set(pages[:3]), (question, pages[:4])


@pytest.mark.sweep
def test_the_right_page_is_found(browser, served):
    found = pages_for(browser, served, ASKED)
    first = [question for question, pages in found.items() if pages[:1] and pages[0] in ASKED[question]]
    three = [question for question, pages in found.items() if ASKED[question] & set(pages[:3])]
    missed = {question: pages[:4] for question, pages in found.items() if question not in three}
    print(f"first {len(first)} of {len(ASKED)}, in the first three {len(three)}")
    assert len(first) >= 0.8 * len(ASKED), {question: pages[:3] for question, pages in found.items() if question not in first}
    assert len(three) >= 0.95 * len(ASKED), missed


def test_no_hits_is_no_dead_end(browser, served):
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    page.goto(f"{served}/index.html")
    page.locator("label.md-header__button[for=__search]").click()
    page.locator("input[name=query]").press_sequentially("qqqq zzzz")
    page.wait_for_timeout(500)
    assert page.locator(".alm-ways a").count() >= 3 and page.locator(".alm-ways a").first.is_visible()
    context.close()
