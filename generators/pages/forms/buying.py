"""The buying list: tins, thinner and sundries of one job."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, long, text, the_job, tick


def buying_list(facts: Any) -> Form:
    """What has to be bought, and what came."""
    return Form(
        "buying",
        "Buying list",
        (
            the_job(address=False),
            Block(
                "things",
                "To buy",
                (text("what", "What"), text("how-much", "How much"), text("batch", "Batch, when bought"), tick("bought", "Bought")),
                many="thing",
            ),
            Block("notes", "Notes", (long("notes", "Notes"),)),
        ),
        ("title", "customer"),
        SCRIPTS,
    )
