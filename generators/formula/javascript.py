"""A formula as JavaScript, from the same declaration: same order of work, same guards, same refusals."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

import sympy
from sympy.printing.jscode import JavascriptCodePrinter

from generators.formula.declare import Formula, parsed
from generators.formula.guards import guards
from generators.formula.parts import Root


class _Printer(JavascriptCodePrinter):
    """Powers of two and three as products, which is what numpy does and what a phone does fastest."""

    def _print_Pow(self, expr: sympy.Pow) -> str:
        base, exponent = expr.args
        if exponent.is_Rational and exponent in (2, 3) and base.is_Symbol:
            return "(" + "*".join([self._print(base)] * int(exponent)) + ")"
        return str(super()._print_Pow(expr))


def _code(tree: sympy.Expr) -> str:
    return str(_Printer({"order": "none"}).doprint(tree)).replace("\n", " ")


@cache
def _said(text: str, letters: tuple[sympy.Symbol, ...]) -> str:
    """An expression as it stands in a script: once for all copies of a formula."""
    return _code(parsed(text, letters))


def _option(formula: Formula, name: str) -> dict[str, object]:
    assert formula.choice is not None
    option = formula.choice.options[name]
    return {
        "label": option.label,
        "constants": {c.letter: option.constants[c.letter] * formula.base(c.unit) for c in formula.choice.constants},
        "guards": _guards(formula, name),
    }


def _guards(formula: Formula, option: str | None) -> list[list[Any]]:
    """[least, most, reason] of each input; of the answer also how far beyond them is still rounding."""
    *inputs, answer = guards(formula, option)
    return [*([one.low, one.high, one.reason] for one in inputs), [answer.low, answer.high, answer.reason, *answer.reach]]


def source(formula: Formula, bare: bool = False) -> str:
    """One JavaScript object literal: inputs, answer, options, and `work(x, option)` → [value, reason]. `bare` leaves out what only a page shows."""
    letters = tuple(formula.letters.values())

    def said(text: str) -> str:
        return _said(text, letters)

    lines = []  # names with a $ are this file's own: no letter of a formula can be one
    for index, symbol in enumerate(formula.inputs):
        lines.append(f"const $raw{index} = $x[{json.dumps(symbol.name)}];")
        lines.append(f"if (!($raw{index} >= $g[{index}][0] && $raw{index} <= $g[{index}][1])) return [NaN, $g[{index}][2]];")
        lines.append(f"const {symbol.letter} = $raw{index} * {formula.base(symbol.unit)!r};")
    for constant in formula.constants:
        lines.append(f"const {constant.letter} = {constant.value * formula.base(constant.unit)!r};")
    if formula.choice:
        for constant in formula.choice.constants:
            lines.append(f"const {constant.letter} = $o.constants.{constant.letter};")
    for step in formula.steps:
        if isinstance(step, Root):
            slope = formula.parse(step.slope) if step.slope else sympy.diff(formula.parse(step.residual).doit(), formula.letters[step.letter])
            lines.append(f"let {step.letter} = {said(step.start)};")
            lines.append(f"for (let $i = 0; $i < {step.count}; $i++) {step.letter} -= ({said(step.residual)}) / ({_code(slope)});")
        else:
            lines.append(f"const {step.letter} = {said(step.expression)};")
    for condition in formula.conditions:
        lines.append(f"if (!({said(condition.expression)} > 0)) return [NaN, {json.dumps(condition.reason)}];")
    last = len(formula.inputs)
    lines.append(f"const $answer = ({said(formula.expression)}) / {formula.base(formula.answer.unit)!r};")
    lines.append(f"const [$low, $high, $reason, $lowest, $highest] = $g[{last}];")
    lines.append("if (!($answer >= $lowest && $answer <= $highest)) return [NaN, $reason];")
    lines.append("return [Math.min(Math.max($answer, $low), $high) + 0, null];")  # a hair beyond an end is that end; and −0 is 0
    described: dict[str, Any] = {
        "title": formula.title,
        "inputs": [{"name": s.name, "unit": s.unit, "meaning": s.meaning, "example": s.example} for s in formula.inputs],
        "answer": {"unit": formula.answer.unit, "meaning": formula.answer.meaning},
        "guards": _guards(formula, None),
        "choice": formula.choice.name if formula.choice else None,
        "options": {name: _option(formula, name) for name in formula.choice.options} if formula.choice else {},
    }
    if bare:
        options = {name: {key: option[key] for key in ("constants", "guards")} for name, option in described["options"].items()}
        described = {"guards": described["guards"], "options": options}
    body = "\n    ".join(lines)
    chosen = "const $o = this.options[$option]; if (!$o) return [NaN, 'choose one first']; const $g = $o.guards;" if formula.choice else "const $g = this.guards;"
    return f"{{...{json.dumps(described, ensure_ascii=False)},\n  work($x, $option) {{\n    {chosen}\n    {body}\n  }}}}"


def script(formulas: Mapping[str, Formula], names: Iterable[str] | None = None, bare: bool = False) -> str:
    """A classic script (it must run from file://) that defines `almanacFormulas`."""
    parts = [f"{json.dumps(name)}: {source(formulas[name], bare)}" for name in (names or formulas)]
    return "var almanacFormulas = {\n" + ",\n".join(parts) + "\n};\n"


def script_of(formula: Formula) -> str:
    """A classic script that adds one formula to `almanacFormulas`: a page loads those it uses and no more."""
    return f"(window.almanacFormulas = window.almanacFormulas || {{}})[{json.dumps(formula.name)}] = {source(formula)};\n"
