"""Every declared verdict, a file per chapter."""

from __future__ import annotations

from generators.verdict import Verdict
from generators.verdicts import air, coat, gun, hazard, pot, room

DECLARED: dict[str, Verdict] = {verdict.name: verdict for chapter in (hazard, air, pot, gun, coat, room) for verdict in chapter.ALL}
