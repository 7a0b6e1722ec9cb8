"""The first week: exercises whose answers hold, sheets that print, and a booklet that needs no screen."""

from __future__ import annotations

import io
import re
import subprocess
import sys

import pytest
import yaml
from conftest import ROOT

from generators import units
from generators.cli import main as almanac
from generators.pages.drills import sheets_pdf
from generators.studies.drills import KINDS, sheet

SHARES = 4


def shown(text):
    """The number that an answer begins with."""
    return float(re.match(r"[−-]?[\d.]+", text)[0].replace("−", "-"))


@pytest.mark.parametrize(("sheets", "share"), [(400, 0), *(pytest.param(10_000, share, marks=pytest.mark.sweep) for share in range(SHARES))])
def test_every_answer_of_ten_thousand_sheets_holds(facts, catalogue, sheets, share):
    """Re-worked by the formulas: in range, printed to the nearest step, and never where the rounding or the decision could go either way."""
    kits = list(facts.kits.values())
    least = facts.value("limits.dew_margin_min").to("Δ°C")
    asked = set()
    for seed in range(share, sheets, SHARES):
        system = "us" if seed % 2 else "metric"
        found = sheet(facts, catalogue, kits[seed // 2 % len(kits)], system, seed)
        assert len(found) == len(KINDS), (seed, [one.formula for one in found])
        asked.add(tuple(one.question for one in found))
        for one in found:
            formula = catalogue[one.formula]
            worked = formula.work(dict(one.inputs)).value  # raises where there is none
            scale, offset = units.linear(one.unit, formula.answer.unit)
            value = (worked - offset) / scale
            printed = shown(one.answer)
            assert abs(printed - value) <= one.step * 0.351, (seed, one, value)
            assert all(symbol.low <= one.inputs[symbol.name] <= symbol.high for symbol in formula.inputs), (seed, one)
            if one.formula == "dew-margin":
                assert abs(worked - least) >= 1, (seed, one)
                assert ("go on" in one.answer) == (worked >= least), (seed, one)
            if one.formula == "thinner-for-target":
                assert one.rounded <= 15 and one.inputs["trial-time"] < one.inputs["first-time"]
    assert len(asked) == sheets / SHARES, "a sheet came twice"


def test_what_a_question_says_is_what_was_worked(facts, catalogue):
    """By hand, from the words alone, without our formulas: three kinds whose sum fits in a line (mass balance; from memory)."""
    kit = facts.kits[facts.handbook.default_kit]
    for seed in range(200):
        for one in sheet(facts, catalogue, kit, "metric", seed):
            numbers = [float(number) for number in re.findall(r"\d+(?:\.\d+)?", one.question)]
            if one.formula == "pot-thinner":
                mine = 1000 * numbers[0] * numbers[1] / (100 + numbers[1])
            elif one.formula == "wet-film":
                mine = numbers[0] / (numbers[1] / 100) * (1 + numbers[2] / 100)
            elif one.formula == "part-b":
                mine = 1000 * numbers[1] / (numbers[0] + 1)
            else:
                continue
            assert abs(shown(one.answer) - mine) <= one.step / 2, (seed, one, mine)


def test_the_same_number_makes_the_same_sheet(facts, catalogue):
    kit = facts.kits[facts.handbook.default_kit]
    assert sheet(facts, catalogue, kit, "metric", 7) == sheet(facts, catalogue, kit, "metric", 7)
    assert sheet(facts, catalogue, kit, "metric", 7) != sheet(facts, catalogue, kit, "metric", 8)
    assert sheets_pdf(facts, catalogue, [7]) == sheets_pdf(facts, catalogue, [7])


def test_answers_are_on_the_back(facts, catalogue):
    """Two pages a sheet: the front has each question and no answer, the back each answer."""
    pypdf = pytest.importorskip("pypdf")
    seeds = range(3, 9)
    pages = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(sheets_pdf(facts, catalogue, seeds))).pages]
    assert len(pages) == 2 * len(seeds)
    for seed, front, back in zip(seeds, pages[::2], pages[1::2], strict=True):
        assert front.startswith(f"Exercise sheet {seed}") and back.startswith(f"Sheet {seed}: answers")
        assert "within" not in front
        for one in sheet(facts, catalogue, facts.kits[facts.handbook.default_kit], facts.handbook.system, seed):
            assert one.question.split(". ")[-1].split()[0] in front
            assert one.answer.split(" (")[0] in back


