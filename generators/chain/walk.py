"""A Chain walked in Python: over numbers or whole columns, with both ends of every quantity."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from generators import noted, units
from generators.chain.links import Case, Chain, Choose, Each, Fold, Link, Lookup, Pick, Search, Step
from generators.formula import Formula
from generators.formula.numeric import evaluate
from generators.verdict import Held, Test
from generators.verdict.ask import Answered, ask
from generators.verdict.held import gone, number, text

Searches = Mapping[str, Callable[[Mapping[str, Any]], Mapping[str, Any]]]
Study = Mapping[str, Any]  # {"words": {word: number}} or {"axis": [...], "rows": {word: [...]}}: what a study gave at build


_MOST_KEPT, _MOST_WIDE, _WIDE = 60, 2, 100  # answers of one formula that are kept, those over wide columns among them, and how many places are wide: more would be memory for little


@dataclass
class Walked:
    """What one walk holds: quantities by name, parts by list, and each verdict as it was answered."""

    held: dict[str, Held]
    parts: dict[str, list[dict[str, Held]]] = field(default_factory=dict)
    verdicts: dict[str, Answered] = field(default_factory=dict)


def bounded(formula: Formula, given: Mapping[str, Held], option: str | None = None, squares: bool = False) -> Held:
    """A formula over quantities, worked once for the same ones: a handbook asks four times out of five for what it has asked before. See `_bounded`."""
    wide = any(np.size(held.likely) > _WIDE for held in given.values())
    kept: dict[Any, Held] = formula._cache.setdefault("bounded over columns" if wide else "bounded", {})
    key = (option, squares, *(part for name, held in given.items() for part in (name, _bits(held.low), _bits(held.likely), _bits(held.high), held.missing, held.stale)))
    if key not in kept:
        if len(kept) >= (_MOST_WIDE if wide else _MOST_KEPT):
            kept.clear()
        kept[key] = _bounded(formula, given, option, squares)
    return kept[key]


def _bits(value: Any) -> Any:
    """A number or a column, to know it again."""
    value = np.asarray(value, float)
    return value.tobytes() if value.shape == () else (value.shape, value.tobytes())


def _bounded(formula: Formula, given: Mapping[str, Held], option: str | None, squares: bool) -> Held:
    """A formula over quantities: its answer at the likely values, and the least and most over every corner of their ends.

    With `squares` the errors are independent: one worst together is `_squared`.

    Exact where the formula goes one way in each input, whatever the others are; a test samples the insides of all that a chain
    uses. No answer at one corner leaves that end unknown.
    """
    wide = [name for name, held in given.items() if _differ(held.low, held.high)]
    moved = [{name: end} for name in wide for end in (given[name].low, given[name].high)] if squares else [
        dict(zip(wide, ends, strict=True)) for ends in itertools.product(*((given[name].low, given[name].high) for name in wide)) if wide]
    ends: dict[str, list[Any]] = {name: [held.likely, *(one.get(name, held.likely) for one in moved)] for name, held in given.items()}
    columns = [np.shape(held.likely) for held in given.values() if np.ndim(held.likely)]
    stacked: dict[str, Any]
    if columns:
        shape = np.broadcast_shapes(*columns)
        stacked = {name: np.stack([np.broadcast_to(np.asarray(end, float), shape) for end in some]) for name, some in ends.items()}
    else:
        stacked = {name: np.array(some, float) for name, some in ends.items()}
    if formula.choice:
        stacked[formula.choice.name] = option
    answer, codes, _, reasons = evaluate(formula, stacked)
    why: Any = ""
    if (codes >= 0).any():
        first = codes.max(axis=0)
        why = reasons[int(first)] if first.shape == () else np.array([*reasons, ""], dtype=object)[first]
    missing = frozenset().union(*(held.missing for held in given.values())) if given else frozenset()
    stale = frozenset().union(*(held.stale for held in given.values())) if given else frozenset()
    low, high = _squared(formula, stacked, answer, given, wide) if squares and wide else (answer.min(axis=0), answer.max(axis=0))
    return Held(low, answer[0], high, missing=missing, stale=stale, why=why)


def _squared(formula: Formula, stacked: Mapping[str, Any], answer: Any, given: Mapping[str, Held], wide: list[str]) -> tuple[Any, Any]:
    """(low, high) where independent errors are worst together: on the ellipsoid through the ends of each, in the direction in which the answer
    drops (or rises) most when one alone is moved. For a straight formula that is the root of the squares (JCGM 100, 5.1.2). A bent one is asked
    at that very place, since a sum of its drops says nothing there: a third of a dose, twice, is no dose less than none.
    """
    found = []
    for better in (np.minimum, np.maximum):
        alone = np.stack([better(better(answer[1 + 2 * place], answer[2 + 2 * place]), answer[0]) for place in range(len(wide))])
        moves = np.abs(alone - answer[0])
        whole = np.sqrt((moves**2).sum(axis=0))
        point = dict(stacked) | {name: values[0] for name, values in stacked.items() if not isinstance(values, str)}
        for place, name in enumerate(wide):
            first = answer[1 + 2 * place] == alone[place]  # which of its ends does it
            ends = stacked[name][1 + 2 * place], stacked[name][2 + 2 * place]
            share = np.divide(moves[place], whole, out=np.zeros_like(whole), where=whole > 0)
            point[name] = point[name] + share * (np.where(first, *ends) - point[name])
        found.append(better(evaluate(formula, point)[0], better.reduce(answer, axis=0)))
    return found[0], found[1]


class _Walk:
    def __init__(self, chain: Chain, formulas: Mapping[str, Formula], held: Mapping[str, Held], parts: Mapping[str, list[dict[str, Held]]],
                 named_units: Mapping[str, str], studies: Mapping[str, Study], searches: Searches) -> None:
        self.chain, self.formulas, self.units, self.studies, self.searches = chain, formulas, named_units, studies, searches
        self.out = Walked(held.like(held) if isinstance(held, noted.Told) else dict(held), {name: [dict(part) for part in some] for name, some in parts.items()})
        self.given = frozenset(held)  # a figure that somebody brings is not worked again

    def look(self, name: str, inside: Mapping[str, Held] | None = None) -> Held:
        if inside is not None and name in inside:
            return inside[name]
        return self.out.held[name]

    def step(self, link: Step, inside: dict[str, Held] | None) -> Held:
        chosen: str
        if isinstance(link.formula, str):
            chosen = link.formula
        else:
            said = self.look(link.by, inside)
            if said.text is None or said.text not in link.formula:
                return gone(said.missing)
            chosen = link.formula[said.text]
        formula = self.formulas[chosen]
        given: dict[str, Held] = {}
        option, missing, why = None, frozenset[str](), ""
        for symbol in formula.inputs:
            source = link.inputs[symbol.name]
            if not isinstance(source, str):
                one = np.asarray(float(source))
                given[symbol.name] = Held(one, one, one)
                continue
            held = self.look(source, inside)
            if held.blank:
                missing |= held.missing
                why = why or held.why
                if not held.missing and np.ndim(held.likely):
                    why = why if np.any(why != "") else held.why
            given[symbol.name] = self.converted(held, source, symbol.unit)
        if formula.choice:
            said = self.look(str(link.inputs[formula.choice.name]), inside)
            if said.text is None or said.text not in formula.choice.options:
                missing |= said.missing
                why = why or (said.why if said.text is None else "the cup is not known")  # no cup at all, and nothing to ask for: there is no such figure
            option = said.text
        if missing or any(held.blank for held in given.values()) or (formula.choice and (option is None or option not in formula.choice.options)):
            stale = frozenset().union(*(held.stale for held in given.values())) if given else frozenset()
            return Held(missing=missing, why=why, stale=stale)
        return bounded(formula, given, option, link.squares)

    def converted(self, held: Held, name: str, unit: str) -> Held:
        own = self.units.get(name, self.units.get(name.rpartition(".")[2], unit))
        if own == unit:
            return held
        scale, offset = units.linear(own, unit)
        return Held(held.low * scale + offset, held.likely * scale + offset, held.high * scale + offset, missing=held.missing, stale=held.stale, why=held.why)

    def limit_of(self, test: Test) -> Held:
        """A test's limit in the unit of its value: another test may hold another value against the same limit."""
        return self.converted(self.look(test.limit), test.limit, self.units.get(test.value, self.units.get(test.limit, "1")))

    def pick(self, link: Pick, inside: dict[str, Held] | None) -> Held:
        some = [(name, self.look(name, inside)) for name in link.of]
        if link.how == "first":
            for name, held in some:
                if held.known:
                    return self.converted(held, name, self.units[link.name]) if not held.is_text else held
            last = some[-1][1]
            return Held(missing=frozenset().union(*(held.missing for _, held in some)), why=last.why, is_text=last.is_text)
        same = [self.converted(held, name, self.units[link.name]) for name, held in some if not _absent(held)]
        if not same:
            return gone(frozenset())
        if link.how in ("low", "likely", "high"):
            one = np.asarray(getattr(same[0], link.how), float)
            return replace(same[0], low=one, likely=one, high=one)
        if link.how == "hull":
            low, high = (_over(how, [np.asarray(getattr(held, end), float) for held in same]) for how, end in ((np.minimum, "low"), (np.maximum, "high")))
            return replace(same[0], low=low, high=high, missing=frozenset().union(*(held.missing for held in same)), stale=frozenset().union(*(held.stale for held in same)))
        choose = np.minimum if link.how == "least" else np.maximum
        ends = [(held.low, held.likely, held.high) for held in same]
        low, likely, high = (_over(choose, [end[place] for end in ends]) for place in range(3))
        whys = [held.why for held in same if held.reasoned]
        return Held(low, likely, high, missing=frozenset().union(*(held.missing for held in same)), stale=frozenset().union(*(held.stale for held in same)), why=whys[0] if whys else "")

    def lookup(self, link: Lookup, inside: dict[str, Held] | None) -> Held:
        study = self.studies[link.study]
        given = {key: self.look(name, inside) for key, name in link.inputs.items()}
        unknown = [held for held in given.values() if not held.known]
        if unknown:
            return gone(frozenset().union(*(held.missing for held in unknown)), unknown[0].why)
        stale = frozenset().union(*(held.stale for held in given.values()))
        rows = study["rows"]
        word = given["word"].text if "word" in given else ""
        if word not in rows:
            return gone(frozenset(), f"no study of {word}")
        row = rows[word]
        if "at" not in given:
            one = np.asarray(float(row))
            return Held(one, one, one, stale=stale)
        axis, values, at = np.asarray(study["axis"], float), np.asarray(row, float), self.converted(given["at"], link.inputs["at"], study["axis_unit"])
        worse = np.minimum if link.side == "least" else np.maximum

        def one_end(where: Any) -> Any:
            place = np.clip(np.searchsorted(axis, np.asarray(where) - 1e-9, side="left"), 0, len(axis) - 1)
            under = np.clip(np.where(np.abs(axis[place] - where) <= 1e-9, place, place - 1), 0, len(axis) - 1)
            return np.where(~((where >= axis[0] - 1e-9) & (where <= axis[-1] + 1e-9)), np.nan, worse(values[under], values[place]))

        ends = np.stack([one_end(at.low), one_end(at.likely), one_end(at.high)])
        why = "outside what was studied" if np.any(np.isnan(ends[1])) else ""
        return Held(np.min(ends, axis=0), ends[1], np.max(ends, axis=0), stale=stale, why=why)

    def choose(self, link: Choose, inside: dict[str, Held] | None) -> Held:
        missing: frozenset[str] = frozenset()
        stale: frozenset[str] = frozenset()
        for case, word in link.cases:
            helds = [(self.look(name, inside), said) for name, said in case]
            stale |= frozenset().union(*(held.stale for held, _ in helds))
            if all(held.text is not None and held.text in said.split() for held, said in helds):
                return text(word, stale=stale)
            if not any(held.text is not None and held.text not in said.split() for held, said in helds):
                missing |= frozenset().union(*(held.missing for held, _ in helds if held.text is None))
                return gone(missing, is_text=True)
        return text(link.otherwise, stale=stale)

    def case(self, link: Case, inside: dict[str, Held] | None) -> Held:
        said = self.look(link.by, inside)
        if said.text is None or said.text not in link.of:
            return gone(said.missing)
        source = link.of[said.text]
        return self.converted(self.look(source, inside), source, self.units[link.name]) if isinstance(source, str) else number(source)

    def search(self, link: Search, inside: dict[str, Held] | None) -> None:
        """Puts down what the search gives, under its own name a figure that counts nothing: whether it found anything."""
        given = {key: self.look(name, inside) for key, name in link.inputs.items()}
        lists = {part: [{name: one[name] for name in names} for one in self.out.parts.get(part, [])] for part, names in link.lists.items()}
        every = [*given.values(), *(held for some in lists.values() for one in some for held in one.values())]
        wide = any(not held.is_text and (_differ(held.low, held.likely) or _differ(held.high, held.likely)) for held in every if held.known)
        found = []
        for end in ("low", "likely", "high") if wide else ("likely",):
            def plain(held: Held, end: str = end) -> Any:
                return held.text if held.is_text else float(getattr(held, end))

            found.append(self.searches[link.search]({**{key: plain(held) for key, held in given.items()}, **{part: [{name: plain(held) for name, held in one.items()} for one in some] for part,
                some in lists.items()}}))
        missing = frozenset().union(*(held.missing for held in every)) if every else frozenset()
        why = next((held.why for held in every if held.reasoned), "" if missing else link.why)
        place = self.out.held if inside is None else inside

        def made(values: list[float]) -> Held:
            likely, lost = np.asarray(values[len(values) // 2]), any(np.isnan(values))
            return Held(likely=likely, missing=missing, why=why) if lost else Held(np.asarray(min(values)), likely, np.asarray(max(values)))

        for name in link.gives:
            place[name] = made([float(one[name]) for one in found])
        for part, names in link.into.items():
            for index, one in enumerate(self.out.parts.get(part, [])):
                one.update({name: made([float(answer[part][index][name]) for answer in found]) for name in names})
        place[link.name] = number(1.0)

    def fold(self, link: Fold, inside: dict[str, Held] | None = None) -> Held:
        some = self.out.parts.get(link.part, [])
        if link.by and inside is not None:
            mine = self.look("key", inside).text
            some = [part for part in some if part[link.by].text == mine]
        if link.how == "count":
            one = np.asarray(float(len(some)))
            return Held(one, one, one)
        if not some:
            one = np.asarray(0.0)
            return Held(one, one, one) if link.how == "sum" else gone(frozenset({link.part}))
        helds = [part[link.of] for part in some]
        if link.how in ("first", "last"):
            return helds[0 if link.how == "first" else -1]
        how = {"sum": np.add, "least": np.minimum, "most": np.maximum}[link.how]
        low, likely, high = (_over(how, [getattr(held, end) for held in helds]) for end in ("low", "likely", "high"))
        whys = [held.why for held in helds if held.reasoned]  # a sum with a part that has no answer has none, and for that reason
        return Held(low, likely, high, missing=frozenset().union(*(held.missing for held in helds)), stale=frozenset().union(*(held.stale for held in helds)), why=whys[0] if whys else "")

    def made(self, link: Link, inside: dict[str, Held] | None) -> Held:
        if isinstance(link, Step):
            return self.step(link, inside)
        if isinstance(link, Pick):
            return self.pick(link, inside)
        if isinstance(link, Lookup):
            return self.lookup(link, inside)
        if isinstance(link, Choose):
            return self.choose(link, inside)
        if isinstance(link, Case):
            return self.case(link, inside)
        assert isinstance(link, Fold)
        return self.fold(link, inside)

    def run(self, links: Iterable[Link], inside: dict[str, Held] | None = None) -> None:
        for link in links:
            if inside is None and not isinstance(link, Each) and link.name in self.given:
                continue
            if isinstance(link, Each):
                for part in self.out.parts.get(link.part, []):
                    scope = dict(part) | {f"{link.part}.{key}": held for key, held in part.items()}
                    for other, word in link.refers.items():
                        named = part[word].text
                        found = next((one for one in self.out.parts.get(other, []) if one["key"].text == named), None)
                        if found is None:
                            raise KeyError(f"{link.part}: no part of {other} is called {named!r}")
                        scope |= {f"{other}.{key}": held for key, held in found.items()}
                    self.run(link.links, scope)
                    part |= {name: held for name, held in scope.items() if "." not in name}
                continue
            if isinstance(link, Search):
                self.search(link, inside)
                continue
            made = self.made(link, inside)
            if inside is None:
                self.out.held[link.name] = made
            else:
                inside[link.name] = made


def _differ(one: Any, other: Any) -> bool:
    """Whether two columns (or numbers) differ anywhere."""
    return bool(np.any(one != other) if np.ndim(one) or np.ndim(other) else one != other)


def _absent(held: Held) -> bool:
    """Nobody gave it and no reading would: a fact that a sheet does not print."""
    return not held.is_text and not held.missing and held.blank and not held.reasoned


def _over(how: Any, columns: list[Any]) -> Any:
    total = columns[0]
    for column in columns[1:]:
        total = how(total, column)
    return np.asarray(total, float)


def units_of(chain: Chain, formulas: Mapping[str, Formula], studies: Mapping[str, Study], given: Mapping[str, str]) -> dict[str, str]:
    """Unit of every name in a chain, before anything is walked. ValueError where a step's formulas disagree."""
    found = dict(given)

    def unit(name: str) -> str:
        return found.get(name, found.get(name.rpartition(".")[2], "1"))

    def one(link: Link) -> None:
        if isinstance(link, Each):
            for inner in link.links:
                one(inner)
        elif isinstance(link, Step):
            said = {formulas[name].answer.unit for name in ([link.formula] if isinstance(link.formula, str) else link.formula.values())}
            if len(said) > 1:
                raise ValueError(f"{link.name}: its formulas answer in {sorted(said)}")
            found[link.name] = said.pop()
        elif isinstance(link, Pick):
            found[link.name] = unit(link.of[0])
        elif isinstance(link, Lookup):
            found[link.name] = studies[link.study]["unit"]
        elif isinstance(link, Case):
            found[link.name] = next((unit(name) for name in link.of.values() if isinstance(name, str)), "1")
        elif isinstance(link, Search):
            found.update({link.name: "1", **link.gives, **{name: one for names in link.into.values() for name, one in names.items()}})
        elif isinstance(link, Fold):
            found[link.name] = "1" if link.how == "count" else found.get(f"{link.part}.{link.of}", found.get(link.of, "1"))

    for link in chain.links:
        one(link)
    return found


def walk(chain: Chain, formulas: Mapping[str, Formula], held: Mapping[str, Held], parts: Mapping[str, list[dict[str, Held]]], named_units: Mapping[str, str],
         studies: Mapping[str, Study], only: Iterable[str] | None = None, searches: Searches | None = None) -> Walked:
    """Walk the chain (or only what some names rest on). `named_units` are those of `units_of`; `searches` are those that its Search links name."""
    one = _Walk(chain, formulas, held, parts, named_units, studies, searches or {})
    links: list[Link] = list(chain.links)
    asked = list(chain.verdicts)
    if only is not None:
        names = list(only)
        wanted = {id(link) for name in names for link in chain.wanted(name)[0]}
        links = [link for link in chain.links if id(link) in wanted]
        answers = [answer for answer in chain.answers if answer.name in names]
        asked = [name for name in chain.verdicts if name in names or any(name in answer.verdicts or (answer.gate and name == "allowed") for answer in answers)]
    one.run(links)
    for name in asked:
        one.out.verdicts[name] = ask(chain.verdicts[name], one.look, one.limit_of)
    return one.out
