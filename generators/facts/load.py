"""load(root) → Facts, or FactsError with every problem in every file."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import Annotated, Any, TypeVar, get_args

from pydantic import BaseModel, TypeAdapter, ValidationError

from generators import units
from generators.basis import CITED, Basis, Origin
from generators.facts import hazard, model, rows, sketch
from generators.facts.kinds import Trial
from generators.facts.law import Law, Rule, read_law
from generators.facts.problem import FactsError, Problem, shown
from generators.facts.read import Tree, read_csv, read_yaml
from generators.facts.regions import FOLDER as REGIONS
from generators.facts.regions import Region, read_regions
from generators.facts.weather import Year, read_year
from generators.quantity import KINDS, Kind, Quantity
from generators.quantity import read as read_typed

M = TypeVar("M", bound=BaseModel)
R = TypeVar("R", bound=rows.Row)
_CUP_COLUMNS = ("name", "label", "A [mm²/s²]", "B [mm²]", "C [s]", "time_min [s]", "time_max [s]", "viscosity_min [mm²/s]", "viscosity_max [mm²/s]",
                "temperature [°C]", "dip", "basis", "source")
# What each rate is measured in. A crew's file may leave any out; it may not add others, since nothing would read them.
RATES = {
    "hour": "money/h", "markup": "%", "tax": "%", "travel": "money", "sundries": "money", "thinner": "money/L", "paint": "money/L", "survey": "h", "set_up": "h", "hand_set_up": "h", "clean_down": "h",
    "hand_clean_down": "h", "duty": "%", "refill": "min", "loss": "L", "spare": "%", "edge_pace": "min/m", "sheet_pace": "min/m²", "hand_masking": "%", "hand_lands": "%",
}


@dataclass(frozen=True)
class Facts:
    """Everything in site_data, checked. Mappings are in file-name order."""

    root: Path
    handbook: model.Handbook
    kits: Mapping[str, model.Kit]
    coatings: Mapping[str, model.Coating]
    classes: Mapping[str, model.CoatingClass]
    protection: Mapping[str, model.Protection]
    stops: Mapping[str, model.Stop]
    cups: Mapping[str, model.Cup]
    limits: Mapping[str, Quantity]
    sources: Mapping[str, model.Source]
    words: tuple[model.Word, ...]
    solvents: tuple[rows.Solvent, ...]
    flow_times: tuple[rows.FlowTime, ...] = ()
    cup_disagreements: tuple[rows.CupDisagreement, ...] = ()
    own_cups: Mapping[str, model.OwnCup] = field(default_factory=dict)
    efficiencies: tuple[rows.Landing, ...] = ()
    combs: tuple[rows.Comb, ...] = ()
    techniques: Mapping[str, model.Technique] = field(default_factory=dict)
    weather: Mapping[str, Year] = field(default_factory=dict)
    regions: Mapping[str, Region] = field(default_factory=dict)
    rules: Law = field(default_factory=lambda: Law(()))
    faults: Mapping[str, model.Fault] = field(default_factory=dict)
    rates: Mapping[str, Quantity] = field(default_factory=dict)
    surfaces: tuple[rows.Surface, ...] = ()
    care: tuple[rows.Care, ...] = ()
    recipes: Mapping[str, model.Recipe] = field(default_factory=dict)
    cleaning: Mapping[str, model.Cleaning] = field(default_factory=dict)
    finishes: Mapping[str, model.Finish] = field(default_factory=dict)
    over: Mapping[tuple[str, str], rows.Over] = field(default_factory=dict)  # by (new coat, old coat)
    substrates: Mapping[str, model.Substrate] = field(default_factory=dict)
    pieces: Mapping[str, model.Piece] = field(default_factory=dict)
    area_factors: tuple[rows.AreaFactor, ...] = ()
    fault_drawings: Mapping[str, model.FaultDrawing] = field(default_factory=dict)
    search: model.Search = field(default_factory=lambda: model.Search(asked={}, twins={}, small=[]))

    @property
    def region(self) -> Region:
        """The handbook's own region."""
        return self.regions[self.handbook.region]

    def law(self, region: str | None = None, subject: str = "", on: str | None = None, key: str = "") -> tuple[Rule, ...]:
        """Rules in force (see `generators.facts.law`): of the handbook's own place and day where none are named."""
        return self.rules(region or self.handbook.place, subject, on or self.handbook.date, key)

    def rule(self, region: str | None, subject: str, key: str, on: str | None = None) -> Rule | None:
        """The one rule in force for a key, or None."""
        return self.rules.one(region or self.handbook.place, subject, key, on or self.handbook.date)

    def coming(self, region: str | None = None, subject: str = "", on: str | None = None) -> tuple[Rule, ...]:
        """Rules that begin after the day."""
        return self.rules.coming(region or self.handbook.place, subject, on or self.handbook.date)

    def mask(self, region: str | None = None, kind: str = "half", on: str | None = None) -> Rule | None:
        """What a mask counts for in a region: `kind` is half, half_gas, full or air_fed. None where the region sets no figure."""
        region = region or self.handbook.region
        masks = self.regions[region].masks
        return self.rules.one(region, "masks", getattr(masks, kind), on or self.handbook.date) if masks else None

    def breathing(self, guard: model.Protection, region: str | None = None) -> str:
        """A sheet's words on breathing for a region: its own, else those of the region that it is like, else the stricter way."""
        name: str | None = region or self.handbook.region
        asked: set[str] = set()
        while name and name not in guard.respiratory and name not in asked:
            asked.add(name)
            name = self.regions[name].masks_like
        return guard.respiratory[name] if name and name in guard.respiratory else "No words for this region: the safety data sheet, section 8, and a competent person say which."

    def value(self, key: str) -> Quantity:
        """A limit by its dotted name, such as limits.dew_margin_min. KeyError names the nearest."""
        short = key.removeprefix("limits.")
        if short not in self.limits:
            close = difflib.get_close_matches(short, self.limits, 1)
            raise KeyError(f"no value {key!r}" + (f"; did you mean limits.{close[0]}?" if close else ""))
        return self.limits[short]