def test_drills_from_the_command(tmp_path, capsys):
    out = tmp_path / "sheets.pdf"
    assert almanac(["--handbook", str(ROOT), "drills", "--sheet", "5", "--count", "2", "--region", "us", "--out", str(out)]) == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert almanac(["--handbook", str(ROOT), "drills", "--count", "0", "--out", str(out)]) != 0
    assert "--count from 1 to 100" in capsys.readouterr().err


def test_the_week_is_a_booklet(tmp_path):
    """Printed by itself, with contents, page numbers and every day; no chapter but the training's."""
    pypdf = pytest.importorskip("pypdf")
    out = tmp_path / "week.pdf"
    command = [sys.executable, "-m", "generators.cli", "--handbook", str(ROOT), "book", "--part", "train", "--out", str(out)]
    subprocess.run(command, check=True, cwd=ROOT)
    pages = pypdf.PdfReader(out).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    assert 4 <= len(pages) <= 60, len(pages)
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
    yield page
    assert not errors
    context.close()


def answer(line, figure, choice=""):
    line.locator("input").fill(figure)
    if choice:
        line.locator(f'button[value="{choice}"]').click()
    line.locator(".alm-check").click()


def fill_in(page, sheet_number, facts, catalogue, wrong=()):
    """Answers of one sheet from Python, but for the places in `wrong`."""
    part = page.locator(f'[data-sheet="{sheet_number}"]')
    found = sheet(facts, catalogue, facts.kits[facts.handbook.default_kit], facts.handbook.system, sheet_number)
    for place, one in enumerate(found):
        answer(part.locator("li").nth(place), f"{one.rounded + (3 if place in wrong else 1) * one.step:g}", one.decision)
    return part


def test_the_quiz_counts_and_remembers(quiz, facts, catalogue):
    page = quiz
    page.locator('.alm-sheets button[value="2"]').click()
    part = fill_in(page, 2, facts, catalogue, wrong={4})
    assert part.locator(".alm-score").inner_text() == "9 right of 10 tried, 10 in all. ✓ Passed."
    assert part.locator("li").nth(4).locator(".alm-verdict").inner_text().startswith("✗")
    page.reload()
    assert part.is_visible() and page.locator('[data-sheet="1"]').is_hidden(), "the sheet last open is open again"
    assert "9 right of 10" in part.locator(".alm-score").inner_text()
    part.locator(".alm-again").click()
    assert part.locator(".alm-score").inner_text().startswith("0 right of 0")
    fill_in(page, 2, facts, catalogue, wrong={1, 2})
    assert "Not yet" in part.locator(".alm-score").inner_text()


def test_one_wrong_decision_is_no_pass(quiz, facts, catalogue):
    page = quiz
    part = page.locator('[data-sheet="1"]')
    dew = part.locator("li:has([aria-pressed])")
    answer(dew, dew.get_attribute("data-right"), {"go": "wait", "wait": "go"}[dew.get_attribute("data-choice")])
    for line in part.locator("li:not(:has([aria-pressed]))").all():
        answer(line, line.get_attribute("data-right"))
    assert part.locator(".alm-score").inner_text() == "9 right of 10 tried, 10 in all. ✗ Not yet: go or wait was wrong."


def test_a_quiz_wants_a_number(quiz):
    line = quiz.locator('[data-sheet="1"] li').first
    for text in ("", "thick", "1e999"):
        line.locator("input").fill(text)
        line.locator(".alm-check").click()
        assert line.locator(".alm-verdict").inner_text() == "– A number is wanted."
    assert line.locator("details").is_hidden(), "no answer before a try"
    boxes = quiz.locator(".alm-quiz button:visible, .alm-quiz input:visible").evaluate_all("all => all.map(one => one.getBoundingClientRect()).map(box => [box.width, box.height])")
    assert len(boxes) > 20 and all(width >= 57 and height >= 57 for width, height in boxes)


def test_without_a_script_the_sheets_read(browser, served):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{served}/train/drills.html")
    assert page.locator(".alm-drill li").count() == 60 and page.locator(".alm-drill details").first.is_visible() and page.locator(".alm-try").first.is_hidden()
    context.close()
