"""Charts that compute: graduated lines for one kit or one paint, made from the declared formulas. Lay an edge and read.

A chart that reads coarser than the table it stands beside is not printed: its builder gives the reason in its place.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import numpy as np

from generators import units
from generators.edge import Barred, EdgeChart, Mark, Rule
from generators.studies.edge import Grid, Ladder, Line, Parallel, clock_values, round_values
from generators.table import TextTable
from generators.tables.book import Book, Builder, compute, first_paint, no_figures, stop_words
from generators.tables.coating import lasts
from generators.tables.film import most_thinner
from generators.tables.gun import PATTERNS
from generators.tables.mix import sprayable
from generators.tables.sweep import day_of, situation_of

WIDE, HIGH = 116.0, 82.0  # mm: half of an A5 sheet, and a pocket page with its title, on its side
TOP, FOOT, LEFT, RIGHT = 12.4, 3.0, 17.0, 19.0
_FIGURES, _STROKES, _LINES = 4.8, 1.2, 1.0  # mm between figures, between strokes, between the lines of a grid
GO, BACK = 1, -1


def _marks(line: Line, low: float, high: float, height: float, top: float, strokes: float = _STROKES, clock: bool = False) -> tuple[Mark, ...]:
    cut = clock_values if clock else round_values
    named = cut(line, low, high, _FIGURES)
    figures = {value: f"{value // 60:.0f}:{value % 60:02.0f}" if clock else f"{value:g}".replace("-", "−") for value in named}
    return tuple(Mark(round(top + height - float(line.place(value)), 3), value, figures.get(value, "")) for value in sorted({*cut(line, low, high, strokes), *named}))


def _upright(name: str, head: Sequence[str], line: Line, stands: float, side: int, ends: tuple[float, float], clock: bool = False) -> Rule:
    height = HIGH - TOP - FOOT
    places = [TOP + height - float(line.place(end)) for end in ends]
    return Rule(name, tuple(head), round(stands, 3), round(min(places), 3), round(max(places), 3), _marks(line, *ends, height, TOP, clock=clock), side)


def _barred(line: Line, stands: float, ends: tuple[float, float], word: str, side: int) -> Barred:
    """A hatched strip beside an upright line, with its word along it where it is long enough."""
    a, b = sorted(TOP + (HIGH - TOP - FOOT) - float(line.place(end)) for end in ends)
    out = stands + 4.6 * side
    said = next((one for one in (word, word.rpartition(" ")[2]) if b - a > 1.8 * len(one)), "no" if b - a > 4 else "")
    return Barred(((stands, a), (out, a), (out, b), (stands, b)), said, ((stands + out) / 2, (a + b) / 2), turned=True)


def _figure(value: float) -> float:
    """An error, up to two significant figures."""
    if value <= 0:
        return 0.0
    digits = 10 ** (math.floor(math.log10(value)) - 1)
    return round(math.ceil(value / digits - 1e-9) * digits, 6)


def _coarse(name: str, title: str, error: float, bar: float, unit: str) -> TextTable:
    return no_figures(name, title, f"Not drawn: it would read to {error:g} {unit}, coarser than its table's {bar:g}. Use the table.")


def _three(book: Book, name: str, title: str, caption: str, chart: Parallel, heads: tuple[Sequence[str], Sequence[str], Sequence[str]], names: tuple[str, str, str],
           example: tuple[float, float], bar: float, unit: str, take: str, how: tuple[str, ...], formulas: tuple[str, ...],
           barred: Sequence[tuple[int, tuple[float, float], str]] = (), keep: Callable[[Any, Any, Any], Any] | None = None, second: tuple[str, Sequence[str], Callable[[Any], Any]] | None = None,
           notes: tuple[str, ...] = ()) -> EdgeChart | TextTable:
    """Three upright lines as they are printed. `barred` are (line 0 to 2, ends, word); `second` graduates the middle line's left side too: (name, head, shown of answer)."""
    error = _figure(chart.error(keep))
    if error > bar:
        return _coarse(name, title, error, bar, unit)
    height = HIGH - TOP - FOOT
    first, other, answers = chart.lines
    stands = (LEFT, LEFT + chart.width, LEFT + chart.middle)
    low, high = chart.ends
    rules = [_upright(names[0], heads[0], first, stands[0], BACK, chart.x), _upright(names[1], heads[1], other, stands[1], GO, chart.y), _upright(names[2], heads[2], answers, stands[2], GO, (low, high))]
    if second:  # beside what is barred the other side says nothing
        low = max([low, *(ends[1] for line, ends, _ in barred if line == 2 and ends[1] < high)])
        shown = Line(second[2](answers.values), answers.places)
        rules.append(_upright(second[0], second[1], shown, stands[2], BACK, (float(second[2](low)), float(second[2](high)))))
    x, y = (min(max(value, least), most) for value, (least, most) in zip(example, (chart.x, chart.y), strict=True))  # a paint whose line ends before the usual example
    worked = tuple((round(at, 3), round(TOP + height - float(place), 3)) for at, place in ((stands[0], first.place(x)), (stands[2], answers.place(chart.law(x, y))), (stands[1], other.place(y))))
    sides, reach = (GO, BACK, BACK), (chart.x, chart.y, chart.ends)
    hatched = tuple(_barred((first, other, answers)[line], stands[line], (max(a, reach[line][0]), min(b, reach[line][1])), word, sides[line])
                    for line, (a, b), word in barred if min(b, reach[line][1]) > max(a, reach[line][0]))
    said = f"Three upright lines: {heads[0][0]} on the left, {heads[1][0]} on the right, {heads[2][0]} between them. The worked line joins {x:.3g} and {y:.3g}."
    return EdgeChart(name, title, caption, said, WIDE, HIGH, tuple(rules), worked, how, take, error, bar, unit, barred=hatched, formulas=formulas, notes=notes, off=book.pick("0.3 mm", "0.012 in"))


