"""A sheet: ten questions about one job, drawn from its number. The same number makes the same sheet, for this kit and this edition."""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generators.chain.day import Day
from generators.pages.exercises import kinds
from generators.pages.exercises.asked import Exercise
from generators.pages.exercises.scene import draw_scene

LENGTH = 10
_MOST_DRAWS, _FOR_OUTCOME = 60, 12


@dataclass(frozen=True)
class Sheet:
    """The job in a sentence, and its questions."""

    scene: str
    exercises: tuple[Exercise, ...]


def sheet(day: Day, kit: str, system: str, seed: int) -> Sheet:
    """Sheet number `seed`. Label, weather, safety, faults, overlap and price come in each; the rest is drawn. A kind of which no fair question is found is left out for another."""
    rng = random.Random(f"{seed} {system}")
    scene = draw_scene(day.facts, kit, system, rng)
    by_name: Mapping[str, Any] = {kind.name: kind for kind in kinds.KINDS}
    names = [*kinds.ALWAYS, *rng.sample([name for name in by_name if name not in kinds.ALWAYS], len(by_name) - len(kinds.ALWAYS))]
    found = [one for one in (kinds.price(day, scene, rng), kinds.fault(day, scene, rng)) if one]
    for name in names:
        if len(found) == LENGTH:
            break
        kind = by_name[name]
        outcome = kind.outcomes[rng.randrange(len(kind.outcomes))] if kind.outcomes else ""
        for turn in range(_MOST_DRAWS):
            one = kinds.draw(day, kind, scene, outcome if turn < _FOR_OUTCOME else "", rng)
            if one:
                found.append(one)
                break
    rng.shuffle(found)
    return Sheet(scene.words, tuple(found))
