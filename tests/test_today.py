"""Today on a phone: readings given once where they stand, answered as Python answers them, kept by place, pot, pieces and kit, above the fold."""

from __future__ import annotations

import gzip
import json
import math
import re
import subprocess
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hands import first_screen
from test_access import AXE, RULES
from test_chain import day, near

from generators.chain.answers import printed, today
from generators.chain.today import chain
from generators.situation import read

SMALL, TALL = {"width": 360, "height": 640}, {"width": 360, "height": 800}
FOLD = 640
HERE = Path(__file__).parent
ASSETS = HERE.parent / "generators" / "site" / "theme" / "assets"
# What a kitchen's room asks before anybody may spray, and what it says.
ROOM = {"place": "room", "air-temperature": "19", "relative-humidity": "55", "surface-temperature": "19", "people-out": "yes", "flames-out": "yes", "ground": "coated", "old-finish": "none",
        "asbestos": "no", "building-year": "2010", "room-volume": "60", "air-changes": "60", "mixing": "2"}

CLOSET = {"room-volume": "20", "air-changes": "1", "mixing": "10"}  # a hundred times what may be breathed


@pytest.fixture
def phone(browser, site):
    """Today from a folder of files, on a phone whose network is off: (page, address)."""
    with first_screen(browser, site) as page:
        yield page


def settled(page: Any) -> None:
    """The page drawn again after whatever was just kept."""
    page.evaluate("() => new Promise((done) => setTimeout(done, 120))")


def give(page: Any, name: str, text: str) -> None:
    """One reading by hand: pressed where it stands, or among all the readings; typed or chosen."""
    if name == "coating" and page.evaluate("Boolean(window.almanacKept.get('coating'))"):  # another paint, by the pot in hand
        page.locator("#alm-day [data-reading='set-pot']").click()
        page.get_by_text("Another paint in this pot").click()
        page.locator(f'.alm-panel-choices button[value="{text}"]').click()
        settled(page)
        return
    shown = page.locator(f'#alm-day [data-reading="{name if name != "coating" else "set-pot"}"]')
    if not shown.count():
        page.evaluate("document.getElementById('alm-day-all').open = true")
        shown = page.locator(f'#alm-day-all [data-reading="{name}"]')
    shown.first.click()
    panel = page.locator(".alm-panel")
    panel.wait_for()
    kind = page.evaluate("name => window.almanacDay.readings[name].kind", name)
    if kind == "number":
        panel.locator("input").fill("")
        for letter in text:
            panel.locator(".alm-pad button", has_text=letter).first.click()
        panel.locator(".alm-key-keep").click()
    elif kind == "time":
        if text == "none":
            panel.get_by_text("No rain today").click()
        else:
            panel.locator("input").fill(text)
            panel.get_by_text("Keep this time").click()
    else:
        panel.locator(f'.alm-panel-choices button[value="{text}"]').click()
    settled(page)
    if page.locator(".alm-panel").count():  # the next reading that is wanted was asked for
        page.keyboard.press("Escape")
        settled(page)


def choose(page: Any, sort: str, words: str) -> None:
    """Another place, pot or other pieces, by what it is called."""
    page.locator(f'#alm-day [data-reading="set-{sort}"]').click()
    page.locator(".alm-panel-choices button", has_text=words).first.click()
    settled(page)


def same_as_python(page: Any) -> dict[str, Any]:
    """Every answer of the screen against Python's own at the same readings; Python's answers."""
    told = page.evaluate("""() => {
      const { situation, worked } = window.almanacNow, shown = {};
      for (const [name, one] of Object.entries(worked.answers)) shown[name] = typeof one.value === "number" && one.unit ? window.almanacDayAnswers.printed(name, one, "metric") : null;
      return { texts: situation.texts, day: situation.day, verdict: worked.verdict, answers: worked.answers, printed: shown };
    }""")
    pairs = [(name, one) for name, text in told["texts"].items() for one in (text if isinstance(text, list) else [text])]
    situation = read(pairs, day().names(), date.fromisoformat(told["day"]))
    mine = today(day(), situation, "metric")
    assert mine["verdict"] == told["verdict"]
    wrong = []
    for answer in chain().answers:
        one, other = mine["answers"][answer.name], told["answers"][answer.name]
        timed = one.get("value") is not None and "unit" not in one and not isinstance(other.get("value"), str)
        keys = ("verdict", "because", "remedy") if timed else ("value", "low", "high", "unit", "verdict", "because", "remedy")
        wrong += [f"{answer.name}.{key}: {one.get(key)!r} and {other.get(key)!r}" for key in keys if not near(one.get(key), other.get(key))]
        if timed:
            wrong += [f"{answer.name}: {one['value']} and {other['value']}"] if one["value"] != situation.clock(other["value"]) else []
        if told["printed"][answer.name] is not None and printed(answer, one, "metric").strip() != told["printed"][answer.name]:
            wrong.append(f"{answer.name}: printed {printed(answer, one, 'metric')!r} and {told['printed'][answer.name]!r}")
    assert wrong == []
    return mine


