"""The note to neighbours: when, what, what to shut and move, whom to ring."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, date, long, text


def neighbours_note(facts: Any) -> Form:
    """What a neighbour has to know a day before."""
    return Form(
        "neighbour",
        "Neighbour's note",
        (
            Block(
                "note",
                "To our neighbours",
                (
                    text("title", "Where we work"),
                    date("from", "From"),
                    text("hours", "Hours", start="8:30 to 16:30"),
                    long("what", "What we spray, and what you may notice"),
                    text("please", "Please", start="keep windows on our side shut; move cars; take in washing and toys"),
                    text("wind", "If the wind turns to you", start="we stop"),
                    text("who", "Ring us"),
                    text("firm", "We are"),
                ),
            ),
        ),
        ("title", "from"),
        SCRIPTS,
    )