def good_name(slug: str) -> bool:
    """True for a name that is safe as a file and as an address."""
    return re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug) is not None and len(slug) <= 60


def _is_bare(cell: str, unit: str) -> bool:
    """True for a figure without its unit: the column's head has it."""
    try:
        return read_typed(cell, unit).bare
    except units.UnitError:
        return False


def _from_row(row: Mapping[str, str]) -> dict[str, Any]:
    """A spreadsheet's row as the keys and values of a YAML file.

    An empty cell is no key. A unit in the column's head goes behind a bare number. Lists are split at `;`.
    """
    found: dict[str, Any] = {}
    for head, cell in row.items():
        name, _, unit = head.partition(" [")
        unit = unit.removesuffix("]")
        if cell:
            found[name] = f"{cell} {unit}" if unit and _is_bare(cell, unit) else cell
    for name in ("uses", "stops", "nozzles"):
        if name in found:
            found[name] = [part.strip() for part in found[name].split(";") if part.strip()]
    if dose := {part: found.pop(f"trial_{part}") for part in ("thinner", "time") if f"trial_{part}" in found}:
        found["trial"] = dose
    return found


def _nearest(name: str, names: Any) -> str:
    """How to mend an unknown name: the nearest known one, else all of them."""
    close = difflib.get_close_matches(name, list(names), 1)
    return f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(names)


