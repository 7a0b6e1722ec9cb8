"""The Formula: declared once; read as numpy, as JavaScript, as print, and as a worked example."""

from __future__ import annotations

import ast
from collections.abc import Mapping
from copy import copy
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any

from generators import units
from generators.basis import Origin
from generators.formula.dimensions import of_expression, of_unit, times
from generators.formula.parts import Choice, Condition, Constant, DeclarationError, Let, Root, Symbol
from generators.formula.text import FUNCTIONS, NUMBERS, read

if TYPE_CHECKING:
    import sympy

@cache
def parsed(text: str, letters: tuple[sympy.Symbol, ...]) -> sympy.Expr:
    """An expression for print and scripts, kept in the form it was written in: read once for all copies of a formula, since each edition, region and system has its own.

    Sympy takes as long to begin as all else that a sum on the command line needs, so it is asked for late.
    """
    import sympy
    from sympy.parsing.sympy_parser import parse_expr

    read(text, [one.name for one in letters])
    names = {name: getattr(sympy, name) for name in (*FUNCTIONS, *NUMBERS)} | {one.name: one for one in letters}
    # The parser needs these to build what it reads.
    builders = {name: getattr(sympy, name) for name in ("Integer", "Float", "Rational", "Symbol", "Add", "Mul", "Pow")}
    return parse_expr(text, local_dict=names, global_dict=builders, evaluate=False)


@dataclass(frozen=True)
class Formula:
    """A formula with its units, valid ranges, conditions and source, checked when it is made.

    Expressions are written over the letters of inputs, constants and steps, and compute in coherent base
    units (SI, with temperatures in °C). `origin` says where the formula comes from. `system` is that of its words:
    a measure that a text says both ways is kept in it, and what a range refuses is told in it.
    Raises DeclarationError where a letter is unknown, dimensions disagree or a range is empty.
    """

    name: str
    title: str
    inputs: tuple[Symbol, ...]
    answer: Symbol
    expression: str
    origin: Origin
    constants: tuple[Constant, ...] = ()
    steps: tuple[Let | Root, ...] = ()
    conditions: tuple[Condition, ...] = ()
    choice: Choice | None = None
    notes: tuple[str, ...] = ()
    system: str = "metric"
    _cache: dict[str, Any] = field(default_factory=dict, repr=False, compare=False)

    def __post_init__(self) -> None:
        for symbol in (*self.inputs, self.answer):
            if not symbol.low < symbol.high:
                raise DeclarationError(f"{self.name}: range of {symbol.name} is empty")
        for symbol in self.inputs:
            if symbol.example is None or not symbol.low <= symbol.example <= symbol.high:
                raise DeclarationError(f"{self.name}: {symbol.name} wants an example inside its range")
        if not self.origin.source and self.origin.basis in ("published", "from memory"):
            raise DeclarationError(f"{self.name}: a {self.origin.basis} formula names its source")
        try:
            self._check_dimensions()
        except DeclarationError as error:
            raise DeclarationError(f"{self.name}: {error}") from None

    def _check_dimensions(self) -> None:
        known = {symbol.letter: of_unit(symbol.unit) for symbol in self.inputs}
        known |= {constant.letter: of_unit(constant.unit) for constant in self.all_constants}
        for step in self.steps:
            if isinstance(step, Root):
                found = of_expression(self._text(step.start), known)  # begins before it has a value
                known[step.letter] = of_unit(step.unit)
                missed = of_expression(self._text(step.residual), known)
                if step.slope and times(of_expression(self._text(step.slope), known), known[step.letter]) != missed:
                    raise DeclarationError(f"{step.letter}: its slope times {step.letter} is no {missed or 'number'}, as its residual is")
            else:
                found = of_expression(self._text(step.expression), known)
                known[step.letter] = of_unit(step.unit)
            if found != of_unit(step.unit):
                raise DeclarationError(f"{step.letter} is declared in {step.unit} but works out as {found}")
        for condition in self.conditions:
            of_expression(self._text(condition.expression), known)
        found = of_expression(self._text(self.expression), known)
        if found != of_unit(self.answer.unit):
            raise DeclarationError(f"the answer is declared in {self.answer.unit} but works out as {found}")

    @property
    def all_constants(self) -> tuple[Constant, ...]:
        """Fixed constants, then those that the choice gives."""
        return self.constants + (self.choice.constants if self.choice else ())

    @cached_property
    def _names(self) -> list[str]:
        """Every letter an expression may use."""
        names = [s.letter for s in self.inputs] + [c.letter for c in self.all_constants] + [s.letter for s in self.steps]
        if len(set(names)) < len(names):
            raise DeclarationError(f"{self.name}: a letter is declared twice")
        return names

    def _text(self, text: str) -> ast.expr:
        return read(text, self._names)

    @cached_property
    def letters(self) -> dict[str, sympy.Symbol]:
        """Every letter an expression may use, as print has it."""
        import sympy

        return {name: sympy.Symbol(name, real=True) for name in self._names}

    def parse(self, text: str) -> sympy.Expr:
        """Read an expression, kept in the form it was written in."""
        return parsed(text, tuple(self.letters.values()))

    def with_options(self, options: Mapping[str, Any]) -> Formula:
        """The same formula with the named choices (cups) of this handbook."""
        assert self.choice is not None
        return replace(self, choice=replace(self.choice, options=dict(options)), _cache={})

    def told_in(self, system: str) -> Formula:
        """The same formula with its words in one system of units: those that say a measure both ways keep that system's own."""
        def told(text: str) -> str:
            return units.one_system(text, system)

        def meant(part: Any) -> Any:
            return replace(part, meaning=told(part.meaning)) if "(" in part.meaning else part

        ready = copy(self)  # nothing that was checked when it was made changes, so it is not checked again
        fresh: dict[str, Any] = {
            "title": told(self.title), "inputs": tuple(map(meant, self.inputs)), "answer": meant(self.answer), "constants": tuple(map(meant, self.constants)), "steps": tuple(map(meant, self.steps)),
            "conditions": tuple(replace(one, reason=told(one.reason)) for one in self.conditions), "notes": tuple(map(told, self.notes)), "system": system, "_cache": {}}
        for name, value in fresh.items():
            object.__setattr__(ready, name, value)
        return ready

    def base(self, letter_unit: str) -> float:
        """Factor from a declared unit to the unit the expression computes in."""
        return units.to_base(letter_unit)

    # The three readings live in their own files; these are the names that everyone calls.

    def column(self, inputs: Mapping[str, Any]) -> Any:
        """Numpy column of answers in the answer's unit, NaN where there is none. Inputs in their declared units."""
        from generators.formula.numeric import column

        return column(self, inputs)

    def reason(self, inputs: Mapping[str, Any]) -> str | None:
        """Why there is no answer for one set of plain inputs, or None where there is one."""
        from generators.formula.numeric import reason

        return reason(self, inputs)

    def work(self, inputs: Mapping[str, Any]) -> Any:
        """One set of inputs, as numbers or texts with units, worked with its reasons: a Worked, or OutOfRange."""
        from generators.formula.worked import work

        return work(self, inputs)
