"""Hours of a year that are fit to spray outdoors, by month and hour of day."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

HOURS = tuple(range(6, 21))  # working hours by the clock of the file


@dataclass(frozen=True)
class Need:
    """What an hour must offer: °C from and to, % at most, °C of margin over the dew point for a surface `colder` than the air, wind at most."""

    air_min: float
    air_max: float
    humidity_max: float
    margin: float
    wind_max: float
    colder: float = 1.0


def fit_hours(year: Any, need: Need, dew_point: Any) -> Any:
    """True for each hour that is fit, False where it is not or the file does not say. `dew_point(air, humidity)` is the declared formula."""
    with np.errstate(invalid="ignore"):
        surface = year.air - need.colder
        return ((year.air >= need.air_min) & (year.air <= need.air_max) & (year.humidity <= need.humidity_max)
                & (surface - dew_point(year.air, np.clip(year.humidity, 1, 100)) >= need.margin) & (year.wind <= need.wind_max))


def by_month_and_hour(year: Any, fit: Any) -> Any:
    """Share of fit hours, 12 months × working hours; NaN where the file holds none."""
    shares = np.full((12, len(HOURS)), np.nan)
    for month in range(12):
        for column, hour in enumerate(HOURS):
            here = (year.month == month + 1) & (year.hour == hour)
            if here.any():
                shares[month, column] = fit[here].mean()
    return shares
