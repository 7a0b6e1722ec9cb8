"""Would a wrong formula be noticed? `python tests/mutate.py`: each declared formula, and each table's safe side and zones, is spoiled in turn.

A mutant changes one thing: an operator, a number or a letter in an expression, a constant, an end of a range, a condition, a step, a rounding
side, the sense of a comparison in a table's builder. It is caught where a check that passes on the true code fails on it. For formulas the
checks are the published rows in tests/reference, and the tests named in `FILES`; the mutants are made in this process. No check is taken from
what the code gives today.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import inspect
import io
import os
import re
import sys
import textwrap
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, ClassVar

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from generators import formulas, tables
from generators.facts import load
from generators.formula import Constant, DeclarationError, Formula, Let, OutOfRange
from generators.formula.parts import Root
from generators.pages.checks import ours, passes, read_checks

ROOT = Path(__file__).resolve().parent.parent
SWAPS = {"+": "-", "-": "+", "*": "/", "/": "*"}
TOKEN = re.compile(r"\*\*|[-+*/]|\d+(?:\.\d+)?(?:e[-+]?\d+)?|[A-Za-z_]\w*")


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


def mutants(formula: Formula) -> Iterator[tuple[str, Formula]]:
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


def fails_a_test(files: list[str]) -> bool:
    """True where a test in these files fails; in this process, so that what was spoiled stays spoiled."""
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        return pytest.main(["-x", "-q", "-p", "no:cacheprovider", "-p", "no:hypothesispytest", "-n", "0", "--no-header", "-W", "ignore", *files]) not in (0, 5)


def spoil_formula(name: str, spoiled: Formula) -> Any:
    """Put the spoiled formula where everything looks for it; a call that puts the true one back."""
    true = formulas.DECLARED[name]
    formulas.DECLARED[name] = spoiled
    return lambda: formulas.DECLARED.__setitem__(name, true)


class Spoil(ast.NodeTransformer):
    """Changes the n-th place in a builder that decides a safe side: a comparison, a rounding side, a zone."""

    COMPARISONS: ClassVar[dict[Any, Any]] = {ast.Lt: ast.Gt, ast.Gt: ast.Lt, ast.LtE: ast.Gt, ast.GtE: ast.Lt}
    WORDS: ClassVar[dict[Any, Any]] = {"up": "down", "down": "up", "nearest": "up", "fine": "stop", "care": "fine", "stop": "fine"}
    NAMES: ClassVar[dict[Any, Any]] = {"FINE": "STOP", "CARE": "FINE", "STOP": "FINE"}

    def __init__(self, target: int) -> None:
        self.target, self.count, self.what = target, -1, ""

    def _here(self, what: str) -> bool:
        self.count += 1
        if self.count == self.target:
            self.what = what
            return True
        return False

    def visit_Compare(self, node: ast.Compare) -> ast.AST:
        self.generic_visit(node)
        kind = type(node.ops[0])
        if kind in self.COMPARISONS and self._here(f"comparison turned round: {ast.unparse(node)}"):
            node.ops[0] = self.COMPARISONS[kind]()
        return node

    def visit_Call(self, node: ast.Call) -> ast.AST:
        if isinstance(node.func, ast.Name) and node.func.id == "Rounding" and node.args and isinstance(node.args[0], ast.Constant):
            side = str(node.args[0].value)
            if self._here(f"rounds {self.WORDS[side]} instead of {side}: {ast.unparse(node)}"):
                node.args[0] = ast.Constant(self.WORDS[side])
        elif isinstance(node.func, ast.Attribute) and node.func.attr == "where":
            for index, argument in enumerate(node.args[1:], 1):
                if isinstance(argument, ast.Name) and argument.id in self.NAMES and self._here(f"zone {argument.id} to {self.NAMES[argument.id]}: {ast.unparse(node)[:70]}"):
                    node.args[index] = ast.Name(self.NAMES[argument.id], ast.Load())
                elif isinstance(argument, ast.Constant) and argument.value in self.WORDS and self._here(f"zone {argument.value!r} to {self.WORDS[argument.value]!r}: {ast.unparse(node)[:70]}"):
                    node.args[index] = ast.Constant(self.WORDS[argument.value])
        self.generic_visit(node)
        return node


def table_mutants() -> Iterator[tuple[str, str, Any]]:
    """(function, what, put): `put()` spoils the function in place and gives back what puts it right."""
    for chapter in tables.CHAPTERS:
        for name, function in inspect.getmembers(chapter, inspect.isfunction):
            if function.__module__ != chapter.__name__:
                continue
            source = textwrap.dedent(inspect.getsource(function))
            for target in range(200):
                spoiler = Spoil(target)
                tree = ast.fix_missing_locations(spoiler.visit(ast.parse(source)))
                if not spoiler.what:
                    break

                def put(function: Any = function, tree: ast.Module = tree, name: str = name) -> Any:
                    space: dict[str, Any] = {}
                    exec(compile(tree, function.__code__.co_filename, "exec"), vars(sys.modules[function.__module__]), space)
                    true = function.__code__
                    function.__code__ = space[name].__code__
                    return lambda: setattr(function, "__code__", true)

                yield f"{chapter.__name__.rpartition('.')[2]}.{name}", spoiler.what, put


def main() -> int:
    """Every mutant, told in figures, and those that nobody caught by name."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", default="", help="formulas and tables whose name holds this")
    parser.add_argument("--rows-only", action="store_true", help="published rows only: quick, and a lower bound")
    options = parser.parse_args()
    os.chdir(ROOT)
    os.environ["ALMANAC_MUTATION"] = "1"
    started = time.monotonic()
    facts = load(ROOT)
    catalogue = formulas.catalogue(facts)
    rows = published(facts, catalogue)
    tests = ["tests/" + name for name in FILES]
    caught, total, missed = Counter[str](), Counter[str](), []
    for name in formulas.DECLARED:
        if options.only not in name:
            continue
        for what, spoiled in mutants(formulas.DECLARED[name]):
            kind = "range" if "range of" in what else "formula"
            total[kind] += 1
            if spoiled is None:
                caught[f"{kind}, when it is declared"] += 1
                continue
            with contextlib.suppress(Exception):
                if formulas.DECLARED[name].choice:
                    spoiled = spoiled.with_options(catalogue[name].choice.options)  # type: ignore[union-attr]
            if fails_a_row(rows[name], name, spoiled, facts, catalogue):
                caught[f"{kind}, by a published row"] += 1
                continue
            back = spoil_formula(name, spoiled)
            try:
                if not options.rows_only and "range of" not in what and fails_a_test(tests):
                    caught["formula, by a test"] += 1
                else:
                    missed.append(f"{name}: {what}")
            finally:
                back()
    if not options.rows_only:
        for name, what, put in table_mutants():
            if options.only not in name:
                continue
            total["table"] += 1
            back = put()
            try:
                if fails_a_test(TABLE_TESTS):
                    caught["table, by a test"] += 1
                else:
                    missed.append(f"{name}: {what}")
            finally:
                back()
    for one in missed:
        print(f"not caught: {one}")
    for kind in ("formula", "range", "table"):
        good = sum(number for what, number in caught.items() if what.startswith(kind))
        if total[kind]:
            print(f"{kind} mutants: {good} of {total[kind]} caught = {100 * good / total[kind]:.1f} %  (goal 95 % or more)")
    print("; ".join(f"{what} {number}" for what, number in caught.items()) + f"; {time.monotonic() - started:.0f} s")
    return 0


# Tests that speak of numbers and need no browser; files that a chapter brings with it are taken up by their name.
FILES = [path.name for path in sorted((ROOT / "tests").glob("test_*.py")) if path.stem in ("test_values")]
TABLE_TESTS = ["tests/" + path.name for path in sorted((ROOT / "tests").glob("test_*.py")) if path.stem in ("test_tables", "test_safe_side") or path.stem.startswith("test_tables_")]

if __name__ == "__main__":
    sys.exit(main())
