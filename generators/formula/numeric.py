"""A formula as numpy: whole columns in, floats out, NaN and a reason where there is no answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import sympy

from generators.formula.declare import Formula
from generators.formula.guards import guards
from generators.formula.parts import InputError, Root
from generators.nearest import near


def _compiled(formula: Formula) -> dict[str, Callable[..., Any]]:
    """Numpy functions of the steps, conditions and answer, made once per formula."""
    if "numpy" in formula._cache:
        return formula._cache["numpy"]
    arguments = list(formula.letters.values())

    def make(tree: sympy.Expr) -> Callable[..., Any]:
        return sympy.lambdify(arguments, tree, modules="numpy", cse=False)

    made: dict[str, Callable[..., Any]] = {"answer": make(formula.parse(formula.expression))}
    for step in formula.steps:
        if isinstance(step, Root):
            residual = formula.parse(step.residual)
            made[f"start {step.letter}"] = make(formula.parse(step.start))
            made[f"residual {step.letter}"] = make(residual)
            made[f"slope {step.letter}"] = make(sympy.diff(residual.doit(), formula.letters[step.letter]))
        else:
            made[f"let {step.letter}"] = make(formula.parse(step.expression))
    for index, condition in enumerate(formula.conditions):
        made[f"condition {index}"] = make(formula.parse(condition.expression))
    formula._cache["numpy"] = made
    return made


def _values(formula: Formula, inputs: Mapping[str, Any]) -> tuple[dict[str, Any], str | None]:
    wanted = {symbol.name for symbol in formula.inputs} | ({formula.choice.name} if formula.choice else set())
    if set(inputs) != wanted:
        missing, unknown = sorted(wanted - set(inputs)), sorted(set(inputs) - wanted)
        raise InputError(f"{formula.name}: wanted {sorted(wanted)}; missing {missing}, unknown {unknown}")
    option = None
    if formula.choice:
        option = inputs[formula.choice.name]
        if option not in formula.choice.options:
            raise InputError(f"{formula.name}: no {formula.choice.name} called {option!r}; {near(str(option), formula.choice.options)}")
    return {s.letter: np.asarray(inputs[s.name], dtype=float) for s in formula.inputs}, option


def evaluate(formula: Formula, inputs: Mapping[str, Any]) -> tuple[Any, Any, dict[str, Any], list[str]]:
    """(answers, codes, letters in base units, reasons): codes index reasons, −1 where there is an answer."""
    made = _compiled(formula)
    given, option = _values(formula, inputs)
    bounds = guards(formula, option)
    shape = np.broadcast_shapes(*(value.shape for value in given.values()))
    codes = np.full(shape, -1)
    with np.errstate(all="ignore"):
        for index, guard in enumerate(bounds[:-1]):
            value = given[guard.symbol.letter]
            inside = (value >= guard.low) & (value <= guard.high)
            if not inside.all():
                codes = np.where((codes < 0) & ~inside, index, codes)
        letters: dict[str, Any] = {s.letter: given[s.letter] * formula.base(s.unit) for s in formula.inputs}
        letters |= {c.letter: c.value * formula.base(c.unit) for c in formula.constants}
        if formula.choice and option is not None:
            chosen = formula.choice.options[option]
            letters |= {c.letter: chosen.constants[c.letter] * formula.base(c.unit) for c in formula.choice.constants}
        for step in formula.steps:
            letters[step.letter] = 0.0
        for step in formula.steps:
            if isinstance(step, Root):
                letters[step.letter] = made[f"start {step.letter}"](**letters)
                for _ in range(step.count):
                    move = made[f"residual {step.letter}"](**letters) / made[f"slope {step.letter}"](**letters)
                    letters[step.letter] = letters[step.letter] - move
            else:
                letters[step.letter] = made[f"let {step.letter}"](**letters)
        reasons = [guard.reason for guard in bounds]
        for index, condition in enumerate(formula.conditions):
            holds = made[f"condition {index}"](**letters) > 0
            if not np.all(holds):
                codes = np.where((codes < 0) & ~holds, len(reasons), codes)
            reasons.append(condition.reason)
        answer = made["answer"](**letters) / formula.base(formula.answer.unit)
        inside = (answer >= bounds[-1].low) & (answer <= bounds[-1].high)
        if not np.all(inside):
            codes = np.where((codes < 0) & ~inside, len(bounds) - 1, codes)
        answer = np.where(codes < 0, answer, np.nan)
    return answer, codes, letters, reasons


def column(formula: Formula, inputs: Mapping[str, Any]) -> Any:
    """Answers as a numpy array in the answer's unit; NaN where there is no answer."""
    return evaluate(formula, inputs)[0]


def reason(formula: Formula, inputs: Mapping[str, Any]) -> str | None:
    """The reason why one set of inputs has no answer, or None."""
    _, codes, _, reasons = evaluate(formula, inputs)
    return None if int(codes) < 0 else reasons[int(codes)]
