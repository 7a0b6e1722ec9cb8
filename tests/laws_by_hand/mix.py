"""Cups, thinning and label limits, by hand. Where a law names no source it is a balance of mass or volume."""

from __future__ import annotations

import math

from by_hand import CUPS, read_in_cup, thickness

from laws_by_hand.law import Span, grown, halving, law, slope_of

# One cup of each kind: two constants (ISO, DIN), a dead time (Ford, Zahn, Shell), and the one that is read below half a minute. Their lines are read from cups.csv as text.
SOME_CUPS = ("iso-4", "iso-6", "din-4", "ford-4", "zahn-2", "shell-2.5", "tu-4-short")


def reading(cup):
    """Seconds between which a cup is read."""
    return float(CUPS[cup]["time_min [s]"]), float(CUPS[cup]["time_max [s]"])


def out_of_reach(cup, *seconds):
    """True where a timing lies outside what its cup is read at; a billionth beyond is rounding."""
    low, high = reading(cup)
    return any(not low * (1 - 1e-9) <= one <= high * (1 + 1e-9) for one in seconds)


def timings(*names, **others):
    """Spans in which a cup answers: its own seconds for each timing named."""
    return lambda cup: {**{name: Span(*reading(cup), "s") for name in names}, **others}


@law("cup-viscosity", "0.5 to 5000 mm²/s", mostly=timings("time"), cups=SOME_CUPS, time="1 to 600 s")
def _(cup, time):
    """Cup time to viscosity: the cup's own line (each with its source in cups.csv)."""
    return "must lie between" if out_of_reach(cup, time) else thickness(cup, time)


@law("cup-time", "1 to 600 s", mostly=lambda cup: {"viscosity": Span(*(thickness(cup, end) for end in reading(cup)), "mm²/s")}, cups=SOME_CUPS, viscosity="0.5 to 5000 mm²/s")
def _(cup, viscosity):
    """Viscosity to cup time: the line read backwards, by halving."""
    found = read_in_cup(cup, viscosity)
    return "must lie between" if found is None else found


@law("dynamic-viscosity", "0.0001 to 20 Pa·s", viscosity="0.5 to 5000 mm²/s", density="600 to 3000 kg/m³")
def _(viscosity, density):
    """What the two words mean: kinematic is dynamic over density; a mm²/s is a millionth of a m²/s."""
    return density / (1e6 / viscosity)


def dose_by_two_timings(before, after, wanted, dose):
    """On a log line in thinner over paint: looked for by halving (common practice, no source)."""
    most = 1e5
    if before * (after / before) ** (most / dose) > wanted:
        return most
    return halving(lambda thinner: wanted - before * (after / before) ** (thinner / dose), 0.0, most)


def bad_timings(cup, first, trial, target):
    """Why two timings and a target give no dose."""
    if out_of_reach(cup, first, trial, target):
        return "must lie between"
    if first <= target:
        return "at or under the target"
    if first <= trial:
        return "must have made it run faster"
    return ""


@law("thinner-for-target", "0 to 60 %", mostly=timings("first_time", "trial_time", "target_time"), cups=SOME_CUPS,
     also=({"cup": "ford-4", "first_time": 60, "trial_thinner": 5, "trial_time": 42, "target_time": 31}, {"cup": "iso-4", "first_time": 90, "trial_thinner": 3, "trial_time": 75, "target_time": 40},
           {"cup": "din-4", "first_time": 60, "trial_thinner": 5, "trial_time": 62, "target_time": 31}),
     first_time="1 to 600 s", trial_thinner="0.5 to 30 %", trial_time="1 to 600 s", target_time="1 to 600 s")
def _(cup, first_time, trial_thinner, trial_time, target_time):
    """Thinner for a target cup time, from two timings: in viscosity, not in seconds."""
    return bad_timings(cup, first_time, trial_time, target_time) or dose_by_two_timings(*(thickness(cup, one) for one in (first_time, trial_time, target_time)), trial_thinner)


