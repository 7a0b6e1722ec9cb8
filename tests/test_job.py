"""The job: litres, hours and price the same on the phone as in Python; records that survive; clocks; recipes that the handbook can read."""

from __future__ import annotations

import math
import random
import string

import numpy as np
import psychrolib
import pytest
import yaml
from conftest import copied
from hands import again, kept, open_form, pick, type_in, unfold, until

from generators import formulas
from generators.chain.answers import one_verdict
from generators.chain.day import Day
from generators.chain.job import FIELDS, PARTS, work_job
from generators.chain.jobs import crew_fields, lays_of, paint_part, stage_parts, surface_part
from generators.facts import FactsError
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages
from generators.pages.forms import FORMS
from generators.situation import read
from generators.studies.tins import cheapest_tins

LETTERS = string.ascii_letters + string.digits + " .,;:-=+@'\"<>&\\/\n\t{}[]|µ×²é漢😀\u2028\u0000\ud800"


def random_text(rng: random.Random) -> str:
    """What nobody types and somebody pastes."""
    return "".join(rng.choice(LETTERS) for _ in range(rng.randint(0, 40)))


def test_tins_cost_least():
    """Against an integer programme of scipy's, a general-purpose reference library (HiGHS)."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    rng = random.Random(7)
    for _ in range(60):
        sizes = rng.sample([0.5, 0.75, 1.0, 2.5, 4.0, 5.0, 10.0], rng.randint(1, 4))
        tins = [(size, round(rng.uniform(8, 30) * size ** rng.uniform(0.7, 1.1), 2)) for size in sizes]
        litres = round(rng.choice([1, 1, 20]) * rng.uniform(0.05, 70), 2)
        counts, cost = cheapest_tins(litres, tins)
        assert sum(count * size for count, (size, _) in zip(counts, tins, strict=True)) >= litres - 1e-9
        assert cost == pytest.approx(sum(count * price for count, (_, price) in zip(counts, tins, strict=True)))
        best = milp(
            np.array([price for _, price in tins]),
            constraints=LinearConstraint(np.array([[size for size, _ in tins]]), litres - 1e-9, np.inf),
            integrality=np.ones(len(tins)),
            bounds=Bounds(0, np.inf),
        )
        assert best.success and cost == pytest.approx(best.fun, abs=1e-6), (litres, tins)


def test_every_figure_of_the_chain_is_asked_for_or_known(facts):
    """A figure that no form asks for and no fact gives would be missing on every phone."""
    form = FORMS["job"](facts)
    asked = {block.name: {entry.name for entry in block.entries} for block in form.blocks}
    told = {"dusk", "start", "weekday", "sheet-stretch", "pot-life-rate", "self-heating", "mix-share"}  # from a time, a date, and the limits
    assert set(FIELDS) <= asked["kit"] | asked["crew"] | asked["money"] | told
    assert set(PARTS["surfaces"]) <= asked["surfaces"] | {"key"}
    assert set(PARTS["paints"]) <= asked["paints"] | {"key", "parts", "pot-life-at", "pot-life-of", "induction"}  # of a chosen coating, by its sheet
    assert all(set(PARTS["stages"]) == set(one) for one in stage_parts(facts, "cabinets"))


# Forms, as they are used


def test_twenty_doors_on_the_sheet(phone, served, facts, catalogue):
    """Chosen, not typed: a paint, a door, how many. The page shows Python's litres, hours, visits and price; a reload keeps them; US units change the words and not the job."""
    form = open_form(phone, f"{served}/job/job-sheet.html")
    pick(form, "work", "doors")
    pick(form, "coating", "gannet-trim-satin")
    pick(form, "thing", "panel-door")
    type_in(form, "count", "20")
    row = next(row for row in facts.surfaces if row.name == "panel-door")
    job = {"fields": crew_fields(facts), "paints": [paint_part(facts, "p", "gannet-trim-satin")], "surfaces": [surface_part(facts, catalogue, "s", row, 20, "worn")], "lays": lays_of({"s": [("p",
        2)]}),
           "stages": stage_parts(facts, "doors")}
    held = work_job(catalogue, job, "spray").held
    mine = {name: float(held[name].likely) for name in ("order", "hours", "visits", "price")}
    shown = form.locator(".alm-sum-up").inner_text()
    assert shown == f"Sprayed: {math.ceil(mine['order'] * 10 - 1e-9) / 10:g} L, {mine['hours']:.1f} h, {mine['visits']:g} visits, £{mine['price']:.0f}"
    for name in ("hours", "days"):
        unfold(form.locator(f'[data-out="{name}"] details > *').last)
    stages = form.locator('[data-out="hours"] tbody th').all_inner_texts()
    assert {"Taking off and marking", "Washing and degreasing", "Filling", "Sanding, dust caught", "Flatting between coats", "Rehanging", "Walk-round", "Travel"} <= set(stages)
    assert form.locator('[data-out="days"] svg rect').count() > 10 and form.locator('[data-out="days"] ol li').count() == mine["visits"]
    assert "Respirator" in form.locator('[data-out="safety"]').inner_text() or "mask" in form.locator('[data-out="safety"]').inner_text().lower()
    kept(phone)
    again(phone)
    assert form.locator(".alm-sum-up").inner_text() == shown
    form.locator('[data-do="switch"]').click()
    us = form.locator(".alm-sum-up").inner_text()
    assert "qt" in us and float(us.split("£")[1]) == pytest.approx(float(shown.split("£")[1]), abs=1.5)
    assert float(us.split()[1]) == pytest.approx(mine["order"] / 0.946353, abs=0.15)


