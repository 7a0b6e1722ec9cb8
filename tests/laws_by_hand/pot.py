"""The pot: doses by three laws of dilution, the way back, and two-pack, by hand. Where a law names no source it is a balance of mass or volume."""

from __future__ import annotations

import math

from laws_by_hand.law import grown, halving, law
from laws_by_hand.mix import voc_of_mix

LEAST_FALL = 0.002  # a fall of viscosity that no watch sees (the handbook's own choice): less is taken for so much
MOST = 490.0  # % of paint volume at which every law stops (the handbook's own choice: no sheet allows so much)
SPHERES = 2.5 * 0.63  # published: Krieger and Dougherty, power of the room left, for spheres that lock at 0.63
TIMED = {"first_viscosity": "150 to 400 mm²/s", "trial_viscosity": "90 to 145 mm²/s", "wanted_viscosity": "40 to 85 mm²/s", "trial_thinner": "2 to 12 %"}
FLAT = {"first_viscosity": 100, "trial_thinner": 5, "trial_viscosity": 99.9, "wanted_viscosity": 99.5}
ROSE = {"first_viscosity": 100, "trial_thinner": 5, "trial_viscosity": 110, "wanted_viscosity": 109.9}
FAR = {"first_viscosity": 400, "trial_thinner": 50, "trial_viscosity": 380, "wanted_viscosity": 10}
THICK = {"first_viscosity": 200, "trial_thinner": 5, "trial_viscosity": 150, "wanted_viscosity": 230}
_SPANS = {"first_viscosity": "1 to 5000 mm²/s", "trial_thinner": "0.5 to 60 %", "trial_viscosity": "1 to 5000 mm²/s", "wanted_viscosity": "1 to 5000 mm²/s"}
_AFTER = {"first_viscosity": "1 to 5000 mm²/s", "trial_thinner": "0.5 to 60 %", "trial_viscosity": "1 to 5000 mm²/s", "thinner": "0 to 150 %"}


def share(percent):
    """Thinner of the mix, from thinner over paint in %."""
    return percent / (100 + percent)


def fall(first, last):
    """Log of how much thinner the last timing found it; never less than what a watch sees."""
    return max(math.log(first) - math.log(last), LEAST_FALL)


@law("clean-minutes", "0.1 to 20000 min", pot_life="0.5 to 20000 min", share="1 to 100 %")
def _(pot_life, share):
    """So many hundredths of the pot life."""
    return pot_life / 100 * share


@law("thinner-for-viscosity", "-100 to 500 %", mostly=TIMED, also=(FLAT, ROSE, FAR, THICK), **_SPANS)
def _(first_viscosity, trial_thinner, trial_viscosity, wanted_viscosity):
    """From the last timing on, as steeply as up to it, in thinner over paint (common practice, no source)."""
    each = fall(first_viscosity, trial_viscosity) / trial_thinner
    return min(trial_thinner + (math.log(trial_viscosity) - math.log(wanted_viscosity)) / each, MOST)


@law("thinner-by-share-line", "-100 to 500 %", mostly=TIMED, also=(FLAT, ROSE, FAR, THICK), **_SPANS)
def _(first_viscosity, trial_thinner, trial_viscosity, wanted_viscosity):
    """From the last timing on, as steeply as up to it, in the share of the mix (common practice: Arrhenius)."""
    each = fall(first_viscosity, trial_viscosity) / share(trial_thinner)
    part = share(trial_thinner) + (math.log(trial_viscosity) - math.log(wanted_viscosity)) / each
    if part >= share(MOST):
        return MOST
    if part < -1e3:  # what is asked for is more paint than a thousand pots
        return -100.0 * (1 - 1 / (1 - part))
    return halving(lambda percent: share(percent) - part, -100 + 1e-9, MOST)


