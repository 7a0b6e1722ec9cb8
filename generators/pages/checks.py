"""The page of checks: the same files that the tests read, worked again for the reader."""

from __future__ import annotations

import csv
import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from markupsafe import escape

from generators import quantity, units
from generators.formula import Formula, OutOfRange
from generators.formula.guards import number


@dataclass(frozen=True)
class Check:
    """One published value: how it is answered (`formula:…`, `fact:…`, `unit:…` or `none`), and how close we must be."""

    topic: str
    id: str
    quantity: str
    how: str
    inputs: str
    expected: str
    unit: str
    tolerance: str
    why: str
    source: str
    trust: str
    reason: str

    @property
    def kind(self) -> str:
        """formula, fact, unit or none."""
        return self.how.partition(":")[0]


def read_checks(folder: Path) -> list[Check]:
    """Every row of every CSV in `folder`, by topic; empty where there is no such folder."""
    found = []
    for path in sorted(folder.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as handle:
            found += [Check(path.stem, **row) for row in csv.DictReader(handle)]
    return found


def ours(check: Check, facts: Any, catalogue: Mapping[str, Formula]) -> float:
    """Our value in the check's unit. KeyError or OutOfRange where there is none."""
    kind, _, name = check.how.partition(":")
    if kind == "formula":
        given = dict(pair.split("=", 1) for pair in check.inputs.split(";"))
        worked = catalogue[name].work(given)
        return float(units.convert(worked.value, worked.unit, check.unit))
    if kind == "fact":
        return _fact(name, check, facts)
    if kind == "unit":
        return quantity.read(check.inputs, check.unit).to(check.unit).likely
    raise KeyError(check.how)


def _fact(name: str, check: Check, facts: Any) -> float:
    table, _, key = name.partition(".")
    if table == "limits":
        return float(facts.value(name).to(check.unit))
    if table in ("voc", "factor"):
        region, _, rest = key.partition("|")
        rule = facts.rule(region, {"voc": "voc", "factor": "masks"}[table], rest)
        if rule is None:
            raise KeyError(name)
        return float(rule.figure)
    solvent, _, column = key.partition("|")
    found = next(getattr(row, column.partition(" [")[0]) for row in facts.solvents if row.name == solvent)
    if found is None:
        raise KeyError(name)
    return float(found.to(check.unit))


def passes(check: Check, value: float) -> bool:
    """True where our value is within the row's own tolerance of the published one."""
    return abs(value - float(check.expected)) <= float(check.tolerance) + 1e-12


def checks_page(facts: Any, catalogue: Mapping[str, Formula]) -> str:
    """Markdown of reference/checks.md."""
    checks = read_checks(facts.root / "tests" / "reference")
    if not checks:
        return "# Checks\n\nThis handbook carries no file of checks. The project that makes it does.\n"
    answered = [check for check in checks if check.kind != "none"]
    lines = ["# Checks", "", f"**{len(answered)} published or computed values are held against this handbook's own.** "
             f"{len(checks) - len(answered)} more are listed below with the reason why no formula answers them.", "",
             "Rows by formula show agreement. Rows by fact show only that a value was copied correctly.", ""]
    for topic in dict.fromkeys(check.topic for check in answered):
        rows = [check for check in answered if check.topic == topic]
        table, told = _table(topic, rows, facts, catalogue)
        lines += [f"## {'VOC' if topic == 'voc' else topic.replace('-', ' ').capitalize()} {{: .alm-fold }}", "", f'<p class="alm-says">{told}</p>', "", table, ""]
    reasons = Counter((check.topic, check.reason) for check in checks if check.kind == "none")
    lines += ["## Not answered, and why {: .alm-fold }", "", f'<p class="alm-says">{sum(reasons.values())} rows</p>', "", "| Topic | Rows | Reason |", "|---|---|---|"]
    lines += [f"| {escape(topic.replace('-', ' '))} | {count} | {escape(reason)} |" for (topic, reason), count in reasons.items()]
    return "\n".join(lines) + "\n"


def _table(topic: str, rows: list[Check], facts: Any, catalogue: Mapping[str, Formula]) -> tuple[str, str]:
    """The rows of one topic as a table, and how many of them agree, in words."""
    body, told = [], Counter[str]()
    for check in rows:
        try:
            value = ours(check, facts, catalogue)
            verdict = "agrees" if passes(check, value) else "differs"
        except (KeyError, OutOfRange, StopIteration, units.UnitError):
            value, verdict = math.nan, "no answer"
        told[verdict] += 1
        published = float(check.expected)
        known = math.isfinite(value)
        cells = (f"{check.quantity}: {check.inputs or check.how}".replace(";", ", "), f"{number(published)} {check.unit}",
                 number(value) if known else "–", number(float(f"{value - published:.2g}")) if known else "–",
                 verdict, check.kind, f"{check.source} ({check.trust})")
        body.append("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in cells) + "</tr>")
    heads = "".join(f'<th scope="col">{head}</th>' for head in ("What", "Published", "Ours", "Difference", "Verdict", "By", "Source"))
    label = f"Checks: {topic.replace('-', ' ')}"
    caption = f'<caption><span class="alm-cap">{escape(label)}, {len(rows)} rows</span></caption>'
    scroll = f'<section class="alm-scroll" tabindex="0" aria-label="{escape(label)}">'
    body_rows = f"<tbody data-search-exclude>{''.join(body)}</tbody>"
    said = ", ".join(f"{count} {verdict.replace('agrees', 'agree').replace('differs', 'differ')}" for verdict, count in told.items())
    return f'<div class="alm-table alm-checks">{scroll}<table class="alm-grid">{caption}<thead><tr>{heads}</tr></thead>{body_rows}</table></section></div>', said