def line(page: Any, name: str) -> str:
    return page.locator(f'#alm-day [data-line="{name}"]').inner_text()


def test_nothing_is_go_before_it_is_known(phone):
    """The first screen of all: no kit, no paint, no reading."""
    same_as_python(phone)
    assert phone.locator(".alm-day-go").count() == 0
    assert "Not known" in line(phone, "spray") and "highest" in line(phone, "mask")


def test_a_whole_day_two_places_two_kits_a_pot_topped_up(phone):
    page = phone
    give(page, "kit", "five-stage-trolley")
    give(page, "coating", "gannet-trim-satin")
    for name, text in ROOM.items():
        give(page, name, text)
    for name, text in {"cup-time": "56", "paint-temperature": "19", "pot-litres": "1"}.items():
        give(page, name, text)
    mine = same_as_python(page)
    assert mine["answers"]["spray"]["verdict"] in ("go", "care"), mine["answers"]["spray"]
    assert "Spray" in line(page, "spray") and "until" in line(page, "spray")
    poured = page.evaluate("window.almanacNow.worked.answers.pot.value")
    assert poured > 0

    # Poured and timed again: a dose, in all, and no second pouring meanwhile.
    page.locator("#alm-day [data-line='pot'] .alm-day-link", has_text="poured").click()
    assert "Poured" in line(page, "pot") and "Pour " not in line(page, "pot").replace("Poured", "")
    page.locator("#alm-day .alm-day-link", has_text="time it").click()
    page.locator(".alm-panel input").nth(1).fill("50")
    page.locator(".alm-key-keep").click()
    settled(page)
    after = same_as_python(page)["answers"]["pot"]
    assert after.get("value", 0) <= poured

    # Topped up half-way: more litres, the same thinner in it at most.
    give(page, "pot-litres", "1.5")
    same_as_python(page)
    assert page.evaluate("window.almanacNow.situation.numbers['pot-litres']") == 1.5

    # The other place, with readings of its own; the room's do not follow, and come back.
    page.locator("#alm-day [data-reading='set-place']").click()
    page.locator(".alm-panel-choices button", has_text="Another place").click()
    page.locator(".alm-panel-choices button", has_text="outdoors").click()
    settled(page)
    texts = page.evaluate("window.almanacNow.situation.texts")
    assert "air-temperature" not in texts and texts["pot-litres"].startswith("1.5") and texts["place"].startswith("outdoors")
    assert "Not known" in line(page, "spray")
    for name, text in {"air-temperature": "16", "relative-humidity": "60", "surface-temperature": "15", "wind": "9", "rain-at": "none"}.items():
        give(page, name, text)
    same_as_python(page)
    assert "wind" in line(page, "spray").lower() and ("Wait" in line(page, "spray") or "Stop" in line(page, "spray"))
    choose(page, "place", "place 1")
    texts = page.evaluate("window.almanacNow.situation.texts")
    assert texts["air-temperature"].startswith("19") and "wind" not in texts
    same_as_python(page)

    # The other kit judges the same pot again; its own flow does not follow to the first.
    give(page, "kit", "two-stage-tote")
    give(page, "flow", "150")
    other = same_as_python(page)["answers"]
    assert other["pot"].get("because") != after.get("because") or other["pot"].get("value") != after.get("value")
    assert "Two-stage" in page.locator(".alm-day-head").inner_text()
    give(page, "kit", "five-stage-trolley")
    assert "flow" not in page.evaluate("window.almanacNow.situation.texts")

    # A second paint is a second pot; the first keeps its doses.
    give(page, "last-coat-at", page.evaluate("window.almanacKept.clock.now().slice(0, 11) + '00:05'"))
    page.locator("#alm-day [data-reading='set-pot']").click()
    page.locator(".alm-panel-choices button", has_text="A new pot").click()
    page.locator(".alm-panel-choices button", has_text="Anchor Alkyd Gloss").click()
    settled(page)
    assert "dose" not in page.evaluate("window.almanacNow.situation.texts") and "stays outside" in page.locator("#alm-day").inner_text()
    same_as_python(page)
    choose(page, "pot", "Gannet")
    assert len(page.evaluate("window.almanacNow.situation.texts.dose")) == 1
    same_as_python(page)

    # Closed and opened again: all of it is there.
    before = page.evaluate("JSON.stringify(window.almanacNow.situation.words)")
    page.reload()
    page.wait_for_selector("#alm-day[data-ready]")
    assert page.evaluate("JSON.stringify(window.almanacNow.situation.words)") == before


