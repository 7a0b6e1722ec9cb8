"""Live answers: the same sums as Python, in both systems, kept, refused with a reason, quick, and big enough for gloves."""

from __future__ import annotations

import math
import random
import re

import pytest
from conftest import ROOT
from hands import unfold

from generators import formulas
from generators.render.live import fields, twin


@pytest.fixture
def phone(browser):
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    yield context, page
    assert not errors
    context.close()


def said(part):
    return part.locator(".alm-answer-is").inner_text().replace("−", "-")


def fill(part, values):
    for name, value in values.items():
        part.locator(f'.alm-field[data-name="{name}"] input').fill(repr(value))


# One in seven of all answers, or every one in the sweep.
SHARE = pytest.mark.parametrize("step", [7, pytest.param(1, marks=pytest.mark.sweep, id="all")])


def every_answer(page, served, step):
    """(its place, formula, its keys), for one in `step` of what the page of answers holds."""
    page.goto(f"{served}/answers.html")
    for place, part in list(enumerate(page.locator(".alm-live").all()))[::step]:
        unfold(part)
        part.locator(".alm-live-keys").wait_for()
        yield place, part.get_attribute("data-formula"), part


@SHARE
def test_every_formula_answers_as_python_does(phone, served, catalogue, step):
    """All of them, with seeded inputs inside their ranges: what is shown is Python's figure to three digits, or a reason where Python has none."""
    _, page = phone
    page.goto(f"{served}/answers.html")
    rng = random.Random(20261125)
    answered = 0
    chosen = list(catalogue.items())[::step]
    for name, formula in chosen:
        part = page.locator(f'.alm-live[data-formula="{name}"]')
        unfold(part)
        for attempt in range(3):
            option = rng.choice(list(formula.choice.options)) if formula.choice else None
            if option:
                part.locator(".alm-option").select_option(option)
            inputs = {}
            for symbol in formula.inputs:
                low, high = formula.choice.options[option].ranges.get(symbol.name, (symbol.low, symbol.high)) if option else (symbol.low, symbol.high)
                near = symbol.example if low <= symbol.example <= high else (low + high) / 2
                inputs[symbol.name] = float(f"{near if attempt == 0 else near * rng.uniform(0.9, 1.1):.4g}")
            fill(part, inputs)
            value = float(formula.column({**inputs, **({formula.choice.name: option} if option else {})}))
            shown = said(part)
            if math.isnan(value):
                assert shown.startswith("– "), (name, inputs, shown)
                assert len(shown) > 10
            else:
                answered += 1
                assert float(shown.split()[0]) == pytest.approx(value, rel=6e-3, abs=1e-12), (name, inputs, shown)
    assert answered > 2 * len(chosen)


def test_us_units_say_the_same_thing(phone, served, catalogue):
    _, page = phone
    page.goto(f"{served}/air/dew-point.html")
    part = page.locator('.alm-live[data-formula="dew-margin"]')
    fill(part, {"surface-temperature": 15.0, "air-temperature": 20.0, "relative-humidity": 60.0})
    metric = float(said(part).split()[0])
    part.locator(".alm-switch").click()
    assert said(part).endswith("°F")
    assert float(said(part).split()[0]) == pytest.approx(metric * 1.8, rel=0.01)
    assert part.locator('.alm-field[data-name="air-temperature"] input').input_value() == "68"
    page.reload()
    assert said(page.locator('.alm-live[data-formula="dew-margin"]')).endswith("°F"), "the chosen system is remembered"


def test_keys_alone_are_enough_and_are_kept(phone, served):
    _, page = phone
    page.goto(f"{served}/mix/thinning.html")
    part = page.locator('.alm-live[data-formula="thinner-for-target"]')
    field = part.locator('.alm-field[data-name="first-time"]')
    field.locator(".alm-common:not([hidden]) button", has_text="80").click()
    field.locator(".alm-more").click()
    assert field.locator("input").input_value() == "81"
    before = said(part)
    page.goto(f"{served}/index.html")
    page.goto(f"{served}/mix/thinning.html")
    assert said(page.locator('.alm-live[data-formula="thinner-for-target"]')) == before
    assert "81" in page.locator('.alm-live[data-formula="thinner-for-target"] .alm-sum').inner_text()


