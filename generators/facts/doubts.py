"""A doubt: a value that can be, and seldom is. It is said wherever the value is used, until somebody signs it off in its file.

In a YAML entry:  doubtful: {voc: {value: 600 g/L, who: A. Painter, why: the maker confirmed it by telephone}}
In a CSV row, in a last column `doubtful`:  A. Painter: the maker confirmed it by telephone
`value` may be left out; where it stands it must be the value as written, so that a later slip is a doubt again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from pydantic import BaseModel, ConfigDict, StringConstraints, ValidationError

from generators.facts.problem import Problem

Who = Annotated[str, StringConstraints(min_length=2, max_length=80, strip_whitespace=True)]
Why = Annotated[str, StringConstraints(min_length=8, max_length=400, strip_whitespace=True)]
WHOLE_ROW = "*"  # a row of a spreadsheet is signed off as one


class SignedOff(BaseModel):
    """Who says that an unlikely value is right, and why."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    who: Who
    why: Why
    value: str | None = None


@dataclass(frozen=True, order=True)
class Doubt(Problem):
    """`fact` and `entry` name what it is about, such as coatings and gannet-trim-satin; `signed` says who took it on and why."""

    fact: str = ""
    entry: str = ""
    field: str = ""
    signed: str = ""

    def __str__(self) -> str:
        return f"{self.path}:{self.line}: doubtful: usually {self.wanted}; came {self.came}; {self.mend}"

    @property
    def said(self) -> str:
        """The doubt as a page or a phone says it, without file and line."""
        field, usual = self.field.replace("_", " "), self.wanted.split(": ", 1)[-1]
        return f"{field} {self.came.strip(chr(39))}; usual: {usual.removeprefix(f'{field} ')}" + (f"; signed off by {self.signed}" if self.signed else "; nobody has signed it off")


def signed_off(cell: str) -> SignedOff | None:
    """A row's last cell, `who: why`; None where it says less."""
    who, _, why = cell.partition(":")
    try:
        return SignedOff(who=who, why=why)
    except ValidationError:
        return None


def signature(field: str, text: str, signed: Mapping[str, SignedOff]) -> str:
    """Who signed a field off and why, as one text; "" where nobody did, or where it was another value that they signed."""
    one = signed.get(field) or signed.get(WHOLE_ROW)
    if one is None or (one.value is not None and " ".join(one.value.split()) != " ".join(text.split())):
        return ""
    return f"{one.who}: {one.why}"
