"""Exercise sheets on a page and on paper, for the handbook's own kit and region."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from html import escape
from typing import Any

from generators.render import drills_pdf
from generators.studies.drills import Exercise, sheet

HOW = "Right is within the figure in brackets. Pass: nine of ten, with the card or the tables in hand, none that is wrong on go or wait."


def exercises(facts: Any, catalogue: Mapping[str, Any], seed: int) -> list[Exercise]:
    """Sheet number `seed` for the default kit."""
    return sheet(facts, catalogue, facts.kits[facts.handbook.default_kit], facts.handbook.system, seed)


def drills_html(facts: Any, catalogue: Mapping[str, Any], seed: int, up: str = "../") -> str:
    """Questions as a list, each with its answer folded under it. Raw HTML, one block."""
    lines = []
    for one in exercises(facts, catalogue, seed):
        address = up + one.page.removesuffix(".md") + ".html"
        lines.append(f'<li><p>{escape(one.question)}</p><details class="alm-how"><summary>Answer</summary><p><strong>{escape(one.answer)}</strong></p>'
                     f'<p><a href="{escape(address)}">The page that shows how</a></p></details></li>')
    return f'<ol class="alm-drill">{"".join(lines)}</ol>'


def sheets_pdf(facts: Any, catalogue: Mapping[str, Any], seeds: Sequence[int]) -> bytes:
    """Sheets of these numbers, answers on the back: same facts and numbers, same bytes."""
    made = datetime.fromisoformat(str(facts.handbook.date)).replace(tzinfo=UTC)
    kit = facts.kits[facts.handbook.default_kit]
    return drills_pdf({
        "title": f"{facts.handbook.title}: exercise sheets", "crew": str(facts.handbook.title), "paper": "us-letter" if facts.handbook.system == "us" else "a4", "how": HOW,
        "footer": f"{facts.handbook.title}, edition {facts.handbook.revision}, {facts.handbook.date}. Kit: {kit.name}.",
        "sheets": [{
            "title": f"Exercise sheet {seed}", "back": f"Sheet {seed}: answers", "intro": "Name ________________________    Date ______________    Minutes ______",
            "lines": [{"question": one.question, "answer": one.answer, "page": one.page.removesuffix(".md")} for one in exercises(facts, catalogue, seed)],
        } for seed in seeds],
    }, made)
