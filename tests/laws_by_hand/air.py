"""Dew point, drying and overspray, by hand."""

from __future__ import annotations

import math

import numpy as np

from laws_by_hand.film import stokes
from laws_by_hand.law import area_under, halving, law

# Published: WMO-No. 8, annex 4.B, vapour over water: 6.112 hPa, 17.62 and 243.12 °C. Ventilated wet bulb: 0.000653 (1 + 0.000944 t) for each °C, at 1013.25 hPa.
COLDEST = -243.0


def full(celsius):
    """Vapour pressure of full air, hPa."""
    return 6.112 * math.exp(17.62 * celsius / (243.12 + celsius))


def log_full(celsius):
    """Its log, for air that holds next to nothing."""
    return math.log(6.112) + 17.62 * celsius / (243.12 + celsius)


def dew(celsius, percent):
    """Where air with so much in it would be full, by halving."""
    holds = log_full(celsius) + math.log(percent / 100)
    return halving(lambda at: log_full(at) - holds, COLDEST, 200.0)


def by_two_bulbs(dry, wet):
    """Vapour pressure by two thermometers, hPa."""
    return full(wet) - 0.000653 * 1013.25 * (1 + 0.000944 * wet) * (dry - wet)


def wet_bulb(celsius, percent):
    """What a wet wick would read, by halving."""
    return halving(lambda wet: by_two_bulbs(celsius, wet) - percent / 100 * full(celsius), -60.0, celsius)


def deficit(celsius, percent):
    """What a wet surface has over the air, hPa: what drives water out."""
    return full(wet_bulb(celsius, percent)) - percent / 100 * full(celsius)


@law("dew-point", "-90 to 60 °C", air_temperature="-45 to 60 °C", relative_humidity="1 to 100 %")
def _(air_temperature, relative_humidity):
    """Where the air would be full."""
    return dew(air_temperature, relative_humidity)


@law("dew-margin", "-120 to 170 Δ°C", surface_temperature="-45 to 80 °C", air_temperature="-45 to 60 °C", relative_humidity="1 to 100 %")
def _(surface_temperature, air_temperature, relative_humidity):
    """How far a surface is from there."""
    return surface_temperature - dew(air_temperature, relative_humidity)


@law("worst-dew-margin", "-120 to 170 Δ°C", mostly={"relative_humidity": "20 to 80 %", "humidity_error": "0 to 10 %"},
     also=({"surface_temperature": 18, "air_temperature": 20, "relative_humidity": 97, "humidity_error": 3, "air_error": 0.5, "surface_error": 1},
           {"surface_temperature": 18, "air_temperature": 20, "relative_humidity": 97, "humidity_error": 3.2, "air_error": 0.5, "surface_error": 1}),
     surface_temperature="-45 to 80 °C", air_temperature="-45 to 60 °C", relative_humidity="1 to 100 %", humidity_error="0 to 20 %", air_error="0 to 5 Δ°C", surface_error="0 to 5 Δ°C")
def _(surface_temperature, air_temperature, relative_humidity, humidity_error, air_error, surface_error):
    """The same with air as damp and as warm, and the surface as cold, as the instruments leave open. Over full, but for a thousandth: no figure (the handbook's own choice)."""
    if relative_humidity + humidity_error >= 100.1:
        return "treat the surface as wet"
    return (surface_temperature - surface_error) - dew(air_temperature + air_error, relative_humidity + humidity_error)


@law("drying-stretch", "0.05 to 100 ×", air_temperature="1 to 45 °C", relative_humidity="5 to 97 %")
def _(air_temperature, relative_humidity):
    """What drives water out at 23 °C and 50 % (the data sheet's air, from memory) over what drives it now."""
    return deficit(23, 50) / deficit(air_temperature, relative_humidity)


@law("dew-from-wet-bulb", "-60 to 60 °C", mostly={"dry_bulb": "20 to 40 °C", "wet_bulb": "12 to 20 °C"},
     also=({"dry_bulb": 56, "wet_bulb": 55}, {"dry_bulb": 15, "wet_bulb": 15}, {"dry_bulb": 15, "wet_bulb": 15.001}),
     dry_bulb="-10 to 60 °C", wet_bulb="-10 to 60 °C")
