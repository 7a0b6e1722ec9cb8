"""Tables of the room: vapour, clearing the air, noise."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from generators import units
from generators.chart import Chart, Line, Scale
from generators.facts.law import Rule
from generators.facts.rows import Solvent
from generators.quantity import Quantity
from generators.table import CARE, FINE, STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, no_figures, stop_words
from generators.tables.law import OLD, told
from generators.tables.law import rules as law_rules
from generators.tables.sweep import INDOORS, Along, sweep, typed

CHANGES = np.array((0.5, 1, 2, 4, 6, 10, 15, 20), float)
SPRAYING, MIXING = 10.0, 3.0  # minutes; an ordinary room
VAPOUR_WORDS = {FINE: "nothing in it to burn", CARE: "under the level to act at, or a water paint, which gives its solvent off over hours: never a reason to take the mask off", STOP: "stop: no more spraying, no switch touched, ventilate, out"}


def room_vapour(book: Book, coating: str) -> Table | TextTable:
    """Share of the explosive limit at the end of spraying in an ordinary room, by air changes and litres."""
    tin = book.facts.coatings[coating]
    if tin.stops:
        return no_figures("room-vapour", f"Vapour in a room: {tin.name}", stop_words(book, tin))
    room = book.room()
    unit, space = book.pick("L", "qt"), book.pick("m³", "ft³")
    litres = np.array((0.25, 0.5, 1, 1.5, 2), float)
    flows = units.convert(litres, unit, "mL") / SPRAYING
    return sweep(
        book, "room-vapour", f"Vapour in a room: {tin.name}",
        f"% of the lower explosive limit at the end of {SPRAYING:g} minutes of spraying in a closed-off room of {units.convert(room, 'm³', space):.0f} {space} with ordinary mixing, at {book.pick('20 °C', '68 °F')}, by air changes and paint sprayed as supplied.",
        "room-air", {"coating": coating, **INDOORS, "room-volume": book.pick(f"{room:g}", f"{units.convert(room, 'm³', space):.0f} {space}"), "mixing": f"{MIXING:g}", "air-temperature": book.pick("20 °C", "68 °F"), "thinner-wanted": "0 %"},
        Along("air-changes", CHANGES, "1/h", "Air changes"), Along("pot-litres", litres, unit, "Sprayed", more={"flow": (typed(flows, "mL/min"), flows)}), "%", Rounding("up", 0.1), VAPOUR_WORDS,
        formulas=("room-vapour", "explosive-share"), notes=("A mean for the whole room. Near the gun it is many times more. Section 9 of the safety data sheet has the real limit.",),
    )


def clearing(book: Book) -> Chart:
    """Solvent in the air over time: while spraying and after, at three rates of air change."""
    room = book.room()
    minutes = np.linspace(0.5, 90, 180)
    lines, amount, (paint, space) = [], book.pick(0.5, 0.473176473), book.pick(("half a litre", "m³"), ("a pint", "ft³"))
    for changes, strong, at in ((1.0, False, 0.6), (4.0, False, 0.45), (12.0, True, 0.35)):
        while_on = book.formulas["room-vapour"].column({"paint": amount * np.minimum(minutes, SPRAYING) / SPRAYING, "voc": 400.0, "spraying": np.minimum(minutes, SPRAYING), "volume": room, "air-changes": changes, "mixing": MIXING})
        end = float(book.formulas["room-vapour"].column({"paint": amount, "voc": 400.0, "spraying": SPRAYING, "volume": room, "air-changes": changes, "mixing": MIXING}))
        after = book.formulas["room-vapour-after"].column({"concentration": end, "after": np.maximum(minutes - SPRAYING, 0), "air-changes": changes, "mixing": MIXING})
        level = np.where(minutes <= SPRAYING, while_on, after) / 1000
        lines.append(Line(f"{changes:g} changes/h", tuple(minutes.tolist()), tuple(level.tolist()), strong=strong, at=at))
    left = {changes: line.ys[-1] for changes, line in zip((1, 4, 12), lines, strict=True)}
    return Chart(
        "clearing", f"{paint.capitalize()} in a closed-off room", f"{paint.capitalize()} at 400 g/L sprayed over {SPRAYING:g} minutes in {units.convert(room, 'm³', space):.0f} {space}, then left to air.",
        f"Solvent in the air rises for {SPRAYING:g} minutes, then falls. After 90 minutes {left[1]:.1f} g/m³ are left at 1 air change an hour, {left[4]:.1f} at 4, and {left[12]:.2f} at 12.",
        Scale("Minutes", "", 0, 90, (0, 10, 30, 60, 90)), Scale("Solvent", "g/m³", 0, 7, (0, 1, 2, 3, 4, 5, 6, 7)), lines=tuple(lines),
        formulas=("room-vapour", "room-vapour-after"), notes=("Ordinary mixing. Wet paint goes on giving off solvent: the real air clears more slowly.",),
    )


def clearance(book: Book) -> Table:
    """Minutes to clear the air, by air changes and share to be removed, with perfect and with ordinary mixing."""
    removal = np.array((90.0, 99.0, 99.9))
    ideal, why = compute(book.formulas["clearance-time"], {"air-changes": CHANGES[:, None], "removal": removal[None, :]}, "min")
    body = np.concatenate([ideal, ideal * MIXING], axis=1)
    return Table(
        "clearance", "Minutes to clear the air", "From when nothing more is given off. First with perfect mixing, as the published table; then three times that, for an ordinary room.",
        Axis.of("Air changes", "1/h", CHANGES), Axis("", "", ("90 %", "99 %", "99.9 %", "ordinary 90 %", "ordinary 99 %", "ordinary 99.9 %")), frame(body), "min", Rounding("up", 1), book.system,
        reasons=frame(np.concatenate([why, why], axis=1)), formulas=("clearance-time",), notes=("Count your air changes: the fan's rated flow over the room's volume. Rated flow falls with filters and ducts.",),
    )


def lowest(figures: tuple[Quantity, ...], unit: str) -> float:
    """The lowest figure that any list gives, NaN where none does."""
    return min((one.to(unit) for one in figures), default=math.nan)


def breathing_limit(book: Book, solvent: Solvent, region: str | None = None, on: str | None = None) -> tuple[float, Rule | None, str]:
    """(ppm, its rule, why there is none): the lowest figure of the region's list, law or health body's advice, over any time.

    An 8-hour rule that holds and gives no figure is not passed over for another: the answer is none, with its words.
    """
    facts = book.facts
    found = [rule for rule in facts.law(region, "air", on) if rule.key.partition("|")[0] == solvent.key and rule.key.partition("|")[2].partition("|")[0] in ("8h", "15min", "ceiling")]
    least: tuple[float, Rule | None] = (math.nan, None)
    place = facts.regions[(region or facts.handbook.region).partition("-")[0]]
    for rule in found:
        if math.isnan(rule.figure):
            if rule.key == f"{solvent.key}|8h" and "not known here" in rule.says:
                return math.nan, rule, rule.says
            continue
        ppm = rule.figure
        if rule.unit != "ppm":
            ppm = float(book.formulas["limit-by-volume"].column({"concentration": rule.figure, "molar-mass": solvent.molar_mass.to("g/mol"), "temperature": place.air_at.to("°C")}))
        if math.isnan(least[0]) or ppm < least[0]:
            least = (ppm, rule)
    why = "" if least[1] else next((rule.says for rule in found if rule.says), "no figure in this region's list")
    return (*least, why)


def air_needed(book: Book) -> Table | TextTable:
    """Air for each litre of solvent evaporated: to stay under 10 % of its explosive limit, and to come down to its limit to breathe.

    A folder whose solvents have no key (older ones) or no explosive limit has no row for it: said in words.
    """
    act = book.facts.value("limits.explosive_share_act").to("%")
    title = "Air for each measure of solvent: not to burn, and to breathe"
    unit = book.pick("m³/L", "ft³/gal")
    rows, names, whys, limits = [], [], [], []
    for solvent in book.facts.solvents:
        burns = lowest(solvent.explosive_limits, "%")
        if math.isnan(burns) or not solvent.key:
            continue
        ppm, rule, why = breathing_limit(book, solvent)
        vapour = float(book.formulas["vapour-volume"].column({"density": solvent.density.to("kg/L"), "molar-mass": solvent.molar_mass.to("g/mol"), "temperature": 21.0}))
        fire = float(compute(book.formulas["dilution-air"], {"vapour": vapour, "explosive-limit": burns, "fraction": act}, unit)[0])
        breathe = float(compute(book.formulas["breathing-air"], {"vapour": vapour, "limit": ppm}, unit)[0])
        times = float(compute(book.formulas["fire-over-breathing"], {"explosive-limit": burns, "fraction": act, "limit": ppm}, "×")[0])
        names.append(solvent.name)
        rows.append((units.convert(lowest(solvent.flash_points, "°C"), "°C", book.pick("°C", "°F")), burns, fire, ppm, breathe, times))
        told_why = why or "no figure in this region's list"
        whys.append(("not known here", "", "", told_why, told_why, told_why))
        if rule and not math.isnan(ppm):
            limits.append(rule)
    if not rows:
        return no_figures("air-needed", title, "No solvent of this handbook has both an explosive limit and a key to its limit to breathe.")
    steps = (Rounding("down", 1), Rounding("down", 0.1), Rounding("up", book.pick(1, 100)), Rounding("down", 1), Rounding("up", book.pick(10, 1000)), Rounding("up", 1))
    return Table(
        "air-needed", title,
        f"The lowest flash point and explosive limit of any list; air in {unit} for {act:g} % of that limit; the lowest limit to breathe in {book.facts.region.title}, law or advice; air for that; and how many times the limit to breathe those {act:g} % are.",
        Axis("Solvent", "", tuple(names)), Axis("", "", (f"flash {book.pick('°C', '°F')}", "burns from %", f"air for {act:g} %", "breathe ppm", "air to breathe", f"{act:g} % is × the limit")), frame(rows), "", steps[0], book.system,
        reasons=frame(np.array(whys, dtype=object)), roundings=steps,
        formulas=("vapour-volume", "dilution-air", "breathing-air", "fire-over-breathing"),
        notes=("Perfect mixing, one solvent alone: a real room wants several times as much. A dash is no leave to breathe it.", "Limits to breathe: " + told(limits, book.facts.handbook.date),),
    )


def noise_time(book: Book) -> Table:
    """Time allowed in a day by level, under the 3 dB and, in the US, the 5 dB rule."""
    levels = np.array((80, 82, 85, 88, 91, 94, 97, 100, 103, 106), float)
    three, why = compute(book.formulas["noise-exposure-time"], {"level": levels}, "min")
    columns, names, told = [three], ["3 dB rule, from 85 dBA"], [why]
    if book.facts.handbook.region == "us":
        five, other = compute(book.formulas["noise-exposure-time-5db"], {"level": levels}, "min")
        columns.append(five)
        names.append("5 dB rule, from 90 dBA")
        told.append(other)
    body = np.minimum(np.stack(columns, axis=1), 24 * 60)  # no day has more
    zones = np.where(np.isnan(body), "", np.where(body >= 480, CARE, STOP))
    return Table(
        "noise-time", "How long at a noise", "Minutes in a day at the ear without protection.", Axis.of("Level", "dBA", levels), Axis("", "", tuple(names)), frame(body), "min", Rounding("down", 1), book.system,
        zones=frame(zones), zone_words={CARE: "a whole day: plugs are still wise", STOP: "wear protection"}, reasons=frame(np.stack(told, axis=1)), formulas=("noise-exposure-time",),
        notes=("The 3 dB rule is a health body's recommendation. What the law asks is in the table below.",),
    )


def noise_limits(book: Book) -> TextTable:
    """What the region's law asks at which level."""
    facts = book.facts
    rules = facts.law(subject="noise")
    if not rules:
        return replace(law_rules(book, "noise"), name="noise-limits")
    rows = tuple((rule.scope, rule.amount, (OLD if rule.old(facts.handbook.date) else "") + rule.says, rule.dated) for rule in rules)
    return TextTable("noise-limits", f"What the law asks: {facts.region.title}", "At the ear. dBA over a working day, dBC for a bang. Check before you rely on it.", ("What", "Level", "Do", "Basis"), rows)


