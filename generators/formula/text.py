"""An expression as it is declared: letters, numbers, + - * / **, brackets and a few functions, in Python's own grammar. What prints it, reads the same text with sympy."""

from __future__ import annotations

import ast
from collections.abc import Collection
from functools import cache

from generators.formula.parts import DeclarationError

FUNCTIONS = ("exp", "log", "sqrt", "cos", "tan", "atan")
NUMBERS = ("pi",)
_SIGNS = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.Pow)


@cache
def _read(text: str) -> ast.expr:
    try:
        return ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, RecursionError, MemoryError) as error:
        raise DeclarationError(f"cannot read {text!r}: {error}") from None


def read(text: str, letters: Collection[str]) -> ast.expr:
    """The expression as a tree. DeclarationError where it cannot be read, or holds anything but letters, numbers, signs and functions."""
    tree = _read(text)
    unknown = set()

    def look(part: ast.expr) -> None:
        match part:
            case ast.Constant(value=int() | float()) if not isinstance(part.value, bool):
                return
            case ast.Name(id=name):
                if name not in letters and name not in NUMBERS:
                    unknown.add(name)
            case ast.UnaryOp(op=ast.USub() | ast.UAdd(), operand=one):
                look(one)
            case ast.BinOp(left=left, op=sign, right=right) if isinstance(sign, _SIGNS):
                look(left)
                look(right)
            case ast.Call(func=ast.Name(id=name), args=[one], keywords=[]) if name in FUNCTIONS:
                look(one)
            case ast.Call(func=ast.Name(id=name)) if name not in FUNCTIONS:
                unknown.add(name)
            case _:
                raise DeclarationError(f"cannot read {text!r}: {ast.unparse(part)} is no letter, number, sum, product, power or function of one thing: {', '.join(FUNCTIONS)}")

    look(tree)
    if unknown:
        raise DeclarationError(f"unknown letters {sorted(unknown)} in {text!r}")
    return tree
