"""The method and risk sheet: how each stage is done so that nobody is hurt, and who is."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SIGNED, date, found_there, long, signatures, text

RISKS = (
    {"stage": "Sanding", "hurts": "dust; old lead: children first", "done": "test first; on-tool extraction; never dry on lead; nobody else in the room"},
    {"stage": "Spraying", "hurts": "mist and vapour, lungs and eyes", "done": "mask by the data sheet, goggles, gloves; air worked out; room shut, a sign on the door"},
    {"stage": "Vapour", "hurts": "fire, everybody", "done": "flames and pilots out, no switch, turbine outside; extinguisher at the door"},
    {"stage": "Height", "hurts": "a fall", "done": "platform, not a ladder, for the gun"},
    {"stage": "Hose and lead", "hurts": "a trip, a shock", "done": "along walls, on a trip switch, dry"},
    {"stage": "Rags", "hurts": "fire hours later", "done": "in water in a metal tin, lid on, out of the house"},
    {"stage": "Washings", "hurts": "drain, pond, soil", "done": "kept, labelled, taken away"},
)


def method(facts: Any) -> Form:
    """Stage by stage: what can hurt whom, and what is done about it."""
    return Form(
        "method",
        "Method and risks",
        (
            Block("job", "The job", (text("title", "Job"), long("address", "Address"), date("date", "Date", today=True), text("lead-hand", "Who is in charge"), text("paints",
                "Paints, with the date of each data sheet"))),
            Block(
                "stages",
                "Method",
                (text("stage", "Stage"), long("hurts", "What can hurt, and whom"), long("done", "What is done about it")),
                many="stage",
                rows=RISKS,
            ),
            Block(
                "place",
                "This place",
                (
                    long("people", "Children, pregnancy, asthma, pets, birds, fish"),
                    text("air", "Air in and out, by reading"),
                    text("flames", "Flames, pilots, alarms"),
                    text("out", "Way out; meeting place"),
                    text("emergency", "Emergency number, nearest hospital, address to say"),
                ),
                hint="The safety data sheet, the law where you work and a competent person come before this sheet.",
            ),
            found_there(fold=True),
            signatures(),
        ),
        ("title", "date"),
        SIGNED,
        actions=(("sign", "Sign and freeze"),),
        outputs=(("paper", "Signed text", "signed"),),
    )
