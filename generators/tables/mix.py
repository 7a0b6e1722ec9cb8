"""Tables of the mixing bench."""

from __future__ import annotations

from dataclasses import replace
from statistics import mode
from typing import Any

import numpy as np

from generators import units
from generators.formulas import cup_options, mix
from generators.formulas.own_cups import fits as own_cup_fits
from generators.studies import dilution
from generators.table import CARE, FINE, STOP, UNKNOWN, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, no_figures
from generators.tables.law import rules as law_rules
from generators.tables.law import told
from generators.tables.sweep import Along, day_of, side_by_side, situation_of, sweep

STEPS = (0, 2, 4, 6, 8, 10, 12, 15, 20, 25, 30)
PAST_SHEET = "past the data sheet's maximum thinner"


def sprayable(facts: Any) -> list[str]:
    """Coatings that a thinning table may show: timed, its thinning timed or measured, a cup allowed, no hard stop on them."""
    return [slug for slug, coating in facts.coatings.items()
            if coating.supplied and (coating.trial or coating.steepness) and not coating.cup_refused and not coating.stops]


def dose_text(book: Book, kit: Any, percent: float) -> str:
    """Thinner in one full pot, rounded down so that more can follow."""
    dose = book.once(("dose", kit.pot, percent), lambda: book.formulas["pot-thinner"].work({"pot": kit.pot.to("L"), "thinner": percent}).value)
    if book.metric:
        return f"{Rounding('down', 5)(dose):g} mL"
    return f"{Rounding('down', 0.25)(units.convert(dose, 'mL', 'fl oz')):g} fl oz"


def paint_words(book: Book, coating: str) -> dict[str, str]:
    """A paint in a situation, with what its second tin holds."""
    tin = book.facts.coatings[coating]
    return {"coating": coating, **({"hardener": tin.hardener} if tin.two_pack is not None else {})}


def sheet_pot(book: Book, kit: str, coating: str) -> dict[str, str]:
    """A situation in which a pot was timed just as its data sheet says: as supplied, and after the first dose unless its thinning was measured, at the sheet's temperature."""
    tin, rig = book.facts.coatings[coating], book.facts.kits[kit]
    warmth = f"@{book.facts.value('limits.sheet_temperature').to('°C'):g}C"
    first = f"0%:{tin.supplied.seconds:g}s{warmth} in {tin.supplied.cup}"
    if not tin.steepness:
        dose, timed = tin.trial
        first += f";{dose.to('%'):g}%:{timed.seconds:g}s{warmth} in {timed.cup}"
    return {"kit": kit, **paint_words(book, coating), "cup": rig.limit.cup, "instruments": "exact", "dose": first}


def thinning_steps(book: Book, kit: str, coatings: tuple[str, ...] | None = None) -> Table:
    """Cup seconds against thinner, for each coating, with the kit's limit and the data sheet's maximum."""
    rig = book.facts.kits[kit]
    cup = book.facts.cups[rig.limit.cup]
    slugs = list(coatings or sprayable(book.facts))
    rows = Along("thinner-wanted", np.array(STEPS, float), "%", "Thinner")
    words = {FINE: "thin enough for this kit", CARE: "still too thick", STOP: "past the data sheet's maximum thinner, or past the law's limit"}
    columns = [sweep(book, "thinning-steps", "", "", "seconds-after", sheet_pot(book, kit, slug), rows, None, "s", Rounding("up", 1), words) for slug in slugs]
    labels = tuple(f"{percent:g} % · {dose_text(book, rig, percent)}" if percent else "as supplied" for percent in STEPS)
    return replace(
        side_by_side(columns, Axis("Coating", "", tuple(book.facts.coatings[slug].name for slug in slugs))), title=f"Thinner against cup time: {rig.name}",
        caption=f"Seconds in {cup.label} after thinning. {rig.name} sprays at {rig.limit.seconds:g} s in {cup.label} or less. "
                f"Thinner is % of paint volume, and what goes into one full {book.said(rig.pot)} pot.",
        rows=Axis("Thinner", "", labels), formulas=("cup-viscosity", "viscosity-by-share-line", "cup-time", "pot-thinner"),
        notes=("A forecast from two timings. Add, stir, wait, and time it again.",),
    )