def test_out_of_range_is_a_dash_and_a_reason(phone, served):
    _, page = phone
    page.goto(f"{served}/mix/thinning.html")
    part = page.locator('.alm-live[data-formula="thinner-for-target"]')
    fill(part, {"first-time": 40.0, "target-time": 45.0})
    assert said(part).startswith("– ") and "add nothing" in said(part)
    fill(part, {"first-time": 5000.0})
    assert "must lie between" in said(part)
    part.locator('.alm-field[data-name="first-time"] input').fill("thick")
    assert said(part).startswith("– ")


def test_the_cell_of_the_table_is_lit(phone, served):
    _, page = phone
    page.goto(f"{served}/air/dew-point.html")
    part = page.locator('.alm-live[data-formula="dew-margin"]')
    fill(part, {"air-temperature": 15.0, "relative-humidity": 70.0})
    lit = page.locator(".alm-table").first.locator(".alm-lit")
    assert lit.count() == 1
    row = lit.evaluate("cell => cell.parentElement.querySelector('th').textContent")
    assert row == "15"
    fill(part, {"air-temperature": 55.0})
    assert page.locator(".alm-table").first.locator(".alm-lit").count() == 0


def test_targets_are_fifteen_millimetres(phone, served):
    """15 mm at 96 CSS pixels an inch is 57 px."""
    _, page = phone
    page.goto(f"{served}/mix/thinning.html")
    keys = page.locator(".alm-live").first.locator("button:visible, input:visible, select:visible")
    boxes = keys.evaluate_all("all => all.map(one => one.getBoundingClientRect()).map(box => [box.width, box.height])")
    assert len(boxes) > 15
    assert all(width >= 57 and height >= 57 for width, height in boxes), boxes


@SHARE
def test_every_answer_can_be_had_with_the_keyboard_alone(phone, served, step):
    """Tab reaches every key in the order it stands, never traps, always shows where it is and is never hidden under the answer (WCAG 2.2: 2.1.1, 2.1.2, 2.4.7, 2.4.11);
    Enter and Space press; the answer follows."""
    _, page = phone
    for index, name, part in every_answer(page, served, step):
        keys = part.locator("button:visible, input:visible, select:visible")
        wanted = keys.count()
        keys.first.focus()
        for place in range(wanted):
            told = page.evaluate("""([index, place]) => {
              const part = document.querySelectorAll('.alm-live')[index], here = document.activeElement;
              const keys = [...part.querySelectorAll('button, input, select')].filter(one => one.offsetParent);
              const box = here.getBoundingClientRect(), style = getComputedStyle(here);
              const over = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
              return {same: keys[place] === here,
                      seen: here.matches(':focus-visible') && parseFloat(style.outlineWidth) >= 2 && style.outlineStyle !== 'none', bare: over === here || here.contains(over)};
            }""", [index, place])
            assert told == {"same": True, "seen": True, "bare": True}, (name, place, told)
            page.keyboard.press("Tab")
        assert not part.evaluate("part => part.contains(document.activeElement)"), f"{name}: Tab does not leave"
    part = page.locator('.alm-live[data-formula="dew-margin"]')
    unfold(part)
    more = part.locator('.alm-field[data-name="surface-temperature"] .alm-more')
    before = said(part)
    more.focus()
    page.keyboard.press("Enter")
    once = said(part)
    page.keyboard.press("Space")
    assert len({before, once, said(part)}) == 3
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Control+a")
    page.keyboard.type("18")
    assert "18" in part.locator(".alm-sum").inner_text()


@SHARE
def test_every_answer_reads_aloud(phone, served, step):
    """What a screen reader is given, from Chromium's own tree: every key has a name that says what it moves, and each answer is one polite whole."""
    _, page = phone
    for _, name, part in every_answer(page, served, step):
        heard = part.aria_snapshot().replace("- '", "- ")  # YAML quotes a line that holds a colon
        assert re.match(r'- region "[^"]+: your own numbers"', heard), (name, heard)
        assert heard.count("- status:") == 1, (name, heard)
        boxes = re.findall(r'- (?:textbox|combobox) "([^"]+)"', heard)
        assert len(boxes) == len(set(boxes)) == part.locator("input:visible, select:visible").count(), (name, boxes)
        keys = re.findall(r'- button "((?:less|more): [^"]+)"', heard)
        assert len(keys) == len(set(keys)) == part.locator(".alm-press button:visible").count(), (name, keys)
        groups = re.findall(r'- group "common values: ([^"]+)"', heard)
        assert len(groups) == len(set(groups)) == part.locator(".alm-common:visible").count(), (name, groups)
        assert part.locator('.alm-answer[role="status"][aria-live="polite"][aria-atomic="true"]').count() == 1


