"""Tables of air and surface."""

from __future__ import annotations

from typing import Any

import numpy as np

from generators import units
from generators.chart import Chart, Line, Scale
from generators.studies import season
from generators.table import CARE, FINE, STOP, Axis, Rounding, Table, TextTable
from generators.tables.book import Book, Builder, compute, frame, heads, no_figures, stop_words

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
        Axis("Air", unit, heads(airs)), Axis("Humidity", "%", heads(humidities, " %")), frame(values), unit,
        Rounding("up", book.pick(0.5, 1)), book.system, reasons=frame(why), formulas=("dew-point",), lights=("dew-margin", "air-temperature", "relative-humidity"),
    )


def dew_surface(book: Book, kit: str | None = None, margin: str = "limits.dew_margin_min") -> Table:
    """Lowest surface temperature that keeps the margin over the dew point, rounded up."""
    unit, airs, humidities = _axes(book)
    wanted = book.facts.value(margin)
    step = units.convert(wanted.value, wanted.unit, "Δ" + unit)
    values, why = compute(book.formulas["dew-point"], {"air-temperature": airs[:, None], "relative-humidity": humidities[None, :]}, unit, {"air-temperature": unit})
    lowest = values + step
    room = airs[:, None] - lowest  # how much colder than the air the surface may be
    slack = book.pick(2.0, 3.6)
    zones = np.where(np.isnan(lowest), "", np.where(room < 0, STOP, np.where(room < slack, CARE, FINE)))
    return Table(
        "dew-surface", "Lowest surface you may spray",
        f"Coldest surface, in {unit}, that stays {Rounding('nearest', 0.1)(step):g} {unit} above the dew point. Measure the surface, not the air.",
        Axis("Air", unit, heads(airs)), Axis("Humidity", "%", heads(humidities, " %")), frame(lowest), unit,
        Rounding("up", book.pick(0.5, 1)), book.system, zones=frame(zones), reasons=frame(why),
        zone_words={FINE: "a surface at air temperature passes", CARE: f"passes only if the surface is within {slack:g} {unit} of the air",
                    STOP: "stop: even a surface as warm as the air is too close"},
        formulas=("dew-point",), lights=("dew-margin", "air-temperature", "relative-humidity"), notes=("The margin must hold and not be falling: check again every four hours, and before dusk.",),
    )


COOLER = {"metric": (0.0, 2.0, 4.0, 6.0), "us": (0.0, 4.0, 7.0, 11.0)}
WORDS = {FINE: "go", CARE: "take care", STOP: "wait"}


def margin_needed(book: Book, coating: Any) -> Any:
    """The margin a coating needs, by its class: lacquer and shellac most, waterborne left overnight more, others the least."""
    if coating.class_key.startswith("shellac"):
        return book.facts.value("limits.dew_margin_lacquer")
    family = book.facts.classes[coating.class_key].family
    return book.facts.value("limits.dew_margin_waterborne" if family == "waterborne" else "limits.dew_margin_min")


