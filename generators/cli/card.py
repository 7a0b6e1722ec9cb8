"""The van card's command: which kits and paints, which cup, what goes on each side, and how it is set on paper."""

from __future__ import annotations

from pathlib import Path

import click

from generators import owned
from generators.cli.say import OneOf
from generators.cli.shared import Asked, Refused, command, complete_coatings, complete_kits, facts_of, one_of, write_json


@command("card", "the van card as PDF", "almanac card --kit my-kit --coatings my-trim-paint --size a5", region=True, json=True, stages={"setting": 1})
@click.option("--kit", metavar="NAME,…", shell_complete=complete_kits, help="One kit, several with commas, or all (default: the handbook's own).")
@click.option("--coatings", metavar="NAME,…", shell_complete=complete_coatings, help="Up to six coatings, with commas (default: the first six that may be thinned).")
@click.option("--cup", metavar="NAME", default="", help="The cup in which seconds are told (default: the one that the kit's limit is in).")
@click.option("--size", type=OneOf(["a5", "a4", "letter"]), default="a5", help="The size of a card (default: a5).")
@click.option("--front", metavar="PART,…", default="", help="What goes on the front: limit, paints, steps, surface, strokes, faults, notes.")
@click.option("--back", metavar="PART,…", default="", help="What goes on the back: the same parts.")
@click.option("--charts", is_flag=True, help="Charts that an edge is laid on, for the kit and the coatings, in the place of figures.")
@click.option("--sheet", type=OneOf(["a4", "letter"]), help="Two cards side by side on a sheet, with trim marks, corners and a hole.")
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE", help="The PDF to write (default: named after kit and size).")
def card(asked: Asked, kit: str | None, coatings: str | None, cup: str, size: str, front: str, back: str, charts: bool, sheet: str | None, out: Path | None) -> None:
    """Write the van card of one kit or several as PDF."""
    if out:
        owned.pdf(out, asked.handbook)  # before the work
    from generators import formulas as declared
    from generators.pages.card import BACK, FRONT, Wanted, card_json, card_pdf

    facts = facts_of(asked)
    kits = list(facts.kits) if kit == "all" else one_of(kit or facts.handbook.default_kit, "a kit", facts.kits)
    chosen = tuple(one_of(coatings, "a coating", facts.coatings)) if coatings else ()
    try:
        if asked.json:
            write_json(card_json(facts, declared.catalogue(facts), kits, chosen, cup))
            return
        wanted = Wanted(size, chosen, cup, tuple(front.split(",")) if front else FRONT, tuple(back.split(",")) if back else BACK, charts, sheet or "")
        out = out or Path(f"{'charts' if charts else 'card'}-{'-'.join(kits)}-{f'sheet-{sheet}' if sheet else size}.pdf")
        place = owned.pdf(out, asked.handbook)
        owned.write(place, card_pdf(facts, declared.catalogue(facts), kits, wanted=wanted))
    except ValueError as error:
        raise Refused([str(error)]) from error
    asked.say(f"wrote {out}")
