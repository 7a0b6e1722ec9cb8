"""Facts told to a walk: a kit, a coating and a region as numbers and words under dotted names. Choosing, and no arithmetic."""

from __future__ import annotations

from typing import Any

from generators.basis import Basis, Origin
from generators.chain.known import FACTS, LIMITS, Told

_COMMON = Origin(Basis.COMMON)


def _number(measure: Any, unit: str) -> Told:
    if measure is None:
        return Told(None, _COMMON)
    low, high = measure.ends(unit)
    return Told((low, measure.to(unit), high), measure.origin)


_USUAL = "white-spirit"  # where neither sheet nor thinner names a solvent that the list knows
# Figures that stand in a file's own fields, by the names that they have there: here and on the phone (`chain/own.py`).
KIT_FIGURES = ("flow", "transfer_efficiency", "fan_angle", "near", "far", "pot", "noise", "half_height", "flow_power", "efficiency_fall", "hand_scatter")
TIN_FIGURES = ("volume_solids", "dry_film", "density", "voc", "thinner_density", "thinner_max", "air_min", "air_max", "humidity_max", "recoat_after", "recoat_before",
               "steepness", "viscosity_slope")
PAIR_FIGURES = ("pot_life", "induction", "pot_life_at", "pot_life_of", "hardener_density")


def kit_told(facts: Any, slug: str) -> dict[str, Told]:
    """A kit's facts."""
    rig = facts.kits[slug]
    found = {f"kit.{name}": _number(getattr(rig, name), FACTS[f"kit.{name}"][0]) for name in KIT_FIGURES}
    found["kit.limit"] = _number(rig.limit, "s")
    found["kit.cup"] = Told(rig.limit.cup, rig.limit.origin)
    found["kit.pattern"] = Told(rig.pattern, rig.origin)
    found["kit.name"] = Told(rig.name, rig.origin)
    return found


def _voc_rule(facts: Any, coating: Any, region: str) -> tuple[str, Told, Told]:
    """(limited | unlimited, VOC as that rule counts it, limit) by the region's own way of counting."""
    found = facts.law(region, "voc")
    own = [rule for rule in found if rule.region == found[0].region]
    less_water = any(rule.unit == "g/L less water" for rule in own)
    family = facts.classes[coating.class_key].family
    named = facts.regions[region].label_category
    category = getattr(coating, named) if named else None
    base = "any" if less_water else ("wb" if family in ("waterborne", "mineral") else "sb")
    rule = next((rule for rule in own if rule.key == f"{category or ''}|{base}" and rule.unit), None)
    counted = coating.voc_less_water if less_water and coating.voc_less_water else None if less_water and family in ("waterborne", "mineral") else coating.voc
    if rule is None or counted is None:
        return "unlimited", Told(None, _COMMON), Told(None, _COMMON)
    return "limited", _number(counted, "g/L"), _ruled(rule)


def _ruled(rule: Any) -> Told:
    """A rule's figure; None where there is no rule, or it is words only."""
    return Told((rule.figure,) * 3, rule.origin) if rule is not None and rule.unit else Told(None, _COMMON)


def solvent_told(row: Any) -> tuple[Told, Told]:
    """(lower explosive limit, molar mass) of one solvent that has both."""
    limits = [limit.to("%") for limit in row.explosive_limits]
    return Told((min(limits), min(limits), max(limits)), row.origin), _number(row.molar_mass, "g/mol")


def _solvent(facts: Any, coating: Any) -> tuple[Told, Told]:
    """(lower explosive limit, molar mass) of the solvent of its sheet and its thinner that burns soonest by weight; else of the usual one, by its key."""
    named = {coating.thin_with.lower(), *(one.name.lower() for one in (coating.sds.solvents if coating.sds else ()))}
    burns = [row for row in facts.solvents if row.explosive_limits]
    found = [row for row in burns if named & {row.name.lower(), row.key}] or [row for row in burns if row.key == _USUAL]
    if not found:  # a handbook of its own that lists no such solvent: not known, and never go
        return Told(None, _COMMON), Told(None, _COMMON)
    return solvent_told(min(found, key=lambda one: min(limit.to("%") for limit in one.explosive_limits) * one.molar_mass.to("g/mol")))


def coating_told(facts: Any, slug: str, region: str) -> dict[str, Told]:
    """A coating's facts, and what its class says for it."""
    return tin_told(facts, facts.coatings[slug], region, facts.tin_name(slug))