def crowding(first, last, dose):
    """Solids over the share at which they lock: the one at which the dose makes them fall as they fell, by halving."""
    seen = fall(first, last)
    return halving(lambda x: SPHERES * (math.log(1 - x / (1 + dose / 100)) - math.log(1 - x)) - seen, 0.0, 1.0 - 1e-16)


def crowded_fall(x, percent):
    """Log of how much thinner so much thinner makes it."""
    return SPHERES * (math.log(1 - x * 100 / (100 + percent)) - math.log(1 - x))


@law("thinner-by-crowding", "-100 to 500 %", mostly=TIMED, also=(FLAT, ROSE, FAR, THICK), **_SPANS)
def _(first_viscosity, trial_thinner, trial_viscosity, wanted_viscosity):
    """The dose at which spheres have so much room, by halving (published: Krieger and Dougherty)."""
    x = crowding(first_viscosity, trial_viscosity, trial_thinner)
    wanted = fall(first_viscosity, trial_viscosity) + math.log(trial_viscosity) - math.log(wanted_viscosity)
    if crowded_fall(x, MOST) <= wanted:
        return MOST
    return halving(lambda percent: crowded_fall(x, percent) - wanted, 100 * (x - 1) * (1 - 1e-15) + 1e-12, MOST)


@law("viscosity-by-share-line", "0.01 to 5000 mm²/s", mostly={"first_viscosity": "150 to 400 mm²/s", "trial_viscosity": "90 to 145 mm²/s"}, **_AFTER)
def _(first_viscosity, trial_thinner, trial_viscosity, thinner):
    """The line in the share of the mix, read the other way (common practice: Arrhenius)."""
    times = share(thinner) / share(trial_thinner)
    powers = times * math.log2(trial_viscosity / first_viscosity)
    return first_viscosity * 2**powers if abs(powers) < 900 else math.copysign(math.inf, powers) if powers > 0 else 0.0


@law("viscosity-by-crowding", "0.01 to 5000 mm²/s", mostly={"first_viscosity": "150 to 400 mm²/s", "trial_viscosity": "90 to 145 mm²/s"},
     also=({"first_viscosity": 100, "trial_thinner": 5, "trial_viscosity": 120, "thinner": 20},), **_AFTER)
def _(first_viscosity, trial_thinner, trial_viscosity, thinner):
    """What spheres with so much room run like (published: Krieger and Dougherty)."""
    x = crowding(first_viscosity, trial_viscosity, trial_thinner)
    return first_viscosity * ((1 - x * 100 / (100 + thinner)) / (1 - x)) ** -SPHERES


@law("viscosity-by-steepness", "0.01 to 5000 mm²/s", first_viscosity="1 to 5000 mm²/s", thinner="0 to 150 %", steepness="0.5 to 20 1")
def _(first_viscosity, thinner, steepness):
    """Each bit of the mix that is thinner takes its share of what is there: bit by bit (common practice: Arrhenius)."""
    return grown(first_viscosity, -steepness, share(thinner))


@law("viscosity-scaled", "0.01 to 5000 mm²/s", mostly={"wanted": "100 to 300 mm²/s", "given": "100 to 300 mm²/s"}, viscosity="0.01 to 5000 mm²/s", wanted="1 to 5000 mm²/s", given="1 to 5000 mm²/s")
def _(viscosity, wanted, given):
    """If the other was taken for so many times what it may be, so was this one."""
    return viscosity * (wanted / given)