FIRST_DOSES = {1: 2.0, 3: 4.0, 5: 5.0}  # first dose, % of paint → step of its table's times, s: a small dose wants a finer one
_DOSE_WORDS = {FINE: "likely the last pour: time it again all the same", CARE: "pour it, stir, and time it again: more will follow", UNKNOWN: "no answer"}


def _dose_pot(kit: str, cup: str, first: float | None) -> dict[str, str]:
    """A pot of a paint that nobody named, timed with a usual watch; after a first dose where one is said. The times are put in by the table."""
    return {"kit": kit, "cup": cup, "instruments": "usual", **({"dose": f"{first:g}%:40s in {cup}"} if first else {})}


def first_doses(book: Book, kit: str, times: Any) -> Any:
    """The safe first pour (% of paint) for each time as supplied, by the chain: the largest of the printed first doses that it allows."""
    rig = book.facts.kits[kit]
    out = day_of(book).walk(situation_of(book, _dose_pot(kit, rig.limit.cup, None)), ["pour-to"], {"cup-time": np.asarray(times, float)})
    aim = np.asarray(out.held["share-aim"].likely)
    return np.select([aim >= share - 1e-9 for share in sorted(FIRST_DOSES, reverse=True)[:-1]], sorted(FIRST_DOSES, reverse=True)[:-1], min(FIRST_DOSES))


def _dose_times(book: Book, kit: str, first: int) -> tuple[list[float], list[float]]:
    """(times as supplied for which this first dose is safe, times after it): at most fourteen each."""
    rig, step = book.facts.kits[kit], FIRST_DOSES[first]
    cup, watch = book.facts.cups[rig.limit.cup], book.facts.value("limits.timing_error").to("s")  # a watch that is so much late still reads inside the cup
    grid = np.arange(np.ceil(cup.time_min / step) * step, cup.time_max - watch + 1e-9, step)
    above = grid[grid > rig.limit.seconds + watch]
    firsts = above[first_doses(book, kit, above) >= first][:14]
    trials = above[above < firsts[-1]] if len(firsts) else above
    return list(firsts), list(trials[:14])


def _dose_table(book: Book, kit: str, first: int, name: str, title: str, caption: str, answer: str, rounding: Rounding, notes: tuple[str, ...]) -> Table | TextTable:
    rig = book.facts.kits[kit]
    cup = book.facts.cups[rig.limit.cup]
    firsts, trials = _dose_times(book, kit, first)
    if not firsts or not trials:
        return no_figures(name, title, f"No time in {cup.label} is so far over this kit's limit that a first dose of {first} % is safe.")
    rows = Along("cup-time", np.array(firsts), "s", "As supplied")
    columns = Along("dose-time", np.array(trials), "s", f"After a first {first} %", texts=tuple(("dose", f"{first}%:{time:g}s in {cup.name}") for time in trials))
    table = sweep(book, name, title, caption, answer, _dose_pot(kit, cup.name, first), rows, columns, "%", rounding, _DOSE_WORDS, notes=notes, formulas=("thinner-for-viscosity", "thinner-by-share-line", "thinner-by-crowding"))
    return replace(table, rows=replace(table.rows, unit=f"s in {cup.label}"), columns=replace(table.columns, unit=f"s in {cup.label}"), notes=notes)


