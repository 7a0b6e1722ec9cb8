"""The sign-off: one trainee's record."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, YES, date, kits, long, pick, text, tick

DRILLS = (
    "Cup, five times: all within 2 s",
    "Thinned to the target within 2 s, three additions at most",
    "Dew margin, ten cases: ten right",
    "Comb, ten films: nine right",
    "Exercise sheet: nine of ten",
    "Distance: on 90 % of the stroke",
    "Speed of ten strokes: scatter 10 % at most",
    "Places of ten strokes: scatter 12 mm (½ in) at most",
    "One coat: mean, scatter, lowest",
    "Two coats: mean, scatter, lowest",
    "Planted faults: eight of ten",
    "Masking and clean-down",
    "Real job: hours within 25 %, litres within 15 %",
)
BARRED = (
    ("isocyanates", "not to spray isocyanates without the licence, air and health checks"),
    ("lead", "not to dry sand, burn or blast paint that may hold lead"),
    ("asbestos", "not to touch texture that may hold asbestos"),
    ("vapour", "not to spray solvent in a room without air worked out first"),
)


def sign_off(facts: Any) -> Form:
    """One trainee's record: kit, families, raw readings, limits, when it ends, what calls for training again."""
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
                    pick("drill", "Drill and its limit", tuple((str(place), words) for place, words in enumerate(DRILLS, 1))),
                    long("raw", "Raw readings, with their unit"),
                    pick("passed", "Passed", YES[:2]),
                ),
                many="drill",
                rows=tuple({"drill": str(place)} for place in range(1, len(DRILLS) + 1)),
                hint="Raw readings, not ticks. The limits of the board come from the simulation of strokes, in the table below.",
            ),
            Block("surfaces", "Surfaces passed, and what is held back", (long("surfaces", "Surfaces passed"), long("held-back", "Only with a trainer"))),
            Block("barred", "I know that I am", tuple(tick(f"barred-{key}", words) for key, words in BARRED)),
            Block("signed", "Signed", (text("signed-trainee", "Trainee, date"), text("signed-trainer", "Trainer, date"), long("again", "Trained again: when, and why"))),
        ),
        ("trainee", "date"),
        SCRIPTS,
    )
