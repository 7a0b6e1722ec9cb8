"""What is made anew where nothing but a paint's own file has changed: by notes of which facts of which paint each page and file rested on when it was made.

A note says enough only while all else stays the same: every other input byte for byte, and all that is read from the paints' files for
somebody else (doubts, recipes, the names of things). Where any of that differs, everything is made anew.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

import numpy as np
from pydantic import BaseModel

from generators import noted
from generators.chain.day import Day


def print_of(value: Any) -> str:
    """A digest by value: the same in any process, whatever the order of a set or the place in memory."""
    return hashlib.sha256(_plain(value).encode()).hexdigest()[:20]


def _plain(value: Any) -> str:
    if value is None or isinstance(value, (str, int, float, bool)):
        return repr(value)
    if isinstance(value, Mapping):
        return "{" + ",".join(f"{_plain(key)}:{_plain(one)}" for key, one in dict.items(value)) + "}" if isinstance(value, dict) else _plain(dict(value))
    if isinstance(value, (list, tuple)):
        return "[" + ",".join(map(_plain, value)) + "]"
    if isinstance(value, (set, frozenset)):
        return "<" + ",".join(sorted(map(_plain, value))) + ">"
    if isinstance(value, np.ndarray):
        return f"{value.dtype}{value.shape}{hashlib.sha256(value.tobytes()).hexdigest()}"
    kind = type(value).__name__
    if isinstance(value, BaseModel):
        return f"{kind}{_plain(vars(value))}{_plain(value.__pydantic_private__)}"
    if is_dataclass(value):
        return f"{kind}{_plain({one.name: getattr(value, one.name) for one in fields(value)})}"
    return f"{kind}{_plain(vars(value))}" if hasattr(value, "__dict__") else f"{kind}{value!r}"


@dataclass(frozen=True)
class Record:
    """`rest`: all facts but the paints. `read`: each paint's fields, by digest. `told`: what the chain is told of it in a region. `rests`: what each page and piece
    rests on. `gives`: the addresses of a piece's files."""

    rest: str
    read: dict[str, dict[str, str]]
    told: dict[str, dict[str, str]]
    rests: dict[str, frozenset[noted.Key]]
    gives: dict[str, list[str]]

    @classmethod
    def of(cls, facts: Any, day: Day, rests: Mapping[str, Iterable[noted.Key]], gives: Mapping[str, list[str]], rest: str = "") -> Record:
        """For what has just been made from these facts. `rest`: the digest of all but the paints, where it is known."""
        noted_of = {unit: frozenset(keys) for unit, keys in rests.items()}
        pairs = sorted({key[:2] for keys in noted_of.values() for key in keys if len(key) == 3})
        return cls(rest or _of_the_rest(facts), _read(facts), {" ".join(pair): _told(day, *pair) for pair in pairs}, noted_of, dict(gives))

    def changed(self, facts: Any, day: Day) -> set[noted.Key] | None:
        """What differs in these facts; None where more differs than notes can tell."""
        now = _read(facts)
        if _of_the_rest(facts) != self.rest or list(now) != list(self.read):
            return None
        changed: set[noted.Key] = {(slug, field) for slug, known in now.items() for field in known if known[field] != self.read[slug].get(field)}
        paints = {slug for slug, _ in changed}
        for pair, known in self.told.items():
            slug, region = pair.split(" ")
            if slug in paints:
                told = _told(day, slug, region)
                if list(told) != list(known):
                    return None
                changed |= {(slug, region, name) for name in told if told[name] != known[name]}
        return changed

    def resting(self, changed: set[noted.Key]) -> set[str]:
        """Pages and pieces that rest on any of this."""
        return {unit for unit, keys in self.rests.items() if keys & changed or any(key[0] == noted.STRANGER for key in keys)} if changed else set()

    def plain(self) -> dict[str, Any]:
        """As JSON: each key and each set of keys once."""
        keys = sorted({key for some in self.rests.values() for key in some})
        place = {key: number for number, key in enumerate(keys)}
        sets = list(dict.fromkeys(self.rests.values()))
        at = {one: number for number, one in enumerate(sets)}
        return {"rest": self.rest, "read": self.read, "told": self.told, "keys": keys, "sets": [sorted(place[key] for key in one) for one in sets],
                "rests": {unit: at[some] for unit, some in self.rests.items()}, "gives": self.gives}

    @classmethod
    def from_plain(cls, plain: Mapping[str, Any]) -> Record:
        """The other way. KeyError, TypeError or ValueError where it is none of ours."""
        keys = [tuple(key) for key in plain["keys"]]
        sets = [frozenset(keys[place] for place in some) for some in plain["sets"]]
        return cls(plain["rest"], plain["read"], plain["told"], {unit: sets[at] for unit, at in plain["rests"].items()}, plain["gives"])


def _of_the_rest(facts: Any) -> str:
    return print_of({one.name: getattr(facts, one.name) for one in fields(facts) if one.name != "coatings"})


def _read(facts: Any) -> dict[str, dict[str, str]]:
    return {slug: {field: print_of(value) for field, value in vars(tin).items()} for slug, tin in facts.coatings.items()}


def _told(day: Day, slug: str, region: str) -> dict[str, str]:
    return {name: print_of(one) for name, one in dict.items(day.once("coating", slug, region))}