def thinner_dose(book: Book, kit: str, first: int = 5) -> Table | TextTable:
    """Thinner to pour to, in all, from the time as supplied and the time after a first dose of 1, 3 or 5 %: the part that no law and no watch calls too much."""
    rig = book.facts.kits[kit]
    cup = book.facts.cups[rig.limit.cup]
    name = "thinner-dose" if first == 5 else f"thinner-dose-{first}"
    firsts, _ = _dose_times(book, kit, first)
    from_time = f" For paint that reads {firsts[0]:g} s or more." if firsts else ""
    return _dose_table(
        book, kit, first, name, f"First dose {first} %, then pour to: {rig.name}",
        f"After a first dose of {first} % and no other: thinner to pour to now, in all, % of paint volume. {rig.name} sprays at {rig.limit.seconds:g} s in {cup.label}.{from_time} All times in {cup.label}.",
        "pour-to", Rounding("down", 0.5),
        (f"The first {first} % is part of the figure. The data sheet's maximum and the VOC limit come first: this table knows neither.", "Thin enough at the second timing? Stop. The watch may be 1 s off and the paint " + book.pick("1 °C", "1.8 °F") + " warmer: it is in the figure."),
    )


def dose_uncertainty(book: Book, kit: str, first: int = 5) -> Table | TextTable:
    """Either-way band on the thinner in all: three laws of dilution, a watch and a thermometer."""
    rig = book.facts.kits[kit]
    cup = book.facts.cups[rig.limit.cup]
    return _dose_table(
        book, kit, first, "dose-uncertainty", f"How sure the thinner in all is, after a first {first} %: {rig.name}",
        f"Either way, in % of paint volume: the spread between three laws of dilution, each timing 1 s off, and the paint {book.pick('1 °C', '1.8 °F')} warmer or colder the second time. All times in {cup.label}.",
        "in-all-band", Rounding("up", 0.5), ("The pour of the table before keeps to the low end of it.",),
    )


def dose_landing(book: Book, kit: str) -> Table:
    """Share of 10,000 made-up paints that land within 3 s of the kit's limit, poured as the chain says, after one to four additions."""
    rig, day = book.facts.kits[kit], day_of(book)
    viscosity, time = (book.formulas[name] for name in ("cup-viscosity", "cup-time"))
    cup, target = rig.limit.cup, rig.limit.seconds

    def pour_to(first: Any, so_far: Any, last: Any) -> Any:
        brought = {"cup-time": first} | ({} if so_far is None else {"dose-share": np.maximum(so_far, 0.005) * 100, "dose-time": last})
        out = day.walk(situation_of(book, _dose_pot(kit, cup, None if so_far is None else min(FIRST_DOSES))), ["pour-to"], brought)
        return np.asarray(out.held["share-aim"].likely) / 100

    landed = book.once_for_both(("landings", kit), lambda: dilution.landings(lambda nu: time.column({"cup": cup, "viscosity": nu}), pour_to, target, float(viscosity.column({"cup": cup, "time": target}))))
    body = np.array([[100 * share for share in one.within] + [one.miss_95, 100 * one.too_thin] for one in landed])
    steps = (*(Rounding("down", 1),) * 4, Rounding("up", 0.1), Rounding("up", 0.1))
    return Table(
        "dose-landing", f"How close it lands: {rig.name}",
        f"Of {dilution.PAINTS:,} made-up paints, how many end within {dilution.CLOSE:g} s of {target:g} s in {book.facts.cups[cup].label}, with each timing up to {dilution.WATCH:g} s off, poured as these tables say.",
        Axis("Paint thins on", "", tuple(one.law for one in landed)), Axis("", "", ("1 addition %", "2 additions %", "3 additions %", "4 additions %", "95 in 100 end within, s", "too thin by more, %")),
        frame(body), "", steps[0], book.system, roundings=steps, formulas=("thinner-for-viscosity", "thinner-by-share-line", "thinner-by-crowding"),
        notes=(f"Paints that thin by {dilution.STEEPNESS[0]:g} to {dilution.STEEPNESS[1]:g} on the log scale and need 25 % or less. A seeded simulation: real paint has more tricks.",),
    )