def test_a_surface_out_of_range_is_told_and_no_price_is_shown(phone, served):
    form = open_form(phone, f"{served}/job/job-sheet.html")
    type_in(form, "profile", "9")
    assert form.locator(".alm-sum-up").inner_text().startswith("– Surface 1:")
    type_in(form, "profile", "1")
    type_in(form, "face", "a wall")
    assert form.locator(".alm-sum-up").inner_text().startswith("– a figure is missing")


def test_a_day_becomes_a_recipe_that_the_handbook_reads(phone, served, tmp_path, facts):
    """Logged, kept as a recipe in one tap, found by search without signal, written as YAML, dropped into site_data/recipes: it stands on the coating's page."""
    form = open_form(phone, f"{served}/job/daily-log.html")
    type_in(form, "date", "2026-11-20")
    type_in(form, "title", 'kitchen doors: "north" <b>&')
    pick(form, "coating", "gannet-trim-satin")
    type_in(form, "batch", "B-17")
    for name, value in (("seconds", "29"), ("thinner", "7,5"), ("nozzle", "1.3"), ("distance", "160"), ("paint-temperature", "18.5")):
        type_in(form, name, value)
    for name, value in (("air-temperature", "18"), ("relative-humidity", "62"), ("surface-temperature", "16")):
        type_in(form, name, value)
    for place, value in enumerate(("85", "95", "90")):
        type_in(form, "wet-film", value, place)
    type_in(form, "seen", "Level. # no: runs")
    until(phone, "document.querySelector('[data-out=\"worked\"]').innerText.includes('over the dew point')")
    worked = form.locator('[data-out="worked"]').inner_text()
    assert "mean 90 µm, lowest 85 µm" in worked
    day = Day(facts, formulas.catalogue(facts))  # the log asks the day's chain: the same word and the same reason
    typed = [("coating", "gannet-trim-satin"), ("air-temperature", "18"), ("relative-humidity", "62"), ("surface-temperature", "16")]
    outcome = one_verdict(day, "air-surface", read(typed, day.names()), {}, "metric")
    assert outcome["because"] in worked and {"go": "✓", "care": "△ take care:", "stop": "✕ stop:"}[outcome["verdict"]] in worked
    psychrolib.SetUnitSystem(psychrolib.SI)
    margin = 16 - psychrolib.GetTDewPointFromRelHum(18, 0.62)  # a general-purpose library; a margin is rounded down
    assert f"{math.floor(margin * 10) / 10:.1f} °C over the dew point" in worked
    form.locator('[data-do="recipe"]').click()
    phone.get_by_role("link", name="open the recipes").click()
    phone.wait_for_selector(".alm-form[data-ready]")
    phone.locator("#alm-seek").fill("b-17 doors")
    assert phone.locator(".alm-found").inner_text() == "1 found."
    assert "29 s in Ford cup 4, 7,5 % thinner" in phone.locator(".alm-recipes").inner_text()
    with phone.expect_download() as coming:
        phone.locator('[data-do="yaml"]').click()
    text = coming.value.path().read_text(encoding="utf-8")
    found = yaml.safe_load(text)
    assert found["basis"] == "measured" and found["time"] == "29 s in ford-4" and found["thinner"] == "7.5 %" and found["wet_film"] == "90 µm" and found["result"] == "Level. # no: runs"
    copied(tmp_path, settings=False)
    (tmp_path / "site_data/recipes" / coming.value.suggested_filename).write_text(text, encoding="utf-8")
    page = build_pages(open_handbook(tmp_path), only={"coatings/gannet-trim-satin.md"}.__contains__)["coatings/gannet-trim-satin.md"]
    assert "29 s in Ford cup 4, 7.5 % thinner" in page and "B-17" in page
    assert "<b>" not in page.split("What worked")[1].split("\n## ")[0]


