"""What one file of site_data says to another, or to itself: each function reads one kind of file whole."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from generators import layers, units
from generators.basis import Basis
from generators.facts import model, rows, sketch
from generators.facts.cups_against import cup_law, readings
from generators.facts.doubts import WHOLE_ROW, signed_off
from generators.facts.problem import Problem, shown
from generators.facts.read import Tree, read_csv
from generators.facts.reader import Reader, cited, known, nearest, settled, settled_many
from generators.facts.sheet import there
from generators.quantity import KINDS, Kind, Quantity
from generators.quantity import read as read_typed

_CUP_COLUMNS = ("name", "label", "A [mm²/s²]", "B [mm²]", "C [s]", "time_min [s]", "time_max [s]", "viscosity_min [mm²/s]", "viscosity_max [mm²/s]",
                "temperature [°C]", "dip", "basis", "source")
MADE = ("kits/", "coatings/", "faults/", "safety/ppe-", "reference/")  # pages that are made from facts, and have no file
# What each rate is measured in. A crew's file may leave any out; it may not add others, since nothing would read them.
RATES = {
    "hour": "money/h", "markup": "%", "tax": "%", "travel": "money", "sundries": "money", "thinner": "money/L", "paint": "money/L", "survey": "h", "set_up": "h", "hand_set_up": "h", "clean_down": "h",
    "hand_clean_down": "h", "duty": "%", "refill": "min", "loss": "L", "spare": "%", "edge_pace": "min/m", "sheet_pace": "min/m²", "hand_masking": "%", "hand_lands": "%",
    "minimum": "money", "margin": "%", "deposit": "%", "parking": "money", "filters": "money", "wash": "L", "waste": "money/L", "wear": "money/L", "together": "%",
    "condition_sound": "×", "condition_worn": "×", "condition_poor": "×", "crew": "1", "day": "h", "days_a_week": "1", "stay": "h", "holds": "h", "rack": "1", "dusk_lead": "h", "travel_time": "h",
    "test_patch": "h", "sample": "h", "collect": "h", "returns": "h", "taking_off": "min", "floor_sheets": "min/m²", "wash_pace": "min/m²", "wash_dry": "h", "growth": "min/m²", "sand": "min/m²",
    "seal": "min/m²", "fill": "min/m²", "fill_dry": "h", "caulk": "min/m", "caulk_dry": "h", "vacuum": "min/m²", "ventilate": "h", "mix": "h", "turn": "min", "flash": "h", "denib": "min/m²",
    "back_roll": "min/m²", "tape_off": "min/m", "snag": "min/m²", "cure": "h", "rehang": "min", "wrap": "min", "stack": "min", "walk_round": "h",
}


class _Valued(model.Fact):
    """A named value, as what is usual is asked of it."""

    value: Quantity
    doubtful: Mapping[str, Any]


def cups(reader: Reader, sources: Mapping[str, Any]) -> dict[str, model.Cup]:
    path = "site_data/cups.csv"
    found: dict[str, model.Cup] = {}
    if not there(reader.root, path):
        reader.problems.append(Problem(path, 1, "this file", "no file", "add it; cups are read from it"))
        return found
    for line, row in read_csv(reader.root / path, reader.root, _CUP_COLUMNS, reader.problems):
        numbers = [reader.number(path, line, row, column) for column in _CUP_COLUMNS[2:10]]
        origin = reader.origin(path, line, row["basis"], row["source"], sources)
        if row["name"] in found:
            reader.problems.append(Problem(path, line, "a cup named once", shown(row["name"]), "rename or remove one"))
        elif any(math.isnan(number) for number in numbers):
            continue
        elif not (numbers[0] > 0 and numbers[1] >= 0 and 0 < numbers[3] < numbers[4] and numbers[0] * (numbers[3] - numbers[2]) - numbers[1] / numbers[3] > 0):
            reader.problems.append(Problem(path, line, "a cup that gives a viscosity above zero over its times", shown(",".join(row.values())), "check A, B, C and the times"))
        else:
            if row["dip"] not in ("yes", "no"):
                reader.problem(path, line, "yes or no in column dip", shown(row["dip"]), "write yes for a cup that is dipped")
            cup = model.Cup(
                name=row["name"], label=row["label"], A=numbers[0], B=numbers[1], C=numbers[2], time_min=numbers[3], time_max=numbers[4],
                viscosity_min=numbers[5], viscosity_max=numbers[6], temperature=numbers[7], dip=row["dip"] == "yes", origin=origin)
            signed = signed_off(row.get("doubtful", ""))
            reader.found(Tree(path, {}, {(): line}, is_row=True), (), "cups", cup.name, cup_law(cup), {WHOLE_ROW: signed} if signed else {})
            found[row["name"]] = cup
    return found


def own_cups(reader: Reader, cups: Mapping[str, Any], sources: Mapping[str, Any]) -> dict[str, model.OwnCup]:
    """The crew's unmarked cups, with the readings that tell what they are. None is as good as any."""
    found: dict[str, model.OwnCup] = {}
    if not layers.listed(reader.root, "site_data/own_cups"):
        return found
    for slug, tree in reader.folder("own_cups").items():
        own = reader.parse(model.OwnCup, tree)
        if slug in cups:
            reader.tell(tree, (), "a cup's name of its own", shown(slug), "rename the file: cups.csv has that name")
        elif own:
            for index, reading in enumerate(own.readings):
                if (reading.known is None) == (reading.glycerol is None):
                    reader.tell(tree, ("readings", index), "either known (a time in a known cup) or glycerol (with temperature)", "both or neither", "write one of them")
                elif reading.known:
                    known(reader, tree, ("readings", index, "known"), reading.known.cup, cups, "cup")
                elif reading.temperature is None:
                    reader.tell(tree, ("readings", index), "the temperature of the glycerol and water", "none", "write temperature: 23 °C")
            cited(reader, tree, own, (), sources)
            reader.usual(tree, (), "own_cups", slug, own)
            reader.found(tree, (), "own_cups", slug, readings(own), own.doubtful)
            found[slug] = own
    return found