@law("thinned-viscosity", "0.5 to 5000 mm²/s", mostly={"first_viscosity": "100 to 400 mm²/s", "trial_viscosity": "60 to 100 mm²/s", "trial_thinner": "2 to 10 %"},
     first_viscosity="1 to 5000 mm²/s", trial_thinner="0.5 to 30 %", trial_viscosity="1 to 5000 mm²/s", thinner="0 to 60 %")
def _(first_viscosity, trial_thinner, trial_viscosity, thinner):
    """The same log line read the other way: each dose of the trial's size halves it as often as the trial did (common practice, no source)."""
    halvings = math.log2(first_viscosity / trial_viscosity)
    return first_viscosity * 0.5 ** (halvings * thinner / trial_thinner) if abs(halvings * thinner / trial_thinner) < 1000 else math.inf if halvings < 0 else 0.0


@law("pot-thinner", "0 to 60000 mL", pot="0.05 to 100 L", thinner="0 to 150 %")
def _(pot, thinner):
    """What is in a full pot is paint and thinner together: what is not paint is thinner."""
    return 1000 * pot - 1000 * pot * 100 / (100 + thinner)


def voc_of_mix(voc, percent, density):
    """Grams of a litre of paint and its thinner over the litres of both."""
    return (voc + percent / 100 * density) / (1 + percent / 100)


@law("voc-after-thinning", "0 to 1700 g/L", voc="0 to 900 g/L", thinner="0 to 150 %", thinner_density="0 to 1700 g/L")
def _(voc, thinner, thinner_density):
    """VOC of the whole mix, from ten litres of it."""
    paint = 10 / (1 + thinner / 100)
    return (paint * voc + (10 - paint) * thinner_density) / 10


@law("thinner-headroom", "0 to 150 %", mostly={"voc": "100 to 280 g/L", "limit": "300 to 400 g/L", "thinner_density": "750 to 900 g/L"},
     voc="0 to 900 g/L", thinner_density="1 to 1700 g/L", limit="1 to 900 g/L")
def _(voc, thinner_density, limit):
    """The thinner at which the mix comes to its limit, by halving."""
    if thinner_density <= limit:
        return "lighter than the limit"
    if voc >= limit:
        return "at or over the limit"
    return halving(lambda thinner: voc_of_mix(voc, thinner, thinner_density) - limit, 0.0, 1e8)


@law("voc-per-solids", "0 to 100000 g/L", voc="0 to 870 g/L", solvent_density="500 to 1700 g/L")
def _(voc, solvent_density):
    """A litre less the litres of its solvent is solids (published: US EPA method 24)."""
    solids = (1000 - 1000 * voc / solvent_density) / 1000
    return voc / solids if solids > 0 else "all solvent"


@law("voc-less-water", "0 to 2000 g/L", mostly={"volatile": "40 to 100 %", "water": "0 to 40 %", "density": "0.8 to 1.6 kg/L"}, density="0.6 to 3 kg/L", volatile="0 to 100 %", water="0 to 100 %")
def _(density, volatile, water):
    """Of a litre: grams that fly off and are not water, over the litre less its water. A litre of water weighs 1,000 g (from memory: method 24 takes it so)."""
    grams = 1000 * density
    litres_of_water = grams * water / 100 / 1000
    return grams * (volatile - water) / 100 / (1 - litres_of_water) if litres_of_water < 1 else "all water"


@law("log-mixing", "0.05 to 100000 mPa·s", paint_viscosity="0.1 to 100000 mPa·s", thinner_viscosity="0.1 to 100000 mPa·s", paint_fraction="0 to 100 %")
def _(paint_viscosity, thinner_viscosity, paint_fraction):
    """A mean of logs by their shares: a product of powers (from memory: Arrhenius)."""
    return paint_viscosity ** (paint_fraction / 100) * thinner_viscosity ** (1 - paint_fraction / 100)


