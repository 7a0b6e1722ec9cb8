"""Mutants: one thing spoiled at a time in a formula, in a function, in a declared verdict or in a step of the chain. `tests/mutate.py` asks who notices.

Each is a place (what it is in), words (what was done), and `put()`, which spoils it in this process. Nothing puts it back: it is called in a
process of its own, which ends.
"""

from __future__ import annotations

import ast
import inspect
import pkgutil
import random
import re
import sys
import textwrap
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, ClassVar

import mpmath
from laws_by_hand import LAWS, compare

from generators import formulas, units, verdicts
from generators.formula import Constant, DeclarationError, Formula, Let, OutOfRange
from generators.formula.numeric import evaluate
from generators.formula.parts import Root
from generators.pages.checks import ours, passes, read_checks

ROOT = Path(__file__).resolve().parent.parent
EITHER_WAY = ("share-more", "middle-distance", "time-after")  # sums of two: fed crosswise they are the same
SWAPS = {"+": "-", "-": "+", "*": "/", "/": "*"}
TOKEN = re.compile(r"\*\*|[-+*/]|\d+(?:\.\d+)?(?:e[-+]?\d+)?|[A-Za-z_]\w*")


@dataclass(frozen=True)
class Mutant:
    """One thing spoiled. `put` is None where the declaration itself refused it; `formula` is the spoiled one, where it is one."""

    place: str
    words: str
    put: Callable[[], None] | None
    formula: Formula | None = None


def expressions(text: str, letters: list[str]) -> Iterator[tuple[str, str]]:
    """(what, spoiled text): each operator swapped, each number moved, each letter changed for another of the formula's."""
    for found in TOKEN.finditer(text):
        token, before, after = found[0], text[: found.start()], text[found.end() :]
        if token in SWAPS:
            if token == "-" and (not before.strip() or before.rstrip()[-1] in "(,*/"):
                yield f"sign dropped in {text}", before + after
            else:
                yield f"{token} to {SWAPS[token]} in {text}", before + SWAPS[token] + after
        elif token[0].isdigit():
            value = float(token)
            yield f"{token} moved in {text}", before + repr(value * 1.05 if value else 1.0) + after if "." in token else before + str(int(value) + 1) + after
        elif token in letters:
            for other in letters:
                if other != token:
                    yield f"{token} to {other} in {text}", before + other + after
                    break
        elif token in ("exp", "log", "sqrt", "tan"):
            yield f"{token} left out of {text}", before + after


def of_one_formula(formula: Formula) -> Iterator[tuple[str, Formula]]:
    """(what, spoiled formula). Those that the declaration itself refuses are caught at import."""

    def made(what: str, **changes: Any) -> tuple[str, Any]:
        try:
            return what, replace(formula, **changes, _cache={})
        except DeclarationError:
            return what, None

    letters = [s.letter for s in formula.inputs] + [c.letter for c in formula.all_constants] + [s.letter for s in formula.steps]
    for what, text in expressions(formula.expression, letters):
        yield made(what, expression=text)
    for index, step in enumerate(formula.steps):
        text = step.residual if isinstance(step, Root) else step.expression
        for what, spoiled in expressions(text, letters):
            changed: Any = replace(step, residual=spoiled) if isinstance(step, Root) else replace(step, expression=spoiled) if isinstance(step, Let) else step
            yield made(f"{step.letter}: {what}", steps=(*formula.steps[:index], changed, *formula.steps[index + 1 :]))
    for index, constant in enumerate(formula.constants):
        spoiled_constant: Constant = replace(constant, value=constant.value * 1.05)
        yield made(f"constant {constant.letter} moved by 5 %", constants=(*formula.constants[:index], spoiled_constant, *formula.constants[index + 1 :]))
    for index, condition in enumerate(formula.conditions):
        yield made(f"condition left out: {condition.expression}", conditions=(*formula.conditions[:index], *formula.conditions[index + 1 :]))
        yield made(
            f"condition turned round: {condition.expression}", conditions=(*formula.conditions[:index], replace(condition, expression=f"-({condition.expression})"), *formula.conditions[index + 1 :])
        )
    for index, symbol in enumerate((*formula.inputs, formula.answer)):
        span = symbol.high - symbol.low
        for end, low, high in (("low", symbol.low + 0.1 * span, symbol.high), ("high", symbol.low, symbol.high - 0.1 * span)):
            try:
                example = None if symbol.example is None else min(max(symbol.example, low), high)
                changed_symbol = replace(symbol, low=low, high=high, example=example)
                if index < len(formula.inputs):
                    yield made(f"range of {symbol.name}: {end} end drawn in", inputs=(*formula.inputs[:index], changed_symbol, *formula.inputs[index + 1 :]))
                else:
                    yield made(f"range of the answer: {end} end drawn in", answer=changed_symbol)
            except DeclarationError:
                continue


