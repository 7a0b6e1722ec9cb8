"""Air and surface: dew point, margin, drying, overspray falling."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Condition, Constant, Formula, Let, Root, Symbol

_WMO = Origin(Basis.PUBLISHED, "wmo-8")
_PSYCHROMETER = Origin(Basis.PUBLISHED, "psychrometer")
_B = Constant("b", 17.62, "1", "Magnus, over water")
_C = Constant("c", 243.12, "Δ°C", "Magnus, over water")
_E0 = Constant("e0", 6.112, "hPa", "vapour pressure at 0 °C", "e_0")
# 6.53e-4 (1 + 0.000944 Tw) per °C times 1013.25 hPa: a ventilated wet bulb at sea level.
_PSY = Constant("y", 6.53e-4 * 1013.25, "hPa", "psychrometer, for each °C", "\\gamma")
_PSY_SLOPE = Constant("y1", 0.000944, "1/K", "psychrometer, growth with temperature", "\\gamma_1")
_ONE = Constant("one", 1, "Δ°C", "one degree", "1")
_AIR = Symbol("air-temperature", "T", "°C", -45, 60, "air temperature", 20)
_HUMIDITY = Symbol("relative-humidity", "H", "%", 1, 100, "relative humidity", 50)
_OVER_WATER = "Below freezing this is the dew point over water, as weather stations give it, and not the frost point."

dew_point = Formula(
    "dew-point", "Dew point",
    inputs=(_AIR, _HUMIDITY),
    answer=Symbol("dew-point", "D", "°C", -90, 60, "dew point", tex="T_d"),
    constants=(_B, _C),
    steps=(Let("x", "1", "log(H) + b*T/(c + T)", "", "x"),),
    expression="c*x/(b - x)", origin=_WMO, notes=(_OVER_WATER,),
)

dew_margin = Formula(
    "dew-margin", "Margin of a surface over the dew point",
    inputs=(Symbol("surface-temperature", "S", "°C", -45, 80, "surface temperature", 18, "T_s"), _AIR, _HUMIDITY),
    answer=Symbol("margin", "M", "Δ°C", -120, 170, "surface minus dew point"),
    constants=(_B, _C),
    steps=(Let("x", "1", "log(H) + b*T/(c + T)", "", "x"),),
    expression="S - c*x/(b - x)", origin=_WMO,
    notes=(_OVER_WATER, "Measure the surface itself, at its coldest: shade side, metal, bottom of the wall. The trend matters too."),
)


def _saturation(letter: str) -> str:
    return f"e0*exp(b*{letter}/(c + {letter}))"


def _wet_bulb(letter: str, air: str, humidity: str) -> str:
    """Psychrometer equation: what the wet bulb gains in vapour, it pays in warmth."""
    return f"{_saturation(letter)} - {humidity}*{_saturation(air)} - y*(1 + y1*{letter})*({air} - {letter})/one"


def _wet_bulb_slope(letter: str, air: str) -> str:
    """How the psychrometer equation grows with the wet bulb."""
    return f"{_saturation(letter)}*b*c/(c + {letter})**2 - y*(y1*({air} - {letter}) - (1 + y1*{letter}))/one"


drying_stretch = Formula(
    "drying-stretch", "How much longer water takes to leave than the data sheet says",
    inputs=(
        Symbol("air-temperature", "T", "°C", 1, 45, "air temperature", 10),
        Symbol("relative-humidity", "H", "%", 5, 97, "relative humidity", 75),
    ),
    answer=Symbol("stretch", "k", "×", 0.05, 100, "times the data sheet's time at 23 °C (73 °F) and 50 %"),
    constants=(_B, _C, _E0, _PSY, _PSY_SLOPE, _ONE,
               Constant("T0", 23, "Δ°C", "the data sheet's temperature", "T_0"), Constant("H0", 50, "%", "its humidity", "H_0")),
    steps=(
        Root("U", "°C", _wet_bulb("U", "T", "H"), "T", "wet bulb now", "T_w", slope=_wet_bulb_slope("U", "T")),
        Root("U0", "°C", _wet_bulb("U0", "T0", "H0"), "T0", "wet bulb at 23 °C (73 °F), 50 %", "T_{w0}", slope=_wet_bulb_slope("U0", "T0")),
        Let("F", "hPa", f"{_saturation('U')} - H*{_saturation('T')}", "evaporation deficit now", "F"),
        Let("F0", "hPa", f"{_saturation('U0')} - H0*{_saturation('T0')}", "deficit at 23 °C (73 °F), 50 %", "F_0"),
    ),
    expression="F0/F", origin=_PSYCHROMETER,
    notes=("Water leaving in equal, still air. Not film formation: below the paint's own minimum no wait helps.",
           "Not for solvent paint, oil or two-pack: they cure by other clocks."),
)

_DRY_BULB = Symbol("dry-bulb", "T", "°C", -10, 60, "dry bulb", 20)
_WET_BULB = Symbol("wet-bulb", "U", "°C", -10, 60, "wet bulb", 15, "T_w")
_VAPOUR = Let("e", "hPa", f"{_saturation('U')} - y*(1 + y1*U)*(T - U)/one", "vapour pressure")
_WETTER = Condition("T - U + one/1000000", "the wet bulb cannot read above the dry bulb: wet the wick and read again")
_ANY_VAPOUR = Condition("e/e0", "the two bulbs are too far apart for this equation")

dew_from_wet_bulb = Formula(
    "dew-from-wet-bulb", "Dew point from dry and wet bulb",
    inputs=(_DRY_BULB, _WET_BULB),
    answer=Symbol("dew-point", "D", "°C", -60, 60, "dew point", tex="T_d"),
    constants=(_B, _C, _E0, _PSY, _PSY_SLOPE, _ONE),
    steps=(_VAPOUR, Let("x", "1", "log(e/e0)")), conditions=(_WETTER, _ANY_VAPOUR),
    expression="c*x/(b - x)", origin=_PSYCHROMETER, notes=("A ventilated wet bulb at sea level.",),
)

humidity_from_wet_bulb = Formula(
    "humidity-from-wet-bulb", "Relative humidity from dry and wet bulb",
    inputs=(_DRY_BULB, _WET_BULB),
    answer=Symbol("relative-humidity", "H", "%", 1, 101, "relative humidity"),
    constants=(_B, _C, _E0, _PSY, _PSY_SLOPE, _ONE), steps=(_VAPOUR,), conditions=(_WETTER, _ANY_VAPOUR),
    expression=f"e/({_saturation('T')})", origin=_PSYCHROMETER, notes=("A ventilated wet bulb at sea level.",),
)

settling_speed = Formula(
    "settling-speed", "How fast overspray falls",
    inputs=(
        Symbol("droplet-diameter", "d", "µm", 1, 80, "droplet", 20),
        Symbol("density", "rho", "kg/m³", 600, 3000, "density of the droplet", 1000, "\\rho"),
    ),
    answer=Symbol("settling-speed", "v", "mm/s", 0.001, 1000, "speed of fall in still air"),
    constants=(Constant("g", 9.80665, "m/s²", "standard gravity"),
               Constant("mu", 1.81e-5, "Pa·s", "viscosity of air at 20 °C", "\\mu"),
               Constant("ra", 1.2046, "kg/m³", "density of air at 20 °C", "\\rho_a")),
    expression="g*rho*d**2/(18*mu)",
    conditions=(Condition("1/2 - ra*g*rho*d**3/(18*mu**2)", "too big or heavy a droplet: it falls slower than this simple law says"),),
    origin=Origin(Basis.PUBLISHED, "stokes-1851"),
    notes=("Still air. A breeze carries it for as long as it falls, and turbulence carries it further.",),
)

air_density = Formula(
    "air-density", "Density of dry air at sea level",
    inputs=(_AIR,), answer=Symbol("density", "rho", "kg/m³", 0.5, 2, "density of dry air"),
    constants=(Constant("P", 101.325, "kPa", "pressure"), Constant("R", 287.058, "J/(kg·K)", "gas constant of dry air"),
               Constant("Z", 273.15, "Δ°C", "0 °C in kelvin", "T_0")),
    expression="P/(R*(T + Z))", origin=Origin(Basis.PUBLISHED, "ideal-gas"),
)

air_viscosity = Formula(
    "air-viscosity", "Viscosity of dry air",
    inputs=(_AIR,), answer=Symbol("viscosity", "mu", "Pa·s", 1e-5, 3e-5, "dynamic viscosity of dry air"),
    constants=(Constant("m0", 1.716e-5, "Pa·s", "viscosity at 0 °C", "\\mu_0"), Constant("Z", 273.15, "Δ°C", "0 °C in kelvin", "T_0"),
               Constant("Su", 110.4, "Δ°C", "Sutherland's temperature", "S")),
    expression="m0*((T + Z)/Z)**(3/2)*(Z + Su)/(T + Z + Su)", origin=Origin(Basis.MEMORY, "iso-2533"),
)

worst_dew_margin = Formula(
    "worst-dew-margin", "Margin with instruments at their worst",
    inputs=(
        Symbol("surface-temperature", "S", "°C", -45, 80, "surface temperature, as read", 18, "T_s"), _AIR, _HUMIDITY,
        Symbol("humidity-error", "dH", "%", 0, 20, "humidity may be off by", 3, "\\Delta H"),
        Symbol("air-error", "dT", "Δ°C", 0, 5, "air temperature may be off by", 0.5, "\\Delta T"),
        Symbol("surface-error", "dS", "Δ°C", 0, 5, "surface temperature may be off by", 1, "\\Delta T_s"),
    ),
    answer=Symbol("margin", "M", "Δ°C", -120, 170, "margin at the worst"),
    constants=(_B, _C),
    steps=(
        Let("Hw", "1", "H + dH", "humidity at its worst", "H_w"), Let("Tw", "°C", "T + dT", "air at its worst", "T_w"),
        Let("x", "1", "log(Hw) + b*Tw/(c + Tw)"),
    ),
    expression="S - dS - c*x/(b - x)", conditions=(Condition("1001/1000 - H - dH", "with that error the air may be full: treat the surface as wet"),), origin=_WMO,
    notes=("All three errors on the bad side at once. " + _OVER_WATER,),
)

cure_stretch = Formula(
    "cure-stretch", "How much longer a cure takes than the data sheet says",
    inputs=(Symbol("air-temperature", "T", "°C", 1, 45, "air and surface temperature", 13),),
    answer=Symbol("stretch", "k", "×", 0.1, 20, "times the data sheet's time at 23 °C (73 °F)"),
    constants=(Constant("T0", 23, "Δ°C", "the data sheet's temperature", "T_0"), Constant("d", 10, "Δ°C", "step that doubles it")),
    expression="exp(log(2)*(T0 - T)/d)", origin=Origin(Basis.MEMORY, "ten-degrees"),
    notes=("For solvent paint, oil and two-pack, roughly. It says nothing about the data sheet's lowest temperature: below that they may never cure.",),
)

drift_distance = Formula(
    "drift-distance", "How far a droplet drifts before it lands",
    inputs=(
        Symbol("settling-speed", "v", "mm/s", 0.01, 1000, "speed of fall", 12),
        Symbol("height", "h", "m", 0.1, 10, "height it starts from", 1.5),
        Symbol("wind", "w", "m/s", 0, 20, "wind", 1),
    ),
    answer=Symbol("distance", "x", "m", 0, 100000, "distance down the wind"),
    expression="h*w/v", origin=Origin(Basis.PUBLISHED, "stokes-1851"),
    notes=("A steady wind over flat ground. Gusts and turbulence carry it further, and it does not come down all in one place.",),
)

water_life = Formula(
    "water-life", "How long the water in a droplet lasts",
    inputs=(
        Symbol("droplet-diameter", "d", "µm", 1, 200, "droplet", 50),
        Symbol("air-temperature", "T", "°C", 1, 45, "air temperature", 20),
        Symbol("relative-humidity", "H", "%", 5, 97, "relative humidity", 50),
    ),
    answer=Symbol("time", "t", "s", 0.0001, 10000, "until it is dust or thick paint"),
    constants=(_B, _C, _E0, _PSY, _PSY_SLOPE, _ONE, Constant("Dv", 2.4e-5, "m²/s", "spreading of vapour in air", "D_v"), Constant("Rv", 461.5, "J/(kg·K)", "gas constant of vapour", "R_v"),
               Constant("rl", 1000, "kg/m³", "density of water", "\\rho_w"), Constant("Z", 273.15, "Δ°C", "0 °C in kelvin", "T_0")),
    steps=(
        Root("U", "°C", _wet_bulb("U", "T", "H"), "T", "wet bulb", "T_w", slope=_wet_bulb_slope("U", "T")),
        Let("s", "kg/m³", f"({_saturation('U')})/(Rv*(U + Z)) - H*({_saturation('T')})/(Rv*(T + Z))", "vapour it gives off", "\\Delta\\rho"),
    ),
    expression="rl*d**2/(8*Dv*s)", origin=Origin(Basis.MEMORY, "d-square-law"),
    notes=("A drop of pure water in still air, at its wet bulb. Solvent paint and oil stay sticky for minutes.",),
)

ALL = (dew_point, dew_margin, drying_stretch, dew_from_wet_bulb, humidity_from_wet_bulb, settling_speed, air_density, air_viscosity, worst_dew_margin, cure_stretch, drift_distance, water_life)
