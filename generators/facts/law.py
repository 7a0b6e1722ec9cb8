"""The rules of each region as dated data: one row for each rule, in site_data/law, a file for each subject.

Columns: `region` (a region or one of its districts) · `key` (`what|which`, such as `xylene|8h`) · `scope` (whom or what it
binds) · `figure` and `unit` (empty where a rule is words only) · `says` (the rule in words; wanted where there is no figure) ·
`from`, `to` (first and last day in force, empty where open) · `checked` · `basis` · `source` · `ask` (whom; empty: the
region's own).

    facts.law("au", "air", on="2026-12-01")        every rule in force that day, one for each key, a tuple of Rule
    facts.rule("au", "air", "acetone|8h")          one rule on the handbook's own day, or None: never guess one
    facts.coming("au", "air")                      rules that begin later
    facts.mask("us", "half")                       the region's own factor for a half mask, or None

A district's rule comes before its region's, a region's before those of the region that it stands `under` (Ireland under
the European Union). No region: the handbook's own, its district first. `Rule.figure` is NaN where there is no figure; a
rule whose `old(on)` is true was checked more than a year before, or has ended with nothing after it.
"""

from __future__ import annotations

import difflib
import itertools
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from generators import layers
from generators.basis import CITED, Basis, Origin
from generators.facts.doubts import SignedOff, signed_off
from generators.facts.problem import Problem, shown
from generators.facts.read import read_csv, read_yaml
from generators.facts.sheet import BOOKS
from generators.quantity import read as read_typed
from generators.units import UnitError

FOLDER = "site_data/law"
COLUMNS = ("region", "key", "scope", "figure", "unit", "says", "from", "to", "checked", "basis", "source", "ask")
KEPT_FRESH = 365  # days for which a look into the law counts as a look


@dataclass(frozen=True)
class Subject:
    """What one file is about, and between which figures a rule of it can lie, by unit."""

    title: str
    spans: Mapping[str, tuple[float, float]]


_YEAR = {"year": (1900.0, 2100.0)}
SUBJECTS = {
    "air": Subject("Vapour and gas in the air", {"ppm": (0.001, 5000), "mg/m³": (0.0001, 10_000)}),
    "asbestos": Subject("Asbestos", {**_YEAR, "fibre/cm³": (0.0001, 10)}),
    "contracts": Subject("Contracts made at home", {"days": (1, 60)}),
    "dust": Subject("Dust in the air", {"mg/m³": (0.001, 50)}),
    "extinguishers": Subject("Letters on extinguishers", {}),
    "height": Subject("Working at height", {"m": (0.3, 10), "ft": (1, 40)}),
    "isocyanates": Subject("Isocyanates", {"mg/m³": (0.0001, 1), "ppm": (0.0001, 1), "µmol/mol": (0.01, 100), "%": (0.001, 10)}),
    "lead": Subject("Lead in paint", {**_YEAR, "mg/m³": (0.0001, 1), "µg/m³": (0.1, 1000), "µg/dL": (0.5, 200), "µg/ft²": (0.1, 1000), "mg/kg": (1, 20_000), "%": (0.001, 10), "ft²": (0.1, 1000)}),
    "quiet": Subject("Hours of noisy work", {}),
    "toys": Subject("Paint on toys and children's furniture", {"mg/kg": (1, 20_000), "%": (0.0001, 10)}),
    "masks": Subject("What a mask counts for", {"×": (1, 100_000)}),
    "noise": Subject("Noise", {"dBA": (60, 140), "dBC": (100, 160)}),
    "pouring": Subject("Pouring, static and bonding", {}),
    "strippers": Subject("Paint strippers", {"ppm": (0.01, 1000), "mg/m³": (0.01, 5000), "%": (0.001, 100)}),
    "training": Subject("Training that the law asks for", {"%": (0.001, 10)}),
    "voc": Subject("Volatile organic compounds in paint", {"g/L": (1, 1000), "g/L less water": (1, 1000)}),
    "waste": Subject("Waste", {"kg": (1, 10_000)}),
}
# How far each basis goes. No row claims more than its source can carry.
_REACH = {"read": 2, "definition": 2, "second-hand": 1, "from memory": 0, "common practice": 0}
_CLAIM = {Basis.PUBLISHED: 2, Basis.SECOND_HAND: 1, Basis.MEMORY: 0}


@dataclass(frozen=True)
class Rule:
    """One rule of one region. `line` is where it stands."""

    subject: str
    region: str
    key: str
    scope: str
    figure: float
    unit: str
    says: str
    begins: str
    ends: str
    checked: str
    origin: Origin
    ask: str
    path: str = ""
    line: int = 0
    signed: SignedOff | None = None  # who says that an unlikely figure is right

    def in_force(self, on: str) -> bool:
        """True on a day (year-month-day) between its first and last."""
        return (not self.begins or self.begins <= on) and (not self.ends or on <= self.ends)

    def old(self, on: str) -> bool:
        """True where nobody has looked for a year, or where it has ended."""
        return bool(self.ends and on > self.ends) or (date.fromisoformat(on) - date.fromisoformat(self.checked)).days > KEPT_FRESH

    @property
    def amount(self) -> str:
        """Figure and unit as print; a year is a bare number; empty where the rule is words only."""
        if math.isnan(self.figure):
            return ""
        text = f"{self.figure:.10g}"
        return text if self.unit == "year" else f"{text} {self.unit}" if self.unit not in ("×",) else f"{text}×"

    @property
    def dated(self) -> str:
        """Basis, day of the check, and the days in force where they are known."""
        parts = [str(self.origin.basis), f"checked {self.checked}"]
        parts += [f"from {self.begins}"] if self.begins else []
        parts += [f"to {self.ends}"] if self.ends else []
        return ", ".join(parts)

    def __str__(self) -> str:
        return ": ".join(part for part in (self.amount, self.says) if part)


