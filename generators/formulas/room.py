"""The room: vapour, clearing the air, noise."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Constant, Formula, Let, Symbol

vapour_volume = Formula(
    "vapour-volume", "Vapour from a litre (gallon) of solvent",
    inputs=(
        Symbol("density", "rho", "kg/L", 0.6, 1.7, "density of the solvent", 0.867, "\\rho"),
        Symbol("molar-mass", "M", "g/mol", 16, 400, "molar mass", 92.14),
        Symbol("temperature", "T", "°C", -20, 60, "air temperature", 21),
    ),
    answer=Symbol("vapour", "V", "m³/L", 0.01, 2, "vapour for each litre (gallon) of liquid"),
    constants=(Constant("R", 8.314462618, "J/(mol·K)", "gas constant"), Constant("P", 101.325, "kPa", "pressure"),
               Constant("Z", 273.15, "Δ°C", "0 °C in kelvin", "T_0")),
    expression="rho*R*(T + Z)/(M*P)", origin=Origin(Basis.PUBLISHED, "ideal-gas"),
)

dilution_air = Formula(
    "dilution-air", "Air to keep a litre (gallon) of solvent under a share of its explosive limit",
    inputs=(
        Symbol("vapour", "V", "m³/L", 0.01, 2, "vapour for each litre (gallon) of liquid", 0.227),
        Symbol("explosive-limit", "L", "%", 0.3, 20, "lower explosive limit, % by volume", 1.0),
        Symbol("fraction", "f", "%", 1, 25, "share of that limit allowed", 25),
    ),
    answer=Symbol("air", "A", "m³/L", 0.1, 1e6, "air for each litre (gallon) of liquid"),
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

_PPM = Symbol("limit", "L", "ppm", 0.001, 10000, "limit in the air", 50)
_LIMIT_AT = Symbol("temperature", "T", "°C", 15, 30, "temperature that the list of limits is for", 20)
_GAS = (Constant("R", 8.314462618, "J/(mol·K)", "gas constant"), Constant("P", 101.325, "kPa", "pressure"), Constant("Z", 273.15, "Δ°C", "0 °C in kelvin", "T_0"))

breathing_air = Formula(
    "breathing-air", "Air to bring a litre (gallon) of solvent down to its limit to breathe",
    inputs=(Symbol("vapour", "V", "m³/L", 0.01, 2, "vapour for each litre (gallon) of liquid", 0.227), _PPM),
    answer=Symbol("air", "A", "m³/L", 1, 1e9, "air for each litre (gallon) of liquid"),
    expression="V/L", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("Perfect mixing, and nothing else in the air. Real rooms want several times as much. No figure here says that air may be breathed.",),
)

fire_over_breathing = Formula(
    "fire-over-breathing", "How many times the limit to breathe a share of the explosive limit is",
    inputs=(Symbol("explosive-limit", "L", "%", 0.3, 20, "lower explosive limit, % by volume", 1.0), Symbol("fraction", "f", "%", 1, 25, "share of that limit", 10),
            Symbol("limit", "B", "ppm", 0.001, 10000, "limit to breathe", 50)),
    answer=Symbol("times", "n", "×", 0.01, 1e6, "times the limit to breathe"),
    expression="L*f/B", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("Safe from fire is not safe to breathe.",),
)

limit_by_weight = Formula(
    "limit-by-weight", "A limit in ppm as weight in each cubic metre (cubic meter)",
    inputs=(_PPM, Symbol("molar-mass", "M", "g/mol", 16, 400, "molar mass", 106.17), _LIMIT_AT),
    answer=Symbol("concentration", "C", "mg/m³", 0, 1e6, "the same limit"), constants=_GAS,
    expression="L*M*P/(R*(T + Z))", origin=Origin(Basis.PUBLISHED, "ideal-gas"),
    notes=("Lists of limits hold for 20 °C (68 °F) in the UK and the EU, and for 25 °C (77 °F) in most other places.",),
)

limit_by_volume = Formula(
    "limit-by-volume", "A limit by weight as parts in a million",
    inputs=(Symbol("concentration", "C", "mg/m³", 0.0001, 100000, "limit by weight", 350), Symbol("molar-mass", "M", "g/mol", 16, 400, "molar mass", 142), _LIMIT_AT),
    answer=Symbol("limit", "L", "ppm", 0, 1e6, "the same limit"), constants=_GAS,
    expression="C*R*(T + Z)/(M*P)", origin=Origin(Basis.PUBLISHED, "ideal-gas"),
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

_ROOM = Symbol("volume", "V", "m³", 1, 10000, "room", 30)
_CHANGES = Symbol("air-changes", "n", "1/h", 0.05, 200, "air changes an hour", 6)
_MIXING = Symbol("mixing", "m", "1", 1, 10, "mixing factor: 1 perfect, 3 an ordinary room, 10 a bad one", 3)
_MASS_BALANCE = Origin(Basis.PUBLISHED, "mass-balance")

room_vapour = Formula(
    "room-vapour", "Solvent in the air at the end of spraying",
    inputs=(
        Symbol("paint", "L", "L", 0.01, 100, "mix sprayed", 0.5), Symbol("voc", "c", "g/L", 0, 1700, "VOC of the mix", 400),
        Symbol("spraying", "t", "min", 0.5, 600, "spread over", 10), _ROOM, _CHANGES, _MIXING,
    ),
    answer=Symbol("concentration", "C", "mg/m³", 0, 2e6, "solvent in the air"),
    steps=(Let("k", "1/h", "n/m", "changes that count", "k"),),
    expression="L*c/t/(k*V)*(1 - exp(-k*t))", origin=_MASS_BALANCE,
    notes=("A well-mixed room, all the solvent in the air at once, none before. Corners and low places hold more.",),
)

room_vapour_after = Formula(
    "room-vapour-after", "Solvent left in the air after a while",
    inputs=(Symbol("concentration", "C0", "mg/m³", 0, 2e6, "solvent at the end of spraying", 3000, "C_0"), Symbol("after", "t", "min", 0, 5000, "minutes of ventilating", 30), _CHANGES, _MIXING),
    answer=Symbol("concentration", "C", "mg/m³", 0, 2e6, "solvent left"),
    expression="C0*exp(-n*t/m)", origin=_MASS_BALANCE, notes=("Wet paint goes on giving off solvent: the real air clears more slowly.",),
)

explosive_share = Formula(
    "explosive-share", "Share of the lower explosive limit",
    inputs=(
        Symbol("concentration", "C", "mg/m³", 0, 2e6, "solvent in the air", 4000),
        Symbol("explosive-limit", "L", "%", 0.3, 20, "lower explosive limit, % by volume", 1.1),
        Symbol("molar-mass", "M", "g/mol", 16, 400, "molar mass", 92.14),
        Symbol("temperature", "T", "°C", -20, 60, "air temperature", 20),
    ),
    answer=Symbol("share", "x", "%", 0, 1000, "of the lower explosive limit"),
    constants=(Constant("R", 8.314462618, "J/(mol·K)", "gas constant"), Constant("P", 101.325, "kPa", "pressure"), Constant("Z", 273.15, "Δ°C", "0 °C in kelvin", "T_0")),
    expression="C*R*(T + Z)/(L*M*P)", origin=Origin(Basis.PUBLISHED, "ideal-gas"),
    notes=("The room's mean. Near the gun and the wet work it is many times more. A mist burns far below its liquid's flash point.",),
)

noise_time_5db = Formula(
    "noise-exposure-time-5db", "Time allowed at a noise level (5 dB rule)",
    inputs=(Symbol("level", "N", "dBA", 80, 115, "noise level at the ear", 91),),
    answer=Symbol("time", "t", "min", 0.5, 30000, "time allowed in a day"),
    constants=(Constant("D", 8, "h", "the day"), Constant("N0", 90, "dBA", "level for a whole day", "N_0"), Constant("q", 5, "dBA", "step that halves the time")),
    expression="D*2**((N0 - N)/q)", origin=Origin(Basis.PUBLISHED, "osha-1910-95"),
    notes=("US law's permissible limit, 90 dBA for 8 hours, halved for each 5 dB. The 3 dB rule protects better.",),
)

noise_at_distance = Formula(
    "noise-at-distance", "Noise further away, outdoors",
    inputs=(
        Symbol("level", "N", "dBA", 30, 130, "level measured", 85), Symbol("measured-at", "a", "m", 0.2, 50, "measured at", 1), Symbol("distance", "d", "m", 0.2, 200, "ear at", 4),
    ),
    answer=Symbol("level", "M", "dBA", 0, 150, "level there"),
    constants=(Constant("u", 1, "dBA", "one decibel", "1"),),
    expression="N - 20*u*log(d/a)/log(10)", origin=Origin(Basis.MEMORY, "inverse-square"),
    notes=("Six decibels less for each doubling, in the open. Indoors walls send it back: it hardly falls.",),
)

noise_sum = Formula(
    "noise-sum", "Two noises together",
    inputs=(Symbol("first", "N1", "dBA", 30, 130, "first level", 85, "N_1"), Symbol("second", "N2", "dBA", 30, 130, "second level", 82, "N_2")),
    answer=Symbol("level", "M", "dBA", 30, 140, "both together"),
    constants=(Constant("u", 1, "dBA", "one decibel", "1"),),
    expression="10*u*log(exp(log(10)*N1/(10*u)) + exp(log(10)*N2/(10*u)))/log(10)", origin=Origin(Basis.PUBLISHED, "energy-sum"),
    notes=("Two equal noises are 3 decibels more than one.",),
)

ALL = (vapour_volume, dilution_air, breathing_air, fire_over_breathing, limit_by_weight, limit_by_volume,
       clearance_time, noise_exposure_time, room_vapour, room_vapour_after, explosive_share, noise_time_5db, noise_at_distance, noise_sum)
