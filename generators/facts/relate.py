"""The form in which relations between facts are declared, and how they are asked.

A Relation is a value, a sign and a limit, each by name, as in a verdict. Where not even the kindest reading of both can be, the value
is refused; where only the likely figures are past each other, it is doubtful. `softly` makes a relation one that never refuses.
An Oddity is a relation of words. What cannot be worked from this file is not asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from generators.facts.span import Span

REFUSED, DOUBTFUL = "refused", "doubtful"
_HAIR = 1e-9
Look = Callable[[str], Span | None]


@dataclass(frozen=True)
class Relation:
    """`value` must be `sign` its `limit`. Told at the field `at`; `wanted` may name {limit}, as it was worked."""

    at: str
    value: str
    sign: Literal["<=", ">="]
    limit: str
    wanted: str
    remedy: str
    softly: bool = False
    unit: str = ""

    def asked(self, look: Look) -> tuple[str, str, str] | None:
        """(refused or doubtful, wanted, what came) or None where all is well or nothing is known."""
        value, limit = look(self.value), look(self.limit)
        if value is None or limit is None:
            return None
        past = value.low - limit.high if self.sign == "<=" else limit.low - value.high
        likely = value.likely - limit.likely if self.sign == "<=" else limit.likely - value.likely
        slack = _HAIR * max(1.0, abs(limit.likely))
        if past > slack and not self.softly:
            outcome = REFUSED
        elif likely > slack and (past > slack or not self.softly):
            outcome = DOUBTFUL
        else:
            return None
        return outcome, self.wanted.replace("{limit}", f"{limit.likely:.3g} {self.unit}".strip()), f"{value.likely:.3g} {self.unit}".strip()


@dataclass(frozen=True)
class Oddity:
    """Words that do not go together, and whether that cannot be or only seldom is. `when` asks the fact itself."""

    at: str
    when: Callable[[Any], bool]
    outcome: str  # REFUSED or DOUBTFUL
    wanted: str
    came: Callable[[Any], str]
    remedy: str


@dataclass(frozen=True)
class Found:
    """What a relation says: where, how badly, what was wanted, what came, how to mend."""

    at: tuple[Any, ...]
    outcome: str
    wanted: str
    came: str
    mend: str


def asked(relations: Sequence[Relation], oddities: Sequence[Oddity], look: Look, one: Any) -> Iterator[Found]:
    """Every relation that does not hold. A field's refusal is not told again as a doubt."""
    refused: set[str] = set()
    doubts: list[Found] = []
    for relation in relations:
        if told := relation.asked(look):
            outcome, wanted, came = told
            found = Found(tuple(relation.at.split(".")), outcome, wanted, came, relation.remedy)
            if outcome == REFUSED:
                refused.add(relation.at)
                yield found
            else:
                doubts.append(found)
    for oddity in oddities:
        if oddity.when(one):
            found = Found(tuple(oddity.at.split(".")), oddity.outcome, oddity.wanted, oddity.came(one), oddity.remedy)
            if oddity.outcome == REFUSED:
                refused.add(oddity.at)
                yield found
            else:
                doubts.append(found)
    yield from (doubt for doubt in doubts if ".".join(doubt.at) not in refused)


def looker(worked: Mapping[str, Callable[[Any], Span | None]], one: Any) -> Look:
    """What is worked from one fact, by name; each once."""
    held: dict[str, Span | None] = {}

    def look(name: str) -> Span | None:
        if name not in held:
            held[name] = worked[name](one)
        return held[name]

    return look
