"""The mixing bench: cups, thinning, label limits."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Choice, Condition, Constant, Formula, Let, Symbol

_CUP = Choice(
    "cup", "the cup, by name", example="iso-4",
    constants=(
        Constant("A", 1.0, "mm²/s²", "slope of the cup"),
        Constant("B", 1.0, "mm²", "fall-off at short times"),
        Constant("C", 1.0, "s", "dead time of the cup"),
    ),
)
# The law of every cup in the table: the ISO and DIN cups have C = 0, the Ford, Zahn and Shell cups B = 0.
_CUP_LAW = Origin(Basis.MEMORY, "iso-2431")
_NEWTONIAN = "A cup speaks only for paint that runs like oil. A gel or a thixotropic paint gives a time that means nothing."

cup_viscosity = Formula(
    "cup-viscosity", "Cup time to viscosity",
    inputs=(Symbol("time", "t", "s", 1, 600, "time to the first break of the stream", 60),),
    answer=Symbol("viscosity", "nu", "mm²/s", 0.5, 5000, "kinematic viscosity", tex="\\nu"),
    expression="A*(t - C) - B/t", choice=_CUP, origin=_CUP_LAW,
    notes=(_NEWTONIAN, "Dip cups (Zahn, Shell) are indicative only: two laboratories differ by up to 33 %."),
)

cup_time = Formula(
    "cup-time", "Viscosity to cup time",
    inputs=(Symbol("viscosity", "nu", "mm²/s", 0.5, 5000, "kinematic viscosity", 80, "\\nu"),),
    answer=Symbol("time", "t", "s", 1, 600, "time to the first break of the stream"),
    expression="(A*C + nu + sqrt((A*C + nu)**2 + 4*A*B))/(2*A)", choice=_CUP, origin=_CUP_LAW, notes=(_NEWTONIAN,),
)

dynamic_viscosity = Formula(
    "dynamic-viscosity", "From the cup's viscosity to the one that runs and levels",
    inputs=(
        Symbol("viscosity", "nu", "mm²/s", 0.5, 5000, "kinematic viscosity, by the cup", 80, "\\nu"),
        Symbol("density", "rho", "kg/m³", 600, 3000, "density of the wet paint", 1200, "\\rho"),
    ),
    answer=Symbol("dynamic-viscosity", "eta", "Pa·s", 0.0001, 20, "dynamic viscosity", tex="\\eta"),
    expression="nu*rho", origin=_CUP_LAW, notes=("This follows from what the two words mean. " + _NEWTONIAN,),
)

thinner_for_target = Formula(
    "thinner-for-target", "Thinner for a target cup time, from two timings",
    inputs=(
        Symbol("first-time", "t0", "s", 1, 600, "cup time as supplied", 60, "t_0"),
        Symbol("trial-thinner", "p1", "%", 0.5, 30, "first small dose, % of paint volume", 5, "p_1"),
        Symbol("trial-time", "t1", "s", 1, 600, "cup time after the first dose", 42, "t_1"),
        Symbol("target-time", "tt", "s", 1, 600, "cup time wanted", 31, "t_\\mathrm{target}"),
    ),
    answer=Symbol("thinner", "p", "%", 0, 60, "total thinner, % of paint volume"),
    steps=(
        Let("v0", "mm²/s", "A*(t0 - C) - B/t0", "viscosity as supplied", "\\nu_0"),
        Let("v1", "mm²/s", "A*(t1 - C) - B/t1", "viscosity after the first dose", "\\nu_1"),
        Let("vt", "mm²/s", "A*(tt - C) - B/tt", "viscosity wanted", "\\nu_\\mathrm{target}"),
    ),
    expression="p1*log(v0/vt)/log(v0/v1)",
    conditions=(
        Condition("t0 - tt", "it is already at or under the target: add nothing"),
        Condition("t0 - t1", "the first dose must have made it run faster: stir, wait, and time it again"),
    ),
    choice=_CUP, origin=Origin(Basis.COMMON, "arrhenius-1887"),
    notes=("Worked in viscosity and not in seconds: a straight line through the seconds stops short. Straight in thinner over paint, it stops a little short of its own: the safe side.",
           "Stop at the data sheet's maximum, whatever this says. Time it again after every dose."),
)

thinned_viscosity = Formula(
    "thinned-viscosity", "Viscosity after a dose, from one trial dose",
    inputs=(
        Symbol("first-viscosity", "v0", "mm²/s", 1, 5000, "viscosity as supplied", 213.7, "\\nu_0"),
        Symbol("trial-thinner", "p1", "%", 0.5, 30, "first small dose, % of paint volume", 5, "p_1"),
        Symbol("trial-viscosity", "v1", "mm²/s", 1, 5000, "viscosity after the first dose", 144.4, "\\nu_1"),
        Symbol("thinner", "p", "%", 0, 60, "total thinner, % of paint volume", 10),
    ),
    answer=Symbol("viscosity", "nu", "mm²/s", 0.5, 5000, "viscosity after the dose", tex="\\nu"),
    expression="v0*exp(p/p1*log(v1/v0))", origin=Origin(Basis.COMMON, "arrhenius-1887"),
    notes=("A log line in thinner over paint, through two timings. Past the last timing real paint stays a little thicker. It is a forecast: time it again.",),
)

pot_thinner = Formula(
    "pot-thinner", "Thinner for a full pot",
    inputs=(
        Symbol("pot", "V", "L", 0.05, 100, "pot, filled with paint and thinner together", 1),
        Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume", 10),
    ),
    answer=Symbol("dose", "q", "mL", 0, 60000, "thinner in the full pot"),
    expression="V*p/(1 + p)", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("10 % of the paint is 9.1 % of the mix.",),
)

voc_after_thinning = Formula(
    "voc-after-thinning", "VOC ready to use after thinning",
    inputs=(
        Symbol("voc", "V", "g/L", 0, 900, "VOC as supplied", 300),
        Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume", 10),
        Symbol("thinner-density", "rho", "g/L", 0, 1700, "VOC of the thinner: its density, 0 for water", 780, "\\rho"),
    ),
    answer=Symbol("voc", "W", "g/L", 0, 1700, "VOC of the mix"),
    expression="(V + p*rho)/(1 + p)", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("Counts the whole product (the EU and UK basis). Water thins this figure; it does not thin the US one.",),
)

thinner_headroom = Formula(
    "thinner-headroom", "Thinner that still keeps a VOC limit",
    inputs=(
        Symbol("voc", "V", "g/L", 0, 900, "VOC as supplied", 280),
        Symbol("thinner-density", "rho", "g/L", 1, 1700, "density of the thinner", 780, "\\rho"),
        Symbol("limit", "L", "g/L", 1, 900, "limit, ready to use", 300),
    ),
    answer=Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume"),
    expression="(L - V)/(rho - L)",
    conditions=(Condition("rho - L", "a thinner lighter than the limit can never reach it"),
                Condition("L - V", "it is at or over the limit before any thinner: add none")),
    origin=Origin(Basis.PUBLISHED, "mass-balance"),
)

voc_per_solids = Formula(
    "voc-per-solids", "VOC for each litre (gallon) of solids",
    inputs=(
        Symbol("voc", "V", "g/L", 0, 870, "VOC, less water", 336),
        Symbol("solvent-density", "rho", "g/L", 500, 1700, "density of the solvent", 882, "\\rho"),
    ),
    answer=Symbol("voc", "S", "g/L", 0, 100000, "VOC for each litre (gallon) of solids"),
    expression="V/(1 - V/rho)", conditions=(Condition("rho - V", "the paint would be all solvent"),),
    origin=Origin(Basis.PUBLISHED, "method-24"),
)

voc_less_water = Formula(
    "voc-less-water", "VOC counted less water (US basis)",
    inputs=(
        Symbol("density", "rho", "kg/L", 0.6, 3, "density of the paint", 1.2, "\\rho"),
        Symbol("volatile", "Wv", "%", 0, 100, "volatile, % by weight", 50, "W_v"),
        Symbol("water", "Ww", "%", 0, 100, "water, % by weight", 40, "W_w"),
    ),
    answer=Symbol("voc", "V", "g/L", 0, 2000, "VOC less water"),
    constants=(Constant("rw", 1.0, "kg/L", "density of water", "\\rho_w"),),
    expression="(Wv - Ww)*rho/(1 - Ww*rho/rw)",
    conditions=(Condition("1 - Ww*rho/rw", "it would be all water"),),
    origin=Origin(Basis.MEMORY, "method-24"),
)

log_mixing = Formula(
    "log-mixing", "Viscosity of a blend, on a log line",
    inputs=(
        Symbol("paint-viscosity", "a", "mPa·s", 0.1, 1e5, "viscosity of the paint", 100, "\\eta_1"),
        Symbol("thinner-viscosity", "b", "mPa·s", 0.1, 1e5, "viscosity of the thinner", 0.5, "\\eta_2"),
        Symbol("paint-fraction", "w", "%", 0, 100, "share of paint", 90),
    ),
    answer=Symbol("viscosity", "eta", "mPa·s", 0.05, 1e5, "viscosity of the blend"),
    expression="a*exp((1 - w)*log(b/a))", origin=Origin(Basis.MEMORY, "arrhenius-1887"),
    notes=("A first estimate only: most paints thin faster than this.",),
)

relative_viscosity = Formula(
    "relative-viscosity", "How solids thicken a paint",
    inputs=(
        Symbol("solids-fraction", "phi", "1", 0, 0.7, "volume share of solids", 0.3, "\\phi"),
        Symbol("packing-limit", "phm", "1", 0.5, 0.75, "share at which it locks solid", 0.63, "\\phi_m"),
    ),
    answer=Symbol("relative-viscosity", "etar", "1", 1, 1e4, "times the liquid's own viscosity"),
    constants=(Constant("K", 2.5, "1", "intrinsic viscosity of spheres", "[\\eta]"),),
    expression="exp(-K*phm*log(1 - phi/phm))",
    conditions=(Condition("phm - phi", "it is packed solid: nothing flows"),),
    origin=Origin(Basis.PUBLISHED, "krieger-1959"),
)

glycerol_viscosity = Formula(
    "glycerol-viscosity", "Viscosity of glycerol and water",
    inputs=(
        Symbol("mass-fraction", "c", "%", 0, 100, "glycerol, % by weight", 80),
        Symbol("temperature", "T", "°C", 0, 100, "temperature of the liquid", 23),
    ),
    answer=Symbol("viscosity", "mu", "mPa·s", 0.1, 20000, "dynamic viscosity", tex="\\mu"),
    constants=(
        Constant("mw", 1.790, "mPa·s", "water at 0 °C", "\\mu_{w0}"), Constant("mg", 12100, "mPa·s", "glycerol at 0 °C", "\\mu_{g0}"),
        Constant("w1", 1230, "K", "water", "w_1"), Constant("w2", 36100, "K²", "water", "w_2"), Constant("w3", 360, "K", "water", "w_3"),
        Constant("g1", 1233, "K", "glycerol", "g_1"), Constant("g2", 9900, "K²", "glycerol", "g_2"), Constant("g3", 70, "K", "glycerol", "g_3"),
        Constant("a0", 0.705, "1", "blend", "a_0"), Constant("a1", 0.0017, "1/K", "blend", "a_1"),
        Constant("b0", 4.9, "1", "blend", "b_0"), Constant("b1", 0.036, "1/K", "blend", "b_1"),
    ),
    steps=(
        Let("muw", "mPa·s", "mw*exp((-w1 - T)*T/(w2 + w3*T))", "viscosity of water", "\\mu_w"),
        Let("mug", "mPa·s", "mg*exp((-g1 + T)*T/(g2 + g3*T))", "viscosity of glycerol", "\\mu_g"),
        Let("a", "1", "a0 - a1*T"), Let("b", "1", "(b0 + b1*T)*a**(5/2)"),
        Let("alpha", "1", "1 - c + a*b*c*(1 - c)/(a*c + b*(1 - c))", "weight of water in the blend", "\\alpha"),
    ),
    expression="mug*exp(alpha*log(muw/mug))", origin=Origin(Basis.PUBLISHED, "cheng-2008"),
    notes=("Near 80 % an error of 1 % in weight moves the viscosity 11 %; 1 °C (1.8 °F) moves it 6 %. Weigh it.",),
)

glycerol_density = Formula(
    "glycerol-density", "Density of glycerol and water",
    inputs=(
        Symbol("mass-fraction", "c", "%", 0, 100, "glycerol, % by weight", 80),
        Symbol("temperature", "T", "°C", 0, 100, "temperature of the liquid", 23),
    ),
    answer=Symbol("density", "rho", "kg/m³", 900, 1300, "density of the blend", tex="\\rho"),
    constants=(
        Constant("g0", 1277, "kg/m³", "glycerol at 0 °C", "\\rho_{g0}"), Constant("gs", 0.654, "kg/m³", "glycerol for each °C", "s_g"),
        Constant("w0", 1000, "kg/m³", "water at 4 °C", "\\rho_{w0}"), Constant("T4", 4, "Δ°C", "densest water", "T_4"),
        Constant("ks", 622, "Δ°C", "water", "k_w"), Constant("one", 1, "Δ°C", "one degree"),
    ),
    steps=(
        Let("rhog", "kg/m³", "g0 - gs*T/one", "density of glycerol", "\\rho_g"),
        Let("rhow", "kg/m³", "w0*(1 - exp(17/10*log(sqrt((T - T4)**2)/ks + 1e-30)))", "density of water", "\\rho_w"),
    ),
    expression="(c/rhog + (1 - c)/rhow)**(-1)", origin=Origin(Basis.PUBLISHED, "cheng-2008"),
    notes=("Volumes are taken to add up; the blend is really up to 1 % denser.",),
)

share_of_mix = Formula(
    "share-of-mix", "Thinner as a share of the mix",
    inputs=(Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume", 10),),
    answer=Symbol("share", "m", "%", 0, 60, "thinner, % of the mix"),
    expression="p/(1 + p)", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("10 % of the paint is 9.1 % of the mix. Data sheets mean the paint unless they say otherwise.",),
)

topped_up_thinner = Formula(
    "topped-up-thinner", "Thinner to add when a half-full pot is topped up",
    inputs=(
        Symbol("left", "V", "L", 0, 100, "thinned paint still in the pot", 0.4),
        Symbol("thinner-now", "q", "%", 0, 150, "thinner already in it, % of paint volume", 8),
        Symbol("fresh", "W", "L", 0.01, 100, "paint added, as supplied", 0.5),
        Symbol("thinner", "p", "%", 0, 150, "thinner wanted in all, % of paint volume", 8),
    ),
    answer=Symbol("dose", "d", "mL", 0, 60000, "thinner to add now"),
    steps=(Let("U", "L", "V/(1 + q)", "paint in what is left"),),
    expression="p*(U + W) - q*U",
    conditions=(Condition("p*(U + W) - q*U + (V + W)*1e-13", "there is more thinner in the pot already: add paint, not thinner"),),
    origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("Thinner counts from the first tin to the last: topping up with the same dose each time passes the maximum.",),
)

dose_uncertainty = Formula(
    "dose-uncertainty", "How sure a dose is, from the watch and the thermometer",
    inputs=(
        Symbol("first-time", "t0", "s", 1, 600, "cup time as supplied", 60, "t_0"),
        Symbol("trial-thinner", "p1", "%", 0.5, 30, "first small dose, % of paint volume", 5, "p_1"),
        Symbol("trial-time", "t1", "s", 1, 600, "cup time after the first dose", 42, "t_1"),
        Symbol("target-time", "tt", "s", 1, 600, "cup time wanted", 31, "t_\\mathrm{target}"),
        Symbol("timing-error", "e", "s", 0, 10, "error of one timing", 1),
        Symbol("temperature-error", "w", "Δ°C", 0, 10, "drift of the paint between the two timings", 1),
        Symbol("viscosity-slope", "b", "1/K", 0, 0.15, "fall of viscosity for each degree, as a share", 0.03),
    ),
    answer=Symbol("uncertainty", "u", "%", 0, 100, "either way, % of paint volume"),
    steps=(
        Let("v0", "mm²/s", "A*(t0 - C) - B/t0", "viscosity as supplied", "\\nu_0"),
        Let("v1", "mm²/s", "A*(t1 - C) - B/t1", "viscosity after the first dose", "\\nu_1"),
        Let("vt", "mm²/s", "A*(tt - C) - B/tt", "viscosity wanted", "\\nu_\\mathrm{target}"),
        Let("L0", "1", "log(v0/vt)", tex="L_0"), Let("L1", "1", "log(v0/v1)", tex="L_1"),
        Let("e0", "1", "e*(A + B/t0**2)/v0", "share of error in the first", "\\epsilon_0"),
        Let("e1", "1", "sqrt((e*(A + B/t1**2)/v1)**2 + (b*w)**2)", "share of error in the second", "\\epsilon_1"),
    ),
    expression="p1*sqrt((e0*(1/L1 - L0/L1**2))**2 + (e1*L0/L1**2)**2)",
    conditions=(
        Condition("t0 - tt", "it is already at or under the target: add nothing"),
        Condition("t0 - t1", "the first dose must have made it run faster: stir, wait, and time it again"),
    ),
    choice=_CUP, origin=Origin(Basis.MEMORY, "gum"),
    notes=("First-order propagation, with the errors taken as independent. A dose with a wide band is added in two halves.",),
)

warmed_viscosity = Formula(
    "warmed-viscosity", "Viscosity at another temperature",
    inputs=(
        Symbol("viscosity", "v0", "mm²/s", 0.5, 5000, "viscosity now", 150, "\\nu_0"),
        Symbol("temperature", "T", "°C", 0, 40, "temperature of the paint now", 10),
        Symbol("wanted-temperature", "Tw", "°C", 0, 40, "temperature asked about", 23, "T_w"),
        Symbol("viscosity-slope", "b", "1/K", -0.03, 0.12, "fall of viscosity for each degree, as a share (below zero: it rises)", 0.03),
    ),
    answer=Symbol("viscosity", "nu", "mm²/s", 0.5, 5000, "viscosity there", tex="\\nu"),
    expression="v0*exp(-b*(Tw - T))", origin=Origin(Basis.COMMON, "arrhenius-1887"),
    notes=("A log line over a few degrees. Your own two timings at two temperatures beat it.",),
)

tin_warming = Formula(
    "tin-warming", "Time for a cold tin to warm",
    inputs=(
        Symbol("volume", "V", "L", 0.1, 30, "paint in a round tin, as high as it is wide", 5),
        Symbol("start", "T0", "°C", -10, 40, "temperature of the paint now", 5, "T_0"),
        Symbol("room", "Tr", "°C", 5, 45, "temperature of the room", 20, "T_r"),
        Symbol("wanted-temperature", "Tw", "°C", 0, 40, "temperature wanted", 18, "T_w"),
    ),
    answer=Symbol("time", "t", "h", 0, 200, "time to stand"),
    constants=(Constant("h", 8.0, "W/(m²·K)", "heat from still air"), Constant("c", 3.2, "MJ/(m³·K)", "heat that paint holds")),
    steps=(Let("D", "m", "(4*V/pi)**(1/3)", "width of the tin"),),
    expression="c*D/(6*h)*log((Tr - T0)/(Tr - Tw))",
    conditions=(Condition("Tr - Tw", "the room is not warmer than that: it never gets there"),
                Condition("Tw - T0", "it is already that warm")),
    origin=Origin(Basis.MEMORY, "newton-cooling"),
    notes=("Still air, the tin on its own, stirred now and then: unstirred paint is warm at the skin and cold in the middle.",
           "Never on a heater or a flame: a warm room or a bucket of warm water, lid loose."),
)

part_b = Formula(
    "part-b", "Hardener for a batch",
    inputs=(
        Symbol("batch", "V", "L", 0.02, 100, "mixed batch wanted", 1),
        Symbol("ratio", "r", "1", 0.2, 100, "parts of base to one of hardener, by volume", 4),
    ),
    answer=Symbol("hardener", "h", "mL", 0.1, 60000, "hardener"),
    expression="V/(1 + r)", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("Never less than the makers' smallest split of a kit. Never a guess: a wrong ratio stays soft for ever.",),
)

weight_ratio = Formula(
    "weight-ratio", "Ratio by volume to ratio by weight",
    inputs=(
        Symbol("ratio", "r", "1", 0.2, 100, "parts of base to one of hardener, by volume", 4),
        Symbol("base-density", "a", "kg/L", 0.6, 3, "density of the base", 1.4, "\\rho_a"),
        Symbol("hardener-density", "b", "kg/L", 0.6, 3, "density of the hardener", 1.0, "\\rho_b"),
    ),
    answer=Symbol("ratio", "w", "1", 0.05, 500, "parts of base to one of hardener, by weight"),
    expression="r*a/b", origin=Origin(Basis.PUBLISHED, "mass-balance"),
)

ALL = (cup_viscosity, cup_time, dynamic_viscosity, thinner_for_target, thinned_viscosity, pot_thinner, voc_after_thinning, thinner_headroom, voc_per_solids, voc_less_water,
       log_mixing, relative_viscosity, glycerol_viscosity, glycerol_density,
       share_of_mix, topped_up_thinner, dose_uncertainty, warmed_viscosity, tin_warming, part_b, weight_ratio)
