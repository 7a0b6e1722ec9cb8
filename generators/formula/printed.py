"""A formula in print: static MathML, no script on the page."""

from __future__ import annotations

from functools import cache

import latex2mathml.converter
import sympy

from generators.formula.declare import Formula
from generators.formula.parts import Root


def _names(formula: Formula) -> dict[sympy.Symbol, str]:
    parts = [*formula.inputs, *formula.all_constants, *formula.steps]
    return {formula.letters[part.letter]: part.tex or part.letter for part in parts}


def _latex(formula: Formula, text: str) -> str:
    return str(sympy.latex(formula.parse(text), symbol_names=_names(formula), order="none", mul_symbol="\\,"))


@cache
def letter_math(tex: str) -> str:
    """One symbol as inline <math>."""
    return str(latex2mathml.converter.convert(tex))


def mathml(formula: Formula) -> list[str]:
    """The answer's line first, then one line for each step, as <math> elements. Made once for each formula."""
    if "print" in formula._cache:
        return list(formula._cache["print"])
    lines = [f"{formula.answer.tex or formula.answer.letter} = {_latex(formula, formula.expression)}"]
    for step in formula.steps:
        if isinstance(step, Root):
            lines.append(f"{_latex(formula, step.residual)} = 0")
        else:
            lines.append(f"{step.tex or step.letter} = {_latex(formula, step.expression)}")
    formula._cache["print"] = [latex2mathml.converter.convert(line, display="block") for line in lines]
    return list(formula._cache["print"])
