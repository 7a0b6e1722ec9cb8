"""Tables of the film."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

import numpy as np

from generators import units
from generators.chart import Band, Chart, Line, Scale
from generators.studies import overlap, thinnest
from generators.table import STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame
from generators.tables.gun import hands
from generators.tables.mix import paint_words
from generators.tables.sweep import Along, day_of, on_its_side, situation_of, sweep


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
        Axis.of("Volume solids", "%", solids, " %"), Axis.of("Dry film", film, films), frame(values), unit,
        Rounding("down", book.pick(0.1, 5)), book.system, reasons=frame(why), formulas=("spreading-rate",),
        notes=("Smooth, sealed surface. Bare wood, plaster or brick drinks up to twice as much.",),
    )


def most_thinner(book: Book, coating: str) -> float:
    """% of paint volume, by the chain: what the label allows, or the law where that is less."""
    day = day_of(book)
    held = day.walk(situation_of(book, paint_words(book, coating)), ["label-most", "law-most"]).held
    return float(np.nanmin([float(held[name].likely) for name in ("label-most", "law-most")]))


def _by_paint(book: Book, answers: tuple[str, ...], thinner: Callable[[str], tuple[float, ...]], unit: str, step: Rounding) -> tuple[list[str], list[list[Table]]]:
    """(paints, for each of them a swept table for each answer): what a paint's own film asks for, over the thinner in it."""
    slugs = [slug for slug, coating in book.facts.coatings.items() if not coating.stops]
    made = []
    for slug in slugs:
        base = {"kit": book.facts.handbook.default_kit, **paint_words(book, slug)}
        rows = Along("thinner-wanted", np.array(thinner(slug), float), "%", "Thinner", " %")
        made.append([sweep(book, "film", "", "", answer, base, rows, None, unit, step, {}) for answer in answers])
    return slugs, made


def wet_film(book: Book, kit: str | None = None) -> Table:
    """Wet film to spray over thinner, for each coating's own solids and dry film."""
    unit, percents = book.pick("µm", "mil"), (0.0, 2.0, 5.0, 10.0, 15.0, 20.0)
    slugs, made = _by_paint(book, ("film-after",), lambda slug: percents, unit, Rounding("up", book.pick(1, 0.1)))
    table = on_its_side([one for one, in made], Axis("Coating", "", tuple(book.facts.coatings[slug].name for slug in slugs)))
    assert table.zones is not None
    return replace(
        table, name="wet-film", title="Wet film to look for", caption=f"Wet film for each coating's own dry film, in {unit}, by thinner in % of paint volume. Check it with a comb while it is wet.",
        zones=table.zones.where(table.zones == STOP, ""), zone_words={STOP: "past the data sheet's maximum thinner, or the law's"}, notes=(), formulas=("wet-film",),
    )


def comb_teeth(book: Book) -> Table | TextTable:
    """Last wet tooth and first dry tooth of a usual comb, for each coating as supplied and at the most thinner that may be in it."""
    if not book.facts.combs:
        return TextTable("comb-teeth", "The tooth to look for", "No comb is written in site_data/combs.csv.", ("Comb",), (("none",),))
    unit, heads = book.pick("µm", "mil"), ("wet tooth", "dry tooth")
    rounding = Rounding("nearest", book.pick(1, 0.1))
    slugs, made = _by_paint(book, ("film-after", "teeth-after", "dry-tooth-after"), lambda slug: tuple(dict.fromkeys((0.0, most_thinner(book, slug)))), unit, rounding)
    body = np.array([[one.body.to_numpy()[place, 0] for place in (0, -1) for one in row] for row in made])
    return Table(
        "comb-teeth", "The tooth to look for", f"Wet film wanted, the tooth that should be wet and the next that should be dry, in {unit}: unthinned, then at the most thinner that its data sheet and the law allow.",
        Axis("Coating", "", tuple(book.facts.coatings[slug].name for slug in slugs)), Axis("", "", ("unthinned", *heads, "most thinner", *heads)), frame(body), unit,
        rounding, book.system, reasons=frame(np.full(body.shape, "thinner than the comb's first tooth, or thicker than its last")), formulas=("wet-film",),
        notes=("A usual comb. Read the numbers on yours.",),
    )


