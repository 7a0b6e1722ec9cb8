"""Exercises for a trainee: new numbers each time from the declared formulas, the same again from the same seed.

No sheet holds a question without an answer, nor one whose rounding could go either way: such a draw is drawn again.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from generators import units

SURE = 0.15  # share of a step: an answer nearer than this to the edge between two roundings is drawn again
CLEAR = 1.0  # °C: a dew margin nearer than this to the limit is no fair question
_MOST_DRAWS = 400
_GO = ": go on, if the rest is well"


@dataclass(frozen=True)
class Exercise:
    """One question and its answer. `inputs` are in the formula's own units; `rounded` and `step` in `unit`, the reader's."""

    formula: str
    page: str
    question: str
    inputs: Mapping[str, Any]
    rounded: float
    step: float
    unit: str
    more: str = ""

    @property
    def decision(self) -> str:
        """"go", "wait", or nothing where the question asks for none."""
        return "" if not self.more else "go" if self.more == _GO else "wait"

    @property
    def answer(self) -> str:
        """The answer as printed, with what counts as right."""
        show = _plain(self.rounded, self.step)
        return f"{show} {self.unit.replace('Δ', '')}{self.more} (within {_plain(self.step, self.step)})"


@dataclass(frozen=True)
class _Draw:
    """Round figures to draw from, in the reader's unit, and the unit of the formula's input."""

    name: str
    own: str
    metric: tuple[tuple[float, ...], str]
    us: tuple[tuple[float, ...], str]


@dataclass(frozen=True)
class _Kind:
    formula: str
    page: str
    question: str  # with {name} for each drawn figure
    draws: tuple[_Draw, ...]
    metric: tuple[str, float]  # unit and rounding of the answer
    us: tuple[str, float]
    fixed: Callable[[Any], dict[str, Any]] = lambda kit: {}
    fair: Callable[[Mapping[str, Any]], bool] = lambda inputs: True  # what could happen at a bench
    most: float = math.inf  # the largest answer worth asking for
    fewest: int = 4  # an answer of fewer steps than this would be right by luck
    more: Callable[[float, Any], str | None] = lambda value, facts: ""  # words after the figure, or None for a question that is not fair


def _grid(low: float, high: float, step: float) -> tuple[float, ...]:
    return tuple(round(low + step * at, 6) for at in range(round((high - low) / step) + 1))


def _same(name: str, unit: str, values: tuple[float, ...]) -> _Draw:
    return _Draw(name, unit, (values, unit), (values, unit))


def _like_paint(inputs: Mapping[str, Any]) -> bool:
    """Thinner takes ln(seconds) down by 2 to 8 for each whole part of paint: common practice, no source."""
    return 2 <= math.log(inputs["first-time"] / inputs["trial-time"]) / (inputs["trial-thinner"] / 100) <= 8


def _like_weather(inputs: Mapping[str, Any]) -> bool:
    return -14 <= inputs["surface-temperature"] - inputs["air-temperature"] <= 5


def _decision(margin: float, facts: Any) -> str | None:
    least = facts.value("limits.dew_margin_min").to("Δ°C")
    if abs(margin - least) < CLEAR:
        return None
    return _GO if margin >= least else ": wait" if margin > 0 else ": wait, it sweats"


_WET = _Draw("wet-film", "µm", (_grid(60, 200, 10), "µm"), (_grid(2.5, 8, 0.5), "mil"))
_SHARE = _same("transfer-efficiency", "%", _grid(50, 80, 5))
_SOLIDS, _THINNED = _same("volume-solids", "%", _grid(25, 60, 1)), _same("thinner", "%", (0, 2, 3, 5, 8, 10))
_FLOW = _Draw("flow", "mL/min", (_grid(100, 300, 20), "mL/min"), (_grid(4, 10, 0.5), "fl oz/min"))

KINDS = (
    _Kind("thinner-for-target", "mix/thinning.md", "{cup}: {first-time} as it stands, {trial-time} with {trial-thinner} of thinner. How much thinner in all for {target-time}?",
          (_same("first-time", "s", _grid(36, 90, 1)), _same("trial-thinner", "%", (3, 5)), _same("trial-time", "s", _grid(28, 80, 1))), ("%", 0.5), ("%", 0.5),
          lambda kit: {"cup": kit.limit.cup, "target-time": kit.limit.seconds}, fair=_like_paint, most=15),  # no data sheet goes past 15 %: common practice, no source
    _Kind("dew-margin", "air/dew-point.md", "Air {air-temperature}, humidity {relative-humidity}, surface {surface-temperature}. How far is the surface over the dew point: go or wait?",
          (_Draw("air-temperature", "°C", (_grid(6, 32, 1), "°C"), (_grid(44, 90, 2), "°F")), _same("relative-humidity", "%", _grid(35, 95, 5)),
           _Draw("surface-temperature", "°C", (_grid(4, 32, 1), "°C"), (_grid(40, 90, 2), "°F"))), ("Δ°C", 1), ("Δ°F", 2), fair=_like_weather, fewest=-100, more=_decision),
    _Kind("wet-film", "film/wet-and-dry.md", "The sheet asks {dry-film} dry. Solids {volume-solids} by volume, thinned {thinner}. What must the comb read?",
          (_Draw("dry-film", "µm", (_grid(25, 80, 5), "µm"), (_grid(1, 3, 0.25), "mil")), _SOLIDS, _THINNED), ("µm", 5), ("mil", 0.2)),
    _Kind("dry-film", "film/wet-and-dry.md", "The comb reads {wet-film}. Solids {volume-solids} by volume, thinned {thinner}. What stays when it is dry?",
          (_WET, _SOLIDS, _THINNED), ("µm", 5), ("mil", 0.2)),
    _Kind("gun-speed", "gun/speed-and-film.md", "The gun gives {flow}, {transfer-efficiency} of it lands, strokes lie {stroke-spacing} apart. How fast is the hand for {wet-film} wet?",
          (_FLOW, _SHARE, _WET, _Draw("stroke-spacing", "mm", (_grid(80, 160, 10), "mm"), (_grid(3, 6, 0.5), "in"))), ("m/s", 0.02), ("in/s", 1)),
    _Kind("paint-for-area", "gun/speed-and-film.md", "{area} at {wet-film} wet, {transfer-efficiency} lands. How much thinned paint for one coat?",
          (_Draw("area", "m²", (_grid(5, 60, 1), "m²"), (_grid(50, 600, 10), "ft²")), _WET, _SHARE), ("L", 0.2), ("qt", 0.2)),
    _Kind("pot-thinner", "mix/thinning.md", "A pot is to hold {pot} of mix: paint with {thinner} of thinner to each part of paint. How much of the pot is thinner?",
          (_Draw("pot", "L", (_grid(0.4, 1.2, 0.1), "L"), (_grid(0.5, 1.5, 0.25), "qt")), _same("thinner", "%", _grid(2, 15, 1))), ("mL", 5), ("fl oz", 0.2)),
    _Kind("part-b", "mix/two-pack.md", "A two-pack your training covers, {ratio} parts base to one of hardener by volume. {batch} of mix is wanted. How much is hardener?",
          (_Draw("batch", "L", (_grid(0.3, 1.5, 0.1), "L"), (_grid(0.5, 2, 0.25), "qt")), _same("ratio", "1", (2, 3, 4, 5, 10))), ("mL", 10), ("fl oz", 0.5)),
    _Kind("clearance-time", "safety/vapour-and-fire.md", "Air in the room changes {air-changes} times an hour. How long until {removal} of what hangs in it is gone, if it mixes well?",
          (_same("air-changes", "1/h", _grid(2, 12, 1)), _same("removal", "%", (90, 95, 99))), ("min", 2), ("min", 2)),
    _Kind("cup-viscosity", "mix/cup-times.md", "{time} in {cup}. What is its viscosity?",
          (_same("time", "s", _grid(25, 80, 1)),), ("mm²/s", 5), ("mm²/s", 5), lambda kit: {"cup": kit.limit.cup}),
)


def _plain(value: float, step: float) -> str:
    return f"{value:.{max(0, len(f'{step:g}'.partition('.')[2]))}f}".replace("-", "−")


def _words(value: float, unit: str) -> str:
    return f"{value:g}" if unit in ("1", "1/h") else f"{value:g}%" if unit == "%" else f"{value:g} {unit}"


def _draw(kind: _Kind, facts: Any, catalogue: Mapping[str, Any], kit: Any, system: str, rng: random.Random) -> Exercise | None:
    formula = catalogue[kind.formula]
    fixed = kind.fixed(kit)
    inputs: dict[str, Any] = dict(fixed)
    said = {name: facts.cups[value].label if name == "cup" else _words(value, _unit_of(formula, name)) for name, value in fixed.items()}
    for draw in kind.draws:
        values, unit = draw.us if system == "us" else draw.metric
        shown = rng.choice(values)
        scale, offset = units.linear(unit, draw.own)
        inputs[draw.name] = shown * scale + offset
        said[draw.name] = _words(shown, unit)
    if not kind.fair(inputs):
        return None
    value = float(formula.column(inputs))
    if formula.reason(inputs) is not None or math.isnan(value) or value > kind.most:
        return None
    more = kind.more(value, facts)
    if more is None:
        return None
    unit, step = kind.us if system == "us" else kind.metric
    scale, offset = units.linear(unit, formula.answer.unit)
    steps = (value - offset) / scale / step
    if abs(steps % 1 - 0.5) < SURE or round(steps) < kind.fewest:
        return None
    return Exercise(kind.formula, kind.page, kind.question.format(**said), inputs, round(steps) * step, step, unit, more)


def _unit_of(formula: Any, name: str) -> str:
    return next(symbol.unit for symbol in formula.inputs if symbol.name == name)


def sheet(facts: Any, catalogue: Mapping[str, Any], kit: Any, system: str, seed: int) -> list[Exercise]:
    """One exercise of each kind for `kit`, in an order of the seed's own. A kind this kit can ask no fair question of is left out."""
    rng = random.Random(f"{seed} {system}")
    found = []
    for kind in KINDS:
        for _ in range(_MOST_DRAWS):
            one = _draw(kind, facts, catalogue, kit, system, rng)
            if one:
                found.append(one)
                break
    rng.shuffle(found)
    return found