def noise_away(book: Book) -> Table:
    """Level further off, outdoors."""
    unit = book.pick("m", "ft")
    distances, levels = np.array(book.pick((1, 2, 4, 8, 16, 32), (3, 6, 12, 25, 50, 100)), float), np.array((75, 80, 85, 90, 95), float)
    values, why = compute(book.formulas["noise-at-distance"], {"level": levels[:, None], "measured-at": units.convert(distances[0], unit, "m"), "distance": units.convert(distances, unit, "m")[None, :]}, "dBA")
    return Table(
        "noise-away", "Put it further off", f"Level at a distance outdoors, for a turbine that measures so much at {book.pick('1 m', '3 ft')}.", Axis.of("At " + book.pick("1 m", "3 ft"), "dBA", levels), Axis.of("Away", unit, distances), frame(values), "dBA",
        Rounding("up", 1), book.system, reasons=frame(why), formulas=("noise-at-distance",), notes=("Indoors walls send it back: put it in another room.",),
    )


BUILDERS = {
    "room-vapour": Builder(room_vapour, per="coating"),
    "clearing": Builder(clearing, twins=False),
    "clearance": Builder(clearance, twins=False),
    "air-needed": Builder(air_needed),
    "noise-time": Builder(noise_time, twins=False),
    "noise-limits": Builder(noise_limits, twins=False),
    "noise-away": Builder(noise_away),
}