def _later(page: Any, hours: float) -> None:
    """The page as it stands so many hours on."""
    page.evaluate("""hours => { const was = window.almanacKept.clock.now(); const then = new Date(Date.parse(was + ':00Z') + hours * 3600000).toISOString().slice(0, 16);
      window.almanacKept.clock.now = () => then; document.dispatchEvent(new Event('visibilitychange')); }""", hours)
    settled(page)


def _noon(page: Any) -> None:
    page.evaluate("() => { const day = window.almanacKept.clock.now().slice(0, 10); window.almanacKept.clock.now = () => day + 'T10:00'; }")


def test_an_old_reading_is_asked_again_and_one_press_keeps_it(phone):
    page = phone
    _noon(page)
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", **ROOM, "pot-litres": "1"}.items():
        give(page, name, text)
    assert page.evaluate("window.almanacNow.worked.answers.spray.verdict") in ("go", "care")
    _later(page, 5)
    assert page.evaluate("window.almanacNow.worked.answers.spray.verdict") == "unknown"
    same_as_python(page)
    button = page.locator("#alm-day [data-reading='air-temperature']").first
    assert "again" in button.inner_text()
    button.click()
    page.get_by_text("Read again, the same").click()
    settled(page)
    if page.locator(".alm-panel").count():
        page.keyboard.press("Escape")
    assert "15:00" in page.locator("#alm-day [data-reading='air-temperature']").first.inner_text()
    same_as_python(page)


def test_a_new_day_confirms_kit_and_paint(phone):
    page = phone
    _noon(page)
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", "pot-litres": "1"}.items():
        give(page, name, text)
    _later(page, 24)
    words = page.evaluate("window.almanacNow.situation.words")
    assert "kit" not in words and "coating" not in words and "A new day" in page.locator("#alm-day").inner_text()
    page.get_by_text("Yes, the same").click()
    settled(page)
    situation = page.evaluate("window.almanacNow.situation")
    assert situation["words"]["kit"] == "five-stage-trolley" and "pot-litres" not in situation["texts"]  # yesterday's pot is in the list, a clean one in hand
    choose(page, "pot", "Gannet")


def test_where_no_mask_is_enough_nobody_is_sent_in(phone):
    """Spray is go by the weather, and the mist is past every mask: the first line says wait."""
    page = phone
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", **ROOM, **CLOSET, "pot-litres": "1"}.items():
        give(page, name, text)
    mine = same_as_python(page)["answers"]
    assert mine["mask"]["verdict"] == "stop" and mine["spray"]["verdict"] in ("go", "care")
    assert "Wait." in line(page, "spray") and "Spray" not in line(page, "spray") and page.locator(".alm-day-line").first.get_attribute("class").endswith("alm-day-stop")


@pytest.mark.parametrize("room", [ROOM, {**ROOM, **CLOSET}], ids=["a room", "a closet"])
def test_all_five_stand_above_the_fold(phone, room):
    """Where all is well, and where the mask's line and the pot's are at their longest."""
    page = phone
    pot = {"pot-litres": "1", "cup-time": "56", "paint-temperature": "19", "touch-test": "passes"}
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", **room, **pot}.items():
        give(page, name, text)
    give(page, "last-coat-at", page.evaluate("window.almanacKept.clock.now().slice(0, 11) + '00:05'"))
    page.evaluate("document.getElementById('alm-day-all').open = false; scrollTo(0, 0)")
    assert page.locator(".alm-day-line").count() == 5
    boxes = [one.bounding_box() for one in page.locator(".alm-day-line").all()]
    assert boxes[-1]["y"] + boxes[-1]["height"] <= FOLD, boxes
    small = [(one.get_attribute("data-reading") or one.inner_text(), one.bounding_box()) for one in page.locator("#alm-day button").all()]
    assert [name for name, box in small if min(box["width"], box["height"]) < 44] == []
    page.locator("#alm-day [data-reading='air-temperature']").click()
    keys = [one.bounding_box() for one in page.locator(".alm-pad button").all()]
    assert keys and all(min(box["width"], box["height"]) >= 60 for box in keys) and all(box["y"] + box["height"] <= FOLD for box in keys)
    address = page.url
    page.go_back()
    settled(page)
    assert page.locator(".alm-panel").count() == 0 and page.url == address


