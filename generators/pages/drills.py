"""Exercise sheets on a page and on paper, for the handbook's own kit and region."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from html import escape
from typing import Any

from generators import noted
from generators.chain.day import Day
from generators.pages.exercises import Exercise, Sheet, sheet
from generators.pages.lessons import lesson_html

ON_PAGE = range(1, 7)  # the numbers of the sheets that the handbook itself holds
HOW = "Right is within the figure in brackets. Pass: nine of ten, with the card or the tables in hand, none that is wrong on go, take care or wait."
_EDITION = 2  # of the way sheets are drawn: answers to an earlier way's questions are kept, and never marked against these
_kept: dict[tuple[int, int, str, str], noted.Kept] = {}  # with the facts that they are of: page and paper show the same sheets: each is drawn once


def drawn(facts: Any, catalogue: Mapping[str, Any], seed: int) -> Sheet:
    """Sheet number `seed` for the default kit."""
    key = (id(facts), seed, facts.handbook.default_kit, facts.handbook.system)
    if (key in _kept and _kept[key].value[0] is not facts) or len(_kept) > 200:
        _kept.clear()
    found: Sheet = noted.once(_kept, key, lambda: (facts, sheet(Day(facts, catalogue), facts.handbook.default_kit, facts.handbook.system, seed)))[1]
    return found


def _line(one: Exercise, seed: int, place: int, up: str) -> str:
    """One question, keys to try it that a script brings to life, and its answer folded under it."""
    key, address = f"try-{seed}-{place}", up + one.page.removesuffix(".md") + ".html"
    choice = "".join(f'<button type="button" value="{escape(value)}" aria-pressed="false">{escape(words)}</button>' for value, words in one.options)
    choice = f'<span class="alm-common" role="group" aria-label="Answer {place + 1}">{choice}</span>' if choice else ""
    pad = "text" if one.kind == "dew" else "decimal"  # a phone's number pad has no minus: where an answer can be below nought the whole keyboard comes
    field = (f'<label for="{key}">Answer {place + 1}{f", in {escape(_unit(one))}" if _unit(one) else ""}</label><input id="{key}" type="text" inputmode="{pad}" autocomplete="off">'
             if one.wants else "")
    wants = "*" if one.wants == ("",) else " ".join(one.wants)
    figure = f"{one.figure:g}" if one.figure is not None else ""
    return (f'<li data-right="{figure}" data-step="{one.step:g}" data-choice="{escape(one.right)}" data-wants="{escape(wants)}"{" data-decides" if one.decides else ""}><p>{escape(one.question)}</p>'
            f'<div class="alm-try" hidden>{field}{choice}<button type="button" class="alm-check" aria-label="Check answer {place + 1}">Check</button></div>'
            f'<p class="alm-verdict" role="status"></p><details class="alm-how"><summary>Answer</summary><p><strong>{escape(one.told)}</strong></p><p>{escape(one.why)}</p>'
            f'<p><a href="{escape(address)}">The page that shows how</a></p></details></li>')


def _unit(one: Exercise) -> str:
    """The unit asked for: the answer's own, also where this one's right answer is a word."""
    return one.unit or one.asks


def drills_html(found: Sheet, seed: int, up: str = "../") -> str:
    """The job, then its questions as a list. Raw HTML, one block."""
    return f'<p>{escape(found.scene)}</p><ol class="alm-drill">{"".join(_line(one, seed, place, up) for place, one in enumerate(found.exercises))}</ol>'


def quiz_html(facts: Any, catalogue: Mapping[str, Any], once: Callable[[str, Callable[[], str]], str]) -> str:
    """The first sheets on one page: readable as they are; with a script one at a time, checked, and kept in the journal. `once` remembers each."""
    edition = f"{facts.handbook.revision} {facts.handbook.date} {facts.handbook.region} {_EDITION}"
    listed = next((key for key, one in facts.drills.items() if one.page == "train/drills"), "")
    choose = "".join(f'<button type="button" value="{number}" aria-pressed="false">{number}</button>' for number in ON_PAGE)
    def one(number: int) -> str:
        return (f'<section data-sheet="{number}" aria-label="Sheet {number}"><h2 id="sheet-{number}">Sheet {number}</h2><p class="alm-score" role="status"></p>'
                f'{drills_html(drawn(facts, catalogue, number), number)}<p><button type="button" class="alm-again" hidden>Sheet {number} from the start</button></p></section>')

    parts = "".join(once(f"sheet {number}", partial(one, number)) for number in ON_PAGE)
    return (f'{lesson_html(("quiz",))}<div class="alm-quiz" data-edition="{escape(edition)}" data-drill="{escape(listed)}">'
            f'<p class="alm-common alm-sheets" role="group" aria-label="Sheet" hidden>{choose}</p>{parts}'
            '<p class="alm-earlier" hidden></p></div>')


def sheets_data(facts: Any, catalogue: Mapping[str, Any], seeds: Sequence[int]) -> list[dict[str, Any]]:
    """Sheets of these numbers as plain data: `situation` is a list of NAME=VALUE texts that `almanac today` takes, `answer` the name of its answer."""
    def one(line: Exercise) -> dict[str, Any]:
        figure = {"figure": line.figure, "within": line.step, "unit": line.unit} if line.figure is not None else {}
        return {"kind": line.kind, "question": line.question, "situation": [f"{name}={value}" for name, value in line.situation], "answer": line.answer, "verdict": line.verdict,
                "right": line.right, "options": dict(line.options), **figure, "told": line.told, "why": line.why, "page": line.page.removesuffix(".md")}

    return [{"sheet": seed, "scene": found.scene, "exercises": [one(line) for line in found.exercises]} for seed in seeds for found in [drawn(facts, catalogue, seed)]]


def sheets_pdf(facts: Any, catalogue: Mapping[str, Any], seeds: Sequence[int]) -> bytes:
    """Sheets of these numbers, answers on the back: same facts and numbers, same bytes."""
    from generators.pages.card import made_on
    from generators.render.card import drills_pdf

    kit = facts.kits[facts.handbook.default_kit]
    found = {seed: drawn(facts, catalogue, seed) for seed in seeds}
    return drills_pdf({
        "title": f"{facts.handbook.title}: exercise sheets", "crew": str(facts.handbook.title), "paper": "us-letter" if facts.handbook.system == "us" else "a4", "how": HOW,
        "footer": f"{facts.handbook.title}, edition {facts.handbook.revision}, {facts.handbook.date}. Kit: {kit.name}.",
        "sheets": [{
            "title": f"Exercise sheet {seed}", "back": f"Sheet {seed}: answers", "intro": "Name ________________________    Date ______________    Minutes ______", "scene": one.scene,
            "lines": [{"question": line.question, "options": " / ".join(words for _, words in line.options), "answer": line.told,
                       "why": line.why, "page": line.page.removesuffix(".md")} for line in one.exercises],
        } for seed, one in found.items()],
    }, made_on(facts))
