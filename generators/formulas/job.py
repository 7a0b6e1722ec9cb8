"""The job: areas, litres to buy, hours by stage, and the price. Money is in whatever coin the crew's own rates are in."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Formula, Symbol

_COUNT = Origin(Basis.PUBLISHED, "geometry")
_BALANCE = Origin(Basis.PUBLISHED, "mass-balance")
_BOOKS = Origin(Basis.COMMON, "book-keeping")
_AREA = Symbol("area", "A", "m²", 0.001, 50000, "area to coat, one coat", 20)
_COATS = Symbol("coats", "c", "1", 1, 10, "coats", 2)
_PAINT = Symbol("paint", "V", "L", 0, 20000, "paint as it comes in the tin", 5)
_THINNER = Symbol("thinner", "p", "%", 0, 150, "thinner, % of paint volume", 5)
_MIXED = Symbol("mixed", "M", "L", 0, 50000, "paint with its thinner in it", 5)
_HOURS = 100000.0


def _hours(name: str, letter: str, meaning: str, example: float) -> Symbol:
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
        Symbol("edges", "e", "m", 0, 20000, "edges to tape", 30), Symbol("edge-pace", "a", "min/m", 0, 30, "for each metre of tape", 1),
        Symbol("sheets", "b", "m²", 0, 20000, "area to sheet", 40), Symbol("sheet-pace", "g", "min/m²", 0, 30, "for each square metre of sheet", 0.5),
        Symbol("share", "w", "%", 0, 100, "share of it that this way of working needs", 100),
    ),
    answer=_hours("masking", "t", "masking and taking it off", 1), expression="(e*a + b*g)*w", origin=_BOOKS,
)

waiting_time = Formula(
    "waiting-time", "Wait between coats",
    inputs=(_COATS, Symbol("recoat", "r", "h", 0.05, 2000, "the data sheet's time to the next coat, at 23 °C and 50 %", 4),
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
            Symbol("thinner-price", "k", "money/L", 0, 10000, "a litre of thinner", 6), Symbol("sundries", "s", "money", 0, 1e7, "tape, sheet, strainers, filters", 30)),
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
    "price-per-area", "Price for each square metre",
    inputs=(Symbol("price", "P", "money", 0, 1e12, "price", 600), _AREA),
    answer=Symbol("each", "z", "money/m²", 0, 1e15, "for each square metre, all coats"), expression="P/A", origin=_BOOKS,
)

price_per_metre = Formula(
    "price-per-metre", "Price for each metre of fence or rail",
    inputs=(Symbol("area-price", "z", "money/m²", 0, 1e6, "your price for each square metre, all coats", 12),
            Symbol("height", "h", "m", 0.05, 20, "height", 1.8), Symbol("sides", "s", "1", 1, 2, "sides", 2),
            Symbol("profile", "k", "×", 0.2, 4, "against flat", 1.1)),
    answer=Symbol("run-price", "P", "money/m", 0, 1e8, "for each metre of its length"), expression="z*h*s*k", origin=_COUNT,
    notes=("Say in the quote which sides. One side of a fence is not a fence.",),
)

solvent_released = Formula(
    "solvent-released", "Vapour that the job lets out",
    inputs=(_PAINT, Symbol("voc", "v", "g/L", 0, 1700, "VOC of the paint as supplied", 130)),
    answer=Symbol("solvent", "w", "kg", 0, 1e6, "solvent let into the air, thinner not counted"), expression="V*v", origin=_BALANCE,
)

ALL = (coated_area, paint_for_coats, mixed_paint, thinner_to_carry, paint_to_order, pots_to_fill, refill_time, spraying_time, hand_time, masking_time,
       waiting_time, job_hours, materials_cost, job_price, price_per_area, price_per_metre, solvent_released)
