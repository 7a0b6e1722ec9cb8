"""How far a long command has come. Rooms say it; only a terminal shows it, and only after two seconds.

A command is a few stages, each with its share of the whole as measured on this project's own handbook. Time left is
what the part behind us took, scaled to the part before us: a guess, and shown as one ("about").
"""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any, TextIO, TypeVar

T = TypeVar("T")
AFTER = 2.0  # seconds; what is done by then needs no telling
THREAD = "how far"  # the thread that draws the line, by name


class Way:
    """Stages of one command, {what is being done: share of the time}, and where it stands."""

    def __init__(self, stages: Mapping[str, float], clock: Any = time.monotonic) -> None:
        total = sum(stages.values()) or 1
        self.shares = {name: share / total for name, share in stages.items()}
        self.clock, self.began = clock, clock()
        self.stage, self.done, self.of = "", 0, 0

    def at(self, stage: str, done: int, of: int) -> None:
        """We are at `done` of `of` in this stage. A stage that the command did not name is not counted."""
        if stage in self.shares:
            self.stage, self.done, self.of = stage, done, of

    def part(self) -> float:
        """Share of the whole that lies behind us, 0 to 1."""
        behind = 0.0
        for name, share in self.shares.items():
            if name == self.stage:
                return behind + share * (min(self.done / self.of, 1) if self.of else 0)
            behind += share
        return 0.0

    def line(self) -> str:
        """What a terminal shows: the stage, how many of how many, about how long yet."""
        took, part = self.clock() - self.began, self.part()
        left = f"; about {max(1, round(took * (1 - part) / part))} s left" if part > 0.05 else ""
        count = f" {self.done} of {self.of}" if self.of > 1 else ""
        return f"{self.stage or 'reading'}{count}{left}"


class _Elsewhere(Way):
    """Where somebody else counts."""

    def __init__(self, where: Callable[[str, int, int], None]) -> None:
        super().__init__({})
        self.where = where

    def at(self, stage: str, done: int, of: int) -> None:
        self.where(stage, done, of)


class Overtaken(BaseException):
    """Nobody wants what is being made any more: there is newer input. No mistake, so nothing that catches mistakes may catch it."""


_now: Way | None = None
_overtaken: Callable[[], bool] | None = None
_part: tuple[str, int, int] | None = None


def at(stage: str, done: int, of: int) -> None:
    """Said by whoever does the work; it costs nothing where nobody looks. Overtaken where `while_wanted` says so."""
    if _now is not None:
        if _part is not None and _part[0] == stage:
            done, of = _part[1] + done, _part[2]
        _now.at(stage, done, of)
    if _overtaken is not None and _overtaken():
        raise Overtaken


@contextmanager
def while_wanted(overtaken: Callable[[], bool]) -> Iterator[None]:
    """Inside, work that says how far it is ends with Overtaken as soon as `overtaken()` holds."""
    global _overtaken
    _overtaken = overtaken
    try:
        yield
    finally:
        _overtaken = None


@contextmanager
def part_of(stage: str, begun: int, of: int) -> Iterator[None]:
    """Inside, what is said of this stage counts on from `begun`, and as so many of all."""
    global _part
    before, _part = _part, (stage, begun, of)
    try:
        yield
    finally:
        _part = before


def through(stage: str, many: Iterable[T], of: int) -> Iterator[T]:
    """The same things, counted as they go by."""
    for number, one in enumerate(many):
        at(stage, number, of)
        yield one
    at(stage, of, of)


def unseen() -> None:
    """From here on nobody in this process looks: what a second process does is not told."""
    global _now, _overtaken
    _now = _overtaken = None


def told_to(where: Callable[[str, int, int], None]) -> None:
    """From here on it is told there."""
    global _now
    _now = _Elsewhere(where)


@contextmanager
def shown(stages: Mapping[str, float], stream: TextIO | None = None, quiet: bool = False, every: float = 0.2) -> Iterator[Way]:
    """Inside, a terminal's last line says how far we are. Elsewhere (a file, a pipe, --quiet) nothing is written."""
    global _now
    stream = stream or sys.stderr
    before, way = _now, Way(stages)
    _now, ended = way, threading.Event()
    wide = 0

    def draw() -> None:
        nonlocal wide
        if ended.wait(AFTER):
            return
        while not ended.wait(every):
            line = way.line()[:78]
            stream.write("\r" + line.ljust(wide))
            stream.flush()
            wide = len(line)

    thread = threading.Thread(target=draw, name=THREAD, daemon=True) if stages and not quiet and stream.isatty() else None
    if thread:
        thread.start()
    try:
        yield way
    finally:
        ended.set()
        if thread:
            thread.join()
            if wide:
                stream.write("\r" + " " * wide + "\r")
                stream.flush()
        _now = before
