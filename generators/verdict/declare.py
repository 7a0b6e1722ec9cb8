"""The Verdict: named tests, all of them asked, over quantities that are intervals.

Each test has a sign and a limit (names, never numbers), what it means where the likely value is past the limit, what it means where
only the worst end is, its reason with figures, and what would change it. Worse air, a wider instrument or less known can only move
an outcome towards stop: that is a property of how tests are asked, and not of anybody's care.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generators.basis import Basis, Origin
from generators.formula.parts import DeclarationError

GO, CARE, UNKNOWN, STOP = "go", "care", "unknown", "stop"
OUTCOMES = (GO, CARE, UNKNOWN, STOP)
# How an outcome speaks among others of one verdict: the highest is said. Unknown counts with stop, and says so in other words.
RANK = {outcome: place for place, outcome in enumerate(OUTCOMES)}
HAIR = 1e-9  # on the limit counts as inside: 50 °F becomes 10.000000000000036 °C


@dataclass(frozen=True)
class Test:
    """One test.

    `sign` is "<" or ">" (the value is past the limit when it is so), "is" or "not" (a text, against the words of `limit`, split at
    blanks), or "known" (it only asks that the value is known). `outcome` where the likely value is past it; `doubt` where only the
    worst end is: stop where somebody can be hurt, care where only the film can. `when` names texts that must hold for the test to
    be asked; one that is not known lets it be asked. A `spare` test is left out where its limit or value is a fact that nobody gave
    (a data sheet that prints no latest coat); a reading that nobody took is never spared.
    """

    name: str
    value: str
    sign: Literal["<", ">", "is", "not", "known"]
    limit: str
    outcome: Literal["care", "stop"]
    because: str
    remedy: str
    doubt: Literal["care", "stop"] = "care"
    when: tuple[tuple[str, str], ...] = ()
    spare: bool = False

    def described(self) -> dict[str, object]:
        """As plain data, for JSON."""
        return {"name": self.name, "value": self.value, "sign": self.sign, "limit": self.limit, "outcome": self.outcome, "doubt": self.doubt,
                "because": self.because, "remedy": self.remedy, "when": [list(one) for one in self.when], "spare": self.spare}


@dataclass(frozen=True)
class Verdict:
    """Named tests under one question, worst first, and where the rule comes from.

    Raises DeclarationError where two tests share a name, an outcome is not one, or a published rule names no source.
    """

    name: str
    title: str
    asks: str
    tests: tuple[Test, ...]
    origin: Origin
    go: str = "Every test passes."
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        names = [test.name for test in self.tests]
        if len(set(names)) < len(names) or not names:
            raise DeclarationError(f"verdict {self.name}: wanted tests, each named once; came {names}")
        for test in self.tests:
            if test.outcome not in (CARE, STOP) or test.doubt not in (CARE, STOP):
                raise DeclarationError(f"verdict {self.name}, {test.name}: wanted care or stop; came {test.outcome}, {test.doubt}")
            if RANK[test.doubt] > RANK[test.outcome]:
                raise DeclarationError(f"verdict {self.name}, {test.name}: a doubt cannot weigh more than being sure")
            if not test.because or not test.remedy:
                raise DeclarationError(f"verdict {self.name}, {test.name}: wanted a reason and what would change it")
        if not self.origin.source and self.origin.basis in (Basis.PUBLISHED, Basis.MEMORY):
            raise DeclarationError(f"verdict {self.name}: a {self.origin.basis} rule names its source")

    @property
    def names(self) -> tuple[str, ...]:
        """Every quantity that it asks after, once."""
        found = [name for test in self.tests for name in (test.value, *([test.limit] if test.sign in "<>" else []), *(condition for condition, _ in test.when))]
        return tuple(dict.fromkeys(found))

    def described(self) -> dict[str, object]:
        """As plain data, for JSON: the phone asks the same tests in the same order."""
        return {"name": self.name, "title": self.title, "asks": self.asks, "go": self.go, "tests": [test.described() for test in self.tests]}