@law("thinner-by-parabola", "-100 to 500 %",
     mostly={"first_viscosity": "200 to 260 mm²/s", "middle_thinner": "2 to 4 %", "middle_viscosity": "160 to 180 mm²/s", "trial_thinner": "5 to 8 %", "trial_viscosity": "120 to 150 mm²/s",
           "wanted_viscosity": "90 to 115 mm²/s"},
     also=({"first_viscosity": 213.7, "middle_thinner": 3, "middle_viscosity": 166.5, "trial_thinner": 5, "trial_viscosity": 144.4, "wanted_viscosity": 100},
           {"first_viscosity": 213.7, "middle_thinner": 3, "middle_viscosity": 150, "trial_thinner": 6, "trial_viscosity": 140, "wanted_viscosity": 50},
           {"first_viscosity": 213.7, "middle_thinner": 3, "middle_viscosity": 200, "trial_thinner": 6, "trial_viscosity": 187, "wanted_viscosity": 10},
           {"first_viscosity": 213.7, "middle_thinner": 30, "middle_viscosity": 200, "trial_thinner": 60, "trial_viscosity": 187, "wanted_viscosity": 100}),
     first_viscosity="1 to 5000 mm²/s", middle_thinner="0.5 to 60 %", middle_viscosity="1 to 5000 mm²/s", trial_thinner="0.5 to 60 %", trial_viscosity="1 to 5000 mm²/s",
     wanted_viscosity="1 to 5000 mm²/s")
def _(first_viscosity, middle_thinner, middle_viscosity, trial_thinner, trial_viscosity, wanted_viscosity):
    """A parabola of the log in the share of the mix through nought and two timings (common practice: Grunberg and Nissan), and the place on it, where it still falls, that is thin enough."""
    if middle_thinner >= trial_thinner:
        return "comes before the last"
    near, far = share(middle_thinner), share(trial_thinner)
    if near >= far:
        return "comes before the last"
    falls = math.log(first_viscosity / middle_viscosity), math.log(first_viscosity / trial_viscosity)
    square = near * far * (far - near)  # two equations in slope and bend, by their determinants
    slope, bend = (falls[0] * far**2 - falls[1] * near**2) / square, (falls[1] * near - falls[0] * far) / square
    wanted = math.log(first_viscosity / wanted_viscosity)
    # slope·m + bend·m² = wanted, by its vertex: the rising side of the curve of falls.
    under = slope * slope + 4 * bend * wanted
    if under <= 0:
        return "turns before it gets so thin"
    part = 2 * wanted / (slope + math.sqrt(under)) if slope > 0 else (math.sqrt(under) - slope) / (2 * bend)
    assert abs(slope * part + bend * part * part - wanted) <= 1e-6 * max(1, abs(slope * part)) and slope + 2 * bend * part >= -1e-6 * abs(slope)
    return "all thinner" if part >= 1 else 100 * part / (1 - part)


@law("fall-seen", "-100 to 500 %", mostly={"first_viscosity": "200 to 300 mm²/s", "trial_viscosity": "100 to 190 mm²/s"},
     also=({"thinner": 8, "timed": 0, "first_viscosity": 100, "trial_viscosity": 99.9}, {"thinner": 8, "timed": 5, "first_viscosity": 100, "trial_viscosity": 100},
           {"thinner": 8, "timed": 5, "first_viscosity": 100, "trial_viscosity": 99.995}, {"thinner": 8, "timed": 5, "first_viscosity": 100, "trial_viscosity": 99.98}),
     thinner="-100 to 500 %", timed="0 to 150 %", first_viscosity="1 to 5000 mm²/s", trial_viscosity="1 to 5000 mm²/s")
def _(thinner, timed, first_viscosity, trial_viscosity):
    """The forecast stands where the dose was felt: one part in ten thousand at least. Nothing in it yet: nothing to feel; a ten-millionth of a per cent is half of nothing."""
    felt = first_viscosity / trial_viscosity > 1.0001 / (1 + 1e-7 / timed) if timed > 0 else True
    return thinner if felt else "must have made it run faster"


@law("half-band", "0 to 500 %", mostly={"low": "0 to 15 %", "high": "15 to 40 %"}, low="-500 to 500 %", high="-500 to 1000 %")
def _(low, high):
    """From the middle to either end; fifteen hundredths either way say nothing (the handbook's own choice)."""
    half = high - (low + high) / 2
    return "too wide" if half >= 15 else half


