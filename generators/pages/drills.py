"""Exercise sheets on a page and on paper, for the handbook's own kit and region."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from typing import Any

from generators.studies.drills import Exercise, sheet

ON_PAGE = range(1, 7)  # the numbers of the sheets that the handbook itself holds
HOW = "Right is within the figure in brackets. Pass: nine of ten, with the card or the tables in hand, none that is wrong on go or wait."


def exercises(facts: Any, catalogue: Mapping[str, Any], seed: int) -> list[Exercise]:
    """Sheet number `seed` for the default kit."""
    return sheet(facts, catalogue, facts.kits[facts.handbook.default_kit], facts.handbook.system, seed)


def drills_html(facts: Any, catalogue: Mapping[str, Any], seed: int, up: str = "../") -> str:
    """Questions as a list, each with its answer folded under it, and keys to try it that a script brings to life. Raw HTML, one block."""
    lines = []
    for place, one in enumerate(exercises(facts, catalogue, seed)):
        address = up + one.page.removesuffix(".md") + ".html"
        key = f"try-{seed}-{place}"
        unit = one.unit.replace("Δ", "")
        choice = ("" if not one.decision else '<span class="alm-common" role="group" aria-label="go or wait"><button type="button" value="go" aria-pressed="false">Go</button>'
                  '<button type="button" value="wait" aria-pressed="false">Wait</button></span>')
        pad = "text" if one.decision else "decimal"  # a phone's number pad has no minus: where an answer can be below nought the whole keyboard comes
        lines.append(
            f'<li data-right="{one.rounded:g}" data-step="{one.step:g}" data-choice="{one.decision}"><p>{escape(one.question)}</p>'
            f'<div class="alm-try" hidden><label for="{key}">Answer {place + 1}, in {escape(unit)}</label><input id="{key}" type="text" inputmode="{pad}" autocomplete="off">{choice}'
            f'<button type="button" class="alm-check" aria-label="Check answer {place + 1}">Check</button></div><p class="alm-verdict" role="status"></p>'
            f'<details class="alm-how"><summary>Answer</summary><p><strong>{escape(one.answer)}</strong></p><p><a href="{escape(address)}">The page that shows how</a></p></details></li>')
    return f'<ol class="alm-drill">{"".join(lines)}</ol>'


def quiz_html(facts: Any, catalogue: Mapping[str, Any]) -> str:
    """The first sheets on one page: readable as they are; with a script one at a time, checked, and the score kept on the device."""
    edition = f"{facts.handbook.revision} {facts.handbook.date} {facts.handbook.region}"
    choose = "".join(f'<button type="button" value="{number}" aria-pressed="false">{number}</button>' for number in ON_PAGE)
    parts = "".join(
        f'<section data-sheet="{number}" aria-label="Sheet {number}"><h2 id="sheet-{number}">Sheet {number}</h2><p class="alm-score" role="status"></p>'
        f'{drills_html(facts, catalogue, number)}<p><button type="button" class="alm-again" hidden>Sheet {number} from the start</button></p></section>'
        for number in ON_PAGE)
    return f'<div class="alm-quiz" data-edition="{escape(edition)}"><p class="alm-common alm-sheets" role="group" aria-label="Sheet" hidden>{choose}</p>{parts}</div>'


def sheets_pdf(facts: Any, catalogue: Mapping[str, Any], seeds: Sequence[int]) -> bytes:
    """Sheets of these numbers, answers on the back: same facts and numbers, same bytes."""
    from generators.pages.card import made_on
    from generators.render.card import drills_pdf

    kit = facts.kits[facts.handbook.default_kit]
    return drills_pdf({
        "title": f"{facts.handbook.title}: exercise sheets", "crew": str(facts.handbook.title), "paper": "us-letter" if facts.handbook.system == "us" else "a4", "how": HOW,
        "footer": f"{facts.handbook.title}, edition {facts.handbook.revision}, {facts.handbook.date}. Kit: {kit.name}.",
        "sheets": [{
            "title": f"Exercise sheet {seed}", "back": f"Sheet {seed}: answers", "intro": "Name ________________________    Date ______________    Minutes ______",
            "lines": [{"question": one.question, "answer": one.answer, "page": one.page.removesuffix(".md")} for one in exercises(facts, catalogue, seed)],
        } for seed in seeds],
    }, made_on(facts))
