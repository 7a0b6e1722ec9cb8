"""The invoice: what was quoted, what was varied, what is paid."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, date, long, number, text, the_job


def invoice(facts: Any) -> Form:
    """What is to be paid, and for what."""
    return Form(
        "invoice",
        "Invoice",
        (
            the_job(),
            Block(
                "lines",
                "For",
                (text("what", "What"), number("amount", "Amount, tax in it", "money")),
                many="line",
            ),
            Block(
                "money",
                "To pay",
                (
                    text("number", "Invoice number"),
                    number("tax", "Tax in it", "%"),
                    number("paid", "Deposit paid", "money"),
                    number("due", "Still to pay", "money"),
                    date("by", "By"),
                    long("how", "How: account, reference"),
                    text("firm", "Our name, address, tax number"),
                ),
            ),
        ),
        ("title", "customer"),
        SCRIPTS,
    )
