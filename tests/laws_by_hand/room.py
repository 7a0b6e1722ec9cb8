"""Vapour, clearing the air, noise, and mist in the air, by hand. Where a law names no source it is a balance of mass."""

from __future__ import annotations

import math

import numpy as np

from laws_by_hand.law import area_under, halving, law

KELVIN = 273.15
GAS = 8.314462618  # J/(mol·K), published: exact since 2019
SEA = 101325.0  # Pa, published: one atmosphere


def mole(celsius):
    """Litres of a mole of any gas (published: the gas law)."""
    return 1000 * GAS * (celsius + KELVIN) / SEA


@law("vapour-volume", "0.01 to 2 m³/L", density="0.6 to 1.7 kg/L", molar_mass="16 to 400 g/mol", temperature="-20 to 60 °C")
def _(density, molar_mass, temperature):
    """Moles in a litre, and litres of each."""
    return 1000 * density / molar_mass * mole(temperature) / 1000


@law("dilution-air", "0.1 to 1000000 m³/L", vapour="0.01 to 2 m³/L", explosive_limit="0.3 to 20 %", fraction="1 to 25 %")
def _(vapour, explosive_limit, fraction):
    """At the limit there are (100 − LEL) parts of air to LEL parts of vapour; to a quarter of it four times as much (from memory: 29 CFR 1910.94(c), table G-11)."""
    return (100 - explosive_limit) / explosive_limit * vapour * (100 / fraction)


@law("breathing-air", "1 to 1000000000 m³/L", vapour="0.01 to 2 m³/L", limit="0.001 to 10000 ppm")
def _(vapour, limit):
    """A million parts of air to so many of vapour."""
    return vapour / limit * 1e6


@law("fire-over-breathing", "0.01 to 1000000 ×", explosive_limit="0.3 to 20 %", fraction="1 to 25 %", limit="0.001 to 10000 ppm")
def _(explosive_limit, fraction, limit):
    """One per cent is ten thousand parts in a million."""
    return explosive_limit * 10000 * fraction / 100 / limit


@law("limit-by-weight", "0 to 1000000 mg/m³", limit="0.001 to 10000 ppm", molar_mass="16 to 400 g/mol", temperature="15 to 30 °C")
def _(limit, molar_mass, temperature):
    """Millilitres in a cubic metre, moles of them, their weight."""
    return limit / mole(temperature) * molar_mass


@law("limit-by-volume", "0 to 1000000 ppm", concentration="0.0001 to 100000 mg/m³", molar_mass="16 to 400 g/mol", temperature="15 to 30 °C")
def _(concentration, molar_mass, temperature):
    """The other way."""
    return concentration / molar_mass * mole(temperature)


@law("clearance-time", "0 to 20000 min", air_changes="0.05 to 200 1/h", removal="1 to 99.99 %")
def _(air_changes, removal):
    """What is left halves in every half-time of a well-mixed room (published: CDC 1994): as often as it takes."""
    return 60 / air_changes * math.log(2) * halving(lambda times: (1 - 0.5**times) - removal / 100, 0.0, 20.0)


@law("clearing-time", "0 to 200000 min", air_changes="0.05 to 200 1/h", removal="1 to 99.99 %", mixing="1 to 10 1")
def _(air_changes, removal, mixing):
    """The same where the room mixes badly: so many times as long."""
    return mixing * 60 / air_changes * math.log(2) * halving(lambda times: (1 - 0.5**times) - removal / 100, 0.0, 20.0)


@law("noise-exposure-time", "0.05 to 30000 min", level="70 to 120 dBA")
def _(level):
    """Eight hours at 85 dBA, half for each 3 dB more (published: NIOSH 98-126)."""
    return 8 * 60 / 2 ** ((level - 85) / 3)


@law("noise-exposure-time-5db", "0.5 to 30000 min", level="80 to 115 dBA")
def _(level):
    """Eight hours at 90 dBA, half for each 5 dB more (published: 29 CFR 1910.95)."""
    return 8 * 60 / 2 ** ((level - 90) / 5)


def in_the_room(milligrams, minutes, volume, changes):
    """mg/m³ at the end, where so many milligrams come in evenly: what came in at each moment, less what the air took since, added up. What is fifty changes old is gone."""
    each = changes / 60
    since = min(minutes, 50 / each)
    return area_under(lambda ago: milligrams / minutes / volume * np.exp(-each * ago), 0.0, since)


@law("room-vapour", "0 to 2000000 mg/m³", mostly={"volume": "20 to 200 m³"}, paint="0.01 to 100 L", voc="0 to 1700 g/L", spraying="0.5 to 600 min", volume="1 to 10000 m³",
     air_changes="0.05 to 200 1/h",
     mixing="1 to 10 1")
def _(paint, voc, spraying, volume, air_changes, mixing):
    """All the solvent comes into the air while it is sprayed."""
    return in_the_room(1000 * paint * voc, spraying, volume, air_changes / mixing)


@law("room-vapour-after", "0 to 2000000 mg/m³", mostly={"after": "1 to 120 min", "air_changes": "0.5 to 20 1/h"}, concentration="0 to 2000000 mg/m³", after="0 to 5000 min",
     air_changes="0.05 to 200 1/h", mixing="1 to 10 1")
def _(concentration, after, air_changes, mixing):
    """What is left halves in every half-time."""
    half_time = 60 * math.log(2) * mixing / air_changes
    return concentration * 0.5 ** (after / half_time)


@law("explosive-share", "0 to 1000 %", mostly={"concentration": "0 to 20000 mg/m³"}, concentration="0 to 2000000 mg/m³", explosive_limit="0.3 to 20 %", molar_mass="16 to 400 g/mol",
     temperature="-20 to 60 °C")
def _(concentration, explosive_limit, molar_mass, temperature):
    """Litres of vapour in a thousand of air, in hundredths of the limit."""
    litres = concentration / 1000 / molar_mass * mole(temperature)
    return 100 * litres / (10 * explosive_limit)


@law("noise-at-distance", "0 to 150 dBA", level="30 to 130 dBA", measured_at="0.2 to 50 m", distance="0.2 to 200 m")
def _(level, measured_at, distance):
    """The same power over a ball of so many times the skin (from memory: the inverse square)."""
    return level - 10 * math.log10(distance**2 / measured_at**2)


@law("noise-sum", "30 to 140 dBA", first="30 to 130 dBA", second="30 to 130 dBA")
def _(first, second):
    """Powers add up (published: levels in tenths of a log)."""
    return 10 * math.log10(10 ** (first / 10) + 10 ** (second / 10))


@law("mist-level", "0 to 1000000 mg/m³", mostly={"volume": "20 to 200 m³"}, flow="10 to 1000 mL/min", solids="10 to 3000 g/L", transfer_efficiency="5 to 99 %", airborne="0.1 to 100 %",
     spraying="0.5 to 600 min", volume="1 to 10000 m³", air_changes="0.05 to 200 1/h", mixing="1 to 10 1")
def _(flow, solids, transfer_efficiency, airborne, spraying, volume, air_changes, mixing):
    """Milligrams of solids that leave the gun, less what lands, and of the rest what stays up."""
    milligrams = flow * spraying * solids * (100 - transfer_efficiency) / 100 * airborne / 100
    return in_the_room(milligrams, spraying, volume, air_changes / mixing)


@law("protection-needed", "0 to 1000000000 ×", concentration="0 to 1000000 mg/m³", limit="0.0001 to 10000 mg/m³")
def _(concentration, limit):
    """So many times the limit."""
    return 1 / (limit / concentration) if concentration else 0.0