class Law:
    """Every rule of every region, asked by region, subject and day. See the module for how."""

    def __init__(self, rules: Iterable[Rule], under: Mapping[str, str | None] | None = None) -> None:
        self.rules = tuple(rules)
        self._under = dict(under or {})
        self._by: dict[tuple[str, str], list[Rule]] = {}
        for rule in self.rules:
            self._by.setdefault((rule.region, rule.subject), []).append(rule)

    def line(self, region: str) -> list[str]:
        """Whose rules answer, nearest first: district, region, the region it stands under."""
        found = [region]
        while "-" in found[-1]:
            found.append(found[-1].rpartition("-")[0])
        while (above := self._under.get(found[-1])) and above not in found:
            found.append(above)
        return found

    def __call__(self, region: str, subject: str, on: str, key: str = "") -> tuple[Rule, ...]:
        """Rules in force on a day, in the file's order. One that ended with nothing after it is still there, and is old."""
        found: dict[str, Rule] = {}
        for name in self.line(region):
            own: dict[str, Rule] = {}
            for rule in self._by.get((name, subject), ()):
                if rule.begins and rule.begins > on:
                    continue
                before = own.get(rule.key)
                if before is None or (before.ends and (not rule.ends or rule.ends > before.ends)):
                    own[rule.key] = rule
            found |= {one: rule for one, rule in own.items() if one not in found and key in ("", one)}
        return tuple(found.values())

    def one(self, region: str, subject: str, key: str, on: str) -> Rule | None:
        """The rule in force for one key, or None."""
        return next(iter(self(region, subject, on, key)), None)

    def coming(self, region: str, subject: str, on: str) -> tuple[Rule, ...]:
        """Rules that begin after a day, for the region and those it stands under."""
        return tuple(rule for name in self.line(region) for rule in self._by.get((name, subject), ()) if rule.begins and rule.begins > on)

    def old(self, region: str, on: str) -> list[str]:
        """Each file with rules that were last checked too long ago, or have ended, one line each day."""
        told: dict[str, None] = {}
        for subject in SUBJECTS:
            for rule in self(region, subject, on):
                if rule.old(on):
                    told[f"{rule.path}: rows checked {rule.checked}" if not (rule.ends and on > rule.ends) else f"{rule.path}:{rule.line}: {rule.key} ended {rule.ends}"] = None
        return list(told)


class Places:
    """Regions and districts that a row may name."""

    def __init__(self, regions: Mapping[str, Any], unread: Iterable[str] = ()) -> None:
        self.names = {*regions, *unread, *(district for one in regions.values() for district in one.districts)}
        self._unread = tuple(f"{one}-" for one in unread if one not in regions)

    def __contains__(self, name: str) -> bool:
        return name in self.names or name.startswith(self._unread)


def _nearest(name: str, names: Iterable[str]) -> str:
    close = difflib.get_close_matches(name, list(names), 1)
    return f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(sorted(names))


def _day(typed: str) -> bool:
    try:
        return date.fromisoformat(typed).isoformat() == typed
    except ValueError:
        return False


def _figure(row: Mapping[str, str], subject: Subject, tell: Any) -> float:
    """The row's figure, NaN where it has none; told where it is no number, of a strange unit, or out of all sense."""
    if not row["figure"]:
        if row["unit"]:
            tell("a figure for the unit", "an empty cell", "write the number, or take the unit away")
        return math.nan
    try:
        typed = read_typed(row["figure"], "1")
    except UnitError as error:
        tell("a number in column figure", shown(row["figure"]), error.mend)
        return math.nan
    if not (typed.bare and typed.single):
        tell("one number in column figure", shown(row["figure"]), "write one figure, with a point; its unit stands in its own column")
        return math.nan
    value = typed.likely
    span = subject.spans.get(row["unit"])
    if span is None:
        if subject.spans:
            tell("a unit: " + ", ".join(subject.spans), shown(row["unit"]), "write the unit that the rule is in")
        else:
            tell("a rule in words, in column says", shown(row["unit"]), "leave figure and unit empty")
    elif not span[0] <= value <= span[1]:
        tell(f"a figure between {span[0]:g} and {span[1]:g} {row['unit']}", shown(row["figure"]), "check the number and the unit")
    return value


