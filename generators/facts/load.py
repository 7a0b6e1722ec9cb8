"""load(root) → Facts, or FactsError with every problem in every file. Each part of Facts has one reader here, by its name."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from generators import layers
from generators.facts import files, hazard, model, rows
from generators.facts.cups_against import flow_time
from generators.facts.doubts import WHOLE_ROW
from generators.facts.gloves import read_gloves
from generators.facts.held import Facts
from generators.facts.law import Law, read_law
from generators.facts.law_near import near
from generators.facts.look import check_look
from generators.facts.problem import FactsError, Problem, shown
from generators.facts.read import Tree
from generators.facts.reader import Reader, cited, known, nearest, settled, settled_many
from generators.facts.regions import Region, read_regions
from generators.facts.relations import by_volume, check_class, check_coating, check_kit, placed, weigh_coating
from generators.facts.shapes import paced, shaped
from generators.facts.solvent_lists import solvent
from generators.facts.strangers import strangers
from generators.facts.training import read_drills, read_planted
from generators.facts.usual import Spans, kinds_that_are_none, read_usual
from generators.facts.weather import Year, read_year

# Hard stops that every handbook has: no setting and no missing file switches one off.
STOPS = ("isocyanates", "lead", "asbestos", "chromate-lead-primer", "preservative-label")


class Found(dict[str, Any]):
    """Parts of Facts read so far, by name; a later one may rest on an earlier one."""

    def __getattr__(self, name: str) -> Any:
        return self[name]


def _usual(reader: Reader, found: Found) -> Spans:
    """What is usual; kept by the reader, since each later file asks it."""
    reader.spans = read_usual(reader, found.sources)
    return reader.spans


def _regions(reader: Reader, found: Found) -> dict[str, Region]:
    regions = read_regions(reader)
    for key, region in regions.items():
        tree = reader.trees.get(f"regions/{key}")
        if tree:
            reader.usual(tree, (), "regions", key, region)
    return regions


def _rules(reader: Reader, found: Found) -> Law:
    """Every rule of law, with doubts about figures that are far from what others have."""
    law = read_law(reader.root, reader.problems, found.regions, found.sources, reader.names["regions"])
    for rule, odd in near(law.rules, reader.spans):
        tree = Tree(rule.path, {}, {(): rule.line}, is_row=True)
        signed = {WHOLE_ROW: rule.signed} if rule.signed else {}
        reader.found(tree, (), f"law/{rule.subject}", str(rule.line), [odd], signed)
    return law


def _flow_times(reader: Reader, found: Found) -> tuple[rows.FlowTime, ...]:
    """Official flow times, each against the law of its cup."""
    timed = reader.rows_at(rows.FlowTime, found.sources, cup=found.cups)
    for line, row in timed:
        reader.found(Tree("site_data/flow_times.csv", {}, {(): line}, is_row=True), (), "flow_times", str(line), flow_time(row, found.cups), row.doubtful)
    return tuple(row for _, row in timed)


def _solvents(reader: Reader, found: Found) -> tuple[rows.Solvent, ...]:
    """Solvents, each list's figures against the others'."""
    told = reader.rows_at(rows.Solvent, found.sources)
    for line, row in told:
        reader.found(Tree("site_data/solvents.csv", {}, {(): line}, is_row=True), (), "solvents", str(line), solvent(row), row.doubtful)
    return tuple(row for _, row in told)


def _is_there(reader: Reader, file: str) -> bool:
    return layers.there(reader.root, f"site_data/{file}")


def _classes(reader: Reader, found: Found) -> dict[str, model.CoatingClass]:
    classes = reader.many(model.CoatingClass, "classes.yaml")
    for key, one in classes.items():
        check_class(reader, reader.trees["classes.yaml"], key, one, found.cups | found.own_cups)
        cited(reader, reader.trees["classes.yaml"], one, (key,), found.sources)
    return {key: settled(one, one.origin) for key, one in classes.items()}


def _stops(reader: Reader, found: Found) -> dict[str, model.Stop]:
    stops = settled_many(reader, model.Stop, "stops.yaml", found.sources, needed=True)
    for key in STOPS:
        if key not in stops:
            reader.problems.append(Problem("site_data/stops.yaml", 1, f"the hard stop {key!r}", "none", "put it back: no setting switches a hard stop off"))
    return stops


def _protection(reader: Reader, found: Found) -> dict[str, model.Protection]:
    protection = settled_many(reader, model.Protection, "protection.yaml", found.sources, needed=True)
    for key in found.classes:
        if key not in protection:
            reader.problems.append(Problem("site_data/protection.yaml", 1, f"protective equipment for the class {key!r}", "none", "add it"))
    for key, guard in protection.items():
        if guard.stop and guard.stop not in found.stops:
            known(reader, reader.trees["protection.yaml"], (key, "stop"), guard.stop, found.stops, "hard stop")
    return protection


def _kits(reader: Reader, found: Found) -> dict[str, model.Kit]:
    kits: dict[str, model.Kit] = {}
    trees = reader.folder("kits")
    reader.names["kits"] = set(trees)
    for slug, tree in trees.items():
        kit = reader.parse(model.Kit, tree)
        check_kit(reader, tree, kit or reader.part(model.Kit, tree), found.cups, found.own_cups)
        if kit:
            cited(reader, tree, kit, (), found.sources)
            reader.usual(tree, (), "kits", slug, kit)
            kits[slug] = settled(kit, kit.origin)
    return kits


def _coatings(reader: Reader, found: Found) -> dict[str, model.Coating]:
    coatings: dict[str, model.Coating] = {}
    for slug, tree in reader.folder("coatings").items():
        coating = reader.parse(model.Coating, tree)
        read = coating or reader.part(model.Coating, tree)
        check_coating(reader, tree, read, {**found.cups, **found.own_cups}, found.protection, found.rules)
        weigh_coating(reader, tree, slug, read, found)
        if coating:
            cited(reader, tree, coating, (), found.sources)
            coatings[slug] = settled(hazard.settled(slug, by_volume(coating), found.classes.get(coating.class_key), found.protection.get(coating.class_key)), coating.origin)
    return coatings


def _weather(reader: Reader, found: Found) -> dict[str, Year]:
    years = {}
    for path in layers.listed(reader.root, "site_data/weather").values():
        if path.name.endswith((".epw", ".epw.gz", ".csv", ".csv.gz")) and (year := read_year(path, reader.root, reader.problems)):
            years[year.name] = year
    return years


def _substrates(reader: Reader, found: Found) -> dict[str, model.Substrate]:
    substrates = settled_many(reader, model.Substrate, "substrates.yaml", found.sources)
    for key, surface in substrates.items():
        good, most = surface.moisture_good, surface.moisture_max
        if (good is None) != (most is None) or (good and most and good.to("%") > most.to("%")):
            came = " and ".join(f"{one.value:g} {one.unit}" if one else "none" for one in (good, most))
            reader.tell(reader.trees["substrates.yaml"], (key, "moisture_good"), "moisture_good at or under moisture_max, or neither of them", came, "mend the two")
    return substrates


def _cleaning(reader: Reader, found: Found) -> dict[str, model.Cleaning]:
    cleaning = settled_many(reader, model.Cleaning, "cleaning.yaml", found.sources)
    for key, one in cleaning.items():
        if one.sets_soon.to("min") > one.sets_late.to("min"):
            reader.tell(reader.trees["cleaning.yaml"], (key, "sets_late"), "sets_late at or over sets_soon", shown(one.sets_late.text), "swap or mend the two")
    return cleaning


def _pieces(reader: Reader, found: Found) -> dict[str, model.Piece]:
    """Things that are sprayed, their sizes against each other and against what their shape usually has."""
    pieces = settled_many(reader, model.Piece, "pieces.yaml", found.sources, lambda piece: piece.shape)
    for key, piece in pieces.items():
        reader.found(reader.trees["pieces.yaml"], (key,), "pieces", key, shaped(piece), piece.doubtful)
    return pieces


def _surfaces(reader: Reader, found: Found) -> tuple[rows.Surface, ...]:
    """What is coated. Rows that want a piece go with the file of pieces, where a handbook does without it."""
    some = reader.rows_at(rows.Surface, found.sources)
    for line, row in some:
        reader.found(Tree("site_data/surfaces.csv", {}, {(): line}, is_row=True), (), "surfaces", str(line), paced(row), row.doubtful)
        if row.piece and row.piece not in found.pieces and found.pieces:
            reader.problems.append(Problem("site_data/surfaces.csv", line, "a piece of pieces.yaml", shown(row.piece), nearest(row.piece, found.pieces)))
        elif not row.piece and not (row.face and row.sides and row.profile):
            reader.problems.append(Problem("site_data/surfaces.csv", line, "a piece, or a face with its sides and profile", shown(row.name), "write one of them"))
    return tuple(row for _, row in some if not row.piece or row.piece in found.pieces)


def _search(reader: Reader, found: Found) -> model.Search:
    tree = reader.yaml("search.yaml") if _is_there(reader, "search.yaml") else None
    return (reader.parse(model.Search, tree) if tree else None) or model.Search(asked={}, twins={}, small=[])


def _rows(kind: type[rows.Row], **names: Callable[[Reader, Found], Any]) -> Callable[[Reader, Found], Any]:
    """A reader of typed rows; `names` say which names a column may take."""
    return lambda reader, found: reader.rows(kind, found.sources, **{column: of(reader, found) for column, of in names.items()})


def _many(kind: Any, file: str) -> Callable[[Reader, Found], Any]:
    """A reader of a file of named entries that a handbook may do without."""
    return lambda reader, found: settled_many(reader, kind, file, found.sources)


# In this order: what stands further down may rest on what stands above it.
READERS: Mapping[str, Callable[[Reader, Found], Any]] = {
    "sources": lambda reader, found: reader.many(model.Source, "sources.yaml"),
    "usual": _usual,
    "stops": _stops,
    "words": lambda reader, found: tuple(reader.many(model.Word, "words.yaml").values()),
    "regions": _regions,
    "rules": _rules,
    "cups": lambda reader, found: files.cups(reader, found.sources),
    "own_cups": lambda reader, found: files.own_cups(reader, found.cups, found.sources),
    "classes": _classes,
    "protection": _protection,
    "limits": lambda reader, found: files.measures(reader, "limits.yaml", found.sources),
    "rates": lambda reader, found: files.measures(reader, "rates.yaml", found.sources, files.RATES) if _is_there(reader, "rates.yaml") else {},
    "kits": _kits,
    "coatings": _coatings,
    "solvents": _solvents,
    "gloves": lambda reader, found: read_gloves(reader, found.sources),
    "flow_times": _flow_times,
    "cup_disagreements": _rows(rows.CupDisagreement, cup=lambda reader, found: found.cups),
    "efficiencies": _rows(rows.Landing),
    "weather": _weather,
    "combs": _rows(rows.Comb),
    "techniques": _many(model.Technique, "techniques.yaml"),
    "fault_drawings": lambda reader, found: files.fault_drawings(reader),
    "faults": lambda reader, found: files.faults(reader, found.sources),
    "drills": lambda reader, found: read_drills(reader, found.sources),
    "planted": lambda reader, found: read_planted(reader, found.faults, found.sources),
    "cleaning": _cleaning,
    "finishes": _many(model.Finish, "finishes.yaml"),
    "over": lambda reader, found: files.over(reader, found.finishes, found.sources),
    "substrates": _substrates,
    "pieces": _pieces,
    "area_factors": _rows(rows.AreaFactor),
    "search": _search,
    "surfaces": _surfaces,
    "stages": lambda reader, found: files.stages(reader, found.sources, found.rates),
    "templates": lambda reader, found: files.templates(reader, reader.files("coatings") | set(found.coatings), {row.name for row in found.surfaces}),
    "care": _rows(rows.Care, **{"class": lambda reader, found: reader.names["classes.yaml"]}),
    "recipes": lambda reader, found: files.recipes(reader, reader.files("coatings") | set(found.coatings), reader.files("kits") | set(found.kits), {**found.cups, **found.own_cups}, found.sources),
}


def load(root: Path, region: str | None = None) -> Facts:
    """Read and check everything under root/site_data. `region` overrides the handbook's own.

    Raises FactsError with every problem; nothing is written.
    """
    reader, found = Reader(Path(root)), Found()
    if wrong := layers.wrong_format(reader.root):
        raise FactsError([Problem(*wrong)])
    for name, read in READERS.items():
        found[name] = read(reader, found)
    tree = reader.yaml("handbook.yaml")
    handbook = reader.parse(model.Handbook, tree) if tree else None
    if handbook and tree:
        known(reader, tree, ("default_kit",), handbook.default_kit, reader.names["kits"], "kit")
        check_look(reader, tree, handbook)
        handbook = placed(reader, tree, handbook, found.regions, region)
    kinds_that_are_none(reader, {"rates": files.RATES})
    strangers(reader.root, reader.looked | {"cups.csv", "gloves.csv"}, reader.problems)
    if reader.problems or handbook is None:
        raise FactsError(reader.problems, reader.doubts)
    found.pop("usual")
    return Facts(root=reader.root, handbook=handbook, doubts=tuple(sorted(set(reader.doubts))), **found)
