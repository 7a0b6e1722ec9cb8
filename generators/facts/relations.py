"""What the fields of one kit, coating or handbook say about another field, and the names they take from other files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators.facts import model
from generators.facts.law import Law
from generators.facts.printed import Parts
from generators.facts.problem import Problem, shown
from generators.facts.read import Tree
from generators.facts.reader import Reader, known, nearest
from generators.facts.regions import FOLDER as REGIONS
from generators.facts.regions import Region
from generators.facts.relate import asked, looker
from generators.facts.tin import ODDITIES, RELATIONS, WORKED, Tin

# What stands below what, with the unit that both are compared in: told here, and asked of a form on a phone too.
ORDERED = {"kit": (("near", "far", "mm"),), "coating": (("air_min", "air_max", "°C"),)}


def _in_order(reader: Reader, tree: Tree, fact: Any, noun: str) -> None:
    for low, high, unit in ORDERED[noun]:
        least, most = getattr(fact, low), getattr(fact, high)
        if least and most and least.to(unit) >= most.to(unit):
            reader.tell(tree, (high,), f"{high} {'beyond' if unit == 'mm' else 'above'} {low}", f"{most.value:g} {most.unit}", "swap or mend the two")


def check_kit(reader: Reader, tree: Tree, kit: Any, cups: Mapping[str, Any], own_cups: Mapping[str, Any]) -> None:
    """What one field of a kit says about another. A field that could not be read is None and is passed over."""
    if kit.limit:
        known(reader, tree, ("limit",), kit.limit.cup, {**cups, **own_cups}, "cup")
        cup = cups.get(kit.limit.cup)
        if cup and not cup.time_min <= kit.limit.seconds <= cup.time_max:
            reader.tell(tree, ("limit",), f"a time that {cup.label} can be read at, {cup.time_min:g} to {cup.time_max:g} s", f"{kit.limit.seconds:g} s", "time it in another cup")
    _in_order(reader, tree, kit, "kit")


def check_coating(reader: Reader, tree: Tree, coating: Any, cups: Mapping[str, Any], protection: Any, law: Law) -> None:
    """What one field of a coating says about another, and the names it takes from other files."""
    if coating.class_key is not None:
        known(reader, tree, ("class",), coating.class_key, reader.names["classes.yaml"], "class")
    for index, stop in enumerate(coating.stops or ()):
        known(reader, tree, ("stops", index), stop, reader.names["stops.yaml"], "hard stop")
    guard = protection.get(coating.class_key)
    if guard and guard.stop and guard.stop not in (coating.stops or ()):
        reader.tell(tree, ("stops",), f"the hard stop {guard.stop!r} that this class carries", "no such stop", f"write stops: [{guard.stop}]")
    for key, regions in (("voc_category", ("uk", "eu")), ("voc_category_us", ("us",))):
        if (category := getattr(coating, key)) is not None:
            known(reader, tree, (key,), category, {rule.key.partition("|")[0] for rule in law.rules if rule.subject == "voc" and rule.region in regions}, "category in law/voc.csv")
    if coating.supplied:
        known(reader, tree, ("supplied",), coating.supplied.cup, cups, "cup")
    if coating.trial:
        known(reader, tree, ("trial", "time"), coating.trial.time.cup, cups, "cup")
    _in_order(reader, tree, coating, "coating")


def placed(reader: Reader, tree: Tree, handbook: model.Handbook, regions: Mapping[str, Region], wanted: str | None) -> model.Handbook:
    """The handbook in the region wanted, or in its own. A region or district without a file is told."""
    names = reader.names["regions"]
    if wanted and wanted not in names:
        reader.problems.append(Problem(REGIONS, 1, "a region with a file here", shown(wanted), nearest(wanted, sorted(names))))
    known(reader, tree, ("region",), handbook.region, sorted(names), f"region: a file in {REGIONS}")
    if handbook.district and handbook.region in regions:
        known(reader, tree, ("district",), handbook.district, sorted(regions[handbook.region].districts), f"district in {REGIONS}/{handbook.region}.yaml")
    return handbook.model_copy(update={"region": wanted or handbook.region}).among(regions)


def check_class(reader: Reader, tree: Tree, key: str, kind: Any, cups: Mapping[str, Any]) -> None:
    """What one field of a class says about another, and what is usual for its family."""
    for low, high, unit in (("strainer_fine", "strainer_coarse", "µm"), ("nozzle_fine", "nozzle_coarse", "mm"), ("spray_thin", "spray_thick", "s")):
        first, then = getattr(kind, low), getattr(kind, high)
        if first and then and first.to(unit) > then.to(unit) and first.cup == then.cup:
            reader.tell(tree, (key, high), f"{high} at or over {low}", shown(then.text), "swap or mend the two")
        for name, value in ((low, first), (high, then)):
            if value and value.cup:
                known(reader, tree, (key, name), value.cup, cups, "cup")
    reader.usual(tree, (key,), "classes", key, kind, key, kind.family)


def nu(cups: Mapping[str, Any], timing: Any) -> float | None:
    """mm²/s of a timing in a cup whose law is known; None out of the times it can be read at, and in an own cup."""
    cup = cups.get(timing.cup) if timing is not None else None
    if cup is None or not hasattr(cup, "A") or not cup.time_min <= timing.seconds <= cup.time_max:
        return None
    return float(cup.A * (timing.seconds - cup.C) - cup.B / timing.seconds)


def weigh_coating(reader: Reader, tree: Tree, slug: str, coating: Any, found: Any) -> None:
    """The figures of a tin against each other, against its class, and against what its kind usually has."""
    kind = found.classes.get(coating.class_key)
    tin = Tin(coating, kind, lambda timing: nu(found.cups, timing), ())
    signed = coating.doubtful or {}
    reader.found(tree, (), "coatings", slug, asked(RELATIONS, ODDITIES, looker(WORKED, tin), tin), signed)
    reader.usual(tree, (), "coatings", slug, coating, *([coating.class_key, kind.family] if kind else []))
    for name in ("supplied", "trial"):
        timing = getattr(coating, name)
        timing = timing.time if name == "trial" and timing else timing
        cup = found.cups.get(timing.cup) if timing else None
        if cup and not cup.time_min <= timing.seconds <= cup.time_max:
            wanted = f"a time that {cup.label} can be read at, {cup.time_min:g} to {cup.time_max:g} s"
            reader.doubt(tree, (name,), "coatings", slug, wanted, shown(timing.text), "time it in another cup: nothing is worked from this one", signed)


def by_volume(coating: model.Coating) -> model.Coating:
    """The coating with its parts by volume: a sheet that mixes by weight is told by the two densities."""
    pack = coating.two_pack
    if pack is None or getattr(pack.ratio, "by", "volume") == "volume":
        return coating
    ratio = Parts(pack.ratio * pack.hardener_density.to("kg/L") / coating.density.to("kg/L"))
    return coating.model_copy(update={"two_pack": pack.model_copy(update={"ratio": ratio})})
