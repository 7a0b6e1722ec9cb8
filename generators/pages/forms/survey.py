"""The survey sheet: what is looked at, measured and asked before a price is said."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, YES, date, found_there, long, number, photographs, pick, text, the_job


def survey_sheet(facts: Any) -> Form:
    """Look, measure, test, ask: before a price."""
    return Form(
        "survey",
        "Survey sheet",
        (
            the_job(),
            Block(
                "rooms",
                "Surfaces, as counted",
                (
                    text("what", "What, and where"),
                    number("count", "How many"  , "1"),
                    number("width", "Width", "m"),
                    number("height", "Height", "m"),
                    pick("condition", "Condition", (("sound", "sound"), ("worn", "worn"), ("poor", "poor"))),
                    text("under", "What is under; moisture"),
                ),
                many="surface",
            ),
            found_there(),
            Block(
                "tests",
                "Tried",
                (text("rub", "Rub with solvent: what came off"), text("tape", "Cut and tape, class, where"), text("meter", "Moisture, three places"), pick("patch", "Test patch laid", YES[:2]),
                    date("patch-seen", "Looked at on")),
            ),
            Block(
                "site",
                "The place",
                (
                    text("power-water", "Power and water"),
                    text("turbine", "Where the turbine stands, upwind"),
                    text("air", "Where the air goes out"),
                    number("edges", "Edges to tape", "m"),
                    number("sheets", "To sheet", "m²"),
                    text("access", "Access, parking, keys"),
                    long("people", "Children, pregnancy, asthma, pets, birds, fish"),
                    long("near", "Cars, plants, ponds, open windows near by"),
                    text("flames", "Flames, pilots, alarms"),
                ),
            ),
            Block("damage", "Damage before we came", (long("damage", "What, where, photographs named"),)),
            photographs("before", "label", "meter"),
        ),
        ("title", "customer"),
        SCRIPTS,
    )
