"""A Chain: declared formulas worked one after another over a job's parts, written down once and walked by Python and by the phone.

No sum is in here. A step names a formula and where each of its inputs comes from; a fold adds up, or takes the most of, what the
parts below gave. JavaScript walks the same list (`described`), with the formulas' own JavaScript.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from generators.formula.declare import Formula


@dataclass(frozen=True)
class Step:
    """One formula. `inputs` maps its symbols to a name: a step before it, a field of this part or of the job, or a number.

    Where the formula depends on a field of the part, `by` names that field and `formula` maps its values to formulas; symbols that
    the chosen formula does not have are left out.
    """

    name: str
    formula: str | Mapping[str, str]
    inputs: Mapping[str, str | float]
    by: str = ""


@dataclass(frozen=True)
class Fold:
    """The sum, or the most, of a figure over the parts below. No part: nought."""

    name: str
    of: str
    how: str = "sum"


@dataclass(frozen=True)
class Cheapest:
    """Tins that hold at least `litres`, at least cost. The search for them is handed in: it is no formula."""

    name: str
    litres: str


Link = Step | Fold | Cheapest


@dataclass(frozen=True)
class Chain:
    """Steps over each surface, then over each paint (its surfaces folded), then over the job (its paints folded)."""

    surface: tuple[Link, ...]
    paint: tuple[Link, ...]
    job: tuple[Link, ...]

    def described(self) -> dict[str, list[dict[str, Any]]]:
        """As plain data, for JSON."""
        def one(link: Link) -> dict[str, Any]:
            if isinstance(link, Step):
                formula = link.formula if isinstance(link.formula, str) else dict(link.formula)
                return {"is": "step", "name": link.name, "formula": formula, "inputs": dict(link.inputs), "by": link.by}
            if isinstance(link, Fold):
                return {"is": "fold", "name": link.name, "of": link.of, "how": link.how}
            return {"is": "cheapest", "name": link.name, "litres": link.litres}

        return {"surface": [one(link) for link in self.surface], "paint": [one(link) for link in self.paint], "job": [one(link) for link in self.job]}

    @property
    def names(self) -> set[str]:
        """Formulas that it can call."""
        found: set[str] = set()
        for link in (*self.surface, *self.paint, *self.job):
            if isinstance(link, Step):
                found |= {link.formula} if isinstance(link.formula, str) else set(link.formula.values())
        return found


@dataclass
class Walked:
    """What one walk gave: figures by name for the job, for each paint and each surface; and why, where one is missing."""

    job: dict[str, float]
    paints: list[dict[str, float]]
    surfaces: list[dict[str, float]]
    tins: list[list[int]] = field(default_factory=list)
    reasons: list[str] = field(default_factory=list)


def walk(chain: Chain, formulas: Mapping[str, Formula], job: Mapping[str, Any], cheapest: Any) -> Walked:
    """Walk a chain over `job`: {"fields": {…}, "paints": [{…, "tins": [(litres, price), …]}, …], "surfaces": [{…, "paint": place}, …]}.

    Figures are floats in the formulas' units. A figure that a formula refuses is NaN, and so is all that rests on it.
    """
    out = Walked({}, [], [])

    def run(links: tuple[Link, ...], fields: Mapping[str, Any], below: list[dict[str, float]], where: str) -> dict[str, float]:
        known: dict[str, float] = {}

        def look(source: str | float) -> Any:
            if not isinstance(source, str):
                return source
            for place in (known, fields, job["fields"]):
                if source in place:
                    return place[source]
            return math.nan

        for link in links:
            if isinstance(link, Fold):
                values = [part[link.of] for part in below]
                total = math.fsum(values) if link.how == "sum" and not any(map(math.isnan, values)) else max(values, default=0.0) if link.how == "most" else math.nan
                known[link.name] = math.nan if any(map(math.isnan, values)) else total
            elif isinstance(link, Cheapest):
                counts, cost = cheapest(known[link.litres], fields["tins"]) if math.isfinite(known[link.litres]) else ([], math.nan)
                known[link.name] = cost
                out.tins.append(list(counts))
            else:
                formula = formulas[link.formula if isinstance(link.formula, str) else link.formula[str(look(link.by))]]
                wanted = {symbol.name for symbol in formula.inputs}
                given = {name: look(source) for name, source in link.inputs.items() if name in wanted}
                if any(isinstance(value, float) and math.isnan(value) for value in given.values()):
                    known[link.name] = math.nan
                    continue
                known[link.name] = float(formula.column(given))
                if math.isnan(known[link.name]):
                    out.reasons.append(f"{where}: {formula.reason(given)}")
        return known

    for place, surface in enumerate(job["surfaces"]):
        paint = job["paints"][surface["paint"]]
        out.surfaces.append(run(chain.surface, {**paint, **surface}, [], f"Surface {place + 1}"))
    for place, paint in enumerate(job["paints"]):
        below = [figures for figures, surface in zip(out.surfaces, job["surfaces"], strict=True) if surface["paint"] == place]
        out.paints.append(run(chain.paint, paint, below, f"Paint {place + 1}"))
    out.job = run(chain.job, {}, out.paints, "The job")
    return out
