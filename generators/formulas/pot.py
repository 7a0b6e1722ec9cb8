"""The pot: how much thinner by three laws of dilution, what the law leaves room for, the way back, and two-pack by either scale.

Two timings fix each law. On every dilution curve that was found the line in thinner over paint asks for least and crowded spheres for most;
the line in the share of the mix lies between them (`studies/dilution.py` weighs them). So the band goes from the first to the last.
"""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Condition, Constant, Formula, Let, Symbol


def _less(a: str, b: str) -> str:
    """The lesser of two, in letters a formula may use: exactly `b` where `a` is far over it, so that a cap is the cap to the last digit."""
    return f"(({b}) - (({b}) - ({a}) + sqrt((({b}) - ({a}))**2))/2)"


def _more(a: str, b: str) -> str:
    return f"(({a}) + ({b}) + sqrt((({a}) - ({b}))**2))/2"


_BALANCE = Origin(Basis.PUBLISHED, "mass-balance")
_ARRHENIUS = Origin(Basis.COMMON, "arrhenius-1887")
_SPHERES = Origin(Basis.COMMON, "krieger-1959")
_FIRST = Symbol("first-viscosity", "v0", "mm²/s", 1, 5000, "viscosity as supplied", 213.7, "\\nu_0")
_DOSE = Symbol("trial-thinner", "p1", "%", 0.5, 60, "thinner in it at the last timing, % of paint volume", 5, "p_1")
_LAST = Symbol("trial-viscosity", "v1", "mm²/s", 1, 5000, "viscosity at the last timing", 144.4, "\\nu_1")
_WANTED = Symbol("wanted-viscosity", "vt", "mm²/s", 1, 5000, "viscosity wanted", 100, "\\nu_\\mathrm{target}")
_THINNER = Symbol("thinner", "p", "%", 0, 150, "total thinner, % of paint volume", 10)
_IN_ALL = Symbol("thinner", "p", "%", -100, 500, "thinner in all, % of paint volume (below the last dose: thin enough)")
_AFTER = Symbol("viscosity", "nu", "mm²/s", 0.01, 5000, "viscosity after the dose", tex="\\nu")
_LEAST = Constant("least", 0.002, "1", "a fall smaller than this is none that a watch sees", "f_\\mathrm{least}")
_CROWD = (Constant("e", 1.575, "1", "2.5 times the share at which spheres lock, 0.63"),)
_MOST = Constant("most", 5.9, "1", "paint and thinner over paint at which every law stops: no sheet allows 490 %", "p_\\mathrm{most}")


_FALL = Let("f", "1", _more("log(v0/v1)", "least"), "fall at the last timing")