@dataclass
class _Reader:
    root: Path
    problems: list[Problem] = field(default_factory=list)
    trees: dict[str, Tree] = field(default_factory=dict)  # of each file of many, so that a later check can name the line
    names: dict[str, set[str]] = field(default_factory=dict)  # of each file, also of what could not be read: they are known names

    def tell(self, tree: Tree, keys: tuple[Any, ...], wanted: str, came: str, mend: str) -> None:
        if tree.is_row and keys:
            wanted = f"in column {keys[0]}: {wanted.removeprefix(f'{keys[0]}: ')}"
        self.problems.append(Problem(tree.path, tree.line(keys), wanted, came, mend))

    def yaml(self, *parts: str) -> Tree | None:
        path = self.root.joinpath("site_data", *parts)
        if not path.is_file():
            self.problems.append(Problem("/".join(("site_data", *parts)), 1, "this file", "no file", "add it; `almanac` needs it"))
            return None
        return read_yaml(path, self.root, self.problems)

    def files(self, name: str) -> set[str]:
        """Names of a folder's files, also of those that cannot be read: a name that is known is not told as unknown."""
        return {path.stem for path in (self.root / "site_data" / name).glob("*.yaml")}

    def folder(self, name: str) -> dict[str, Tree]:
        base = self.root / "site_data" / name
        found = {path.stem: read_yaml(path, self.root, self.problems) for path in sorted(base.glob("*.yaml"))}
        for slug in found:
            if not good_name(slug):
                self.problems.append(Problem(f"site_data/{name}/{slug}.yaml", 1, "a file name of small letters, digits and hyphens", shown(slug), "rename the file"))
        trees = {slug: tree for slug, tree in found.items() if tree}
        trees |= self.spreadsheet(name, trees)
        if not found and not trees:
            self.problems.append(Problem(f"site_data/{name}", 1, "at least one .yaml file", "none", "add one"))
        return trees

    def spreadsheet(self, name: str, taken: Mapping[str, Tree]) -> dict[str, Tree]:
        """Rows of site_data/`name`.csv, where there is one, in the shape that a YAML file of the same kind has."""
        path = self.root / "site_data" / f"{name}.csv"
        if not path.is_file() and not path.is_symlink():
            return {}
        found: dict[str, Tree] = {}
        where = f"site_data/{name}.csv"
        for line, row in read_csv(path, self.root, None, self.problems):
            tree = Tree(where, _from_row(row), {(): line}, is_row=True)
            slug = tree.data.pop("file", "")
            if not good_name(slug):
                self.tell(tree, ("file",), "small letters, digits and hyphens, for the page's address", shown(slug), "write, for example, my-trim-paint")
            elif slug in found or slug in taken:
                self.tell(tree, ("file",), "a coating named once", shown(slug), f"remove this row, or site_data/{name}/{slug}.yaml" if slug in taken else "remove one of the rows")
            else:
                found[slug] = tree
        return found

    def parse(self, kind: type[M], tree: Tree, at: tuple[Any, ...] = (), data: Any = None) -> M | None:
        try:
            return kind.model_validate(tree.data if data is None else data)
        except ValidationError as error:
            names = [f.alias or name for name, f in kind.model_fields.items()]
            for one in error.errors():
                keys = (*at, *(part for part in one["loc"] if part not in ("value",)))
                context = one.get("ctx", {})
                where = ".".join(str(part) for part in one["loc"])
                if one["type"] == "fact":
                    self.tell(tree, keys, f"{where}: {context['wanted']}", context["came"], context["mend"])
                elif one["type"] == "missing":
                    if tree.is_row:
                        self.tell(tree, keys, "a value", "an empty cell or no such column", "fill it in")
                    else:
                        self.tell(tree, keys[:-1], f"the key {where!r}", "no such key", "add it")
                elif one["type"] == "extra_forbidden":
                    close = difflib.get_close_matches(where, names, 1)
                    self.tell(tree, keys, "a key this file may have", shown(where), f"did you mean {close[0]!r}?" if close else "remove it; it may have: " + ", ".join(names))
                elif one["type"] == "literal_error":
                    names_of = get_args(kind.model_fields[str(one["loc"][0])].annotation) if str(one["loc"][0]) in kind.model_fields else ()
                    self.tell(tree, keys, f"a {where}: {', '.join(map(str, names_of)) or context['expected']}", shown(one["input"]), "write one of them")
                else:
                    self.tell(tree, keys, f"{where}: {one['msg'].lower()}", shown(one["input"]), "mend the value")
            return None

    def part(self, kind: type[M], tree: Tree) -> Any:
        """What of a file can be read, None for the rest: so that its other problems are told in the same breath."""
        found: dict[str, Any] = {}
        for name, field_of in kind.model_fields.items():
            typed = tree.data.get(field_of.alias or name)
            try:
                kind_of: Any = Annotated[(field_of.annotation, "one field", *field_of.metadata)]
                found[name] = None if typed is None else TypeAdapter(kind_of).validate_python(typed)
            except ValidationError:
                found[name] = None
        return SimpleNamespace(**found)

    def many(self, kind: type[M], file: str) -> dict[str, M]:
        tree = self.yaml(file)
        found: dict[str, M] = {}
        self.names[file] = set(tree.data) if tree else set()
        if tree:
            self.trees[file] = tree
        for key, data in (tree.data if tree else {}).items():
            if not isinstance(data, dict):
                self.tell(tree, (key,), "keys and values", shown(data), "indent them under the name")  # type: ignore[arg-type]
            elif one := self.parse(kind, tree, (key,), data):  # type: ignore[arg-type]
                found[key] = one
        return found

    def number(self, path: str, line: int, row: dict[str, str], column: str) -> float:
        try:
            typed = read_typed(row[column], "1")
            if typed.bare and typed.single:
                return typed.likely
            mend = "write one figure, with a point, and no unit"
        except units.UnitError as error:
            mend = error.mend
        self.problems.append(Problem(path, line, f"a number in column {column}", shown(row[column]), mend))
        return math.nan

    def origin(self, path: str, line: int, basis: str, source: str, sources: Mapping[str, Any]) -> Origin:
        try:
            known = Basis(basis)
        except ValueError:
            self.problems.append(Problem(path, line, "a basis: " + ", ".join(str(b) for b in Basis), shown(basis), "write one of them"))
            known = Basis.INVENTED
        if known in CITED and source not in sources:
            close = difflib.get_close_matches(source, sources, 1)
            self.problems.append(Problem(path, line, f"a source in sources.yaml for a {known} value", shown(source), f"did you mean {close[0]!r}?" if close else "name it, or add it to sources.yaml"))
        return Origin(known, source)

    def rows(self, kind: type[R], sources: Mapping[str, Any], **known: Any) -> tuple[R, ...]:
        """Typed rows of a file that a handbook may do without. `known` gives the names that a column takes from elsewhere."""
        return tuple(row for _, row in self.rows_at(kind, sources, **known))

    def rows_at(self, kind: type[R], sources: Mapping[str, Any], **known: Any) -> list[tuple[int, R]]:
        """The same, each with its line."""
        path, found = self.root / "site_data" / kind.file, []
        if not path.is_file():
            return []
        columns = kind.columns()
        if kind.before and path.read_bytes().removeprefix(b"\xef\xbb\xbf").startswith(",".join(kind.before).encode()):
            columns = kind.before
        for line, row in read_csv(path, self.root, columns, self.problems):
            tree = Tree(f"site_data/{kind.file}", _from_row(row), {(): line}, is_row=True)
            one = self.parse(kind, tree)
            for column, names in known.items():
                if row[column] not in names:
                    self.tell(tree, (column,), f"a known {column}", shown(row[column]), _nearest(row[column], names))
            if one:
                _cited(self, tree, one, (), sources)
                found.append((line, _settled(one, one.origin)))
        return found


