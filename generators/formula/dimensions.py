"""Dimensions of an expression, worked symbol by symbol, so that a wrong declaration fails at import."""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable, Mapping
from fractions import Fraction

from generators import units
from generators.formula.parts import DeclarationError
from generators.formula.text import NUMBERS

Dimension = dict[str, Fraction]
_WHOLE: dict[type[ast.operator], Callable[[Fraction, Fraction], Fraction]] = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}


def of_unit(unit: str) -> Dimension:
    """Dimension of a unit as {base quantity: exponent}; empty for a plain number."""
    return {name: Fraction(power).limit_denominator(12) for name, power in units.dimension(unit)}


def times(left: Dimension, right: Dimension, power: Fraction = Fraction(1)) -> Dimension:
    """Dimension of a product, the right side to a power."""
    total = dict(left)
    for name, exponent in right.items():
        total[name] = total.get(name, Fraction(0)) + exponent * power
    return {name: exponent for name, exponent in total.items() if exponent}


def _ratio(exponent: ast.expr) -> Fraction | None:
    """A whole number, or whole numbers with signs between them: 1/3 as it is written. None for anything else."""
    match exponent:
        case ast.Constant(value=int() as whole):
            return Fraction(whole)
        case ast.UnaryOp(op=ast.USub(), operand=one):
            return None if (found := _ratio(one)) is None else -found
        case ast.BinOp(left=left, op=sign, right=right) if type(sign) in _WHOLE:
            first, second = _ratio(left), _ratio(right)
            if first is None or second is None or (isinstance(sign, ast.Div) and not second):
                return None
            return _WHOLE[type(sign)](first, second)
    return None


def of_expression(expression: ast.expr, letters: Mapping[str, Dimension]) -> Dimension:
    """Dimension of `expression`, as `text.read` gives it, or DeclarationError where terms differ or a function is fed a dimension."""
    match expression:
        case ast.Constant():
            return {}
        case ast.Name(id=name):
            if name in NUMBERS:
                return {}
            if name not in letters:
                raise DeclarationError(f"wanted a letter that is known by then: an input, a constant, or a step above; came {name}, "
                                       "which is worked only later: declare its step before the first that asks for it")
            return letters[name]
        case ast.UnaryOp(operand=one):
            return of_expression(one, letters)
        case ast.BinOp(left=left, op=ast.Add() | ast.Sub(), right=right):
            first, second = of_expression(left, letters), of_expression(right, letters)
            if first != second:
                raise DeclarationError(f"{ast.unparse(left)} is {first or 'a number'} but {ast.unparse(right)} is {second or 'a number'}")
            return first
        case ast.BinOp(left=left, op=ast.Mult() | ast.Div() as sign, right=right):
            return times(of_expression(left, letters), of_expression(right, letters), Fraction(-1 if isinstance(sign, ast.Div) else 1))
        case ast.BinOp(left=base, op=ast.Pow(), right=exponent):
            dimension = of_expression(base, letters)
            if (power := _ratio(exponent)) is not None:
                return times({}, dimension, power)
            if dimension or of_expression(exponent, letters):
                raise DeclarationError(f"{ast.unparse(expression)}: a power with units must have a plain rational exponent")
            return {}
        case ast.Call(func=ast.Name(id=name), args=[argument]):
            dimension = of_expression(argument, letters)
            if name == "sqrt":
                return times({}, dimension, Fraction(1, 2))
            if dimension:
                raise DeclarationError(f"{name}({ast.unparse(argument)}) is fed {dimension}, not a plain number")
            return {}
    raise DeclarationError(f"cannot read {ast.unparse(expression)}")
