"""The day at the bench: times of day, temperatures a little off, and the next pour. Small sums that the day's chain needs by name."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Formula, Let, Symbol

_BOOKS = Origin(Basis.COMMON, "book-keeping")
_BALANCE = Origin(Basis.PUBLISHED, "mass-balance")
_WEEK = 20_160.0  # minutes in two weeks, either way of midnight

time_after = Formula(
    "time-after", "A time of day, so many hours later",
    inputs=(Symbol("start", "a", "min", -_WEEK, _WEEK, "minutes after midnight", 600), Symbol("wait", "w", "h", 0, 3000, "hours to wait", 5)),
    answer=Symbol("time", "t", "min", -_WEEK, 200_000, "minutes after midnight"), expression="a + w", origin=_BOOKS,
)
clean_by_time = Formula(
    "clean-by-time", "When a two-pack is out of the gun",
    inputs=(Symbol("start", "a", "min", -_WEEK, _WEEK, "mixed at, minutes after midnight", 600), Symbol("pot-life", "L", "min", 0.5, 20_000, "pot life today", 120),
            Symbol("share", "k", "%", 1, 100, "share of the pot life that may be used", 75)),
    answer=Symbol("time", "t", "min", -_WEEK, 50_000, "minutes after midnight"), expression="a + k*L", origin=_BOOKS,
)
time_left = Formula(
    "time-left", "Hours until a time of day",
    inputs=(Symbol("now", "a", "min", -_WEEK, _WEEK, "now, minutes after midnight", 600), Symbol("then", "b", "min", -_WEEK, 200_000, "then, minutes after midnight", 900)),
    answer=Symbol("left", "d", "h", -3000, 6000, "hours left (below zero: gone by)"), expression="b - a", origin=_BOOKS,
)
warmer_by = Formula(
    "warmer-by", "A temperature with a difference on top",
    inputs=(Symbol("temperature", "T", "°C", -90, 90, "temperature", 10), Symbol("difference", "d", "Δ°C", 0, 40, "difference", 3)),
    answer=Symbol("temperature", "S", "°C", -90, 130, "temperature so much higher"), expression="T + d", origin=_BOOKS,
)
colder_by = Formula(
    "colder-by", "A temperature less a difference",
    inputs=(Symbol("temperature", "T", "°C", -90, 90, "temperature", 30), Symbol("difference", "d", "Δ°C", 0, 40, "difference", 2)),
    answer=Symbol("temperature", "S", "°C", -130, 90, "temperature so much lower"), expression="T - d", origin=_BOOKS,
)
stretched_wait = Formula(
    "stretched-wait", "The data sheet's hours in this air",
    inputs=(Symbol("hours", "h", "h", 0.05, 2000, "hours on the data sheet", 5), Symbol("stretch", "k", "×", 0.05, 100, "times as long in this air", 1.4)),
    answer=Symbol("hours", "w", "h", 0.001, 3000, "hours in this air"), expression="h*k", origin=_BOOKS,
)
middle_distance = Formula(
    "middle-distance", "Middle of a kit's reach",
    inputs=(Symbol("near", "a", "mm", 25, 1000, "nearest", 125), Symbol("far", "b", "mm", 25, 1000, "farthest", 250)),
    answer=Symbol("distance", "d", "mm", 25, 1000, "gun to surface"), expression="(a + b)/2", origin=_BOOKS,
)
step_share = Formula(
    "step-share", "The step as a share of the fan",
    inputs=(Symbol("step", "s", "mm", 2, 1000, "from one stroke to the next", 90), Symbol("fan-width", "w", "mm", 10, 3000, "width of the fan", 200)),
    answer=Symbol("share", "k", "%", 0.1, 1000, "share of the fan"), expression="s/w", origin=Origin(Basis.PUBLISHED, "geometry"),
)
stroke_seconds = Formula(
    "stroke-seconds", "Seconds for one stroke",
    inputs=(Symbol("length", "L", "m", 0.1, 10, "length of the stroke", 1), Symbol("gun-speed", "v", "m/s", 0.01, 3, "speed of the gun", 0.25)),
    answer=Symbol("time", "t", "s", 0.03, 1000, "seconds for the stroke"), expression="L/v", origin=Origin(Basis.PUBLISHED, "geometry"),
)
thinner_by_steepness = Formula(
    "thinner-by-steepness", "Thinner in all, from one viscosity and how steeply paints thin",
    inputs=(
        Symbol("first-viscosity", "v0", "mm²/s", 1, 5000, "viscosity as supplied", 213.7, "\\nu_0"),
        Symbol("wanted-viscosity", "vt", "mm²/s", 1, 5000, "viscosity wanted", 100, "\\nu_\\mathrm{target}"),
        Symbol("steepness-by-paint", "k", "1", 0.5, 20, "fall of the log of viscosity for thinner as much as the paint: over paint, not over the mix", 5),
    ),
    answer=Symbol("thinner", "p", "%", -500, 500, "thinner in all, % of paint volume (below zero: thin enough)"), expression="log(v0/vt)/k", origin=Origin(Basis.COMMON, "arrhenius-1887"),
    notes=("For a first pour only: paints differ by three times and more.",),
)
thinner_to_add = Formula(
    "thinner-to-add", "Thinner to pour now",
    inputs=(
        Symbol("litres", "V", "L", 0.01, 100, "mix in the pot now", 0.8), Symbol("thinner-now", "q", "%", 0, 150, "thinner already in it, % of paint volume", 5),
        Symbol("thinner", "p", "%", 0, 150, "thinner wanted in all, % of paint volume", 8),
    ),
    answer=Symbol("dose", "d", "mL", -50_000, 60_000, "thinner to pour (below zero: too thin already)"), expression="V*(p - q)/(1 + q)", origin=_BALANCE,
)
thinner_by_volume = Formula(
    "thinner-by-volume", "A dose by weight as a share by volume",
    inputs=(Symbol("weight-share", "w", "%", 0, 100, "thinner, % of paint weight", 5), Symbol("density", "a", "kg/L", 0.6, 3, "density of the paint", 1.2, "\\rho_a"),
            Symbol("thinner-density", "b", "kg/L", 0.6, 1.7, "density of the thinner", 0.8, "\\rho_b")),
    answer=Symbol("thinner", "p", "%", 0, 300, "thinner, % of paint volume"), expression="w*a/b", origin=_BALANCE,
)
clearing_time = Formula(
    "clearing-time", "Minutes to clear the air of a real room",
    inputs=(Symbol("air-changes", "n", "1/h", 0.05, 200, "air changes an hour", 6), Symbol("removal", "r", "%", 1, 99.99, "share to be removed", 99),
            Symbol("mixing", "m", "1", 1, 10, "mixing factor: 1 perfect, 3 an ordinary room, 10 a bad one", 3)),
    answer=Symbol("time", "t", "min", 0, 200_000, "minutes of ventilating"), steps=(Let("k", "1/h", "n/m", "changes that count", "k"),),
    expression="log(1/(1 - r))/k", origin=Origin(Basis.PUBLISHED, "cdc-1994"), notes=("Nothing more given off. Wet solvent paint goes on giving off: the real air clears more slowly.",),
)

ALL = (time_after, clean_by_time, time_left, warmer_by, colder_by, stretched_wait, middle_distance, step_share, stroke_seconds, thinner_by_steepness,
       thinner_to_add, thinner_by_volume, clearing_time)
