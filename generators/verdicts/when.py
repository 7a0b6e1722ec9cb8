"""For whom a test is asked, where more than one verdict asks it of the same."""

from __future__ import annotations

INDOORS = (("place", "room workshop"),)
WATER = (("coating.family", "waterborne mineral"),)
BURNS = (("coating.family", "solvent oil two-pack"),)
