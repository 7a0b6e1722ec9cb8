"""Tables of the mixing bench."""

from __future__ import annotations

from typing import Any

import numpy as np

from generators import units
from generators.table import CARE, FINE, STOP, Axis, Rounding, Table
from generators.tables.book import Book, Builder, compute, frame, heads

STEPS = (0, 2, 4, 6, 8, 10, 12, 15, 20, 25, 30)
PAST_SHEET = "past the data sheet's maximum thinner"


def sprayable(facts: Any) -> list[str]:
    """Coatings that a thinning table may show: two timings known, a cup allowed, no hard stop on them."""
    return [slug for slug, coating in facts.coatings.items()
            if coating.supplied and coating.trial and not coating.cup_refused and not coating.stops]


def dose_text(book: Book, kit: Any, percent: float) -> str:
    """Thinner in one full pot, rounded down so that more can follow."""
    dose = book.once(("dose", kit.pot, percent), lambda: book.formulas["pot-thinner"].work({"pot": kit.pot.to("L"), "thinner": percent}).value)
    if book.metric:
        return f"{Rounding('down', 5)(dose):g} mL"
    return f"{Rounding('down', 0.25)(units.convert(dose, 'mL', 'fl oz')):g} fl oz"


def times_after(book: Book, coating: Any, cup: str, percents: Any) -> tuple[Any, Any]:
    """(cup seconds, reasons) after each dose: through viscosity, in the cup wanted."""
    return book.once(("times", coating.supplied, coating.trial.thinner, coating.trial.time, cup, percents.tobytes()), lambda: _times_after(book, coating, cup, percents))


def _times_after(book: Book, coating: Any, cup: str, percents: Any) -> tuple[Any, Any]:
    viscosity = book.formulas["cup-viscosity"]
    dose, timed = coating.trial
    first = viscosity.column({"cup": coating.supplied.cup, "time": coating.supplied.seconds})
    trial = viscosity.column({"cup": timed.cup, "time": timed.seconds})
    thinned, why = compute(book.formulas["thinned-viscosity"], {
        "first-viscosity": first, "trial-thinner": dose.to("%"), "trial-viscosity": trial, "thinner": percents}, "mm²/s")
    seconds, beyond = compute(book.formulas["cup-time"], {"cup": cup, "viscosity": thinned}, "s")
    label = book.facts.cups[cup].label
    beyond = np.where(beyond != "", f"outside the times that {label} can be read at", "")
    return seconds, np.where(why != "", why, beyond)


def thinning_steps(book: Book, kit: str, coatings: tuple[str, ...] | None = None) -> Table:
    """Cup seconds against thinner, for each coating, with the kit's limit and the data sheet's maximum."""
    rig = book.facts.kits[kit]
    cup = book.facts.cups[rig.limit.cup]
    slugs = list(coatings or sprayable(book.facts))
    percents = np.array(STEPS, float)
    values, zones, reasons = [], [], []
    for slug in slugs:
        coating = book.facts.coatings[slug]
        seconds, why = times_after(book, coating, rig.limit.cup, percents)
        past = percents > coating.thinner_max.to("%") + 1e-9
        zones.append(np.where(past, STOP, np.where(np.isnan(seconds), "", np.where(seconds <= rig.limit.seconds, FINE, CARE))))
        values.append(np.where(past, np.nan, seconds))
        reasons.append(np.where(past, PAST_SHEET, why))
    labels = tuple(f"{percent:g} % · {dose_text(book, rig, percent)}" if percent else "as supplied" for percent in STEPS)
    return Table(
        "thinning-steps", f"Thinner against cup time: {rig.name}",
        f"Seconds in {cup.label} after thinning. {rig.name} sprays at {rig.limit.seconds:g} s in {cup.label} or less. "
        f"Thinner is % of paint volume, and what goes into one full {rig.pot.value:g} {rig.pot.unit} pot.",
        Axis("Thinner", "", labels), Axis("Coating", "", tuple(book.facts.coatings[slug].name for slug in slugs)),
        frame(np.array(values).T), "s", Rounding("up", 1), book.system,
        zones=frame(np.array(zones).T), reasons=frame(np.array(reasons).T),
        zone_words={FINE: "thin enough for this kit", CARE: "still too thick", STOP: PAST_SHEET},
        formulas=("cup-viscosity", "thinned-viscosity", "cup-time", "pot-thinner"),
        notes=("A forecast from two timings. Add, stir, wait, and time it again.",),
    )


def thinner_dose(book: Book, kit: str) -> Table:
    """Total thinner to the kit's limit, from the time as supplied and the time after a first 5 %."""
    rig = book.facts.kits[kit]
    cup = book.facts.cups[rig.limit.cup]
    grid = np.arange(max(20.0, cup.time_min), cup.time_max + 0.1, 5.0)
    firsts = [t for t in grid if rig.limit.seconds < t][:14]
    trials = [t for t in grid if t < firsts[-1]][-14:]
    values, why = compute(book.formulas["thinner-for-target"], {
        "cup": rig.limit.cup, "first-time": np.array(firsts)[:, None], "trial-thinner": 5.0,
        "trial-time": np.array(trials)[None, :], "target-time": rig.limit.seconds}, "%")
    zones = np.where(np.isnan(values), "", np.where(values <= 10, FINE, CARE))
    return Table(
        "thinner-dose", f"How much thinner in all: {rig.name}",
        f"Total thinner, % of paint volume, to reach {rig.limit.seconds:g} s in {cup.label}, after timing the paint as supplied "
        f"and again with a first 5 %. All times in {cup.label}.",
        Axis("As supplied", f"s in {cup.label}", heads(firsts)), Axis("After a first 5 %", f"s in {cup.label}", heads(trials)),
        frame(values), "%", Rounding("down", 0.5), book.system, zones=frame(zones), reasons=frame(why),
        zone_words={FINE: "10 % or less", CARE: "over 10 %: few data sheets allow it"},
        formulas=("thinner-for-target",), notes=("The first 5 % is part of the figure. The data sheet's maximum comes first.",),
    )


def cup_times(book: Book) -> Table:
    """Seconds in each common cup for round viscosities."""
    names = [name for name in ("iso-3", "iso-4", "iso-5", "iso-6", "ford-3", "ford-4", "din-4", "zahn-2") if name in book.facts.cups]
    viscosities = np.array((20, 30, 40, 60, 80, 100, 120, 150, 200, 250, 300, 400, 500), float)
    columns = [compute(book.formulas["cup-time"], {"cup": name, "viscosity": viscosities}, "s") for name in names]
    outside = "outside the times that cup can be read at"
    return Table(
        "cup-times", "The same paint in different cups",
        "Seconds to the first break of the stream, for paint that runs like oil. The same number of seconds means very different paint in different cups.",
        Axis("Viscosity", "mm²/s", heads(viscosities)), Axis("Cup", "s", tuple(book.facts.cups[name].label for name in names)),
        frame(np.array([values for values, _ in columns]).T), "s", Rounding("nearest", 1), book.system,
        reasons=frame(np.array([np.where(why != "", outside, "") for _, why in columns]).T), formulas=("cup-time",),
    )


BUILDERS = {
    "thinning-steps": Builder(thinning_steps, per="kit"),
    "thinner-dose": Builder(thinner_dose, per="kit"),
    "cup-times": Builder(cup_times, twins=False),
}
