"""Dew point against two general-purpose libraries and the hourly weather that the pvlib package carries."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

import numpy as np
import psychrolib
import pytest

DATA = Path(importlib.util.find_spec("pvlib").origin).parent / "data"  # found without importing it, which takes seconds
AIR, HUMIDITY = (grid.ravel() for grid in np.meshgrid(np.arange(-10.0, 51.0), np.arange(10.0, 101.0, 5.0)))


def dew(catalogue, air, humidity):
    return catalogue["dew-point"].column({"air-temperature": air, "relative-humidity": humidity})


def test_agrees_with_psychrolib_above_freezing(catalogue):
    """psychrolib 2.5 (ASHRAE Handbook 2017, ch. 1, eq. 5 and 6). 0.05 °C: the two fits differ by 0.044 at most."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    theirs = np.array([psychrolib.GetTDewPointFromRelHum(t, h / 100) for t, h in zip(AIR, HUMIDITY, strict=True)])
    ours = dew(catalogue, AIR, HUMIDITY)
    assert (theirs > 0).sum() > 500
    assert np.abs(ours - theirs)[theirs > 0].max() <= 0.05


def test_agrees_with_coolprop_above_freezing(catalogue):
    """CoolProp HumidAir (ASHRAE RP-1485). 0.05 °C for the same reason."""
    import CoolProp.HumidAirProp as humid_air

    theirs = np.array([humid_air.HAPropsSI("D", "T", t + 273.15, "R", h / 100, "P", 101325) - 273.15 for t, h in zip(AIR, HUMIDITY, strict=True)])
    assert np.abs(dew(catalogue, AIR, HUMIDITY) - theirs)[theirs > 0].max() <= 0.05


def test_below_freezing_it_is_the_dew_point_over_water_and_not_the_frost_point(catalogue):
    """psychrolib gives the frost point below 0 °C. Ours must be the colder of the two, and it says so on the page."""
    frost = psychrolib.GetTDewPointFromRelHum(0.0, 0.1)
    ours = float(dew(catalogue, 0.0, 10.0))
    assert ours < frost - 2
    assert any("over water" in note for note in catalogue["dew-point"].notes)


def miami() -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """12839.tm2, fixed width: characters 68–71 dry bulb and 74–77 dew point in tenths, 80–82 humidity."""
    lines = (DATA / "12839.tm2").read_text(encoding="latin-1").splitlines()[1:]
    cells = [(int(line[67:71]) / 10, int(line[73:77]) / 10, int(line[79:82])) for line in lines]
    return tuple(np.array(column, float) for column in zip(*cells, strict=True))


def year(name: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """A TMY3 file: columns found by their heads on line 2."""
    lines = (DATA / name).read_text(encoding="latin-1").splitlines()
    heads = lines[1].split(",")
    places = [next(i for i, head in enumerate(heads) if re.match(wanted, head)) for wanted in ("Dry-bulb", "Dew-point \\(C\\)", "RHum \\(%\\)")]
    return tuple(np.array([float(line.split(",")[place]) for line in lines[2:]]) for place in places)


def test_miami_hour_by_hour(catalogue):
    """All 8,760 hours. The file prints whole % and 0.1 °C, which alone allows 0.3 °C."""
    air, theirs, humidity = miami()
    error = np.abs(dew(catalogue, air, humidity) - theirs)
    assert len(error) == 8760
    assert error.mean() <= 0.08
    assert error.max() <= 0.4


def test_greensboro_by_percentiles(catalogue):
    """723170TYA.CSV has gross errors (two months and a few rows), so it is judged on percentiles, never on its worst."""
    air, theirs, humidity = year("723170TYA.CSV")
    error = np.abs(dew(catalogue, air, humidity) - theirs)
    assert len(error) == 8760
    assert np.percentile(error, 50) <= 0.1
    assert np.percentile(error, 90) <= 0.3


def test_sand_point_above_freezing_and_its_frost_points_below(catalogue):
    """703165TY.csv keeps frost point below 0 °C: there it agrees with the library that gives frost point, and not with us."""
    air, theirs, humidity = year("703165TY.csv")
    ours = dew(catalogue, air, humidity)
    warm = theirs >= 0
    assert np.percentile(np.abs(ours - theirs)[warm], 99) <= 0.2
    frost = np.array([psychrolib.GetTDewPointFromRelHum(t, h / 100) for t, h in zip(air[~warm], humidity[~warm], strict=True)])
    assert np.abs(frost - theirs[~warm]).mean() < 0.1 < 0.3 < np.abs(ours - theirs)[~warm].mean()


@pytest.mark.parametrize("humidity", [20.0, 55.0, 90.0])
def test_more_warmth_or_more_damp_raises_it(catalogue, humidity):
    temperatures = np.linspace(-40, 55, 200)
    assert (np.diff(dew(catalogue, temperatures, humidity)) > 0).all()
    assert (np.diff(dew(catalogue, 20.0, np.linspace(1, 100, 200))) > 0).all()
