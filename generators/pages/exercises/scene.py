"""The job of one sheet: a kit, a paint and a place where all is well, told in a sentence. Each question then changes some of it."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generators import units

_PLACES = {"room": "a room", "workshop": "a workshop", "outdoors": "a yard"}
NOW = "10:30"


@dataclass(frozen=True)
class Scene:
    """`pairs` are readings as a person types them; `words` say what a trainee has to know of them for the whole sheet."""

    words: str
    pairs: Mapping[str, str]
    kit: str
    coating: str
    system: str

    def typed(self, value: float, unit: str, step: float = 1.0, us_step: float = 1.0) -> str:
        """A figure on a round step of the reader's system, with its unit, as it is typed and read."""
        value, shown = units.turned(value, unit, self.system, fast=True)
        step = step if shown == unit else us_step
        return f"{round(float(value) / step) * step:g} {shown}"


def draw_scene(facts: Any, kit: str, system: str, rng: random.Random) -> Scene:
    """A job in which nothing stands in the way. No tin that carries a hard stop, and no two-pack."""
    free = [slug for slug, tin in facts.coatings.items() if not tin.stops and tin.two_pack is None and not tin.cup_refused and facts.classes[tin.class_key].family != "two-pack"]
    coating = rng.choice(free or list(facts.coatings))
    tin, place = facts.coatings[coating], rng.choice(list(_PLACES))
    scene = Scene("", {}, kit, coating, system)
    middle = round((tin.air_min.to("°C") + tin.air_max.to("°C")) / 2)
    pairs = {
        "kit": kit, "coating": coating, "place": place, "people-out": "yes", "flames-out": "yes", "old-finish": "sound", "lead": "no", "asbestos": "no", "building-year": "2015", "ground": "coated",
        "wind": scene.typed(1, "m/s", 0.5, 1), "gust": scene.typed(1.5, "m/s", 0.5, 1), "rain-at": "none", "night-low": scene.typed(middle - 3, "°C"),
        "air-temperature": scene.typed(middle, "°C"), "relative-humidity": "40 %", "surface-temperature": scene.typed(middle, "°C"),
        "room-volume": scene.typed(120, "m³", 10, 100), "air-changes": "20", "mixing": "3", "pot-litres": scene.typed(0.4, "L", 0.1, 0.25), "touch-test": "passes", "now": f"2026-11-26T{NOW}",
    }
    words = (f"The job of this sheet: {tin.name}, with the {facts.kits[kit].name.lower()}, in {_PLACES[place]}. The building is of 2015, surveyed: no lead, no asbestos, old finish sound. "
             "People and flames are out, and the instruments are usual ones, unless a question says otherwise.")
    return Scene(words, pairs, kit, coating, system)