def rules_of(subject: str, where: str, rows: Iterable[tuple[int, dict[str, str]]], problems: list[Problem], places: Places, sources: Mapping[str, Any]) -> list[Rule]:
    """Rows of one file as rules, with every problem at its line."""
    found: list[Rule] = []
    for line, row in rows:
        before = len(problems)

        def tell(wanted: str, came: str, mend: str, line: int = line) -> None:
            problems.append(Problem(where, line, wanted, came, mend))

        if row["region"] not in places:
            tell("a known region or district", shown(row["region"]), _nearest(row["region"], places.names))
        if not row["key"]:
            tell("a key", "an empty cell", "name the rule, for example xylene|8h")
        value = _figure(row, SUBJECTS[subject], tell)
        if not row["figure"] and not row["says"]:
            tell("a figure or a few words in column says", "two empty cells", "say what the rule is, or that there is none")
        for column in ("from", "to", "checked"):
            if (row[column] or column == "checked") and not _day(row[column]):
                tell(f"a date such as 2026-11-26 in column {column}", shown(row[column]), "write year-month-day")
        if _day(row["from"]) and _day(row["to"]) and row["from"] > row["to"]:
            tell("a last day on or after the first", f"{row['from']} to {row['to']}", "swap or mend the two")
        basis = _basis(row, sources, tell)
        if len(problems) == before:
            found.append(Rule(subject, row["region"], row["key"], row["scope"], value, row["unit"], row["says"], row["from"], row["to"], row["checked"],
                              Origin(basis, row["source"], row["checked"]), row["ask"], where, line, signed_off(row.get("doubtful", ""))))
    _one_at_a_time(found, problems)
    return found


def _basis(row: Mapping[str, str], sources: Mapping[str, Any], tell: Any) -> Basis:
    """The row's basis, told where it is none, names no source, or claims more than its source carries."""
    try:
        basis = Basis(row["basis"])
    except ValueError:
        tell("a basis: " + ", ".join(str(one) for one in Basis), shown(row["basis"]), "write one of them")
        return Basis.INVENTED
    if basis in CITED and row["source"] not in sources:
        tell(f"a source in sources.yaml for a {basis} value", shown(row["source"]), _nearest(row["source"], sources) if row["source"] else "name it, or add it to sources.yaml")
    elif basis in _CLAIM and _CLAIM[basis] > _REACH[sources[row["source"]].trust]:
        trust = sources[row["source"]].trust
        tell(f"a basis that its source can carry ({row['source']}: {trust})", shown(row["basis"]), f"write {trust}, or mend the source once it has been read")
    return basis


def _one_at_a_time(rules: list[Rule], problems: list[Problem]) -> None:
    """Two rows of one region and key never hold on the same day."""
    by: dict[tuple[str, str], list[Rule]] = {}
    for rule in rules:
        by.setdefault((rule.region, rule.key), []).append(rule)
    for same in by.values():
        same.sort(key=lambda rule: rule.begins)
        for first, then in itertools.pairwise(same):
            if not first.ends or first.ends >= then.begins:
                came = f"another in force on the same day, in line {first.line}"
                problems.append(Problem(then.path, then.line, f"one rule for {then.region} {then.key} at a time", came, "give the earlier one its last day in column to"))


def _line_of(root: Path, region: str, name: str) -> int:
    """The line of a mask's name in its region's file; 1 where an older handbook has no such file."""
    path = layers.find(root, f"site_data/regions/{region}.yaml")
    tree = read_yaml(path, root, []) if path.is_file() else None
    return tree.line(("masks", name)) if tree else 1


def read_law(root: Path, problems: list[Problem], regions: Mapping[str, Any], sources: Mapping[str, Any], unread: Iterable[str] = ()) -> Law:
    """Every rule in site_data/law. Rows that cannot be read are told and left out.

    `unread` are regions whose file is there and cannot be read: their rows are not told as well.
    """
    places = Places(regions, unread)
    under = {key: one.under for key, one in regions.items()}
    rules: list[Rule] = []
    folder = root / FOLDER
    # What else lies there is told with the strangers; a workbook of a subject stands in the place of its CSV.
    for path in {path.stem: path for name, path in layers.listed(root, FOLDER).items() if not name.startswith(".") and path.suffix in (".csv", *BOOKS)}.values():
        where = f"{FOLDER}/{path.name}"
        if path.stem not in SUBJECTS:
            problems.append(Problem(where, 1, "a file named for its subject: " + ", ".join(f"{one}.csv" for one in SUBJECTS), shown(path.name), _nearest(path.stem, SUBJECTS)))
            continue
        rules += rules_of(path.stem, where, read_csv(path, root, COLUMNS, problems), problems, places, sources)
    if not folder.is_dir() and not layers.under(root):
        from generators.facts.law_before import rules_before

        rules = rules_before(root, problems, places, sources)
    law = Law(rules, under)
    for key, one in regions.items():
        there = {rule.key for rule in rules if rule.subject == "masks" and rule.region in law.line(key)}
        for name, wanted in one.masks or ():
            if rules and wanted not in there:
                problems.append(Problem(f"site_data/regions/{key}.yaml", _line_of(root, key, name), f"a key of site_data/law/masks.csv for masks.{name}", shown(wanted), _nearest(wanted, there)))
    return law