def measures(reader: Reader, file: str, sources: Mapping[str, Any], rates: Mapping[str, str] | None = None) -> dict[str, Quantity]:
    """Named values with their units: limits; and rates, whose names and kinds of unit are given, and which may say how they are at best and at worst."""
    found: dict[str, Quantity] = {}
    tree = reader.yaml(file)
    for key, data in (tree.data if tree else {}).items():
        assert tree is not None
        limit = reader.parse(model.Limit if rates is None else model.Rate, tree, (key,), data)
        if limit:
            cited(reader, tree, limit, (key,), sources)
            if rates is not None and key not in rates:
                known(reader, tree, (key,), key, rates, "rate")
                continue
            kind = _limit_kind(reader, tree, key, limit) if isinstance(limit, model.Limit) else Kind("rate", rates[key], 0, 1000 if rates[key] == "%" else 1e6,
                f"5 {rates[key]}".removesuffix(" 1")) if rates else None
            if kind and (one := _measure(reader, tree, key, "value", kind, limit)):
                found[key] = _between_ends(reader, tree, key, kind, limit, one) if isinstance(limit, model.Rate) else one
                if isinstance(limit, model.Rate):
                    _far_ends(reader, tree, key, limit, found[key])
                reader.usual(tree, (key,), file.partition(".")[0], key, _Valued(value=found[key], doubtful=limit.doubtful), key)
    return found


def _measure(reader: Reader, tree: Tree, key: str, part: str, kind: Kind, limit: Any) -> Quantity | None:
    """One text of an entry as a quantity; None, and told, where it is none."""
    try:
        return kind.quantity(getattr(limit, part), limit.origin)
    except units.UnitError as error:
        reader.tell(tree, (key, part), error.wanted, error.came, error.mend)
        return None


# Between good and bad days a pace of the crew's own differs two or three times, seldom more than this.
FAR_DAYS = 6.0


def _far_ends(reader: Reader, tree: Tree, key: str, rate: model.Rate, ends: Quantity) -> None:
    """Doubts about a low or high that lies far from the likely figure."""
    for part, times in (("low", ends.likely / ends.low if ends.low else math.inf), ("high", ends.high / ends.likely if ends.likely else 1.0)):
        if getattr(rate, part) is not None and ends.likely and times > FAR_DAYS:
            wanted = f"a {part} within {FAR_DAYS:g} times of the likely figure, {rate.value}"
            mend = f"check the three; where it is right, sign it off: doubtful: {{{part}: {{value: …, who: your name, why: how you know}}}}"
            reader.doubt(tree, (key, part), "rates", key, wanted, shown(getattr(rate, part)), mend, rate.doubtful)


