"""Pages and files worked from facts: all of them, or only what rests on a changed paint.

Rooms are imported late, so that `serve` sees changed code and a kept copy costs no import at all.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from generators.site.rounds import Share

_FRAGMENT = "piece of a page: "


@dataclass(frozen=True)
class Finished:
    """Pages by address, files by address, and what the site door says about the edition."""

    pages: dict[str, str]
    assets: dict[str, bytes]
    about: dict[str, Any]


@dataclass(frozen=True)
class Made:
    """What was made, all of it or what had to be; the pieces that pages are put together from; and `recorded`, which works out what all of it rests on."""

    finished: Finished
    fragments: dict[str, str]
    recorded: Callable[[], dict[str, Any]]

    def over(self, old: Finished) -> Made:
        """All of it: what was made lies over what was there."""
        new = self.finished
        return replace(self, finished=Finished({**old.pages, **new.pages}, {**old.assets, **new.assets}, new.about))


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


def make(root: Path, region: str | None, base_url: str | None, aside: Callable[[dict[str, str], dict[str, bytes]], None] | None = None) -> Made:
    """Everything. Raises FactsError or PageError as they do. `aside`, where given, takes the pages and the files of each round as it is made, and none of them is
    held here to the end."""
    from generators.site import rounds

    facts = opened(root, region, base_url)
    whole = rounds.Share()
    for share in rounds.one_by_one(facts):
        if aside is not None:
            aside(share.pages, share.files)
            share = share.kept()
        whole.add(share)
    whole.sound()
    return Made(Finished({address: whole.pages[address] for address in sorted(whole.pages)}, whole.files, _about(facts)), _texts(whole), lambda: _record(facts, whole))


@dataclass(frozen=True)
class Touch:
    """What a change touches, known before any of it is made: pages and pieces by name; `shown`: every page may show it, in its menu."""

    names: frozenset[str]
    shown: bool
    make: Callable[[], Made | None]  # None where it turns out that the record cannot tell; PageError as `make`


def touch(root: Path, region: str | None, base_url: str | None, old: Mapping[str, Any], texts: Mapping[str, str]) -> Touch | None:
    """What rests on what has changed in paints since `old` was recorded, and these pieces of pages were made; None where the record cannot tell. FactsError as `make`."""
    from generators import formulas, noted
    from generators.chain.day import Day
    from generators.site import rounds
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
    names = record.resting(changed)

    def made() -> Made | None:
        still = {what: one for what, one in pieces.items() if _FRAGMENT + what not in names}
        share = rounds.made_of(facts, names.__contains__, still)
        if any(share.gives[name] != record.gives.get(name) for name in share.gives):
            return None  # a table that became words, or the other way
        share.fragments = {**still, **share.fragments}
        share.rests = {**{what: keys for what, keys in record.rests.items() if not what.startswith(_FRAGMENT)}, **share.rests}
        share.gives = {**record.gives, **share.gives}
        return Made(Finished(share.pages, share.files, _about(facts)), _texts(share), lambda: _record(facts, share, record.rest))

    return Touch(frozenset(names), any(key[1] == "name" for key in changed), made)


def touched(root: Path, region: str | None, base_url: str | None, old: Mapping[str, Any], texts: Mapping[str, str]) -> Made | None:
    """All that `touch` tells of, made."""
    found = touch(root, region, base_url, old, texts)
    return found.make() if found else None


def _texts(share: Share) -> dict[str, str]:
    return {what: kept.value for what, kept in share.fragments.items()}


def _record(facts: Any, share: Share, rest: str = "") -> dict[str, Any]:
    from generators import formulas
    from generators.chain.day import Day
    from generators.site.rests import Record

    pieces = {f"{_FRAGMENT}{what}": kept.rests for what, kept in share.fragments.items()}
    return Record.of(facts, Day(facts, formulas.catalogue(facts)), {**share.rests, **pieces}, share.gives, rest).plain()


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