def dilution_laws(book: Book) -> Table:
    """What each law of dilution asks for against what published curves need, at twice and three times the first dose."""
    viscosity, density = (book.formulas[f"glycerol-{name}"] for name in ("viscosity", "density"))
    warm = 20.0  # °C, as the other curves were measured
    curves = [*(dilution.glycerol(start, lambda c: viscosity.column({"mass-fraction": c, "temperature": warm}), lambda c: density.column({"mass-fraction": c, "temperature": warm})) for start in (100, 90, 80)),
              dilution.sugar(70), dilution.sugar(60), dilution.resin(), dilution.spheres(0.6), dilution.spheres(0.9)]
    first, start = 0.04, 5000.0
    rows = []
    for curve in curves:
        row = []
        for true in (2 * first, 3 * first):
            given = {"first-viscosity": start, "trial-thinner": 100 * first, "trial-viscosity": start * np.exp(-curve.fall(first)), "wanted-viscosity": start * np.exp(-curve.fall(true))}
            row += [float(book.formulas[name].column(given)) / true for name in ("thinner-for-viscosity", "thinner-by-share-line", "thinner-by-crowding")]
        rows.append(row)
    body = np.array(rows)
    return Table(
        "dilution-laws", "Three laws against published curves", "Thinner that each law asks for, in % of what the liquid truly needs, from two timings: at twice the first dose and at three times.",
        Axis("Liquid", "", tuple(f"{curve.label} ({curve.trust})" for curve in curves)), Axis("", "", ("least law, 2 ×", "likely law, 2 ×", "most law, 2 ×", "least law, 3 ×", "likely law, 3 ×", "most law, 3 ×")),
        frame(body), "%", Rounding("nearest", 1), book.system, formulas=("thinner-for-viscosity", "thinner-by-share-line", "thinner-by-crowding"),
        notes=("Perfect timings: what is left is the law's own error. No dilution curve of today's trim paints is published.",),
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
        Axis.of("Viscosity", "mm²/s", viscosities), Axis("Cup", "s", tuple(book.facts.cups[name].label for name in names)),
        frame(np.array([values for values, _ in columns]).T), "s", Rounding("nearest", 1), book.system,
        reasons=frame(np.array([np.where(why != "", outside, "") for _, why in columns]).T), formulas=("cup-time",),
    )


def same_seconds(book: Book) -> Table:
    """Viscosity that the same seconds mean in each cup."""
    seconds = np.array((25, 30, 35, 40, 50, 60, 80, 100), float)
    names = list(book.facts.cups)
    values, _ = zip(*(compute(book.formulas["cup-viscosity"], {"cup": name, "time": seconds}, "mm²/s") for name in names), strict=True)
    labels = tuple(cup.label + (" (dip)" if cup.dip else "") for cup in book.facts.cups.values())
    return Table(
        "same-seconds", "The same seconds, another paint", "Viscosity in mm²/s that a time means in each cup. Read down a column: the same seconds, and paints many times thicker.",
        Axis("Cup", "", labels), Axis.of("Time to the first break", "s", seconds), frame(values), "mm²/s", Rounding("nearest", 1), book.system,
        reasons=frame(np.full((len(names), len(seconds)), "outside the times that cup can be read at")), formulas=("cup-viscosity",),
        notes=("(dip) cups are indicative: use them to repeat your own work, not to compare with a data sheet.",),
    )


def cup_twins(book: Book, kit: str) -> Table:
    """Seconds in the kit's own cup, and what the same paint takes in every other cup."""
    rig = book.facts.kits[kit]
    own = book.facts.cups[rig.limit.cup]
    seconds = np.unique(np.append(np.arange(np.ceil(own.time_min / 5) * 5, own.time_max + 1e-9, 5.0), rig.limit.seconds))
    viscosity = book.formulas["cup-viscosity"].column({"cup": own.name, "time": seconds})
    others = [cup for cup in book.facts.cups.values() if cup.name != own.name and not cup.dip]
    columns = [compute(book.formulas["cup-time"], {"cup": cup.name, "viscosity": viscosity}, "s")[0] for cup in others]
    values = np.array(columns).T
    zones = np.where(np.isnan(values), "", np.where(seconds[:, None] <= rig.limit.seconds, FINE, CARE))
    return Table(
        "cup-twins", f"From {own.label} to another cup: {rig.name}", f"The same paint timed in {own.label} and in other cups. The kit's limit is {rig.limit.seconds:g} s in {own.label}.",
        Axis.of(own.label, "s", seconds), Axis("Cup", "s", tuple(cup.label for cup in others)), frame(values), "s", Rounding("nearest", 1), book.system,
        zones=frame(zones), zone_words={FINE: "thin enough for this kit", CARE: "too thick for this kit"},
        reasons=frame(np.where(np.isnan(values), "outside the times that cup can be read at", "")), formulas=("cup-viscosity", "cup-time"),
    )


