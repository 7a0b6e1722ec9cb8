"""Reader: files of site_data as models and typed rows, with every problem at its own line."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import SimpleNamespace
from typing import Annotated, Any, TypeVar, get_args

from pydantic import BaseModel, TypeAdapter, ValidationError

from generators import layers, units
from generators.basis import CITED, Basis, Origin
from generators.facts import model, rows
from generators.facts.doubts import WHOLE_ROW, Doubt, signature
from generators.facts.kinds import Trial
from generators.facts.problem import Problem, shown
from generators.facts.read import Tree, read_csv, read_yaml
from generators.facts.relate import REFUSED, Found
from generators.facts.sheet import place_of, there
from generators.facts.usual import Spans, figures, unusual
from generators.quantity import Quantity
from generators.quantity import read as read_typed

M = TypeVar("M", bound=BaseModel)
R = TypeVar("R", bound=rows.Row)


def good_name(slug: str) -> bool:
    """True for a name that is safe as a file and as an address."""
    return re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug) is not None and len(slug) <= 60


def _is_bare(cell: str, unit: str) -> bool:
    """True for a figure without its unit: the column's head has it."""
    try:
        return read_typed(cell, unit).bare
    except units.UnitError:
        return False


def from_row(row: Mapping[str, str]) -> dict[str, Any]:
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
    if signed := found.pop("doubtful", ""):
        who, _, why = signed.partition(":")
        found["doubtful"] = {WHOLE_ROW: {"who": who.strip(), "why": why.strip()}}
    if dose := {part: found.pop(f"trial_{part}") for part in ("thinner", "time") if f"trial_{part}" in found}:
        found["trial"] = dose
    return found


def nearest(name: str, names: Any) -> str:
    """How to mend an unknown name: the nearest known one, else all of them."""
    close = difflib.get_close_matches(name, list(names), 1)
    return f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(names)


@dataclass
class Reader:
    """Files as models, with every problem told at its line; nothing here knows what a file is for."""

    root: Path
    problems: list[Problem] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    spans: Spans = field(default_factory=dict)  # what is usual, once usual.csv has been read
    kinds: set[str] = field(default_factory=set)  # whose usual spans were asked, such as coatings/waterborne
    kinds_named: list[tuple[int, rows.Usual]] = field(default_factory=list)  # lines of usual.csv
    looked: set[str] = field(default_factory=set)  # files of site_data that something reads
    trees: dict[str, Tree] = field(default_factory=dict)  # of each file of many, so that a later check can name the line
    names: dict[str, set[str]] = field(default_factory=dict)  # of each file, also of what could not be read: they are known names

    def tell(self, tree: Tree, keys: tuple[Any, ...], wanted: str, came: str, mend: str) -> None:
        if tree.is_row and keys:
            wanted = f"in column {keys[0]}: {wanted.removeprefix(f'{keys[0]}: ')}"
        self.problems.append(Problem(*tree.where(keys), wanted, came, mend))

    def problem(self, path: str, line: int, wanted: str, came: str, mend: str) -> None:
        self.problems.append(Problem(path, line, wanted, came, mend))

    def doubt(self, tree: Tree, keys: tuple[Any, ...], fact: str, entry: str, wanted: str, came: str, mend: str, signed: Mapping[str, Any]) -> None:
        """A value that seldom is. The field that is signed off is the first key under its entry."""
        inside = keys if tree.is_row or not keys or keys[0] != entry else keys[1:]
        name = ".".join(str(key) for key in inside if not isinstance(key, int))
        top = str(inside[0]) if inside else ""
        who = signature(name, came.strip("'"), signed) or signature(top, came.strip("'"), signed)
        field_of = f"in column {name}: " if tree.is_row and name else ""
        self.doubts.append(Doubt(*tree.where(keys), f"{field_of}{wanted}", came, mend, fact, entry, name, who))

    def found(self, tree: Tree, at: tuple[Any, ...], fact: str, entry: str, told: Iterable[Found], signed: Mapping[str, Any]) -> None:
        """What relations say: refused as a problem, doubtful as a doubt."""
        for one in told:
            keys = (*at, *one.at)
            if one.outcome == REFUSED:
                self.tell(tree, keys, one.wanted, shown(one.came), one.mend)
            else:
                self.doubt(tree, keys, fact, entry, one.wanted, shown(one.came), one.mend, signed)

    def usual(self, tree: Tree, at: tuple[Any, ...], fact: str, entry: str, one: Any, *kinds: str) -> None:
        """Doubts about figures outside the usual span of their kind. `kinds`: the nearest first, then the file's own."""
        asked = tuple(f"{fact}/{kind}" for kind in kinds)
        self.kinds |= set(asked)
        for keys, name, wanted, text in unusual(self.spans, (*asked, fact), one):
            mend = f"check the sheet; where it is right, sign it off: doubtful: {{{name.partition('.')[0]}: {{value: {text}, who: your name, why: how you know}}}}"
            if tree.is_row:
                mend = "check it; where it is right, add a last column doubtful and write there your name, a colon, and how you know"
            self.doubt(tree, (*at, *keys), fact, entry, wanted, shown(text), mend, getattr(one, "doubtful", None) or {})

    def yaml(self, *parts: str) -> Tree | None:
        path = self.root.joinpath("site_data", *parts)
        self.looked.add(parts[-1])
        if not layers.there(self.root, "/".join(("site_data", *parts))):
            self.problems.append(Problem("/".join(("site_data", *parts)), 1, "this file", "no file", "add it; `almanac` needs it"))
            return None
        return read_yaml(path, self.root, self.problems)

    def files(self, name: str) -> set[str]:
        """Names of a folder's files, also of those that cannot be read: a name that is known is not told as unknown."""
        return {path.stem for path in layers.listed(self.root, f"site_data/{name}", "*.yaml").values()}

    def folder(self, name: str) -> dict[str, Tree]:
        found = {path.stem: read_yaml(path, self.root, self.problems) for path in layers.listed(self.root, f"site_data/{name}", "*.yaml").values()}
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
        self.looked.add(f"{name}.csv")
        path = place_of(self.root / "site_data" / f"{name}.csv")
        if not path.is_file() and not path.is_symlink():
            return {}
        found: dict[str, Tree] = {}
        where = f"site_data/{path.name}"
        for line, row in read_csv(path, self.root, None, self.problems):
            tree = Tree(where, from_row(row), {(): line}, is_row=True)
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
                        self.tell(tree, (*at, *one["loc"][:-1]), f"the key {where!r}", "no such key", "add it")
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
        self.looked.add(kind.file)
        path, found = place_of(self.root / "site_data" / kind.file), []
        if not there(self.root, f"site_data/{kind.file}"):
            return []
        columns = kind.columns()
        if kind.before and path.is_file() and path.suffix == ".csv" and path.read_bytes().removeprefix(b"\xef\xbb\xbf").startswith(",".join(kind.before).encode()):
            columns = kind.before
        for line, row in read_csv(path, self.root, columns, self.problems):
            tree = Tree(f"site_data/{path.name}", from_row(row), {(): line}, is_row=True)
            one = self.parse(kind, tree)
            for column, names in known.items():
                if row[column] not in names:
                    self.tell(tree, (column,), f"a known {column}", shown(row[column]), nearest(row[column], names))
            if one:
                cited(self, tree, one, (), sources)
                named = [str(getattr(one, name)) for name in type(one).model_fields if name in ("name", "counted", "counts", "class_key", "method", "kind")]
                self.usual(tree, (), kind.file.partition(".")[0], str(line), one, *named)
                found.append((line, settled(one, one.origin)))
        return found


