"""Limits to breathe, and the air for them, of fifteen solvents: against what the lists themselves print, and worked again from atoms and the gas law.

Each list prints a limit twice, in ppm and in mg/m³; the second is the check on the first and on our own turning of one into the other.
Marks: R read at its source by somebody of this project, R2 read second-hand, M from memory. A mark is never raised: what the facts call a rule
may be as weak as its mark here, or weaker.
"""

from __future__ import annotations

import functools
import math
import re

import pytest
from conftest import ROOT

from generators import formulas, tables
from generators.formulas.own_cups import open_handbook

ATOM = {"C": 12.011, "H": 1.008, "O": 15.999}  # standard atomic weights, IUPAC, from memory
GAS = 0.0820574  # L·atm/(mol·K), CODATA, from memory
# Chemical formula, and density at 20 to 25 °C in kg/L: handbooks of chemistry, from memory. Turpentine is C10H16 in the main.
SOLVENTS = {
    "xylene": ("C8H10", 0.864), "toluene": ("C7H8", 0.867), "methanol": ("CH4O", 0.791), "ethanol": ("C2H6O", 0.789), "2-propanol": ("C3H8O", 0.785), "acetone": ("C3H6O", 0.790),
    "mek": ("C4H8O", 0.805),
    "butyl-acetate": ("C6H12O2", 0.882), "2-butoxyethanol": ("C6H14O2", 0.902), "pgme": ("C4H10O2", 0.921), "pgme-acetate": ("C6H12O3", 0.967), "dpgme": ("C7H16O3", 0.953),
    "ethyl-acetate": ("C4H8O2", 0.901),
    "1-butanol": ("C4H10O", 0.810), "turpentine": ("C10H16", 0.860),
}
# region, solvent, which, ppm, mg/m³ as that list prints it, mark. Worker limits: UK EH40/2005 (4th edition 2020), at 20 °C, M.
LISTS = [("uk", solvent, which, ppm, weight, "M") for solvent, which, ppm, weight in (
    ("xylene", "8h", 50, 220), ("xylene", "15min", 100, 441), ("toluene", "8h", 50, 191), ("toluene", "15min", 100, 384), ("methanol", "8h", 200, 266), ("methanol", "15min", 250, 333),
    ("ethanol", "8h", 1000, 1920),
    ("2-propanol", "8h", 400, 999), ("2-propanol", "15min", 500, 1250), ("acetone", "8h", 500, 1210), ("acetone", "15min", 1500, 3620), ("mek", "8h", 200, 600),
    ("mek", "15min", 300, 899), ("butyl-acetate", "8h", 150, 724),
    ("butyl-acetate", "15min", 200, 966), ("2-butoxyethanol", "8h", 25, 123), ("2-butoxyethanol", "15min", 50, 246), ("pgme", "8h", 100, 375), ("pgme", "15min", 150, 560),
    ("pgme-acetate", "8h", 50, 274),
    ("pgme-acetate", "15min", 100, 548), ("dpgme", "8h", 50, 308), ("ethyl-acetate", "8h", 200, 734), ("ethyl-acetate", "15min", 400, 1468), ("1-butanol", "15min", 50, 154),
    ("turpentine", "8h", 100, 566), ("turpentine", "15min", 150, 850))]
# EU indicative limits, at 20 °C: Directive (EU) 2019/1831 read for butyl acetate; 2000/39/EC second-hand for the glycol ethers; the rest (2000/39, 2006/15, 2017/164) from memory. Weights
# from memory but for butyl acetate.
LISTS += [("eu", *row) for row in (
    ("xylene", "8h", 50, 221, "M"), ("toluene", "8h", 50, 192, "M"), ("toluene", "15min", 100, 384, "M"), ("methanol", "8h", 200, 260, "M"), ("acetone", "8h", 500, 1210, "M"),
    ("mek", "8h", 200, 600, "M"), ("mek", "15min", 300, 900, "M"),
    ("butyl-acetate", "8h", 50, 241, "R"), ("butyl-acetate", "15min", 150, 723, "R"), ("2-butoxyethanol", "8h", 20, 98, "R2"), ("2-butoxyethanol", "15min", 50, 246, "R2"),
    ("pgme", "8h", 100, 375, "R2"),
    ("pgme", "15min", 150, 568, "R2"), ("pgme-acetate", "8h", 50, 275, "R2"), ("pgme-acetate", "15min", 100, 550, "R2"), ("dpgme", "8h", 50, 308, "R2"), ("ethyl-acetate", "8h", 200, 734, "M"))]