def _cups(reader: _Reader, sources: Mapping[str, Any]) -> dict[str, model.Cup]:
    path = "site_data/cups.csv"
    found: dict[str, model.Cup] = {}
    if not (reader.root / path).is_file():
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
            found[row["name"]] = model.Cup(
                name=row["name"], label=row["label"], A=numbers[0], B=numbers[1], C=numbers[2], time_min=numbers[3], time_max=numbers[4],
                viscosity_min=numbers[5], viscosity_max=numbers[6], temperature=numbers[7], dip=row["dip"] == "yes", origin=origin)
    return found


def _own_cups(reader: _Reader, cups: Mapping[str, Any]) -> dict[str, model.OwnCup]:
    """The crew's unmarked cups, with the readings that tell what they are. None is as good as any."""
    found: dict[str, model.OwnCup] = {}
    if not (reader.root / "site_data" / "own_cups").is_dir():
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
                    _known(reader, tree, ("readings", index, "known"), reading.known.cup, cups, "cup")
                elif reading.temperature is None:
                    reader.tell(tree, ("readings", index), "the temperature of the glycerol and water", "none", "write temperature: 23 °C")
            found[slug] = own
    return found


def _settled(one: M, origin: Origin) -> M:
    """Values that gave no basis of their own take the file's."""
    def settle(value: Any) -> Any:
        if isinstance(value, Quantity):
            return value.settled(origin)
        if isinstance(value, Trial):
            return Trial(settle(value.thinner), settle(value.time))
        if isinstance(value, (list, tuple)):
            return type(value)(settle(item) for item in value)
        return _settled(value, origin) if isinstance(value, model.Fact) else value

    return one.model_copy(update={name: settle(getattr(one, name)) for name in type(one).model_fields})


