"""The job: areas, litres to buy, hours by stage and their spread, and the price. Money is in whatever coin the crew's own rates are in."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Condition, Constant, Formula, Let, Symbol

_COUNT = Origin(Basis.PUBLISHED, "geometry")
_BALANCE = Origin(Basis.PUBLISHED, "mass-balance")
_BOOKS = Origin(Basis.COMMON, "book-keeping")
_AREA = Symbol("area", "A", "m²", 0.001, 50000, "area to coat, one coat", 20)
_COATS = Symbol("coats", "c", "1", 1, 10, "coats", 2)
_PAINT = Symbol("paint", "V", "L", 0, 20000, "paint as it comes in the tin", 5)
_THINNER = Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume", 5)
_MIXED = Symbol("mixed", "M", "L", 0, 50000, "paint with its thinner in it", 5)
_HOURS = 100000.0


def _hours(name: str, letter: str, meaning: str, example: float = 1) -> Symbol:
    return Symbol(name, letter, "h", 0, _HOURS, meaning, example)


coated_area = Formula(
    "coated-area", "Area to coat",
    inputs=(
        Symbol("face", "F", "m²", 0.001, 2000, "one face, as it is measured", 1.5),
        Symbol("count", "n", "1", 1, 2000, "how many", 20),
        Symbol("sides", "s", "1", 1, 2, "sides", 2),
        Symbol("profile", "k", "×", 0.2, 4, "against flat: more for edges, mouldings, slats; less for open work", 1.15),
    ),
    answer=Symbol("area", "A", "m²", 0.001, 50000, "area of one coat"),
    expression="F*n*s*k", origin=_COUNT,
    notes=("A fence has two sides. So has a door, and it has edges.",),
)

paint_for_coats = Formula(
    "paint-for-coats", "Paint for all coats of one surface",
    inputs=(
        _AREA, _COATS,
        Symbol("dry-film", "d", "µm", 1, 500, "dry film of each coat", 30),
        Symbol("volume-solids", "S", "%", 2, 100, "volume solids of the paint as supplied", 38),
        Symbol("drink", "m", "×", 1, 4, "how much more the bare surface drinks in the first coat", 1),
        Symbol("transfer-efficiency", "E", "%", 5, 100, "share that lands", 60),
    ),
    answer=Symbol("paint", "V", "L", 0, 20000, "paint as it comes in the tin"),
    expression="A*d*(c - 1 + m)/(S*E)", origin=_BALANCE,
    notes=("Equal film: brush, roller and gun leave the same dry film, and lose a different share on the way.",),
)

coats_to_hide = Formula(
    "coats-to-hide", "Coats to hide what is under",
    inputs=(Symbol("contrast", "C", "%", 50, 99.5, "contrast ratio on the data sheet, of one coat", 98),
            Symbol("spread", "s", "m²/L", 1, 40, "at so many square metres (square feet) from a litre (gallon)", 8),
            Symbol("wet-film", "h", "µm", 5, 500, "wet film of each of your coats", 62.5), Symbol("thinner", "p", "%", 0, 150, "thinner in it, % of paint volume", 0),
            Symbol("wanted", "W", "%", 50, 99.5, "contrast ratio that hides", 98)),
    steps=(Let("u", "1", "(-1 + sqrt(1 - 0.8*(0.8 - 0.8/(1 - C))))/0.4"), Let("v", "1", "(-1 + sqrt(1 - 0.8*(0.8 - 0.8/(1 - W))))/0.4")),
    answer=Symbol("coats", "c", "1", 0.01, 200, "coats, the last one part: round up"), expression="v/u/(s*h/(1 + p))", origin=Origin(Basis.MEMORY, "kubelka-munk"),
    notes=("White paint that only scatters, on white and black: the safe side, since a tint hides better. Not for clean yellow, orange and red, metallics, or stains that bleed.",
        "98 % is what a standard calls hidden."),
)

mixed_paint = Formula(
    "mixed-paint", "Paint with its thinner in it", inputs=(_PAINT, _THINNER),
    answer=Symbol("mixed", "M", "L", 0, 50000, "through the gun"), expression="V*(1 + p)", origin=_BALANCE,
)

thinner_to_carry = Formula(
    "thinner-to-carry", "Thinner to carry", inputs=(_PAINT, _THINNER),
    answer=Symbol("thinner-volume", "q", "L", 0, 50000, "thinner for all of it, none for washing"), expression="V*p", origin=_BALANCE,
)

paint_to_order = Formula(
    "paint-to-order", "Paint to order",
    inputs=(
        _PAINT,
        Symbol("fills", "n", "1", 0, 200, "times that the gun is filled and cleaned", 2),
        Symbol("loss", "l", "L", 0, 5, "left in pot, strainer and hose each time", 0.25),
        Symbol("spare", "q", "%", 0, 100, "to spare, with the touch-up pot", 5),
    ),
    answer=Symbol("order", "B", "L", 0, 50000, "paint to order, before it is rounded to tins"),
    expression="(V + n*l)*(1 + q)", origin=_BALANCE,
)

pots_to_fill = Formula(
    "pots-to-fill", "Pots to fill", inputs=(_MIXED, Symbol("pot", "P", "L", 0.05, 100, "the pot", 1)),
    answer=Symbol("pots", "N", "1", 0, 1e6, "pots, the last one part full"), expression="M/P", origin=_BALANCE,
)

refill_time = Formula(
    "refill-time", "Time spent filling the pot",
    inputs=(_MIXED, Symbol("pot", "P", "L", 0.05, 100, "the pot", 1), Symbol("refill", "r", "min", 0, 60, "each fill, with straining", 4)),
    answer=_hours("refills", "R", "filling", 1), expression="M*r/P", origin=_BALANCE,
)

spraying_time = Formula(
    "spraying-time", "Time at the gun",
    inputs=(
        _MIXED, Symbol("flow", "Q", "mL/min", 5, 1000, "flow of the gun, by weight", 150),
        Symbol("duty", "u", "%", 5, 100, "share of the time that the trigger is pulled", 45),
    ),
    answer=_hours("spraying", "t", "spraying, moving and turning", 1), expression="M/(Q*u)", origin=_BALANCE,
)

hand_time = Formula(
    "hand-time", "Time with brush or roller",
    inputs=(_AREA, _COATS, Symbol("rate", "r", "m²/h", 0.05, 500, "area of one coat in an hour: yours, measured", 8)),
    answer=_hours("by-hand", "t", "brushing or rolling", 5), expression="A*c/r", origin=_BOOKS,
)

masking_time = Formula(
    "masking-time", "Time to mask and sheet",
    inputs=(
        Symbol("edges", "e", "m", 0, 20000, "edges to tape", 30), Symbol("edge-pace", "a", "min/m", 0, 30, "for each metre (foot) of tape", 1),
        Symbol("sheets", "b", "m²", 0, 20000, "area to sheet", 40), Symbol("sheet-pace", "g", "min/m²", 0, 30, "for each square metre (square foot) of sheet", 0.5),
        Symbol("share", "w", "%", 0, 100, "share of it that this way of working needs", 100),
    ),
    answer=_hours("masking", "t", "masking and taking it off", 1), expression="(e*a + b*g)*w", origin=_BOOKS,
)

waiting_time = Formula(
    "waiting-time", "Wait between coats",
    inputs=(_COATS, Symbol("recoat", "r", "h", 0.05, 2000, "the data sheet's time to the next coat, at 23 °C (73 °F) and 50 %", 4),
            Symbol("stretch", "k", "×", 0.05, 100, "how much longer today", 1.5)),
    answer=_hours("waiting", "t", "waiting in all", 6), expression="(c - 1)*r*k", origin=_BOOKS,
)

job_hours = Formula(
    "job-hours", "Hours on the job",
    inputs=(_hours("survey", "a", "survey and quote", 1), _hours("masking", "b", "masking", 2), _hours("set-up", "g", "unloading and setting up", 0.75),
            _hours("application", "t", "spraying, brushing or rolling", 6), _hours("refills", "f", "filling the pot", 1), _hours("clean-down", "k", "cleaning and packing up", 1)),
    answer=Symbol("hours", "H", "h", 0, 10 * _HOURS, "hours of work, without waits"), expression="a + b + g + t + f + k", origin=_BOOKS,
)

materials_cost = Formula(
    "materials-cost", "What the materials cost",
    inputs=(Symbol("tins", "T", "money", 0, 1e7, "tins bought", 200), Symbol("thinner-volume", "q", "L", 0, 50000, "thinner", 0.5),
            Symbol("thinner-price", "k", "money/L", 0, 10000, "a litre (quart) of thinner", 6), Symbol("sundries", "s", "money", 0, 1e7, "tape, sheet, strainers, filters", 30)),
    answer=Symbol("materials", "C", "money", 0, 1e9, "materials"), expression="T + q*k + s", origin=_BOOKS,
)

job_price = Formula(
    "job-price", "Price of the job",
    inputs=(Symbol("hours", "H", "h", 0, 10 * _HOURS, "hours of work", 10), Symbol("hour-rate", "r", "money/h", 0, 10000, "an hour of work, with all that it must carry", 35),
            Symbol("materials", "C", "money", 0, 1e9, "materials", 250), Symbol("markup", "k", "%", 0, 200, "on materials", 15),
            Symbol("fixed", "f", "money", 0, 1e7, "travel, hire, waste fee", 40), Symbol("tax", "x", "%", 0, 50, "tax on the whole", 20)),
    answer=Symbol("price", "P", "money", 0, 1e12, "price"), expression="(H*r + C*(1 + k) + f)*(1 + x)", origin=_BOOKS,
    notes=("Area alone loses money on the first jobs: masking, two cleanings, the second side and the waits are what eat the day.",),
)

price_per_area = Formula(
    "price-per-area", "Price for each square metre (square foot)",
    inputs=(Symbol("price", "P", "money", 0, 1e12, "price", 600), _AREA),
    answer=Symbol("each", "z", "money/m²", 0, 1e15, "for each square metre (square foot), all coats"), expression="P/A", origin=_BOOKS,
)

price_per_metre = Formula(
    "price-per-metre", "Price for each metre (foot) of fence or rail",
    inputs=(Symbol("area-price", "z", "money/m²", 0, 1e6, "your price for each square metre (square foot), all coats", 12),
            Symbol("height", "h", "m", 0.05, 20, "height", 1.8), Symbol("sides", "s", "1", 1, 2, "sides", 2),
            Symbol("profile", "k", "×", 0.2, 4, "against flat", 1.1)),
    answer=Symbol("run-price", "P", "money/m", 0, 1e8, "for each metre (foot) of its length"), expression="z*h*s*k", origin=_COUNT,
    notes=("Say in the quote which sides. One side of a fence is not a fence.",),
)

solvent_released = Formula(
    "solvent-released", "Vapour that the job lets out",
    inputs=(_PAINT, Symbol("voc", "v", "g/L", 0, 1700, "VOC of the paint as supplied", 130)),
    answer=Symbol("solvent", "w", "kg", 0, 1e6, "solvent let into the air, thinner not counted"), expression="V*v", origin=_BALANCE,
)

# The stages of the work: how much of each, how long it takes, who is there, and how far it can be off.

_PERT = Origin(Basis.MEMORY, "three-point")
_AMOUNT = Symbol("amount", "n", "1", 0, 1e6, "how many", 20)
_TIMES = Symbol("times", "w", "%", 0, 300, "of it, this way of working", 100)
_WORK = _hours("work", "W", "hours of work", 6)
_DONE = Symbol("work", "W", "h", 0, 1e15, "hours of work")
_HOUR = Constant("u", 1, "h", "an hour")
_CREW = Symbol("crew", "n", "1", 1, 8, "people", 2)

area_to_prepare = Formula(
    "area-to-prepare", "Area to prepare, as if it were flat and sound",
    inputs=(_AREA, Symbol("wear", "w", "×", 0.5, 10, "how much longer its condition takes than a sound one", 1.6),
            Symbol("detail", "k", "×", 0.2, 10, "how much longer its shape takes than a flat wall", 1.8)),
    answer=Symbol("prepared", "B", "m²", 0, 5e6, "as much work as so much of a flat, sound wall"), expression="A*w*k", origin=_BOOKS,
)

coats_of_area = Formula(
    "coats-of-area", "Area of all coats", inputs=(_AREA, _COATS), answer=Symbol("coated", "B", "m²", 0, 5e6, "area times coats"), expression="A*c", origin=_COUNT,
)

area_between_coats = Formula(
    "area-between-coats", "Area to flat between coats",
    inputs=(Symbol("area", "A", "m²", 0, 5e6, "area, as much work as so much flat wall", 20), Symbol("coats", "c", "1", 1, 30, "coats, primer and finish together", 3)),
    answer=Symbol("between", "B", "m²", 0, 1e8, "area, as often as a coat goes over another"), expression="A*(c - 1)", origin=_COUNT,
    notes=("A primer and a finish, or one paint for all: a coat over a coat is flatted just the same.",),
)

pieces_turned = Formula(
    "pieces-turned", "Pieces to turn and rack", inputs=(Symbol("pieces", "n", "1", 0, 2000, "pieces that were taken off", 20), Symbol("coats", "c", "1", 1, 30,
    "coats, primer and finish together", 3)),
    answer=Symbol("turns", "N", "1", 0, 60000, "pieces times coats"), expression="n*c", origin=_COUNT,
)

stage_each = Formula(
    "stage-each", "A stage that goes by the piece, the visit or the job", inputs=(_AMOUNT, _hours("pace-each", "r", "each", 0.1), _TIMES),
    answer=_DONE, expression="n*r*w", origin=_BOOKS,
)

stage_area = Formula(
    "stage-area", "A stage that goes by area",
    inputs=(Symbol("area", "A", "m²", 0, 1e8, "area", 20), Symbol("pace-area", "r", "min/m²", 0, 600, "for each square metre (square foot)", 3), _TIMES),
    answer=_DONE, expression="A*r*w", origin=_BOOKS,
)

stage_length = Formula(
    "stage-length", "A stage that goes by length",
    inputs=(Symbol("length", "e", "m", 0, 1e6, "length", 30), Symbol("pace-length", "r", "min/m", 0, 600, "for each metre (foot)", 1), _TIMES),
    answer=_DONE, expression="e*r*w", origin=_BOOKS,
)

shared_time = Formula(
    "shared-time", "How long it takes them", inputs=(_WORK, Symbol("hands", "n", "1", 1, 8, "people who can work at it at once", 2)),
    answer=_hours("elapsed", "t", "by the clock"), expression="W/n", origin=_BOOKS,
    notes=("One can hold a gun; two can sand. Halving is the best that sharing does.",),
)

paid_time = Formula(
    "paid-time", "Hours to be paid", inputs=(_hours("elapsed", "t", "by the clock", 3), _CREW), answer=_hours("paid", "H", "hours paid"), expression="t*n", origin=_BOOKS,
    notes=("Whoever is there is paid, also while one sprays and the other waits.",),
)

three_point_mean = Formula(
    "three-point-mean", "What to count on, from low, likely and high",
    inputs=(_hours("low", "a", "if all goes well", 2), _hours("likely", "m", "likely", 3), _hours("high", "b", "if it goes badly", 7)),
    answer=_hours("mean", "H", "to count on"), expression="(a + 4*m + b)/6", origin=_PERT,
    notes=("What goes badly goes further than what goes well: the figure to count on lies over the likely one.",),
)

three_point_spread = Formula(
    "three-point-spread", "How far it scatters, from low and high", inputs=(_hours("low", "a", "if all goes well", 2), _hours("high", "b", "if it goes badly", 7)),
    answer=_hours("spread", "s", "one standard deviation"), expression="(b - a)/6", origin=_PERT,
)

spread_squared = Formula(
    "spread-squared", "Scatter, squared, to be added up", inputs=(_hours("spread", "s", "one standard deviation", 1),), constants=(_HOUR,), answer=Symbol("square", "q", "1", 0, 1e12,
    "variance, in hours squared"), expression="(s/u)**2", origin=_PERT,
)

joint_spread = Formula(
    "joint-spread", "How far the whole scatters",
    inputs=(Symbol("squares", "q", "1", 0, 1e12, "sum of the squares of the stages' scatter", 4), _hours("spreads", "s", "sum of the stages' scatter", 5),
            Symbol("together", "r", "%", 0, 100, "how much the stages go well or badly together", 30)),
    answer=_hours("spread", "S", "one standard deviation of the whole"), constants=(_HOUR,), expression="sqrt((1 - r)*q*u**2 + r*s**2)", origin=Origin(Basis.MEMORY, "variance-of-a-sum"),
    notes=("Stages that have nothing to do with one another even out. A bad building makes all of them longer.",),
)

hours_if_well = Formula(
    "hours-if-well", "Hours that one job in ten stays under", inputs=(_hours("mean", "H", "to count on", 30), _hours("spread", "s", "one standard deviation", 4)),
    constants=(Constant("z", 1.2815515655446, "1", "one in ten of a bell curve"),),
    answer=Symbol("hours", "L", "h", -10 * _HOURS, 10 * _HOURS, "one in ten takes less"), expression="H - z*s", origin=_PERT,
)

hours_if_badly = Formula(
    "hours-if-badly", "Hours that one job in ten goes over", inputs=(_hours("mean", "H", "to count on", 30), _hours("spread", "s", "one standard deviation", 4)),
    constants=(Constant("z", 1.2815515655446, "1", "one in ten of a bell curve"),),
    answer=Symbol("hours", "L", "h", 0, 10 * _HOURS, "one in ten takes more"), expression="H + z*s", origin=_PERT,
)

day_left = Formula(
    "day-left", "What a visit leaves for the work",
    inputs=(Symbol("day", "D", "h", 1, 24, "the crew's day, from leaving to coming home", 8), Symbol("travel", "t", "h", 0, 12, "there and back", 0.8), Symbol("set-up", "g", "h", 0, 8,
        "unloading and setting up", 0.5),
        Symbol("clean-down", "k", "h", 0, 8, "cleaning and packing", 0.7)),
    answer=Symbol("left", "L", "h", 0.5, 24, "for the work"), expression="D - t - g - k", origin=_BOOKS,
)

light_left = Formula(
    "light-left", "Until when a coat may go on outdoors",
    inputs=(Symbol("start", "a", "min", 0, 1440, "the day begins", 480), Symbol("dusk", "b", "min", 0, 1440, "dusk", 1020), Symbol("lead", "g", "h", 0, 8, "before dusk, to be past the dew", 2),
        Symbol("travel", "t", "h", 0, 12, "there and back", 0.8), Symbol("set-up", "k", "h", 0, 8, "setting up", 0.5)),
    answer=Symbol("left", "L", "h", 0.5, 24, "hours of work that a visit has before that"), expression="b - a - g - t/2 - k", origin=_BOOKS,
)

running_costs = Formula(
    "running-costs", "What visits, cleaning and wear cost",
    inputs=(Symbol("visits", "n", "1", 1, 1000, "visits", 4), Symbol("travel", "t", "money", 0, 1e5, "fuel, each visit", 20), Symbol("parking", "p", "money", 0, 1e5, "parking, each visit", 0),
            Symbol("cleans", "c", "1", 0, 1000, "clean-downs", 3), Symbol("filters", "f", "money", 0, 1e5, "strainers and filters, each clean-down", 4),
            Symbol("wash", "b", "L", 0, 100, "washings, each clean-down", 2), Symbol("waste", "d", "money/L", 0, 1000, "to be rid of a litre (quart)", 1.5),
            Symbol("litres", "V", "L", 0, 50000, "through the gun", 12), Symbol("wear", "w", "money/L", 0, 1000, "wear of nozzle, needle and turbine, each litre (quart)", 1)),
    answer=Symbol("running", "C", "money", 0, 1e9, "together"), expression="n*(t + p) + c*(f + b*d) + V*w", origin=_BOOKS,
)

raised_by = Formula(
    "raised-by", "A sum with a share on top", inputs=(Symbol("sum", "P", "money", 0, 1e12, "the sum", 600), Symbol("share", "m", "%", 0, 300, "on top", 12)),
    answer=Symbol("raised", "R", "money", 0, 1e13, "with it"), expression="P*(1 + m)", origin=_BOOKS,
)

share_of_sum = Formula(
    "share-of-sum", "A share of a sum", inputs=(Symbol("sum", "P", "money", 0, 1e13, "the sum", 1200), Symbol("share", "m", "%", 0, 100, "the share", 25)),
    answer=Symbol("part", "D", "money", 0, 1e13, "the part"), expression="P*m", origin=_BOOKS,
)

still_to_pay = Formula(
    "still-to-pay", "What is still to be paid", inputs=(Symbol("sum", "P", "money", 0, 1e13, "the whole", 1200), Symbol("paid", "D", "money", 0, 1e13, "paid already", 300)),
    answer=Symbol("due", "R", "money", -1e13, 1e13, "still to pay"), expression="P - D", origin=_BOOKS,
)

job_cost = Formula(
    "job-cost", "What the job costs you",
    inputs=(Symbol("hours", "H", "h", 0, 10 * _HOURS, "hours paid", 30), Symbol("hour-cost", "r", "money/h", 0, 10000, "what an hour costs you, with all that it must carry", 38),
            Symbol("materials", "C", "money", 0, 1e9, "materials", 250), Symbol("running", "f", "money", 0, 1e9, "visits, cleaning, wear", 90)),
    answer=Symbol("cost", "K", "money", 0, 1e12, "before margin and tax"), expression="H*r + C + f", origin=_BOOKS,
)

chance_of_loss = Formula(
    "chance-of-loss", "The chance to lose money at a price",
    inputs=(Symbol("offered", "P", "money", 0, 1e12, "price offered, with tax", 2400), Symbol("tax", "x", "%", 0, 50, "tax in it", 20), Symbol("cost", "K", "money", 0, 1e12, "what it costs you",
        1500),
            Symbol("hour-cost", "r", "money/h", 0.01, 10000, "what an hour costs you", 38), _hours("spread", "s", "scatter of the hours", 5)),
    steps=(Let("y", "1", "(K - P/(1 + x))/(r*s)"),),
    conditions=(Condition("s", "the hours have no spread"),),
    answer=Symbol("chance", "q", "%", 0, 100, "of such jobs, so many lose money"), expression="1/(1 + exp(-1.5976*y - 0.07056*y**3))",
    origin=Origin(Basis.MEMORY, "page-1977"),
    notes=("A bell curve, by a fit that is right to a fifth of a thousandth.",),
)

ALL = (coated_area, paint_for_coats, coats_to_hide, mixed_paint, thinner_to_carry, paint_to_order, pots_to_fill, refill_time, spraying_time, hand_time, masking_time,
       waiting_time, job_hours, materials_cost, job_price, price_per_area, price_per_metre, solvent_released,
       area_to_prepare, coats_of_area, area_between_coats, pieces_turned, stage_each, stage_area, stage_length, shared_time, paid_time, three_point_mean, three_point_spread,
       spread_squared, joint_spread, hours_if_well, hours_if_badly, day_left, light_left, running_costs, raised_by, share_of_sum, still_to_pay, job_cost, chance_of_loss)
