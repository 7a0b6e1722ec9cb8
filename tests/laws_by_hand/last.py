"""What the last pots say, by hand: textbook statistics of a few figures, from their sum and the sum of their squares."""

from __future__ import annotations

import math

from laws_by_hand.law import law


@law("steepness-seen", "0.001 to 100 1", mostly={"first_viscosity": "150 to 400 mm²/s", "viscosity": "80 to 140 mm²/s", "thinner": "2 to 30 %"},
     also=({"first_viscosity": 100, "viscosity": 99.995, "thinner": 5}, {"first_viscosity": 100, "viscosity": 99.98, "thinner": 5}),
     first_viscosity="1 to 5000 mm²/s", viscosity="1 to 5000 mm²/s", thinner="0.1 to 60 %")
def _(first_viscosity, viscosity, thinner):
    """The fall of the log over the share of the mix that fell it (common practice: Arrhenius); a fall of one in ten thousand at least."""
    if first_viscosity <= 1.0001 * viscosity:
        return "must have made it run faster"
    return math.log(2) * math.log2(first_viscosity / viscosity) / (thinner / (100 + thinner))


@law("log-apart", "-20 to 20 1", told="0.001 to 100 1", seen="0.001 to 100 1")
def _(told, seen):
    """In tens, and a ten in logs."""
    return math.log(10) * (math.log10(told) - math.log10(seen))


@law("log-squared", "0 to 400 1", apart="-20 to 20 1")
def _(apart):
    """A square with such a side."""
    return abs(apart) * abs(apart)


@law("middle-of", "-10 to 10 1", sum="-50 to 50 1", count="1 to 100 1")
def _(sum, count):
    """Shared out."""
    return sum * (1 / count)


@law("freedom-of", "1 to 1000 1", count="1 to 100 1", also=({"count": 2}, {"count": 3}, {"count": 2.49}, {"count": 2.51}))
def _(count):
    """One is spent on the middle; of two, nothing is said (the handbook's own choice)."""
    return "fewer than three" if count <= 2.5 else -1 + count


@law("half-of-few", "0 to 20 1", slack=lambda student, **_: 1e-8 * student, mostly={"sum": "-0.5 to 0.5 1", "squares": "0.1 to 0.5 1", "count": "3 to 12 1", "student": "1.8 to 3 1"},
     also=({"sum": 0.6, "squares": 0.05, "count": 6, "student": 2}, {"sum": 0.6, "squares": 0.06, "count": 6, "student": 2}, {"sum": 0.6, "squares": 0.07, "count": 6, "student": 2},
           {"sum": 0.24, "squares": 0.02, "count": 6, "student": 2.015}),
     sum="-50 to 50 1", squares="0 to 200 1", count="1 to 100 1", student="1 to 10 1")
def _(sum, squares, count, student):
    """Squares about the middle, over one less than there are; its root over the root of their number; so many times. Nothing scatters less than not at all; wider than a factor of 1.6: no figure.
    Where they do not scatter at all, the last digits of two sums are what is left: a hundred-millionth."""
    middle = sum / count
    about = max(0.0, squares - 2 * middle * sum + count * middle**2)
    if count <= 1:
        return "scatter"
    half = student * math.sqrt(about / (count - 1)) / math.sqrt(count)
    return "scatter" if half >= 0.47 else half


@law("more-than-told", "-99 to 10000 %", mostly={"middle": "-1 to 1 1", "half": "0 to 0.5 1"}, middle="-10 to 10 1", half="0 to 20 1", end="-1 to 1 1")
def _(middle, half, end):
    """A log back to a share."""
    return 100 * math.expm1(middle) + 100 * math.exp(middle) * math.expm1(half * end)