def _cited(reader: _Reader, tree: Tree, one: Any, at: tuple[Any, ...], sources: Mapping[str, Any]) -> None:
    """Published and remembered values name a source that exists, in the file's head and in any value."""
    head = "source" if (*at, "source") in tree.lines else "basis"
    for keys, origin in [((*at, head), one.origin)] + [((*at, name), value.origin) for name in type(one).model_fields
                                                             if isinstance(value := getattr(one, name), Quantity)]:
        if origin.basis in CITED and origin.source not in sources:
            close = difflib.get_close_matches(origin.source, sources, 1)
            reader.tell(tree, keys, f"a source in sources.yaml for a {origin.basis} value", shown(origin.source),
                        f"did you mean {close[0]!r}?" if close else "name it, or add it to sources.yaml")


def _known(reader: _Reader, tree: Tree, keys: tuple[Any, ...], name: str, names: Any, noun: str) -> None:
    if name not in names:
        reader.tell(tree, keys, f"a known {noun}", shown(name), _nearest(name, names))


def _measures(reader: _Reader, file: str, sources: Mapping[str, Any], rates: Mapping[str, str] | None = None) -> dict[str, Quantity]:
    """Named values with their units: limits; and rates, whose names and kinds of unit are given."""
    found: dict[str, Quantity] = {}
    tree = reader.yaml(file)
    for key, data in (tree.data if tree else {}).items():
        assert tree is not None
        limit = reader.parse(model.Limit, tree, (key,), data)
        if limit:
            _cited(reader, tree, limit, (key,), sources)
            if rates is not None and key not in rates:
                _known(reader, tree, (key,), key, rates, "rate")
            elif kind := _limit_kind(reader, tree, key, limit) if rates is None else Kind("rate", rates[key], 0, 1000 if rates[key] == "%" else 1e6, f"5 {rates[key]}"):
                try:
                    found[key] = kind.quantity(limit.value, limit.origin)
                except units.UnitError as error:
                    reader.tell(tree, (key, "value"), error.wanted, error.came, error.mend)
    return found


def _limit_kind(reader: _Reader, tree: Tree, key: str, limit: model.Limit) -> Kind | None:
    """What a limit measures and between which ends it can lie: as its entry declares, else by its unit alone. None, and told, where that makes no sense."""
    if limit.kind is not None and limit.kind not in KINDS:
        _known(reader, tree, (key, "kind"), limit.kind, sorted(KINDS), "kind of value")
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


def _recipes(reader: _Reader, coatings: Any, kits: Any, cups: Any) -> dict[str, model.Recipe]:
    """What worked. None is as good as any."""
    found: dict[str, model.Recipe] = {}
    if not (reader.root / "site_data" / "recipes").is_dir():
        return found
    for slug, tree in reader.folder("recipes").items():
        recipe = reader.parse(model.Recipe, tree)
        for one, names, noun in (("coating", coatings, "coating"), ("kit", kits, "kit")):
            if value := getattr(recipe, one, None):
                _known(reader, tree, (one,), value, names, noun)
        if not recipe:
            continue
        _known(reader, tree, ("time",), recipe.time.cup, cups, "cup")
        if recipe.basis not in (Basis.MEASURED, Basis.INVENTED):
            reader.tell(tree, ("basis",), "basis: measured, since a recipe is what worked on a day", shown(str(recipe.basis)), "write basis: measured")
        try:
            date.fromisoformat(recipe.date)
        except ValueError:
            reader.tell(tree, ("date",) if recipe.date else (), "the day it worked, such as 2026-11-25", shown(recipe.date) if recipe.date else "no date", "write date: year-month-day")
        found[slug] = _settled(recipe, recipe.origin)
    return found


