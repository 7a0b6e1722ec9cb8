"""build_pages(facts) → {path: markdown}, and build_assets(facts) → {path: content}. Pure: nothing is written."""

from __future__ import annotations

import re
import traceback
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2
from jinja2.sandbox import ImmutableSandboxedEnvironment, SecurityError

from generators import formulas, layers, noted, progress, quantity, render, tables
from generators.chart import Chart
from generators.facts.problem import Problem
from generators.facts.read import text_of
from generators.pages import fault_numbers, words
from generators.pages.doubtful import with_doubts
from generators.pages.errors import PageError
from generators.pages.linking import link_words
from generators.studies import relief
from generators.units import one_system
from generators.verdicts import DECLARED as VERDICTS

_TEMPLATES = Path(__file__).parent / "templates"
_ROOMS = Path(__file__).parents[1]
_BOTH_SYSTEMS = ("reference/units.md", "reference/checks.md")  # what a unit is in the other, and what was published
Rests = dict[str, set[noted.Key]]  # what is made, by address or by what it is one of, and the facts of paints that it rests on
_FRONT = re.compile(r"\A---\r?\n.*?\r?\n---\r?\n", re.DOTALL)


class _Sandbox(ImmutableSandboxedEnvironment):
    """A page can call the desk and read facts; it cannot reach into Python or fill the memory, whoever wrote it."""

    intercepted_binops = frozenset({"*", "**"})

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        if not all(isinstance(side, (int, float)) and abs(side) <= 1e9 for side in (left, right)) or (operator == "**" and abs(right) > 32):
            raise SecurityError(f"a page may multiply numbers of a size that people write, not {left!r:.40} {operator} {right!r:.40}")
        return super().call_binop(context, operator, left, right)


def _sandbox() -> jinja2.Environment:
    environment = _Sandbox(undefined=jinja2.StrictUndefined, autoescape=False, keep_trailing_newline=True)
    environment.filters["text"] = words.text
    return environment


_SANDBOX = _sandbox()


@lru_cache(maxsize=1024)
def _compiled(path: Path, text: str) -> Any:
    """One template's code: made once for all the coatings that share it, and kept through `serve` while it stays the same."""
    return _SANDBOX.compile(text, name=str(path), filename=str(path))


def _builder(error: Exception) -> str:
    """`path:line` of our own code where an error that nobody raised on purpose came up; "" where the page's own call is at fault."""
    if not type(error).__module__.startswith("builtins"):
        return ""
    ours = [frame for frame in traceback.extract_tb(error.__traceback__) if Path(frame.filename).is_relative_to(_ROOMS) and not Path(frame.filename).is_relative_to(_TEMPLATES)]
    if not ours:
        return ""
    last = Path(ours[-1].filename).relative_to(_ROOMS)
    if last.parts[0] == "facts" or last.as_posix() in ("pages/build.py", "pages/words.py"):
        return ""  # a name that is none, looked up for the page
    return f"generators/{last.as_posix()}:{ours[-1].lineno}"


def _told(error: Exception, path: Path, root: Path, lines_before: int) -> str:
    """`path:line: wanted; came; mend` for whatever a template raised."""
    line = getattr(error, "lineno", None)
    if line is None:
        frames = [frame for frame in traceback.extract_tb(error.__traceback__) if frame.filename == str(path)]
        line = frames[-1].lineno if frames else 1
    where = f"generators/pages/templates/{path.name}" if path.is_relative_to(_TEMPLATES) else layers.shown(path, root)
    detail = " ".join(str(error).split()) or type(error).__name__
    here = f"{where}:{int(line or 1) + lines_before}"
    if builder := _builder(error):
        return f"{builder}: wanted a builder that can work these facts; came {type(error).__name__}: {detail}; mend that line, or the facts it was given: {here} asked for it"
    return f"{here}: wanted a page that can be filled in; came {detail}; mend the name or the call on that line"


def _fill(path: Path, text: str, names: Mapping[str, Any]) -> str:
    return jinja2.Template.from_code(_SANDBOX, _compiled(path, text), {**_SANDBOX.globals, **names}).render()


def handbook_pages(root: Path) -> dict[str, Path]:
    """Every Markdown page under handbook/, by its address."""
    return layers.listed(root, "handbook", "**/*.md")