def _between_ends(reader: Reader, tree: Tree, key: str, kind: Kind, rate: model.Rate, likely: Quantity) -> Quantity:
    """The likely figure with its low and high, in its own unit."""
    ends = []
    for part in ("low", "high"):
        one = _measure(reader, tree, key, part, kind, rate) if getattr(rate, part) is not None else likely
        ends.append(one.to(likely.unit) if one else likely.likely)
    if not ends[0] <= likely.likely <= ends[1]:
        reader.tell(tree, (key, "low"), "low at or under value, and value at or under high", shown(f"{rate.low}, {rate.value}, {rate.high}"), "mend the three")
        return likely
    return replace(likely, low=ends[0], high=ends[1])


def templates(reader: Reader, coatings: Any, surfaces: Any) -> dict[str, model.Template]:
    """Jobs to begin from, each a file. None is as good as any."""
    found: dict[str, model.Template] = {}
    if not (reader.root / "site_data" / "templates").is_dir():
        return found
    for slug, tree in reader.folder("templates").items():
        one = reader.parse(model.Template, tree)
        if one:
            cited(reader, tree, one, (), {})
            reader.usual(tree, (), "templates", slug, one)
            for name, laid in one.paints.items():
                known(reader, tree, ("paints", name, "coating"), laid.coating, coatings, "coating")
            for place, counted in enumerate(one.surfaces):
                if surfaces:
                    known(reader, tree, ("surfaces", place, "thing"), counted.thing, surfaces, "surface of surfaces.csv")
                for paint in counted.paints:
                    known(reader, tree, ("surfaces", place, "paints"), paint, one.paints, "paint of this template")
            found[slug] = one
    return found


def stages(reader: Reader, sources: Mapping[str, Any], rates: Mapping[str, Any]) -> dict[str, model.Stage]:
    """The stages of the work, in their order. None is as good as any."""
    if not (reader.root / "site_data" / "stages.yaml").is_file():
        return {}
    found = settled_many(reader, model.Stage, "stages.yaml", sources)
    for key, one in found.items():
        for part in ("rate", "wait"):
            if getattr(one, part) is not None:
                known(reader, reader.trees["stages.yaml"], (key, part), getattr(one, part), rates, "rate")
    return found


def _limit_kind(reader: Reader, tree: Tree, key: str, limit: model.Limit) -> Kind | None:
    """What a limit measures and between which ends it can lie: as its entry declares, else by its unit alone. None, and told, where that makes no sense."""
    if limit.kind is not None and limit.kind not in KINDS:
        known(reader, tree, (key, "kind"), limit.kind, sorted(KINDS), "kind of value")
        return None
    try:
        unit = read_typed(limit.value).unit
        kind = KINDS[limit.kind] if limit.kind else Kind("", unit, -100 if units.is_point(unit) else 0, 1e6, f"5 {unit}")
    except units.UnitError as error:
        reader.tell(tree, (key, "value"), error.wanted, error.came, error.mend)
        return None
    if limit.between is None:
        return kind
    try:
        span = read_typed(limit.between, kind.unit)
        if span.given != "range" or span.bare:
            raise units.UnitError(f"two figures and a unit, such as {kind.low:g}–{kind.high:g} {kind.unit}", shown(limit.between), "write the least and the most that it can be")
    except units.UnitError as error:
        reader.tell(tree, (key, "between"), error.wanted, error.came, error.mend)
        return None
    return kind.between(span.low, span.high, span.unit)