def _settled_many(reader: _Reader, kind: type[M], file: str, sources: Mapping[str, Any]) -> dict[str, M]:
    """Entries of a file that a handbook may do without, each citing what it cites, values with their basis."""
    if not (reader.root / "site_data" / file).is_file():
        return {}
    found = reader.many(kind, file)
    for key, one in found.items():
        _cited(reader, reader.trees[file], one, (key,), sources)
    return {key: _settled(one, one.origin) for key, one in found.items()}  # type: ignore[attr-defined]


def _over(reader: _Reader, finishes: Mapping[str, model.Finish], sources: Mapping[str, Any]) -> dict[tuple[str, str], rows.Over]:
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


def _faults(reader: _Reader) -> tuple[dict[str, model.FaultDrawing], dict[str, model.Fault]]:
    """What goes wrong, and the drawings that faults may name. A handbook may have neither; a fault may go without a drawing."""
    there = {file: (reader.root / "site_data" / file).is_file() for file in ("fault_drawings.yaml", "faults.yaml")}
    drawings = reader.many(model.FaultDrawing, "fault_drawings.yaml") if there["fault_drawings.yaml"] else {}
    for key, drawing in drawings.items():
        for keys, wanted, came, mend in sketch.outside(drawing):
            reader.tell(reader.trees["fault_drawings.yaml"], (key, *keys), wanted, shown(came), mend)
    faults = reader.many(model.Fault, "faults.yaml") if there["faults.yaml"] else {}
    for key, fault in faults.items():
        tree = reader.trees["faults.yaml"]
        if (fault.number is None) == (fault.no_number is None):
            reader.tell(tree, (key,), f"{key}: either number (a page) or no_number (why none)", "both or neither", "write one of them")
        if fault.no_sum and not fault.number:
            reader.tell(tree, (key, "no_sum"), "no_sum (why no sum) only beside number (a page)", "no number", "say it in no_number")
        if not key.replace("-", "").isalnum() or key != key.lower() or not key.isascii():
            reader.tell(tree, (key,), "names of small letters, digits and hyphens", shown(key), "rename it")
        if fault.drawing is not None and not there["fault_drawings.yaml"]:
            reader.tell(tree, (key, "drawing"), "a drawing in site_data/fault_drawings.yaml", shown(fault.drawing), "add the file, or remove this key")
        elif fault.drawing is not None and "fault_drawings.yaml" in reader.trees:  # one that cannot be read is told already
            _known(reader, tree, (key, "drawing"), fault.drawing, reader.names["fault_drawings.yaml"], "drawing in fault_drawings.yaml")
    return drawings, faults


def old_values(facts: Facts) -> list[str]:
    """Legal values that were checked more than a year before the handbook's own date, one line each."""
    day = date.fromisoformat(facts.handbook.date)
    region = facts.handbook.region

    def old(checked: str) -> bool:
        try:
            return (day - date.fromisoformat(checked)).days > 365
        except ValueError:
            return True

    found = [f"site_data/regions/{key}.yaml, checked {one.checked}" for key, one in facts.regions.items() if key == region and old(one.checked)]
    phones = facts.regions[region].phones
    found += [f"site_data/regions/{region}.yaml: {one.call}, checked {one.checked}" for one in (*phones.emergency, *phones.poison) if old(one.checked)] if phones else []
    return found + facts.rules.old(facts.handbook.place, facts.handbook.date)


def _check_kit(reader: _Reader, tree: Tree, kit: Any, cups: Mapping[str, Any], own_cups: Mapping[str, Any]) -> None:
    """What one field of a kit says about another. A field that could not be read is None and is passed over."""
    if kit.limit:
        _known(reader, tree, ("limit",), kit.limit.cup, {**cups, **own_cups}, "cup")
        cup = cups.get(kit.limit.cup)
        if cup and not cup.time_min <= kit.limit.seconds <= cup.time_max:
            reader.tell(tree, ("limit",), f"a time that {cup.label} can be read at, {cup.time_min:g} to {cup.time_max:g} s", f"{kit.limit.seconds:g} s", "time it in another cup")
    if kit.near and kit.far and kit.near.to("mm") >= kit.far.to("mm"):
        reader.tell(tree, ("far",), "far beyond near", f"{kit.far.value:g} {kit.far.unit}", "swap or mend the two")