@pytest.mark.parametrize("name", ["coating", "cup", "kit", "date"])
def test_a_record_from_elsewhere_adds_no_line_to_the_file(phone, served, name):
    """What is written bare in the YAML is a name of this handbook or a day, and nothing else."""
    phone.goto(f"{served}/job/recipes.html")
    fields = {"coating": "gannet-trim-satin", "cup": "ford-4", "kit": "", "date": "2026-11-01", "result": "level"}
    fields[name] = "2026-11-01\nbasis: published" if name == "date" else "gannet-trim-satin\nbasis: published"
    text, missing = phone.evaluate("(fields) => almanacRecipes.yaml(fields, {seconds: 30, thinner: 5}, '2026-11-02')", fields)
    assert text == "" and len(missing) == 1


def test_a_recipe_keeps_the_units_it_was_typed_in(phone, served):
    """54 °F, 6 in and 3.5 mil go out as they were typed; a unit that no form has, brought in by somebody's file, is not written."""
    phone.goto(f"{served}/job/recipes.html")
    fields = {"coating": "gannet-trim-satin", "cup": "ford-4", "kit": "", "date": "2026-11-01", "result": "level", "paint-temperature": "54", "distance": "6", "wet-film": "3.5"}
    figures = {"seconds": 30, "thinner": 5, "paint-temperature": 12.222, "distance": 152.4, "wet-film": 88.9}

    def told(**units):
        return phone.evaluate("([fields, figures, units]) => almanacRecipes.yaml(fields, figures, '2026-11-02', units)", [fields, figures, units])[0]

    us = told(**{"paint-temperature": "°F", "distance": "in", "wet-film": "mil"})
    assert {"temperature: 54 °F", "distance: 6 in", "wet_film: 3.5 mil"} <= set(us.splitlines())
    assert {"distance: 152.4 mm", "wet_film: 88.9 µm"} <= set(told(**{"distance": "mm\nbasis: published", "wet-film": "mile"}).splitlines())