@pytest.mark.parametrize("width", [320, 360, 430])
def test_no_one_is_shut_out(phone, width):
    page = phone
    page.set_viewport_size({"width": width, "height": 800})
    for name, text in {"kit": "five-stage-trolley", "coating": "anchor-alkyd-gloss", "place": "room", "air-temperature": "19"}.items():
        give(page, name, text)
    page.evaluate("document.getElementById('alm-day-all').open = true")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = []
    for opened in (None, "air-temperature", "place"):
        if opened:
            page.locator(f"#alm-day [data-reading='{opened if opened != 'place' else 'set-place'}']").first.click()
            page.wait_for_selector(".alm-panel")
        for palette in ("default", "slate"):
            page.evaluate("palette => document.body.setAttribute('data-md-color-scheme', palette)", palette)
            told = page.evaluate("rules => axe.run(document, {runOnly: {type: 'tag', values: rules}, resultTypes: ['violations'], elementRef: false})", RULES)
            found += [f"{opened} {palette}: {one['id']} {one['nodes'][0]['html'][:160]} {one['nodes'][0].get('failureSummary', '')[:200]}" for one in told["violations"]]
    assert found == []


def test_first_load_is_small_and_search_waits(browser, served, site):
    """Bytes of what the browser really asked for, compressed one by one; fonts are compressed already."""
    context = browser.new_context(viewport=SMALL)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{served}/index.html")
    page.wait_for_selector("#alm-day[data-ready]")
    page.wait_for_load_state("networkidle")
    files = {Path(site / one.removeprefix(f"{served}/").split("?")[0]) for one in asked if one.startswith(served)}
    sizes = {str(path.relative_to(site)): path.stat().st_size if path.suffix == ".woff2" else len(gzip.compress(path.read_bytes(), 9)) for path in files if path.is_file()}
    assert sum(sizes.values()) <= 130_000, json.dumps(sizes, indent=1)
    assert not any("search" in name or "bundle" in name for name in sizes)
    ours = [name for name in sizes if re.fullmatch(r"assets/(?:day/)?[a-z-]+\.js", name)]
    assert ours == ["assets/first.js"], ours  # one file, so that nothing is laid out between its parts
    first = (site / ours[0]).read_text(encoding="utf-8")
    for part in ("bring", "day/chain", "day/formulas", "chain", "kept", "day-page", "finder", "edition"):
        assert (site / f"assets/{part}.js").read_text(encoding="utf-8").strip() in first, part
    page.locator("#alm-day-search").click()
    page.locator(".md-search__input").fill("runs")
    page.locator(".md-search-result__item a").first.wait_for()
    context.close()


def test_the_devices_own_light_is_followed(browser, site):
    for scheme, wanted in (("dark", "slate"), ("light", "default")):
        context = browser.new_context(viewport=SMALL, color_scheme=scheme)
        page = context.new_page()
        page.goto((site / "index.html").as_uri())
        page.wait_for_selector("#alm-day[data-ready]")
        assert page.evaluate("document.body.dataset.mdColorScheme") == wanted
        context.close()


