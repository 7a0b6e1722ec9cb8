"""Tables of air and surface."""

from __future__ import annotations

import numpy as np

from generators import units
from generators.table import CARE, FINE, STOP, Axis, Rounding, Table
from generators.tables.book import Book, Builder, compute, frame, heads

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
        Rounding("up", book.pick(0.5, 1)), book.system, reasons=frame(why), formulas=("dew-point",),
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
        formulas=("dew-point",), notes=("The margin must hold and not be falling: check again every four hours, and before dusk.",),
    )


BUILDERS = {
    "dew-point": Builder(dew_point),
    "dew-surface": Builder(dew_surface),
}
