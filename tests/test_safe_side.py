"""Each table errs to the side that hurts nobody, and its zones say what the kit and the data sheet say. The sides are decided here from what a slip would cost."""

from __future__ import annotations

import re

import pytest

from generators import tables

# More thinner can be added, but not taken out; too long a time, too thick a wet film to plan for, too warm a surface asked for, cost only patience.
SIDES = {"thinning-steps": "up", "thinner-dose": "down", "thinner-dose-3": "down", "thinner-dose-1": "down",
         "stroke-spacing": "down", "coverage": "down", "wet-film": "up", "dew-surface": "up", "cup-times": "nearest", "fan-width": "nearest",
         "louvres": "up", "mask-reach": "up", "moisture": "down"}


@pytest.fixture(params=["metric", "us"])
def book(request, facts, catalogue):
    return tables.Book(facts, catalogue, request.param)


def made(book, name):
    builder = tables.BUILDERS[name]
    return [builder(book, *([kit] if builder.per == "kit" else [])) for kit in (book.facts.kits if builder.per == "kit" else [""])]


@pytest.mark.parametrize("name", SIDES)
def test_printed_numbers_lie_on_the_safe_side(book, name):
    for table in made(book, name):
        for row, (_, cells) in enumerate(table.grid()):
            for column, cell in enumerate(cells):
                if cell.text == "–":
                    continue
                printed, value, step = float(cell.text.replace("−", "-")), float(table.body.iat[row, column]), table.rounding.step
                hair = 1e-6 * max(1, abs(value))
                low, high = {"up": (value, value + step), "down": (value - step, value), "nearest": (value - step / 2, value + step / 2)}[SIDES[name]]
                assert low - hair <= printed <= high + hair, (name, row, column, printed, value)


def test_a_dose_in_the_pot_is_never_more_than_its_share(book):
    for slug, kit in book.facts.kits.items():
        for head in tables.BUILDERS["thinning-steps"](book, slug).rows.heads[1:]:
            percent, dose, unit = re.fullmatch(r"([\d.]+) % · ([\d.]+) (mL|fl oz)", head).groups()
            millilitres = float(dose) * (29.5735295625 if unit == "fl oz" else 1)
            whole = kit.pot.to("L") * 1000 * (1 - 1 / (1 + float(percent) / 100))
            assert whole - 8 <= millilitres <= whole + 1e-6


def test_reach_of_the_kit_is_the_fine_zone(book):
    for slug, kit in book.facts.kits.items():
        table = tables.BUILDERS["stroke-spacing"](book, slug)
        for head, cells in table.grid():
            distance = float(head) * (1 if book.metric else 25.4)
            inside = kit.near.to("mm") - 0.5 <= distance <= kit.far.to("mm") + 0.5
            assert {cell.zone for cell in cells if not cell.reason} <= {"fine" if inside else "care"}, (slug, head)


def test_a_pour_that_is_not_the_last_says_so(book):
    """The farther the second timing is from the limit, the less it is likely to be the last pour."""
    for name in ("thinner-dose", "thinner-dose-3", "thinner-dose-1"):
        for table in made(book, name):
            for _, cells in table.grid():
                shown = [cell for cell in cells if not cell.reason]
                zones = [cell.zone for cell in shown]
                assert zones == sorted(zones, key=["fine", "care"].index), table.title
