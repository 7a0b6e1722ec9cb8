"""Every declared formula, a file per chapter. `catalogue(facts)` gives the cups of the handbook at hand, and the words of its system of units."""

from __future__ import annotations

from typing import Any

from generators.formula import Formula, Option
from generators.formulas import air, day, film, gun, job, last, mix, pot, room, safety

DECLARED: dict[str, Formula] = {
    formula.name: formula for chapter in (mix, pot, gun, film, air, room, safety, day, job, last) for formula in chapter.ALL
}


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