def minimum_film(book: Book, kit: str) -> Table:
    """Mean film to aim for, to hold a minimum: from the simulation of strokes with the kit's fan."""
    rig = book.facts.kits[kit]
    unit = book.pick("µm", "mil")
    minimum = np.array(book.pick((15, 20, 25, 30, 40, 50, 60, 80, 100), (0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4)), float)
    names, columns = [], []
    for hand in hands(rig):
        for coats in ("one", "shifted"):
            low = 100 * overlap.by_hand(rig.pattern, 0.5, hand, coats).low
            columns.append(compute(book.formulas["aim-for-minimum"], {"minimum": minimum, "low-share": low}, unit, {"minimum": unit})[0])
            names.append(f"{hand.label.split(':')[0]} hand, {'one coat' if coats == 'one' else 'two coats in all'}")
    if rig.hand_scatter is not None:  # the crew's own, by the high end of what was measured
        own = compute(book.formulas["low-share"], {"scatter": rig.hand_scatter.ends("%")[1], "spreads": thinnest.SPREADS[rig.pattern][thinnest.STEPS.index(50)]}, "%")[0]
        columns.append(compute(book.formulas["aim-for-minimum"], {"minimum": minimum, "low-share": own}, unit, {"minimum": unit})[0])
        names.append("your hand as measured, one coat")
    return Table(
        "minimum-film", f"Aim higher than the minimum: {rig.name}", f"Mean film to aim for, in {unit}, so that 95 places in 100 hold the minimum. Two coats: the second half a step over.",
        Axis.of("Lowest allowed", unit, minimum), Axis("", "", tuple(names)), frame(np.stack(columns, axis=1)), unit, Rounding("up", book.pick(1, 0.05)), book.system,
        formulas=("aim-for-minimum",),
        reasons=frame(np.full((len(minimum), len(columns)), "so uneven that no mean holds it: two coats, or a steadier hand")),
        notes=("From the simulation on the strokes page. Your own readings beat it: lowest over mean.",),
    )


RIPPLE, TENSION, DENSITY, SAG = 2.0, 30.0, 1200.0, 3.0  # mm, mN/m, kg/m³, mm of slide that an eye sees: common practice, no source


def window(book: Book, family: str) -> tuple[np.ndarray, np.ndarray, np.ndarray, float]:
    """(wet film µm, highest viscosity that levels, lowest that holds, open time s) for a family of coatings.

    Levels: a ripple of RIPPLE shrinks to a twentieth within the open time. Holds: the surface slides no more than SAG in it.
    Both times are in proportion to viscosity, so each formula is worked at 1 Pa·s and scaled.
    """
    times = [one.open_time.to("s") for one in book.facts.classes.values() if one.family == family]
    open_time = float(np.median(times))
    film = np.linspace(30, 250, 111)
    settle = book.formulas["levelling-time"].column({"viscosity": 1.0, "wavelength": RIPPLE, "surface-tension": TENSION, "wet-film": film}) * np.log(20)
    slide = book.formulas["sag-speed"].column({"viscosity": 1.0, "density": DENSITY, "wet-film": film}) * open_time
    return film, open_time / settle, slide / SAG, open_time


WINDOWS = {"waterborne": "waterborne", "solvent": "solvent-borne", "two-pack": "two-pack", "oil": "oil", "mineral": "limewash and silicate"}


def window_chart(book: Book, family: str) -> Chart:
    """Wet film against its viscosity on the wall: where ripples stay, where it runs, and what lies between."""
    film, levels, holds, open_time = window(book, family)
    unit = book.pick("µm", "mil")
    x = tuple(units.convert(film, "µm", unit).tolist())
    low, high = 0.2, 100.0
    up, down = np.clip(levels, low, high), np.clip(holds, low, high)
    top, bottom = tuple(np.full_like(up, high).tolist()), tuple(np.full_like(up, low).tolist())
    minutes = open_time / 60
    opens = levels > holds  # from where on a film that levels does not run
    if opens.all():
        window_words = "A window lies open between them all along, and widens with the film."
    elif opens.any():
        window_words = f"From about {units.convert(film[np.argmax(opens)], 'µm', unit):.{book.pick(0, 1)}f} {unit} a window opens between them and widens with the film."
    else:
        window_words = "The lines do not meet on this picture: a film that levels also runs."
    said = (f"Wet film against the viscosity of the wet film on the wall, for an open time of {minutes:g} minutes. Above one line ripples stay: orange peel. Below the other it runs. "
            + window_words)
    return Chart(
        f"window-{family}", f"Between orange peel and runs: {WINDOWS[family]}", f"A film of plain liquid, open for {minutes:g} minutes.", said,
        Scale("Wet film", unit, x[0], x[-1], book.pick((50, 100, 150, 200, 250), (2, 4, 6, 8))), Scale("Viscosity on the wall", "Pa·s", low, high, (0.2, 1, 5, 20, 100), log=True),
        lines=(Line("", x, tuple(up.tolist()), strong=True), Line("", x, tuple(down.tolist()))),
        bands=(Band("orange peel", "care", x, tuple(np.maximum(up, down).tolist()), top), Band("runs", "stop", x, bottom, tuple(np.minimum(up, down).tolist())),
               Band("levels and holds" if opens.mean() > 0.3 else "", "fine", x, tuple(np.minimum(down, up).tolist()), tuple(up.tolist()))),
        formulas=("levelling-time", "sag-speed"), notes=(f"Ripples {book.pick(f'{RIPPLE:g} mm', '0.08 in')} apart; {book.pick(f'{SAG:g} mm', '⅛ in')} of slide counts as a run.",),
    )


BUILDERS = {
    "coverage": Builder(coverage),
    "wet-film": Builder(wet_film),
    "comb-teeth": Builder(comb_teeth),
    "minimum-film": Builder(minimum_film, per="kit"),
    **{f"window-{family}": Builder(partial(window_chart, family=family)) for family in WINDOWS},
}
