"""Tables that follow from one coating's facts: what its own page shows, and what the card has room for."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from generators import units
from generators.table import STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, no_figures, nozzle_words, stop_words
from generators.tables.mix import PAST_SHEET, STEPS, paint_words, sheet_pot
from generators.tables.sweep import Along, day_of, side_by_side, situation_of, sweep


def thinning_effects(book: Book, coating: str, kit: str | None = None) -> Table | TextTable:
    """What each dose does at once: cup seconds, solids, wet film, coverage, the pull to run, and VOC."""
    tin = book.facts.coatings[coating]
    rig_name = kit or book.facts.handbook.default_kit
    rig = book.facts.kits[rig_name]
    if tin.stops or not (tin.supplied and (tin.trial or tin.steepness)) or tin.cup_refused:
        return no_figures("thinning-effects", f"What thinner does: {tin.name}", _why_not(book, tin))
    cup = book.facts.cups[rig.limit.cup]
    percents = np.array(STEPS, float)
    percents = percents[percents <= max(tin.thinner_max.to("%"), 0.0) + 1e-9]
    film, area = book.pick(("µm", "m²/L"), ("mil", "ft²/gal"))
    shown = (("seconds-after", "s", Rounding("up", 1), f"s in {cup.label}"), ("solids", "%", Rounding("down", 0.5), "solids %"), ("film-after", film, Rounding("up", book.pick(1, 0.1)), f"wet film {film}"),
             ("covers", area, Rounding("down", book.pick(0.1, 5)), f"covers {area}"), ("runs", "×", Rounding("up", 0.1), "runs ×"), ("voc-mixed", "g/L", Rounding("up", 1), "VOC g/L"))
    rows, base = Along("thinner-wanted", percents, "%", "Thinner"), sheet_pot(book, rig_name, coating)
    columns = [sweep(book, "thinning-effects", "", "", answer, base, rows, None, unit, step, {"fine": "thin enough for this kit", "care": "still too thick", STOP: PAST_SHEET}) for answer, unit, step, _ in shown]
    plain = [columns[0], *(replace(one, zones=frame(np.full(one.body.shape, ""))) for one in columns[1:])]  # one verdict, said once
    return replace(
        side_by_side(plain, Axis("", "", tuple(head for *_, head in shown))), title=f"What thinner does: {tin.name}",
        caption=f"For a dry film of {units.convert(tin.dry_film.to('µm'), 'µm', film):.3g} {film}, with {rig.name}. Runs: how much faster it runs down a wall than unthinned, for the same dry film.",
        rows=replace(rows.axis, unit="% of paint"), unit="", roundings=tuple(step for *_, step, _ in shown),
        formulas=("viscosity-by-share-line", "wet-film", "spreading-rate", "runs-times", "voc-after-thinning"),
        notes=("Covers: each litre of the mix." if book.metric else "Covers: each gallon of the mix.", f"The data sheet stops it at {tin.thinner_max.value:g} %."),
    )


def _why_not(book: Book, tin: Any) -> str:
    if tin.stops:
        return stop_words(book, tin)
    return str(tin.cup_refused or "This handbook has no two timings for it. Time it as supplied, add a first small dose, and time it again.")


def warm_or_thin(book: Book, coating: str) -> Table | TextTable:
    """Cup seconds of the coating over its own temperature and thinner: two roads to the same time."""
    tin = book.facts.coatings[coating]
    rig = book.facts.kits[book.facts.handbook.default_kit]
    if tin.stops or not (tin.supplied and (tin.trial or tin.steepness)) or tin.cup_refused:
        return no_figures("warm-or-thin", f"Warm it or thin it: {tin.name}", _why_not(book, tin))
    unit = book.pick("°C", "°F")
    temperatures = np.array(book.pick((8, 12, 16, 20, 23, 26, 30), (46, 54, 60, 68, 73, 80, 86)), float)
    percents = np.array((0, 2, 4, 6, 8, 10, 15), float)
    label = book.facts.cups[rig.limit.cup].label
    return sweep(
        book, "warm-or-thin", f"Warm it or thin it: {tin.name}", f"Seconds in {label}, by the temperature of the paint and the thinner in it. {rig.name} sprays at {rig.limit.seconds:g} s or less.",
        "seconds-after", sheet_pot(book, book.facts.handbook.default_kit, coating), Along("paint-temperature", temperatures, unit, "Paint"), Along("thinner-wanted", percents, "%", "Thinner"), "s", Rounding("up", 1),
        {"fine": "thin enough for this kit", "care": "still too thick", STOP: PAST_SHEET}, formulas=("viscosity-by-share-line", "warmed-viscosity", "cup-time"), notes=(f"{'Its slope as measured.' if tin.viscosity_slope else 'A usual slope for its class.'} Warming is free and can be undone.",),
    )


def batch(book: Book, coating: str) -> Table | TextTable:
    """Base and hardener by volume and by weight for round batches."""
    tin = book.facts.coatings[coating]
    if tin.stops or not tin.two_pack:
        return no_figures("batch", f"Mixing the two: {tin.name}", (_why_not(book, tin) if tin.stops else "This is not a two-pack coating."))
    volume, small, mass = book.pick(("L", "mL", "g"), ("qt", "fl oz", "lb"))
    batches = np.array(book.pick((0.25, 0.5, 1, 2, 5), (0.25, 0.5, 1, 2, 4)), float)
    step = book.pick((Rounding("nearest", 1),) * 4, (Rounding("nearest", 0.05),) * 2 + (Rounding("nearest", 0.005),) * 2)
    rows, base = Along("batch-litres", batches, volume, "Mixed batch"), {"kit": book.facts.handbook.default_kit, **paint_words(book, coating)}
    shown = (("base", small), ("hardener", small), ("base-weight", mass), ("hardener-weight", mass))
    columns = [sweep(book, "batch", "", "", answer, base, rows, None, unit, step[place], {}) for place, (answer, unit) in enumerate(shown)]
    out = day_of(book).walk(situation_of(book, base), ["base-weight", "hardener-weight"])
    by_volume, weights = float(out.held["ratio"].likely), [float(out.held[name].likely) for name in ("base-weight", "hardener-weight")]
    return replace(
        side_by_side([replace(one, zones=frame(np.full(one.body.shape, ""))) for one in columns], Axis("", "", (f"base {small}", f"hardener {small}", f"base {mass}", f"hardener {mass}"))),
        title=f"Mixing the two: {tin.name}", caption=f"Base to hardener {by_volume:.3g} to 1 by volume, {weights[0] / weights[1]:.2f} to 1 by weight.",
        unit="", roundings=step, formulas=("part-a", "part-b", "weight-of"),
        notes=("Weigh both, or measure both by volume. Never one by each.", "Weights by the densities that the data sheet gives, of the base or of the mix."),
    )


def lasts(book: Book, coating: str, answer: str, pot: str, temperatures: Any) -> Any:
    """Minutes of `answer` (pot-life, clean-after) for a pot of a two-pack, by the temperatures of the mix in this book's degrees: the short end."""
    situation = situation_of(book, {"kit": book.facts.handbook.default_kit, **paint_words(book, coating), "batch-litres": pot})
    mixed = Along("paint-temperature", temperatures, book.pick("°C", "°F"), "Mix").columns(day_of(book))
    return np.asarray(day_of(book).walk(situation, [answer], mixed).held[answer].likely, float)


