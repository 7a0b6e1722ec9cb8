"""The care sheet: what the customer is left with."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, YES, coatings, date, number, pick, text


def care_sheet(facts: Any) -> Form:
    """What the customer is left with."""
    return Form(
        "care",
        "Care and cure",
        (
            Block(
                "care",
                "For the customer",
                (
                    text("title", "What was coated"),
                    text("customer", "Customer"),
                    date("finished", "Finished on"),
                    pick("coating", "From the handbook", coatings(facts)),
                    text("named", "Paint and colour"),
                    text("batch", "Batch"),
                    number("air-temperature", "Air while it hardens", "°C", start="18"),
                    text("film", "Wet film, mean and lowest"),
                    pick("touch-up", "Touch-up pot left with you", YES[:2]),
                    text("who", "Whom to ask"),
                ),
            ),
        ),
        ("title", "customer"),
        (*SCRIPTS, "care"),
        ("cure-stretch",),
        outputs=(("care", "Care and cure", "care"),),
    )
