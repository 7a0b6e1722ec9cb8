"""Wet and dry film, runs and levelling, by hand. Where a law names no source it is a balance of volume."""

from __future__ import annotations

import math

from laws_by_hand.law import area_under, law

GRAVITY = 9.80665  # m/s², published: standard gravity, by definition


@law("low-share", "5 to 100 %", scatter="0 to 60 %", spreads="1 to 3 1")
def _(scatter, spreads):
    """From the mean so many standard deviations down (common practice: errors like those of a scale)."""
    return 100 - scatter * spreads


@law("least-film", "0.05 to 1000 µm", wet_film="1 to 1000 µm", low_share="5 to 100 %")
def _(wet_film, low_share):
    """So many hundredths of the mean."""
    return wet_film / 100 * low_share


@law("wet-film", "1 to 5000 µm", dry_film="1 to 500 µm", volume_solids="2 to 100 %", thinner="0 to 150 %")
def _(dry_film, volume_solids, thinner):
    """A litre of paint with its thinner is so many litres of mix, and leaves so many of solids."""
    mix, solids = 1 + thinner / 100, volume_solids / 100
    return dry_film * mix / solids


@law("dry-film", "0.05 to 1000 µm", wet_film="1 to 1000 µm", volume_solids="2 to 100 %", thinner="0 to 150 %")
def _(wet_film, volume_solids, thinner):
    """The other way."""
    paint_in_it = wet_film * 100 / (100 + thinner)
    return paint_in_it * volume_solids / 100


@law("spreading-rate", "0.01 to 2000 m²/L", volume_solids="2 to 100 %", dry_film="1 to 500 µm", transfer_efficiency="5 to 100 %")
def _(volume_solids, dry_film, transfer_efficiency):
    """A litre of solids a micrometre thick covers a thousand square metres; and only what lands covers."""
    return 1000 / dry_film * volume_solids / 100 * transfer_efficiency / 100


@law("thinned-solids", "0.5 to 100 %", volume_solids="2 to 100 %", thinner="0 to 150 %")
def _(volume_solids, thinner):
    """The same solids in more litres."""
    return 100 * volume_solids / (100 + thinner)


def runs_down(film, viscosity):
    """What runs down a wall, for each width: the speed at each height of the film, added up across it (published: Nusselt). Gravity left out, viscosity by weight."""
    return area_under(lambda y: (film * y - y * y / 2) / viscosity, 0.0, film)


@law("runs-times", "0.001 to 10000 ×", thinner="0 to 150 %", first_viscosity="0.5 to 5000 mm²/s", viscosity="0.01 to 5000 mm²/s")
def _(thinner, first_viscosity, viscosity):
    """A film that is thicker by its thinner, and thinner paint, against the same as supplied."""
    return runs_down(1 + thinner / 100, viscosity) / runs_down(1.0, first_viscosity)


@law("levelling-time", "0.000001 to 10000000 s", mostly={"viscosity": "0.05 to 5 Pa·s", "wet_film": "30 to 200 µm"},
     viscosity="0.001 to 100 Pa·s", wavelength="0.1 to 20 mm", surface_tension="15 to 75 mN/m", wet_film="1 to 1000 µm")
def _(viscosity, wavelength, surface_tension, wet_film):
    """A ripple of a thin film dies as exp(−σ h³ k⁴ t/3η), k the waves in 2π metres (from memory: Orchard)."""
    waves = 2 * math.pi / (wavelength / 1000)
    return 3 * viscosity / (surface_tension / 1000 * (wet_film / 1e6) ** 3 * waves**4)


@law("sag-speed", "0 to 100000 mm/s", viscosity="0.001 to 100 Pa·s", density="600 to 3000 kg/m³", wet_film="1 to 1000 µm")
def _(viscosity, density, wet_film):
    """From wall to skin the speed rises by what hangs below each layer over its viscosity: added up (published: Nusselt)."""
    film = wet_film / 1e6
    return 1000 * area_under(lambda y: density * GRAVITY * (film - y) / viscosity, 0.0, film)


@law("wall-flux", "0 to 1000000 mm²/s", viscosity="0.001 to 100 Pa·s", density="600 to 3000 kg/m³", wet_film="1 to 1000 µm")
def _(viscosity, density, wet_film):
    """The speed of each layer, added up once more across the film (published: Nusselt)."""
    return 1e6 * density * GRAVITY * runs_down(wet_film / 1e6, viscosity)


@law("wall-stress", "0 to 1000 Pa", density="600 to 3000 kg/m³", wet_film="1 to 1000 µm")
def _(density, wet_film):
    """What a square metre of film weighs."""
    kilograms = density * wet_film / 1e6
    return kilograms * GRAVITY


def stokes(diameter, density, viscosity):
    """Speed at which a ball's weight is what drags it, 3π·viscosity·width·speed (published: Stokes): metres, kg/m³, Pa·s."""
    weight = math.pi / 6 * diameter**3 * density * GRAVITY
    return weight / (3 * math.pi * viscosity * diameter)


@law("settling-in-liquid", "0 to 1 m/s", particle_diameter="0.05 to 20 µm", density_difference="1 to 8000 kg/m³", viscosity="0.0005 to 100 Pa·s")
def _(particle_diameter, density_difference, viscosity):
    """A slow ball, by its weight in the liquid."""
    return stokes(particle_diameter / 1e6, density_difference, viscosity)


@law("bubble-rise", "0 to 10000000 min", mostly={"bubble_diameter": "10 to 300 µm", "viscosity": "0.05 to 5 Pa·s"}, bubble_diameter="10 to 2000 µm", depth="1 to 1000 mm", density="600 to 3000 kg/m³",
     viscosity="0.001 to 100 Pa·s")
def _(bubble_diameter, depth, density, viscosity):
    """The same ball, lifted: slow while its Reynolds number (density, speed and width over viscosity) is under one (published: Stokes)."""
    wide = bubble_diameter / 1e6
    speed = stokes(wide, density, viscosity)
    return "slow law" if density * speed * wide / viscosity >= 1 else depth / 1000 / speed / 60


@law("aim-for-minimum", "1 to 5000 µm", minimum="1 to 1000 µm", low_share="20 to 100 %")
def _(minimum, low_share):
    """The mean of which so many hundredths are the minimum."""
    return minimum * 100 / low_share