def test_an_answer_comes_in_the_press_itself(phone, served):
    """No wait, no timer, no request: the text has changed when the press returns. How many milliseconds that takes is tests/benchmark.py's."""
    _, page = phone
    page.goto(f"{served}/mix/thinning.html")
    page.wait_for_load_state("networkidle")
    page.evaluate("document.fonts.ready.then(() => null)")  # on a busy machine letters come late
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    before, after = page.evaluate("""() => {
      const part = document.querySelector('.alm-live'), is = part.querySelector('.alm-answer-is'), before = is.textContent;
      part.querySelector('.alm-more').click();
      return [before, is.textContent];
    }""")
    assert before != after and not asked, (before, after, asked)


def test_without_a_script_the_page_still_tells(browser, served):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served}/mix/thinning.html")
    assert page.locator(".alm-live-off").first.is_visible() and page.locator(".alm-live-keys").first.is_hidden()
    assert "12.7" in page.content()
    context.close()


def test_no_sum_is_written_by_hand_in_javascript():
    """Our own scripts hold no function of a formula and none of the formulas' constants."""
    plain = (0, 0.001, 1, 2, 3, 4, 5, 8, 10, 20, 23, 50, 85, 90, 100, 1000)  # stand for many things
    constants = {f"{constant.value:g}" for formula in formulas.DECLARED.values() for constant in formula.constants if constant.value not in plain}
    constants |= {"17.62", "243.12", "3.85", "4.49", "1.37"}
    for path in (ROOT / "generators/site/theme/assets").glob("*.js"):
        if path.name in ("minisearch.js", "find.js"):  # they rank words, and work nothing that a page says
            continue
        text = re.sub(r"/\*.*?\*/|//[^\n]*", "", path.read_text(encoding="utf-8"), flags=re.S)
        scatter = "sqrt" if path.name in ("drill.js", "chain.js") else ""  # of a list of readings, and of errors that add up as squares: no formula takes these; held to Python elsewhere
        assert not {found for found in re.findall(r"Math\.(exp|log|pow|sqrt|tan|cos|sin|atan)\b", text) if found != scatter}, path.name
        found = constants & set(re.findall(r"(?<![\w.])\d+\.?\d*(?:e-?\d+)?(?![\w.])", text))
        assert not found, (path.name, found)


def test_twins_are_linear_both_ways(catalogue):
    for formula in catalogue.values():
        for one in fields(formula, {}):
            assert one.scale > 0 and math.isfinite(one.offset)
        unit, scale, offset = twin(formula.answer.unit)
        assert unit and scale > 0 and math.isfinite(offset)


def test_what_is_typed_stays_as_it_was_typed(phone, served):
    """A thousand changes of system leave the same bytes in the field and in what is kept; a unit typed with a figure counts, and a figure of before is carried over."""
    _, page = phone
    page.goto(f"{served}/film/wet-and-dry.html")
    page.evaluate("localStorage.setItem('almanac-live:wet-film', JSON.stringify({values: {'dry-film': 31.75}, option: null}))")
    page.reload()
    part = page.locator('.alm-live[data-formula="wet-film"]')
    field = part.locator('.alm-field[data-name="dry-film"] input')
    assert field.input_value() == "31.75"
    field.fill("123.4567")
    kept = page.evaluate("localStorage.getItem('almanac-live:wet-film')")
    assert "123.4567" in kept
    page.evaluate("""() => { const key = document.querySelector('.alm-live[data-formula="wet-film"] .alm-switch'); for (let turn = 0; turn < 1000; turn += 1) key.click(); }""")
    assert field.input_value() == "123.4567" and page.evaluate("localStorage.getItem('almanac-live:wet-film')") == kept
    part.locator(".alm-switch").click()
    assert field.input_value() == "4.861", "123.4567 µm in mil"
    part.locator(".alm-switch").click()
    fill_text = part.locator('.alm-field[data-name="dry-film"] input')
    fill_text.fill("30")
    metric = said(part)
    for text in ("30 µm", "0.03 mm", "1.1811023622 mil", "30 microns"):
        fill_text.fill(text)
        assert said(part) == metric, text
    for text in ("0x10", "1e3", "30 furlongs", "30 g/L", "25–35", "3,0,0"):
        fill_text.fill(text)
        assert said(part).startswith("– ") and part.locator(".alm-ask").inner_text().startswith("✕ "), text