def recipes(reader: Reader, coatings: Any, kits: Any, cups: Any, sources: Mapping[str, Any]) -> dict[str, model.Recipe]:
    """What worked. None is as good as any."""
    found: dict[str, model.Recipe] = {}
    if not (reader.root / "site_data" / "recipes").is_dir():
        return found
    for slug, tree in reader.folder("recipes").items():
        recipe = reader.parse(model.Recipe, tree)
        for one, names, noun in (("coating", coatings, "coating"), ("kit", kits, "kit")):
            if (value := getattr(recipe, one, None)) is not None:
                known(reader, tree, (one,), value, names, noun)
        if not recipe:
            continue
        known(reader, tree, ("time",), recipe.time.cup, cups, "cup")
        if recipe.basis not in (Basis.MEASURED, Basis.INVENTED):
            reader.tell(tree, ("basis",), "basis: measured, since a recipe is what worked on a day", shown(str(recipe.basis)), "write basis: measured")
        try:
            date.fromisoformat(recipe.date)
        except ValueError:
            reader.tell(tree, ("date",) if recipe.date else (), "the day it worked, such as 2026-11-25", shown(recipe.date) if recipe.date else "no date", "write date: year-month-day")
        cited(reader, tree, recipe, (), sources)
        reader.usual(tree, (), "recipes", slug, recipe)
        found[slug] = settled(recipe, recipe.origin)
    return found


def over(reader: Reader, finishes: Mapping[str, model.Finish], sources: Mapping[str, Any]) -> dict[tuple[str, str], rows.Over]:
    """What may go over what: each sprayed coat over each found one, once. A gap would read as a yes, so a gap is a problem."""
    found: dict[tuple[str, str], rows.Over] = {}
    known, last, path = sorted(reader.names.get("finishes.yaml", ())), 1, "site_data/over.csv"
    before = len(reader.problems)
    for line, row in reader.rows_at(rows.Over, sources, new=known, old=known):
        last = line
        if (row.new, row.old) in found:
            reader.problems.append(Problem(path, line, "each pair once", shown(f"{row.new} over {row.old}"), "keep one of the two lines"))
        found[row.new, row.old] = row
    unread = len(reader.problems) > before  # a row that cannot be read is told already, and not as a gap too
    for new, one in finishes.items():
        for old in finishes:
            if found and not unread and one.new and (new, old) not in found:
                reader.problems.append(Problem(path, last, f"a line for {new} over {old}", "none", "add it: an empty cell would read as a yes"))
    return found


def fault_drawings(reader: Reader) -> dict[str, model.FaultDrawing]:
    """Drawings that faults may name. A handbook may have none."""
    file = "fault_drawings.yaml"
    drawings = reader.many(model.FaultDrawing, file) if layers.there(reader.root, f"site_data/{file}") else {}
    for key, drawing in drawings.items():
        for keys, wanted, came, mend in sketch.outside(drawing):
            reader.tell(reader.trees[file], (key, *keys), wanted, shown(came), mend)
    return drawings


def faults(reader: Reader, sources: Mapping[str, Any]) -> dict[str, model.Fault]:
    """What goes wrong. A handbook may have none; a fault may go without a drawing."""
    found = settled_many(reader, model.Fault, "faults.yaml", sources)
    drawn = layers.there(reader.root, "site_data/fault_drawings.yaml")
    pages = layers.listed(reader.root, "handbook", "**/*.md")
    for key, fault in found.items():
        tree = reader.trees["faults.yaml"]
        if (fault.number is None) == (fault.no_number is None):
            reader.tell(tree, (key,), f"{key}: either number (a page) or no_number (why none)", "both or neither", "write one of them")
        if fault.number and pages and not fault.number.startswith(MADE) and f"{fault.number}.md" not in pages:
            near = nearest(fault.number, [name.removesuffix(".md") for name in pages])
            reader.tell(tree, (key, "number"), "a page under handbook/", shown(fault.number), near)
        if fault.no_sum and not fault.number:
            reader.tell(tree, (key, "no_sum"), "no_sum (why no sum) only beside number (a page)", "no number", "say it in no_number")
        if not key.replace("-", "").isalnum() or key != key.lower() or not key.isascii():
            reader.tell(tree, (key,), "names of small letters, digits and hyphens", shown(key), "rename it")
        if fault.drawing is not None and not drawn:
            reader.tell(tree, (key, "drawing"), "a drawing in site_data/fault_drawings.yaml", shown(fault.drawing), "add the file, or remove this key")
        elif fault.drawing is not None and "fault_drawings.yaml" in reader.trees:  # one that cannot be read is told already
            known(reader, tree, (key, "drawing"), fault.drawing, reader.names["fault_drawings.yaml"], "drawing in fault_drawings.yaml")
    return found
