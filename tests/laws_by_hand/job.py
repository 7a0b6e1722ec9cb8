"""The job: areas, paint, hours and price, by hand. Where a law names no source it is counting, book-keeping or a balance."""

from __future__ import annotations

import math
from statistics import NormalDist

from laws_by_hand.law import halving, law

HOURS = "0 to 100000 h"
ALL_HOURS = "0 to 1000000 h"


@law("coated-area", "0.001 to 50000 m²", face="0.001 to 2000 m²", count="1 to 2000 1", sides="1 to 2 1", profile="0.2 to 4 ×")
def _(face, count, sides, profile):
    """One, as if it were flat, and so many sides of so many."""
    flat = face * profile
    return flat * (count * sides)


@law("paint-for-coats", "0 to 20000 L", mostly={"area": "1 to 500 m²"}, area="0.001 to 50000 m²", coats="1 to 10 1", dry_film="1 to 500 µm", volume_solids="2 to 100 %", drink="1 to 4 ×",
     transfer_efficiency="5 to 100 %")
def _(area, coats, dry_film, volume_solids, drink, transfer_efficiency):
    """A coat's litres of solids; the first drinks more, the others do not; and only so much of it lands."""
    one = area * dry_film / 1000 * 100 / volume_solids * 100 / transfer_efficiency
    first, others = one * drink, one * (coats - 1)
    return first + others


def contrast_of(scatter):
    """White paint that only scatters, over black and over white of 80 %: what comes back from one over what comes back from the other (from memory: Kubelka and Munk, nothing absorbed)."""
    def back(ground):
        return ground + (1 - ground) ** 2 * scatter / (1 + (1 - ground) * scatter)

    return back(0.0) / back(0.8)


def scatter_of(contrast):
    """How much film it takes for a contrast, by halving."""
    return halving(lambda scatter: contrast_of(scatter) - contrast / 100, 0.0, 1e4)


@law("coats-to-hide", "0.01 to 200 1", mostly={"contrast": "85 to 99 %", "wanted": "95 to 99.5 %", "spread": "5 to 15 m²/L", "wet_film": "40 to 150 µm"},
     contrast="50 to 99.5 %", spread="1 to 40 m²/L", wet_film="5 to 500 µm", thinner="0 to 150 %", wanted="50 to 99.5 %")
def _(contrast, spread, wet_film, thinner, wanted):
    """The sheet's film hides so much; it takes so many of yours, whose thinner hides nothing."""
    sheet = 1000 / spread
    yours = wet_film * 100 / (100 + thinner)
    return sheet * scatter_of(wanted) / scatter_of(contrast) / yours


@law("mixed-paint", "0 to 50000 L", paint="0 to 20000 L", thinner="0 to 150 %")
def _(paint, thinner):
    """Both together."""
    return paint + paint * thinner / 100


@law("thinner-to-carry", "0 to 50000 L", paint="0 to 20000 L", thinner="0 to 150 %")
def _(paint, thinner):
    """So many hundredths."""
    return paint / 100 * thinner


@law("paint-to-order", "0 to 50000 L", paint="0 to 20000 L", fills="0 to 200 1", loss="0 to 5 L", spare="0 to 100 %")
def _(paint, fills, loss, spare):
    """What is used and what is lost, and a share of it all on top."""
    used = paint + fills * loss
    return used + used * spare / 100


@law("pots-to-fill", "0 to 1000000 1", mixed="0 to 50000 L", pot="0.05 to 100 L")
def _(mixed, pot):
    """Poured out pot by pot."""
    return mixed * (1 / pot)


@law("refill-time", "0 to 100000 h", mixed="0 to 50000 L", pot="0.05 to 100 L", refill="0 to 60 min")
def _(mixed, pot, refill):
    """Each pot once."""
    return mixed / pot * (refill / 60)


@law("spraying-time", "0 to 100000 h", mixed="0 to 50000 L", flow="5 to 1000 mL/min", duty="5 to 100 %")
def _(mixed, flow, duty):
    """Litres an hour with the trigger pulled, and the share of the hour that it is."""
    litres = flow / 1000 * 60
    return mixed / litres / (duty / 100)


@law("hand-time", "0 to 100000 h", area="0.001 to 50000 m²", coats="1 to 10 1", rate="0.05 to 500 m²/h")
def _(area, coats, rate):
    """Each coat at its pace."""
    return coats * (area / rate)


@law("masking-time", "0 to 100000 h", edges="0 to 20000 m", edge_pace="0 to 30 min/m", sheets="0 to 20000 m²", sheet_pace="0 to 30 min/m²", share="0 to 100 %")
def _(edges, edge_pace, sheets, sheet_pace, share):
    """Minutes of tape and minutes of sheet, so much of both."""
    tape, sheet = edges * edge_pace * share / 100, sheets * sheet_pace * share / 100
    return (tape + sheet) / 60


@law("waiting-time", "0 to 100000 h", coats="1 to 10 1", recoat="0.05 to 2000 h", stretch="0.05 to 100 ×")
def _(coats, recoat, stretch):
    """After each coat but the last."""
    return coats * recoat * stretch - recoat * stretch


