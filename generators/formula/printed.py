"""A formula in print: static MathML, no script on the page."""

from __future__ import annotations

from functools import cache
from typing import Any

import latex2mathml.converter
import sympy

from generators.formula.declare import Formula, parsed
from generators.formula.parts import Root


def _names(formula: Formula) -> dict[sympy.Symbol, str]:
    parts = [*formula.inputs, *formula.all_constants, *formula.steps]
    return {formula.letters[part.letter]: part.tex or part.letter for part in parts}


class _Picked(sympy.Function):
    """The lesser or the greater of two, as printed only: nothing computes with it."""

    word = ""

    def _latex(self, printer: Any) -> str:
        return rf"\{self.word}\left({', '.join(map(printer._print, self.args))}\right)"


class _Lesser(_Picked):
    word = "min"


class _Greater(_Picked):
    word = "max"


def _root_of_square(one: sympy.Basic) -> bool:
    return isinstance(one, sympy.Pow) and one.exp == sympy.Rational(1, 2) and isinstance(one.base, sympy.Pow) and one.base.exp == 2


def _parted(difference: sympy.Expr) -> tuple[sympy.Expr, sympy.Expr] | None:
    """(x, y) of `x - y` as it was written: the last term is what is taken away."""
    if not isinstance(difference, sympy.Add) or len(difference.args) < 2:
        return None
    *first, last = difference.args
    if not isinstance(last, sympy.Mul) or last.args[0] != -1:
        return None
    taken = list(last.args[1:])
    return (first[0] if len(first) == 1 else sympy.Add(*first, evaluate=False)), (taken[0] if len(taken) == 1 else sympy.Mul(*taken, evaluate=False))


def _picked(tree: sympy.Expr) -> sympy.Expr | None:
    """`min(x, y)` or `max(x, y)` where the whole of `tree` is just that, else None: (x + y)/2 ∓ √((x − y)²)/2, proved term by term.

    A formula may use no other name for them, since numpy, the phone and the bounds of a band all work the same square root.
    """
    for root in (one for one in sympy.preorder_traversal(tree) if _root_of_square(one)):
        pair = _parted(root.base.base)
        if pair is None:
            continue
        far = sympy.Dummy(real=True)
        rest = tree.xreplace({root: far}).doit()
        middle = (pair[0].doit() + pair[1].doit()) / 2
        for sign, kind in ((-1, _Lesser), (1, _Greater)):
            if sympy.expand(rest - middle - sign * far / 2) == 0:
                shown = [sympy.Integer(0) if one.doit() == 0 else _said(one) for one in (reversed(pair) if kind is _Lesser else pair)]
                return kind(*shown, evaluate=False)
    return None


def _said(tree: sympy.Expr) -> sympy.Expr:
    """The tree with each spelled-out minimum, maximum and distance under its own name, all else as it was written."""
    if not any(map(_root_of_square, sympy.preorder_traversal(tree))):
        return tree
    if isinstance(tree, (sympy.Add, sympy.Mul)) and (found := _picked(tree)) is not None:
        return found
    if _root_of_square(tree):
        return sympy.Abs(_said(tree.base.base), evaluate=False)
    return tree.func(*map(_said, tree.args), evaluate=False)


@cache
def _latex(text: str, names: tuple[tuple[sympy.Symbol, str], ...]) -> str:
    tree = parsed(text, tuple(symbol for symbol, _ in names))
    return str(sympy.latex(_said(tree), symbol_names=dict(names), order="none", mul_symbol="\\,"))


@cache
def _block(tex: str) -> str:
    return str(latex2mathml.converter.convert(tex, display="block"))


@cache
def letter_math(tex: str) -> str:
    """One symbol as inline <math>."""
    return str(latex2mathml.converter.convert(tex))


def mathml(formula: Formula) -> list[str]:
    """The answer's line first, then one line for each step, as <math> elements. Made once for each formula."""
    if "print" in formula._cache:
        return list(formula._cache["print"])
    names = tuple(_names(formula).items())
    lines = [f"{formula.answer.tex or formula.answer.letter} = {_latex(formula.expression, names)}"]
    for step in formula.steps:
        if isinstance(step, Root):
            lines.append(f"{_latex(step.residual, names)} = 0")
        else:
            lines.append(f"{step.tex or step.letter} = {_latex(step.expression, names)}")
    formula._cache["print"] = list(map(_block, lines))
    return list(formula._cache["print"])