def _(dry_bulb, wet_bulb):
    """Where what two thermometers find would be full."""
    if wet_bulb > dry_bulb:
        return "cannot read above the dry bulb"
    holds = by_two_bulbs(dry_bulb, wet_bulb)
    return "too far apart" if holds <= 0 else halving(lambda at: log_full(at) - math.log(holds), COLDEST, 200.0)


@law("humidity-from-wet-bulb", "1 to 101 %", mostly={"dry_bulb": "20 to 40 °C", "wet_bulb": "12 to 20 °C"}, also=({"dry_bulb": 15, "wet_bulb": 15}, {"dry_bulb": 15, "wet_bulb": 15.001}),
     dry_bulb="-10 to 60 °C", wet_bulb="-10 to 60 °C")
def _(dry_bulb, wet_bulb):
    """What two thermometers find, in hundredths of what the air could hold."""
    if wet_bulb > dry_bulb:
        return "cannot read above the dry bulb"
    holds = by_two_bulbs(dry_bulb, wet_bulb)
    return "too far apart" if holds <= 0 else 100 * holds / full(dry_bulb)


AIR_AT_20, THICK_AT_20 = 1.2046, 1.81e-5  # kg/m³ and Pa·s, from memory: dry air at 20 °C and 101.325 kPa


@law("settling-speed", "0.001 to 1000 mm/s", droplet_diameter="1 to 80 µm", density="600 to 3000 kg/m³")
def _(droplet_diameter, density):
    """A ball whose weight drags it through air, while its Reynolds number is under a half (published: Stokes). What the air lifts is left out: a thousandth."""
    wide = droplet_diameter / 1e6
    speed = stokes(wide, density, THICK_AT_20)
    return "falls slower" if AIR_AT_20 * speed * wide / THICK_AT_20 >= 0.5 else 1000 * speed


@law("air-density", "0.5 to 2 kg/m³", air_temperature="-45 to 60 °C")
def _(air_temperature):
    """A cubic metre of dry air at 101,325 Pa, 287.058 J/(kg·K) (published: the gas law)."""
    return 101325 / 287.058 / (air_temperature + 273.15)


@law("air-viscosity", "0.00001 to 0.00003 Pa·s", air_temperature="-45 to 60 °C")
def _(air_temperature):
    """Sutherland's: T to the power of three halves over T + 110.4 K, 1.716e-5 Pa·s at 0 °C (from memory: ISO 2533)."""
    def bare(kelvin):
        return kelvin * math.sqrt(kelvin) / (kelvin + 110.4)

    return 1.716e-5 * bare(273.15 + air_temperature) / bare(273.15)


@law("cure-stretch", "0.1 to 20 ×", air_temperature="1 to 45 °C")
def _(air_temperature):
    """Double for each ten degrees under 23 °C (from memory: the ten-degree rule)."""
    return 2 ** ((23 - air_temperature) / 10)


@law("drift-distance", "0 to 100000 m", settling_speed="0.01 to 1000 mm/s", height="0.1 to 10 m", wind="0 to 20 m/s")
def _(settling_speed, height, wind):
    """For as long as it falls it goes with the wind."""
    seconds = 1000 * height / settling_speed
    return seconds * wind


@law("water-life", "0.0001 to 10000 s", droplet_diameter="1 to 200 µm", air_temperature="1 to 45 °C", relative_humidity="5 to 97 %")
def _(droplet_diameter, air_temperature, relative_humidity):
    """A drop at its wet bulb gives off 2π·width·D·(vapour at its skin less vapour in the air) each second: skin by skin until nothing is left. D 2.4e-5 m²/s, 461.5 J/(kg·K), water
    1000 kg/m³ (from memory)."""
    wet = wet_bulb(air_temperature, relative_humidity)
    at_skin = 100 * full(wet) / (461.5 * (273.15 + wet))
    in_air = relative_humidity * full(air_temperature) / (461.5 * (273.15 + air_temperature))

    def seconds_for_each_metre(width):
        return (1000 * np.pi * width**2 / 2) / (2 * np.pi * width * 2.4e-5 * (at_skin - in_air))

    return area_under(seconds_for_each_metre, 0.0, droplet_diameter / 1e6)
