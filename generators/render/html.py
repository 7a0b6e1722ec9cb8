"""HTML by Jinja with autoescape: text from facts is data, never markup."""

from __future__ import annotations

from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import jinja2
from markupsafe import Markup, escape

from generators import units
from generators.basis import MEANING, Basis, Origin
from generators.chart import Chart
from generators.edge import EdgeChart
from generators.form import Form
from generators.formula import Formula, Worked
from generators.formula.guards import brief, number, told
from generators.render.chart import chart_html
from generators.render.edge import edge_html
from generators.render.live import begun, fields, form_twin, twin
from generators.table import MARKS, Cell, Readings, Table, TextTable


def _plain(head: str) -> str:
    """The number in a head, as a script reads it."""
    return head.replace("−", "-").split()[0]


def _puts(readings: Readings) -> str:
    """Readings as a script takes them apart again; no text of one holds a semicolon."""
    return "; ".join(f"{name}={text}" for name, text in readings)


def _shows(table: Table, column: int | None = None) -> Markup:
    """side, step, scale and offset of a swept table's cells (or of one column's, with its own answer), for a phone that sweeps it again."""
    swept = table.swept
    if swept is None or swept.scale is None or (column is not None and not swept.each):
        return Markup()
    rounding, scale = (table.roundings[column] if table.roundings else table.rounding, swept.each[column][1]) if column is not None else (table.rounding, swept.scale)
    if scale is None:
        return Markup()
    answer = f' data-swept="{escape(swept.each[column][0])}"' if column is not None else ""
    return Markup(f'{answer} data-shows="{rounding.side} {float(rounding.step):.12g} {scale[0]:.12g} {scale[1]:.12g}"')


@cache
def _environment() -> jinja2.Environment:
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(Path(__file__).parent / "templates"), autoescape=True,
        undefined=jinja2.StrictUndefined, auto_reload=False, trim_blocks=True, lstrip_blocks=True)
    environment.globals.update(MARKS=MARKS, rows=_rows, puts=_puts, shows=_shows)
    environment.filters["number"] = number
    environment.filters["brief"] = brief
    environment.filters["plain"] = _plain
    return environment


@lru_cache(maxsize=65536)
def _cell(cell: Cell) -> str:
    """One cell: the same numbers stand in many tables, so each is written once."""
    zone = f' class="zone-{escape(cell.zone)}"' if cell.zone else ""
    reason = f' title="{escape(cell.reason)}"' if cell.reason else ""
    mark = f'<span class="mark"> {MARKS[cell.zone]}</span>' if MARKS[cell.zone] else ""
    return f"<td{zone}{reason}>{escape(cell.text)}{mark}</td>"


def _rows(table: Table) -> Markup:
    """The body of a number table. In Python, since a template costs ten times as much for each cell."""
    def mark(head: str) -> str:
        return f' data-head="{escape(_plain(head))}"' if table.lights[0] else ""

    put = [f' data-puts="{escape(_puts(one))}"' for one in table.swept.rows] if table.swept else [""] * len(table.rows.heads)
    return Markup("".join(f'<tr><th scope="row"{mark(head)}{puts}>{escape(head)}</th>{"".join(map(_cell, cells))}</tr> ' for puts, (head, cells) in zip(put, table.grid(), strict=True)))


def _render(template: str, **values: Any) -> str:
    text = _environment().get_template(template).render(**values)
    # One line: a blank line or an indent would end the raw block in Markdown.
    return "".join(line.strip() + " " for line in text.splitlines() if line.strip()).strip()


def html(shown: Table | TextTable | Chart | EdgeChart) -> str:
    """A table of numbers, a table of words (it stacks into blocks on a narrow screen) or a picture, as one raw block."""
    if isinstance(shown, Chart):
        return chart_html(shown)
    if isinstance(shown, EdgeChart):
        return edge_html(shown)
    if not isinstance(shown, Table):
        return _render("words.html", table=shown)
    metric = {"°F": "°C", "in": "mm"}.get(shown.rows.unit, shown.rows.unit)
    scale = units.linear(shown.rows.unit, metric) if shown.lights[0] and metric != shown.rows.unit else (1.0, 0.0)
    return _render("table.html", table=shown, row_scale=scale)


def stop_html(stop: Any) -> str:
    """A hard stop: what, why, what to do instead, and who decides."""
    return _render("stop.html", stop=stop)


def origin_html(origin: Origin, source: Any = None) -> str:
    """The small mark that opens to where a value comes from."""
    return _render("origin.html", origin=origin, source=source, meaning=MEANING[Basis(origin.basis)])


def formula_html(formula: Formula, worked: Worked | None, source: Any = None, system: str = "metric") -> str:
    """The formula as static MathML, its symbols and ranges, and the example worked."""
    from generators.formula.printed import letter_math, mathml  # late: see formula/declare.py

    lines = [Markup(line) for line in mathml(formula)]
    return _render("formula.html", formula=formula, lines=lines, worked=worked, source=source, system=system, told=lambda value, unit: told(value, unit, system),
                   turned=lambda part: units.turned_range(part.low, part.high, part.unit, system), letter=lambda part: Markup(letter_math(part.tex or part.letter)))


def live_html(formula: Formula, system: str, given: dict[str, Any], option: str | None = None, coin: str = "money") -> str:
    """The keys of a live answer: a form that is read without a script, and filled by one."""
    return _render("live.html", formula=formula, fields=fields(formula, given), system=system, option_now=option or (formula.choice.example if formula.choice else None),
                   answer_twin=twin(formula.answer.unit, formula.answer.high), notes=" ".join(formula.notes[:1]), key=f"live-{formula.name}", coin=coin)


def form_html(form: Form, system: str, coin: str) -> str:
    """A form to fill in: on paper as it stands, on a device with its scripts. `coin` is the sign of the region's money."""
    def shown(text: str, unit: str) -> str:
        return begun(text, unit, system)

    return _render("form.html", form=form, system=system, coin=coin, twin=form_twin, shown=shown)