@law("relative-viscosity", "1 to 10000 1", solids_fraction="0 to 0.7 1", packing_limit="0.5 to 0.75 1")
def _(solids_fraction, packing_limit):
    """The room that is left, to a power (published: Krieger and Dougherty; 2.5 is Einstein's for spheres)."""
    if solids_fraction >= packing_limit:
        return "packed solid"
    return ((packing_limit - solids_fraction) / packing_limit) ** -(2.5 * packing_limit)


@law("glycerol-viscosity", "0.1 to 20000 mPa·s", mass_fraction="0 to 100 %", temperature="0 to 100 °C")
def _(mass_fraction, temperature):
    """Published: Cheng, Ind. Eng. Chem. Res. 47:3285 (2008), equations 6 and 21 to 23; his constants, in cP and °C."""
    c, t = mass_fraction / 100, temperature
    water = 1.790 * math.exp((-1230 - t) * t / (36100 + 360 * t))
    glycerol = 12100 * math.exp((-1233 + t) * t / (9900 + 70 * t))
    a = 0.705 - 0.0017 * t
    b = (4.9 + 0.036 * t) * a**2.5
    alpha = 1 - c + a * b * c * (1 - c) / (a * c + b * (1 - c))
    return water**alpha * glycerol ** (1 - alpha)


@law("glycerol-density", "900 to 1300 kg/m³",
     also=({"mass_fraction": 30, "temperature": 2}, {"mass_fraction": 0, "temperature": 0}, {"mass_fraction": 50, "temperature": 4}), mass_fraction="0 to 100 %", temperature="0 to 100 °C")
def _(mass_fraction, temperature):
    """A hundred kilograms over the volumes of both. Published: Cheng (2008), 1277 − 0.654 t and 1000 (1 − |(t − 4)/622|^1.7)."""
    litres = mass_fraction / (1277 - 0.654 * temperature) + (100 - mass_fraction) / (1000 * (1 - abs((temperature - 4) / 622) ** 1.7))
    return 100 / litres


@law("share-of-mix", "0 to 60 %", thinner="0 to 150 %")
def _(thinner):
    """Of a hundred parts of paint and their thinner: the share that is not paint."""
    return 100 - 100 * 100 / (100 + thinner)


@law("topped-up-thinner", "0 to 60000 mL", mostly={"thinner_now": "2 to 10 %", "thinner": "5 to 30 %"},
     also=({"left": 0.936, "thinner_now": 4, "fresh": 0.3, "thinner": 3}, {"left": 0.4, "thinner_now": 8, "fresh": 0.5, "thinner": 8}, {"left": 0, "thinner_now": 0, "fresh": 1, "thinner": 0}),
     left="0 to 100 L", thinner_now="0 to 150 %", fresh="0.01 to 100 L", thinner="0 to 150 %")
def _(left, thinner_now, fresh, thinner):
    """What all the paint wants less what is in it. Less than a million-millionth of all of it is rounding."""
    old = left * 100 / (100 + thinner_now)
    dose = thinner / 100 * (old + fresh) - (left - old)
    return "more thinner in the pot already" if dose < -1e-12 * (left + fresh) else max(0.0, 1000 * dose)


@law("dose-uncertainty", "0 to 100 %", mostly=timings("first_time", "trial_time", "target_time", timing_error=Span(0, 2, "s"), temperature_error=Span(0, 2, "Δ°C")), cups=SOME_CUPS,
     also=({"cup": "ford-4", "first_time": 60, "trial_thinner": 5, "trial_time": 42, "target_time": 31, "timing_error": 1, "temperature_error": 1, "viscosity_slope": 0.03},
           {"cup": "ford-4", "first_time": 60, "trial_thinner": 5, "trial_time": 61, "target_time": 31, "timing_error": 1, "temperature_error": 1, "viscosity_slope": 0.03},
           {"cup": "din-4", "first_time": 60, "trial_thinner": 5, "trial_time": 42, "target_time": 31, "timing_error": 1, "temperature_error": 1, "viscosity_slope": 0.03},
           {"cup": "iso-4", "first_time": 90, "trial_thinner": 5, "trial_time": 60, "target_time": 40, "timing_error": 0, "temperature_error": 2, "viscosity_slope": 0.05}),
     first_time="1 to 600 s", trial_thinner="0.5 to 30 %", trial_time="1 to 600 s", target_time="1 to 600 s", timing_error="0 to 10 s", temperature_error="0 to 10 Δ°C",
     viscosity_slope="0 to 0.15 1/K")