thinner_paint_line = Formula(
    "thinner-for-viscosity", "Thinner in all, on a line in thinner over paint",
    inputs=(_FIRST, _DOSE, _LAST, _WANTED), answer=_IN_ALL, constants=(_LEAST, _MOST), steps=(_FALL,),
    expression=_less("p1*(f + log(v1/vt))/f", "most - 1"), origin=Origin(Basis.COMMON, "arrhenius-1887"),
    notes=("It stops short on every published curve that was found: the least that any law asks for, so the one for the next pour.",),
)
thinner_share_line = Formula(
    "thinner-by-share-line", "Thinner in all, on a line in its share of the mix",
    inputs=(_FIRST, _DOSE, _LAST, _WANTED), answer=_IN_ALL, constants=(_LEAST, _MOST),
    steps=(_FALL, Let("m", "1", "p1/(1 + p1)*(f + log(v1/vt))/f", "share of the mix"), Let("mc", "1", _less("m", "1 - 1/most"), "share of the mix, held under all thinner", "m_c")),
    expression="mc/(1 - mc)", origin=_ARRHENIUS,
    notes=("Arrhenius's law as he wrote it, in the share of the mix. Of three laws it lies in the middle.", "It is a forecast: pour the safe part of it, and time it again."),
)
thinner_crowded = Formula(
    "thinner-by-crowding", "Thinner in all, for crowded spheres",
    inputs=(_FIRST, _DOSE, _LAST, _WANTED), answer=_IN_ALL, constants=(*_CROWD, _LEAST, _MOST),
    steps=(
        _FALL, Let("r", "1", "exp(f/e)", "fall at the last timing, as a ratio of room"), Let("R", "1", "exp((f + log(v1/vt))/e)", "fall wanted"),
        Let("x", "1", "(r - 1)/(r - 1/(1 + p1))", "solids over the share at which they lock"),
        Let("D", "1", _more("1 - R*(1 - x)", "x/most"), "room left"),
    ),
    expression="x/D - 1", origin=_SPHERES,
    notes=("Solids that stand nearly locked lose their thickness at the first drops, and slowly after that. The most that any law asks for.",),
)
viscosity_share_line = Formula(
    "viscosity-by-share-line", "Viscosity after a dose, on a line in the share of the mix",
    inputs=(_FIRST, _DOSE, _LAST, _THINNER), answer=_AFTER,
    expression="v0*exp(-p/(1 + p)*(1 + p1)/p1*log(v0/v1))", origin=_ARRHENIUS,
)
viscosity_crowded = Formula(
    "viscosity-by-crowding", "Viscosity after a dose, for crowded spheres",
    inputs=(_FIRST, _DOSE, _LAST, _THINNER), answer=_AFTER, constants=(*_CROWD, _LEAST),
    steps=(_FALL, Let("r", "1", "exp(f/e)", "fall at the last timing, as a ratio of room"), Let("x", "1", "(r - 1)/(r - 1/(1 + p1))", "solids over the share at which they lock")),
    expression="v0*exp(-e*log((1 - x/(1 + p))/(1 - x)))", origin=_SPHERES,
)
viscosity_steep = Formula(
    "viscosity-by-steepness", "Viscosity after a dose, of a paint whose thinning was measured",
    inputs=(_FIRST, _THINNER, Symbol("steepness", "k", "1", 0.5, 20, "fall of the log of viscosity for each share of thinner in the mix, not over paint", 5.2)), answer=_AFTER,
    expression="v0*exp(-k*p/(1 + p))", origin=_ARRHENIUS,
)
viscosity_scaled = Formula(
    "viscosity-scaled", "A viscosity, as much off as another",
    inputs=(Symbol("viscosity", "v", "mm²/s", 0.01, 5000, "viscosity", 100, "\\nu"), Symbol("wanted", "a", "mm²/s", 1, 5000, "taken for another", 210, "\\nu_a"),
            Symbol("given", "b", "mm²/s", 1, 5000, "what that other may be", 213.7, "\\nu_b")),
    answer=_AFTER, expression="v*a/b", origin=_BALANCE,
)
thinner_parabola = Formula(
    "thinner-by-parabola", "Thinner in all, on a curve through three timings",
    inputs=(
        _FIRST, Symbol("middle-thinner", "pa", "%", 0.5, 60, "thinner at the middle timing", 3, "p_a"), Symbol("middle-viscosity", "va", "mm²/s", 1, 5000, "viscosity then", 166.5, "\\nu_a"),
        _DOSE, _LAST, _WANTED,
    ),
    answer=_IN_ALL,
    steps=(
        Let("ma", "1", "pa/(1 + pa)", tex="m_a"), Let("mb", "1", "p1/(1 + p1)", tex="m_b"),
        Let("b", "1", "(log(v0/v1)/mb - log(v0/va)/ma)/(mb - ma)", "bend"), Let("a", "1", "log(v0/va)/ma - b*ma", "slope at the first drop"),
        Let("root", "1", "a + sqrt(a**2 + 4*b*log(v0/vt))"), Let("m", "1", "2*log(v0/vt)/root", "share of the mix"),
    ),
    expression="m/(1 - m)",
    conditions=(Condition("p1 - pa", "the middle timing comes before the last"), Condition("a**2 + 4*b*log(v0/vt)", "the curve turns before it gets so thin"),
        Condition("1 - m", "it would be all thinner")),
    origin=_ARRHENIUS,
    notes=("Grunberg and Nissan's bend, fixed by a third timing. With a perfect watch the best of all; with a second of doubt worse than the line, so no dose is worked by it.",),
)
fall_seen = Formula(
    "fall-seen", "A forecast from a dose that was felt",
    inputs=(Symbol("thinner", "p", "%", -100, 500, "thinner in all, by the forecast", 8), Symbol("timed", "t", "%", 0, 150, "thinner at the last timing", 5), _FIRST, _LAST),
    answer=Symbol("thinner", "q", "%", -100, 500, "thinner in all"), expression="p", constants=(Constant("hair", 1e-9, "1", "nothing in it yet: nothing to feel"),),
    conditions=(Condition("v0 - v1*1.0001*t/(t + hair)", "the dose must have made it run faster: stir, wait, and time it again"),), origin=_BALANCE,
)
half_band = Formula(
    "half-band", "How sure, either way",
    inputs=(Symbol("low", "a", "%", -500, 500, "least", 7), Symbol("high", "b", "%", -500, 1000, "most", 11)),
    answer=Symbol("band", "u", "%", 0, 500, "either way"), expression="(b - a)/2", origin=_BALANCE,
    constants=(Constant("most", 0.15, "1", "wider than this says nothing", "u_\\mathrm{most}"),),
        conditions=(Condition("most - (b - a)/2", "too wide to say anything: pour the safe part, and time again"),),
)
within_reach = Formula(
    "within-reach", "A forecast no further than three times what was timed",
    inputs=(Symbol("thinner", "p", "%", -100, 500, "thinner in all, by the forecast", 8), Symbol("timed", "t", "%", 0, 150, "thinner at the last timing", 5),
        Symbol("reach", "k", "×", 1, 10, "so many times", 3)),
    answer=Symbol("thinner", "q", "%", -100, 500, "thinner in all"), expression="p",
    conditions=(Condition("k*t - p + 1e-9", "more than three times what was timed: pour, and time again"),), origin=_BALANCE,
)
share_reach = Formula(
    "share-reach", "As far as two timings can be trusted",
    inputs=(Symbol("timed", "t", "%", 0, 150, "thinner at the last timing", 5), Symbol("first-dose", "d", "%", 0.1, 30, "a first dose, where nothing is in it yet", 5),
        Symbol("reach", "k", "×", 1, 10, "so many times", 3)),
    answer=Symbol("thinner", "q", "%", 0.1, 1500, "most thinner in all before the next timing"), expression="k*t + d*hair**2/(t**2 + hair**2)", origin=_BALANCE,
    constants=(Constant("hair", 1e-9, "1", "nothing in it yet: a first dose"),),
)
share_more = Formula(
    "share-more", "A small dose more than is in it",
    inputs=(Symbol("thinner", "p", "%", 0, 150, "thinner in it, % of paint volume", 5), Symbol("dose", "d", "%", -500, 500, "what is to be added", 1)),
    answer=Symbol("thinner", "q", "%", -500, 700, "thinner in all"), expression="p + d", origin=_BALANCE,
    notes=("Below zero: thinner than wanted already.",),
)
overshoot = Formula(
    "overshoot-chance", "Chance that a dose makes it thinner than wanted",
    inputs=(
        Symbol("dose", "d", "%", 0, 200, "thinner in all after the dose", 7), Symbol("low", "a", "%", -500, 500, "least that the forecast asks for", 7),
            Symbol("likely", "m", "%", -500, 500, "likely", 8.5),
        Symbol("high", "b", "%", -500, 1000, "most", 11),
    ),
    answer=Symbol("chance", "c", "%", 0, 100, "share of pots that pass the mark"),
    constants=(Constant("z", 1.645, "1", "spreads from the likely value to either end of a 90 % band"), Constant("s", 1.702, "1", "a logistic curve stands in for the normal one, within 1 %"),
        Constant("hair", 1e-6, "1", "no band is of nothing")),
    steps=(
        Let("below", "1", _less("d - m", "0"), "how far under the likely dose"), Let("above", "1", _more("d - m", "0"), "how far over it"),
        Let("u", "1", "z*(below/(m - a + hair) + above/(b - m + hair))", "in spreads"),
    ),
    expression="1/(1 + exp(-s*u))", origin=Origin(Basis.COMMON, "gum"),
    conditions=(Condition("m - a + hair", "the least is over the likely"), Condition("b - m + hair", "the most is under the likely")),
    notes=("The band is taken as nine pots in ten. The laws' own spread is in it, and errs to the safe side on every published curve.",),
)
law_room = Formula(
    "law-room", "Most thinner that keeps a VOC limit",
    inputs=(
        Symbol("voc", "V", "g/L", 0, 1700, "VOC as its rule counts it", 280), Symbol("thinner-density", "rho", "g/L", 0, 1700, "VOC of the thinner: its density, 0 for water", 780, "\\rho"),
        Symbol("limit", "L", "g/L", 1, 1700, "limit, ready to use", 300),
    ),
    answer=Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume (150: more than any sheet allows)"),
    constants=(Constant("most", 1.5, "1", "more than any sheet allows", "p_\\mathrm{most}"), Constant("hair", 0.001, "g/L", "no room divided by nothing")),
    steps=(Let("free", "g/L", _more("L - V", "0*L"), "room under the limit"), Let("each", "g/L", _more("rho - L", "hair"), "what a part of thinner adds")),
    expression=_less("free/each", "most"), origin=_BALANCE,
)
paint_to_add = Formula(
    "paint-to-add", "Unthinned paint to put back",
    inputs=(
        Symbol("litres", "V", "L", 0.01, 100, "mix in the pot now", 0.8), Symbol("thinner-now", "q", "%", 0, 150, "thinner already in it, % of paint volume", 12),
        Symbol("thinner", "p", "%", 0.1, 150, "thinner wanted in all, % of paint volume", 8),
    ),
    answer=Symbol("paint", "U", "mL", 0, 1_000_000, "unthinned paint of the same batch"),
    expression=_more("V/(1 + q)*(q/p - 1)", "0*V"), origin=_BALANCE,
    notes=("Two-pack: mix what goes back at its ratio first. The oldest mix in the pot keeps the clock.",),
)
weight_of = Formula(
    "weight-of", "Weight of a volume",
    inputs=(Symbol("volume", "V", "mL", -1_000_000, 1_000_000, "volume", 40), Symbol("density", "rho", "kg/L", 0.6, 3, "density", 0.88, "\\rho")),
    answer=Symbol("weight", "m", "g", -3_000_000, 3_000_000, "on the scale"), expression="V*rho", origin=_BALANCE,
)
_A, _B = Symbol("base-density", "a", "kg/L", 0.6, 3, "density of the base", 1.4, "\\rho_a"), Symbol("hardener-density", "b", "kg/L", 0.6, 3, "density of the hardener", 0.98, "\\rho_b")
_MIX = Symbol("mix-density", "m", "kg/L", 0.6, 3, "density of the mix", 1.316, "\\rho_m")
_RATIO = Symbol("ratio", "r", "1", 0.05, 500, "parts of base to one of hardener, by volume", 4)
_BY_WEIGHT = Symbol("weight-ratio", "w", "1", 0.05, 500, "parts of base to one of hardener, by weight", 5.714)
mix_density = Formula(
    "mix-density", "Density of the mixed two-pack", inputs=(_RATIO, _A, _B), answer=Symbol("density", "m", "kg/L", 0.6, 3, "density of the mix"),
    expression="(r*a + b)/(1 + r)", origin=_BALANCE, notes=("Volumes are taken to add up.",),
)
base_of_mix = Formula(
    "base-of-mix", "Density of the base, where the sheet gives the mix's", inputs=(_RATIO, _MIX, _B), answer=Symbol("density", "a", "kg/L", 0.6, 3, "density of the base"),
    expression="((1 + r)*m - b)/r", origin=_BALANCE, notes=("Volumes are taken to add up.",),
)
base_of_mix_by_weight = Formula(
    "base-of-mix-by-weight", "Density of the base, from the mix's and a ratio by weight", inputs=(_BY_WEIGHT, _MIX, _B), answer=Symbol("density", "a", "kg/L", 0.6, 3, "density of the base"),
    expression="w/((1 + w)/m - 1/b)", conditions=(Condition("(1 + w)/m - 1/b", "the hardener alone fills more than the mix: check the densities"),), origin=_BALANCE,
)
volume_ratio = Formula(
    "volume-ratio", "Ratio by weight to ratio by volume", inputs=(_BY_WEIGHT, _A, _B), answer=Symbol("ratio", "r", "1", 0.05, 500, "parts of base to one of hardener, by volume"),
    expression="w*b/a", origin=_BALANCE,
)
part_a = Formula(
    "part-a", "Base for a batch", inputs=(Symbol("batch", "V", "L", 0.02, 100, "mixed batch wanted", 1), _RATIO), answer=Symbol("base", "u", "mL", 0.1, 100_000, "base"),
    expression="V*r/(1 + r)", origin=_BALANCE,
)
pot_life_at = Formula(
    "pot-life-at", "Pot life at today's temperature and in so full a pot",
    inputs=(
        Symbol("pot-life", "L", "h", 0.05, 48, "pot life on the data sheet", 2), Symbol("sheet-temperature", "Ts", "°C", 0, 45, "temperature it is given for", 23, "T_s"),
        Symbol("temperature", "T", "°C", 0, 45, "temperature of the mix", 30), Symbol("rate", "k", "×", 1, 5, "times as fast for each 10 °C (18 °F)", 2),
        Symbol("batch", "V", "L", 0.01, 200, "mix in one pot", 1), Symbol("sample", "V0", "L", 0.01, 20, "what the sheet timed", 0.1, "V_0"),
        Symbol("self-heating", "n", "1", 0, 0.3, "how much a bigger pot warms itself: power of its volume", 0.05),
    ),
    answer=Symbol("pot-life", "t", "min", 0.5, 20000, "pot life today"), constants=(Constant("d", 10, "Δ°C", "step"),),
    steps=(Let("bigger", "1", _more("log(V/V0)", "0"), "log of times bigger than the sheet's sample"),),
    expression="L*exp(-log(k)*(T - Ts)/d)*exp(-n*bigger)", origin=Origin(Basis.MEMORY, "ten-degrees"),
    notes=("1.5 to 2.5 times for each 10 °C (18 °F): the shorter end counts, so warmth takes much off and cold gives little.",
           "A pot fifty times the sheet's sample loses a fifth to its own heat: worked from a balance of heat, no measured series was found. Solvent-free: pour it out flat."),
)

clean_minutes = Formula(
    "clean-minutes", "Minutes until a two-pack is out of the gun",
    inputs=(Symbol("pot-life", "L", "min", 0.5, 20_000, "pot life today", 120), Symbol("share", "k", "%", 1, 100, "share of the pot life that may be used", 75)),
    answer=Symbol("time", "t", "min", 0.1, 20_000, "minutes after mixing"), expression="k*L", origin=_BALANCE,
)

ALL = (
    clean_minutes, thinner_paint_line, thinner_share_line, thinner_crowded, viscosity_share_line, viscosity_crowded, viscosity_steep, viscosity_scaled, thinner_parabola, fall_seen, half_band,
    within_reach, share_reach, share_more, overshoot, law_room, paint_to_add, weight_of, mix_density, base_of_mix, base_of_mix_by_weight, volume_ratio, part_a, pot_life_at,
)
