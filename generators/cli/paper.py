"""Commands that print: the card, exercise sheets, the book."""

from __future__ import annotations

from pathlib import Path

import click

from generators import owned
from generators.cli.card import card
from generators.cli.say import OneOf, Whole
from generators.cli.shared import Asked, Refused, command, facts_of, write_json

_OUT = click.Path(path_type=Path)


@command("drills", "exercise sheets as PDF, answers on the back", "almanac drills --sheet 7 --count 12", region=True, json=True, stages={"setting": 1})
@click.option("--sheet", type=Whole(0, 10**9 - 1), default=1, metavar="NUMBER", help="Number of the first sheet: the same number makes the same sheet (default: 1).")
@click.option("--count", type=Whole(1, 100), default=1, metavar="NUMBER", help="How many sheets, 1 to 100 (default: 1).")
@click.option("--out", type=_OUT, metavar="FILE", help="The PDF to write (default: named after the sheet).")
def drills(asked: Asked, sheet: int, count: int, out: Path | None) -> None:
    """Write exercise sheets as PDF, or print each question with its situation, answer and why."""
    out = out or Path(f"exercise-sheets-{sheet}.pdf")
    place = None if asked.json else owned.pdf(out, asked.handbook)
    from generators import formulas as declared
    from generators.pages.drills import sheets_data, sheets_pdf

    facts, numbers = facts_of(asked), range(sheet, sheet + count)
    if place is None:
        write_json(sheets_data(facts, declared.catalogue(facts), numbers))
        return
    owned.write(place, sheets_pdf(facts, declared.catalogue(facts), numbers))
    asked.say(f"wrote {out}")


@command("book", "the whole handbook as one PDF, with contents, page numbers and an index", "almanac book --size a4 --out handbook.pdf", region=True, stages={"reading": 2, "setting": 3})
@click.option("--size", type=OneOf(["a4", "letter", "pocket"]), help="Paper (default: letter in the US, else a4).")
@click.option("--part", default="", metavar="FOLDER", help="One folder of pages only, such as train: a trainer's booklet.")
@click.option("--pages", default="", metavar="PAGE,…", help="Chosen pages only, with commas, such as mix/thinning,air/dew-point.")
@click.option("--out", type=_OUT, default=Path("handbook.pdf"), metavar="FILE", help="The PDF to write (default: handbook.pdf).")
def book(asked: Asked, size: str | None, part: str, pages: str, out: Path) -> None:
    """Set the handbook, one folder of it or chosen pages as one PDF."""
    from generators.paper import NoBook
    from generators.paper import book as set_book

    place = owned.pdf(out, asked.handbook)
    try:
        owned.write(place, set_book(asked.handbook.resolve(), asked.region, size or "", part, [one for one in pages.split(",") if one]))
    except NoBook as error:
        raise Refused(error.lines) from error
    asked.say(f"wrote {out}")


COMMANDS = (card, book, drills)
