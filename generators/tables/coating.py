"""Tables that follow from one coating's facts: what its own page shows, and what the card has room for."""

from __future__ import annotations

from typing import Any

import numpy as np

from generators import units
from generators.table import STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, no_figures, stop_words
from generators.tables.mix import PAST_SHEET, STEPS, times_after


def thinning_effects(book: Book, coating: str, kit: str | None = None) -> Table | TextTable:
    """What each dose does at once: cup seconds, solids, wet film, coverage, the pull to run, and VOC."""
    tin = book.facts.coatings[coating]
    rig = book.facts.kits[kit or book.facts.handbook.default_kit]
    if tin.stops or not (tin.supplied and tin.trial) or tin.cup_refused:
        return no_figures("thinning-effects", f"What thinner does: {tin.name}", _why_not(book, tin))
    cup = book.facts.cups[rig.limit.cup]
    percents = np.array(STEPS, float)
    percents = percents[percents <= max(tin.thinner_max.to("%"), 0.0) + 1e-9]
    film, area = book.pick(("µm", "m²/L"), ("mil", "ft²/gal"))
    seconds, why = times_after(book, tin, rig.limit.cup, percents)
    solids = tin.volume_solids.to("%")
    thinned = solids / (1 + percents / 100)
    wet, _ = compute(book.formulas["wet-film"], {"dry-film": tin.dry_film.to("µm"), "volume-solids": solids, "thinner": percents}, "µm")
    rate, _ = compute(book.formulas["spreading-rate"], {"volume-solids": thinned, "dry-film": tin.dry_film.to("µm"), "transfer-efficiency": rig.transfer_efficiency.to("%")}, area)
    viscosity = book.formulas["cup-viscosity"].column({"cup": rig.limit.cup, "time": seconds})
    density = tin.density.to("kg/m³")
    running, _ = compute(book.formulas["wall-flux"], {"viscosity": viscosity * 1e-6 * density, "density": density, "wet-film": wet}, "mm²/s")
    voc, _ = compute(book.formulas["voc-after-thinning"], {"voc": tin.voc.to("g/L"), "thinner": percents, "thinner-density": tin.thinner_density.to("g/L")}, "g/L")
    known = running[np.isfinite(running)]
    pull = running / known[0] if len(known) else running
    body = np.stack([seconds, thinned, units.convert(wet, "µm", film), rate, pull, voc], axis=1)
    blank = np.array([[told, "", "", "", f"no cup time in {cup.label} to work it from" if told else "", ""] for told in why], dtype=object)
    over = np.array([["care" if s > rig.limit.seconds else "fine" if s <= rig.limit.seconds else "", *[""] * 5] for s in seconds], dtype=object)
    return Table(
        "thinning-effects", f"What thinner does: {tin.name}", f"For a dry film of {units.convert(tin.dry_film.to('µm'), 'µm', film):.3g} {film}, with {rig.name}. "
        "Runs: how much faster it runs down a wall than the first row that can be timed.",
        Axis.of("Thinner", "% of paint", percents),
        Axis("", "", (f"s in {cup.label}", "solids %", f"wet film {film}", f"covers {area}", "runs ×", "VOC g/L")), frame(body), "", Rounding("nearest", 1), book.system,
        zones=frame(over), reasons=frame(blank), zone_words={"fine": "thin enough for this kit", "care": "still too thick"},
        roundings=(Rounding("up", 1), Rounding("down", 0.5), Rounding("up", book.pick(1, 0.1)), Rounding("down", book.pick(0.1, 5)), Rounding("up", 0.1), Rounding("up", 1)),
        formulas=("thinned-viscosity", "wet-film", "spreading-rate", "wall-flux", "voc-after-thinning"),
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
    if tin.stops or not (tin.supplied and tin.trial) or tin.cup_refused:
        return no_figures("warm-or-thin", f"Warm it or thin it: {tin.name}", _why_not(book, tin))
    unit = book.pick("°C", "°F")
    temperatures = np.array(book.pick((8, 12, 16, 20, 23, 26, 30), (46, 54, 60, 68, 73, 80, 86)), float)
    percents = np.array((0, 2, 4, 6, 8, 10, 15), float)
    seconds, _ = times_after(book, tin, rig.limit.cup, percents)
    # Through viscosity: what the cup says at 23 °C, moved along the class's slope.
    viscosity = book.formulas["cup-viscosity"].column({"cup": rig.limit.cup, "time": seconds})
    there, _ = compute(book.formulas["warmed-viscosity"], {
        "viscosity": viscosity[None, :], "temperature": 23.0, "wanted-temperature": temperatures[:, None],
        "viscosity-slope": book.facts.classes[tin.class_key].viscosity_slope.to("1/K")}, "mm²/s", {"wanted-temperature": unit})
    values, _ = compute(book.formulas["cup-time"], {"cup": rig.limit.cup, "viscosity": there}, "s")
    past = np.broadcast_to(percents[None, :] > tin.thinner_max.to("%") + 1e-9, values.shape)
    label = book.facts.cups[rig.limit.cup].label
    zones = np.where(past, STOP, np.where(np.isnan(values), "", np.where(values <= rig.limit.seconds, "fine", "care")))
    return Table(
        "warm-or-thin", f"Warm it or thin it: {tin.name}", f"Seconds in {label}, by the temperature of the paint and the thinner in it. {rig.name} sprays at {rig.limit.seconds:g} s or less.",
        Axis.of("Paint", unit, temperatures), Axis.of("Thinner", "% of paint", percents), frame(np.where(past, np.nan, values)), "s", Rounding("up", 1), book.system,
        zones=frame(zones), zone_words={"fine": "thin enough for this kit", "care": "still too thick", STOP: PAST_SHEET},
        reasons=frame(np.where(past, PAST_SHEET, f"outside the times that {label} can be read at")), formulas=("thinned-viscosity", "warmed-viscosity", "cup-time"),
        notes=("A usual slope for its class. Warming is free and can be undone.",),
    )


def batch(book: Book, coating: str) -> Table | TextTable:
    """Base and hardener by volume and by weight for round batches."""
    tin = book.facts.coatings[coating]
    if tin.stops or not tin.two_pack:
        return no_figures("batch", f"Mixing the two: {tin.name}", (_why_not(book, tin) if tin.stops else "This is not a two-pack coating."))
    volume = book.pick("L", "qt")
    batches = np.array(book.pick((0.25, 0.5, 1, 2, 5), (0.25, 0.5, 1, 2, 4)), float)
    hardener, why = compute(book.formulas["part-b"], {"batch": batches, "ratio": tin.two_pack.ratio}, "L", {"batch": volume})
    base = units.convert(batches, volume, "L") - hardener
    small = book.pick("mL", "fl oz")
    body = np.stack([units.convert(base, "L", small), units.convert(hardener, "L", small),
                     units.convert(base * tin.density.to("kg/L"), "kg", book.pick("g", "lb")), units.convert(hardener * tin.two_pack.hardener_density.to("kg/L"), "kg", book.pick("g", "lb"))], axis=1)
    mass = book.pick("g", "lb")
    step = book.pick((Rounding("nearest", 1),) * 4, (Rounding("nearest", 0.05),) * 2 + (Rounding("nearest", 0.005),) * 2)
    parts = book.formulas["weight-ratio"].column({"ratio": tin.two_pack.ratio, "base-density": tin.density.to("kg/L"), "hardener-density": tin.two_pack.hardener_density.to("kg/L")})
    return Table(
        "batch", f"Mixing the two: {tin.name}", f"Base to hardener {tin.two_pack.ratio:g} to 1 by volume, {float(parts):.2f} to 1 by weight.",
        Axis.of("Mixed batch", volume, batches), Axis("", "", (f"base {small}", f"hardener {small}", f"base {mass}", f"hardener {mass}")), frame(body), "", Rounding("nearest", 1), book.system,
        reasons=frame(np.repeat(why[:, None], 4, axis=1)), roundings=step, formulas=("part-b", "weight-ratio"),
        notes=("Weigh both, or measure both by volume. Never one by each.",),
    )


def pot_life(book: Book, coating: str) -> Table | TextTable:
    """Minutes of pot life and the clean-by time over temperature, rounded down."""
    tin = book.facts.coatings[coating]
    if tin.stops or not tin.two_pack:
        return no_figures("pot-life", f"Pot life: {tin.name}", (_why_not(book, tin) if tin.stops else "This is not a two-pack coating."))
    unit = book.pick("°C", "°F")
    temperatures = np.array(book.pick((10, 12, 15, 18, 20, 23, 26, 30, 35), (50, 55, 60, 65, 70, 75, 80, 85, 95)), float)
    minutes, why = compute(book.formulas["pot-life-now"], {"pot-life": tin.two_pack.pot_life.to("h"), "sheet-temperature": 23.0, "temperature": temperatures}, "min", {"temperature": unit})
    outside = (units.convert(temperatures, unit, "°C") < tin.air_min.to("°C")) | (units.convert(temperatures, unit, "°C") > tin.air_max.to("°C"))
    told = np.where(outside, "outside the data sheet's air temperatures", why)
    minutes = np.where(outside, np.nan, minutes)
    clean = float(book.facts.value("limits.clean_before_pot_life").to("%")) / 100
    body = np.stack([minutes, minutes * clean], axis=1)
    return Table(
        "pot-life", f"Pot life: {tin.name}", f"Minutes from mixing. Clean the gun by the second figure, {clean:.0%} of the first.",
        Axis.of("Mix", unit, temperatures), Axis("", "", ("pot life min", "clean by min")), frame(body), "min", Rounding("down", 5), book.system,
        reasons=frame(np.stack([told, told], axis=1)), formulas=("pot-life-now",), notes=("A full pot warms itself: mix what you spray in half the time.",),
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
        rows.append((tin.name, f"{tin.nozzle.to('mm'):g} mm", thin if thin == thick else f"{thin} to {thick}",
                     f"{np.ceil(low):g} to {np.floor(high):g}", f"{tin.recoat_after.to('h'):g} h"))
    return TextTable("coating-lines", "At the gun", "Each coating at a glance.", ("Coating", "Nozzle", f"Comb {film}", f"Air {unit}", "Next coat"), tuple(rows))


BUILDERS = {
    "thinning-effects": Builder(thinning_effects, per="coating"),
    "warm-or-thin": Builder(warm_or_thin, per="coating"),
    "batch": Builder(batch, per="coating"),
    "pot-life": Builder(pot_life, per="coating", twins=True),
    "coating-lines": Builder(coating_lines),
}