def flow_times(book: Book) -> Table:
    """The official flow-time table beside ours, with the difference."""
    rows = book.facts.flow_times
    official = np.array([row.viscosity.to("mm²/s") for row in rows])
    # Here alone the law is asked below its range, to show why its range ends where it does.
    beyond = mix.cup_viscosity.with_options(cup_options({name: cup.model_copy(update={"time_min": min(row.time.to("s") for row in rows)}) for name, cup in book.facts.cups.items() if name in {row.cup for row in book.facts.flow_times}}))
    ours = [float(beyond.column({"cup": row.cup, "time": row.time.to("s")})) for row in rows]
    inside = [row.time.to("s") >= book.facts.cups[row.cup].time_min for row in rows]
    apart = (np.array(ours) / official - 1) * 100
    zones, whole = np.array([["", "", "" if fits else CARE] for fits in inside]), Rounding("nearest", 1)
    return Table(
        "flow-times", "Where two published tables disagree", "Flow times for viscous flammable liquids, as the transport rules print them, beside our cup laws.",
        Axis("Cup and time", "", tuple(f"{book.facts.cups[row.cup].label}, {row.time.value:g} {row.time.unit}" for row in rows)),
        Axis("", "", ("official mm²/s", "ours mm²/s", "apart %")), frame(np.stack([official, ours, apart], axis=1)), "", whole, book.system,
        zones=frame(zones), zone_words={CARE: "below the times our law holds for: our tables give no answer there"},
        roundings=(whole, whole, Rounding("nearest", 0.1)), formulas=("cup-viscosity",),
    )


def cup_disagreements(book: Book) -> TextTable:
    """How far a second published table is from our cup laws."""
    return TextTable("cup-disagreements", "A second table of cups", "Our cup laws against another published conversion.", ("Cup", "Times", "Difference"),
                     tuple((book.facts.cups[row.cup].label, row.times, row.difference) for row in book.facts.cup_disagreements))


def cold_tin(book: Book) -> Table:
    """Times thicker than at 23 °C, by the temperature of the paint and class."""
    unit = book.pick("°C", "°F")
    temperatures = np.array(book.pick((5, 8, 10, 12, 15, 18, 20, 23, 26, 30), (40, 45, 50, 55, 60, 65, 70, 75, 80, 85)), float)
    classes = list(book.facts.classes.values())
    usual = {family: mode(one.viscosity_slope.to("1/K") for one in classes if one.family == family) for family in dict.fromkeys(one.family for one in classes)}
    slopes: dict[float, list[str]] = {}
    for one in classes:
        slope = one.viscosity_slope.to("1/K")
        label = one.family if usual[one.family] == slope else book.label(one).lower()
        if label not in slopes.setdefault(slope, []):
            slopes[slope].append(label)
    values, why = compute(book.formulas["warmed-viscosity"], {
        "viscosity": 100.0, "temperature": 23.0, "wanted-temperature": temperatures[:, None], "viscosity-slope": np.array(list(slopes))[None, :]}, "mm²/s", {"wanted-temperature": unit})
    times = values / 100
    zones = np.where(np.isnan(times), "", np.where(times > 1.4, STOP, np.where((times > 1.15) | (times < 0.85), CARE, FINE)))
    return Table(
        "cold-tin", "How much thicker a cold tin is", f"How many times thicker the paint is than at {book.pick('23 °C', '73 °F')}, where data sheets time it. Paint temperature in {unit}, not the air.",
        Axis.of("Paint", unit, temperatures), Axis("Class", "", tuple(", ".join(labels) for labels in slopes.values())),
        frame(times), "×", Rounding("nearest", 0.05), book.system, zones=frame(zones), reasons=frame(why),
        zone_words={FINE: "time it as it is", CARE: "warm it first, or allow for it", STOP: "warm it: thinning cold paint makes runs later"}, formulas=("warmed-viscosity",),
        notes=("A usual slope for each class, common practice. Your own two timings at two temperatures beat it.",),
    )