def dew_edge(book: Book, coating: str = "") -> EdgeChart | TextTable:
    """Coldest surface for one paint, from air and humidity: the dew point's line graduated once more with the paint's margin on top."""
    slug = coating or first_paint(book)
    tin, unit = book.facts.coatings[slug], book.pick("°C", "°F")
    title = f"Coldest surface: {tin.name}"
    if tin.stops:
        return no_figures("dew-edge", title, stop_words(book, tin))
    law = book.formulas["dew-point"]
    least, more = tin.air_min.to(unit), margin_needed(book, slug)

    def surface(humidity: Any, air: Any) -> Any:
        return units.convert(law.column({"air-temperature": units.convert(np.asarray(air, float), unit, "°C"), "relative-humidity": humidity}), "°C", unit) + more

    airs = book.pick((0.0, 40.0), (32.0, 104.0))
    low = math.ceil(book.pick(-5.0, 24.0) + more)
    chart = Parallel(surface, (30.0, 99.0), airs, WIDE - LEFT - RIGHT, HIGH - TOP - FOOT, answers=(low, math.floor(float(surface(95.0, airs[1])))))
    warm = tin.air_max.to(unit)
    damp = tin.humidity_max.to("%")
    return _three(
        book, f"dew-edge-{slug}", title, f"{more:.3g} {unit} over the dew point is what this paint needs, and never a surface under {least:g} {unit}.", chart,
        (("humidity", "%"), ("air", unit), ("SURFACE", f"at least {unit}")), ("relative-humidity", "air-temperature", "lowest-surface"), book.pick((60.0, 20.0), (60.0, 68.0)),
        book.pick(0.5, 1.0), unit, "Between two marks, take the warmer one.", ("Lay the edge from today's humidity to the air.", "Where it crosses the middle line: the coldest surface you may spray.", "Measure the surface at its coldest place."),
        ("dew-point",), ((2, (low, least), f"under {least:g}: never"), (0, (damp, 99.0), "too damp"), (1, (airs[0], least), "too cold"), (1, (warm, airs[1]), "too hot")),
        keep=lambda humidity, air, true: (humidity <= damp) & (air >= least) & (air <= warm),
        second=("dew-point", ("dew point", unit), lambda value: value - more))


