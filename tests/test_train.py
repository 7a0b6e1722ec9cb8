"""The first week: exercises whose answers hold, sheets that print, and a booklet that needs no screen."""

from __future__ import annotations

import io
import json
import subprocess
import sys
from collections import Counter

import psychrolib
import pytest
import yaml
from conftest import ROOT
from playwright.sync_api import expect

from generators.chain.answers import ask, printed
from generators.chain.day import Day, answer_named
from generators.cli import main as almanac
from generators.pages.drills import drawn, sheets_pdf
from generators.pages.exercises import sheet
from generators.situation import read

SHARES = 4


def situation_of(day, one):
    return read(list(one.situation), day.names())


def again(day, one, system):
    """The chain's own answer to what a question puts, walked anew from the texts."""
    return ask(day, situation_of(day, one), one.answer, system)


NEEDED = {"weather", "site", "dew", "pot", "tin", "overlap", "price", "fault"}


@pytest.mark.parametrize(("sheets", "share"), [(2, 0), pytest.param(20, 0, marks=pytest.mark.sweep), *(pytest.param(1000, share, marks=pytest.mark.campaign) for share in range(SHARES))])
def test_every_answer_of_ten_thousand_exercises_is_the_chain_s(facts, catalogue, sheets, share):
    """Ten thousand in the campaign: verdict and printed figure are the chain's; each word is right often enough; no go that a page would call wait; no dose past a label unsaid."""
    day, kits, words, scenes = Day(facts, catalogue), list(facts.kits), Counter(), set()
    for seed in range(share, sheets, SHARES if sheets > 100 else 1):
        system, kit = ("us" if seed % 2 else "metric"), kits[seed // 2 % len(kits)]
        found = sheet(day, kit, system, seed)
        assert len(found.exercises) == 10 and {one.kind for one in found.exercises} >= NEEDED, (seed, [one.kind for one in found.exercises])
        scenes.add((found.scene, tuple(one.question for one in found.exercises)))
        for one in found.exercises:
            where = (seed, one)
            words[one.kind, one.right] += 1
            assert one.why and (not one.options or one.right in dict(one.options)), where
            if one.kind == "price":
                assert one.figure == round(catalogue["job-price"].work(dict(one.inputs)).value), where
                continue
            if one.kind == "fault":
                assert facts.faults[one.right].looks in one.question and facts.faults[one.right].causes[0] in one.why, where
                continue
            told = again(day, one, system)
            assert told["verdict"] == one.verdict, (*where, told)
            if one.figure is not None:
                answer = answer_named(one.answer)
                assert printed(answer, told, system).split()[0] == one.told.split(": ")[-1].split()[0], (*where, told)
            assert (one.figure is not None) == (one.right in one.wants), where
            nothing_forbidden(facts, one)
    assert len(scenes) == len(range(share, sheets, SHARES if sheets > 100 else 1)), "a sheet came twice"
    if sheets > 100:
        words_of = {"pot": ("pour", "none", "stop"), "tin": ("go", "stop")}
        for kind in ("weather", "site", "pot", "tin", "overlap", "next"):
            least = words_of.get(kind, ("go", "care", "stop"))
            total = sum(count for (name, _), count in words.items() if name == kind)
            assert all(words[kind, word] >= 0.05 * total for word in least), (kind, words)


def celsius(text):
    value = float(text.split()[0])
    return (value - 32) / 1.8 if "F" in text else value


def nothing_forbidden(facts, one):
    """By the data sheet's own lines and another library's dew point, without a formula or verdict of ours: a go is inside them all; a dose inside its label."""
    told = dict(one.situation)
    tin = facts.coatings[told["coating"]]
    if one.decides and one.verdict == "go":
        air, surface, damp = celsius(told["air-temperature"]), celsius(told["surface-temperature"]), float(told["relative-humidity"].split()[0])
        psychrolib.SetUnitSystem(psychrolib.SI)
        assert tin.air_min.to("°C") - 1e-9 <= air <= tin.air_max.to("°C") + 1e-9 and damp <= tin.humidity_max.to("%"), one
        if one.answer != "next-coat":
            assert surface >= tin.air_min.to("°C") - 1e-9 and surface - psychrolib.GetTDewPointFromRelHum(air, damp / 100) >= 3 - 0.2, one
            assert told["people-out"] == told["flames-out"] == "yes" and told["old-finish"] in ("none", "sound") and told["lead"] == "no", one
    if one.kind == "pot":
        doses = [float(value.split("%")[0]) for name, value in one.situation if name == "dose"]
        most = tin.thinner_max.to("%")
        if max(doses, default=0.0) > most + 1e-9:
            assert one.right == "stop" and "label" in one.why, one
        if one.right == "pour":
            litres = float(told["pot-litres"].split()[0]) * (0.946353 if "qt" in told["pot-litres"] else 1)
            poured = one.figure * (29.5735 if one.unit == "fl oz" else 1) / 1000
            paint = litres / (1 + doses[-1] / 100)
            assert 100 * (poured + litres - paint) / paint <= most + 0.05, one
    if one.kind == "tin" and one.right == "go":
        assert not tin.stops and tin.hardener != "isocyanate" and told.get("hardener") != "isocyanate", one


def test_the_same_number_makes_the_same_sheet(facts, catalogue):
    day, kit = Day(facts, catalogue), facts.handbook.default_kit
    assert sheet(day, kit, "metric", 7) == sheet(Day(facts, catalogue), kit, "metric", 7)
    assert sheet(day, kit, "metric", 7) != sheet(day, kit, "metric", 8)
    assert sheets_pdf(facts, catalogue, [2]) == sheets_pdf(facts, catalogue, [2])


def test_answers_are_on_the_back(facts, catalogue):
    """Two pages a sheet: the front has the job and each question and no answer, the back each answer with its why."""
    pypdf = pytest.importorskip("pypdf")
    seeds = range(1, 4)
    pages = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(sheets_pdf(facts, catalogue, seeds))).pages]
    assert len(pages) == 2 * len(seeds)
    for seed, front, back in zip(seeds, pages[::2], pages[1::2], strict=True):
        assert front.startswith(f"Exercise sheet {seed}") and back.startswith(f"Sheet {seed}: answers")
        assert "within" not in front
        found = drawn(facts, catalogue, seed)
        assert found.scene[:60] in front
        for one in found.exercises:
            assert one.question.split(". ")[-1].split()[0] in front
            assert one.told.split(" (")[0] in back and one.why.split()[0] in back