# US law, 29 CFR 1910.1000 table Z-1, at 25 °C, its weights rounded to two figures; NIOSH's recommended limits. Butyl acetate read on OSHA's sampling page.
LISTS += [("us", *row) for row in (
    ("xylene", "8h", 100, 435, "M"), ("methanol", "8h", 200, 260, "M"), ("ethanol", "8h", 1000, 1900, "M"), ("2-propanol", "8h", 400, 980, "M"), ("acetone", "8h", 1000, 2400, "R2"),
    ("mek", "8h", 200, 590, "R2"),
    ("butyl-acetate", "8h", 150, 710, "R"), ("2-butoxyethanol", "8h", 50, 240, "R2"), ("dpgme", "8h", 100, 600, "M"), ("ethyl-acetate", "8h", 400, 1400, "M"),
    ("1-butanol", "8h", 100, 300, "M"), ("turpentine", "8h", 100, 560, "M"),
    ("toluene", "8h|niosh", 100, 375, "R2"), ("toluene", "15min|niosh", 150, 560, "R2"), ("acetone", "8h|niosh", 250, 590, "M"), ("2-butoxyethanol", "8h|niosh", 5, 24, "R2"),
    ("pgme", "8h|niosh", 100, 360, "M"),
    ("pgme", "15min|niosh", 150, 540, "M"), ("1-butanol", "ceiling|niosh", 50, 150, "M"))]
ROUNDED = {"uk": 0.02, "eu": 0.025, "us": 0.035}  # how the lists round; the UK's and EU's newer rows to three figures, older ones less
WEAKER = {"R": ("published", "second-hand", "from memory"), "R2": ("second-hand", "from memory"), "M": ("from memory",)}
facts_of = functools.cache(lambda region: open_handbook(ROOT, region))


def molar(solvent: str) -> float:
    return sum(ATOM[atom] * int(many or 1) for atom, many in re.findall(r"([CHO])(\d*)", SOLVENTS[solvent][0]))


@pytest.mark.parametrize("region", ["uk", "eu", "us"])
def test_limits_are_those_of_the_lists_and_no_surer_than_they_were_read(region):
    rows = [row for row in LISTS if row[0] == region]
    assert len(rows) >= 15
    for _, solvent, which, ppm, _, mark in rows:
        rule = facts_of(region).rule(region, "air", f"{solvent}|{which}")
        assert rule is not None and (rule.figure, rule.unit) == (ppm, "ppm"), (solvent, which)
        assert str(rule.origin.basis) in WEAKER[mark], (solvent, which, mark, str(rule.origin.basis))


@pytest.mark.parametrize("region", ["uk", "eu", "us"])
def test_a_limit_in_ppm_weighs_what_its_list_prints(region):
    facts = facts_of(region)
    weigh = formulas.catalogue(facts)["limit-by-weight"]
    degrees = facts.region.air_at.to("°C")
    assert degrees == (25 if region == "us" else 20)
    for _, solvent, which, ppm, weight, _ in (row for row in LISTS if row[0] == region):
        found = weigh.work({"limit": ppm, "molar-mass": molar(solvent), "temperature": degrees}).value
        assert found == pytest.approx(weight, rel=ROUNDED[region]), (solvent, which)
        assert found == pytest.approx(ppm * molar(solvent) / (GAS * (degrees + 273.15)), rel=1e-4), (solvent, which)


@pytest.mark.parametrize("region", ["uk", "eu", "us"])
def test_printed_air_to_breathe_is_the_gas_laws_over_the_lowest_limit(region):
    """The finished table's cells: lowest limit of the list, air for it, and how much worse a tenth of what burns is. At 21 °C, worked from atoms."""
    facts = facts_of(region)
    shown = tables.BUILDERS["air-needed"](tables.Book(facts, formulas.catalogue(facts), "metric"))
    names = {row.key: row.name for row in facts.solvents}
    seen = 0
    for solvent, (_, density) in SOLVENTS.items():
        limits = [ppm for _, one, _, ppm, _, _ in (row for row in LISTS if row[0] == region) if one == solvent]
        if not limits:
            continue
        cells = [cell.text.replace("−", "-") for cell in dict(shown.grid())[names[solvent]]]
        vapour = density / molar(solvent) * GAS * (21 + 273.15)  # m³ from a litre
        air = vapour / (min(limits) * 1e-6)
        assert float(cells[3]) == min(limits), solvent
        assert float(cells[4]) == pytest.approx(air, rel=0.015, abs=10), solvent
        assert float(cells[4]) >= math.floor(0.985 * air / 10) * 10  # rounded up
        tenth = float(cells[1]) * 1000  # 10 % of its per cent, in ppm; the printed per cent is rounded down by up to 0.1
        assert float(cells[5]) == pytest.approx(tenth / min(limits), abs=1.0 + 50 / min(limits)), solvent
        seen += 1
    assert seen >= {"uk": 15, "eu": 10, "us": 14}[region]
