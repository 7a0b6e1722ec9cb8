"""Times, temperatures and the next pour, by hand. Where a law names no source it is a balance, or plain counting."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

from laws_by_hand.law import halving, law

MIDNIGHT = datetime(2024, 7, 1)


def minutes(moment):
    """After midnight of the first day; the clock counts in millionths of a second."""
    return (moment - MIDNIGHT) / timedelta(minutes=1)


@law("time-after", "-20160 to 200000 min", slack=lambda **_: 1e-6, start="-20160 to 20160 min", wait="0 to 3000 h")
def _(start, wait):
    """By the calendar."""
    return minutes(MIDNIGHT + timedelta(minutes=start) + timedelta(hours=wait))


@law("clean-by-time", "-20160 to 50000 min", slack=lambda **_: 1e-6, start="-20160 to 20160 min", pot_life="0.5 to 20000 min", share="1 to 100 %")
def _(start, pot_life, share):
    """By the calendar: so many hundredths of the pot life after it was mixed."""
    return minutes(MIDNIGHT + timedelta(minutes=start) + timedelta(minutes=pot_life) * (share / 100))


@law("time-left", "-3000 to 6000 h", slack=lambda **_: 1e-6, now="-20160 to 20160 min", then="-20160 to 200000 min")
def _(now, then):
    """By the calendar."""
    return (timedelta(minutes=then) - timedelta(minutes=now)) / timedelta(hours=1)


@law("warmer-by", "-90 to 130 °C", temperature="-90 to 90 °C", difference="0 to 40 Δ°C")
def _(temperature, difference):
    """In Fahrenheit and back: a difference has no 32 in it."""
    return ((temperature * 1.8 + 32) + difference * 1.8 - 32) / 1.8


@law("colder-by", "-130 to 90 °C", temperature="-90 to 90 °C", difference="0 to 40 Δ°C")
def _(temperature, difference):
    """In Fahrenheit and back."""
    return ((temperature * 1.8 + 32) - difference * 1.8 - 32) / 1.8


@law("stretched-wait", "0.001 to 3000 h", hours="0.05 to 2000 h", stretch="0.05 to 100 ×")
def _(hours, stretch):
    """So many times as long."""
    return hours / (1 / stretch)


@law("middle-distance", "25 to 1000 mm", near="25 to 1000 mm", far="25 to 1000 mm")
def _(near, far):
    """Half way from one to the other."""
    return near + 0.5 * (far - near)


@law("step-share", "0.1 to 1000 %", step="2 to 1000 mm", fan_width="10 to 3000 mm")
def _(step, fan_width):
    """In hundredths of the fan."""
    return step / (fan_width / 100)


@law("stroke-seconds", "0.03 to 1000 s", length="0.1 to 10 m", gun_speed="0.01 to 3 m/s")
def _(length, gun_speed):
    """The way at its speed."""
    return 1 / (gun_speed / length)


@law("thinner-by-steepness", "-500 to 500 %", mostly={"first_viscosity": "100 to 400 mm²/s", "wanted_viscosity": "50 to 200 mm²/s"},
     first_viscosity="1 to 5000 mm²/s", wanted_viscosity="1 to 5000 mm²/s", steepness_by_paint="0.5 to 20 1")
def _(first_viscosity, wanted_viscosity, steepness_by_paint):
    """So many doublings from one to the other; each takes ln 2 of a share of the paint over the steepness (common practice, no source)."""
    return 100 * math.log(2) / steepness_by_paint * math.log2(first_viscosity / wanted_viscosity)


@law("thinner-to-add", "-50000 to 60000 mL", litres="0.01 to 100 L", thinner_now="0 to 150 %", thinner="0 to 150 %")
def _(litres, thinner_now, thinner):
    """The pour after which thinner over paint is what is wanted, by halving."""
    paint = litres / (1 + thinner_now / 100)
    return 1000 * halving(lambda pour: (litres - paint + pour) / paint - thinner / 100, -200.0, 200.0)


@law("thinner-by-volume", "0 to 300 %", weight_share="0 to 100 %", density="0.6 to 3 kg/L", thinner_density="0.6 to 1.7 kg/L")
def _(weight_share, density, thinner_density):
    """To a litre of paint so many grams of thinner, and how many millilitres they are."""
    grams = 1000 * density * weight_share / 100
    return grams / thinner_density / 10