def _fact(book: Book, slug: str, name: str) -> float:
    """A number that the chain holds of a paint, in the chain's unit."""
    day = day_of(book)
    told = day.facts_of(situation_of(book, {"coating": slug}))[name].value
    return float(told[1] if isinstance(told, tuple) else told)  # type: ignore[arg-type]


def margin_needed(book: Book, slug: str) -> float:
    """What a paint needs over the dew point, in this book's degrees."""
    return float(units.convert(_fact(book, slug, "coating.margin_needed"), "Δ°C", book.pick("Δ°C", "Δ°F")))


def speed_edge(book: Book, kit: str) -> EdgeChart | TextTable:
    """Gun speed for one kit's flow and share, from wet film and step."""
    rig = book.facts.kits[kit]
    film, step, speed = book.pick(("µm", "mm", "m/s"), ("mil", "in", "in/s"))
    law = book.formulas["gun-speed"]

    def wanted(films: Any, steps: Any) -> Any:
        films, steps = np.broadcast_arrays(np.asarray(films, float), np.asarray(steps, float))
        return compute(law, {"flow": rig.flow.to("mL/min"), "transfer-efficiency": rig.transfer_efficiency.to("%"), "wet-film": films, "stroke-spacing": steps}, speed, {"wet-film": film, "stroke-spacing": step})[0]

    films, steps = book.pick(((40.0, 160.0), (50.0, 200.0)), ((1.5, 6.0), (2.0, 8.0)))
    middle = (rig.near.to("mm") + rig.far.to("mm")) / 2
    width = book.formulas["fan-width"].work({"distance": middle, "fan-angle": rig.fan_angle.to("deg")}).value
    usual = units.convert(book.formulas["stroke-spacing"].work({"fan-width": width, "half-height-share": PATTERNS[rig.pattern][1]}).value, "mm", step)
    usual = float(np.clip(round(usual / book.pick(5, 0.25)) * book.pick(5, 0.25), *steps))
    most = units.convert(book.facts.value("limits.reach_speed_max").to("m/s"), "m/s", speed)
    low, high = book.pick((0.05, 1.0), (2.0, 40.0))
    chart = Parallel(wanted, films, steps, WIDE - LEFT - RIGHT, HIGH - TOP - FOOT, answers=(low, high))
    return _three(
        book, f"speed-edge-{kit}", f"Gun speed: {rig.name}", f"For {book.said(rig.flow)} of which {rig.transfer_efficiency.value:g} % lands. Weigh your own flow: another flow is another chart.", chart,
        (("wet film", film), ("step", step), ("SPEED", speed)), ("wet-film", "stroke-spacing", "gun-speed"), (book.pick(80.0, 3.0), usual), book.pick(0.01, 0.5), speed,
        "Take the nearest mark, and comb the first panel.", ("Lay the edge from the wet film you want to your step.", "Where it crosses the middle line: the speed of the gun."), ("gun-speed",),
        ((2, (most, high), "too fast"),), keep=lambda _films, _steps, true: true <= most)