def _check_coating(reader: _Reader, tree: Tree, coating: Any, cups: Mapping[str, Any], protection: Any, law: Law) -> None:
    """What one field of a coating says about another, and the names it takes from other files."""
    if coating.class_key:
        _known(reader, tree, ("class",), coating.class_key, reader.names["classes.yaml"], "class")
    for index, stop in enumerate(coating.stops or ()):
        _known(reader, tree, ("stops", index), stop, reader.names["stops.yaml"], "hard stop")
    guard = protection.get(coating.class_key)
    if guard and guard.stop and guard.stop not in (coating.stops or ()):
        reader.tell(tree, ("stops",), f"the hard stop {guard.stop!r} that this class carries", "no such stop", f"write stops: [{guard.stop}]")
    for key, regions in (("voc_category", ("uk", "eu")), ("voc_category_us", ("us",))):
        if category := getattr(coating, key):
            _known(reader, tree, (key,), category, {rule.key.partition("|")[0] for rule in law.rules if rule.subject == "voc" and rule.region in regions}, "category in law/voc.csv")
    if coating.supplied:
        _known(reader, tree, ("supplied",), coating.supplied.cup, cups, "cup")
    if coating.trial:
        _known(reader, tree, ("trial", "time"), coating.trial.time.cup, cups, "cup")
    if coating.air_min and coating.air_max and coating.air_min.to("°C") >= coating.air_max.to("°C"):
        reader.tell(tree, ("air_max",), "air_max above air_min", f"{coating.air_max.value:g} {coating.air_max.unit}", "swap or mend the two")


def _placed(reader: _Reader, tree: Tree, handbook: model.Handbook, regions: Mapping[str, Region], wanted: str | None) -> model.Handbook:
    """The handbook in the region wanted, or in its own. A region or district without a file is told."""
    names = reader.names["regions"]
    if wanted and wanted not in names:
        reader.problems.append(Problem(REGIONS, 1, "a region with a file here", shown(wanted), _nearest(wanted, sorted(names))))
    _known(reader, tree, ("region",), handbook.region, sorted(names), f"region: a file in {REGIONS}")
    if handbook.district and handbook.region in regions:
        _known(reader, tree, ("district",), handbook.district, sorted(regions[handbook.region].districts), f"district in {REGIONS}/{handbook.region}.yaml")
    return handbook.model_copy(update={"region": wanted or handbook.region}).among(regions)


