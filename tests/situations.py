"""Random situations for the chain's tests: texts such as a person types, a tenth of them with a reading on a limit exactly."""

from __future__ import annotations

import random
from typing import Any

_ALWAYS = {"people-out": ("yes", "yes", "yes", "yes", "no"), "flames-out": ("yes", "yes", "yes", "yes", "no"), "old-finish": ("none", "sound", "sound", "flaking", "not-sure"),
           "lead": ("no", "no", "no", "not-tested", "yes"), "asbestos": ("no", "no", "no", "not-tested", "yes"), "ground": ("wood", "coated", "plaster", "masonry", "metal"),
           "place": ("room", "workshop", "outdoors"), "shape": ("flat", "panelled", "open"), "instruments": ("usual", "checked", "exact"), "touch-test": ("passes", "passes", "fails")}


def _without(pairs: list[tuple[str, str]], *names: str) -> list[tuple[str, str]]:
    return [pair for pair in pairs if pair[0] not in names]


def situation(facts: Any, rng: random.Random, missing: float = 0.04) -> list[tuple[str, str]]:
    """NAME, VALUE pairs. Most are mild, so that each test gets its turn to decide; some readings are left out."""
    kit, coating = rng.choice(list(facts.kits)), rng.choice(list(facts.coatings))
    if rng.random() < 0.12:
        coating = rng.choice([slug for slug, one in facts.coatings.items() if one.two_pack is not None] or [coating])
    tin = facts.coatings[coating]
    found: dict[str, str] = {"kit": kit, "coating": coating}
    calm = rng.random() < 0.6  # a mild day: otherwise something or other is always wrong
    low, high, wet = tin.air_min.to("°C"), tin.air_max.to("°C"), tin.humidity_max.to("%")
    air = rng.uniform(low + 3, high - 3) if calm else rng.uniform(low - 4, high + 4)
    damp = rng.uniform(25, 60) if calm else rng.uniform(20, 97)
    surface = air + (rng.uniform(-2, 2) if calm else rng.uniform(-12, 14))
    if rng.random() < 0.1:
        air, damp = rng.choice((low, high, low + 2, high - 2, air)), rng.choice((wet, damp))
        surface = rng.choice((low, high, high + 10, surface))
    found |= {"air-temperature": f"{air:.6g}", "relative-humidity": f"{damp:.6g}", "surface-temperature": f"{surface:.6g}"}
    for name, words in _ALWAYS.items():
        found[name] = words[0] if calm and rng.random() < 0.85 and name not in ("place", "shape", "instruments", "ground") else rng.choice(words)
    if tin.two_pack is not None:
        found["hardener"] = rng.choice(("amine", "amine", "amine", "acid", "isocyanate"))
        if rng.random() < 0.5:
            found["batch-litres"] = f"{rng.uniform(0.2, 6):.3g}"
        found["mixed-at"] = rng.choice(("08:00", "09:30", "10:10", "10:22"))
        if rng.random() < 0.2:
            del found["mixed-at"]
    found["building-year"] = str(rng.choice((1930, 1977, 1985, 1995, 2004, 2015, 2022)))
    found |= {"wind": f"{rng.uniform(0.001, 1.5 if calm else 7):.4g}", "gust": f"{rng.uniform(0.001, 3 if calm else 9):.4g}", "night-low": f"{rng.uniform(8, 16) if calm else rng.uniform(-2, 12):.4g}"}
    found["rain-at"] = rng.choice(("none", "none", "23:30", "12:00", "18:00"))
    found["moisture"] = f"{rng.uniform(8, 13 if calm else 24):.4g}"
    found |= {"room-volume": f"{rng.uniform(15, 200):.4g}", "air-changes": f"{rng.uniform(1, 30):.4g}", "mixing": f"{rng.choice((1, 3, 5)):g}", "pot-litres": f"{rng.uniform(0.1, 1):.3g}"}
    found |= {"now": "10:30", "last-coat-at": rng.choice(("2026-11-24T16:00", "2026-11-25T16:00", "02:00", "08:00", "2026-11-21T10:00")), "area": f"{rng.uniform(0.5, 40):.4g}"}
    if rng.random() < 0.5:
        found["distance"] = f"{rng.uniform(110, 280):.4g}"
    if rng.random() < 0.5:
        found["step"] = f"{rng.uniform(40, 190):.4g}"
    if rng.random() < 0.1:
        found["relative-humidity"] = f"{damp:.4g} ± {rng.choice((1, 4))} %"
    alone = calm and rng.random() < 0.5
    if alone:  # all is well but for one thing: so the gentler tests get their turn to decide
        found |= dict.fromkeys(("people-out", "flames-out"), "yes") | {"old-finish": "sound", "lead": "no", "asbestos": "no", "building-year": "2015", "rain-at": "none", "moisture": "10", "touch-test": "passes", "instruments": "exact",
                                                                     "wind": "0.5", "gust": "1", "night-low": f"{low + 4:.4g}", "room-volume": "150", "air-changes": "20", "mixing": "1", "pot-litres": "0.2"}
        middle = (low + high) / 2
        found |= {"air-temperature": f"{middle:.4g}", "relative-humidity": "35", "surface-temperature": f"{middle:.4g}"}
        found |= rng.choice((
            {"place": "outdoors", "wind": "3"}, {"asbestos": "not-tested"}, {"old-finish": "not-sure"}, {"air-temperature": f"{low + 1:.4g}", "surface-temperature": f"{low + 1:.4g}"},
            {"air-temperature": f"{high - 1:.4g}", "surface-temperature": f"{high - 1:.4g}"}, {"surface-temperature": f"{high + 4:.4g}"}, *[{"air-temperature": f"{low + 3:.4g}", "relative-humidity": f"{wet:.4g}", "surface-temperature": f"{low + 9:.4g}", "last-coat-at": "2026-11-24T16:00"}] * 2,
            {"relative-humidity": "65"}, *[{"air-temperature": "22", "relative-humidity": "65", "surface-temperature": "19.2"}] * 4, {"place": "outdoors", "wind": "0.05", "gust": "0.2"},
            {"place": "outdoors", "night-low": f"{max(low - 1, 5):.4g}"}, {"ground": "wood", "place": "outdoors", "moisture": "17"}, {"ground": "wood", "place": "room", "moisture": "14"}, {"place": "outdoors", "rain-at": ""}, {"mixed-at": "10:22"} if tin.two_pack is not None else {"gust": "5", "place": "outdoors"},
            {"last-coat-at": "09:45"}, {"touch-test": "fails"}, {}))
        if not found["rain-at"]:
            del found["rain-at"]
        missing = 0.0
    pairs = [(name, value) for name, value in found.items() if name in ("kit", "coating", "now") or rng.random() > missing]
    if not alone and rng.random() < 0.12:
        old = ("air-temperature", "relative-humidity", "surface-temperature", "people-out")
        pairs = [(name, f"{value}@{rng.choice(('10:00', '08:00', '05:30'))}" if name in old else value) for name, value in pairs]
    if not tin.supplied and rng.random() < 0.6:
        pairs += [("cup", "ford-4"), ("cup-time", f"{rng.uniform(22, 60):.4g}")]
    if tin.supplied and rng.random() < 0.7:
        pairs += [("cup", tin.supplied.cup), ("cup-time", f"{tin.supplied.seconds * rng.uniform(0.9, 1.1):.4g}")]
        first = tin.trial.time.seconds if tin.trial else tin.supplied.seconds * 0.8
        if rng.random() < 0.7:
            warm = rng.choice(("", "", f"@{rng.uniform(12, 26):.3g}"))
            pairs.append(("dose", f"{rng.choice(('5%', '5%', '4%w', '3%', '1%'))}:{first * rng.uniform(0.95, 1.05):.4g}s{warm}"))
            if rng.random() < 0.4:
                pairs.append(("dose", f"{rng.choice((8, 9, 12))}%:{first * rng.uniform(0.6, 1.1):.4g}s"))
                if rng.random() < 0.3:
                    pairs.append(("dose", f"{rng.choice((13, 15))}%:{first * rng.uniform(0.4, 0.9):.4g}s"))
        if rng.random() < 0.5:
            pairs.append(("paint-temperature", f"{rng.uniform(12, 26):.4g}"))
    # What seldom comes up by itself: an asked dose, a mix as cold or as warm as its sheet allows, a paint like water, a calm outdoors, a night too cold; and no kit or no paint at all.
    spice = rng.random()
    if spice < 0.06:
        pairs.append(("thinner-wanted", f"{rng.uniform(0, 1.6 * tin.thinner_max.to('%')):.3g}"))
    elif spice < 0.28:
        pairs = [*_without(pairs, "paint-temperature"), ("paint-temperature", f"{rng.choice((low, high)) + rng.uniform(-0.25, 0.25):.4g}")]
    elif spice < 0.37:
        pairs = [*_without(pairs, "cup", "cup-time", "dose", "paint-temperature"), ("cup", "ford-4"), ("cup-time", f"{rng.uniform(20.5, 23):.4g}")]
    elif spice < 0.565:
        pairs = [*_without(pairs, "place", "wind", "gust", "shape"), ("place", "outdoors"), ("wind", f"{rng.uniform(0.02, 0.14):.3g}"), ("gust", "0.3"), ("shape", "flat")]
    elif spice < 0.59:
        pairs = [*_without(pairs, "place", "night-low", "wind", "gust"), ("place", "outdoors"), ("wind", "0.5"), ("gust", "1"), ("night-low", f"{low - rng.uniform(0, 4):.3g}")]
    elif spice < 0.65:
        pairs = [*_without(pairs, "place", "wind"), ("place", "outdoors")]
    elif spice < 0.715:
        pairs = _without(pairs, "kit")
    elif spice < 0.785:
        pairs = _without(pairs, "coating")
    elif spice < 0.86:
        pairs = [*_without(pairs, "place", "room-volume", "air-changes", "mixing", "pot-litres"), ("place", "room"), ("mixing", "3"), ("room-volume", f"{rng.choice((15, 40, 60)):g}"), ("air-changes", f"{rng.choice((1, 6, 12)):g}"), ("pot-litres", "0.8")]
    return pairs