def drying_edge(book: Book, coating: str = "") -> EdgeChart | TextTable:
    """Hours to the next coat of one water paint, from air and humidity; × times the data sheet's hours on the other side of the same line."""
    water = [slug for slug, tin in book.facts.coatings.items() if not tin.stops and book.facts.classes[tin.class_key].family in ("waterborne", "mineral")]
    slug = coating or (water[0] if water else "")
    if not slug:
        return no_figures("drying-edge", "Next coat", "No paint of this handbook dries by losing water.")
    tin, unit = book.facts.coatings[slug], book.pick("°C", "°F")
    title = f"Hours to the next coat: {tin.name}"
    if tin.stops:
        return no_figures("drying-edge", title, stop_words(book, tin))
    if slug not in water:
        return no_figures("drying-edge", title, "Not a paint that dries by losing water: its table asks for the air alone.")
    hours, law = tin.recoat_after.to("h"), book.formulas["drying-stretch"]

    def wait(humidity: Any, air: Any) -> Any:
        humidity, air = np.broadcast_arrays(np.asarray(humidity, float), units.convert(np.asarray(air, float), unit, "°C"))
        return hours * law.column({"air-temperature": air, "relative-humidity": humidity})

    cold, warm, damp = tin.air_min.to(unit), tin.air_max.to(unit), tin.humidity_max.to("%")
    chart = Parallel(wait, (40.0, min(damp, 85.0)), (cold, warm), WIDE - LEFT - RIGHT, HIGH - TOP - FOOT, answers=(hours * 0.5, hours * 3.0), fitted=True)
    return _three(
        book, f"drying-edge-{slug}", title, f"The data sheet says {hours:g} h at {book.pick('23 °C', '73 °F')} and 50 %, and it is never less than that.", chart,
        (("humidity", "%"), ("air", unit), ("NEXT COAT", "h")), ("relative-humidity", "air-temperature", "coat-wait"), book.pick((75.0, 15.0), (75.0, 59.0)), 0.5, "h",
        "Between two marks, take the longer one.", ("Lay the edge from the humidity to the air.", "Where it crosses the middle line: hours to the next coat.", "Touch it in a corner first."), ("drying-stretch", "stretched-wait"),
        ((2, (hours * 0.5, hours), f"take {hours:g}"),), keep=lambda humidity, air, true: true >= hours,
        second=("stretch", ("times", "sheet"), lambda value: value / hours), notes=("Water leaving in still air.",))


def film_edge(book: Book, coating: str = "") -> EdgeChart | TextTable:
    """Wet film of one paint, from the dry film wanted and the thinner in it."""
    slug = coating or first_paint(book)
    tin, film = book.facts.coatings[slug], book.pick("µm", "mil")
    title = f"Wet film: {tin.name}"
    if tin.stops:
        return no_figures("film-edge", title, stop_words(book, tin))
    law, solids, own = book.formulas["wet-film"], tin.volume_solids.to("%"), tin.dry_film.to(film)
    label, most = tin.thinner_max.to("%"), most_thinner(book, slug)
    if most <= 0:
        return no_figures("film-edge", title, f"{'Its label' if label <= 0 else 'The law'} allows no thinner: one film, and the table gives it.")

    def wet(dry: Any, thinner: Any) -> Any:
        dry, thinner = np.broadcast_arrays(np.asarray(dry, float), np.asarray(thinner, float))
        return compute(law, {"dry-film": dry, "volume-solids": solids, "thinner": thinner}, film, {"dry-film": film})[0]

    low, high = round(own * 0.8, book.pick(0, 2)), round(own * 1.25, book.pick(0, 2))
    wall = max(20.0, label)
    chart = Parallel(wet, (low, high), (0.0, wall), WIDE - LEFT - RIGHT, HIGH - TOP - FOOT)
    return _three(
        book, f"film-edge-{slug}", title, f"{solids:g} % of it stays. The sheet's dry film is {own:.3g} {film}.", chart,
        (("dry film", film), ("thinner", "% of paint"), ("WET FILM", film)), ("dry-film", "thinner", "wet-film"), (own, round(most / 2)), book.pick(1.0, 0.1), film,
        "Between two marks, take the thicker one.", ("Lay the edge from the dry film to the thinner that is in it.", "Where it crosses the middle line: the wet film to look for."), ("wet-film",),
        ((1, (most, wall), f"past {'law' if most < label else 'label'}: never"),), keep=lambda _dry, thinner, _true: thinner <= most)