def test_drills_from_the_command(tmp_path, capsys):
    out = tmp_path / "sheets.pdf"
    assert almanac(["--handbook", str(ROOT), "drills", "--sheet", "5", "--count", "2", "--region", "us", "--out", str(out)]) == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert almanac(["--handbook", str(ROOT), "drills", "--count", "0", "--out", str(out)]) != 0
    assert "1 to 100" in capsys.readouterr().err


def test_sheets_as_data_are_what_today_answers(capsys):
    """From the command line alone: what `drills --json` asks and answers is what `today --json` says at the same situation."""
    assert almanac(["--handbook", str(ROOT), "drills", "--sheet", "5", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [one["sheet"] for one in found] == [5] and len(found[0]["exercises"]) == 10
    asked = [one for one in found[0]["exercises"] if one["kind"] not in ("price", "fault")][:3]
    for one in asked:
        almanac(["--handbook", str(ROOT), "today", *one["situation"], "--json"])
        answer = json.loads(capsys.readouterr().out)["answers"][one["answer"]]
        assert answer["verdict"] == one["verdict"] and (one["kind"] in ("pot",) or answer["because"] in one["why"] or not one["options"]), (one, answer)


def test_the_week_is_a_booklet(tmp_path):
    """Printed by itself, with contents, page numbers and every day; no chapter but the training's."""
    pypdf = pytest.importorskip("pypdf")
    out = tmp_path / "week.pdf"
    command = [sys.executable, "-m", "generators.cli", "--handbook", str(ROOT), "book", "--part", "train", "--out", str(out)]
    subprocess.run(command, check=True, cwd=ROOT)
    pages = pypdf.PdfReader(out).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    assert 20 <= len(pages) <= 90, len(pages)
    titles = [one["title"] for one in yaml.safe_load((ROOT / "site_data" / "drills.yaml").read_text(encoding="utf-8")).values()]
    for words in (*titles, *(f"Day {day}:" for day in range(1, 8)), "Exercise sheets", "Sign-off", "Pass marks on a board", "Train again when", "Faults on purpose", "Six weeks after"):
        assert words in text, words
    assert "Rules of thumb, tested" not in text


def test_an_unknown_part_is_told(tmp_path, capsys):
    assert almanac(["--handbook", str(ROOT), "book", "--part", "trian", "--out", str(tmp_path / "x.pdf")]) != 0
    assert "trian" in capsys.readouterr().err and not (tmp_path / "x.pdf").exists()


@pytest.fixture
def quiz(browser, served):
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    errors = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(f"{served}/train/drills.html")
    page.wait_for_selector(".alm-quiz[data-ready]")
    yield page
    assert not errors
    context.close()


def answer(line, one, wrong=False):
    """One answer as the sheet has it, or a wrong one."""
    right = next((value for value, _ in one.options if value != one.right), "") if wrong and one.options else one.right
    if one.wants and (one.wants == ("",) or right in one.wants):
        line.locator("input").fill(f"{(one.figure if one.figure is not None else 1) + (3 if wrong else 1) * one.step:g}")
    if one.options:
        line.locator(f'button[value="{right}"]').click()
    line.locator(".alm-check").click()


def fill_in(page, number, facts, catalogue, wrong=()):
    """Answers of one sheet from Python, but for the places in `wrong`."""
    part = page.locator(f'[data-sheet="{number}"]')
    found = drawn(facts, catalogue, number).exercises
    for place, one in enumerate(found):
        answer(part.locator("li").nth(place), one, place in wrong)
    return part, found


def free(found, decides):
    """Place of a question of the sheet that decides between go and wait, or does not."""
    return next(place for place, one in enumerate(found) if one.decides is decides)


def test_the_quiz_counts_and_is_kept_in_the_journal(quiz, facts, catalogue):
    """Counted, kept over a reload, begun again and had back, and written into the trainee's own record; nothing of it lies in localStorage."""
    page = quiz
    page.fill("#alm-trainee-new", "Wren Alder")
    page.click('.alm-lesson button[data-do="begin"]')
    page.locator('.alm-sheets button[value="2"]').click()
    slip = free(drawn(facts, catalogue, 2).exercises, False)
    part, _ = fill_in(page, 2, facts, catalogue, wrong={slip})
    assert part.locator(".alm-score").inner_text() == "9 right of 10 tried, 10 in all. ✓ Passed."
    assert part.locator("li").nth(slip).locator(".alm-verdict").inner_text().startswith("✗")
    expect(page.locator(".alm-told")).to_contain_text("✓ Kept")
    page.reload()
    page.wait_for_selector(".alm-quiz[data-ready]")
    assert part.is_visible() and page.locator('[data-sheet="1"]').is_hidden(), "the sheet last open is open again"
    assert "9 right of 10" in part.locator(".alm-score").inner_text()
    kept = page.evaluate("almanacRecords.all()")
    assert [one["kind"] for one in kept] == ["quiz", "signoff"] and kept[1]["lines"]["readings"][0]["raw"] == "9 of 10, sheet 2" and kept[1]["lines"]["readings"][0]["passed"] == "yes"
    assert not any("quiz:" in name for name in page.evaluate("Object.keys(localStorage)"))
    part.locator(".alm-again").click()
    assert part.locator(".alm-score").inner_text().startswith("0 right of 0")
    part.locator(".alm-back-again").click()
    assert "9 right of 10" in part.locator(".alm-score").inner_text()


def test_one_wrong_decision_is_no_pass(quiz, facts, catalogue):
    wrong = free(drawn(facts, catalogue, 1).exercises, True)
    part, _ = fill_in(quiz, 1, facts, catalogue, wrong={wrong})
    assert part.locator(".alm-score").inner_text() == "9 right of 10 tried, 10 in all. ✗ Not yet: go, care or wait was wrong."


def test_a_quiz_wants_a_number(quiz, facts, catalogue):
    place = next(place for place, one in enumerate(drawn(facts, catalogue, 1).exercises) if one.kind == "price")
    line = quiz.locator('[data-sheet="1"] li').nth(place)
    for text in ("", "thick", "1e999"):
        line.locator("input").fill(text)
        line.locator(".alm-check").click()
        assert line.locator(".alm-verdict").inner_text() == "– A number is wanted."
    assert line.locator("details").is_hidden(), "no answer before a try"
    boxes = quiz.locator(".alm-quiz button:visible, .alm-quiz input:visible").evaluate_all("all => all.map(one => one.getBoundingClientRect()).map(box => [box.width, box.height])")
    assert len(boxes) > 20 and all(width >= 57 and height >= 57 for width, height in boxes)


def test_answers_that_an_earlier_edition_left_are_carried_over(browser, served):
    """Scores that lay in localStorage become records, once, and leave it when a later visit finds them in the store; what cannot be read stays and goes out."""
    context = browser.new_context(viewport={"width": 360, "height": 800})
    page = context.new_page()
    page.goto(f"{served}/train/drills.html")
    page.evaluate("""localStorage.setItem('almanac-quiz:1 2026-11-25 uk:3', JSON.stringify({0: {figure: 12.5, choice: ''}, 4: {figure: -2, choice: 'wait'}}));
                     localStorage.setItem('almanac-quiz:1 2026-11-25 uk:4', 'broken')""")
    page.reload()
    page.wait_for_selector(".alm-quiz[data-ready]")
    for _ in range(2):
        kept = [one for one in page.evaluate("almanacRecords.all()") if one["kind"] == "quiz"]
        assert [one["fields"] for one in kept] == [{"edition": "1 2026-11-25 uk", "sheet": "3", "answer-0": "12.5", "answer-4": "-2 wait"}]
        assert "sheet 3 (2 answers)" in page.locator(".alm-earlier").inner_text()
        later = context.new_page()  # another visit: it finds them in the store
        later.goto(f"{served}/train/drills.html")
        later.wait_for_selector(".alm-quiz[data-ready]")
        page.close()
        page = later
    assert [name for name in page.evaluate("Object.keys(localStorage)") if name.startswith("almanac-quiz:")] == ["almanac-quiz:1 2026-11-25 uk:4"]
    context.close()


def test_without_a_script_the_sheets_read(browser, served):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served}/train/drills.html")
    assert page.locator(".alm-drill li").count() == 60 and page.locator(".alm-drill details").first.is_visible() and page.locator(".alm-try").first.is_hidden()
    context.close()