def tin_told(facts: Any, tin: Any, region: str, name: str) -> dict[str, Told]:
    """Any tin's facts, one of no file too."""
    kind = facts.classes[tin.class_key]
    found = {f"coating.{name}": _number(getattr(tin, name), FACTS[f"coating.{name}"][0]) for name in TIN_FIGURES}
    pair = tin.two_pack
    found |= {f"coating.{name}": _number(getattr(pair, name) if pair else None, FACTS[f"coating.{name}"][0]) for name in PAIR_FIGURES}
    found["coating.ratio"] = Told((pair.ratio,) * 3 if pair else None, tin.origin)
    found["coating.pair"] = Told(f"{pair.ratio_by}-{pair.density_is}" if pair else "none", tin.origin)
    found["class.thin_time"] = _number(kind.spray_thin, "s")
    found["class.thin_cup"] = Told(kind.spray_thin.cup if kind.spray_thin else None, kind.origin)
    found["class.thin_end"] = Told("told" if kind.spray_thin else None, kind.origin)
    found["coating.open_time"] = _number(kind.open_time, "min")
    found["class.viscosity_slope"] = _number(kind.viscosity_slope, "1/K")
    margin = "dew_margin_lacquer" if tin.class_key.startswith("shellac") else "dew_margin_waterborne" if kind.family == "waterborne" else "dew_margin_min"
    found["coating.margin_needed"] = _number(facts.value(f"limits.{margin}"), "Δ°C")
    most = found["coating.thinner_max"].value
    found["coating.thinner_span"] = Told((0.0, 0.0, most[2]) if isinstance(most, tuple) else None, tin.origin)
    weight = found["coating.thinner_density"]
    water = not isinstance(weight.value, tuple) or weight.value[1] == 0
    found["coating.thinner_weight"] = Told((1.0, 1.0, 1.0), _COMMON) if water else _number(tin.thinner_density, "kg/L")
    rule, counted, limit = _voc_rule(facts, tin, region)
    found |= {"coating.voc_rule": Told(rule, _COMMON), "coating.voc_counted": counted, "coating.voc_limit": limit}
    found["coating.voc_room"] = Told("counts" if rule == "limited" and not water and (facts.regions[region].label_category != "voc_category_us" or tin.voc_less_water is None) else "none", _COMMON)
    found["coating.solvent_lel"], found["coating.solvent_molar_mass"] = _solvent(facts, tin)
    words = {
        "name": name, "hardener": tin.hardener or "none", "stop": tin.stops[0] if tin.stops else "none", "family": kind.family, "window": "closes" if tin.recoat_before else "open",
        "parts": "two-pack" if pair or kind.family == "two-pack" else "one-pack", "cup": "refused" if tin.cup_refused else "speaks",
    }
    found |= {f"coating.{name}": Told(said, tin.origin) for name, said in words.items()}
    guard = facts.protection.get(tin.class_key)
    found["coating.mask"] = Told(facts.breathing(guard, region) if guard else None, guard.origin if guard else _COMMON)
    found["coating.gloves"] = Told(f"{guard.hands} Its own sheet: {tin.sds.gloves}." if guard and tin.sds and tin.sds.gloves else guard.hands if guard else None, guard.origin if guard else _COMMON)
    return found


def sheet_timings(facts: Any, slug: str) -> tuple[tuple[float, float, str], ...]:
    """The data sheet's own timings: (share of thinner %, seconds, cup), as supplied and after a first dose; how it thins as measured stands in for that dose."""
    tin = facts.coatings[slug]
    if tin.cup_refused or not tin.supplied:
        return ()
    found = [(0.0, tin.supplied.seconds, tin.supplied.cup)]
    if tin.trial and not tin.steepness:
        found.append((tin.trial.thinner.to("%"), tin.trial.time.seconds, tin.trial.time.cup))
    return tuple(found)


def limits_told(facts: Any) -> dict[str, Told]:
    """Limits that the chain asks for; one that a handbook's file leaves out is absent."""
    found = {f"limits.{name}": _number(facts.limits.get(name), _unit(unit)) for name, unit in LIMITS.items()}
    low, high = (found[f"limits.thinning_steepness_{end}"] for end in ("low", "high"))
    if isinstance(low.value, tuple) and isinstance(high.value, tuple):
        middle = (low.value[1] + high.value[1]) / 2
        found["limits.thinning_steepness"] = Told((low.value[0], middle, high.value[2]), low.origin)
    else:
        found["limits.thinning_steepness"] = Told(None, _COMMON)
    ordinary, bad = (found[f"limits.room_mixing{end}"] for end in ("", "_worst"))
    if isinstance(ordinary.value, tuple) and isinstance(bad.value, tuple):  # nobody judged the room: it may be a bad one
        found["limits.room_mixing"] = Told((ordinary.value[0], ordinary.value[1], bad.value[2]), ordinary.origin)
    return found


def _unit(unit: str) -> str:
    return "×" if unit == "1" else unit


SHAPES = {"flat": "wall", "panelled": "panel-door", "open": "railing"}


def shape_told(facts: Any, shape: str | None) -> dict[str, Told]:
    """Share that lands on a shape of work, from the table of surfaces; absent where nobody says what shape."""
    row = next((row for row in facts.surfaces if row.name == SHAPES.get(shape or "")), None)
    if row is None:
        return {"surface.lands": Told(None, _COMMON)}
    return {"surface.lands": _number(row.spray_lands, "%")}


def ground_told(facts: Any, ground: str | None, place: str | None) -> dict[str, Told]:
    """How wet wood may be: outdoors as exterior joinery, else as interior."""
    kind = facts.substrates.get("exterior-joinery" if place == "outdoors" else "interior-joinery") if ground in (None, "wood") else None
    return {f"ground.{name}": _number(getattr(kind, name, None), "%") for name in ("moisture_good", "moisture_max")}


def region_told(facts: Any, region: str) -> dict[str, Told]:
    """What the region's law says where the chain asks. What it does not say is absent, and asks for an answer."""
    return {
        "region.mist_limit": _ruled(facts.rule(region, "dust", "dust|inhalable")),
        "region.lead_until": _ruled(facts.rule(region, "lead", "suspect")),
        "region.asbestos_until": _ruled(facts.rule(region, "asbestos", "presume")),
        "region.half_mask": _ruled(facts.mask(region, "half")),
        "region.full_mask": _ruled(facts.mask(region, "full")),
    }
