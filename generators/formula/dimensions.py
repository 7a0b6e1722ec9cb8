"""Dimensions of an expression, worked symbol by symbol, so that a wrong declaration fails at import."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

import sympy

from generators import units
from generators.formula.parts import DeclarationError

Dimension = dict[str, Fraction]


def of_unit(unit: str) -> Dimension:
    """Dimension of a unit as {base quantity: exponent}; empty for a plain number."""
    return {name: Fraction(power).limit_denominator(12) for name, power in units.dimension(unit)}


def _times(left: Dimension, right: Dimension, power: Fraction = Fraction(1)) -> Dimension:
    total = dict(left)
    for name, exponent in right.items():
        total[name] = total.get(name, Fraction(0)) + exponent * power
    return {name: exponent for name, exponent in total.items() if exponent}


def of_expression(expression: sympy.Expr, letters: Mapping[str, Dimension]) -> Dimension:
    """Dimension of `expression`, or DeclarationError where terms differ or a function is fed a dimension."""
    if expression.is_number:
        return {}
    if isinstance(expression, sympy.Symbol):
        if expression.name not in letters:
            raise DeclarationError(f"wanted a letter that is known by then: an input, a constant, or a step above; came {expression.name}, "
                                   "which is worked only later: declare its step before the first that asks for it")
        return letters[expression.name]
    if isinstance(expression, sympy.Add):
        found = [(term, of_expression(term, letters)) for term in expression.args]
        for term, dimension in found[1:]:
            if dimension != found[0][1]:
                raise DeclarationError(f"{found[0][0]} is {found[0][1] or 'a number'} but {term} is {dimension or 'a number'}")
        return found[0][1]
    if isinstance(expression, sympy.Mul):
        total: Dimension = {}
        for factor in expression.args:
            total = _times(total, of_expression(factor, letters))
        return total
    if isinstance(expression, sympy.Pow):
        base, exponent = expression.args
        dimension = of_expression(base, letters)
        exponent = exponent.doit() if exponent.is_number else exponent  # 1/3 is kept as it was written
        if exponent.is_Rational:
            return _times({}, dimension, Fraction(int(exponent.p), int(exponent.q)))
        if exponent.is_number and not dimension:
            return {}
        if dimension or of_expression(exponent, letters):
            raise DeclarationError(f"{expression}: a power with units must have a plain rational exponent")
        return {}
    if isinstance(expression, sympy.Function):
        for argument in expression.args:
            dimension = of_expression(argument, letters)
            if dimension:
                raise DeclarationError(f"{expression.func}({argument}) is fed {dimension}, not a plain number")
        return {}
    raise DeclarationError(f"cannot read {expression!r}")
