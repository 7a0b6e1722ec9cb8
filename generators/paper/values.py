"""Values as nodes for the template: plain texts, numbers and lists, ready for JSON. What a value says is read, never worked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from generators import units
from generators.basis import MEANING, Basis
from generators.chart import Chart
from generators.edge import EdgeChart
from generators.formula.guards import brief, number, told
from generators.formula.printed import letter_math, mathml
from generators.paper.maths import broken, maths, spoken
from generators.paper.press import Kept
from generators.paper.sizes import Paper, grid_cut, width, words_cut
from generators.render import SIGNS
from generators.render.alone import alone
from generators.render.chart import chart_svg
from generators.render.edge import edge_svg
from generators.render.live import begun, form_twin
from generators.render.sign import sign_svg
from generators.table import MARKS, Table, TextTable

Node = dict[str, Any]
FORMULAS = "reference/formulas.md"


@dataclass
class Values:
    """Turns what the press kept into nodes. `known` are the places that a link can lead to in this book."""

    facts: Any
    paper: Paper
    known: frozenset[str]

    def node(self, kept: Kept, page: str) -> Node | None:
        """One value as a node, or None where nothing of it belongs on paper."""
        make = getattr(self, f"_{kept.kind}")
        return make(kept.value, page, **kept.said)  # type: ignore[no-any-return]

    def _shown(self, shown: Any, page: str) -> Node:
        if isinstance(shown, Chart):
            return {"k": "picture", **alone(chart_svg(shown)), "width": 0.72, "title": shown.title, "note": " ".join([shown.caption, *shown.notes])}
        if isinstance(shown, EdgeChart):
            return {"k": "edge", **alone(edge_svg(shown)), "title": shown.title, "caption": shown.caption, "width": shown.width, "height": shown.height, "how": list(shown.how),
                    "take": shown.take, "note": " ".join((shown.reading_error, *shown.notes))}
        return self._words(shown) if isinstance(shown, TextTable) else self._grid(shown)

    def _grid(self, table: Table) -> Node:
        def joined(text: str, zone: str) -> str:
            return text + (f"\u00a0{MARKS[zone]}" if MARKS.get(zone) else "")

        rows = [(head, [(joined(cell.text, cell.zone), cell.zone) for cell in cells]) for head, cells in table.grid()]
        corner = f"{table.rows.label} {table.rows.unit}".strip()
        cut = grid_cut(self.paper, table.columns.heads, corner, [(head, [text for text, _ in cells]) for head, cells in rows])
        pieces = [{"heads": [table.columns.heads[column] for column in piece], "lines": [width(head) * cut.size + 7 <= cut.first for head, _ in rows],
                   "rows": [[head, *(cells[column][0] for column in piece)] for head, cells in rows], "zones": [[cells[column][1] for column in piece] for _, cells in rows]} for piece in cut.pieces]
        rounded = "Each column is rounded to its own safe side." if table.roundings else f"In {table.unit}, {table.rounding.words} {table.rounding.step:g}."
        return {"k": "grid", "title": table.title, "caption": table.caption, "corner": table.rows.label, "corner-unit": table.rows.unit, "over": table.columns.label, "over-unit": table.columns.unit,
                "pieces": pieces, "size": cut.size, "first": cut.first, "column": cut.column, "whole": cut.whole,
                "legend": [{"z": zone, "t": f"{mark} {word}"} for zone, mark, word in table.zones_used()], "note": " ".join([rounded, *table.notes]), "reasons": table.reasons_used()}

    def _words(self, table: TextTable) -> Node:
        if table.grid:
            cut = grid_cut(self.paper, table.heads[1:], table.heads[0], [(row[0], _halves(row[1:])) for row in table.rows])
            zones = table.zones or ((("",) * (len(table.heads) - 1)),) * len(table.rows)
            pieces = [{"heads": [table.heads[column + 1] for column in piece], "lines": [False] * len(table.rows), "rows": [[row[0], *(row[column + 1] for column in piece)] for row in table.rows],
                       "zones": [[line[column] for column in piece] for line in zones]} for piece in cut.pieces]
            return {"k": "grid", "title": table.title, "caption": table.caption, "corner": table.heads[0], "corner-unit": "", "over": "", "over-unit": "", "pieces": pieces,
                    "size": cut.size, "first": cut.first, "column": cut.column, "whole": cut.whole, "legend": [], "note": " ".join(table.notes), "reasons": []}
        how = words_cut(self.paper, table.heads, table.rows)
        return {"k": "words", "title": table.title, "caption": table.caption, "heads": list(table.heads), "rows": [list(row) for row in table.rows], "note": " ".join(table.notes),
                "blocks": how.blocks, "size": how.size, "widths": list(how.widths), "whole": how.whole}

    def _formula(self, formula: Any, page: str, worked: Any, source: Any, system: str = "metric") -> Node:
        inputs = ", ".join(f"{name.replace('-', ' ')} {told(value, unit, system)}" if unit else f"{name.replace('-', ' ')} {value}" for name, value, unit in worked.inputs)
        steps = "".join(f"; {name} {brief(value) if unit == '1' else told(value, unit, system)}" for name, value, unit in worked.steps if len(name) > 1)
        node: Node = {"k": "formula", "lines": [self._line(one, f"{formula.title}: {spoken(one)}") for one in map(maths, mathml(formula))],
                      "worked": f"{inputs}{steps}", "answer": brief(worked.value) if worked.unit == "1" else told(worked.value, worked.unit, system).replace("Δ", ""),
                      "basis": str(formula.origin.basis), "see": None, "symbols": []}
        if page == FORMULAS:
            for one, words in [*((one, one.meaning) for one in formula.inputs), (formula.answer, f"{formula.answer.meaning} (answer)")]:
                low, high, unit = units.turned_range(one.low, one.high, one.unit, system)
                node["symbols"].append([self._symbol(one), words, _with_unit(f"{brief(low)} to {brief(high)}", unit)])
            node["symbols"] += [[self._symbol(one), one.meaning, _with_unit(number(one.value), one.unit)] for one in formula.constants]
            whence = (source.title + (f", {source.part}" if source.part else "")) if source else str(formula.origin.source)
            node["notes"] = list(formula.notes)
            node["source"] = f"Source: {whence} ({formula.origin.basis})." if whence else f"Basis: {formula.origin.basis}."
        elif f"{FORMULAS}#{formula.name}" in self.known:
            node["see"] = f"{FORMULAS}#{formula.name}"
        return node

    def _line(self, line: Node, alt: str) -> Node:
        """One line of a formula; with the pieces it may be broken into where it could be wider than the sheet."""
        return {"m": line, "alt": alt} | ({"pieces": broken(line)} if len(alt) * self.paper.base > self.paper.across * 0.8 else {})

    def _symbol(self, part: Any) -> Node:
        return {"m": maths(letter_math(part.tex or part.letter)), "alt": part.letter}

    def _live(self, formula: Any, page: str) -> Node | None:
        place = f"{FORMULAS}#{formula.name}"
        return {"k": "by-hand", "title": formula.title, "to": place} if place in self.known and page != FORMULAS else None

    def _stop(self, stop: Any, page: str) -> Node:
        return {"k": "stop", "title": stop.title, "what": stop.what_can_happen, "do": stop.do, "never": stop.never, "who": stop.who_decides}

    def _signs(self, codes: tuple[str, ...], page: str) -> Node:
        return {"k": "signs", "signs": [{**alone(sign_svg(code)), "code": code, "says": SIGNS[code][0]} for code in codes]}

    def _picture(self, svg: str, page: str, width: float) -> Node:
        return {"k": "picture", **alone(svg), "width": width, "title": "", "note": ""}

    def _origin(self, origin: Any, page: str, source: Any) -> Node:
        told = f" {source.title}{', ' + source.part if source.part else ''}." if source else f" {origin.source}." if origin.source else ""
        return {"k": "note", "c": [f"{str(origin.basis).capitalize()}: {MEANING[Basis(origin.basis)]}.{told}" + (f" {origin.date}." if origin.date else "")]}

    def _form(self, form: Any, page: str, system: str, coin: str) -> Node:
        def unit(name: str) -> str:
            return "" if name in ("", "1", "×") else (form_twin(name)[0] if system == "us" else name).replace("Δ", "").replace("money", coin)

        blocks = []
        for block in form.blocks:
            entries = [{"label": units.one_system(one.label, system), "kind": one.kind, "unit": unit(one.unit),
                        "options": [units.one_system(words, system) for _, words in one.options if words] if len(one.options) <= 5 else []} for one in block.entries]
            # A line of its own for each paint, wall or reading begins empty: what it starts with on a device belongs to one of them.
            starts = [{one.name: "" if block.many or one.start == "today" else one.start for one in block.entries} | row for row in block.rows]
            rows = [[units.one_system(dict(one.options).get(row[one.name], begun(row[one.name], one.unit, system)), system) for one in block.entries] for row in starts]
            if block.many:
                rows += [[""] * len(entries)] * max(0, 3 - len(rows))
            blocks.append({"title": block.title, "hint": units.one_system(block.hint, system), "many": block.many, "entries": entries, "rows": rows})
        return {"k": "form", "title": form.title, "blocks": blocks}


def _with_unit(text: str, unit: str) -> str:
    """A figure or a range with its unit; a bare number has none."""
    return text if unit == "1" else f"{text}\u00a0{unit}"


def _halves(cells: tuple[str, ...]) -> list[str]:
    """Cells of a grid of marks hold a mark and a word or two: they may break, so that their longest part counts."""
    return [max(cell.split(" "), key=len) if len(cell) > 14 else cell for cell in cells]
