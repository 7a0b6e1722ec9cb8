"""The film: wet and dry, coverage, levelling and runs."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Condition, Constant, Formula, Symbol

_BALANCE = Origin(Basis.PUBLISHED, "mass-balance")
_UFC = Origin(Basis.PUBLISHED, "ufc-3-190-06")
_FILM = Origin(Basis.PUBLISHED, "nusselt-1916")
_G = Constant("g", 9.80665, "m/s²", "standard gravity")
_THINNER = Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume", 10)
_SOLIDS = Symbol("volume-solids", "S", "%", 2, 100, "volume solids of the paint as supplied", 40)
_WET = Symbol("wet-film", "h", "µm", 1, 1000, "wet film", 100)
_DENSITY = Symbol("density", "rho", "kg/m³", 600, 3000, "density of the wet paint", 1200, "\\rho")
_VISCOSITY = Symbol("viscosity", "eta", "Pa·s", 0.001, 100, "viscosity of the wet film", 0.1, "\\eta")
_NEWTONIAN = "For paint with no yield stress. A paint that stands in the pot holds better than this says."

wet_film = Formula(
    "wet-film", "Wet film for a dry film, after thinning",
    inputs=(Symbol("dry-film", "d", "µm", 1, 500, "dry film wanted", 25), _SOLIDS, _THINNER),
    answer=Symbol("wet-film", "h", "µm", 1, 5000, "wet film to spray"),
    expression="d*(1 + p)/S", origin=_UFC,
    notes=("Thinner lowers the solids, so thinned paint needs a thicker wet film for the same dry one.",),
)

dry_film = Formula(
    "dry-film", "Dry film from a wet film, after thinning",
    inputs=(_WET, _SOLIDS, _THINNER),
    answer=Symbol("dry-film", "d", "µm", 0.05, 1000, "dry film left"),
    expression="h*S/(1 + p)", origin=_UFC,
)

spreading_rate = Formula(
    "spreading-rate", "Coverage of a litre (gallon)",
    inputs=(
        _SOLIDS, Symbol("dry-film", "d", "µm", 1, 500, "dry film wanted", 30),
        Symbol("transfer-efficiency", "E", "%", 5, 100, "share that lands", 65),
    ),
    answer=Symbol("coverage", "k", "m²/L", 0.01, 2000, "area for each litre (gallon) of unthinned paint"),
    expression="S*E/d", origin=_UFC,
    notes=("Bare wood, plaster and brick drink more. The tin's own figure is for a brush on a sealed surface.",),
)

thinned_solids = Formula(
    "thinned-solids", "Volume solids after thinning", inputs=(_SOLIDS, _THINNER), answer=Symbol("volume-solids", "s", "%", 0.5, 100, "volume solids of the mix"), expression="S/(1 + p)", origin=_UFC,
)
runs_times = Formula(
    "runs-times", "How much faster it runs than unthinned, for the same dry film",
    inputs=(
        _THINNER, Symbol("first-viscosity", "v0", "mm²/s", 0.5, 5000, "viscosity as supplied", 213.7, "\\nu_0"),
            Symbol("viscosity", "nu", "mm²/s", 0.01, 5000, "viscosity after the dose", 101, "\\nu"),
    ),
    answer=Symbol("times", "k", "×", 0.001, 10000, "times as much running down"), expression="(1 + p)**3*v0/nu", origin=_FILM,
    notes=("The wet film is thicker by what was added, and what runs goes with the film's third power.", _NEWTONIAN),
)

levelling_time = Formula(
    "levelling-time", "Time for ripples to level",
    inputs=(
        _VISCOSITY, Symbol("wavelength", "l", "mm", 0.1, 20, "ripple, crest to crest", 2, "\\lambda"),
        Symbol("surface-tension", "sg", "mN/m", 15, 75, "surface tension", 30, "\\sigma"), _WET,
    ),
    answer=Symbol("levelling-time", "tau", "s", 1e-6, 1e7, "time for a ripple to shrink to 37 %", tex="\\tau"),
    expression="3*eta*l**4/(16*pi**4*sg*h**3)", origin=Origin(Basis.MEMORY, "orchard-1962"), notes=(_NEWTONIAN,),
)

sag_speed = Formula(
    "sag-speed", "Speed of a sagging film on a wall",
    inputs=(_VISCOSITY, _DENSITY, _WET),
    answer=Symbol("sag-speed", "u", "mm/s", 0, 1e5, "speed of the film's surface"),
    expression="rho*g*h**2/(2*eta)", constants=(_G,), origin=_FILM, notes=(_NEWTONIAN,),
)

wall_flux = Formula(
    "wall-flux", "Paint running down each metre (foot) of wall",
    inputs=(_VISCOSITY, _DENSITY, _WET),
    answer=Symbol("flux", "q", "mm²/s", 0, 1e6, "volume running down, for each width"),
    expression="rho*g*h**3/(3*eta)", constants=(_G,), origin=_FILM, notes=(_NEWTONIAN,),
)

wall_stress = Formula(
    "wall-stress", "Pull of gravity on a wet film",
    inputs=(_DENSITY, _WET),
    answer=Symbol("stress", "tau", "Pa", 0, 1000, "shear stress at the wall", tex="\\tau"),
    expression="rho*g*h", constants=(_G,), origin=_FILM,
    notes=("A paint whose yield stress is higher than this does not run.",),
)

settling_in_liquid = Formula(
    "settling-in-liquid", "Pigment settling in the tin",
    inputs=(
        Symbol("particle-diameter", "d", "µm", 0.05, 20, "particle", 5),
        Symbol("density-difference", "dr", "kg/m³", 1, 8000, "heavier than the liquid by", 3200, "\\Delta\\rho"),
        Symbol("viscosity", "mu", "Pa·s", 0.0005, 100, "viscosity of the liquid", 0.1, "\\mu"),
    ),
    answer=Symbol("settling-speed", "v", "m/s", 0, 1, "speed of settling"),
    expression="g*dr*d**2/(18*mu)", constants=(_G,), origin=Origin(Basis.PUBLISHED, "stokes-1851"),
)

bubble_rise = Formula(
    "bubble-rise", "Time for a bubble to rise out of the pot",
    inputs=(
        Symbol("bubble-diameter", "d", "µm", 10, 2000, "bubble", 200), Symbol("depth", "z", "mm", 1, 1000, "depth it rises from", 100),
        _DENSITY, Symbol("viscosity", "eta", "Pa·s", 0.001, 100, "viscosity of the paint", 0.1, "\\eta"),
    ),
    answer=Symbol("rise-time", "t", "min", 0, 1e7, "time until it is out"),
    expression="18*eta*z/(rho*g*d**2)", constants=(_G,),
    conditions=(Condition("eta**2 - rho**2*g*d**3/18", "so big a bubble, or so thin a paint, that it rises differently from this slow law"),),
    origin=Origin(Basis.PUBLISHED, "stokes-1851"),
    notes=("A bubble with a dirty skin, as in paint, rises like a solid ball. A clean one is up to half as fast again.", _NEWTONIAN),
)

aim_for_minimum = Formula(
    "aim-for-minimum", "Mean film to aim for, to hold a minimum",
    inputs=(
        Symbol("minimum", "m", "µm", 1, 1000, "lowest film allowed", 60),
        Symbol("low-share", "q", "%", 20, 100, "share of the mean that 95 places in 100 reach", 70),
    ),
    answer=Symbol("mean", "a", "µm", 1, 5000, "mean to aim for"),
    expression="m/q", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("The share comes from the simulation of strokes, or from your own readings: lowest over mean.",),
)

low_share = Formula(
    "low-share", "Film that 95 places in 100 reach, from how it scatters",
    inputs=(Symbol("scatter", "s", "%", 0, 60, "standard deviation of the film over its mean", 20),
            Symbol("spreads", "z", "1", 1, 3, "standard deviations from the mean to the lowest twentieth", 1.65)),
    answer=Symbol("low-share", "q", "%", 5, 100, "share of the mean that 95 places in 100 reach"), expression="1 - z*s", origin=Origin(Basis.COMMON, "gum"),
    notes=("1.65 for a scatter like the errors of a scale. A fan that stripes at its step has its own figure, from the simulation of strokes.",),
)
least_film = Formula(
    "least-film", "Thinnest film, at 95 places in 100",
    inputs=(Symbol("wet-film", "h", "µm", 1, 1000, "mean wet film", 80), Symbol("low-share", "q", "%", 5, 100, "share of the mean that 95 places in 100 reach", 67)),
    answer=Symbol("least-film", "m", "µm", 0.05, 1000, "film that 95 places in 100 reach"), expression="h*q", origin=Origin(Basis.PUBLISHED, "mass-balance"),
)

ALL = (low_share, least_film, wet_film, dry_film, spreading_rate, thinned_solids, runs_times, levelling_time, sag_speed, wall_flux, wall_stress, settling_in_liquid, bubble_rise, aim_for_minimum)
