"""The sign-off: one trainee's record. Its lines are the list of drills; the pages of the days write into the same lines."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, YES, date, kits, long, pick, text, tick
from generators.tables import train

# What a record of an earlier edition names by its place; it is still read by these words.
BEFORE = (
    "Cup, five times", "Thinned to the target", "Dew margin, ten cases", "Comb, ten films", "Exercise sheet", "Distance held", "Speed of ten strokes",
    "Places of ten strokes", "One coat", "Two coats", "Planted faults", "Masking and clean-down", "Real job",
)
BARRED = (
    ("isocyanates", "not to spray isocyanates without the licence, air and health checks"),
    ("lead", "not to dry sand, burn or blast paint that may hold lead"),
    ("asbestos", "not to touch texture that may hold asbestos"),
    ("vapour", "not to spray solvent in a room without air worked out first"),
)


def _drills(facts: Any) -> tuple[tuple[str, str], ...]:
    """(key, title and mark) of each drill, then what earlier editions called theirs."""
    system = facts.handbook.system
    listed = tuple((key, f"{one.title}: {train.mark_words(one, train.chosen(facts, one), system)}") for key, one in facts.drills.items())
    return listed + tuple((str(place), f"{words} (earlier edition)") for place, words in enumerate(BEFORE, 1))


def sign_off(facts: Any) -> Form:
    """One trainee's record: kit, families, raw readings of every drill, limits, when it ends, what calls for training again."""
    families = sorted({one.family for one in facts.classes.values()})
    return Form(
        "signoff",
        "Sign-off record",
        (
            Block(
                "who",
                "Who and with what",
                (
                    text("trainee", "Trainee"),
                    text("trainer", "Trainer"),
                    date("date", "Date", today=True),
                    date("ends", "Ends on: 12 months at most"),
                    pick("kit", "Kit", kits(facts), start=facts.handbook.default_kit),
                    text("baseline", "Its first pressure and noise"),
                    text("nozzles", "Nozzle sets passed"),
                    text("mask", "Mask: kind, size"),
                    date("fit-test", "Fit test on"),
                ),
            ),
            Block("families", "Coatings passed", tuple(tick(f"family-{family}", family) for family in families)),
            Block(
                "readings",
                "Readings",
                (
                    pick("drill", "Drill and its mark", _drills(facts)),
                    text("raw", "Raw readings, with their unit"),
                    pick("passed", "Passed", YES[:2]),
                    date("day", "Day"),
                ),
                many="drill",
                rows=tuple({"drill": key} for key in facts.drills),
                hint="Raw readings, not ticks. The pages of the days judge them and write them in here.",
                fold=True,
            ),
            Block("surfaces", "Surfaces passed, and what is held back", (long("surfaces", "Surfaces passed"), long("held-back", "Only with a trainer"))),
            Block("barred", "I know that I am", tuple(tick(f"barred-{key}", words) for key, words in BARRED)),
            Block("signed", "Signed", (text("signed-trainee", "Trainee, date"), text("signed-trainer", "Trainer, date"), long("again", "Trained again: when, and why"))),
        ),
        ("trainee", "date"),
        (*SCRIPTS, "drills", "drill", "trainee", "progress"),
        outputs=(("progress", "How far", "who"),),
    )
