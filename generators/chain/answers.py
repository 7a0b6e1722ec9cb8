"""Answers of one walk, as people and programs read them: value, ends, verdict, because, what would change it, until, and where from."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from decimal import ROUND_HALF_UP, Context
from typing import Any

import numpy as np

from generators import units
from generators.basis import Basis
from generators.chain.day import Day, answer_named
from generators.chain.known import UNITS
from generators.chain.links import Answer, Step
from generators.chain.today import chain
from generators.chain.walk import Walked
from generators.situation import READINGS, Situation
from generators.verdict import GO, RANK, STOP, UNKNOWN, Held
from generators.verdict.ask import Answered, Asked

# Least trusted first: an answer is as good as the weakest thing it rests on.
_LEAST, _MOST = (Basis.INVENTED, Basis.COMMON, Basis.MEMORY), (Basis.MEASURED, Basis.PUBLISHED)
TRUST = [*_LEAST, *(basis for basis in Basis if basis not in (*_LEAST, *_MOST)), *_MOST]
# How a unit of the chain is shown to US readers; the others are the same on both sides.
US = {"°C": "°F", "Δ°C": "Δ°F", "mm": "in", "m": "ft", "m/s": "mph", "µm": "mil", "mL": "fl oz", "L": "qt", "m²": "ft²", "m³": "ft³", "mL/min": "fl oz/min", "mm²/s": "mm²/s"}
_THREE = Context(prec=3, rounding=ROUND_HALF_UP)  # a tie goes up, as in the phone's own rounding
_NAME = re.compile(r"\{([a-z0-9._-]+)\}")


def figure(value: float, unit: str, system: str) -> str:
    """A figure in words: three significant digits and its unit, in the reader's system."""
    shown = US.get(unit, unit) if system == "us" else unit
    value = float(units.convert(value, unit, shown)) if shown != unit else value
    text = f"{_THREE.create_decimal_from_float(value):f}"
    text = (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−")
    plain = shown.replace("Δ", "")
    return text if plain == "1" else f"{text} {plain}"


def filled(template: str, out: Walked, named: Mapping[str, str], system: str, cell: tuple[int, ...] = (), shape: tuple[int, ...] = ()) -> str:
    """A reason with its figures: each name in braces becomes its likely value and unit. `cell` says which place of columns, that are as wide as `shape`."""
    def one(match: re.Match[str]) -> str:
        held = out.held.get(match[1])
        if held is None or held.is_text:
            return held.text or "not known" if held is not None else match[0]
        value = float(np.broadcast_to(held.likely, shape or np.shape(held.likely))[cell] if np.ndim(held.likely) else held.likely)
        return "not known" if math.isnan(value) else figure(value, named.get(match[1], "1"), system)

    return _NAME.sub(one, template)


def missing_words(missing: frozenset[str]) -> tuple[str, str]:
    """(reason, what would settle it) for readings that are not known."""
    names = [name for name in READINGS if name in missing]
    said = ", ".join(name.replace("-", " ") for name in names) or "a fact that no file gives"
    return f"Not known: {said}.", READINGS[names[0]].ask if names else "Ask the data sheet."


# Where a figure lies outside what is known, nothing says which way to turn: the remedy of the limit would be a guess.
UNTOLD = "Read it again. If it stays so, go by the data sheet and a test card."


def test_words(outcome: str, asked: Asked, out: Walked, named: Mapping[str, str], system: str, cell: tuple[int, ...] = ()) -> tuple[str, str]:
    """(because, remedy) of one test that is not go."""
    if outcome == UNKNOWN:
        if asked.stale and asked.missing <= asked.stale:
            names = ", ".join(name.replace("-", " ") for name in READINGS if name in asked.stale)
            return f"Read too long ago: {names}.", "Read it again."
        if asked.missing:
            return missing_words(asked.missing)
        why = asked.why if isinstance(asked.why, str) else str(np.asarray(asked.why, dtype=object)[cell] or "")
        return f"Cannot be told: {why or 'no figure for it'}.", UNTOLD
    said = filled(asked.test.because, out, named, system, cell)
    return (said if outcome == asked.test.outcome else said + " By what the instruments may hide."), asked.test.remedy


def worst(verdicts: list[Answered], cell: tuple[int, ...] = ()) -> str:
    """The word of several verdicts together."""
    words = [one.outcome(cell if np.ndim(one.codes) else ()) for one in verdicts]
    return max(words, key=lambda word: RANK[word], default=GO)


def _until(day: Day, situation: Situation, answer: Answer, names: set[str], out: Walked) -> float | None:
    now = situation.numbers.get("now")
    found: list[float] = []
    for name in answer.until:
        held = out.held[name]
        if not held.is_text and np.ndim(held.likely) == 0 and math.isfinite(float(held.low)):
            found.append(float(held.low))
    limits = day.once("limits", "")
    for name in names:
        reading = READINGS.get(name)
        if reading is None or not reading.good_for or name not in situation.texts:
            continue
        when = situation.at.get(name, now)
        hours = limits["limits.reading_hours_room" if situation.words.get("place") == "room" else "limits.reading_hours_outdoors"].value
        if when is not None and isinstance(hours, tuple):
            found.append(when + hours[1] * 60)
    if situation.words.get("place") == "outdoors" and "dusk-at" in situation.numbers and any(READINGS[name].good_for for name in names if name in READINGS):
        found.append(situation.numbers["dusk-at"])
    return min(found) if found else None


def origins(day: Day, situation: Situation, verdicts: Iterable[str], names: set[str], links: list[Any], out: Walked) -> tuple[str, list[str]]:
    """(basis of the weakest thing that an answer rests on, sources in order)."""
    told = day.facts_of(situation)
    found = [told[name].origin for name in sorted(names) if name in told and told[name].value is not None]
    for link in links:
        if isinstance(link, Step):
            chosen = link.formula if isinstance(link.formula, str) else link.formula.get(out.held[link.by].text or "")
            if chosen:
                found.append(day.formulas[chosen].origin)
    found += [chain().verdicts[name].origin for name in verdicts]
    weakest = min((origin.basis for origin in found), key=TRUST.index, default=Basis.COMMON)
    return str(weakest), list(dict.fromkeys(origin.source for origin in found if origin.source))


def _value(held: Held, answer: Answer, situation: Situation, unit: str) -> dict[str, Any]:
    if held.is_text:
        return {"value": held.text} if held.text is not None else {}
    if not math.isfinite(float(held.likely)):
        return {}
    if answer.kind == "time":
        if not math.isfinite(float(held.high)):
            return {}
        return {"value": situation.clock(float(held.high))} | {end: situation.clock(float(getattr(held, end))) for end in ("low", "likely", "high") if math.isfinite(float(getattr(held, end)))}
    return {"value": float(held.likely)} | {end: float(getattr(held, end)) for end in ("low", "likely", "high") if math.isfinite(float(getattr(held, end)))} | {"unit": unit}


def one_answer(day: Day, situation: Situation, answer: Answer, out: Walked, named: Mapping[str, str], system: str) -> dict[str, Any]:
    """One answer as plain data; keys that it does not have are left out."""
    links, names = chain().wanted(answer.name)
    verdicts = [out.verdicts[name] for name in answer.verdicts]
    shut = answer.gate and out.verdicts["allowed"].outcome() == STOP
    speakers = [out.verdicts["allowed"]] if shut else verdicts
    word = worst(speakers)
    told: dict[str, Any] = {}
    held = out.held[answer.shows]
    dashed = any(asked.test.name in answer.dash and outcome == STOP for one in verdicts for outcome, asked in one.speaking())
    said = list(dict.fromkeys(test_words(outcome, asked, out, named, system) for one in speakers for outcome, asked in one.speaking())) if word != GO else []
    if not shut:
        told |= {} if dashed else _value(held, answer, situation, named.get(answer.shows, "1"))
        if answer.name == "spray":
            told["value"] = {GO: "spray", "care": "spray with care", UNKNOWN: "not known", STOP: "wait"}[word]
        elif answer.name == "allowed":
            told["value"] = {GO: "yes", "care": "yes", UNKNOWN: "not known", STOP: "no"}[word]
        elif "value" not in told and (held.missing or np.any(np.asarray(held.why) != "")) and RANK[word] < RANK[UNKNOWN]:
            word = UNKNOWN
            why = held.why if isinstance(held.why, str) else str(held.why)
            said.insert(0, missing_words(held.missing) if held.missing else (f"No answer: {why}.", "Look at the readings."))
    told["verdict"] = word
    if said:
        told["because"], told["remedy"] = said[0]
        if len(said) > 1:
            told["also"] = [because for because, _ in said[1:]]
    else:
        told["because"] = speakers[0].verdict.go
    until = _until(day, situation, answer, names, out)
    if until is not None and not shut:
        told["until"] = situation.clock(until)
    told["basis"], told["sources"] = origins(day, situation, answer.verdicts, names, links, out)
    return told


def today(day: Day, situation: Situation, system: str = "") -> dict[str, Any]:
    """The whole chain at one situation: {"situation", "verdict", "answers"}."""
    system = system or day.facts.handbook.system
    out, named = day.walk(situation), day.units
    answers = {answer.name: one_answer(day, situation, answer, out, named, system) for answer in chain().answers}
    # May I, now: hazard, place and weather, and a mask that no mask is enough for.
    words = [answers["allowed"]["verdict"], answers["spray"]["verdict"], *([STOP] if answers["mask"]["verdict"] == STOP else [])]
    shown = max(words, key=lambda word: RANK[word])
    return {"situation": dict(situation.texts), "verdict": shown, "answers": answers}


def ask(day: Day, situation: Situation, name: str, system: str = "") -> dict[str, Any]:
    """One answer at one situation, walking only what it rests on."""
    answer = answer_named(name)
    return one_answer(day, situation, answer, day.walk(situation, [name]), day.units, system or day.facts.handbook.system)


def one_verdict(day: Day, name: str, situation: Situation, given: Mapping[str, float], system: str = "") -> dict[str, Any]:
    """One verdict worked: {"verdict", "because", "remedy", "until", "inputs", "basis", "sources"}. `given` are quantities by name, in the chain's units."""
    system = system or day.facts.handbook.system
    out, named = day.walk(situation, [name], given), day.units
    answered = out.verdicts[name]
    links, names = chain().wanted(name)
    word = answered.outcome()
    said = [test_words(outcome, asked, out, named, system) for outcome, asked in answered.speaking()]
    told: dict[str, Any] = {"verdict": word, "because": said[0][0] if said else answered.verdict.go}
    if said:
        told["remedy"] = said[0][1]
    shows = Answer(name, "", "", ())
    until = _until(day, situation, shows, names, out)
    if until is not None:
        told["until"] = situation.clock(until)
    inputs: dict[str, Any] = {}
    for one in answered.verdict.names:
        held = out.held[one]
        if held.is_text:
            inputs[one] = held.text
        elif math.isfinite(float(held.likely)):
            inputs[one] = {"low": float(held.low), "likely": float(held.likely), "high": float(held.high), "unit": named.get(one, UNITS.get(one, "1"))}
    told["inputs"] = {one: value for one, value in inputs.items() if value is not None}
    told["basis"], told["sources"] = origins(day, situation, [name], names, links, out)
    return told


def why(day: Day, situation: Situation, name: str, system: str = "") -> list[str]:
    """How one answer was worked, in lines: readings, facts with their basis, formulas with their figures, and each test."""
    system = system or day.facts.handbook.system
    out, named = day.walk(situation, [name]), day.units
    links, names = chain().wanted(name)
    told = day.facts_of(situation)
    lines = []
    for one in sorted(names):
        held = out.held.get(one)
        if held is None or (held.is_text and held.text is None):
            continue
        basis = f"  [{told[one].origin}]" if one in told else ""
        if held.is_text:
            lines.append(f"{one}: {held.text}{basis}")
        elif np.ndim(held.likely) == 0 and math.isfinite(float(held.likely)):
            lines.append(f"{one}: {_span(held, named.get(one, UNITS.get(one, '1')), system)}{basis}")
    for link in links:
        name_of = getattr(link, "name", "")
        held = out.held.get(name_of)
        if held is None or held.is_text or np.ndim(held.likely) or not math.isfinite(float(held.likely)):
            continue
        how = f" by {link.formula if isinstance(link.formula, str) else link.formula.get(out.held[link.by].text or '', '')}" if isinstance(link, Step) else ""
        lines.append(f"{name_of} = {_span(held, named.get(name_of, '1'), system)}{how}")
    for verdict in out.verdicts.values():
        lines.append(f"{verdict.verdict.name}: {verdict.outcome()}")
        lines += [f"  {outcome}: {' '.join(test_words(outcome, asked, out, named, system))}" for outcome, asked in verdict.speaking()]
    return lines


def _span(held: Held, unit: str, system: str) -> str:
    likely = figure(float(held.likely), unit, system)
    if float(held.low) == float(held.high) or not math.isfinite(float(held.low) + float(held.high)):
        return likely
    return f"{likely} ({figure(float(held.low), unit, system)} to {figure(float(held.high), unit, system)})"


def quantities(day: Day, verdict: str) -> dict[str, str]:
    """Unit of every number that a verdict asks after, by name: what `almanac work` may be given."""
    return {name: day.units[name] for test in chain().verdicts[verdict].tests if test.sign in "<>" for name in (test.value, test.limit)}


def printed(answer: Answer, told: Mapping[str, Any], system: str) -> str:
    """The figure of an answer as it is printed: on its step, to its safe side."""
    value = told.get("value")
    if value is None or isinstance(value, str):
        return str(value or "–").replace("T", " ")
    unit, rounding = (answer.us if system == "us" else answer.metric) or (told["unit"], None)
    shown = float(units.convert(value, told["unit"], unit))
    text = f"{rounding(shown) + 0.0:.{rounding.decimals}f}" if rounding else f"{shown:g}"
    return f"{text.replace('-', '−')} {unit.replace('Δ', '')}"


MARKS = {GO: "✓ go", "care": "△ take care", UNKNOWN: "? not known", STOP: "✕ stop"}


def lines(day: Day, told: Mapping[str, Any], with_why: bool, situation: Situation) -> list[str]:
    """The answers for a terminal: the verdict first, then one line for each, with its reason where it is not go."""
    system = day.facts.handbook.system
    found = [MARKS[told["verdict"]]]
    for answer in chain().answers:
        one = told["answers"][answer.name]
        until = f" until {one['until'][-5:]}" if "until" in one else ""
        reason = f" {one['because']} {one.get('remedy', '')}".rstrip() if one["verdict"] != GO else ""
        found.append(f"{units.one_system(answer.title, system)}: {printed(answer, one, system)}  {MARKS[one['verdict']]}{until}{reason}")
        if with_why:
            found += [f"    {line}" for line in why(day, situation, answer.name, system)]
    return found
