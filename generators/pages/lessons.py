"""The drills as data for the phone, and the places on a page where a trainee's readings go in."""

from __future__ import annotations

import json
from html import escape
from typing import Any

from generators import units
from generators.tables import train

# What a page of drills loads: the journal's own scripts come with every page.
SCRIPTS = ("job-facts", "digest", "carry", "takeout", "photos", "records", "drills", "drill", "trainee")


def drill_data(facts: Any) -> dict[str, Any]:
    """Each drill with its mark, as the phone judges it: limits in the reader's own unit."""
    system = facts.handbook.system
    found: dict[str, Any] = {}
    for key, drill in facts.drills.items():
        mark, unit = train.chosen(facts, drill), drill.mark.unit
        shown = train.TWIN[unit][0] if system == "us" and unit in train.TWIN else unit
        how = train.how(drill)
        found[key] = {
            "title": units.one_system(drill.title, system), "day": drill.day, "how": how, "of": drill.mark.of, "wanted": train.wanted(drill, mark), "before": drill.before,
            "limit": (train.limit_in(mark.limit, unit, system)[0] if how in ("spread", "most", "off") else mark.limit) if mark else None, "tries": mark.readings if mark else 0,
            "unit": {"count": "", "off": shown, "spread": shown, "most": shown, "combed": "%", "off-share": "%", "spread-share": "%"}.get(how, ""),
            "reads": "mil" if system == "us" else "µm",
            "mark": train.mark_words(drill, mark, system),
        }
    scale = units.linear("µm", "mil")[0] if system == "us" else 1.0
    return {"drills": found, "teeth": [tooth * scale for tooth in train.teeth(facts)]}


def drills_script(facts: Any) -> str:
    """A classic script that hands the list of drills to the others. Data only."""
    return f"window.almanacDrills = {json.dumps(drill_data(facts), ensure_ascii=True)};\n"


def lesson_html(scripts: tuple[str, ...] = ()) -> str:
    """Who the trainee is, for every drill of the page. A script brings it to life."""
    return (f'<div class="alm-screen"><div class="alm-lesson" data-scripts="{" ".join((*SCRIPTS, *scripts))}" data-formulas="" hidden>'
            '<p><label for="alm-trainee">Trainee</label> <select id="alm-trainee"></select></p>'
            '<p><label for="alm-trainee-new">A new one, by name</label> <input id="alm-trainee-new" type="text" autocomplete="off"></p>'
            '<p class="alm-keys"><button type="button" data-do="begin">Begin a record</button></p><p class="alm-told" role="status"></p></div></div>')


def _asked(drill: Any, number: int, system: str) -> str:
    """What the field asks for, and in which unit."""
    how, us, mark = train.how(drill), system == "us", drill.mark
    if how == "count":
        return f"How many {mark.of} were right, of {number}"
    unit = train.TWIN.get(mark.unit, (mark.unit,))[0] if us else mark.unit
    many = mark.of if number > 1 else train.single(mark.of)
    bare = unit if how in ("spread", "most", "off") else ""
    reads = f": last wet tooth in {'mil' if us else 'µm'}" if how == "combed" else (f": {mark.reads}" if mark.reads else "") + (f", in {bare}" if bare else "")
    asked = f"{number} {'readings' if how == 'combed' else many}{reads}"
    return f"{asked}, with a blank between" if number > 1 else asked


def try_html(facts: Any, key: str) -> str:
    """Where the readings of one drill go in, and its verdict comes out. One raw block; nothing where somebody else measures."""
    drill = facts.drills[key]
    mark = train.chosen(facts, drill)
    if mark is None:
        return (f'<div class="alm-screen alm-own" data-drill="{escape(key)}" hidden><p class="alm-keys"><button type="button" data-do="paper">The paper is there: passed</button></p>'
                '<p class="alm-verdict" role="status"></p></div>')
    how = train.how(drill)
    number = mark.readings if how == "count" else train.wanted(drill, mark)
    label, name = _asked(drill, number, facts.handbook.system), f"own-{key}"
    aim = f'<p><label for="{name}-aim">The aim: {escape(drill.mark.aim or "in the same unit")}</label> <input id="{name}-aim" class="alm-aim" type="text" inputmode="decimal" autocomplete="off"></p>'
    aim = aim if how.startswith("off") else ""
    many = number > 1 and how != "count"
    return (f'<div class="alm-screen alm-own" data-drill="{escape(key)}" hidden>{aim}<p><label for="{name}">{escape(label)}</label> '
            f'<textarea id="{name}" class="alm-readings" rows="{3 if many and number > 3 else 1}" inputmode="{"text" if many else "decimal"}" autocomplete="off"></textarea></p>'
            '<p class="alm-verdict" role="status"></p><p class="alm-keys"><button type="button" data-do="keep" hidden>Keep it</button></p></div>')
