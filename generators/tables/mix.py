"""Tables of the mixing bench."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

import numpy as np

from generators import units
from generators.formulas import cup_options, mix
from generators.formulas.own_cups import fits as own_cup_fits
from generators.studies import second_dose
from generators.table import CARE, FINE, STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame
from generators.tables.law import rules as law_rules
from generators.tables.law import told
from generators.tables.sweep import Along, side_by_side, sweep

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


def sheet_pot(book: Book, kit: str, coating: str) -> dict[str, str]:
    """A situation in which a pot was timed just as its data sheet says: as supplied, and after the first dose."""
    tin, rig = book.facts.coatings[coating], book.facts.kits[kit]
    dose, timed = tin.trial
    found = {"kit": kit, "coating": coating, "cup": rig.limit.cup, "instruments": "exact"}
    if tin.two_pack is not None:
        found["hardener"] = tin.hardener
    return found | {"dose": f"0%:{tin.supplied.seconds:g}s in {tin.supplied.cup}; {dose.to('%'):g}%:{timed.seconds:g}s in {timed.cup}"}


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
                f"Thinner is % of paint volume, and what goes into one full {rig.pot.value:g} {rig.pot.unit} pot.",
        rows=Axis("Thinner", "", labels), formulas=("cup-viscosity", "thinned-viscosity", "cup-time", "pot-thinner"),
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
        Axis.of("As supplied", f"s in {cup.label}", firsts), Axis.of("After a first 5 %", f"s in {cup.label}", trials),
        frame(values), "%", Rounding("down", 0.5), book.system, zones=frame(zones), reasons=frame(why),
        zone_words={FINE: "10 % or less", CARE: "over 10 %: few data sheets allow it"},
        formulas=("thinner-for-target",), lights=("thinner-for-target", "first-time", "trial-time"), notes=("The first 5 % is part of the figure. The data sheet's maximum comes first.",),
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
    seconds = np.unique(np.append(np.arange(max(20.0, np.ceil(own.time_min / 5) * 5), own.time_max + 0.1, 5.0), rig.limit.seconds))
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
    beyond = mix.cup_viscosity.with_options(cup_options({name: cup.model_copy(update={"time_min": 15.0}) for name, cup in book.facts.cups.items() if name in {row.cup for row in book.facts.flow_times}}))
    ours = [float(beyond.column({"cup": row.cup, "time": row.time.to("s")})) for row in rows]
    inside = [row.time.to("s") >= book.facts.cups[row.cup].time_min for row in rows]
    apart = (np.array(ours) / official - 1) * 100
    zones = np.array([["", "", "" if fits else CARE] for fits in inside])
    return Table(
        "flow-times", "Where two published tables disagree", "Flow times for viscous flammable liquids, as the transport rules print them, beside our cup laws.",
        Axis("Cup and time", "", tuple(f"{book.facts.cups[row.cup].label}, {row.time.value:g} {row.time.unit}" for row in rows)),
        Axis("", "", ("official mm²/s", "ours mm²/s", "apart %")), frame(np.stack([official, ours, apart], axis=1)), "", Rounding("nearest", 1), book.system,
        zones=frame(zones), zone_words={CARE: "below the times our law holds for: our tables give no answer there"},
        roundings=(Rounding("nearest", 1), Rounding("nearest", 1), Rounding("nearest", 0.1)), formulas=("cup-viscosity",),
    )


def cup_disagreements(book: Book) -> TextTable:
    """How far a second published table is from our cup laws."""
    return TextTable("cup-disagreements", "A second table of cups", "Our cup laws against another published conversion.", ("Cup", "Times", "Difference"),
                     tuple((book.facts.cups[row.cup].label, row.times, row.difference) for row in book.facts.cup_disagreements))


def dose_uncertainty(book: Book, kit: str) -> Table:
    """Either-way band on the dose of `thinner_dose`, for a watch and a thermometer that are a little off."""
    rig = book.facts.kits[kit]
    cup = book.facts.cups[rig.limit.cup]
    firsts = np.array([t for t in np.arange(30.0, cup.time_max + 0.1, 10.0) if t > rig.limit.seconds], float)
    trials = np.array([t for t in np.arange(25.0, firsts[-1], 5.0)], float)
    values, why = compute(book.formulas["dose-uncertainty"], {
        "cup": rig.limit.cup, "first-time": firsts[:, None], "trial-thinner": 5.0, "trial-time": trials[None, :], "target-time": rig.limit.seconds,
        "timing-error": 1.0, "temperature-error": 1.0, "viscosity-slope": 0.03}, "%")
    zones = np.where(np.isnan(values), "", np.where(values <= 2, FINE, np.where(values <= 5, CARE, STOP)))
    return Table(
        "dose-uncertainty", f"How sure that dose is: {rig.name}", f"Either way, in % of paint volume, when each timing may be 1 s off and the paint 1 °C warmer or colder the second time. "
        f"All times in {cup.label}.",
        Axis.of("As supplied", f"s in {cup.label}", firsts), Axis.of("After a first 5 %", f"s in {cup.label}", trials), frame(values), "%", Rounding("up", 0.5), book.system,
        zones=frame(zones), reasons=frame(why), zone_words={FINE: "sure enough", CARE: "add half, then time again", STOP: "the two timings are too near each other to tell: add another small dose"},
        formulas=("dose-uncertainty",),
    )


def dose_landing(book: Book, kit: str) -> Table:
    """Share of 10,000 made-up paints that land within 3 s of the kit's limit, after one, two and three additions."""
    rig = book.facts.kits[kit]
    viscosity, time, dose = (book.formulas[name] for name in ("cup-viscosity", "cup-time", "thinner-for-target"))
    cup, target = rig.limit.cup, rig.limit.seconds

    def total(first: Any, so_far: Any, last: Any) -> Any:
        return dose.column({"cup": cup, "first-time": first, "trial-thinner": so_far * 100, "trial-time": last, "target-time": target}) / 100

    landed = second_dose.landings(lambda nu: time.column({"cup": cup, "viscosity": nu}), total, target, float(viscosity.column({"cup": cup, "time": target})))
    body = np.array([[100 * share for share in one.within] + [one.miss_95[-1]] for one in landed])
    return Table(
        "dose-landing", f"How close it lands: {rig.name}",
        f"Of {second_dose.PAINTS:,} made-up paints, how many end within {second_dose.CLOSE:g} s of {target:g} s in {book.facts.cups[cup].label}, with each timing up to {second_dose.WATCH:g} s off.",
        Axis("Paint thins on", "", tuple(one.law for one in landed)), Axis("", "", ("1 addition %", "2 additions %", "3 additions %", "95 in 100 end within, s")),
        frame(body), "", Rounding("down", 1), book.system, roundings=(*(Rounding("down", 1),) * 3, Rounding("up", 0.1)), formulas=("thinner-for-target",),
        notes=(f"Paints that thin by {second_dose.STEEPNESS[0]:g} to {second_dose.STEEPNESS[1]:g} on the log scale and need 25 % or less. A seeded simulation: real paint has more tricks.",),
    )