@law("job-hours", "0 to 1000000 h", survey=HOURS, masking=HOURS, set_up=HOURS, application=HOURS, refills=HOURS, clean_down=HOURS)
def _(survey, masking, set_up, application, refills, clean_down):
    """All of them."""
    return math.fsum((clean_down, refills, application, set_up, masking, survey))


@law("materials-cost", "0 to 1000000000 money", tins="0 to 10000000 money", thinner_volume="0 to 50000 L", thinner_price="0 to 10000 money/L", sundries="0 to 10000000 money")
def _(tins, thinner_volume, thinner_price, sundries):
    """Tins, thinner by the litre, and the rest."""
    return math.fsum((sundries, tins, thinner_price * thinner_volume))


@law("job-price", "0 to 1000000000000 money", mostly={"hours": "1 to 1000 h", "hour_rate": "10 to 100 money/h", "materials": "10 to 10000 money", "fixed": "10 to 1000 money"},
     hours=ALL_HOURS, hour_rate="0 to 10000 money/h", materials="0 to 1000000000 money", markup="0 to 200 %", fixed="0 to 10000000 money", tax="0 to 50 %")
def _(hours, hour_rate, materials, markup, fixed, tax):
    """Work, materials with their share on top, what is fixed; and tax on the whole."""
    net = math.fsum((hours * hour_rate, materials, materials * markup / 100, fixed))
    return net + net * tax / 100


@law("price-per-area", "0 to 1000000000000000 money/m²", price="0 to 1000000000000 money", area="0.001 to 50000 m²")
def _(price, area):
    """Shared out."""
    return price * (1 / area)


@law("price-per-metre", "0 to 100000000 money/m", area_price="0 to 1000000 money/m²", height="0.05 to 20 m", sides="1 to 2 1", profile="0.2 to 4 ×")
def _(area_price, height, sides, profile):
    """What a metre of it has of surface, at the price of a square metre."""
    surface = 1.0 * height * sides * profile
    return surface * area_price


@law("solvent-released", "0 to 1000000 kg", paint="0 to 20000 L", voc="0 to 1700 g/L")
def _(paint, voc):
    """Grams by the thousand."""
    return paint * voc / 1000


@law("area-to-prepare", "0 to 5000000 m²", area="0.001 to 50000 m²", wear="0.5 to 10 ×", detail="0.2 to 10 ×")
def _(area, wear, detail):
    """So many times as much work, twice over."""
    return area / (1 / wear) / (1 / detail)


@law("coats-of-area", "0 to 5000000 m²", area="0.001 to 50000 m²", coats="1 to 10 1")
def _(area, coats):
    """Once for each coat."""
    return coats / (1 / area)


@law("area-between-coats", "0 to 100000000 m²", area="0 to 5000000 m²", coats="1 to 30 1")
def _(area, coats):
    """Once for each coat but one."""
    return area * coats - area


@law("pieces-turned", "0 to 60000 1", pieces="0 to 2000 1", coats="1 to 30 1")
def _(pieces, coats):
    """Each piece once for each coat."""
    return pieces / (1 / coats)


@law("stage-each", "0 to 1000000000000000 h", amount="0 to 1000000 1", pace_each=HOURS, times="0 to 300 %")
def _(amount, pace_each, times):
    """So many, at so much each, so much of it."""
    return amount * times / 100 * pace_each


@law("stage-area", "0 to 1000000000000000 h", area="0 to 100000000 m²", pace_area="0 to 600 min/m²", times="0 to 300 %")
def _(area, pace_area, times):
    """Minutes for each square metre, by the hour."""
    return area * times / 100 * pace_area / 60


@law("stage-length", "0 to 1000000000000000 h", length="0 to 1000000 m", pace_length="0 to 600 min/m", times="0 to 300 %")
def _(length, pace_length, times):
    """Minutes for each metre, by the hour."""
    return length * times / 100 * pace_length / 60


@law("shared-time", HOURS, work=HOURS, hands="1 to 8 1")
def _(work, hands):
    """Shared out."""
    return work * (1 / hands)


@law("paid-time", HOURS, elapsed=HOURS, crew="1 to 8 1")
def _(elapsed, crew):
    """Each is paid."""
    return elapsed / (1 / crew)


@law("three-point-mean", HOURS, low=HOURS, likely=HOURS, high=HOURS)
def _(low, likely, high):
    """Two thirds the likely, a sixth each end (from memory: network planning since the 1950s)."""
    return 2 / 3 * likely + 1 / 6 * low + 1 / 6 * high


@law("three-point-spread", HOURS, mostly={"low": "1 to 10 h", "high": "10 to 100 h"}, low=HOURS, high=HOURS)
def _(low, high):
    """Six standard deviations from end to end (from memory: as above)."""
    return high / 6 - low / 6


@law("spread-squared", "0 to 1000000000000 1", spread=HOURS)
def _(spread):
    """A square with such a side."""
    return spread * spread


