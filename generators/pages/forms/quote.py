"""The quote: what will be done, with what, for how much, and what is not in it. Signed, it is frozen."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SIGNED, found_there, long, number, signatures, text, the_job


def quote(facts: Any) -> Form:
    """One sheet for the customer, filled in place from the job sheet."""
    return Form(
        "quote",
        "Quote",
        (
            the_job(),
            Block(
                "scope",
                "What we do",
                (
                    long("scope", "Surfaces, as counted"),
                    long("system", "Preparing, primer, coats: which paint, how many"),
                    text("look", "Colour, sheen; sample approved"),
                    long("left-out", "Not in the price"),
                    long("moves", "Who moves what"),
                    text("light", "Looked at from, and in what light", start="1 m (3 ft), the room's own light, no lamp held to it"),
                ),
            ),
            Block(
                "safe",
                "While we work",
                (long("air", "Air, children, pets"), long("days", "Days, and what is out of use")),
            ),
            found_there(),
            Block(
                "money",
                "Price",
                (
                    number("price", "Price, tax in it", "money"),
                    number("tax", "Tax", "%"),
                    number("deposit", "Deposit", "money"),
                    text("payment", "Payment", start="the rest on the day of the walk-round"),
                    text("valid", "Valid for", start="30 days from its date"),
                    text("changes", "Changes", start="only in writing, as a variation, before they are done"),
                ),
            ),
            signatures(),
        ),
        ("title", "customer"),
        SIGNED,
        actions=(("sign", "Sign and freeze"),),
        outputs=(("paper", "Signed text", "signed"),),
    )