def test_any_recipe_that_is_written_can_be_read(phone, served, tmp_path):
    """Sixty random records: each is refused with what is missing, or makes a file that the loader takes."""
    rng = random.Random(5)
    copied(tmp_path, settings=False)
    phone.goto(f"{served}/job/recipes.html")
    written = 0
    for number in range(60):
        fields = {
            "coating": rng.choice(["gannet-trim-satin", "heron-opaque-stain", ""] if rng.random() < 0.3 else ["gannet-trim-satin"]),
            "date": "2026-11-01",
            "cup": rng.choice(["ford-4", "iso-4"]),
            "kit": rng.choice(["", "two-stage-tote"]),
            "result": random_text(rng) or "x",
            "notes": random_text(rng),
            "batch": random_text(rng),
            "surface": random_text(rng),
        }
        figures = {
            "seconds": round(rng.uniform(12, 90), 1),
            "thinner": round(rng.uniform(0, 20), 2),
            "nozzle": rng.choice([None, 1.3]),
            "distance": rng.choice([None, 150]),
            "wet-film": rng.choice([None, 88.123456]),
            "paint-temperature": rng.choice([None, 12.2]),
        }
        text, missing = phone.evaluate(
            "([fields, figures]) => almanacRecipes.yaml(fields, Object.fromEntries(Object.entries(figures).map(([name, value]) => [name, value === null ? NaN : value])), '2026-11-02')",
            [fields, figures],
        )
        if missing:
            assert text == "" and all(missing)
            continue
        written += 1
        (tmp_path / f"site_data/recipes/r{number}.yaml").write_text(text, encoding="utf-8", errors="surrogatepass")
    try:
        facts = open_handbook(tmp_path)
    except FactsError as error:
        raise AssertionError("\n".join(map(str, error.problems))) from None
    assert written > 30 and sum(name.startswith("r") for name in facts.recipes) == written


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("basis: common practice", "basis: measured"),
        ("coating: gannet-trim-satim", "did you mean 'gannet-trim-satin'"),
        ("time: 27 s", "the cup they were timed in"),
        ("time: 27 s in fjord-4", "did you mean 'ford-4'"),
        ("date: yesterday", "the day it worked"),
        ("kit: two-stage-tot", "did you mean 'two-stage-tote'"),
        ("thinner: 7", "7"),
        ("nozle: 1 mm", "did you mean 'nozzle'"),
    ],
)
def test_a_bad_recipe_is_told_with_its_line(tmp_path, line, wanted):
    copied(tmp_path, settings=False)
    path = tmp_path / "site_data/recipes/gannet-panel-doors.yaml"
    key = line.partition(":")[0]
    lines = path.read_text(encoding="utf-8").splitlines()
    place = next((at for at, text in enumerate(lines) if text.startswith(key + ":")), None)
    if place is None:
        lines.append(line)
        place = len(lines) - 1
    else:
        lines[place] = line
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    with pytest.raises(FactsError) as caught:
        open_handbook(tmp_path)
    told = [str(problem) for problem in caught.value.problems]
    assert any(one.startswith(f"site_data/recipes/gannet-panel-doors.yaml:{place + 1}: ") and wanted in one for one in told), told


def test_the_short_form_comes_first_and_hides_nothing_typed(phone, served):
    """Ninety seconds: 28 entries at most with two readings of the air and three of the film. What was typed into the long form is seen in the short one, and said by a shut block."""
    form = open_form(phone, f"{served}/job/daily-log.html")
    assert form.locator(".alm-entry:visible").count() <= 28 and not form.locator('[data-block="safety"]').is_visible()
    form.locator('[data-do="short"]').click()
    safety = form.locator('[data-block="safety"]')
    safety.locator(".alm-fold").click()
    type_in(form, "mask", "A2P3")
    safety.locator(".alm-fold").click()
    assert not form.locator('[data-name="mask"]').is_visible() and safety.locator(".alm-fold").inner_text().endswith("Safety: 1 filled in")
    assert form.locator('[data-block="waste"] .alm-fold').inner_text().endswith("Waste")  # what a form begins with is not counted
    form.locator('[data-do="short"]').click()
    assert safety.is_visible() and form.locator(".alm-entry:visible").count() <= 28
    safety.locator(".alm-fold").click()
    assert form.locator('[data-name="mask"]').is_visible() and not form.locator('[data-name="alarms"]').is_visible()
    type_in(form, "operator", "W")
    kept(phone)
    again(phone)
    assert form.locator('[data-name="mask"] input').input_value() == "A2P3" and not form.locator('[data-name="cleared"]').is_visible()


