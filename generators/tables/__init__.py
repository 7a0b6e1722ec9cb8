"""One builder per table, a file per chapter. BUILDERS is every table that a page can ask for by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from generators.tables import air, film, gun, mix, safety
from generators.tables.book import Book

BUILDERS: dict[str, Callable[..., Any]] = {
    "thinning-steps": mix.thinning_steps,
    "thinner-dose": mix.thinner_dose,
    "cup-times": mix.cup_times,
    "fan-width": gun.fan_width,
    "stroke-spacing": gun.stroke_spacing,
    "coverage": film.coverage,
    "wet-film": film.wet_film,
    "dew-point": air.dew_point,
    "dew-surface": air.dew_surface,
    "protection": safety.protection,
}
PER_KIT = frozenset({"thinning-steps", "thinner-dose", "stroke-spacing"})

__all__ = ["BUILDERS", "PER_KIT", "Book"]
