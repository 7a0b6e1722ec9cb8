"""Pages and files worked from facts, by two processes where there are two cores: all of them, or only what rests on a changed paint.

Rooms are imported late, so that `serve` sees changed code and a kept copy costs no import at all.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

_FRAGMENT = "piece of a page: "


Rests = dict[str, Any]


@dataclass(frozen=True)
class Finished:
    """Pages by address, files by address, and what the site door says about the edition."""

    pages: dict[str, str]
    assets: dict[str, bytes]
    about: dict[str, Any]


@dataclass(frozen=True)
class Made:
    """What was made, all of it or what had to be; the record of what all of it rests on; and the pieces that pages are put together from."""

    finished: Finished
    record: dict[str, Any]
    fragments: dict[str, str]

    def over(self, old: Finished) -> Made:
        """All of it: what was made lies over what was there."""
        new = self.finished
        return Made(Finished({**old.pages, **new.pages}, {**old.assets, **new.assets}, new.about), self.record, self.fragments)


def opened(root: Path, region: str | None, base_url: str | None) -> Any:
    """Facts with their own cups."""
    from generators import noted
    from generators.formulas.own_cups import open_handbook

    facts = open_handbook(root, region)
    if base_url:  # one address for pages, cards and their codes
        facts = replace(facts, handbook=facts.handbook.model_copy(update={"base_url": base_url.rstrip("/")}))
    noted.of_paints(facts.coatings)
    return facts


def some_pages(root: Path, region: str | None, base_url: str | None, wanted: Container[str]) -> dict[str, str]:
    """Only the pages at these addresses, made anew: what somebody looks at while all the others wait. Raises as `finished`."""
    from generators.pages import build_pages

    return build_pages(opened(root, region, base_url), only=wanted.__contains__)


def _aside(page: str) -> bool:
    """Pages that ask for few tables and still take half of the time of all: a second process fills them. Trade words are linked only where the page of words is among the pages."""
    return page.startswith(("train/", "reference/", "answers"))


@dataclass
class _Share:
    """What one process has made: pages, files that are drawn, what they rest on, and the pieces of pages."""

    pages: dict[str, str] = field(default_factory=dict)
    drawn: dict[str, bytes] = field(default_factory=dict)
    rests: Rests = field(default_factory=dict)
    fragments: dict[str, Any] = field(default_factory=dict)


def _worked(facts: Any, fragments: Mapping[str, Any], wanted: Callable[[str], bool] | None = None) -> tuple[_Share, dict[str, bytes], dict[str, list[str]]]:
    """(pages with their rests and pieces, files, addresses of each piece's files) of all, or of what is wanted. PageError with every problem of both processes."""
    from generators import formulas, tables
    from generators.beside import Beside
    from generators.pages import PageError, build_assets, build_drawn, build_pages
    from generators.pages.linking import WORDS

    books = tables.books(facts, formulas.catalogue(facts))
    mine = _Share(fragments=dict(fragments))
    problems, traces = list[str](), list[str]()
    files: dict[str, bytes] = {}
    gives: dict[str, list[str]] = {}

    def asides() -> _Share:
        """PageError, as all that goes wrong there, is met again by whoever hears nothing."""
        share = _Share(fragments=dict(fragments))
        share.pages = build_pages(facts, books=books, only=lambda page: _aside(page) and (wanted is None or wanted(page)), rests=share.rests, fragments=share.fragments)
        return share

    def draw() -> _Share:
        share = _Share()
        share.drawn = build_drawn(facts, wanted, share.rests)
        return share

    def tried(work: Callable[[], None]) -> None:
        try:
            work()
        except PageError as error:
            problems.extend(error.problems)
            traces.extend(error.traces)

    def add(share: _Share) -> None:
        mine.pages |= share.pages
        mine.rests |= share.rests
        mine.fragments |= share.fragments

    def rest_of_pages() -> None:
        mine.pages |= build_pages(facts, books=books, only=lambda page: page == WORDS or not (_aside(page) or (wanted is not None and not wanted(page))), rests=mine.rests, fragments=mine.fragments)

    def all_files() -> None:
        drawn = beside.heard() or draw()
        mine.rests |= drawn.rests
        made = build_assets(facts, books, drawn.drawn, wanted, mine.rests, gives)
        files.update({address: content.encode() if isinstance(content, str) else content for address, content in made.items()})

    if wanted is None:  # every table is asked for: those of US units are made there, those of metric here
        beside = Beside(lambda: tables.shelved(books["us"]), asides, draw)
        tables.shelved(books["metric"])
        tables.put(books["us"], beside.heard() or tables.shelved(books["us"]))
    else:
        beside = Beside()
    tried(rest_of_pages)
    tried(lambda: add(beside.heard() or asides()))
    tried(all_files)
    if problems:  # of pages and of tables, all at once
        raise PageError(list(dict.fromkeys(problems)), list(dict.fromkeys(traces)))
    return mine, files, gives


def make(root: Path, region: str | None, base_url: str | None) -> Made:
    """Everything. Raises FactsError or PageError as they do."""
    facts = opened(root, region, base_url)
    share, files, gives = _worked(facts, {})
    return Made(Finished({address: share.pages[address] for address in sorted(share.pages)}, files, _about(facts)), _record(facts, share, share.rests, gives), _texts(share))


@dataclass(frozen=True)
class Touch:
    """What a change touches, known before any of it is made: pages and pieces by name; `shown`: every page may show it, in its menu."""

    units: frozenset[str]
    shown: bool
    make: Callable[[], Made | None]  # None where it turns out that the record cannot tell; PageError as `make`


def touch(root: Path, region: str | None, base_url: str | None, old: Mapping[str, Any], texts: Mapping[str, str]) -> Touch | None:
    """What rests on what has changed in paints since `old` was recorded, and these pieces of pages were made; None where the record cannot tell. FactsError as `make`."""
    from generators import formulas, noted
    from generators.chain.day import Day
    from generators.site.rests import Record

    try:
        record = Record.from_plain(old)
        pieces = {what: noted.Kept(text, record.rests[_FRAGMENT + what]) for what, text in texts.items()}
    except (KeyError, TypeError, ValueError, AttributeError):
        return None
    facts = opened(root, region, base_url)
    changed = record.changed(facts, Day(facts, formulas.catalogue(facts)))
    if changed is None:
        return None
    units = record.resting(changed)

    def made() -> Made | None:
        share, files, gives = _worked(facts, {what: one for what, one in pieces.items() if _FRAGMENT + what not in units}, units.__contains__)
        if any(gives[unit] != record.gives.get(unit) for unit in gives):
            return None  # a table that became words, or the other way
        still = {what: keys for what, keys in record.rests.items() if not what.startswith(_FRAGMENT)}
        return Made(Finished(share.pages, files, _about(facts)), _record(facts, share, {**still, **share.rests}, {**record.gives, **gives}, record.rest), _texts(share))

    return Touch(frozenset(units), any(key[1] == "name" for key in changed), made)


def touched(root: Path, region: str | None, base_url: str | None, old: Mapping[str, Any], texts: Mapping[str, str]) -> Made | None:
    """All that `touch` tells of, made."""
    found = touch(root, region, base_url, old, texts)
    return found.make() if found else None


def _texts(share: _Share) -> dict[str, str]:
    return {what: kept.value for what, kept in share.fragments.items()}


def _record(facts: Any, share: _Share, rests: Rests, gives: dict[str, list[str]], rest: str = "") -> dict[str, Any]:
    from generators import formulas
    from generators.chain.day import Day
    from generators.site.rests import Record

    pieces = {f"{_FRAGMENT}{what}": kept.rests for what, kept in share.fragments.items()}
    return Record.of(facts, Day(facts, formulas.catalogue(facts)), {**rests, **pieces}, gives, rest).plain()


def _about(facts: Any) -> dict[str, Any]:
    from generators.pages.look import colour_of, logo_name

    handbook = facts.handbook
    asked = dict(facts.search.asked)
    for key, fault in facts.faults.items():  # a fault is asked for by every name it has
        asked[f"faults/{key}.md"] = [*asked.get(f"faults/{key}.md", []), fault.name, *fault.others, fault.then]
    question = {**facts.search.question, **{f"faults/{key}.md": f"{fault.name}: why, and what now?" for key, fault in facts.faults.items()},
                **{f"coatings/{slug}.md": f"How do I spray {coating.name}?" for slug, coating in facts.coatings.items()},
                **{f"safety/ppe-{key}.md": f"What do I wear for {facts.classes[key].label.lower()}?" for key in facts.protection if key in facts.classes},
                **{f"kits/{slug}.md": f"What can the {kit.name} do?" for slug, kit in facts.kits.items()}}
    return {"colour": colour_of(facts), "logo": logo_name(facts), "title": handbook.title,
            "revision": handbook.revision, "date": handbook.date, "region": handbook.region, "search": {**facts.search.model_dump(), "asked": asked, "question": question}}