def test_what_is_asked_of_a_field_opens_its_block(phone, served):
    """A figure that can mean two things is asked about where it is seen."""
    form = open_form(phone, f"{served}/job/daily-log.html")
    form.locator('[data-do="short"]').click()
    waste = form.locator('[data-block="waste"]')
    waste.locator(".alm-fold").click()
    type_in(form, "waste-litres", "1,200")
    assert "can mean two things" in waste.locator(".alm-ask").inner_text()
    kept(phone)
    again(phone)
    assert waste.locator(".alm-ask").is_visible() and waste.locator(".alm-fold").get_attribute("aria-expanded") == "true"


def test_csv_of_a_day_runs_nothing_in_a_spreadsheet(phone, served):
    form = open_form(phone, f"{served}/job/daily-log.html")
    type_in(form, "title", '=HYPERLINK("http://x","y"), "quoted"')
    type_in(form, "air-temperature", "-3")
    with phone.expect_download() as coming:
        form.locator('[data-do="csv"]').click()
    import csv

    rows = list(csv.reader(coming.value.path().read_text(encoding="utf-8").splitlines()))
    assert {len(row) for row in rows} == {5}
    cells = {row[2]: row[4] for row in reversed(rows)}  # the first line of each counts
    assert cells["Job, in a few words"] == '\'=HYPERLINK("http://x","y"), "quoted"' and cells["Air"] == "-3"


def test_clocks_run_on_when_the_page_is_closed(browser, served):
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    page.clock.install(time="2026-11-25T10:00:00")
    page.goto(f"{served}/job/clocks.html")
    page.get_by_role("button", name="Tape: can it come off?").click()
    page.get_by_role("button", name="Nozzle").click()
    page.locator("#alm-clock-name").fill("Clean by")
    page.locator("#alm-clock-minutes").fill("0")
    page.locator(".alm-clock-start").click()
    until(page, "almanacKeeper.status.is === 'kept'")
    assert page.locator(".alm-running li").count() == 2 and "more than none" in page.locator(".alm-clocks .alm-told").inner_text()
    page.close()
    page = context.new_page()
    page.clock.install(time="2026-11-25T10:20:30")
    page.goto(f"{served}/index.html")
    page.locator("#alm-clock-bar").wait_for(state="visible")
    assert "Nozzle" in page.locator("#alm-clock-bar").inner_text()
    page.locator("#alm-clock-bar a").click()
    page.wait_for_selector(".alm-running li")
    times = page.locator(".alm-running li").all_inner_texts()
    assert "over by 5 min" in times[0] and "9 min" in times[1], times
    page.get_by_role("button", name="Stop the clock Nozzle").click()
    assert page.locator(".alm-running li").count() == 1 and page.locator("#alm-clock-bar").is_hidden()
    context.close()


def test_the_care_sheet_has_dates(phone, served, facts):
    """Fourteen days from the first of November is the fifteenth; at 13 °C it doubles (ten degrees, from memory)."""
    form = open_form(phone, f"{served}/job/handover.html")
    pick(form, "coating", "gannet-trim-satin")
    type_in(form, "finished", "2026-11-01")
    type_in(form, "air-temperature", "23")
    assert "15" in form.locator('[data-out="care"] li').nth(1).inner_text() and "November" in form.locator('[data-out="care"] li').nth(1).inner_text()
    type_in(form, "air-temperature", "13")
    assert "29" in form.locator('[data-out="care"] li').nth(1).inner_text()
    type_in(form, "air-temperature", "30")
    assert "15" in form.locator('[data-out="care"] li').nth(1).inner_text(), "warm air is not counted on"


def test_no_coating_with_a_hard_stop_is_offered(facts):
    for kind, form in FORMS.items():
        options = {value for block in form(facts).blocks for entry in block.entries if entry.name == "coating" for value, _ in entry.options}
        for slug, coating in facts.coatings.items():
            if coating.stops or facts.protection[coating.class_key].stop:
                assert slug not in options, (kind, slug)


def test_without_a_script_the_forms_are_paper(browser, served):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    for address, least in (("job/job-sheet", 70), ("job/daily-log", 50)):
        page.goto(f"{served}/{address}.html")
        assert page.locator(".alm-live-off").is_visible() and page.locator(".alm-entry:visible").count() >= least
        assert page.locator(".alm-kept:visible").count() == 0
    context.close()