def verdict(book: Book, coating: Any, air: Any, humidity: Any, surface: Any, errors: tuple[float, float, float] = (0.0, 0.0, 0.0)) -> tuple[Any, Any, Any]:
    """(zones, reasons, margins Δ°C) for arrays of air °C, humidity % and surface °C. `errors`: humidity %, air Δ°C, surface Δ°C.

    Stop: out of the data sheet's air and humidity, or under the least margin. Care: under the margin its class needs, near
    the edge of the air window, or, for water paint, drying past the limit. Worse air or a colder surface never loosens it.
    """
    air, humidity, surface = np.broadcast_arrays(np.asarray(air, float), np.asarray(humidity, float), np.asarray(surface, float))
    margin = book.formulas["worst-dew-margin"].column({"surface-temperature": surface, "air-temperature": air, "relative-humidity": humidity,
                                                       "humidity-error": errors[0], "air-error": errors[1], "surface-error": errors[2]})
    least, needed = book.facts.value("limits.dew_margin_min").to("Δ°C"), margin_needed(book, coating).to("Δ°C")
    # What the instruments may hide counts against the windows as well as against the margin.
    low, high = coating.air_min.to("°C") + errors[1], coating.air_max.to("°C") - errors[1]
    wettest, cold = coating.humidity_max.to("%") - errors[0], coating.air_min.to("°C") + errors[2]
    water = book.facts.classes[coating.class_key].family == "waterborne"
    slow = book.formulas["drying-stretch"].column({"air-temperature": air - errors[1], "relative-humidity": np.minimum(humidity + errors[0], 97.0)}) if water else np.zeros_like(air)
    slowest = book.facts.value("limits.drying_factor_max").value
    unit = book.pick("°C", "°F")

    def apart(degrees: float) -> str:
        return f"{units.convert(degrees, 'Δ°C', 'Δ' + unit):.2g} {unit}"

    tests = (  # worst first: the first that holds speaks
        (np.isnan(margin), STOP, "no margin can be worked from these readings"),
        (margin < least, STOP, f"surface under {apart(least)} over the dew point"),
        ((air < low) | (surface < cold), STOP, "colder than the data sheet allows"),
        ((air > high) | (surface > high + 10 - errors[2]), STOP, "hotter than the data sheet allows"),
        (humidity > wettest, STOP, "damper than the data sheet allows"),
        (margin < needed, CARE, f"under the {apart(needed)} that its kind needs when it is left"),
        (np.isnan(slow) | (slow > slowest), CARE, f"water dries more than {slowest:g} times slower than the data sheet says"),
        ((air < low + 2) | (air > high - 2), CARE, f"within {apart(2)} of the data sheet's air"),
        (surface > high, CARE, "the surface is hotter than the air it is meant for"),
    )
    zones = np.select([test for test, _, _ in tests], [zone for _, zone, _ in tests], FINE)
    reasons = np.select([test for test, _, _ in tests], [reason for _, _, reason in tests], "")
    return zones, reasons, margin


def go_or_wait(book: Book, coating: str, colder: float = 0.0) -> Table | TextTable:
    """Margin and verdict over air and humidity for one coating, with the surface so much colder than the air."""
    tin = book.facts.coatings[coating]
    if tin.stops:
        return no_figures("go-or-wait", f"Go or wait: {tin.name}", stop_words(book, tin))
    unit, airs, humidities = _axes(book)
    air = units.convert(airs, unit, "°C")[:, None]
    drop = units.convert(colder, "Δ" + unit, "Δ°C")
    zones, reasons, margin = verdict(book, tin, air, humidities[None, :], air - drop)
    said = [f"{WORDS[zone]}: {reason}" for zone in (STOP, CARE) for reason in dict.fromkeys(reasons[zones == zone].tolist()) if reason]
    return Table(
        "go-or-wait", f"Go or wait: {tin.name}",
        f"Margin over the dew point, {unit}, for a surface {'as warm as the air' if not colder else f'{colder:g} {unit} colder than the air'}, and what to do.",
        Axis("Air", unit, heads(airs)), Axis("Humidity", "%", heads(humidities, " %")), frame(units.convert(margin, "Δ°C", "Δ" + unit)), unit, Rounding("down", book.pick(0.5, 1)), book.system,
        zones=frame(zones), zone_words=WORDS, reasons=frame(np.where(np.isnan(margin), "no margin can be worked from these readings", "")),
        formulas=("worst-dew-margin", "drying-stretch"), notes=(*(f"{text[0].upper()}{text[1:]}." for text in said), "Check again every four hours, and before dusk."),
    )