@law("joint-spread", HOURS, mostly={"squares": "1 to 50 1", "spreads": "2 to 20 h"}, squares="0 to 1000000000000 1", spreads=HOURS, together="0 to 100 %")
def _(squares, spreads, together):
    """Variance of a sum (from memory: any textbook): the squares, and so much of the products of any two of them."""
    products = spreads**2 - squares
    total = squares + together / 100 * products
    return math.sqrt(total) if total >= 0 else "the answer"


TENTH = NormalDist().inv_cdf(0.9)  # one in ten of a bell curve lies beyond so many standard deviations


@law("hours-if-well", "-1000000 to 1000000 h", mean=HOURS, spread=HOURS)
def _(mean, spread):
    """The hours that a tenth of a bell curve lies under."""
    return NormalDist(mean, spread).inv_cdf(0.1) if spread else mean


@law("hours-if-badly", ALL_HOURS, mean=HOURS, spread=HOURS)
def _(mean, spread):
    """The hours that a tenth of a bell curve lies over."""
    return mean + TENTH * spread


@law("day-left", "0.5 to 24 h", mostly={"day": "8 to 12 h", "travel": "0 to 2 h", "set_up": "0 to 1 h", "clean_down": "0 to 1 h"}, day="1 to 24 h", travel="0 to 12 h", set_up="0 to 8 h",
     clean_down="0 to 8 h")
def _(day, travel, set_up, clean_down):
    """What they all leave."""
    return day - math.fsum((travel, set_up, clean_down))


@law("light-left", "0.5 to 24 h", mostly={"start": "360 to 540 min", "dusk": "960 to 1320 min", "lead": "0 to 3 h", "travel": "0 to 2 h", "set_up": "0 to 1 h"},
     start="0 to 1440 min", dusk="0 to 1440 min", lead="0 to 8 h", travel="0 to 12 h", set_up="0 to 8 h")
def _(start, dusk, lead, travel, set_up):
    """From when the gun can start, half the way driven and set up, until so long before dusk: the way home may be in the dark."""
    begins = start / 60 + travel / 2 + set_up
    return (dusk / 60 - lead) - begins


@law("running-costs", "0 to 1000000000 money",
     mostly={"visits": "1 to 20 1", "travel": "5 to 50 money", "parking": "1 to 20 money", "cleans": "1 to 20 1", "filters": "1 to 10 money", "wash": "0.5 to 5 L", "waste": "0.5 to 5 money/L",
             "litres": "5 to 100 L", "wear": "0.2 to 3 money/L"},
     visits="1 to 1000 1", travel="0 to 100000 money", parking="0 to 100000 money", cleans="0 to 1000 1", filters="0 to 100000 money", wash="0 to 100 L", waste="0 to 1000 money/L",
     litres="0 to 50000 L", wear="0 to 1000 money/L")
def _(visits, travel, parking, cleans, filters, wash, waste, litres, wear):
    """Each on its own line."""
    return math.fsum((visits * travel, visits * parking, cleans * filters, cleans * wash * waste, litres * wear))


@law("raised-by", "0 to 10000000000000 money", sum="0 to 1000000000000 money", share="0 to 300 %")
def _(sum, share):
    """The sum, and so many hundredths of it."""
    return sum + sum / 100 * share


@law("share-of-sum", "0 to 10000000000000 money", sum="0 to 10000000000000 money", share="0 to 100 %")
def _(sum, share):
    """So many hundredths of it."""
    return sum - sum * (100 - share) / 100


@law("still-to-pay", "-10000000000000 to 10000000000000 money", sum="0 to 10000000000000 money", paid="0 to 10000000000000 money")
def _(sum, paid):
    """What is left of it."""
    return -(paid - sum)


@law("job-cost", "0 to 1000000000000 money", mostly={"hours": "1 to 1000 h", "hour_cost": "10 to 100 money/h", "materials": "10 to 10000 money", "running": "10 to 1000 money"},
     hours=ALL_HOURS, hour_cost="0 to 10000 money/h", materials="0 to 1000000000 money", running="0 to 1000000000 money")
def _(hours, hour_cost, materials, running):
    """Each on its own line."""
    return math.fsum((running, materials, hour_cost * hours))


@law("chance-of-loss", "0 to 100 %", mostly={"offered": "1500 to 3500 money", "cost": "1500 to 2500 money", "hour_cost": "20 to 60 money/h", "spread": "3 to 20 h"},
     also=({"offered": 2400, "tax": 20, "cost": 1500, "hour_cost": 38, "spread": 0}, {"offered": 2400, "tax": 20, "cost": 2000, "hour_cost": 38, "spread": 5}),
     offered="0 to 1000000000000 money", tax="0 to 50 %", cost="0 to 1000000000000 money", hour_cost="0.01 to 10000 money/h", spread=HOURS)
def _(offered, tax, cost, hour_cost, spread):
    """How far what is kept lies under what it costs, in standard deviations, and how much of a bell curve lies so far: by Page's logistic fit (from memory: 1977); the bell itself is asked apart."""
    if spread <= 0:
        return "no spread"
    kept = offered / (100 + tax) * 100
    away = (cost - kept) / (hour_cost * spread)
    return 50 * (1 + math.tanh(0.7988 * away + 0.03528 * away**3))
