"""What the safety data sheet of one tin says, and what follows: limits to breathe here, gloves by rank, filters, storage, washings."""

from __future__ import annotations

import math
from datetime import date
from typing import Any

from generators import units
from generators.facts.gloves import family_of, ranks
from generators.facts.tin import thins_with_solvent
from generators.table import TextTable
from generators.tables.book import Book, Builder, stop_words

# Hazard statements in short words of our own; the label has the full ones. From memory of the globally harmonised system.
CODES = {
    "H224": "extremely flammable liquid and vapour", "H225": "highly flammable liquid and vapour", "H226": "flammable liquid and vapour", "H228": "flammable solid", "H302": "harmful if swallowed",
    "H304": "can kill if swallowed and breathed into the lung: never make sick", "H311": "toxic on skin", "H312": "harmful on skin", "H314": "burns skin and eyes", "H315": "irritates skin", "H317": "can cause skin allergy",
    "H318": "harms eyes for good", "H319": "irritates eyes", "H330": "kills if breathed", "H331": "toxic if breathed", "H332": "harmful if breathed", "H334": "can cause asthma if breathed", "H335": "irritates the airways",
    "H336": "makes drowsy or dizzy", "H340": "can damage genes", "H341": "may damage genes", "H350": "can cause cancer", "H350i": "can cause cancer if breathed", "H351": "may cause cancer", "H360": "can harm fertility or the unborn child",
    "H361": "may harm fertility or the unborn child", "H370": "harms organs", "H372": "harms organs in long use", "H373": "may harm organs in long use", "H400": "very toxic to life in water", "H410": "very toxic to life in water, for long",
    "H411": "toxic to life in water, for long", "H412": "harmful to life in water, for long", "EUH066": "dries and cracks skin", "EUH201": "holds lead", "EUH203": "holds chromium VI", "EUH204": "holds isocyanates",
    "EUH208": "holds what can cause allergy", "EUH211": "spray mist can be harmful: do not breathe it",
}
_SAYS_NOT = "Not in this handbook: look in section"
OLD_AFTER = 3 * 365  # days; a supplier sends a new sheet when something changes, and a sheet in a van is seldom the last one: common practice, no source


_ALSO = {"mineral spirits": "white-spirit"}  # the trade's own words for it in the US


def _row(facts: Any, name: str) -> Any:
    said = name.strip().lower()
    key = _ALSO.get(said, said.replace(" ", "-"))
    return next((row for row in facts.solvents if said == row.name.lower() or key == row.key), None)


def _solvent_words(facts: Any, one: Any) -> str:
    """One solvent with its share, and its limit to breathe here."""
    row = _row(facts, one.name)
    rule = facts.rule(None, "air", f"{row.key}|8h") if row is not None and row.key else None
    limit = f"limit here {rule.amount} over 8 hours{f', {rule.says}' if rule.says else ''} [{rule.dated}]" if rule is not None and not math.isnan(rule.figure) else "no limit known here: look in section 8"
    return f"{one.name}{f' {one.share.text}' if one.share else ', share not said'}: {limit}"


def keys_of(facts: Any, tin: Any) -> list[str]:
    """Keys of the solvents that a tin's sheet and its thinner name."""
    names = [one.name for one in tin.sds.solvents] if tin.sds else []
    return [row.key for name in (*names, tin.thin_with) if (row := _row(facts, name)) is not None and row.key]


def glove_words(facts: Any, tin: Any) -> str:
    """Glove materials by rank against its solvents; never a time."""
    found = ranks(facts.gloves, keys_of(facts, tin))
    by = {rank: [material for material, one in found.items() if one == rank] for rank in ("good", "fair", "splash", "ask", "no")}
    words = {"good": "good", "fair": "fair", "splash": "against splashes only, off at once", "ask": "ask the glove's maker", "no": "never"}
    if not found:
        return "no family of solvents known: ask the maker"

    def unranked(name: str) -> bool:
        row = _row(facts, name)
        return row is None or family_of(facts.gloves, row.key) is None

    strangers = [one.name for one in (tin.sds.solvents if tin.sds else []) if unranked(one.name)]
    strangers += [f"its thinner ({tin.thin_with})"] if thins_with_solvent(tin.thin_with) and unranked(tin.thin_with) else []
    told = [f"{words[rank]}: {', '.join(materials)}" for rank, materials in by.items() if materials]
    return "; ".join([*told, *([f"not ranked here, ask the maker: {', '.join(strangers)}"] if strangers else [])])


def safety_sheet(book: Book, coating: str) -> TextTable:
    """Section by section, what this tin's record holds; what it leaves out names the section to look in."""
    facts = book.facts
    tin = facts.coatings[coating]
    sheet = tin.sds
    rows: list[tuple[str, str]] = [("STOP", stop_words(book, tin).removeprefix("STOP. "))] if tin.stops else []
    if sheet is None:
        rows.append(("The sheet", "None is recorded in this handbook. Ask the supplier for it, and read sections 2, 3, 8 and 9 before the tin is opened."))
    else:
        made = f"made {sheet.made}" if sheet.made else "its date is not recorded"
        old = sheet.made and (date.fromisoformat(facts.handbook.date) - date.fromisoformat(sheet.made)).days > OLD_AFTER
        rows.append(("The sheet", f"{made}{'. Old: ask the supplier for the present one' if old else ''}."))
        rows.append(("Hazards (section 2)", "; ".join(f"{code} {CODES.get(code, 'see the label')}" for code in sheet.codes) or f"{_SAYS_NOT} 2."))
        rows.append(("Solvents (section 3)", ". ".join(_solvent_words(facts, one) for one in sheet.solvents) or f"{_SAYS_NOT} 3."))
        rows.append(("Its own limits (section 8)", "; ".join(sheet.limits) or f"{_SAYS_NOT} 8."))
        rows.append(("Flash point (section 9)", book.pick(sheet.flash_point.text, units.said(units.convert(sheet.flash_point.value, sheet.flash_point.unit, "°F"), "°F", "down")) if sheet.flash_point else f"{_SAYS_NOT} 9."))
    words = {"isocyanate": "isocyanate, or counted as one: the stop above holds", "none": "nothing: one tin", "amine": "amine", "acid": "acid", "other": "another hardener: section 3 says which"}
    rows.append(("What hardens it", f"{words[tin.hardener or 'none']}."))
    rows.append(("Gloves (section 8)", f"{f'{sheet.gloves}, by its sheet. ' if sheet and sheet.gloves else ''}By rank: {glove_words(facts, tin)}. No glove has a time here: gloves of one material differ ten times."))
    rows.append(("Filters (section 8)", f"{f'{sheet.filter}. ' if sheet and sheet.filter else ''}Changed by the maker's schedule, never by smell."))
    rows.append(("Keep and throw away (sections 7, 13)", f"{sheet.storage if sheet and sheet.storage else 'Closed, upright, cool, away from flame and children.'} "
                 f"{sheet.washings if sheet and sheet.washings else 'Washings and left-overs never in a drain.'}"))
    return TextTable("safety-sheet", f"From the safety data sheet: {tin.name}", "The sheet in your hand is newer than this page, and comes first.", ("What", "Says"), tuple(rows))


BUILDERS = {"safety-sheet": Builder(safety_sheet, per="coating", twins=False)}
