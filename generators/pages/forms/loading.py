"""The load list: what goes into the van, and comes back."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, long, text, the_job, tick

LOAD = (
    "Turbine, hose, gun, filters",
    "Nozzle and needle sets, spare seals",
    "Cup, watch, comb, thermometers, hygrometer, moisture meter",
    "Masks and cartridges in date, gloves, goggles, overalls",
    "Safety data sheets of every tin",
    "Fan, ducting, sheets, tape, extension lead on a trip",
    "Extractor and abrasive, filler, caulk, tack cloths",
    "Strainers, pots with lids, labels, mixing sticks",
    "Wash, tray, container for washings, rags in a metal tin",
    "Extinguisher, first aid, eye wash, water",
    "Rack, trestles, hooks, bags and labels for fittings",
)


def load_list(facts: Any) -> Form:
    """Ticked out, ticked back."""
    return Form(
        "loading",
        "Load list",
        (
            the_job(address=False),
            Block(
                "things",
                "To load",
                (text("what", "What"), tick("out", "In the van"), tick("back", "Back")),
                many="thing",
                rows=tuple({"what": what} for what in LOAD),
            ),
            Block("notes", "Notes", (long("notes", "Notes"),)),
        ),
        ("title", "customer"),
        SCRIPTS,
    )