def life_edge(book: Book, coating: str) -> EdgeChart | TextTable:
    """Pot life of one two-pack over the warmth of the mix, and when it is out of the gun: read straight across."""
    tin, unit = book.facts.coatings[coating], book.pick("°C", "°F")
    title = f"Pot life: {tin.name}"
    if tin.stops or not tin.two_pack:
        return no_figures("life-edge", title, stop_words(book, tin) if tin.stops else "This is not a two-pack coating.")
    share, pot = float(book.facts.value("limits.clean_before_pot_life").to("%")) / 100, book.pick("1 L", "1 qt")
    ends = (float(math.ceil(tin.air_min.to(unit))), float(math.floor(tin.air_max.to(unit))))
    height = HIGH - TOP - FOOT
    ladders = [Ladder(lambda warm, answer=answer: lasts(book, coating, answer, pot, warm), ends, height) for answer in ("pot-life", "clean-after")]  # type: ignore[misc]
    error = _figure(max(one.error() for one in ladders))
    if error > 5.0:
        return _coarse("life-edge", title, error, 5.0, "min")
    rules, worked = [], []
    example = min(max(book.pick(26.0, 80.0), ends[0]), ends[1])
    for place, (ladder, head) in enumerate(zip(ladders, (("POT LIFE", "h:min"), ("CLEAN BY", "h:min")), strict=True)):
        stands = LEFT + 12 + place * 58
        side, answers = ladder.lines
        rules += [_upright(f"mix-{place}", ("mix", unit), side, stands, BACK, ends),
                  _upright(("pot-life", "clean-by")[place], head, answers, stands, GO, (float(answers.values[0]), float(answers.values[-1])), clock=True)]
        worked.append((stands, TOP + height - float(side.place(example))))
    return EdgeChart(
        f"life-edge-{coating}", title, f"Hours and minutes from mixing, {pot} in the pot: the short end of what is known. Out of the gun and clean by the second figure, {100 * share:g} % of the first.",
        f"Two upright lines. Each has the warmth of the mix on its left; the first has the pot life on its right, the second when it has to be out of the gun. The dots stand at {example:g} {unit}.",
        WIDE, HIGH, tuple(rules), tuple(worked), ("Find the warmth of the mix on the left of a line.", "Read what stands on its right."), "Between two marks, take the shorter time.", error, 5.0, "min",
        formulas=("pot-life-at", "clean-minutes"), notes=("A fuller pot warms itself and sets sooner: mix what you spray in half the time.",), off=book.pick("0.3 mm", "0.012 in"))


def walls(book: Book, slugs: Iterable[str]) -> list[tuple[str, float]]:
    """The most thinner that each paint takes, by the chain, down to a quarter of a per cent, and no further than a chart goes."""
    return [(slug, min(40.0, math.floor(4 * most_thinner(book, slug) + 1e-9) / 4)) for slug in slugs]


