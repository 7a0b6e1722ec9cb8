"""What the last pots say of a paint, against what its handbook says: how steeply each thinned, their middle, and a 90 % band by their own scatter."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Condition, Constant, Formula, Symbol

_ARRHENIUS, _STATISTICS = Origin(Basis.COMMON, "arrhenius-1887"), Origin(Basis.COMMON, "gum")
_SUM, _MANY = Symbol("sum", "S", "1", -50, 50, "their sum", 0.24), Symbol("count", "n", "1", 1, 100, "pots", 6)
_MIDDLE = Symbol("middle", "m", "1", -10, 10, "middle of the logs", 0.04)

steepness_seen = Formula(
    "steepness-seen", "How steeply a pot thinned",
    inputs=(Symbol("first-viscosity", "v0", "mm²/s", 1, 5000, "viscosity as supplied", 213.7, "\\nu_0"), Symbol("viscosity", "nu", "mm²/s", 1, 5000, "viscosity after the dose", 166.5, "\\nu"),
            Symbol("thinner", "p", "%", 0.1, 60, "thinner in it, % of paint volume", 5)),
    answer=Symbol("steepness", "k", "1", 0.001, 100, "fall of the log of viscosity for each share of thinner in the mix"), expression="log(v0/nu)*(1 + p)/p",
    conditions=(Condition("v0 - nu*(1 + 1/10000)", "the dose must have made it run faster: stir, wait, and time it again"),), origin=_ARRHENIUS,
)
log_apart = Formula(
    "log-apart", "How far a pot thinned from what was told, as a log",
    inputs=(Symbol("told", "a", "1", 0.001, 100, "steepness as the handbook has it", 5.2), Symbol("seen", "k", "1", 0.001, 100, "steepness seen", 5)),
    answer=Symbol("apart", "x", "1", -20, 20, "log of thinner taken over thinner told"), expression="log(a/k)", origin=_STATISTICS,
)
log_squared = Formula(
    "log-squared", "Its square", inputs=(Symbol("apart", "x", "1", -20, 20, "a log", 0.04),), answer=Symbol("square", "q", "1", 0, 400, "its square"), expression="x**2", origin=_STATISTICS,
)
middle_of = Formula("middle-of", "Middle of several", inputs=(_SUM, _MANY), answer=_MIDDLE, expression="S/n", origin=_STATISTICS)
freedom_of = Formula(
    "freedom-of", "Degrees of freedom of several", inputs=(_MANY,), answer=Symbol("freedom", "f", "1", 1, 1000, "degrees of freedom"), expression="n - 1",
    constants=(Constant("least", 2.5, "1", "fewer say nothing", "n_\\mathrm{least}"),), conditions=(Condition("n - least", "fewer than three pots say nothing"),), origin=_STATISTICS,
)
half_of = Formula(
    "half-of-few", "Half the 90 % band of a middle",
    inputs=(_SUM, Symbol("squares", "Q", "1", 0, 200, "sum of their squares", 0.02), _MANY, Symbol("student", "t", "1", 1, 10, "Student's t", 2.015)),
    answer=Symbol("half", "h", "1", 0, 20, "half the band of the middle"), constants=(Constant("widest", 0.47, "1", "a factor of 1.6 either way", "h_\\mathrm{most}"),),
    expression="t*sqrt((Q - S**2/n + sqrt((Q - S**2/n)**2))/2/(n - 1)/n)",
    conditions=(Condition("widest - t*sqrt((Q - S**2/n + sqrt((Q - S**2/n)**2))/2/(n - 1)/n)", "they scatter so that they say nothing yet: time more"),), origin=_STATISTICS,
)
more_than = Formula(
    "more-than-told", "More than was told",
    inputs=(_MIDDLE, Symbol("half", "h", "1", 0, 20, "half the band of the middle", 0.03), Symbol("end", "e", "1", -1, 1, "−1: the low end; 0: the middle; 1: the high end", 0)),
    answer=Symbol("more", "x", "%", -99, 10_000, "more (below zero: less)"), expression="exp(m + e*h) - 1", origin=_STATISTICS,
)

ALL = (steepness_seen, log_apart, log_squared, middle_of, freedom_of, half_of, more_than)