def test_two_parts_in_a_pot_say_when_it_is_out_of_the_gun(phone):
    """An amine epoxy mixed at ten: the hour on the screen is the earliest that Python tells. A paint with isocyanates shows the stop and nothing else to do."""
    page = phone
    _noon(page)
    for name, text in {"kit": "five-stage-trolley", "coating": "keel-two-pack-epoxy", **ROOM, "pot-litres": "1", "paint-temperature": "19"}.items():
        give(page, name, text)
    assert "mixed" in line(page, "pot") and "stays outside" in page.locator("#alm-day").inner_text()
    give(page, "mixed-at", page.evaluate("window.almanacKept.clock.now().slice(0, 11) + '09:50'"))
    mine = same_as_python(page)["answers"]["clean-by"]
    assert f"Out of the gun by {mine['until'][-5:]}" in line(page, "pot"), (mine, line(page, "pot"))
    give(page, "coating", "spar-two-pack-finish")
    same_as_python(page)
    lines = page.locator(".alm-day-line").all_inner_texts()
    assert "Stop." in lines[0] and "isocyanate" in lines[0].lower() and "Mask" in lines[1]
    assert not page.locator(".alm-day-line .alm-day-figure").filter(has_text=re.compile("mL|mm")).count()


EMPTIED = """() => new Promise((done) => { const keeper = window.almanacKeeper; if (keeper && keeper.db) keeper.db.close();
  const gone = indexedDB.deleteDatabase('almanac-journal'); gone.onsuccess = gone.onerror = gone.onblocked = () => done(); })"""
KEPT = "() => window.almanacKept.status().is === 'kept' && JSON.parse(localStorage.getItem('almanac-today')).waiting.length === 0"
STATE = "() => { const { now, ...texts } = window.almanacNow.situation.texts; return JSON.stringify(texts); }"


def _first_edition(page: Any) -> str:
    """The situation in hand as the first edition wrote it: one text, and nothing beside it."""
    return page.evaluate("""() => { const { unflat } = window.almanacSets, found = JSON.parse(localStorage.getItem('almanac-today')).places;
      return JSON.stringify({ edition: 1, ...unflat(found) }); }""")


def _open_with(page: Any, text: str | None) -> None:
    """The page opened where the journal is empty and localStorage holds this text."""
    page.evaluate(EMPTIED)
    page.evaluate("text => text === null ? localStorage.removeItem('almanac-today') : localStorage.setItem('almanac-today', text)", text)
    page.reload()
    page.wait_for_selector("#alm-day[data-ready]")


