"""Tables of the job: paint by the piece, and what a fence costs by the metre, at the crew's own rates."""

from __future__ import annotations

from typing import Any

import numpy as np

from generators import units
from generators.chain.job import reasons, work_job
from generators.chain.jobs import crew_fields, lays_of, paint_part, stage_parts, surface_part
from generators.studies.areas import surface_figures
from generators.table import Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, no_figures

RUN = 20.0  # metres of fence in the job that is priced
_NOTHING = "This handbook has no site_data/{}: add it, or start from a new folder."


def _paint(book: Book, use: str) -> Any:
    """The first coating without a hard stop that is meant for `use`, else the first without one."""
    free = [tin for tin in book.facts.coatings.values() if not tin.stops]
    return next((tin for tin in free if use in tin.uses), free[0] if free else None)


def paint_by_piece(book: Book) -> Table | TextTable:
    """Paint for two coats of so many doors and the like, sprayed: kinds down, pieces across."""
    rows, tin = [row for row in book.facts.surfaces if row.counted == "each"], _paint(book, "doors")
    if not rows or tin is None:
        return no_figures("paint-by-piece", "Paint by the piece", _NOTHING.format("surfaces.csv"))
    unit, counts = book.pick("L", "qt"), np.array((1, 2, 6, 10, 20, 40), float)

    def column(name: str, unit: str) -> Any:
        return np.array([getattr(row, name).to(unit) for row in rows])[:, None]

    figures = [surface_figures(book.facts, book.formulas, row) for row in rows]
    sizes = {name: np.array([one[name] for one in figures])[:, None] for name in ("face", "sides", "profile")}
    area, no_area = compute(book.formulas["coated-area"], {**sizes, "count": counts[None, :]}, "m²")
    litres, why = compute(book.formulas["paint-for-coats"], {"area": area, "coats": 2.0, "dry-film": tin.dry_film.to("µm"), "volume-solids": tin.volume_solids.to("%"),
                                                          "drink": column("drink", "×"), "transfer-efficiency": column("spray_lands", "%")}, unit)
    label = "us_label" if book.facts.handbook.words == "us" else "label"
    return Table(
        "paint-by-piece", "Paint for two coats, by the piece",
        f"{'Litres' if unit == 'L' else 'US quarts'} through the gun for two coats, with the solids and film of {tin.name}: both sides, edges and what does not land are in it. What stays in pot and hose comes on top.",
        Axis("Piece", "", tuple(getattr(row, label) for row in rows)), Axis.of("Pieces", "", counts), frame(litres), unit, Rounding("up", 0.1), book.system,
        reasons=frame(np.where(no_area != "", no_area, why)), formulas=("coated-area", "paint-for-coats"),
        notes=("Faces are of usual sizes, shares and drink are common practice: measure yours on the job sheet.",),
    )


def fence_price(book: Book) -> Table | TextTable:
    """Price of each metre (foot) of a fence, two coats sprayed, by its height, kind and sides."""
    facts, tin = book.facts, _paint(book, "fences")
    tin_name = next((slug for slug, one in facts.coatings.items() if one is tin), "")
    rows = {row.name: row for row in facts.surfaces}
    needed = {"hour", "paint"}
    if tin is None or not {"planed-fence", "rough-fence"} <= set(rows) or not needed <= set(facts.rates):
        return no_figures("fence-price", "What a fence costs", _NOTHING.format("rates.yaml and surfaces.csv with fences in them"))
    unit, long = book.pick("money/m", "money/ft"), book.pick("m", "ft")
    heights = np.array(book.pick((0.9, 1.2, 1.5, 1.8, 2.1), (3, 4, 5, 6, 7)), float)
    kinds = [(name, sides) for name in ("planed-fence", "rough-fence") for sides in (1.0, 2.0)]
    price = facts.rates["paint"].to("money/L")
    values, why = np.empty((len(heights), len(kinds))), np.full((len(heights), len(kinds)), "", dtype=object)
    for place, height in enumerate(units.convert(heights, long, "m").tolist()):
        for column, (name, sides) in enumerate(kinds):
            row = rows[name]
            surface = surface_part(facts, book.formulas, "fence", row, 1.0, "worn") | {"face": RUN * height, "sides": sides}
            job = {"fields": {**crew_fields(facts), "edges": 2 * RUN, "sheets": RUN, "place": "outdoors"}, "paints": [paint_part(facts, "paint", tin_name)], "surfaces": [surface],
                   "lays": lays_of({"fence": [("paint", 2.0)]}), "stages": stage_parts(facts, "fence")}
            walked = work_job(book.formulas, job, "spray")
            values[place, column] = units.convert(float(walked.held["price"].likely) / RUN, "money/m", unit)
            why[place, column] = next(iter(reasons(walked)), "no price") if np.isnan(values[place, column]) else ""
    tin_price = book.pick(price, units.convert(price, "money/L", "money/gal"))
    return Table(
        "fence-price", f"What a {book.pick('metre', 'foot')} of fence costs",
        f"For each {book.pick('metre', 'foot')} of a fence {units.convert(RUN, 'm', long):.0f} {long} long, two coats sprayed, at this handbook's own rates: every stage from survey to walk-round, visits, margin and tax are in it, for a worn one. Mending is not.",
        Axis.of("Height", long, heights), Axis("Fence", "", ("planed, one side", "planed, both sides", "sawn, one side", "sawn, both sides")), frame(values), unit.replace("money", facts.handbook.coin), Rounding("up", book.pick(0.5, 0.25)), book.system,
        reasons=frame(why), formulas=("job-price", "paint-for-coats"),
        notes=(f"Paint like {tin.name} at {facts.handbook.coin}{tin_price:.2f} for a {book.pick('litre', 'gallon')}, {facts.handbook.coin}{facts.rates['hour'].value:g} for an hour: {facts.rates['hour'].origin.basis}. Put your own into site_data/rates.yaml. A shorter fence costs more for each {book.pick('metre', 'foot')}.",),
    )


BUILDERS = {
    "paint-by-piece": Builder(paint_by_piece),
    "fence-price": Builder(fence_price),
}