def of_formulas(names: list[str]) -> Iterator[Mutant]:
    """Expressions, steps, constants, conditions and ranges of the formulas named."""
    for name in names:
        for words, spoiled in of_one_formula(formulas.DECLARED[name]):
            yield Mutant(name, words, None if spoiled is None else lambda name=name, spoiled=spoiled: formulas.DECLARED.__setitem__(name, spoiled), spoiled)


def published(facts: Any, catalogue: dict[str, Formula]) -> dict[str, list[Any]]:
    """Rows of tests/reference by the formula they speak of; only those that the true formula passes."""
    found = defaultdict(list)
    for check in read_checks(ROOT / "tests" / "reference"):
        kind, _, name = check.how.partition(":")
        if kind == "formula" and passes(check, ours(check, facts, catalogue)):
            found[name].append(check)
    return found


def fails_a_row(rows: list[Any], name: str, spoiled: Formula, facts: Any, catalogue: dict[str, Formula]) -> bool:
    """True where a published value is missed by the spoiled formula."""
    for check in rows:
        try:
            if not passes(check, ours(check, facts, {**catalogue, name: spoiled})):
                return True
        except (OutOfRange, ArithmeticError, ValueError, TypeError):
            return True
    return False


def fails_a_law(name: str, spoiled: Formula) -> bool:
    """True where the spoiled formula says something else than the law worked by hand, as `tests/test_laws_by_hand.py` asks it."""
    try:
        return compare(LAWS[name], lambda columns: evaluate(spoiled, columns)) is not None
    except (ArithmeticError, ValueError, TypeError):
        return True


DIGITS = 60  # at so many, two sums that agree in a score of places are one sum: a hair of 1e-12 would still show


def same_sum(true: Formula, spoiled: Formula) -> bool:
    """True where the answer, every step and every condition come to the same: worked in sixty digits at twenty places, a letter for another in `a*b` or `a + b` and the like."""
    if (true.inputs, true.answer, len(true.conditions)) != (spoiled.inputs, spoiled.answer, len(spoiled.conditions)):
        return False  # a range, or a condition that is gone
    chance = random.Random(1)
    with mpmath.workdps(DIGITS):
        worked = 0
        for _ in range(400):
            given = {one.letter: mpmath.mpf(chance.uniform(one.low, one.high)) * units.to_base(one.unit) for one in true.inputs}
            given |= {one.letter: mpmath.mpf(chance.uniform(1, 50)) for one in (true.choice.constants if true.choice else ())}
            one, other = exactly(true, given), exactly(spoiled, given)
            if any((a is None) != (b is None) or (a is not None and abs(a - b) > mpmath.mpf(10) ** -(DIGITS - 15) * (1 + abs(a))) for a, b in zip(one, other, strict=True)):
                return False
            worked += None not in (*one, *other)
            if worked == 20:
                return True
    return False  # it has an answer so seldom that nothing is proved