def thinner_grid(book: Book, kit: str, coatings: tuple[str, ...] | None = None, wide: float = WIDE, high: float = HIGH) -> EdgeChart | TextTable:
    """Two timings are two dots; an edge through them meets the kit's limit at the dose. Over it, how far each paint's label lets it go."""
    rig = book.facts.kits[kit]
    cup, limit = book.facts.cups[rig.limit.cup], float(rig.limit.seconds)
    law = book.formulas["cup-viscosity"]

    def viscosity(times: Any) -> Any:
        return law.column({"cup": cup.name, "time": np.asarray(times, float)})

    found = [(book.facts.coatings[slug].name, wall) for slug, wall in walls(book, coatings if coatings is not None else sprayable(book.facts))]
    last = max((wall for _, wall in found), default=10.0)
    most = min(25.0, max(15.0, 5 * math.ceil((last + 1) / 5)))  # a part past every wall, so that one sees it is one
    strip, top = 5.4, 5.5
    # One bar for each paint where there are few, else one for each maximum, and the paints' names under the chart.
    limits: dict[float, list[str]] = {}
    for name, wall in found:
        limits.setdefault(wall, []).append(name)
    told = {wall: f"To {wall:g} %: {', '.join(names)}." for wall, names in sorted(limits.items())}
    few = len(found) <= 6
    strips = sorted(((wall, f"{name}: {wall:g} %" if wall else f"{name}: no figure") for name, wall in found)) if few else [(wall, f"to {wall:g} %" if wall else "no figure") for wall in told]
    head = top + strip * len(strips) + 1.5
    right, foot, left = 5.0, 12.5, 18.0
    bottom = high - foot
    low, longest = max(cup.time_min, math.floor(limit * 0.85)), min(cup.time_max, max(100.0, limit * 2))
    grid = Grid(viscosity, (low, longest), most, wide - left - right, bottom - head)
    error = _figure(grid.error(limit))
    title = f"Thinner, dot by dot: {rig.name}"
    if error > 0.5:
        return _coarse("thinner-grid", title, error, 0.5, "%")
    line = grid.upright
    sideways = Line(np.array([0.0, most]), np.array([0.0, grid.width]))
    seconds = Rule("seconds", (f"seconds in {cup.label}",), left, head, bottom, _marks(line, low, longest, bottom - head, head, strokes=_LINES), BACK, reach=grid.width)
    across = Rule("thinner", ("thinner in all, % of paint",), bottom, left, left + grid.width,
                  tuple(Mark(round(left + float(sideways.place(value)), 3), value, f"{value:g}" if value % 5 == 0 else "") for value in np.arange(0, most + 0.25, 0.5)), GO, across=True, reach=bottom - head)
    barred, words = [], []
    past = left + float(sideways.place(min(last, most)))
    if last < most:
        word = "past its wall" if len(found) == 1 else "past every wall"
        barred.append(Barred(((past, head), (left + grid.width, head), (left + grid.width, bottom), (past, bottom)), word, ((past + left + grid.width) / 2, (head + bottom) / 2), turned=True))
    for place, (wall, said) in enumerate(strips):
        y = top + place * strip
        edge = left + float(sideways.place(min(wall, most)))
        if edge < left + grid.width:
            barred.append(Barred(((edge, y), (left + grid.width, y), (left + grid.width, y + strip - 0.8), (edge, y + strip - 0.8)), "", (edge, y)))
        inside = edge - left > grid.width / 2
        words.append(((left + 1.5 if inside else left + grid.width - 1.5, y + strip - 1.9), said, "start" if inside else "end"))
    wanted = head + (bottom - head) - float(line.place(limit))
    example = book.formulas["thinner-for-target"]
    first = min(round(limit * 1.9), math.floor(longest))  # no longer than the cup can be read
    given = {"cup": cup.name, "first-time": first, "trial-thinner": 5.0, "trial-time": round(limit + 0.39 * (first - limit)), "target-time": limit}
    dose = float(example.column(given))
    worked = tuple((round(left + float(grid.across(share)), 3), round(bottom - float(line.place(time)), 3)) for share, time in ((0.0, given["first-time"]), (5.0, given["trial-time"]), (dose, limit)))
    return EdgeChart(
        f"thinner-grid-{kit}", title, f"{rig.name} sprays at {limit:g} s in {cup.label} or less. The hatched end of a paint's bar is past its label or the law: a wall.",
        f"Seconds in {cup.label} upwards, thinner across. The worked line goes from {given['first-time']:g} s unthinned through {given['trial-time']:g} s after 5 % and meets {limit:g} s at {dose:.1f} %.",
        wide, high, (seconds, across), worked,
        (f"Dot 1: the time as supplied, at 0 %. All times in {cup.label}.", "Dot 2: the thinner that is in it now, and the time after it. Any size of dose; more dots are better.",
         f"Edge through the last two dots. Where it meets the heavy line ({limit:g} s), read down: thinner in all.", "Farther than twice the last dose? Pour half of the rest, time it, make a new dot."),
        "Between two marks, take the smaller dose.", error, 0.5, "%", barred=tuple(barred), strong=(((left, wanted), (left + grid.width, wanted), f"{limit:g} s: it sprays"),), words=tuple(words),
        formulas=("cup-viscosity", "thinner-for-target"), notes=("The error holds where the last dot is more than half way. Warm the paint first; the label's maximum comes before the line.", *(() if few else told.values())), off=book.pick("0.3 mm", "0.012 in"))


BUILDERS = {
    "thinner-grid": Builder(thinner_grid, per="kit", twins=False),
    "speed-edge": Builder(speed_edge, per="kit"),
    "dew-edge": Builder(dew_edge, per="coating"),
    "drying-edge": Builder(drying_edge, per="coating"),
    "film-edge": Builder(film_edge, per="coating"),
    "life-edge": Builder(life_edge, per="coating"),
}