def _(cup, first_time, trial_thinner, trial_time, target_time, timing_error, temperature_error, viscosity_slope):
    """First order, errors independent (from memory: the guide to uncertainty): how far the dose moves with each reading, read off four places about it, and the root of the squares."""
    wrong = bad_timings(cup, first_time, trial_time, target_time)
    if wrong:
        return wrong
    before, after, wanted = (thickness(cup, one) for one in (first_time, trial_time, target_time))

    def dose(first, second):
        return trial_thinner * math.log10(first / wanted) / math.log10(first / second)

    hair = 1e-3 * math.log(before / after)  # a thousandth of the fall that is measured
    by_first = slope_of(lambda log: dose(before * math.exp(log), after), 0.0, hair)
    by_second = slope_of(lambda log: dose(before, after * math.exp(log)), 0.0, hair)
    off_first = slope_of(lambda seconds: thickness(cup, seconds), first_time, 1e-2) * timing_error / before
    off_second = slope_of(lambda seconds: thickness(cup, seconds), trial_time, 1e-2) * timing_error / after
    warmth = viscosity_slope * temperature_error  # the paint drifts between the two timings: it is in the second only
    return math.sqrt((by_first * off_first) ** 2 + (by_second * off_second) ** 2 + (by_second * warmth) ** 2)


@law("warmed-viscosity", "0.5 to 5000 mm²/s", viscosity="0.5 to 5000 mm²/s", temperature="0 to 40 °C", wanted_temperature="0 to 40 °C", viscosity_slope="-0.03 to 0.12 1/K")
def _(viscosity, temperature, wanted_temperature, viscosity_slope):
    """Each bit of a degree takes its share of what is there (common practice, no source): bit by bit."""
    return grown(viscosity, -viscosity_slope, wanted_temperature - temperature)


@law("tin-warming", "0 to 200 h", mostly={"start": "-5 to 8 °C", "room": "18 to 35 °C", "wanted_temperature": "10 to 17 °C"},
     volume="0.1 to 30 L", start="-10 to 40 °C", room="5 to 45 °C", wanted_temperature="0 to 40 °C")
def _(volume, start, room, wanted_temperature):
    """Newton's cooling of a drum as high as wide: 8 W/(m²·K) through lid, bottom and side, 3.2 MJ/(m³·K) in it (from memory). What is missing to the room halves in every half-time."""
    if room <= wanted_temperature:
        return "not warmer than that"
    if wanted_temperature <= start:
        return "already that warm"
    width = halving(lambda across: math.pi / 4 * across**3 - volume / 1000, 0.0, 1.0)
    skin = math.pi * width * width + 2 * math.pi / 4 * width**2
    half_time = math.log(2) * 3.2e6 * (volume / 1000) / (8.0 * skin) / 3600
    return half_time * math.log2((room - start) / (room - wanted_temperature))


@law("part-b", "0.1 to 60000 mL", batch="0.02 to 100 L", ratio="0.2 to 100 1")
def _(batch, ratio):
    """What is not base is hardener."""
    parts = ratio + 1
    return 1000 * batch / parts


@law("weight-ratio", "0.05 to 500 1", ratio="0.2 to 100 1", base_density="0.6 to 3 kg/L", hardener_density="0.6 to 3 kg/L")
def _(ratio, base_density, hardener_density):
    """Litres of base for one of hardener, both on the scale."""
    base, hardener = ratio * base_density, 1.0 * hardener_density
    return base / hardener
