"""Formulas against the same law written by hand here in plain Python, at points spread over their ranges. No expression is shared.

Sources: cup lines and the log line for thinner are common practice, no source; Magnus coefficients 6.112 hPa, 17.62 and 243.12 °C are
WMO-No. 8 (from memory); the rest is balance of mass or volume.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from generators.formula import OutOfRange

SPREAD = np.linspace(0.03, 0.97, 7)


def between(low, high, count=7):
    """Points inside a range."""
    return [low + (high - low) * share for share in SPREAD[:count]]


def worked(catalogue, name, **given):
    return catalogue[name].work({key.replace("_", "-"): value for key, value in given.items()}).value


def cup_line(cup, seconds):
    return cup.A * (seconds - cup.C) - cup.B / seconds


def cup_seconds(cup, viscosity):
    """By halving, between the times the cup can be read at."""
    low, high = cup.time_min, cup.time_max
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if cup_line(cup, middle) < viscosity else (low, middle)
    return (low + high) / 2


def magnus(temperature):
    return 6.112 * math.exp(17.62 * temperature / (243.12 + temperature))


def dew(air, humidity):
    x = math.log(humidity / 100) + 17.62 * air / (243.12 + air)
    return 243.12 * x / (17.62 - x)


def test_every_cup_both_ways(facts, catalogue):
    for name, cup in facts.cups.items():
        for seconds in between(cup.time_min, cup.time_max):
            viscosity = cup_line(cup, seconds)
            try:
                assert worked(catalogue, "cup-viscosity", cup=name, time=seconds) == pytest.approx(viscosity, rel=1e-9), name
                assert worked(catalogue, "cup-time", cup=name, viscosity=viscosity) == pytest.approx(cup_seconds(cup, viscosity), rel=1e-7), name
            except OutOfRange:
                continue


@pytest.mark.parametrize("first,trial,target,dose", [(60, 42, 25, 5), (80, 60, 30, 5), (95, 70, 45, 8), (50, 44, 26, 3)])
def test_thinner_by_logarithms(facts, catalogue, first, trial, target, dose):
    cup = facts.cups["ford-4"]
    one, two, wanted = (cup_line(cup, seconds) for seconds in (first, trial, target))
    by_hand = dose * math.log(one / wanted) / math.log(one / two)
    assert worked(catalogue, "thinner-for-target", cup="ford-4", first_time=first, trial_thinner=dose, trial_time=trial, target_time=target) == pytest.approx(by_hand, rel=1e-9)
    assert worked(catalogue, "thinned-viscosity", first_viscosity=one, trial_thinner=dose, trial_viscosity=two, thinner=7) == pytest.approx(one * (two / one) ** (7 / dose), rel=1e-9)


def test_a_trial_that_did_not_thin_and_a_target_already_met_have_no_answer(catalogue):
    for first, trial, target in ((60, 60, 25), (60, 62, 25), (24, 22, 25)):
        with pytest.raises(OutOfRange):
            worked(catalogue, "thinner-for-target", cup="ford-4", first_time=first, trial_thinner=5, trial_time=trial, target_time=target)


@pytest.mark.parametrize("air", between(1, 44))
@pytest.mark.parametrize("humidity", between(12, 98))
def test_dew_point_and_margin(catalogue, air, humidity):
    assert worked(catalogue, "dew-point", air_temperature=air, relative_humidity=humidity) == pytest.approx(dew(air, humidity), abs=0.05)
    for above in (-2, 0.5, 4):
        surface = dew(air, humidity) + above
        if -15 < surface < 60:
            assert worked(catalogue, "dew-margin", surface_temperature=surface, air_temperature=air, relative_humidity=humidity) == pytest.approx(above, abs=0.05)


@pytest.mark.parametrize("pot", between(0.3, 3))
@pytest.mark.parametrize("percent", between(1, 40))
def test_thinner_in_a_full_pot(catalogue, pot, percent):
    """What is in the pot is paint and thinner together."""
    paint = pot * 1000 / (1 + percent / 100)
    assert worked(catalogue, "pot-thinner", pot=pot, thinner=percent) == pytest.approx(pot * 1000 - paint, rel=1e-9)


@pytest.mark.parametrize("solids", between(10, 90, 5))
@pytest.mark.parametrize("thinner", [0, 7, 25])
def test_film_is_a_balance_of_volume(catalogue, solids, thinner):
    for wet in (30, 90, 200):
        dry = wet * (solids / 100) / (1 + thinner / 100)
        assert worked(catalogue, "dry-film", wet_film=wet, volume_solids=solids, thinner=thinner) == pytest.approx(dry, rel=1e-9)
        assert worked(catalogue, "wet-film", dry_film=dry, volume_solids=solids, thinner=thinner) == pytest.approx(wet, rel=1e-9)
    assert worked(catalogue, "spreading-rate", volume_solids=solids, dry_film=40, transfer_efficiency=60) == pytest.approx(1000 * solids / 100 * 0.6 / 40, rel=1e-9)


def pressure_by_wet_bulb(dry, wet):
    """Vapour pressure from two thermometers at 1013.25 hPa: WMO-No. 8, ventilated psychrometer (from memory)."""
    return magnus(wet) - 0.000653 * 1013.25 * (1 + 0.000944 * wet) * (dry - wet)


@pytest.mark.parametrize("dry", between(2, 44))
@pytest.mark.parametrize("below", [0.5, 2, 5, 8])
def test_two_thermometers(catalogue, dry, below):
    wet = dry - below
    pressure = pressure_by_wet_bulb(dry, wet)
    if wet < 1 or pressure < 0.08 * magnus(dry):
        return
    assert worked(catalogue, "humidity-from-wet-bulb", dry_bulb=dry, wet_bulb=wet) == pytest.approx(100 * pressure / magnus(dry), abs=0.05)
    logarithm = math.log(pressure / 6.112)
    assert worked(catalogue, "dew-from-wet-bulb", dry_bulb=dry, wet_bulb=wet) == pytest.approx(243.12 * logarithm / (17.62 - logarithm), abs=0.05)


def evaporation_deficit(air, humidity):
    """Vapour pressure at the wet bulb, found by halving, less that of the air."""
    low, high = -30.0, air
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if pressure_by_wet_bulb(air, middle) < humidity / 100 * magnus(air) else (low, middle)
    return magnus(low) - humidity / 100 * magnus(air)


@pytest.mark.parametrize("air", between(3, 42))
@pytest.mark.parametrize("humidity", between(12, 92, 6))
def test_drying_stretch(catalogue, air, humidity):
    by_hand = evaporation_deficit(23, 50) / evaporation_deficit(air, humidity)
    assert worked(catalogue, "drying-stretch", air_temperature=air, relative_humidity=humidity) == pytest.approx(by_hand, rel=2e-3)