def tin_warming(book: Book) -> Table:
    """Hours for a tin to come within 2 °C of the room."""
    unit, close = book.pick("°C", "°F"), 2.0
    starts = np.array(book.pick((0, 5, 8, 10, 12, 15), (35, 40, 45, 50, 55, 60)), float)
    tins = np.array(book.pick((0.5, 1, 2.5, 5, 10), (0.25, 0.5, 1, 2, 5)), float)
    room = book.pick(20.0, units.convert(68.0, "°F", "°C"))
    values, why = compute(book.formulas["tin-warming"], {"volume": tins[None, :], "start": starts[:, None], "room": room, "wanted-temperature": room - close}, "h",
                          {"start": unit, "volume": book.pick("L", "gal")})
    return Table(
        "tin-warming", "How long a tin takes to warm", f"Hours in a room at {book.pick('20 °C', '68 °F')}, until the paint is within {book.pick('2 °C', '4 °F')} of it.",
        Axis.of("Paint now", unit, starts), Axis.of("Tin", book.pick("L", "US gal"), tins), frame(values), "h", Rounding("up", 0.5), book.system,
        reasons=frame(why), formulas=("tin-warming",), notes=("Still air, tins apart, stirred now and then. Stacked tins take longer. For a big cold tub count on a day.",),
    )


def label_room(book: Book) -> Table:
    """VOC ready to use against the region's limit, and the room for thinner, for each coating with a category."""
    facts = book.facts
    own_rules = _voc_rules(book)
    less_water = any(rule.unit == "g/L less water" for rule in own_rules)
    limits = {rule.key: rule.figure for rule in own_rules}
    named = facts.region.label_category
    names, rows, zones, reasons = [], [], [], []
    for coating in book.facts.coatings.values():
        family = book.facts.classes[coating.class_key].family
        category = getattr(coating, named) if named else None
        base = "any" if less_water else ("wb" if family in ("waterborne", "mineral") else "sb")
        limit = limits.get(f"{category or ''}|{base}", np.nan)
        voc = coating.voc_less_water if less_water and coating.voc_less_water else coating.voc
        counts = not less_water or coating.voc_less_water is not None or family not in ("waterborne", "mineral")
        if coating.stops:
            continue
        solvent = coating.thinner_density.to("g/L")
        thinned, room = np.nan, np.nan
        if counts and solvent:
            thinned = float(book.formulas["voc-after-thinning"].column({"voc": voc.to("g/L"), "thinner": coating.thinner_max.to("%"), "thinner-density": solvent}))
            room = float(compute(book.formulas["thinner-headroom"], {"voc": voc.to("g/L"), "thinner-density": solvent, "limit": limit}, "%")[0]) if not np.isnan(limit) else np.nan
        own = voc.to("g/L") if counts else np.nan
        over = own > limit
        names.append(coating.name)
        rows.append((own, limit, thinned, room, units.convert(room, "%", book.pick("mL/L", "fl oz/gal"))))
        zones.append((STOP if over else "", "", STOP if thinned > limit else "", FINE if room > coating.thinner_max.to("%") else (CARE if room > 0 else ""), ""))
        water = "thinned with water or not at all: the figure does not rise"
        unknown = "the US figure is counted less water: ask the data sheet"
        roomless = water if not solvent else "over the limit already" if over else "at the limit already: add none" if own == limit else "more than any data sheet allows" if not np.isnan(limit) else "no limit known"
        reasons.append((unknown, "no category of this region's list is written for it" if any(rule.unit for rule in own_rules) else "no limit is known here", water if counts else unknown, roomless if counts else unknown, "as the column before"))
    steps = (Rounding("up", 1), Rounding("down", 1), Rounding("up", 1), Rounding("down", 0.5), Rounding("down", book.pick(5, 0.5)))
    return Table(
        "label-room", f"Label limits, {where(book)}", f"VOC in g/L, {'less water' if less_water else 'ready to use'}, and the thinner that still keeps the limit, in % of paint volume and {book.pick('mL for each litre', 'fl oz for each gallon')}.",
        Axis("Coating", "", tuple(names)), Axis("", "", ("as supplied", "limit", "at sheet's most thinner", "room %", book.pick("room mL/L", "room fl oz/gal"))), frame(np.array(rows, float)), "", steps[0], book.system,
        zones=frame(np.array(zones, dtype=object)), zone_words={FINE: "the data sheet's maximum comes first", CARE: "the law comes before the data sheet's maximum", STOP: "over the limit"},
        reasons=frame(np.array(reasons, dtype=object)), roundings=steps,
        formulas=("voc-after-thinning", "thinner-headroom"),
        notes=(told(own_rules, facts.handbook.date), "Figures less water and figures ready to use are two different counts: never compare them."),
    )