def test_what_was_kept_and_is_damaged_was_never_read(phone):
    """A copy that was cut, filled with another thing, or holds words and figures that nobody can have read: nothing of it is go, and the page stands."""
    page = phone
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", **ROOM, "pot-litres": "1"}.items():
        give(page, name, text)
    page.wait_for_function(KEPT)
    whole = _first_edition(page)
    assert page.evaluate("window.almanacNow.worked.answers.spray.verdict") in ("go", "care")
    spoilt = {
        "cut": whole[: len(whole) // 2], "another": "[1, 2]", "none": "", "a number": "7", "no sets": '{"edition": 1, "chosen": {}, "sets": {}}',
        "words": whole.replace('"text":"yes"', '"text":"perhaps"'), "figures": whole.replace('"value":19', '"value":"19"'), "far off": whole.replace('"value":19', '"value":1900'),
        "moments": re.sub(r'"at":"[^"]*"', '"at":"soon"', whole), "later": re.sub(r'"at":"\d{4}', '"at":"2999', whole), "markup": whole.replace('"name":""', '"name":"<img src=x onerror=alert(1)>"'),
    }
    for how, text in spoilt.items():
        _open_with(page, text)
        verdict = page.evaluate("window.almanacNow.worked.answers.spray.verdict")
        assert verdict in (("go", "care") if how == "markup" else ("unknown", "stop")), (how, verdict)
        assert page.locator("#alm-day img").count() == 0


def test_the_situation_outlives_its_copy(phone):
    """Kept is said when the journal has it: from there it comes back whole where the copy is lost, cut, or another's; what the first edition left is carried over whole."""
    page = phone
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", **ROOM, "pot-litres": "1", "last-coat-at": page.evaluate("window.almanacKept.clock.now()")}.items():
        give(page, name, text)
    page.wait_for_function(KEPT)
    assert "kept" in page.locator(".alm-day-stored").inner_text()
    before = page.evaluate(STATE)
    for text in (None, "[1, 2]", '{"edition": 2, "places": {"place/place-1/air-temperature": "{}"}, "waiting": []}'):
        page.evaluate("text => text === null ? localStorage.removeItem('almanac-today') : localStorage.setItem('almanac-today', text)", text)
        page.reload()
        page.wait_for_function(f"before => window.almanacNow && ({STATE})() === before", arg=before)
    old = _first_edition(page)
    _open_with(page, old)
    assert page.evaluate(STATE) == before
    page.wait_for_function(KEPT)
    page.evaluate("localStorage.removeItem('almanac-today')")
    page.reload()
    page.wait_for_function(f"before => window.almanacNow && ({STATE})() === before", arg=before)


BLOCKED = """for (const name of ["localStorage", "indexedDB"]) Object.defineProperty(window, name, { get() { throw new DOMException("blocked", "SecurityError"); } });"""


def test_where_nothing_can_be_kept_it_answers_and_says_so(browser, site):
    context = browser.new_context(viewport=SMALL)
    page = context.new_page()
    page.add_init_script(BLOCKED)
    page.goto((site / "index.html").as_uri())
    page.wait_for_selector("#alm-day[data-ready]")
    for name, text in {"kit": "five-stage-trolley", "coating": "gannet-trim-satin", **ROOM, "pot-litres": "1"}.items():
        give(page, name, text)
    assert same_as_python(page)["answers"]["spray"]["verdict"] in ("go", "care")
    page.wait_for_function("document.querySelector('.alm-day-stored').textContent.includes('not surely kept')")
    assert "keeps nothing" in page.locator("#alm-day").inner_text()
    context.close()


def test_a_table_stands_at_today_and_each_cell_says_why(phone):
    """Go or wait: the row and columns about today's readings are framed; the panel works the tapped cell again and leaves it in sight."""
    page = phone
    for name, text in {"air-temperature": "18", "relative-humidity": "63"}.items():
        give(page, name, text)
    page.goto(page.url.replace("index.html", "air/go-or-wait.html"))
    page.locator(".alm-lit").first.wait_for()
    table = page.locator("table[data-swept]").first
    heads = table.evaluate("table => [...table.querySelectorAll('.alm-lit-head')].map((one) => one.dataset.puts)")
    columns = table.evaluate("table => [...table.querySelectorAll('thead th[data-puts]')].map((one) => Number(one.dataset.puts.split('=')[1].split(' ')[0]))")
    under, over = max(one for one in columns if one <= 63), min(one for one in columns if one >= 63)
    assert under < 63 < over and heads == [f"relative-humidity={under} %", f"relative-humidity={over} %", "air-temperature=18 °C; surface-temperature=18.0 °C"]
    assert table.locator(".alm-lit").count() == 2 and "18 °C, 63 %" in page.locator(".alm-today").first.inner_text()
    marks = {"✓": "✓ go", "△": "△ take care", "✕": "✕ stop", "?": "? not known"}
    for row, column in ((6, 4), (1, 2), (4, 9)):
        cell = table.locator("tbody tr").nth(row).locator("td").nth(column)
        cell.evaluate("one => one.scrollIntoView({ block: 'center', inline: 'center' })")
        before, text = cell.bounding_box(), cell.inner_text()
        cell.click()
        panel = page.locator(".alm-panel")
        panel.wait_for()
        assert cell.bounding_box() == before
        over = panel.bounding_box()
        assert before["y"] + before["height"] <= over["y"] or over["y"] + over["height"] <= before["y"], (before, over)
        told = panel.inner_text()
        assert any(told.split("\n", 2)[2].strip().startswith(words) for mark, words in marks.items() if mark in text), (text, told[:200])
        found = re.search(r"^margin (−?[0-9.]+) °C", told, re.MULTILINE)
        shown = re.match(r"−?[0-9.]+", text)
        if shown:
            assert found and math.floor(float(found[1].replace("−", "-")) * 2 + 1e-9) / 2 == float(shown[0].replace("−", "-")), (text, told)
        page.go_back()
        assert page.locator(".alm-panel").count() == 0
    page.goto(page.url.replace("go-or-wait", "dew-point"))
    page.wait_for_timeout(200)
    fields = {one.get_attribute("data-name"): one.locator("input").input_value() for one in page.locator(".alm-live").first.locator(".alm-field").all()}
    assert fields["air-temperature"] == "18" and fields["relative-humidity"] == "63"


@pytest.mark.parametrize("count", [60, pytest.param(2000, marks=pytest.mark.sweep)])
def test_sets_through_the_journal_and_back(count):
    """In Node: histories of sets and readings, each act one record, nothing lost; on another phone every reading waits to be read again."""
    done = subprocess.run(["node", str(HERE / "sets.js"), str(ASSETS), str(count)], capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    assert json.loads(done.stdout)["writes"] > 10 * count
