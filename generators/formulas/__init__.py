"""Every declared formula, a file per chapter. `catalogue(facts)` gives the cups of the handbook at hand, and the words of its system of units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generators.formula import Formula, Option
from generators.formulas import air, day, film, gun, job, last, mix, pot, room, safety

# What each chapter is about, as a reader looks for it; the pages that list all formulas are built on it.
CHAPTERS: dict[str, tuple[Formula, ...]] = {
    "Cups, thinning and label limits": mix.ALL,
    "The pot: doses, the way back, two-pack": pot.ALL,
    "Fan, strokes, what lands, and areas": gun.ALL,
    "Wet and dry film, runs and levelling": film.ALL,
    "Dew point, drying and overspray": air.ALL,
    "Vapour, clearing the air, and noise": room.ALL,
    "Mist in the air: never a permission": safety.ALL,
    "Times, temperatures and the next pour": day.ALL,
    "The job: areas, paint, hours and price": job.ALL,
    "What your last pots say": last.ALL,
}
DECLARED: dict[str, Formula] = {formula.name: formula for chapter in CHAPTERS.values() for formula in chapter}


def cup_options(cups: Any) -> dict[str, Option]:
    """Options for the cup formulas. The viscosity range is what the time range gives, so that both directions
    refuse at the same points; a hair is added for rounding on the way back."""
    options = {}
    for name, cup in cups.items():
        def viscosity(seconds: float, cup: Any = cup) -> float:
            return float(cup.A * (seconds - cup.C) - cup.B / seconds)

        seconds = (cup.time_min * (1 - 1e-9), cup.time_max * (1 + 1e-9))
        low, high = viscosity(cup.time_min), viscosity(cup.time_max)
        ranges = {"time": seconds, "first-time": seconds, "trial-time": seconds, "target-time": seconds,
                  "viscosity": (low * (1 - 1e-9), high * (1 + 1e-9))}
        options[name] = Option(cup.label, {"A": cup.A, "B": cup.B, "C": cup.C}, ranges, cup.origin)
    return options


def catalogue(facts: Any) -> dict[str, Formula]:
    """Every formula by name, with this handbook's cups filled in, in the words of its own system of units."""
    options, system = cup_options(facts.cups), facts.handbook.system
    return {name: (formula.with_options(options) if formula.choice else formula).told_in(system) for name, formula in DECLARED.items()}


def by_chapter(known: Mapping[str, Formula]) -> dict[str, dict[str, Formula]]:
    """A catalogue's formulas under the title of their chapter, in its order: {title: {name: formula}}."""
    return {title: {formula.name: known[formula.name] for formula in chapter} for title, chapter in CHAPTERS.items()}