def _voc_rules(book: Book) -> list[Any]:
    """Rules of the nearest place that has any: a district's categories are its own, and no federal figure stands in for them."""
    found = list(book.facts.law(subject="voc"))
    return [rule for rule in found if rule.region == found[0].region]


def where(book: Book) -> str:
    """The handbook's region, and its district where one is named, for a title."""
    region, place = book.facts.region, book.facts.handbook.place
    return str(region.districts.get(place, region.title))


def voc_classes(book: Book) -> Table | TextTable:
    """The region's categories and limits, as its rules print them."""
    rules = _voc_rules(book)
    if not any(rule.unit for rule in rules):
        return replace(law_rules(book, "voc"), name="voc-classes")
    less_water = any(rule.unit == "g/L less water" for rule in rules)
    bases = tuple(base for base in ("wb", "sb", "any") if any(rule.key.endswith(f"|{base}") for rule in rules))
    kinds = list(dict.fromkeys((rule.key.partition("|")[0], rule.says) for rule in rules))
    limits = {rule.key: rule.figure for rule in rules}
    words = {"wb": "waterborne", "sb": "solvent-borne", "any": "any base"}
    binds = next((rule.scope for rule in rules if rule.scope), "")
    return Table(
        "voc-classes", f"Categories and limits, {where(book)}", f"Grams of VOC in each {book.pick('litre', 'liter')}, {'less water' if less_water else 'ready to use'}.",
        Axis("Category", "", tuple(f"{category}: {meaning}" if meaning and meaning != category else category for category, meaning in kinds)),
        Axis("", "", tuple(words[base] for base in bases)), frame([[limits.get(f"{category}|{base}", np.nan) for base in bases] for category, _ in kinds]), "g/L", Rounding("down", 1), book.system,
        reasons=frame(np.full((len(kinds), len(bases)), "this category is not divided that way")),
        notes=(*([f"Binds: {binds}."] if binds else []), told(rules, book.facts.handbook.date), "Figures less water and figures ready to use are two different counts: never compare them."),
    )


def calibration_liquids(book: Book) -> Table:
    """Kinematic viscosity of glycerol and water by weight, to calibrate an unmarked cup."""
    unit = book.pick("°C", "°F")
    temperatures = np.array(book.pick((18, 20, 21, 22, 23, 24, 25, 26), (64, 66, 68, 70, 72, 74, 76, 78)), float)
    shares = np.array((50, 55, 60, 65, 70, 75, 80, 82, 84, 86, 88, 90), float)
    mix = {"mass-fraction": shares[:, None], "temperature": temperatures[None, :]}
    dynamic, why = compute(book.formulas["glycerol-viscosity"], mix, "mPa·s", {"temperature": unit})
    density, _ = compute(book.formulas["glycerol-density"], mix, "kg/L", {"temperature": unit})
    return Table(
        "calibration-liquids", "Glycerol and water of known strength", f"Viscosity in mm²/s by weight of glycerol and temperature in {unit}. {book.pick('For 500 g at 80 %: 400 g glycerol, 100 g water.', 'For 20 oz by weight at 80 %: 16 oz glycerol, 4 oz water.')}",
        Axis.of("Glycerol", "% by weight", shares), Axis.of("Liquid", unit, temperatures), frame(dynamic / density), "mm²/s", Rounding("nearest", 0.1), book.system,
        reasons=frame(why), formulas=("glycerol-viscosity", "glycerol-density"),
        notes=(f"Near 80 %, 1 % in weight moves it 11 %, and {book.pick('1 °C', '1.8 °F')} moves it 6 %.", f"Weigh {book.pick('to the gram', 'to a twentieth of an ounce')} and time at one temperature."),
    )


