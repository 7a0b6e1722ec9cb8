"""Tables of air and surface."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from generators import units
from generators.chart import Chart, Line, Scale
from generators.studies import season
from generators.table import CARE, FINE, STOP, UNKNOWN, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, first_paint, frame, no_figures, stop_words
from generators.tables.sweep import OUTDOORS, Along, sweep, typed

HUMIDITIES = (30, 40, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95)


def _axes(book: Book) -> tuple[str, np.ndarray, np.ndarray]:
    airs = book.pick((5, 8, 10, 12, 15, 18, 20, 22, 25, 28, 30, 35), (40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95))
    return book.pick("°C", "°F"), np.array(airs, float), np.array(HUMIDITIES, float)


def dew_point(book: Book, kit: str | None = None) -> Table:
    """Dew point over air temperature and humidity, rounded up."""
    unit, airs, humidities = _axes(book)
    values, why = compute(book.formulas["dew-point"], {"air-temperature": airs[:, None], "relative-humidity": humidities[None, :]}, unit, {"air-temperature": unit})
    return Table(
        "dew-point", "Dew point", f"Dew point in {unit}: a surface this cold or colder sweats.",
        Axis.of("Air", unit, airs), Axis.of("Humidity", "%", humidities, " %"), frame(values), unit,
        Rounding("up", book.pick(0.5, 1)), book.system, reasons=frame(why), formulas=("dew-point",), lights=("dew-margin", "air-temperature", "relative-humidity"),
    )


def _along(book: Book) -> tuple[Along, Along]:
    unit, airs, humidities = _axes(book)
    return Along("air-temperature", airs, unit, "Air"), Along("relative-humidity", humidities, "%", "Humidity", " %")


CHECKED = "Check again every four hours, and before dusk."
WORDS = {FINE: "go", CARE: "take care", UNKNOWN: "not known", STOP: "wait"}


def refused(book: Book, coating: str) -> bool:
    """True where a hard stop closes every figure of a coating."""
    return bool(book.facts.coatings[coating].stops)


def dew_surface(book: Book, coating: str = "", kit: str | None = None) -> Table | TextTable:
    """Lowest surface temperature that a paint may have, over air and humidity, rounded up: its margin over the dew point, and never under its own coldest air."""
    slug = coating or first_paint(book)
    if refused(book, slug):
        return no_figures("dew-surface", "Lowest surface you may spray", stop_words(book, book.facts.coatings[slug]))
    tin, unit = book.facts.coatings[slug], book.pick("°C", "°F")
    rows, columns = _along(book)
    slack = book.facts.value("limits.surface_slack")
    return sweep(
        book, "dew-surface", f"Lowest surface you may spray: {tin.name}",
        f"Coldest surface, in {unit}, for {tin.name}: its margin over the dew point, and never colder than its own sheet allows. Measure the surface, not the air.",
        "lowest-surface", {"coating": slug, **OUTDOORS}, rows, columns, unit, Rounding("up", book.pick(0.5, 1)),
        {FINE: "a surface at air temperature passes", CARE: f"near an edge, or only a surface within {units.convert(slack.value, slack.unit, 'Δ' + unit):g} {unit} of the air passes", STOP: "stop: the air itself is out, or even a surface as warm as the air is too cold"},
        formulas=("dew-point", "warmer-by"), lights=("dew-margin", "air-temperature", "relative-humidity"), notes=(CHECKED,),
    )


COOLER = {"metric": (0.0, 2.0, 4.0, 6.0), "us": (0.0, 4.0, 7.0, 11.0)}


def go_or_wait(book: Book, coating: str, colder: float = 0.0) -> Table | TextTable:
    """Margin and verdict over air and humidity for one coating, with the surface so much colder than the air."""
    tin = book.facts.coatings[coating]
    if refused(book, coating):
        return no_figures("go-or-wait", f"Go or wait: {tin.name}", stop_words(book, tin))
    unit = book.pick("°C", "°F")
    rows, columns = _along(book)
    surface = rows.values - colder
    rows = replace(rows, more={"surface-temperature": (typed(surface, unit), units.convert(surface, unit, "°C"))})
    return sweep(
        book, "go-or-wait", f"Go or wait: {tin.name}",
        f"Margin over the dew point, {unit}, for a surface {'as warm as the air' if not colder else f'{colder:g} {unit} colder than the air'}, and what to do. Outdoors in still, dry air, on a sound surface, people and flames out.",
        "margin", {"coating": coating, **OUTDOORS}, rows, columns, "Δ" + unit, Rounding("down", book.pick(0.5, 1)), WORDS,
        formulas=("dew-margin", "drying-stretch"), notes=(CHECKED,),
    )


def dusk(book: Book, coating: str = "") -> Table | TextTable:
    """Margin now and after the surface cools, at one air temperature, over humidity."""
    slug = coating or first_paint(book)
    if refused(book, slug):
        return no_figures("dusk", "By dusk", stop_words(book, book.facts.coatings[slug]))
    unit = book.pick("°C", "°F")
    air = book.pick(15.0, 60.0)
    drops, humidities = np.array(COOLER[book.system]), np.array((45, 50, 55, 60, 65, 70, 75, 80, 85), float)
    table = sweep(
        book, "dusk", "By dusk", f"Margin over the dew point, {unit}, for {book.facts.coatings[slug].name} in air of {air:g} {unit}, when the surface cools towards the sky. The air cools too by night, and then humidity rises: read this afternoon's figure as the best of the night.",
        "margin", {"coating": slug, "air-temperature": f"{air:g} {unit}", **OUTDOORS}, Along("relative-humidity", humidities, "%", "Humidity now", " %"), Along("surface-temperature", (air - drops).tolist(), unit, "Surface"),
        "Δ" + unit, Rounding("down", book.pick(0.5, 1)), {FINE: "holds while the air stays this warm", CARE: "dry it before dusk", STOP: "it will sweat: do not start"}, formulas=("dew-margin",),
        notes=("Measured on clear, calm nights: a roof or a car top falls 3 to 8 °C under the air, a wall or fence about half of that; brick lags by hours." if book.metric
               else "Measured on clear, calm nights: a roof or a car top falls 5 to 14 °F under the air, a wall or fence about half of that; brick lags by hours.",),
    )
    return replace(table, columns=Axis.of("Surface colder than the air by", unit, drops))


def next_coat(book: Book, coating: str) -> Table | TextTable:
    """Hours to the next coat over air and humidity (water paint) or air alone (the others)."""
    tin = book.facts.coatings[coating]
    if refused(book, coating):
        return no_figures("next-coat", f"Next coat: {tin.name}", stop_words(book, tin))
    hours = tin.recoat_after.to("h")
    rows, columns = _along(book)
    water = book.facts.classes[tin.class_key].family in ("waterborne", "mineral")
    latest = f" No later than {tin.recoat_before.to('h'):g} h (sooner in warmth), or rub it down first." if tin.recoat_before else ""
    least = " Never less than that, however warm."
    words = {FINE: "near the data sheet", CARE: "slow: touch it first", STOP: "no wait to trust: better air first"}
    caption = f"Hours to the next coat. The data sheet says {hours:g} h at {book.pick('23 °C', '73 °F')}{' and 50 %' if water else ''}.{least}{latest}"
    base = {"coating": coating, **OUTDOORS}
    if not water:
        base["relative-humidity"] = "50 %"
    return sweep(book, "next-coat", f"Next coat: {tin.name}", caption, "coat-wait", base, rows, columns if water else None, "h", Rounding("up", 0.5), words,
                 formulas=("drying-stretch" if water else "cure-stretch", "stretched-wait"), heads=("hours",),
                 notes=("Water leaving in still air. Touch it in a corner before you trust a clock." if water else
                        f"Solvent paint, oil and two-pack cure by reaction: roughly twice as long for each {book.pick('10 °C', '18 °F')} colder. Humidity counts for little.",))


MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December")


def needs(book: Book) -> dict[str, season.Need]:
    """What an hour must offer outdoors, for water paint and for solvent paint."""
    low, high = (book.facts.value(f"limits.air_{key}").to("°C") for key in ("min", "max"))
    wind = book.facts.value("limits.wind_go").to("m/s")
    return {
        "waterborne": season.Need(low + 1, high, 80.0, book.facts.value("limits.dew_margin_waterborne").to("Δ°C"), wind),
        "solvent": season.Need(low, high, 85.0, book.facts.value("limits.dew_margin_min").to("Δ°C"), wind),
    }


def _fit(book: Book, family: str) -> tuple[Any, Any]:
    year = next(iter(book.facts.weather.values()))
    dew = book.formulas["dew-point"]
    fit = season.fit_hours(year, needs(book)[family], lambda air, humidity: dew.column({"air-temperature": air, "relative-humidity": humidity}))
    return year, fit


def fit_hours(book: Book, family: str = "waterborne") -> Table | TextTable:
    """Share of hours fit to spray outdoors, month by hour, in the first year of weather in site_data/weather."""
    if not book.facts.weather:
        return TextTable("fit-hours", "Hours fit to spray", "No year of weather lies in site_data/weather.", ("Weather",), (("none",),))
    year, fit = _fit(book, family)
    shares = 100 * season.by_month_and_hour(year, fit)
    need = needs(book)[family]
    zones = np.where(np.isnan(shares), "", np.where(shares >= 60, FINE, np.where(shares >= 25, CARE, STOP)))
    unit = book.pick("°C", "°F")
    coldest, warmest = units.said(units.convert(need.air_min, "°C", unit), unit, "up"), units.said(units.convert(need.air_max, "°C", unit), unit, "down")
    return Table(
        "fit-hours", f"Hours fit to spray outdoors: {family}", f"{year.place}. Of a hundred such hours, how many are fit: air {coldest.split()[0]} to {warmest}, "
        f"humidity to {need.humidity_max:g} %, margin {units.convert(need.margin, 'Δ°C', 'Δ' + unit):.3g} {unit} for a surface a little colder than the air, wind to {units.convert(need.wind_max, 'm/s', book.pick('m/s', 'mph')):.3g} {book.pick('m/s', 'mph')}.",
        Axis("Month", "", MONTHS), Axis("Hour of the day", "", tuple(f"{hour}" for hour in season.HOURS)), frame(shares), "%", Rounding("down", 1), book.system, zones=frame(zones),
        reasons=frame(np.full(shares.shape, "the file has no such hour")), zone_words={FINE: "likely", CARE: "by luck", STOP: "plan indoor work"}, formulas=("dew-point",),
        notes=("Rain, sun on the surface and frost at night are not in it.",),
    )


def season_chart(book: Book) -> Any:
    """Fit hours a working day, month by month, for water and solvent paint."""
    if not book.facts.weather:
        return TextTable("season", "The season", "No year of weather lies in site_data/weather.", ("Weather",), (("none",),))
    lines, said = [], []
    x = tuple(float(month) for month in range(1, 13))
    for family, strong, at in (("waterborne", True, 0.3), ("solvent", False, 0.55)):
        year, fit = _fit(book, family)
        daily = np.nansum(season.by_month_and_hour(year, fit), axis=1)
        lines.append(Line(family, x, tuple(daily.tolist()), strong=strong, at=at))
        best = int(np.argmax(daily))
        said.append(f"{family}: from {daily.min():.1f} hours a day at worst to {daily.max():.1f} in {MONTHS[best]}")
    return Chart(
        "season", "Hours a working day", f"{year.place}. Hours between 6 and 20 o'clock fit to spray outdoors, mean of each month.", "Fit hours a day by month. " + "; ".join(said) + ".",
        Scale("Month", "", 1, 12, (1, 3, 5, 7, 9, 11)), Scale("Hours a day", "", 0, 15, (0, 3, 6, 9, 12, 15)), lines=tuple(lines),
    )


def drift_distance(book: Book) -> Table:
    """Distance a droplet drifts before it lands, by size and wind."""
    unit, wind = book.pick("m", "ft"), book.pick("m/s", "mph")
    size = book.pick("µm", "mil")
    sizes = np.array(book.pick((10, 15, 20, 30, 40, 50, 60, 80), (0.4, 0.6, 0.8, 1.2, 1.6, 2, 2.4, 3)), float)
    winds = np.array(book.pick((0.5, 1, 2, 3, 4, 6), (1, 2, 4, 6, 8, 12)), float)
    height = book.pick(1.5, 5.0)
    speed, why = compute(book.formulas["settling-speed"], {"droplet-diameter": sizes, "density": 1000.0}, "mm/s", {"droplet-diameter": size})
    values, _ = compute(book.formulas["drift-distance"], {"settling-speed": speed[:, None], "height": height, "wind": winds[None, :]}, unit, {"height": unit, "wind": wind})
    metres = units.convert(values, unit, "m")
    zones = np.where(np.isnan(values), "", np.where(metres <= book.facts.value("limits.drift_act").to("m"), CARE, STOP))
    return Table(
        "drift-distance", "How far mist drifts", f"Distance down the wind, {unit}, for a droplet from {height:g} {unit} up.", Axis.of("Droplet", size, sizes), Axis.of("Wind", wind, winds), frame(values), unit,
        Rounding("up", 1), book.system, zones=frame(zones), reasons=frame(np.repeat(why[:, None], len(winds), axis=1)), formulas=("settling-speed", "drift-distance"),
        zone_words={CARE: "lands within a car's length: sheet it", STOP: "travels on: whatever is down the wind gets it"},
        notes=("Droplets do not shrink in this table. Gusts carry further. Never read it as a safe distance.",),
    )


def drift_height(book: Book) -> Table:
    """Distance a droplet drifts before it lands, by size and the height it starts from, at the wind for work near cars."""
    unit = book.pick("m", "ft")
    wind = book.facts.value("limits.wind_max_near_cars").to("m/s")
    size = book.pick("µm", "mil")
    sizes = np.array(book.pick((20, 30, 40, 50, 60), (0.8, 1.2, 1.6, 2, 2.4)), float)
    heights = np.array(book.pick((0.5, 1, 1.5, 2, 2.5, 3), (1, 3, 5, 6, 8, 10)), float)
    speed, why = compute(book.formulas["settling-speed"], {"droplet-diameter": sizes, "density": 1000.0}, "mm/s", {"droplet-diameter": size})
    values, _ = compute(book.formulas["drift-distance"], {"settling-speed": speed[:, None], "height": heights[None, :], "wind": wind}, unit, {"height": unit})
    return Table(
        "drift-height", "The higher, the further", f"Distance down the wind, {unit}, at {units.convert(wind, 'm/s', book.pick('m/s', 'mph')):.2g} {book.pick('m/s', 'mph')}, by the height the mist starts from.",
        Axis.of("Droplet", size, sizes), Axis.of("From a height of", unit, heights), frame(values), unit, Rounding("up", 1), book.system,
        reasons=frame(np.repeat(why[:, None], len(heights), axis=1)), formulas=("settling-speed", "drift-distance"), notes=("Never read it as a safe distance.",),
    )


def drift_dust(book: Book) -> Table:
    """Time to fall against the time the water lasts."""
    size = book.pick("µm", "mil")
    sizes = np.array(book.pick((10, 15, 20, 30, 40, 50, 60, 80), (0.4, 0.6, 0.8, 1.2, 1.6, 2, 2.4, 3)), float)
    speed, why = compute(book.formulas["settling-speed"], {"droplet-diameter": sizes, "density": 1000.0}, "mm/s", {"droplet-diameter": size})
    fall = book.pick(1500.0, 1524.0) / speed
    summer, winter = (compute(book.formulas["water-life"], {"droplet-diameter": sizes, "air-temperature": air, "relative-humidity": humidity}, "s", {"droplet-diameter": size})[0] for air, humidity in ((20.0, 50.0), (10.0, 80.0)))
    body = np.stack([fall, summer, winter], axis=1)
    zones = np.array([["", FINE if s < f else CARE, FINE if w < f else CARE] for f, s, w in body], dtype=object)
    return Table(
        "drift-dust", "Dust or sticky?", f"Seconds to fall {book.pick('1.5 m', '5 ft')}, and seconds until the water is gone from a droplet of water paint.", Axis.of("Droplet", size, sizes),
        Axis("", "", ("falls in, s", book.pick("water gone at 20 °C 50 %, s", "water gone at 68 °F 50 %, s"), book.pick("at 10 °C 80 %, s", "at 50 °F 80 %, s"))), frame(body), "s", Rounding("up", 0.1), book.system,
        zones=frame(zones), zone_words={FINE: "dust before it lands", CARE: "still sticky when it lands"}, reasons=frame(np.repeat(why[:, None], 3, axis=1)), formulas=("settling-speed", "water-life"),
        notes=("Solvent paint and oil stay sticky for minutes: the mist that is paid for.",),
    )


BUILDERS = {
    "dew-point": Builder(dew_point),
    "dew-surface": Builder(dew_surface),
    "go-or-wait": Builder(go_or_wait, per="coating"),
    "dusk": Builder(dusk),
    "next-coat": Builder(next_coat, per="coating"),
    "fit-hours": Builder(fit_hours),
    "season": Builder(season_chart, twins=False),
    "drift-distance": Builder(drift_distance),
    "drift-height": Builder(drift_height),
    "drift-dust": Builder(drift_dust, twins=False),
}