def load(root: Path, region: str | None = None) -> Facts:
    """Read and check everything under root/site_data. `region` overrides the handbook's own.

    Raises FactsError with every problem; nothing is written.
    """
    reader = _Reader(Path(root))
    sources = reader.many(model.Source, "sources.yaml")
    stops = reader.many(model.Stop, "stops.yaml")
    classes = {key: _settled(one, one.origin) for key, one in reader.many(model.CoatingClass, "classes.yaml").items()}
    protection = reader.many(model.Protection, "protection.yaml")
    words = reader.many(model.Word, "words.yaml")
    regions = read_regions(reader)
    law = read_law(reader.root, reader.problems, regions, sources, reader.names["regions"])
    cups = _cups(reader, sources)
    own_cups = _own_cups(reader, cups)
    limits = _measures(reader, "limits.yaml", sources)
    rates = _measures(reader, "rates.yaml", sources, RATES) if (reader.root / "site_data" / "rates.yaml").is_file() else {}
    kits: dict[str, model.Kit] = {}
    kit_files = reader.folder("kits")
    for slug, tree in kit_files.items():
        kit = reader.parse(model.Kit, tree)
        _check_kit(reader, tree, kit or reader.part(model.Kit, tree), cups, own_cups)
        if kit:
            _cited(reader, tree, kit, (), sources)
            kits[slug] = _settled(kit, kit.origin)
    coatings: dict[str, model.Coating] = {}
    for slug, tree in reader.folder("coatings").items():
        coating = reader.parse(model.Coating, tree)
        _check_coating(reader, tree, coating or reader.part(model.Coating, tree), {**cups, **own_cups}, protection, law)
        if coating:
            _cited(reader, tree, coating, (), sources)
            coatings[slug] = _settled(hazard.settled(slug, coating, classes.get(coating.class_key), protection.get(coating.class_key)), coating.origin)
    for key in classes:
        if key not in protection:
            reader.problems.append(Problem("site_data/protection.yaml", 1, f"protective equipment for the class {key!r}", "none", "add it"))
    for stop_key in ("isocyanates", "lead", "asbestos", "chromate-lead-primer", "preservative-label"):
        if stop_key not in stops:
            reader.problems.append(Problem("site_data/stops.yaml", 1, f"the hard stop {stop_key!r}", "none", "put it back: no setting switches a hard stop off"))
    for key, guard in protection.items():
        if guard.stop and guard.stop not in stops:
            reader.problems.append(Problem("site_data/protection.yaml", 1, f"a known hard stop for {key}", shown(guard.stop), "mend the name"))
    solvents = reader.rows(rows.Solvent, sources)
    flow_times = reader.rows(rows.FlowTime, sources, cup=cups)
    disagreements = reader.rows(rows.CupDisagreement, sources, cup=cups)
    efficiencies = reader.rows(rows.Landing, sources)
    weather = {}
    for path in sorted((reader.root / "site_data" / "weather").glob("*")) if (reader.root / "site_data" / "weather").is_dir() else []:
        if path.name.endswith((".epw", ".epw.gz", ".csv", ".csv.gz")) and (year := read_year(path, reader.root, reader.problems)):
            weather[year.name] = year
    combs = reader.rows(rows.Comb, sources)
    techniques = reader.many(model.Technique, "techniques.yaml") if (reader.root / "site_data" / "techniques.yaml").is_file() else {}
    drawings, faults = _faults(reader)
    cleaning = _settled_many(reader, model.Cleaning, "cleaning.yaml", sources)
    finishes = _settled_many(reader, model.Finish, "finishes.yaml", sources)
    over = _over(reader, finishes, sources)
    substrates = _settled_many(reader, model.Substrate, "substrates.yaml", sources)
    for key, surface in substrates.items():
        good, most = surface.moisture_good, surface.moisture_max
        if (good is None) != (most is None) or (good and most and good.to("%") > most.to("%")):
            came = " and ".join(f"{one.value:g} {one.unit}" if one else "none" for one in (good, most))
            reader.tell(reader.trees["substrates.yaml"], (key, "moisture_good"), "moisture_good at or under moisture_max, or neither of them", came, "mend the two")
    pieces = _settled_many(reader, model.Piece, "pieces.yaml", sources)
    area_factors = reader.rows(rows.AreaFactor, sources)
    search = None
    if (reader.root / "site_data" / "search.yaml").is_file() and (search_tree := reader.yaml("search.yaml")):
        search = reader.parse(model.Search, search_tree)
    surfaces = reader.rows(rows.Surface, sources)
    care = reader.rows(rows.Care, sources, **{"class": reader.names["classes.yaml"]})
    recipes = _recipes(reader, reader.files("coatings") | set(coatings), reader.files("kits") | set(kits), {**cups, **own_cups})
    handbook_tree = reader.yaml("handbook.yaml")
    handbook = reader.parse(model.Handbook, handbook_tree) if handbook_tree else None
    if handbook and handbook_tree:
        _known(reader, handbook_tree, ("default_kit",), handbook.default_kit, kit_files, "kit")
        handbook = _placed(reader, handbook_tree, handbook, regions, region)
    if reader.problems or handbook is None:
        raise FactsError(reader.problems)
    return Facts(reader.root, handbook, kits, coatings, classes, protection, stops, cups, limits, sources, tuple(words.values()),
                 solvents, flow_times, disagreements, own_cups, efficiencies, combs, techniques, weather,
                 regions, law, faults, rates, surfaces, care, recipes, cleaning, finishes, over, substrates, pieces, area_factors, drawings,
                 search or model.Search(asked={}, twins={}, small=[]))
