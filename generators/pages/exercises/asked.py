"""One question asked of the chain: the situation in a trainee's hands, and the answer as every page gives it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from generators import units
from generators.chain.answers import filled, one_answer
from generators.chain.day import Day, answer_named
from generators.situation import read
from generators.verdict import CARE, GO, STOP, UNKNOWN

VERDICTS = (("go", "Go"), ("care", "Take care"), ("stop", "Wait"))


@dataclass(frozen=True)
class Exercise:
    """One question and its answer. `right` names one of `options`, "" where only a figure is asked; `figure` is in `unit`, on whole steps; None where none is wanted.

    `answer` names the chain's answer that it is (`price` and `fault` are the job's and the fault pages' own); `situation` is what was asked, as it is typed.
    """

    kind: str
    page: str
    question: str
    situation: tuple[tuple[str, str], ...]
    answer: str
    verdict: str
    options: tuple[tuple[str, str], ...] = ()
    right: str = ""
    wants: tuple[str, ...] = ()  # the options that go with a figure; ("",) where there are no options
    figure: float | None = None
    step: float = 1.0
    unit: str = ""
    asks: str = ""  # the unit that a figure would have, also where the right answer is a word alone
    why: str = ""
    inputs: Mapping[str, Any] = field(default_factory=dict)

    @property
    def decides(self) -> bool:
        """Whether a wrong word here would have somebody spray where the chain says wait."""
        return self.options == VERDICTS

    @property
    def told(self) -> str:
        """The answer as printed, with what counts as right."""
        word = dict(self.options).get(self.right, "")
        if self.figure is None:
            return word
        shown = plain(self.figure, self.step)
        number = f"{self.unit}{shown}" if self.kind == "price" else f"{shown} {self.unit}"
        number += f" (within {plain(self.step, self.step)})"
        return f"{word}: {number}" if word else number


def plain(value: float, step: float) -> str:
    """A figure with the decimals of its step."""
    return f"{value + 0.0:.{max(0, len(f'{step:g}'.partition('.')[2]))}f}".replace("-", "−")


@dataclass(frozen=True)
class Ask:
    """What a kind of question asks of the chain: its answer, the words for its outcomes (none: a figure only), and how it comes about, by the chain's own names."""

    answer: str
    page: str
    how: str
    options: tuple[tuple[str, str], ...] = ()
    words: Mapping[str, str] = field(default_factory=lambda: {GO: "go", CARE: "care", STOP: "stop"})
    wants: tuple[str, ...] = ("",)  # options that go with a figure; none: only the word is asked


def asked(day: Day, kind: str, ask: Ask, question: str, pairs: Mapping[str, Any], system: str, wanted: str = "") -> Exercise | None:
    """The chain's answer to one situation as an exercise.

    None where the question would not be fair: nothing known, a figure asked for where it may not be sprayed so, or a verdict that hangs on what an instrument may hide.
    """
    flat = tuple((name, value) for name, values in pairs.items() for value in (values if isinstance(values, tuple) else (values,)))
    situation = read(list(flat), day.names())
    out, answer = day.walk(situation, [ask.answer]), answer_named(ask.answer)
    told = one_answer(day, situation, answer, out, day.units, system)
    if told["verdict"] == UNKNOWN or wanted not in ("", told["verdict"]) or (told["verdict"] == STOP and not ask.options):
        return None
    sure = read([*flat, ("instruments", "exact")], day.names())
    if one_answer(day, sure, answer, day.walk(sure, [ask.answer]), day.units, system)["verdict"] != told["verdict"]:
        return None
    if ask.options == VERDICTS and told["verdict"] == GO:  # a go that go-or-wait stops would teach the wrong thing
        spray = answer_named("spray")
        if one_answer(day, situation, spray, day.walk(situation, ["spray"]), day.units, system)["verdict"] in (STOP, UNKNOWN):
            return None
    right = ask.words[told["verdict"]] if ask.options else ""
    printed = answer.us if system == "us" else answer.metric
    found: dict[str, Any] = {"asks": printed[0].replace("Δ", "")} if printed and ask.wants else {}
    if right in ask.wants:
        if not printed or not isinstance(told.get("value"), float):
            return None
        unit, rounding = printed
        value = float(units.convert(told["value"], told["unit"], unit))
        if not math.isfinite(value) or (rounding(value) <= 0 and answer.name != "margin"):
            return None
        found |= {"figure": rounding(value) + 0.0, "step": rounding.step, "unit": unit.replace("Δ", "")}
    elif not ask.options:
        return None
    reason = " ".join(part for part in (told["because"], told.get("remedy", "")) if part) if ask.options else ""
    tin = day.facts.coatings.get(dict(flat).get("coating", ""))
    if ask.answer == "allowed" and tin is not None and tin.stops:  # a hard stop travels with its name
        stop = day.facts.stops[tin.stops[0]]
        reason = f"STOP: {stop.title}. {reason} {stop.who_decides}"
    how = filled(ask.how, out, day.units, system) if told["verdict"] != STOP or ask.answer in ("spray", "margin") else ""
    return Exercise(kind, ask.page, question, flat, ask.answer, told["verdict"], ask.options, right, ask.wants, why=" ".join(part for part in (reason, how) if part), **found)