def build_pages(facts: Any, press: Any = render, books: Mapping[str, tables.Book] | None = None, only: Callable[[str], bool] | None = None, rests: Rests | None = None,
                fragments: dict[str, noted.Kept] | None = None) -> dict[str, str]:
    """Finished Markdown for the whole handbook, its values set by `press`. PageError with every problem in every page.

    `books`, where given, are shared with `build_assets`: a table on a page and the same table as a file are made once.
    `only`, where given, says by its address whether a page is wanted. `rests`, where given, is told what each page rests on;
    `fragments` holds pieces of pages that are made already, and takes those that are not.
    """
    desk = words.Desk(facts, formulas.catalogue(facts), press, books, {} if fragments is None else fragments)
    with noted.noting() as every:  # what stands ready for each of them
        names = desk.names()
    problems: list[str] = []
    traces: list[str] = []
    unread: list[Problem] = []
    pages: dict[str, str] = {}

    def page(address: str, path: Path, **values: Any) -> None:
        if only is not None and not only(address):
            return
        progress.at("pages", len(pages), count)
        raw = text_of(path, _TEMPLATES if path.is_relative_to(_TEMPLATES) else facts.root, unread)
        if raw is None:
            return
        front = _FRONT.match(raw)
        head = front.group(0) if front else ""
        try:
            with noted.noting() as here:
                pages[address] = head + _fill(path, raw[len(head):], {**names, **values})
            if rests is not None:
                rests[address] = every | here
        except Exception as error:
            problems.append(_told(error, path, facts.root, head.count("\n")))
            traces.append("".join(traceback.format_exception(error)))

    written = handbook_pages(facts.root)
    count = len(written) + len(facts.kits) + len(facts.coatings) + len(facts.faults) + len(facts.protection) + 6
    for address, path in written.items():
        page(address, path)
    for slug, kit in facts.kits.items():
        page(f"kits/{slug}.md", _TEMPLATES / "kit.md", slug=slug, kit=kit)
    for slug, coating in facts.coatings.items():
        page(f"coatings/{slug}.md", _TEMPLATES / "coating.md", slug=slug, coating=coating)
    now = fault_numbers.Today(desk)
    for key, fault in facts.faults.items():
        page(f"faults/{key}.md", _TEMPLATES / "fault.md", key=key, fault=fault, numbers=lambda key=key, fault=fault: fault_numbers.shown(now, key, fault))
    for key, guard in facts.protection.items():
        label = facts.classes[key].us_label if facts.handbook.words == "us" else facts.classes[key].label
        page(f"safety/ppe-{key}.md", _TEMPLATES / "ppe.md", key=key, guard=guard, label=label)
    for day in sorted({one.day for one in facts.drills.values()}):
        page(f"train/day-{day}.md", _TEMPLATES / "train-day.md", day=day, drills={key: one for key, one in facts.drills.items() if one.day == day})
    for name in ("kits/index", "coatings/index", "reference/formulas", "reference/verdicts", "reference/sources"):
        page(f"{name}.md", _TEMPLATES / f"{name.replace('/', '-')}.md", verdicts=VERDICTS)
    from generators.pages.checks import checks_page

    if only is None or only("reference/checks.md"):
        with noted.noting() as here:
            pages["reference/checks.md"] = checks_page(facts, desk.formulas)
        if rests is not None:
            rests["reference/checks.md"] = here
    problems += map(str, unread)
    if problems:
        raise PageError(problems, traces)
    return with_doubts(link_words({address: one if address in _BOTH_SYSTEMS else one_system(one, facts.handbook.system) for address, one in pages.items()}, facts.words), facts)


Files = dict[str, bytes | str]


