"""The recipe: what worked."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, coatings, cups, date, kits, long, number, pick, text


def recipe(facts: Any) -> Form:
    """What worked, as `site_data/recipes` holds it."""
    return Form(
        "recipe",
        "Recipe",
        (
            Block(
                "recipe",
                "What worked",
                (
                    pick("coating", "From the handbook", coatings(facts)),
                    text("named", "Name and colour, where it is not"),
                    date("date", "Day it worked", today=True),
                    text("surface", "On what"),
                    text("batch", "Batch"),
                    pick("kit", "Kit", kits(facts)),
                    number("paint-temperature", "Paint", "°C"),
                    pick("cup", "Cup", cups(facts)),
                    number("seconds", "First break after", "s"),
                    number("thinner", "Thinner, of the paint", "%"),
                    number("nozzle", "Nozzle", "mm"),
                    number("distance", "Gun to surface", "mm"),
                    number("wet-film", "Wet film", "µm"),
                    long("result", "How it came out"),
                    long("notes", "Do differently next time"),
                ),
            ),
        ),
        ("named", "coating", "surface", "date"),
        (*SCRIPTS, "recipes"),
        actions=(("yaml", "This one for the handbook (YAML)"),),
        outputs=(("yaml", "For site_data/recipes", "recipe"),),
    )
