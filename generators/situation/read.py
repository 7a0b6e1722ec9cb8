"""A Situation read from texts, as they come from the command line, a card's cell or a phone: everything wrong is told at once."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

from generators import units
from generators.quantity import read as read_typed
from generators.situation.declare import READINGS, Reading

_AT = re.compile(r"^(.*?)@(\d{1,2}:\d\d|\d{4}-\d\d-\d\dT\d\d:\d\d)$")
_CLOCK = re.compile(r"^(\d{1,2}):(\d\d)$")
_DOSE = re.compile(r"^\s*([0-9.,]+)\s*%\s*(w?)\s*:\s*([0-9.,]+)\s*s?\s*(?:@\s*([-0-9.,−]+\s*°?[CF]?))?\s*(?:in\s+([a-z0-9-]+))?\s*$", re.IGNORECASE)
NONE = "none"


class SituationError(ValueError):
    """Readings that cannot be read: a line for each."""

    def __init__(self, lines: Sequence[str]) -> None:
        self.lines = list(lines)
        super().__init__("\n".join(self.lines))


@dataclass(frozen=True)
class Dose:
    """A dose of thinner, in all, and the cup time after it: share of the paint by volume (or by weight), seconds, °C or None, cup or None."""

    share: float
    by_weight: bool
    seconds: float
    temperature: float | None
    cup: str | None


@dataclass(frozen=True)
class Situation:
    """Readings by name: numbers in the reading's unit, words as they are, times in minutes after midnight of the day of `now`.

    `spans` are the ends of those that were given as a range or with ±. `texts` keep what was typed; `at` says when each was taken, in the same minutes, where it was said.
    """

    numbers: Mapping[str, float] = field(default_factory=dict)
    words: Mapping[str, str] = field(default_factory=dict)
    doses: tuple[Dose, ...] = ()
    at: Mapping[str, float] = field(default_factory=dict)
    texts: Mapping[str, str | list[str]] = field(default_factory=dict)
    day: date = date(2000, 1, 1)
    spans: Mapping[str, tuple[float, float]] = field(default_factory=dict)

    def clock(self, minutes: float) -> str:
        """Minutes after midnight of this day, as a date and time to the minute."""
        return (datetime.combine(self.day, datetime.min.time()) + timedelta(minutes=round(minutes))).isoformat(timespec="minutes")


def _minutes(typed: str, day: date) -> float:
    match = _CLOCK.match(typed)
    if match and int(match[1]) < 24 and int(match[2]) < 60:
        return int(match[1]) * 60.0 + int(match[2])
    try:
        moment = datetime.strptime(typed, "%Y-%m-%dT%H:%M")
    except ValueError:
        raise ValueError(f"wanted a time such as 10:30 or 2026-11-26T10:30; came {typed!r}; write hours and minutes") from None
    return (moment - datetime.combine(day, datetime.min.time())).total_seconds() / 60


def _near(word: str, words: Sequence[str]) -> str:
    close = difflib.get_close_matches(word, list(words), 1)
    return f"did you mean {close[0]!r}?" if close else "write one of: " + ", ".join(words)


def value_of(typed: str, unit: str) -> float:
    """One typed figure in `unit`; a bare number is in `unit` already. UnitError says what was wanted."""
    return read_typed(typed, unit).to(unit).likely


def _number(reading: Reading, typed: str) -> tuple[float, float, float]:
    """(low, likely, high) in the reading's unit: one figure, a range, or a figure with ±."""
    found = read_typed(typed, reading.unit).to(reading.unit)
    if found.given == "bound" or not reading.low <= found.likely <= reading.high:
        raise ValueError(f"wanted {reading.low:g} to {reading.high:g} {reading.unit}; came {typed!r}; check the number and the unit")
    return max(found.low, reading.low), found.likely, min(found.high, reading.high)


def _dose(typed: str, cups: Sequence[str]) -> Dose:
    match = _DOSE.match(typed)
    if not match:
        raise ValueError(f"wanted a dose such as 5%:42s or 5%w:42s@19C in iso-4; came {typed!r}; write the share, a colon, and the seconds after it")
    share, seconds = value_of(match[1], "%"), value_of(match[3], "s")
    if not (0 <= share <= 60 and 1 <= seconds <= 600):
        raise ValueError(f"wanted 0 to 60 % and 1 to 600 s; came {typed!r}; check the numbers")
    warmth = None
    if match[4]:
        warmth = value_of(match[4].strip(), "°C")
    cup = match[5].lower() if match[5] else None
    if cup and cup not in cups:
        raise ValueError(f"wanted a known cup; came {cup!r}; {_near(cup, cups)}")
    return Dose(share, bool(match[2]), seconds, warmth, cup)


def read(pairs: Sequence[tuple[str, str]], names: Mapping[str, Sequence[str]], today: date | None = None) -> Situation:
    """Read NAME=VALUE pairs. `names` gives the known names of kits, coatings, cups and regions. SituationError tells every problem."""
    problems: list[str] = []
    numbers: dict[str, float] = {}
    words: dict[str, str] = {}
    doses: list[Dose] = []
    spans: dict[str, tuple[float, float]] = {}
    at: dict[str, float] = {}
    texts: dict[str, str | list[str]] = {}
    day = today or date.today()
    for name, typed in pairs:
        if name == "now" and (found := re.match(r"^(\d{4}-\d\d-\d\d)T", typed)):
            try:
                day = date.fromisoformat(found[1])
            except ValueError:
                problems.append(f"now: wanted a date that exists; came {typed!r}; write, for example, 2026-11-26T10:30")
    for name, typed in pairs:
        reading = READINGS.get(name)
        if reading is None:
            problems.append(f"{name}: wanted a reading; came {name!r}; {_near(name, list(READINGS))}")
            continue
        if name in texts and not reading.many:
            problems.append(f"{name}: wanted it once; came it twice; keep one of the two")
            continue
        bare, when = typed.strip(), None
        if reading.kind != "dose" or (_AT.match(bare) and ":" in bare.rpartition("@")[2]):
            match = _AT.match(bare)
            if match and reading.kind != "time":
                bare, when = match[1].strip(), match[2]
        try:
            if when is not None:
                at[name] = _minutes(when, day)
            if reading.kind == "number":
                low, numbers[name], high = _number(reading, bare)
                if low < high:
                    spans[name] = (low, high)
            elif reading.kind == "time":
                if bare == NONE and name == "rain-at":
                    words["rain"] = NONE
                else:
                    numbers[name] = _minutes(bare, day)
            elif reading.kind == "dose":
                doses.append(_dose(bare, names.get("cups", ())))
            else:
                options = names.get(reading.of or "regions", ()) if reading.kind == "fact" or not reading.options else reading.options
                if bare not in options:
                    raise ValueError(f"wanted a known {name}; came {bare!r}; {_near(bare, list(options))}")
                words[name] = bare
            if reading.many:
                texts.setdefault(name, [])
                texts[name].append(typed)  # type: ignore[union-attr]
            else:
                texts[name] = typed
        except units.UnitError as error:
            problems.append(f"{name}: {error}")
        except ValueError as error:
            problems.append(f"{name}: {error}")
    if problems:
        raise SituationError(problems)
    return Situation(numbers, words, tuple(doses), at, texts, day, spans)