@law("within-reach", "-100 to 500 %", mostly={"thinner": "-50 to 100 %"}, also=({"thinner": 15, "timed": 5, "reach": 3}, {"thinner": 20, "timed": 10, "reach": 2}), thinner="-100 to 500 %",
     timed="0 to 150 %", reach="1 to 10 ×")
def _(thinner, timed, reach):
    """The forecast stands within so many times what was timed."""
    return "pour, and time again" if thinner > timed * reach + 1e-7 else thinner


@law("share-reach", "0.1 to 1500 %", mostly={"timed": "0.1 to 40 %"}, also=({"timed": 0, "first_dose": 5, "reach": 3}, {"timed": 0, "first_dose": 2.5, "reach": 2}),
     timed="0 to 150 %", first_dose="0.1 to 30 %", reach="1 to 10 ×")
def _(timed, first_dose, reach):
    """So many times what was timed; a first dose where nothing is in it yet."""
    return reach * timed if timed > 0 else first_dose


@law("share-more", "-500 to 700 %", thinner="0 to 150 %", dose="-500 to 500 %")
def _(thinner, dose):
    """What is in it, and what comes on top."""
    return dose + thinner


@law("overshoot-chance", "0 to 100 %", mostly={"dose": "6 to 12 %", "low": "4 to 7 %", "likely": "7.5 to 10 %", "high": "10.5 to 14 %"},
     also=({"dose": 8.5, "low": 7, "likely": 8.5, "high": 11}, {"dose": 7, "low": 7, "likely": 8.5, "high": 11}, {"dose": 11, "low": 7, "likely": 8.5, "high": 11},
           {"dose": 8, "low": 9, "likely": 8.5, "high": 11}, {"dose": 8, "low": 8, "likely": 8.5, "high": 8}),
     dose="0 to 200 %", low="-500 to 500 %", likely="-500 to 500 %", high="-500 to 1000 %")
def _(dose, low, likely, high):
    """Either end lies 1.645 spreads from the likely value (published: nine in ten of a bell curve); a logistic curve of 1.702 stands for the bell (from memory). A ten-thousandth of a per cent is put
    under each half of the band, so that none is of nothing."""
    down, up = likely - low + 1e-4, high - likely + 1e-4
    if down <= 0:
        return "least is over the likely"
    if up <= 0:
        return "most is under the likely"
    spreads = 1.645 * (dose - likely) / (up if dose > likely else down)
    return 50 * (1 + math.tanh(1.702 * spreads / 2))


@law("law-room", "0 to 150 %", mostly={"voc": "100 to 280 g/L", "limit": "300 to 400 g/L", "thinner_density": "700 to 1700 g/L"},
     also=({"voc": 280, "thinner_density": 0, "limit": 300}, {"voc": 280, "thinner_density": 301, "limit": 300}, {"voc": 350, "thinner_density": 780, "limit": 300},
     {"voc": 350, "thinner_density": 0, "limit": 300}),
     voc="0 to 1700 g/L", thinner_density="0 to 1700 g/L", limit="1 to 1700 g/L")
def _(voc, thinner_density, limit):
    """As headroom, by halving; none where it is over already, and 150 where thinner can never bring it there."""
    if voc >= limit:
        return 0.0
    if voc_of_mix(voc, 150, thinner_density) <= limit:
        return 150.0
    return halving(lambda percent: voc_of_mix(voc, percent, thinner_density) - limit, 0.0, 150.0)


@law("paint-to-add", "0 to 1000000 mL", mostly={"thinner_now": "10 to 30 %", "thinner": "2 to 10 %"}, also=({"litres": 0.8, "thinner_now": 5, "thinner": 8},),
     litres="0.01 to 100 L", thinner_now="0 to 150 %", thinner="0.1 to 150 %")
