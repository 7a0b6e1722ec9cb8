"""A formula as numpy: whole columns in, floats out, NaN and a reason where there is no answer."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from generators.formula.declare import Formula
from generators.formula.guards import guards
from generators.formula.parts import InputError, Root
from generators.nearest import near

# What an expression may call, as numpy has it: declare.py lets no other name through.
_NUMPY = {"numpy": np, "exp": np.exp, "log": np.log, "sqrt": np.sqrt, "cos": np.cos, "tan": np.tan, "atan": np.arctan, "pi": np.pi}


def _slope(formula: Formula, step: Root) -> str:
    if step.slope:
        return step.slope
    import sympy  # late: see declare.py
    from sympy.printing.numpy import NumPyPrinter

    tree = sympy.diff(formula.parse(step.residual).doit(), formula.letters[step.letter])
    return str(NumPyPrinter({"fully_qualified_modules": True}).doprint(tree))


@cache
def _function(letters: tuple[str, ...], lines: tuple[str, ...], gives: tuple[str, ...]) -> Callable[..., tuple[Any, ...]]:
    """One Python function of some letters: a formula's own text, line by line. Two formulas of the same text share it."""
    body = "".join(f"    {line}\n" for line in (*lines, f"return ({', '.join(f'({one})' for one in gives)},)"))
    space: dict[str, Any] = dict(_NUMPY)
    exec(compile(f"def work({', '.join(letters)}):\n{body}", "<formula>", "exec"), space)  # the text was read and checked where it was declared
    work: Callable[..., tuple[Any, ...]] = space["work"]
    return work


@dataclass(frozen=True)
class _Plan:
    """What one formula, with one option chosen, does in numbers: made once."""

    inputs: tuple[tuple[str, str, float, float, float], ...]  # name, letter, least and most in the declared unit, factor to base units
    answer: tuple[float, float, float, float, float]  # least and most, how far beyond them is still rounding, and the factor
    fixed: dict[str, float]  # constants in base units
    steps: tuple[str, ...]
    work: Callable[..., tuple[Any, ...]]  # the conditions, the steps and the answer
    reasons: list[str]


def _plan(formula: Formula, option: str | None) -> _Plan:
    kept = formula._cache.setdefault("numpy", {})
    if option not in kept:
        kept[option] = _planned(formula, option)
    plan: _Plan = kept[option]
    return plan


def _planned(formula: Formula, option: str | None) -> _Plan:
    bounds = guards(formula, option)
    fixed = {c.letter: c.value * formula.base(c.unit) for c in formula.constants}
    if formula.choice and option is not None:
        fixed |= {c.letter: formula.choice.options[option].constants[c.letter] * formula.base(c.unit) for c in formula.choice.constants}
    lines = []
    for step in formula.steps:
        if isinstance(step, Root):
            lines += [f"{step.letter} = {step.start}", f"for _ in range({step.count}): {step.letter} = {step.letter} - ({step.residual}) / ({_slope(formula, step)})"]
        else:
            lines.append(f"{step.letter} = {step.expression}")
    steps = tuple(step.letter for step in formula.steps)
    taken = (*(symbol.letter for symbol in formula.inputs), *fixed)  # in the order in which `evaluate` gathers them
    work = _function(taken, tuple(lines), (*(one.expression for one in formula.conditions), *steps, formula.expression))
    return _Plan(
        inputs=tuple((one.symbol.name, one.symbol.letter, one.low, one.high, formula.base(one.symbol.unit)) for one in bounds[:-1]),
        answer=(bounds[-1].low, bounds[-1].high, *bounds[-1].reach, formula.base(formula.answer.unit)),
        fixed=fixed, steps=steps, work=work, reasons=[*(one.reason for one in bounds), *(one.reason for one in formula.conditions)])


def _chosen(formula: Formula, inputs: Mapping[str, Any]) -> str | None:
    """The option that was chosen. InputError where a name or an option is none of the formula's."""
    wanted = {symbol.name for symbol in formula.inputs} | ({formula.choice.name} if formula.choice else set())
    if inputs.keys() != wanted:
        missing, unknown = sorted(wanted - set(inputs)), sorted(set(inputs) - wanted)
        raise InputError(f"{formula.name}: wanted {sorted(wanted)}; missing {missing}, unknown {unknown}")
    if formula.choice is None:
        return None
    option = inputs[formula.choice.name]
    if option not in formula.choice.options:
        raise InputError(f"{formula.name}: no {formula.choice.name} called {option!r}; {near(str(option), formula.choice.options)}")
    return str(option)


def evaluate(formula: Formula, inputs: Mapping[str, Any]) -> tuple[Any, Any, dict[str, Any], list[str]]:
    """(answers, codes, letters in base units, reasons): codes index reasons, −1 where there is an answer."""
    plan = _plan(formula, _chosen(formula, inputs))
    given = [np.asarray(inputs[name], dtype=float) for name, *_ in plan.inputs]
    shapes = {value.shape for value in given}
    codes = np.full(shapes.pop() if len(shapes) == 1 else np.broadcast_shapes(*shapes), -1)
    letters: dict[str, Any] = {}

    def refuse(holds: Any, code: int) -> None:
        nonlocal codes
        if not np.logical_and.reduce(holds, axis=None):
            codes = np.where((codes < 0) & ~holds, code, codes)

    with np.errstate(all="ignore"):
        for index, (value, (_, letter, low, high, factor)) in enumerate(zip(given, plan.inputs, strict=True)):
            refuse((value >= low) & (value <= high), index)
            letters[letter] = value * factor
        letters |= plan.fixed
        *found, answer = plan.work(*letters.values())
        conditions = len(found) - len(plan.steps)
        letters |= zip(plan.steps, found[conditions:], strict=True)
        for index, one in enumerate(found[:conditions]):
            refuse(np.asarray(one > 0), len(plan.inputs) + 1 + index)
        low, high, lowest, highest, factor = plan.answer
        answer = np.asarray(answer / factor)
        refuse((answer >= lowest) & (answer <= highest), len(plan.inputs))
        answer = np.where(codes < 0, np.clip(answer, low, high) + 0.0, np.nan)  # a hair beyond an end is that end; and −0 is 0
    return answer, codes, letters, plan.reasons


def column(formula: Formula, inputs: Mapping[str, Any]) -> Any:
    """Answers as a numpy array in the answer's unit; NaN where there is no answer."""
    return evaluate(formula, inputs)[0]


def reason(formula: Formula, inputs: Mapping[str, Any]) -> str | None:
    """The reason why one set of inputs has no answer, or None."""
    _, codes, _, reasons = evaluate(formula, inputs)
    return None if int(codes) < 0 else reasons[int(codes)]
