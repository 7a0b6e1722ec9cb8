"""What a Chain is made of. Names and formulas only: no sum, no limit and no outcome is in here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal

from generators.table import Rounding


@dataclass(frozen=True)
class Step:
    """One formula. `inputs` maps its symbols to names held before it (or to plain numbers that a formula's own declaration explains).

    Where a text decides the formula, `by` names it and `formula` maps its words to formulas; inputs that the chosen one does not
    have are left out. `blank` is the formula's name where that text says a word that no formula is for.

    `squares`: the errors of its inputs are independent of each other: the ends are worst where they add up as squares (JCGM 100, 5.1.2),
    and not all at once the same way. For instruments, never for a limit of safety.
    """

    name: str
    formula: str | Mapping[str, str]
    inputs: Mapping[str, str | float]
    by: str = ""
    squares: bool = False


@dataclass(frozen=True)
class Pick:
    """The least or the most of several, end by end; or the first that is known.

    "hull": several ways to the same figure, the first of them likely: the band reaches from the lowest end of all to the highest.
    "low", "likely", "high": one end of the one named, exactly: what a person is told to pour has no doubt in it.
    """

    name: str
    how: Literal["least", "most", "first", "hull", "low", "likely", "high"]
    of: tuple[str, ...]


@dataclass(frozen=True)
class Lookup:
    """What a study gave at build, on its own axes: by a word, or by numbers (rounded to the side that is safe)."""

    name: str
    study: str
    inputs: Mapping[str, str]
    side: Literal["least", "most"] = "least"


@dataclass(frozen=True)
class Case:
    """One of several figures (or plain numbers), by the word that `by` says. A word that none is for: nothing known."""

    name: str
    by: str
    of: Mapping[str, str | float]


@dataclass(frozen=True)
class Search:
    """What no formula gives: the best of many (the cheapest tins, the days of a calendar), found by a search named in `studies/searches.py`
    and in `searches.js`. Asked at the low, the likely and the high end of what it is given, each end with its like.

    `inputs` are figures and words under the names that the search knows them by; `lists` are figures and words of whole lists of parts.
    `gives` are figures with their units; `into` says which figures it gives to the parts of a list; `why` what is said where it finds none.
    """

    name: str
    search: str
    inputs: Mapping[str, str]
    gives: Mapping[str, str]
    lists: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    into: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    why: str = ""


@dataclass(frozen=True)
class Each:
    """The same links for every part of a list (doses, coats); each part has its own names, and sees those outside.

    `refers` maps other lists to the word of this part that is the `key` of one part there: its names are seen too, under that list's name.
    """

    part: str
    links: tuple[Any, ...]
    refers: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Fold:
    """One figure out of the parts: their sum, least, most, count, first or last. No part: nothing known (a sum and a count: nought).

    Inside another list, `by` names the word of the folded parts that is this part's `key`: only its own are folded.
    """

    name: str
    part: str
    of: str
    how: Literal["sum", "least", "most", "count", "first", "last"]
    by: str = ""


@dataclass(frozen=True)
class Choose:
    """A word from words: `cases` are ((name, word), …) → word, the first whose every name says its word; `otherwise` where none does.

    Where a name that a case asks after is not known, and no case before it held, nothing is known.
    """

    name: str
    cases: tuple[tuple[tuple[tuple[str, str], ...], str], ...]
    otherwise: str


Link = Step | Pick | Lookup | Case | Search | Each | Fold | Choose


@dataclass(frozen=True)
class Answer:
    """What a person is told: a figure of the chain (or a word), under a verdict.

    `metric` and `us` are (unit, rounding) of what is printed. `times` names a figure that is a time of day. `until` names figures
    (times) after which it no longer holds. `gate` closes it: a stop of `allowed` hides the figure.
    """

    name: str
    title: str
    shows: str
    verdicts: tuple[str, ...]
    metric: tuple[str, Rounding] | None = None
    us: tuple[str, Rounding] | None = None
    kind: Literal["number", "word", "time"] = "number"
    until: tuple[str, ...] = ()
    gate: bool = True
    dash: tuple[str, ...] = ()  # tests whose stop leaves no figure: there is none to be had


@dataclass(frozen=True)
class Chain:
    """Links in order, verdicts by name, answers in the order they are told. Names are checked when it is made."""

    links: tuple[Link, ...]
    verdicts: Mapping[str, Any]
    answers: tuple[Answer, ...]
    held: frozenset[str] = field(default_factory=frozenset)  # readings and facts that a walk brings
    parts: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # what it brings for each part of a list
    _wanted: dict[str, tuple[list[Link], set[str]]] = field(default_factory=dict, repr=False, compare=False)

    def __post_init__(self) -> None:
        known = set(self.held)
        told: list[str] = []

        def check(link: Link, inside: set[str]) -> None:
            wanted = _sources(link)
            if isinstance(link, Each):
                own = set(inside) | {f"{link.part}.{key}" for key in self.parts[link.part]}
                for other in link.refers:
                    own |= {f"{other}.{key}" for key in self.parts[other]} | {f"{other}.{name.partition(':')[2]}" for name in inside if name.startswith(f"{other}:")}
                own |= {name.partition(":")[2] for name in inside if name.startswith(f"{link.part}:")}
                for one in link.links:
                    check(one, own)
                inside |= {f"{link.part}:{name}" for one in link.links for name in (one.name, *(one.gives if isinstance(one, Search) else ()))}
                return
            if isinstance(link, Fold) and link.of and f"{link.part}:{link.of}" not in inside and link.of not in self.parts[link.part]:
                told.append(f"{link.name}: no part figure {link.of!r} in {link.part}")
            if isinstance(link, Search):
                told.extend(f"{link.name}: no part figure {name!r} in {part}" for part, names in link.lists.items() for name in names
                            if f"{part}:{name}" not in inside and name not in self.parts[part])
                inside |= {f"{part}:{name}" for part, names in link.into.items() for name in names} | set(link.gives)
            told.extend(f"{link.name}: nothing called {name!r} before it" for name in wanted if name not in inside)
            inside.add(link.name)

        for link in self.links:
            check(link, known)
        for verdict in self.verdicts.values():
            told += [f"verdict {verdict.name}: nothing called {name!r}" for name in verdict.names if name not in known]
        for answer in self.answers:
            told += [f"answer {answer.name}: nothing called {name!r}" for name in (answer.shows, *answer.until) if name not in known]
            told += [f"answer {answer.name}: no verdict {name!r}" for name in answer.verdicts if name not in self.verdicts]
        if told:
            raise ValueError("the chain does not hold together: " + "; ".join(told))

    def wanted(self, name: str) -> tuple[list[Link], set[str]]:
        """(links in order, names of readings and facts) that one figure, verdict or answer rests on. Worked once."""
        if name not in self._wanted:
            self._wanted[name] = self._rests(name)
        return self._wanted[name]

    def _rests(self, name: str) -> tuple[list[Link], set[str]]:
        made = {link.name: link for link in self.links if not isinstance(link, Each)}
        eaches = {link.part: [one for one in self.links if isinstance(one, Each) and one.part == link.part] for link in self.links if isinstance(link, Each)}
        found: set[str] = set()
        order: list[Link] = []

        def need(one: str) -> None:
            if one in found:
                return
            found.add(one)
            link = made.get(one)
            if link is None:
                return
            for other in _inputs(link, eaches):
                need(other)
            if isinstance(link, Fold):
                order.extend(each for each in eaches.get(link.part, ()) if each not in order)
            order.append(link)

        answer = next((one for one in self.answers if one.name == name), None)
        roots = [answer.shows, *answer.until] if answer else [name] if name not in self.verdicts else []
        for verdict in (*(answer.verdicts if answer else ()), *(["allowed"] if answer and answer.gate else []), *([name] if name in self.verdicts and not answer else [])):
            roots += self.verdicts[verdict].names
        for root in roots:
            need(root)
        return order, {one for one in found if one not in made}


def _sources(link: Link) -> list[str]:
    """Names that one link itself looks at."""
    if isinstance(link, Step):
        return [name for name in link.inputs.values() if isinstance(name, str)] + ([link.by] if link.by else [])
    if isinstance(link, Case):
        return [link.by, *(name for name in link.of.values() if isinstance(name, str))]
    if isinstance(link, Pick):
        return list(link.of)
    if isinstance(link, (Lookup, Search)):
        return list(link.inputs.values())
    if isinstance(link, Choose):
        return [name for case, _ in link.cases for name, _ in case]
    return []


def _inputs(link: Link, eaches: Mapping[str, list[Each]]) -> list[str]:
    if isinstance(link, Fold):
        links = [one for each in eaches.get(link.part, ()) for one in each.links]
        inner, own = [name for one in links for name in _inputs(one, eaches)], {one.name for one in links}
        return [link.part, *(name for name in inner if name not in own and not name.startswith(f"{link.part}."))]
    return _sources(link)