def _(litres, thinner_now, thinner):
    """The paint that the thinner in the pot is enough for, less what is there; never less than none."""
    paint = litres * 100 / (100 + thinner_now)
    return max(0.0, 1000 * ((litres - paint) / (thinner / 100) - paint))


@law("weight-of", "-3000000 to 3000000 g", volume="-1000000 to 1000000 mL", density="0.6 to 3 kg/L")
def _(volume, density):
    """Litres times kilograms, in grams."""
    return 1000 * (volume / 1000 * density)


@law("mix-density", "0.6 to 3 kg/L", ratio="0.05 to 500 1", base_density="0.6 to 3 kg/L", hardener_density="0.6 to 3 kg/L")
def _(ratio, base_density, hardener_density):
    """A mean by volume."""
    base = 1 / (1 + 1 / ratio)
    return base * base_density + (1 - base) * hardener_density


@law("base-of-mix", "0.6 to 3 kg/L", mostly={"ratio": "1 to 10 1", "mix_density": "1.1 to 1.6 kg/L", "hardener_density": "0.9 to 1.1 kg/L"},
     ratio="0.05 to 500 1", mix_density="0.6 to 3 kg/L", hardener_density="0.6 to 3 kg/L")
def _(ratio, mix_density, hardener_density):
    """The base at which the mean by volume is the mix's, by halving."""
    return halving(lambda base: (ratio * base + hardener_density) / (ratio + 1) - mix_density, -100.0, 100.0)


@law("base-of-mix-by-weight", "0.6 to 3 kg/L", mostly={"weight_ratio": "1 to 10 1", "mix_density": "1.1 to 1.6 kg/L", "hardener_density": "0.9 to 1.1 kg/L"},
     also=({"weight_ratio": 0.2, "mix_density": 2.5, "hardener_density": 0.7},), weight_ratio="0.05 to 500 1", mix_density="0.6 to 3 kg/L", hardener_density="0.6 to 3 kg/L")
def _(weight_ratio, mix_density, hardener_density):
    """Litres of the whole less litres of the hardener are litres of the base."""
    litres = (weight_ratio + 1) / mix_density - 1 / hardener_density
    return weight_ratio / litres if litres > 0 else "hardener alone fills more"


@law("volume-ratio", "0.05 to 500 1", weight_ratio="0.05 to 500 1", base_density="0.6 to 3 kg/L", hardener_density="0.6 to 3 kg/L")
def _(weight_ratio, base_density, hardener_density):
    """Litres of so many kilograms of base over litres of one of hardener."""
    return (weight_ratio / base_density) / (1 / hardener_density)


@law("part-a", "0.1 to 100000 mL", batch="0.02 to 100 L", ratio="0.05 to 500 1")
def _(batch, ratio):
    """What is not hardener is base."""
    return 1000 * (batch - batch / (ratio + 1))


@law("pot-life-at", "0.5 to 20000 min", mostly={"pot_life": "1 to 8 h", "rate": "1.5 to 2.5 ×"},
     also=({"pot_life": 2, "sheet_temperature": 23, "temperature": 30, "rate": 2, "batch": 1, "sample": 0.1, "self_heating": 0.05},
           {"pot_life": 2, "sheet_temperature": 23, "temperature": 10, "rate": 2, "batch": 0.1, "sample": 1, "self_heating": 0.2}),
     pot_life="0.05 to 48 h", sheet_temperature="0 to 45 °C", temperature="0 to 45 °C", rate="1 to 5 ×", batch="0.01 to 200 L", sample="0.01 to 20 L", self_heating="0 to 0.3 1")
def _(pot_life, sheet_temperature, temperature, rate, batch, sample, self_heating):
    """So many times as fast for each ten degrees (from memory), and shorter by a power of how many times bigger the pot is than the sheet's (the handbook's own balance of heat).
    A smaller pot gains nothing."""
    minutes = 60 * pot_life / rate ** ((temperature - sheet_temperature) / 10)
    return minutes / max(1.0, batch / sample) ** self_heating
