"""What the fields of one kit, coating or handbook say about another field, and the names they take from other files."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators.facts import model
from generators.facts.law import Law
from generators.facts.problem import Problem, shown
from generators.facts.read import Tree
from generators.facts.reader import Reader, known, nearest
from generators.facts.regions import FOLDER as REGIONS
from generators.facts.regions import Region


def check_kit(reader: Reader, tree: Tree, kit: Any, cups: Mapping[str, Any], own_cups: Mapping[str, Any]) -> None:
    """What one field of a kit says about another. A field that could not be read is None and is passed over."""
    if kit.limit:
        known(reader, tree, ("limit",), kit.limit.cup, {**cups, **own_cups}, "cup")
        cup = cups.get(kit.limit.cup)
        if cup and not cup.time_min <= kit.limit.seconds <= cup.time_max:
            reader.tell(tree, ("limit",), f"a time that {cup.label} can be read at, {cup.time_min:g} to {cup.time_max:g} s", f"{kit.limit.seconds:g} s", "time it in another cup")
    if kit.near and kit.far and kit.near.to("mm") >= kit.far.to("mm"):
        reader.tell(tree, ("far",), "far beyond near", f"{kit.far.value:g} {kit.far.unit}", "swap or mend the two")


def check_coating(reader: Reader, tree: Tree, coating: Any, cups: Mapping[str, Any], protection: Any, law: Law) -> None:
    """What one field of a coating says about another, and the names it takes from other files."""
    if coating.class_key:
        known(reader, tree, ("class",), coating.class_key, reader.names["classes.yaml"], "class")
    for index, stop in enumerate(coating.stops or ()):
        known(reader, tree, ("stops", index), stop, reader.names["stops.yaml"], "hard stop")
    guard = protection.get(coating.class_key)
    if guard and guard.stop and guard.stop not in (coating.stops or ()):
        reader.tell(tree, ("stops",), f"the hard stop {guard.stop!r} that this class carries", "no such stop", f"write stops: [{guard.stop}]")
    for key, regions in (("voc_category", ("uk", "eu")), ("voc_category_us", ("us",))):
        if category := getattr(coating, key):
            known(reader, tree, (key,), category, {rule.key.partition("|")[0] for rule in law.rules if rule.subject == "voc" and rule.region in regions}, "category in law/voc.csv")
    if coating.supplied:
        known(reader, tree, ("supplied",), coating.supplied.cup, cups, "cup")
    if coating.trial:
        known(reader, tree, ("trial", "time"), coating.trial.time.cup, cups, "cup")
    if coating.air_min and coating.air_max and coating.air_min.to("°C") >= coating.air_max.to("°C"):
        reader.tell(tree, ("air_max",), "air_max above air_min", f"{coating.air_max.value:g} {coating.air_max.unit}", "swap or mend the two")


def placed(reader: Reader, tree: Tree, handbook: model.Handbook, regions: Mapping[str, Region], wanted: str | None) -> model.Handbook:
    """The handbook in the region wanted, or in its own. A region or district without a file is told."""
    names = reader.names["regions"]
    if wanted and wanted not in names:
        reader.problems.append(Problem(REGIONS, 1, "a region with a file here", shown(wanted), nearest(wanted, sorted(names))))
    known(reader, tree, ("region",), handbook.region, sorted(names), f"region: a file in {REGIONS}")
    if handbook.district and handbook.region in regions:
        known(reader, tree, ("district",), handbook.district, sorted(regions[handbook.region].districts), f"district in {REGIONS}/{handbook.region}.yaml")
    return handbook.model_copy(update={"region": wanted or handbook.region}).among(regions)