def cold_tin(book: Book) -> Table:
    """Times thicker than at 23 °C, by the temperature of the paint and class."""
    unit = book.pick("°C", "°F")
    temperatures = np.array(book.pick((5, 8, 10, 12, 15, 18, 20, 23, 26, 30), (40, 45, 50, 55, 60, 65, 70, 75, 80, 85)), float)
    classes = list(book.facts.classes.values())
    usual = {family: Counter(one.viscosity_slope.to("1/K") for one in classes if one.family == family).most_common(1)[0][0] for family in dict.fromkeys(one.family for one in classes)}
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
        "cold-tin", "How much a cold tin misleads", f"How many times thicker the paint is than at {book.pick('23 °C', '73 °F')}, where data sheets time it. Paint temperature in {unit}, not the air.",
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
        over = not np.isnan(limit) and own > limit
        names.append(coating.name)
        rows.append((own, limit, thinned, room, room * 10))
        zones.append((STOP if over else "", "", STOP if thinned > limit else "", FINE if room > coating.thinner_max.to("%") else (CARE if room > 0 else ""), ""))
        water = "thinned with water or not at all: the figure does not rise"
        unknown = "the US figure is counted less water: ask the data sheet"
        roomless = water if not solvent else "over the limit already" if over else "more than any data sheet allows" if not np.isnan(limit) else "no limit known"
        reasons.append((unknown, "no category of this region's list is written for it" if own_rules else "no limit is known here", water if counts else unknown, roomless if counts else unknown, "as the column before"))
    g = book.pick("g/L", "g/L")
    return Table(
        "label-room", f"Label limits, {where(book)}", f"VOC in {g}, {'less water' if less_water else 'ready to use'}, and the thinner that still keeps the limit, in % of paint volume and mL for each litre.",
        Axis("Coating", "", tuple(names)), Axis("", "", ("as supplied", "limit", "at sheet's most thinner", "room %", "room mL/L")), frame(np.array(rows, float)), "", Rounding("up", 1), book.system,
        zones=frame(np.array(zones, dtype=object)), zone_words={FINE: "the data sheet's maximum comes first", CARE: "the law comes before the data sheet's maximum", STOP: "over the limit"},
        reasons=frame(np.array(reasons, dtype=object)), roundings=(Rounding("up", 1), Rounding("down", 1), Rounding("up", 1), Rounding("down", 0.5), Rounding("down", 5)),
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
        "voc-classes", f"Categories and limits, {where(book)}", f"Grams of VOC in each litre, {'less water' if less_water else 'ready to use'}.",
        Axis("Category", "", tuple(f"{category}: {meaning}" if meaning and meaning != category else category for category, meaning in kinds)),
        Axis("", "", tuple(words[base] for base in bases)), frame([[limits.get(f"{category}|{base}", np.nan) for base in bases] for category, _ in kinds]), "g/L", Rounding("nearest", 1), book.system,
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
        "calibration-liquids", "Glycerol and water of known strength", f"Viscosity in mm²/s by weight of glycerol and temperature in {unit}. For 500 g at 80 %: 400 g glycerol, 100 g water.",
        Axis.of("Glycerol", "% by weight", shares), Axis.of("Liquid", unit, temperatures), frame(dynamic / density), "mm²/s", Rounding("nearest", 0.1), book.system,
        reasons=frame(why), formulas=("glycerol-viscosity", "glycerol-density"),
        notes=("Near 80 %, 1 % in weight moves it 11 %, and 1 °C moves it 6 %.", "Weigh to the gram and time at one temperature."),
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
        rows.append((book.label(one), f"{fine.value:g} to {coarse.value:g} µm", f"{mesh(coarse.to('µm'))} to {mesh(fine.to('µm'))}", one.stir))
    return TextTable("strainers", "Strainer and stirring by class", "Common practice. The data sheet comes first.", ("Class", "Strainer", "US sieve", "Stir"), tuple(rows))


# ASTM E11 sieve numbers and their openings in µm, from memory.
_SIEVES = {100: 150, 80: 180, 70: 212, 60: 250, 50: 300, 45: 355, 40: 425, 35: 500, 30: 600}

BUILDERS = {
    "thinning-steps": Builder(thinning_steps, per="kit"),
    "thinner-dose": Builder(thinner_dose, per="kit", twins=False),
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
