"""A variation: a change to what was signed, with its price and days, before it is done."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SIGNED, date, found_there, long, number, signatures, text


def variation(facts: Any) -> Form:
    """What changes in a signed quote. The quote itself stays as it was signed."""
    return Form(
        "variation",
        "Variation",
        (
            Block("job", "The job", (text("title", "Job"), text("customer", "Customer"), text("quote", "Quote of (its date)"), number("number", "Variation number", "1"), date("date", "Date",
                today=True))),
            Block("change", "What changes", (long("why", "What was found, or asked"), long("change", "What we do instead, or as well"), number("price", "More to pay, tax in it (less: −)",
                "money"), text("days", "More days"))),
            found_there(),
            signatures(),
        ),
        ("title", "customer"),
        SIGNED,
        actions=(("sign", "Sign and freeze"),),
        outputs=(("paper", "Signed text", "signed"),),
    )