def exactly(formula: Formula, given: dict[str, Any]) -> list[Any]:
    """Answer, steps and conditions with the working digits of mpmath; None where there is no number."""
    known = given | {one.letter: mpmath.mpf(one.value) * units.to_base(one.unit) for one in formula.constants}
    names = {name: getattr(mpmath, name) for name in ("exp", "log", "sqrt", "cos", "tan", "atan", "pi")}

    def worked(text: str) -> Any:
        if any(value is None for value in known.values()):
            return None
        # Whole numbers as sixty-digit ones, so that 1/3 is a third.
        try:
            found = eval(re.sub(r"(?<![\w.])(\d+(?:\.\d+)?(?:e[-+]?\d+)?)", r"mpf('\1')", text), {"mpf": mpmath.mpf, **names, **known})
        except (ArithmeticError, ValueError):
            return None
        return found if isinstance(found, mpmath.mpf) and mpmath.isfinite(found) else None

    steps = []
    for step in formula.steps:
        if isinstance(step, Root):
            def miss(value: Any, step: Root = step) -> Any:
                known[step.letter] = value
                return worked(step.residual)

            start = worked(step.start)
            try:
                known[step.letter] = mpmath.findroot(miss, start)
            except (ArithmeticError, ValueError, TypeError):
                known[step.letter] = None
        else:
            known[step.letter] = worked(step.expression)
        steps.append(known[step.letter])
    return [worked(formula.expression), *steps, *(worked(one.expression) for one in formula.conditions)]


class Spoil(ast.NodeTransformer):
    """Changes the n-th place of a function that can be wrong: a comparison, a sum, a number, a rounding side, a zone, an and for an or."""

    COMPARISONS: ClassVar[dict[Any, Any]] = {ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.Gt, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq}
    SUMS: ClassVar[dict[Any, Any]] = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
    WORDS: ClassVar[dict[Any, Any]] = {"up": "down", "down": "up", "nearest": "up", "fine": "stop", "care": "fine", "stop": "fine", "least": "most", "most": "least"}
    NAMES: ClassVar[dict[Any, Any]] = {"FINE": "STOP", "CARE": "FINE", "STOP": "FINE"}
    LAYOUT = ("Scale", "Line", "linspace", "round")  # where a number is a matter of looks or of fineness

    def __init__(self, target: int, axes_stay: bool = False) -> None:
        self.target, self.count, self.words, self.axes_stay = target, -1, "", axes_stay

    def _here(self, words: str) -> bool:
        self.count += 1
        if self.count == self.target:
            self.words = words
            return True
        return False

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        self.generic_visit(node)
        kind = type(node.ops[0])
        if kind in self.COMPARISONS and self._here(f"comparison turned round: {ast.unparse(node)}"):
            node.ops[0] = self.COMPARISONS[kind]()
        return node

    def visit_BinOp(self, node: ast.BinOp) -> ast.AST:
        self.generic_visit(node)
        kind, texts = type(node.op), [one for one in (node.left, node.right) if isinstance(one, ast.JoinedStr | ast.Tuple | ast.List) or (isinstance(one, ast.Constant) and isinstance(one.value, str))]
        if kind in self.SUMS and not texts and self._here(f"{kind.__name__} to {self.SUMS[kind].__name__}: {ast.unparse(node)[:80]}"):
            node.op = self.SUMS[kind]()
        return node

    def visit_BoolOp(self, node: ast.BoolOp) -> ast.AST:
        self.generic_visit(node)
        if self._here(f"and for or: {ast.unparse(node)[:80]}"):
            node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        return node

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        value = node.value
        if isinstance(value, str) and value in self.WORDS and self._here(f"{value!r} to {self.WORDS[value]!r}"):
            return ast.copy_location(ast.Constant(self.WORDS[value]), node)
        if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) > 1e-6 and self._here(f"{value} moved"):
            return ast.copy_location(ast.Constant(value * 1.1 if isinstance(value, float) else value + 1), node)
        return node

    def visit_Name(self, node: ast.Name) -> ast.AST:
        if node.id in self.NAMES and isinstance(node.ctx, ast.Load) and self._here(f"{node.id} to {self.NAMES[node.id]}"):
            return ast.copy_location(ast.Name(self.NAMES[node.id], ast.Load()), node)
        return node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        return node if name in self.LAYOUT else self.generic_visit(node)

    def visit_Tuple(self, node: ast.Tuple) -> ast.AST:
        """The stops of an axis: another one gives another row, and a true one."""
        values = [one.operand if isinstance(one, ast.UnaryOp) else one for one in node.elts]
        plain = len(values) >= 4 and all(isinstance(one, ast.Constant) and isinstance(one.value, int | float) for one in values)
        return node if plain and self.axes_stay else self.generic_visit(node)

    def visit_Raise(self, node: ast.Raise) -> ast.AST:
        return node  # the words of an error

    def visit_JoinedStr(self, node: ast.JoinedStr) -> ast.AST:
        return node  # a sentence

    def visit_Expr(self, node: ast.Expr) -> ast.AST:
        return node if isinstance(node.value, ast.Constant) else self.generic_visit(node)  # a docstring