def dusk(book: Book) -> Table:
    """Margin now and after the surface cools, at one air temperature, over humidity."""
    unit = book.pick("°C", "°F")
    air = book.pick(15.0, 60.0)
    inside = units.convert(air, unit, "°C")
    drops = np.array(COOLER[book.system])
    humidities = np.array((45, 50, 55, 60, 65, 70, 75, 80, 85), float)
    values, why = compute(book.formulas["dew-margin"], {
        "surface-temperature": inside - units.convert(drops, "Δ" + unit, "Δ°C")[None, :], "air-temperature": inside, "relative-humidity": humidities[:, None]}, "Δ" + unit)
    least, overnight = (book.facts.value(f"limits.dew_margin_{key}").to("Δ" + unit) for key in ("min", "waterborne"))
    zones = np.where(np.isnan(values), "", np.where(values < least, STOP, np.where(values < overnight, CARE, FINE)))
    return Table(
        "dusk", "By dusk", f"Margin over the dew point, {unit}, in air that stays at {air:g} {unit}, when the surface cools towards the sky.",
        Axis("Humidity now", "%", heads(humidities, " %")), Axis("Surface colder than the air by", unit, heads(drops)), frame(values), unit, Rounding("down", book.pick(0.5, 1)), book.system,
        zones=frame(zones), zone_words={FINE: "holds overnight", CARE: "dry it before dusk", STOP: "it will sweat: do not start"}, reasons=frame(why), formulas=("dew-margin",),
        notes=("A roof, a fence or a car under a clear sky falls 2 to 6 °C below the air." if book.metric else "A roof, a fence or a car under a clear sky falls 4 to 11 °F below the air.",),
    )


