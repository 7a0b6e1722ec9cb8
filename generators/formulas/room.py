"""The room: vapour, clearing the air, noise."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Constant, Formula, Symbol

vapour_volume = Formula(
    "vapour-volume", "Vapour from a litre of solvent",
    inputs=(
        Symbol("density", "rho", "kg/L", 0.6, 1.7, "density of the solvent", 0.867, "\\rho"),
        Symbol("molar-mass", "M", "g/mol", 16, 400, "molar mass", 92.14),
        Symbol("temperature", "T", "°C", -20, 60, "air temperature", 21),
    ),
    answer=Symbol("vapour", "V", "m³/L", 0.01, 2, "vapour for each litre of liquid"),
    constants=(Constant("R", 8.314462618, "J/(mol·K)", "gas constant"), Constant("P", 101.325, "kPa", "pressure"),
               Constant("Z", 273.15, "Δ°C", "0 °C in kelvin", "T_0")),
    expression="rho*R*(T + Z)/(M*P)", origin=Origin(Basis.PUBLISHED, "ideal-gas"),
)

dilution_air = Formula(
    "dilution-air", "Air to keep a litre of solvent under a share of its explosive limit",
    inputs=(
        Symbol("vapour", "V", "m³/L", 0.01, 2, "vapour for each litre of liquid", 0.227),
        Symbol("explosive-limit", "L", "%", 0.3, 20, "lower explosive limit, % by volume", 1.0),
        Symbol("fraction", "f", "%", 1, 25, "share of that limit allowed", 25),
    ),
    answer=Symbol("air", "A", "m³/L", 0.1, 1e6, "air for each litre of liquid"),
    expression="(1 - L)*V/(L*f)", origin=Origin(Basis.MEMORY, "g-11"),
    notes=("Fire only. The air needed to breathe safely is many times more: see the safety data sheet, sections 8 and 9.",),
)

clearance_time = Formula(
    "clearance-time", "Minutes to clear the air",
    inputs=(
        Symbol("air-changes", "n", "1/h", 0.05, 200, "air changes an hour", 6),
        Symbol("removal", "r", "%", 1, 99.99, "share to be removed", 99),
    ),
    answer=Symbol("clearance-time", "t", "min", 0, 20000, "minutes of ventilating"),
    expression="log(1/(1 - r))/n", origin=Origin(Basis.PUBLISHED, "cdc-1994"),
    notes=("Perfect mixing, nothing more added. Real rooms take longer: the source allows up to ten times.",),
)

noise_exposure_time = Formula(
    "noise-exposure-time", "Time allowed at a noise level (3 dB rule)",
    inputs=(Symbol("level", "N", "dBA", 70, 120, "noise level at the ear", 91),),
    answer=Symbol("time", "t", "min", 0.05, 30000, "time allowed in a day"),
    constants=(Constant("D", 8, "h", "the day"), Constant("N0", 85, "dBA", "level for a whole day", "N_0"),
               Constant("q", 3, "dBA", "step that halves the time")),
    expression="D*2**((N0 - N)/q)", origin=Origin(Basis.PUBLISHED, "niosh-98-126"),
    notes=("US recommended limit, 85 dBA for 8 hours, halved for each 3 dB. Law differs by country.",),
)

ALL = (vapour_volume, dilution_air, clearance_time, noise_exposure_time)