def rooms_modules(room: str) -> list[ModuleType]:
    """A module, or every module of a package."""
    first = import_module(f"generators.{room}")
    return [first, *(import_module(f"{first.__name__}.{one.name}") for one in pkgutil.iter_modules(getattr(first, "__path__", [])))]


def of_code(modules: list[ModuleType]) -> Iterator[Mutant]:
    """Every function of some modules, place by place."""
    for module in modules:
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ != module.__name__ or hasattr(function, "__wrapped__"):
                continue
            tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
            defined = tree.body[0]
            assert isinstance(defined, ast.FunctionDef)
            defined.decorator_list, defined.args.defaults, defined.args.kw_defaults, defined.returns = [], [], [None for _ in defined.args.kwonlyargs], None
            text = ast.unparse(tree)
            for target in range(500):
                spoiler = Spoil(target, axes_stay=".tables" in module.__name__)
                spoiled = ast.fix_missing_locations(spoiler.visit(ast.parse(text)))
                if not spoiler.words:
                    break

                def put(function: Any = function, tree: ast.Module = spoiled, name: str = name) -> None:
                    space: dict[str, Any] = {}
                    exec(compile(tree, function.__code__.co_filename, "exec"), vars(sys.modules[function.__module__]), space)
                    function.__code__ = space[name].__code__

                yield Mutant(f"{module.__name__.removeprefix('generators.')}.{name}", spoiler.words, put)


def of_verdicts() -> Iterator[Mutant]:
    """Each declared test: left out, its sign turned, a stop lowered to care, asked of everybody or of nobody."""
    turned: dict[str, Any] = {"<": ">", ">": "<", "is": "not", "not": "is"}
    for name, verdict in verdicts.DECLARED.items():
        for place, test in enumerate(verdict.tests):
            changes = [("left out", None)] if len(verdict.tests) > 1 else []
            if test.sign in turned:
                changes.append((f"sign {test.sign} turned", replace(test, sign=turned[test.sign])))
            if test.outcome == "stop":
                changes.append(("stop lowered to care", replace(test, outcome="care", doubt="care")))
            if test.when:
                changes.append(("asked of everybody", replace(test, when=())))
            for words, spoiled in changes:
                tests = (*verdict.tests[:place], *((spoiled,) if spoiled else ()), *verdict.tests[place + 1 :])
                yield Mutant(f"verdict {name}", f"{test.name}: {words}", lambda name=name, verdict=verdict, tests=tests: verdicts.DECLARED.__setitem__(name, replace(verdict, tests=tests)))


def of_links() -> Iterator[Mutant]:
    """Each step of the chain that has two inputs or more fed crosswise, but for plain sums; each least for most."""
    from generators.chain import links, today

    for place, link in enumerate(today.LINKS):
        spoiled: Any = None
        if isinstance(link, links.Step) and len(link.inputs) > 1 and not set([link.formula] if isinstance(link.formula, str) else link.formula.values()) & set(EITHER_WAY):
            names, sources = list(link.inputs), list(link.inputs.values())
            spoiled, words = replace(link, inputs=dict(zip(names, [*sources[1:], sources[0]], strict=True))), "inputs fed crosswise"
        elif isinstance(link, links.Pick | links.Fold) and link.how in ("least", "most"):
            spoiled, words = replace(link, how="most" if link.how == "least" else "least"), f"{link.how} turned"
        if spoiled is not None:
            def put(place: int = place, spoiled: Any = spoiled) -> None:
                today.LINKS = (*today.LINKS[:place], spoiled, *today.LINKS[place + 1 :])

            yield Mutant(f"chain {link.name}", words, put)
