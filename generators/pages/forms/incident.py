"""The record of overspray on what was not to be painted: what, how far, who was told."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, YES, date, long, number, photographs, pick, text, time


def incident(facts: Any) -> Form:
    """Written on the spot, while it is wet."""
    return Form(
        "incident",
        "Overspray incident",
        (
            Block(
                "what",
                "What happened",
                (
                    text("title", "Job"),
                    date("date", "Date", today=True),
                    time("at", "Seen at"),
                    text("coating", "Paint, batch"),
                    text("on", "Mist on (car, glass, plants, water)"),
                    text("whose", "Whose, and how reached"),
                    number("far", "How far from the gun", "m"),
                    number("wind", "Wind, and where it came from", "m/s"),
                    text("masked", "How it was masked"),
                    pick("stopped", "Stopped at once", YES[:2]),
                ),
            ),
            Block(
                "then",
                "What was done",
                (
                    text("told", "Told: owner, customer, insurer, when"),
                    text("tried", "Tried on a hidden spot, with what"),
                    pick("water", "Anything to drain, pond or soil", YES),
                    long("left", "What is left, and who decides"),
                    text("witness", "Who saw it"),
                ),
                hint="Say what you see; owe nothing yet. Nobody rubs at a car but a finisher of cars. Into water: ring the authority now.",
            ),
            photographs("close", "from afar", "masking", "wind"),
        ),
        ("title", "date"),
        SCRIPTS,
    )