def test_a_comma_that_can_mean_two_things_is_asked_about(phone, served):
    """Nothing is worked out until it is answered; the answer holds for the device and can be changed."""
    _, page = phone
    page.goto(f"{served}/film/wet-and-dry.html")
    part = page.locator('.alm-live[data-formula="wet-film"]')
    field = part.locator('.alm-field[data-name="dry-film"] input')
    field.fill("31,500")
    assert said(part).startswith("– not worked out until") and part.locator(".alm-ask button").all_inner_texts() == ["31.5", "31500"]
    boxes = part.locator(".alm-ask button").evaluate_all("all => all.map(one => one.getBoundingClientRect()).map(box => Math.min(box.width, box.height))")
    assert min(boxes) >= 57
    part.locator(".alm-ask button").first.click()
    decimal = said(part)
    assert not decimal.startswith("–") and field.input_value() == "31,500", "what was typed stays"
    page.reload()
    assert said(part) == decimal, "the answer holds for this device"
    part.locator(".alm-ask button").click()
    assert said(part).startswith("– ") and "must lie between" in said(part), "now it is 31500 µm"


def test_the_page_of_answers_is_an_index_of_every_formula_once(phone, served, catalogue):
    """Shut, within four screens; each formula has a fold of its own in the fold of its subject."""
    _, page = phone
    page.goto(f"{served}/answers.html")
    assert page.evaluate("document.documentElement.scrollHeight / innerHeight") <= 4
    held = page.locator("details > details > .alm-live").evaluate_all("all => all.map(one => [one.dataset.formula, one.parentElement.querySelector('summary h3').id])")
    assert sorted(held) == sorted([name, name] for name in catalogue)
    subjects = page.locator("article > details > summary")
    assert subjects.count() == len(formulas.CHAPTERS)
    assert [int(re.search(r"(\d+) answers", one)[1]) for one in subjects.all_inner_texts()] == [len(chapter) for chapter in formulas.CHAPTERS.values()]


def test_an_answer_of_many_starts_when_its_fold_opens_and_a_link_opens_it(phone, served):
    """Nothing is fetched or kept for what is shut. An address with the formula's name, and with figures that came along, opens and fills in that one."""
    _, page = phone
    fetched = []
    page.on("request", lambda request: fetched.append(request.url.rsplit("/", 1)[1]) if "/formulas/" in request.url else None)
    page.goto(f"{served}/answers.html")
    page.wait_for_load_state("networkidle")
    assert fetched == [] and page.evaluate("Object.keys(localStorage).filter(key => key.startsWith('almanac-live:'))") == []
    page.goto("about:blank")
    page.goto(f"{served}/answers.html?distance=200&fan-angle=60#fan-width")
    part = page.locator('.alm-live[data-formula="fan-width"]')
    part.locator(".alm-live-keys").wait_for()
    assert said(part) == "230.9 mm"  # 2 × 200 × tan 30°
    top = page.locator("summary:has(#fan-width)").bounding_box()["y"]
    assert 0 <= top < 200 and fetched == ["fan-width.js"]
    page.evaluate("location.hash = 'dew-margin'")
    page.locator('.alm-live[data-formula="dew-margin"] .alm-live-keys').wait_for()
    assert fetched == ["fan-width.js", "dew-margin.js"]


def test_the_folds_of_the_answers_open_with_the_keyboard_and_without_a_script(browser, served):
    for runs in (True, False):
        context = browser.new_context(viewport={"width": 360, "height": 800}, java_script_enabled=runs)
        page = context.new_page()
        page.goto(f"{served}/answers.html")
        part = page.locator('.alm-live[data-formula="cup-viscosity"]')
        for fold in part.locator("xpath=ancestor::details").all():
            fold.locator("> summary").focus()
            page.keyboard.press("Enter")
        part.locator(".alm-live-keys" if runs else ".alm-live-off").wait_for()
        part.locator("xpath=following-sibling::p").locator("a").click()
        page.wait_for_url("**/reference/formulas.html#cup-viscosity")
        if not runs:  # its heading is in sight, and it opens by hand
            page.locator("summary:has(#cup-viscosity)").click()
        page.locator(".alm-formula:visible").wait_for()
        context.close()


def test_on_paper_every_answer_says_what_it_gives_and_asks_for(look, served, catalogue):
    look.goto(f"{served}/answers.html")
    look.emulate_media(media="print")
    told = look.locator("article").inner_text()
    look.emulate_media(media="screen")
    for name, formula in catalogue.items():
        assert formula.title in told, name
        assert f"Asks for: {'; '.join(one.meaning for one in formula.inputs)}" in told, name