def own_cups(book: Book) -> TextTable:
    """The crew's own cups: fitted law, range, and how far each reading misses."""
    rows = []
    for slug, fitted in own_cup_fits(book.facts).items():
        if not isinstance(fitted, str):
            misses = ", ".join(f"{time:g} s: {miss * 100:+.1f} %".replace("-", "−") for time, miss in zip(fitted.times, fitted.misses, strict=True))
            rows.append((book.facts.own_cups[slug].label, slug, f"ν = {fitted.A:.3g}·t − {fitted.B:.3g}/t", f"{min(fitted.times):g} to {max(fitted.times):g} s", misses))
    return TextTable("own-cups", "Your own cups", "Fitted to the readings in site_data/own_cups, and used by name everywhere.",
                     ("Cup", "Name", "Law, mm²/s", "Holds from", "Each reading misses by"), tuple(rows))


def strainers(book: Book) -> TextTable:
    """Mesh by class, and how to stir it."""
    def mesh(micron: float) -> str:
        return "no. " + str(min(_SIEVES, key=lambda number: abs(_SIEVES[number] - micron)))

    rows = []
    for one in book.facts.classes.values():
        fine, coarse = one.strainer_fine, one.strainer_coarse
        rows.append((book.label(one), book.pick(f"{fine.value:g} to {coarse.value:g} µm", f"{units.said(fine.to('mil'), 'mil')} to {units.said(coarse.to('mil'), 'mil')}, marked {fine.value:g} to {coarse.value:g} µm"), f"{mesh(coarse.to('µm'))} to {mesh(fine.to('µm'))}", one.stir))
    return TextTable("strainers", "Strainer and stirring by class", "Common practice. The data sheet comes first.", ("Class", "Strainer", "US sieve", "Stir"), tuple(rows))


# ASTM E11 sieve numbers and their openings in µm, from memory.
_SIEVES = {100: 150, 80: 180, 70: 212, 60: 250, 50: 300, 45: 355, 40: 425, 35: 500, 30: 600}

BUILDERS = {
    "thinning-steps": Builder(thinning_steps, per="kit"),
    "thinner-dose": Builder(thinner_dose, per="kit", twins=False),
    "thinner-dose-3": Builder(lambda book, kit: thinner_dose(book, kit, 3), per="kit", twins=False),
    "thinner-dose-1": Builder(lambda book, kit: thinner_dose(book, kit, 1), per="kit", twins=False),
    "dilution-laws": Builder(dilution_laws, twins=False),
    "dose-uncertainty": Builder(dose_uncertainty, per="kit", twins=False),
    "dose-landing": Builder(dose_landing, per="kit", twins=False),
    "cup-times": Builder(cup_times, twins=False),
    "same-seconds": Builder(same_seconds, twins=False),
    "cup-twins": Builder(cup_twins, per="kit", twins=False),
    "flow-times": Builder(flow_times, twins=False),
    "cup-disagreements": Builder(cup_disagreements, twins=False),
    "cold-tin": Builder(cold_tin),
    "tin-warming": Builder(tin_warming),
    "label-room": Builder(label_room, twins=False),
    "voc-classes": Builder(voc_classes, twins=False),
    "calibration-liquids": Builder(calibration_liquids),
    "own-cups": Builder(own_cups, twins=False),
    "strainers": Builder(strainers, twins=False),
}