def build_assets(facts: Any, books: Mapping[str, tables.Book] | None = None, drawn: Mapping[str, bytes] | None = None, only: Callable[[str], bool] | None = None,
                 rests: Rests | None = None, gives: dict[str, list[str]] | None = None) -> Files:
    """Cards, the live formulas and every table as CSV, by address. PageError with every builder that cannot work these facts.

    `drawn`, where given, is what `build_drawn` gave for these facts elsewhere. `only` says by its name whether a piece is wanted; `rests` is told what each rests on, `gives` its addresses.
    """
    catalogue = formulas.catalogue(facts)
    assets, problems, traces = Files(), list[str](), list[str]()
    for name, made, maker in _pieces(facts, catalogue, books or tables.books(facts, catalogue)):
        if only is not None and not only(name):
            continue
        try:
            with noted.noting() as here:
                files = made()
        except Exception as error:
            if not maker:
                raise
            where = _builder(error) or "generators/tables/__init__.py:1"  # a builder from elsewhere, which that room took in
            problems.append(f"{where}: wanted a builder that can work these facts; came {type(error).__name__}: {' '.join(str(error).split())}; mend that line, or the facts it was given: "
                            f"{maker} asked for it")
            traces.append("".join(traceback.format_exception(error)))
            continue
        assets |= files
        if rests is not None:
            rests[name] = here
        if gives is not None:
            gives[name] = list(files)
    if problems:
        raise PageError(problems, traces)
    return {**assets, **(drawn if drawn is not None else build_drawn(facts, only, rests))}


def _pieces(facts: Any, catalogue: Mapping[str, Any], books: Mapping[str, tables.Book]) -> Iterator[tuple[str, Callable[[], Files], str]]:
    """(name of a piece, its files when it is asked for, which table it is): what the site holds beside its pages, but for what is drawn."""
    from generators.pages.day import chain_scripts, fact_scripts
    from generators.pages.forms import job_chain, job_facts
    from generators.pages.lessons import drills_script
    from generators.pages.look import look_assets
    from generators.pages.materials import bill

    def one(address: str, make: Callable[[], bytes | str]) -> tuple[str, Callable[[], Files], str]:
        return address, lambda: {address: make()}, ""

    def formula_scripts() -> Files:
        from generators.formula.javascript import script, script_of  # late: see formula/declare.py

        return {"assets/formulas.js": script(catalogue), **{f"assets/formulas/{name}.js": script_of(formula) for name, formula in catalogue.items()}}

    yield "formulas", formula_scripts, ""
    yield one("assets/grammar.js", quantity.script)
    yield one("materials.json", bill)
    yield "chain", lambda: {**chain_scripts(facts, catalogue)}, ""
    yield "day", lambda: {**fact_scripts(facts, catalogue)}, ""
    yield one("assets/job-facts.js", lambda: job_facts(facts))
    yield one("assets/drills.js", lambda: drills_script(facts))
    yield one("assets/job-chain.js", lambda: job_chain(facts))
    yield "look", lambda: look_assets(facts), ""
    for system, book in books.items():
        for name, slug, builder in tables.shelf(facts):
            def table(name: str = name, slug: str = slug, builder: Any = builder, system: str = system, book: tables.Book = book) -> Files:
                shown = builder(book, *([slug] if slug else []))
                return {} if isinstance(shown, Chart) else {f"tables/{'-'.join(filter(None, (name, slug, system)))}.csv": render.csv_text(shown)}

            yield f"table {name} {slug} {system}", table, f"the table {name}{f' of {slug}' if slug else ''}"


def build_drawn(facts: Any, only: Callable[[str], bool] | None = None, rests: Rests | None = None) -> dict[str, bytes]:
    """Cards, pictures of faults and exercise sheets, by address: what no page shows and no table holds. `only` and `rests` as for `build_assets`, by address."""
    from generators.pages.card import card_pdf
    from generators.pages.drills import ON_PAGE, sheets_pdf

    catalogue = formulas.catalogue(facts)
    makes: dict[str, Callable[[], bytes]] = {f"cards/{kit}.pdf": lambda kit=kit: card_pdf(facts, catalogue, kit) for kit in facts.kits}  # type: ignore[misc]
    makes |= {f"assets/faults/{key}.png": lambda fault=fault: render.png(relief.lit(facts.fault_drawings[fault.drawing])) for key, fault in facts.faults.items() if fault.drawing is not None}  # type: ignore[misc]
    if "train/drills.md" in handbook_pages(facts.root):
        makes["train/exercise-sheets.pdf"] = lambda: sheets_pdf(facts, catalogue, ON_PAGE)
    drawn = {}
    for address, make in makes.items():
        if only is None or only(address):
            with noted.noting() as here:
                drawn[address] = make()
            if rests is not None:
                rests[address] = here
    return drawn