def next_coat(book: Book, coating: str) -> Table | TextTable:
    """Hours to the next coat over air and humidity (water paint) or air alone (the others)."""
    tin = book.facts.coatings[coating]
    if tin.stops:
        return no_figures("next-coat", f"Next coat: {tin.name}", stop_words(book, tin))
    unit, airs, humidities = _axes(book)
    low, high = (getattr(tin, key).to(unit) for key in ("air_min", "air_max"))
    hours = tin.recoat_after.to("h")
    cold = (airs < low - 1e-9) | (airs > high + 1e-9)
    outside = np.where(airs < low, "colder than the data sheet allows: no wait helps", "hotter than the data sheet allows")
    latest = f" No later than {tin.recoat_before.to('h'):g} h, or rub it down first." if tin.recoat_before else ""
    if book.facts.classes[tin.class_key].family == "waterborne":
        stretch, why = compute(book.formulas["drying-stretch"], {"air-temperature": airs[:, None], "relative-humidity": humidities[None, :]}, "×", {"air-temperature": unit})
        slowest = book.facts.value("limits.drying_factor_max").value
        wet = np.broadcast_to(humidities[None, :] > tin.humidity_max.to("%") + 1e-9, stretch.shape)
        shut = cold[:, None] | wet
        values = np.where(shut, np.nan, stretch * hours)
        told = np.where(cold[:, None], outside[:, None], np.where(wet, "damper than the data sheet allows", why))
        zones = np.where(np.isnan(values), "", np.where(stretch <= 1.5, FINE, np.where(stretch <= slowest, CARE, STOP)))
        return Table(
            "next-coat", f"Next coat: {tin.name}", f"Hours to the next coat. The data sheet says {hours:g} h at 23 °C and 50 %.{latest}", Axis("Air", unit, heads(airs)), Axis("Humidity", "%", heads(humidities, " %")),
            frame(values), "h", Rounding("up", 0.5), book.system, zones=frame(zones), reasons=frame(told), formulas=("drying-stretch",),
            zone_words={FINE: "near the data sheet", CARE: "slow: touch it first", STOP: f"more than {slowest:g} times slower: wait for better air"},
            notes=("Water leaving in still air. Touch it in a corner before you trust a clock.",),
        )
    stretch, why = compute(book.formulas["cure-stretch"], {"air-temperature": airs}, "×", {"air-temperature": unit})
    values = np.where(cold, np.nan, stretch * hours)[:, None]
    zones = np.where(np.isnan(values), "", np.where(values <= 1.5 * hours, FINE, CARE))
    return Table(
        "next-coat", f"Next coat: {tin.name}", f"Hours to the next coat. The data sheet says {hours:g} h at 23 °C.{latest}", Axis("Air", unit, heads(airs)), Axis("", "", ("hours",)), frame(values), "h",
        Rounding("up", 0.5), book.system, zones=frame(zones), reasons=frame(np.where(cold, outside, why)[:, None]), formulas=("cure-stretch",),
        zone_words={FINE: "near the data sheet", CARE: "slow: touch it first"}, notes=("Solvent paint, oil and two-pack cure by reaction: roughly twice as long for each 10 °C colder. Humidity counts for little.",),
    )


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
    return Table(
        "fit-hours", f"Hours fit to spray outdoors: {family}", f"{year.place}. Of a hundred such hours, how many are fit: air {units.convert(need.air_min, '°C', unit):.0f} to {units.convert(need.air_max, '°C', unit):.0f} {unit}, "
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
    sizes = np.array((10, 15, 20, 30, 40, 50, 60, 80), float)
    winds = np.array(book.pick((0.5, 1, 2, 3, 4, 6), (1, 2, 4, 6, 8, 12)), float)
    height = book.pick(1.5, 5.0)
    speed, why = compute(book.formulas["settling-speed"], {"droplet-diameter": sizes, "density": 1000.0}, "mm/s")
    values, _ = compute(book.formulas["drift-distance"], {"settling-speed": speed[:, None], "height": height, "wind": winds[None, :]}, unit, {"height": unit, "wind": wind})
    metres = units.convert(values, unit, "m")
    zones = np.where(np.isnan(values), "", np.where(metres <= 5, CARE, STOP))
    return Table(
        "drift-distance", "How far mist drifts", f"Distance down the wind, {unit}, for a droplet from {height:g} {unit} up.", Axis("Droplet", "µm", heads(sizes)), Axis("Wind", wind, heads(winds)), frame(values), unit,
        Rounding("up", 1), book.system, zones=frame(zones), reasons=frame(np.repeat(why[:, None], len(winds), axis=1)), formulas=("settling-speed", "drift-distance"),
        zone_words={CARE: "lands within a car's length: sheet it", STOP: "travels on: whatever is down the wind gets it"},
        notes=("Droplets do not shrink in this table. Gusts carry further. Never read it as a safe distance.",),
    )


def drift_height(book: Book) -> Table:
    """Distance a droplet drifts before it lands, by size and the height it starts from, at the wind for work near cars."""
    unit = book.pick("m", "ft")
    wind = book.facts.value("limits.wind_max_near_cars").to("m/s")
    sizes = np.array((20, 30, 40, 50, 60), float)
    heights = np.array(book.pick((0.5, 1, 1.5, 2, 2.5, 3), (1, 3, 5, 6, 8, 10)), float)
    speed, why = compute(book.formulas["settling-speed"], {"droplet-diameter": sizes, "density": 1000.0}, "mm/s")
    values, _ = compute(book.formulas["drift-distance"], {"settling-speed": speed[:, None], "height": heights[None, :], "wind": wind}, unit, {"height": unit})
    return Table(
        "drift-height", "The higher, the further", f"Distance down the wind, {unit}, at {units.convert(wind, 'm/s', book.pick('m/s', 'mph')):.2g} {book.pick('m/s', 'mph')}, by the height the mist starts from.",
        Axis("Droplet", "µm", heads(sizes)), Axis("From a height of", unit, heads(heights)), frame(values), unit, Rounding("up", 1), book.system,
        reasons=frame(np.repeat(why[:, None], len(heights), axis=1)), formulas=("settling-speed", "drift-distance"), notes=("Never read it as a safe distance.",),
    )


def drift_dust(book: Book) -> Table:
    """Time to fall against the time the water lasts."""
    sizes = np.array((10, 15, 20, 30, 40, 50, 60, 80), float)
    speed, why = compute(book.formulas["settling-speed"], {"droplet-diameter": sizes, "density": 1000.0}, "mm/s")
    fall = 1500.0 / speed
    summer, winter = (compute(book.formulas["water-life"], {"droplet-diameter": sizes, "air-temperature": air, "relative-humidity": humidity}, "s")[0] for air, humidity in ((20.0, 50.0), (10.0, 80.0)))
    body = np.stack([fall, summer, winter], axis=1)
    zones = np.array([["", FINE if s < f else CARE, FINE if w < f else CARE] for f, s, w in body], dtype=object)
    return Table(
        "drift-dust", "Dust or sticky?", f"Seconds to fall {book.pick('1.5 m', '5 ft')}, and seconds until the water is gone from a droplet of water paint.", Axis("Droplet", "µm", heads(sizes)),
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
