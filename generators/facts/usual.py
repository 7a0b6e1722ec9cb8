"""Between which figures a fact usually lies, by its file and its kind: site_data/usual.csv. A value outside can be right, and is doubtful.

`of` is a file's name, or that and a kind of its entries, such as coatings/waterborne or coatings/thin-stain, or pieces/*door for every name
that ends so: the nearest that has the field is asked. A handbook may leave the file out, or widen a line with a reason of its own; then less is doubtful, and no less is refused.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from fnmatch import fnmatchcase
from typing import Any

from pydantic import BaseModel

from generators import units
from generators.facts import model, rows
from generators.facts.kinds import Trial
from generators.facts.law import SUBJECTS
from generators.facts.printed import Viscosity
from generators.facts.read import Tree
from generators.facts.regions import Region
from generators.facts.relate import DOUBTFUL, Found
from generators.quantity import Quantity
from generators.quantity import read as read_typed

Spans = Mapping[str, Mapping[str, tuple[float, float, str]]]


def nearest(name: str, names: Iterable[str]) -> str:
    """The nearest known name, or all of them."""
    close = difflib.get_close_matches(name, list(names), 1)
    return f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(names)


def read_usual(reader: Any, sources: Mapping[str, Any]) -> Spans:
    """`of` → field → (least, most, unit). A line that cannot be read is told and left out."""
    found: dict[str, dict[str, tuple[float, float, str]]] = {}
    reader.kinds_named = reader.rows_at(rows.Usual, sources)
    for line, row in reader.kinds_named:
        try:
            low, high, unit = _ends(row)
            if not low < high:
                raise units.UnitError("a least and a most with one unit", repr(f"{row.low} and {row.high}"), "write, for example, 15 and 60 µm")
            _known(row)
            if row.field in found.setdefault(row.of, {}):
                raise units.UnitError("each field once", repr(f"{row.of} {row.field}"), "keep one of the two lines")
            found[row.of][row.field] = (low, high, unit)
        except units.UnitError as error:
            reader.problem("site_data/usual.csv", line, error.wanted, error.came, error.mend)
    return found


MODELS: Mapping[str, Any] = {
    "coatings": model.Coating, "kits": model.Kit, "classes": model.CoatingClass, "cleaning": model.Cleaning, "substrates": model.Substrate, "pieces": model.Piece,
    "recipes": model.Recipe, "own_cups": model.OwnCup, "solvents": rows.Solvent, "efficiencies": rows.Landing, "surfaces": rows.Surface, "area_factors": rows.AreaFactor,
    "care": rows.Care, "templates": model.Template, "rates": model.Limit, "limits": model.Limit, "flow_times": rows.FlowTime, "regions": Region}
FAMILIES = ("waterborne", "solvent", "two-pack", "oil", "mineral", "each", "area", "length")


def _drill() -> Any:
    """The model of a drill, whose room reads by what is usual: so it is asked for late."""
    from generators.facts.training import Drill

    return Drill


def kinds_that_are_none(reader: Any, fixed: Mapping[str, Iterable[str]]) -> None:
    """Doubts about a kind that no entry of this handbook has, where one that it has is spelt nearly so. Once all files were asked.

    `fixed`: of files whose entries have names of ours, these names; another is refused.
    """
    for line, row in reader.kinds_named:
        base, _, kind = row.of.partition("/")
        if row.of in reader.kinds or not kind or base == "law":
            continue
        if base in fixed and kind not in fixed[base]:
            reader.problem("site_data/usual.csv", line, f"an entry of {base}", repr(row.of), nearest(kind, fixed[base]))
            continue
        close = difflib.get_close_matches(row.of, [one for one in reader.kinds if one.partition("/")[0] == base], 1, 0.9)
        if close:
            found = Found(("of",), DOUBTFUL, "a kind that entries of that file have", row.of, f"did you mean {close[0]!r}?")
            reader.found(Tree("site_data/usual.csv", {}, {(): line}, is_row=True), (), "usual", str(line), [found], row.doubtful)


def _known(row: rows.Usual) -> None:
    """UnitError where a line names no file, a family that is misspelt, or a field that its facts have not."""
    base, _, kind = row.of.partition("/")
    if base == "law":
        if kind not in SUBJECTS:
            raise units.UnitError("a file of site_data/law, such as law/air", repr(row.of), nearest(kind, SUBJECTS))
        return
    models = {**MODELS, "drills": _drill()}
    if base not in models:
        raise units.UnitError("a file of facts, such as coatings or coatings/waterborne", repr(row.of), nearest(base, models))
    close = difflib.get_close_matches(kind, FAMILIES, 1, 0.8)
    if kind and kind not in FAMILIES and close:
        raise units.UnitError("a kind of its entries", repr(row.of), f"did you mean {close[0]!r}?")
    names = [about.alias or name for name, about in models[base].model_fields.items()]
    if row.field.partition(".")[0] not in names:
        raise units.UnitError(f"a field of {base}", repr(row.field), nearest(row.field, names))


def _ends(row: rows.Usual) -> tuple[float, float, str]:
    """(least, most, unit) of one line; law has units of its own, which nothing is converted to."""
    if row.of.startswith("law/"):
        figure, _, unit = row.high.partition(" ")
        low, high = read_typed(row.low, "1"), read_typed(figure, "1")
        return low.likely, high.likely, unit
    high = read_typed(row.high, "1" if row.high.replace(".", "").isdigit() else "")
    low = read_typed(row.low, high.unit).to(high.unit)
    if not (low.single and high.single):
        raise units.UnitError("one figure in each column", repr(f"{row.low} and {row.high}"), "write, for example, 15 and 60 µm")
    return low.likely, high.likely, high.unit


def figures(one: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str, Any]]:
    """(keys, dotted name, value) of every figure in a fact, at any depth; places in lists are no part of the name."""
    if isinstance(one, (Quantity, int, float)) and not isinstance(one, bool):
        yield at, ".".join(str(part) for part in at if not isinstance(part, int)), one
    elif isinstance(one, BaseModel):
        for name, about in type(one).model_fields.items():
            yield from figures(getattr(one, name), (*at, about.alias or name))
    elif isinstance(one, Trial):
        yield from (((*at, name), ".".join(map(str, (*at, name))), getattr(one, name)) for name in ("thinner", "time"))
    elif isinstance(one, Viscosity):
        yield at, ".".join(map(str, at)), one.value
    elif isinstance(one, (list, tuple)):
        for place, part in enumerate(one):
            yield from figures(part, (*at, place))


def unusual(spans: Spans, ofs: Iterable[str], one: Any) -> Iterator[tuple[tuple[Any, ...], str, str, str]]:
    """(keys, field, usual span in words, value as written) of every figure outside what is usual."""
    patterns = [of for of in spans if "*" in of]
    asked = [name for of in ofs for name in (of, *(pattern for pattern in patterns if fnmatchcase(of, pattern))) if name in spans]
    for keys, name, value in figures(one):
        span = next((spans[of][name] for of in asked if name in spans[of]), None)
        if span is None:
            continue
        low, high, unit = span
        if isinstance(value, Quantity):
            try:
                figure = value.to(unit)
            except units.UnitError:
                continue
            text = value.text or f"{value.likely:g} {value.unit}"
        else:
            figure, text = float(value), f"{value:g}"
        hair = 1e-9 * max(abs(low), abs(high), 1.0)
        if not low - hair <= figure <= high + hair:
            yield keys, name, f"{name.replace('_', ' ')} between {low:g} and {high:g} {unit}".removesuffix(" 1"), text
