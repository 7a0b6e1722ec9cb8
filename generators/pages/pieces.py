"""build_assets(facts) → {path: content} and build_drawn(facts) → {path: bytes}: what the site holds beside its pages. Pure: nothing is written."""

from __future__ import annotations

import traceback
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generators import formulas, noted, quantity, render, tables
from generators.chart import Chart
from generators.pages.build import Rests
from generators.pages.errors import PageError, builder_of
from generators.pages.parts import Part, handbook_pages, page_parts
from generators.studies import relief

Files = dict[str, bytes | str]


def build_assets(facts: Any, books: Mapping[str, tables.Book] | None = None, drawn: Mapping[str, bytes] | None = None, only: Callable[[str], bool] | None = None,
                 rests: Rests | None = None, gives: dict[str, list[str]] | None = None) -> Files:
    """Cards, the live formulas and every table as CSV, by address. PageError with every builder that cannot work these facts.

    `drawn`, where given, is what `build_drawn` gave for these facts elsewhere. `only` says by its name whether a piece is wanted; `rests` is told what each rests on, `gives` its addresses.
    """
    catalogue = formulas.catalogue(facts)
    assets, problems, traces = Files(), list[str](), list[str]()
    for one in _pieces(facts, catalogue, books or tables.books(facts, catalogue)):
        if only is not None and not only(one.name):
            continue
        try:
            with noted.noting() as here:
                files = one.make()
        except Exception as error:
            if not one.builder:
                raise
            where = builder_of(error) or "generators/tables/__init__.py:1"  # a builder from elsewhere, which that room took in
            problems.append(f"{where}: wanted a builder that can work these facts; came {type(error).__name__}: {' '.join(str(error).split())}; mend that line, or the facts it was given: "
                            f"the table {one.table}{f' of {one.slug}' if one.slug else ''} asked for it")
            traces.append("".join(traceback.format_exception(error)))
            continue
        assets |= files
        if rests is not None:
            rests[one.name] = here
        if gives is not None:
            gives[one.name] = list(files)
    if problems:
        raise PageError(problems, traces)
    return {**assets, **(drawn if drawn is not None else build_drawn(facts, only, rests))}


@dataclass(frozen=True)
class _Piece:
    """Files that are made in one go when they are asked for. A table of the shelf has its builder, its own name, and the kit or coating it is of."""

    name: str
    make: Callable[[], Files]
    builder: tables.Builder | None = None
    table: str = ""
    slug: str = ""


def _pieces(facts: Any, catalogue: Mapping[str, Any], books: Mapping[str, tables.Book]) -> Iterator[_Piece]:
    """What the site holds beside its pages, but for what is drawn."""
    from generators.pages.day import chain_scripts, fact_scripts
    from generators.pages.forms import job_chain, job_facts
    from generators.pages.lessons import drills_script
    from generators.pages.look import look_assets
    from generators.pages.materials import bill

    def one(address: str, make: Callable[[], bytes | str]) -> _Piece:
        return _Piece(address, lambda: {address: make()})

    def formula_scripts() -> Files:
        from generators.formula.javascript import script, script_of  # late: see formula/declare.py

        return {"assets/formulas.js": script(catalogue), **{f"assets/formulas/{name}.js": script_of(formula) for name, formula in catalogue.items()}}

    yield _Piece("formulas", formula_scripts)
    yield one("assets/grammar.js", quantity.script)
    yield one("materials.json", bill)
    yield _Piece("chain", lambda: {**chain_scripts(facts, catalogue)})
    yield _Piece("day", lambda: {**fact_scripts(facts, catalogue)})
    yield one("assets/job-facts.js", lambda: job_facts(facts))
    yield one("assets/drills.js", lambda: drills_script(facts))
    yield one("assets/job-chain.js", lambda: job_chain(facts))
    yield _Piece("look", lambda: {**look_assets(facts)})
    for system, book in books.items():
        for name, slug, builder in tables.shelf(facts):
            def table(name: str = name, slug: str = slug, builder: Any = builder, system: str = system, book: tables.Book = book) -> Files:
                shown = builder(book, *([slug] if slug else []))
                return {} if isinstance(shown, Chart) else {f"tables/{'-'.join(filter(None, (name, slug, system)))}.csv": render.csv_text(shown)}

            yield _Piece(f"table {name} {slug} {system}", table, builder, name, slug)


def build_drawn(facts: Any, only: Callable[[str], bool] | None = None, rests: Rests | None = None) -> dict[str, bytes]:
    """Cards, pictures of faults and exercise sheets, by address: what no page shows and no table holds. `only` and `rests` as for `build_assets`, by address."""
    drawn = {}
    for address, make in _drawn(facts, formulas.catalogue(facts)).items():
        if only is None or only(address):
            with noted.noting() as here:
                drawn[address] = make()
            if rests is not None:
                rests[address] = here
    return drawn


def _drawn(facts: Any, catalogue: Mapping[str, Any]) -> dict[str, Callable[[], bytes]]:
    from generators.pages.card import card_pdf
    from generators.pages.drills import ON_PAGE, sheets_pdf

    makes: dict[str, Callable[[], bytes]] = {f"cards/{kit}.pdf": lambda kit=kit: card_pdf(facts, catalogue, kit) for kit in facts.kits}  # type: ignore[misc]
    makes |= {f"assets/faults/{key}.png": lambda fault=fault: render.png(relief.lit(facts.fault_drawings[fault.drawing])) for key, fault in facts.faults.items() if fault.drawing is not None}  # type: ignore[misc]
    if "train/drills.md" in handbook_pages(facts.root):
        makes["train/exercise-sheets.pdf"] = lambda: sheets_pdf(facts, catalogue, ON_PAGE)
    return makes


def parts(facts: Any) -> list[Part]:
    """All that a site holds, but for what is the same in every handbook."""
    catalogue = formulas.catalogue(facts)
    pieces = [Part(one.name, "table", one.builder.per, one.slug) if one.builder else Part(one.name, "script") for one in _pieces(facts, catalogue, tables.books(facts, catalogue))]
    cards = {f"cards/{kit}.pdf": kit for kit in facts.kits}
    drawn = [Part(name, "drawn", "kit", cards[name]) if name in cards else Part(name, "drawn") for name in _drawn(facts, catalogue)]
    return [*page_parts(facts), *pieces, *drawn]