def pot_life(book: Book, coating: str) -> Table | TextTable:
    """Minutes of pot life and the clean-by time over temperature, rounded down."""
    tin = book.facts.coatings[coating]
    if tin.stops or not tin.two_pack:
        return no_figures("pot-life", f"Pot life: {tin.name}", (_why_not(book, tin) if tin.stops else "This is not a two-pack coating."))
    unit, volume = book.pick(("°C", "L"), ("°F", "qt"))
    temperatures = np.array(book.pick((10, 12, 15, 18, 20, 23, 26, 30, 35), (50, 55, 60, 65, 70, 75, 80, 85, 95)), float)
    rows = Along("paint-temperature", temperatures, unit, "Mix")
    litres = book.pick((0.5, 1, 5), (0.5, 1, 5))
    base = {"kit": book.facts.handbook.default_kit, **paint_words(book, coating)}
    shown = [(answer, litre) for answer in ("keeps", "clean-after") for litre in litres]
    columns = [sweep(book, "pot-life", "", "", answer, {**base, "batch-litres": f"{litre:g} {volume}"}, rows, None, "min", Rounding("down", 5), {}) for answer, litre in shown]
    heads_of = {"keeps": "pot life min", "clean-after": "clean by min"}
    at = tin.two_pack.pot_life_at
    return replace(
        side_by_side([replace(one, zones=frame(np.full(one.body.shape, ""))) for one in columns], Axis("", "", tuple(f"{heads_of[answer]}, {litre:g} {volume}" for answer, litre in shown))),
        title=f"Pot life: {tin.name}", caption=f"Minutes from mixing, by the temperature of the mix and how much stands in one pot: the short end of what is known. The sheet gives {tin.two_pack.pot_life.to('h'):g} h{f' at {at.to(unit):g} {unit}' if at else ''}.",
        formulas=("pot-life-at", "clean-minutes"), notes=("A full pot warms itself: mix what you spray in half the time. Cold gives little: the mix stands, and the film does not cure.",),
    )


def coating_lines(book: Book, coatings: tuple[str, ...] | None = None) -> TextTable:
    """One line for each coating that may be sprayed: nozzle, comb reading as supplied and at most thinner, air, next coat."""
    film, unit = book.pick(("µm", "°C"), ("mil", "°F"))
    rows = []
    for slug in coatings or [slug for slug, tin in book.facts.coatings.items() if not tin.stops]:
        tin = book.facts.coatings[slug]
        wet, _ = compute(book.formulas["wet-film"], {"dry-film": tin.dry_film.to("µm"), "volume-solids": tin.volume_solids.to("%"), "thinner": np.array([0.0, tin.thinner_max.to("%")])}, film)
        step = Rounding("up", book.pick(5, 0.1))
        thin, thick = (f"{step(one):.{step.decimals}f}" for one in wet)
        low, high = tin.air_min.to(unit), tin.air_max.to(unit)
        rows.append((tin.name, nozzle_words(tin.nozzle, book.system), thin if thin == thick else f"{thin} to {thick}",
                     f"{np.ceil(low):g} to {np.floor(high):g}", f"{tin.recoat_after.to('h'):g} h"))
    return TextTable("coating-lines", "At the gun", "Each coating at a glance.", ("Coating", "Nozzle", f"Comb {film}", f"Air {unit}", "Next coat"), tuple(rows))


BUILDERS = {
    "thinning-effects": Builder(thinning_effects, per="coating"),
    "warm-or-thin": Builder(warm_or_thin, per="coating"),
    "batch": Builder(batch, per="coating"),
    "pot-life": Builder(pot_life, per="coating", twins=True),
    "coating-lines": Builder(coating_lines),
}
