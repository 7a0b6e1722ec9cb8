"""Tables of the film."""

from __future__ import annotations

import numpy as np

from generators.table import Axis, Rounding, Table
from generators.tables.book import Book, Builder, compute, frame, heads

EFFICIENCIES = {"rails": 30.0, "trim": 50.0, "flat": 65.0, "best": 75.0}


def coverage(book: Book, efficiency: float = 65.0) -> Table:
    """Area of a litre or gallon over volume solids and dry film, at one transfer efficiency (%)."""
    unit, film = book.pick(("m²/L", "µm"), ("ft²/gal", "mil"))
    films = np.array(book.pick((10, 20, 25, 30, 40, 50, 60, 80), (0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3)), float)
    solids = np.array((20, 25, 30, 35, 40, 45, 50, 60), float)
    values, why = compute(book.formulas["spreading-rate"], {
        "volume-solids": solids[:, None], "dry-film": films[None, :], "transfer-efficiency": efficiency}, unit, {"dry-film": film})
    return Table(
        "coverage", f"Coverage when {efficiency:g} % lands",
        f"Area for each {book.pick('litre', 'US gallon')} of unthinned paint, one coat, in {unit}, when {efficiency:g} % of what leaves the gun lands.",
        Axis("Volume solids", "%", heads(solids, " %")), Axis("Dry film", film, heads(films)), frame(values), unit,
        Rounding("down", book.pick(0.1, 5)), book.system, reasons=frame(why), formulas=("spreading-rate",),
        notes=("Smooth, sealed surface. Bare wood, plaster or brick drinks up to twice as much.",),
    )


def wet_film(book: Book, kit: str | None = None) -> Table:
    """Wet film to spray over thinner, for each coating's own solids and dry film."""
    unit = book.pick("µm", "mil")
    percents = np.array((0, 2, 5, 10, 15, 20), float)
    slugs = [slug for slug, coating in book.facts.coatings.items() if not coating.stops]
    coatings = [book.facts.coatings[slug] for slug in slugs]
    most = np.array([coating.thinner_max.to("%") for coating in coatings])[:, None]
    values, why = compute(book.formulas["wet-film"], {
        "dry-film": np.array([c.dry_film.to("µm") for c in coatings])[:, None],
        "volume-solids": np.array([c.volume_solids.to("%") for c in coatings])[:, None], "thinner": percents[None, :]}, unit)
    past = np.broadcast_to(percents[None, :] > most + 1e-9, values.shape)
    return Table(
        "wet-film", "Wet film to look for", f"Wet film for each coating's own dry film, in {unit}, by thinner in % of paint volume. Check it with a comb while it is wet.",
        Axis("Coating", "", tuple(c.name for c in coatings)), Axis("Thinner", "%", heads(percents, " %")),
        frame(np.where(past, np.nan, values)), unit, Rounding("up", book.pick(1, 0.1)), book.system,
        zones=frame(np.where(past, "stop", "")), zone_words={"stop": "past the data sheet's maximum thinner"},
        reasons=frame(np.where(past, "past the data sheet's maximum thinner", why)), formulas=("wet-film",),
    )


BUILDERS = {
    "coverage": Builder(coverage),
    "wet-film": Builder(wet_film),
}
