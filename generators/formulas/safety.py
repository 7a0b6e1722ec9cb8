"""Mist in the air, and the protection factor it asks for: screening figures, never a permission."""

from __future__ import annotations

from generators.basis import Basis, Origin
from generators.formula import Formula, Let, Symbol

mist_level = Formula(
    "mist-level", "Mist of paint solids in a room",
    inputs=(
        Symbol("flow", "Q", "mL/min", 10, 1000, "what leaves the gun", 150),
        Symbol("solids", "s", "g/L", 10, 3000, "paint solids, weight in each litre (gallon)", 600),
        Symbol("transfer-efficiency", "E", "%", 5, 99, "share that lands", 65),
        Symbol("airborne", "a", "%", 0.1, 100, "share of the rest that stays in the air", 10),
        Symbol("spraying", "t", "min", 0.5, 600, "sprayed for", 10),
        Symbol("volume", "V", "m³", 1, 10000, "room", 30),
        Symbol("air-changes", "n", "1/h", 0.05, 200, "air changes an hour", 6),
        Symbol("mixing", "m", "1", 1, 10, "mixing factor: 1 perfect, 3 an ordinary room, 10 a bad one", 3),
    ),
    answer=Symbol("concentration", "C", "mg/m³", 0, 1e6, "mist in the room's air"),
    steps=(Let("k", "1/h", "n/m", "changes that count", "k"),),
    expression="Q*s*(1 - E)*a/(k*V)*(1 - exp(-k*t))", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("A screening figure: the share that stays in the air is a guess from common practice. At the sprayer's face it can be several times more.",),
)

protection_needed = Formula(
    "protection-needed", "Protection factor that a level asks for",
    inputs=(Symbol("concentration", "C", "mg/m³", 0, 1e6, "level in the air", 300), Symbol("limit", "L", "mg/m³", 0.0001, 10000, "limit for a working day", 10)),
    answer=Symbol("factor", "f", "×", 0, 1e9, "times the limit"),
    expression="C/L", origin=Origin(Basis.PUBLISHED, "mass-balance"),
    notes=("Round up to the next device. Not for isocyanates, lead or anything with its own rules. The safety data sheet, section 8, decides.",),
)

ALL = (mist_level, protection_needed)
