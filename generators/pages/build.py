"""build_pages(facts) → {path: markdown}. Pure: nothing is written."""

from __future__ import annotations

import re
import traceback
from collections.abc import Callable, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

import jinja2
from jinja2.sandbox import ImmutableSandboxedEnvironment, SecurityError

from generators import formulas, layers, noted, progress, render, tables
from generators.facts.problem import Problem
from generators.facts.read import text_of
from generators.pages import fault_numbers, words
from generators.pages.doubtful import with_doubts
from generators.pages.errors import TEMPLATES, PageError, builder_of
from generators.pages.linking import link_words
from generators.pages.parts import CHECKS, LISTS, handbook_pages, page_parts
from generators.units import one_system
from generators.verdicts import DECLARED as VERDICTS

_BOTH_SYSTEMS = ("reference/units.md", CHECKS)  # what a unit is in the other, and what was published
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


def _told(error: Exception, path: Path, root: Path, lines_before: int) -> str:
    """`path:line: wanted; came; mend` for whatever a template raised."""
    line = getattr(error, "lineno", None)
    if line is None:
        frames = [frame for frame in traceback.extract_tb(error.__traceback__) if frame.filename == str(path)]
        line = frames[-1].lineno if frames else 1
    where = f"generators/pages/templates/{path.name}" if path.is_relative_to(TEMPLATES) else layers.shown(path, root)
    detail = " ".join(str(error).split()) or type(error).__name__
    here = f"{where}:{int(line or 1) + lines_before}"
    if builder := builder_of(error):
        return f"{builder}: wanted a builder that can work these facts; came {type(error).__name__}: {detail}; mend that line, or the facts it was given: {here} asked for it"
    return f"{here}: wanted a page that can be filled in; came {detail}; mend the name or the call on that line"


def _fill(path: Path, text: str, names: Mapping[str, Any]) -> str:
    return jinja2.Template.from_code(_SANDBOX, _compiled(path, text), {**_SANDBOX.globals, **names}).render()


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
        raw = text_of(path, TEMPLATES if path.is_relative_to(TEMPLATES) else facts.root, unread)
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
    count = len(page_parts(facts))
    for address, path in written.items():
        page(address, path)
    for slug, kit in facts.kits.items():
        page(f"kits/{slug}.md", TEMPLATES / "kit.md", slug=slug, kit=kit)
    for slug, coating in facts.coatings.items():
        page(f"coatings/{slug}.md", TEMPLATES / "coating.md", slug=slug, coating=coating)
    now = fault_numbers.Today(desk)
    for key, fault in facts.faults.items():
        page(f"faults/{key}.md", TEMPLATES / "fault.md", key=key, fault=fault, numbers=lambda key=key, fault=fault: fault_numbers.shown(now, key, fault))
    for key, guard in facts.protection.items():
        label = facts.classes[key].us_label if facts.handbook.words == "us" else facts.classes[key].label
        page(f"safety/ppe-{key}.md", TEMPLATES / "ppe.md", key=key, guard=guard, label=label)
    for day in sorted({one.day for one in facts.drills.values()}):
        page(f"train/day-{day}.md", TEMPLATES / "train-day.md", day=day, drills={key: one for key, one in facts.drills.items() if one.day == day})
    for name in LISTS:
        page(f"{name}.md", TEMPLATES / f"{name.replace('/', '-')}.md", verdicts=VERDICTS)
    from generators.pages.checks import checks_page

    if only is None or only(CHECKS):
        with noted.noting() as here:
            pages[CHECKS] = checks_page(facts, desk.formulas)
        if rests is not None:
            rests[CHECKS] = here
    problems += map(str, unread)
    if problems:
        raise PageError(problems, traces)
    return with_doubts(link_words({address: one if address in _BOTH_SYSTEMS else one_system(one, facts.handbook.system) for address, one in pages.items()}, facts.words), facts)