def settled(one: M, origin: Origin) -> M:
    """Values that gave no basis of their own take the file's."""
    def settle(value: Any) -> Any:
        if isinstance(value, Quantity):
            return value.settled(origin)
        if isinstance(value, Trial):
            return Trial(settle(value.thinner), settle(value.time))
        if isinstance(value, (list, tuple)):
            return type(value)(settle(item) for item in value)
        return settled(value, origin) if isinstance(value, model.Fact) else value

    return one.model_copy(update={name: settle(getattr(one, name)) for name in type(one).model_fields})


def cited(reader: Reader, tree: Tree, one: Any, at: tuple[Any, ...], sources: Mapping[str, Any]) -> None:
    """Published, second-hand and remembered values name a source that exists, in the head of a file or entry and in any value, at any depth."""
    head = "source" if (*at, "source") in tree.lines else "basis"
    told = [((*at, head), one.origin)] + [((*at, *keys), value.origin) for keys, _, value in figures(one) if isinstance(value, Quantity)]
    for keys, origin in told:
        if origin.basis in CITED and origin.source not in sources:
            close = difflib.get_close_matches(origin.source, sources, 1)
            reader.tell(tree, keys, f"a source in sources.yaml for a {origin.basis} value", shown(origin.source),
                        f"did you mean {close[0]!r}?" if close else "name it, or add it to sources.yaml")
        elif origin.source and origin.source not in sources:
            close = difflib.get_close_matches(origin.source, sources, 1)
            reader.tell(tree, keys, "a source in sources.yaml, or none", shown(origin.source), f"did you mean {close[0]!r}?" if close else "name it there, or take it away here")


def known(reader: Reader, tree: Tree, keys: tuple[Any, ...], name: str, names: Any, noun: str) -> None:
    if name not in names:
        reader.tell(tree, keys, f"a known {noun}", shown(name), nearest(name, names))


def settled_many(reader: Reader, kind: type[M], file: str, sources: Mapping[str, Any], of_kind: Callable[[Any], str] = lambda one: "", needed: bool = False) -> dict[str, M]:
    """Entries of a file that a handbook may do without unless it is `needed`, each citing what it cites, values with their basis, doubts said. `of_kind`: whose spans are usual for one."""
    if not needed and not layers.there(reader.root, f"site_data/{file}"):
        return {}
    found = reader.many(kind, file)
    fact = file.partition(".")[0]
    for key, one in found.items():
        cited(reader, reader.trees[file], one, (key,), sources)
        reader.usual(reader.trees[file], (key,), fact, key, one, *filter(None, (key, of_kind(one))))
    return {key: settled(one, one.origin) for key, one in found.items()}  # type: ignore[attr-defined]
