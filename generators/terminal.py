"""What a terminal may do to a command: be unable to show a letter, close early, or ask it to stop. One plain line, never a trace."""

from __future__ import annotations

import codecs
import json
import os
import signal
import sys
import threading
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Any

# A letter that the terminal cannot show. A minus sign must not vanish, and 10² must not turn into 102.
_PLAIN = {"−": "-", "–": "-", "—": "-", "µ": "u", "μ": "u", "°": "deg ", "→": "->", "×": "x", "·": "*", "≥": ">=", "≤": "<=", "±": "+/-", "≈": "~", "…": "...", "Δ": "d",
          "²": "^2", "³": "^3", "‘": "'", "’": "'", "“": '"', "”": '"', "½": "1/2", "¼": "1/4", "¾": "3/4", "£": "GBP ", "€": "EUR "}


def _plain(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    out = ""
    for letter in error.object[error.start : error.end]:
        base = unicodedata.normalize("NFKD", letter)[0] if letter.isalpha() else ""
        out += _PLAIN.get(letter) or (base if base.isascii() and base else "?")
    return out, error.end


codecs.register_error("almanac-plain", _plain)


class Stopped(BaseException):
    """Somebody asked for an end. No handler of ordinary errors may swallow it."""

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(f"signal {number}")


def show_any_letter() -> None:
    """Have both streams write what they cannot show in plain letters."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="almanac-plain")


def as_json(value: Any) -> str:
    """JSON that says the same in every encoding of the terminal."""
    utf8 = (getattr(sys.stdout, "encoding", None) or "utf-8").lower().replace("-", "") == "utf8"
    return json.dumps(value, ensure_ascii=not utf8)


@contextmanager
def stopping_plainly() -> Iterator[list[int]]:
    """Inside, Ctrl-C and a polite kill raise Stopped; the list then holds the signal's number.

    A trace that Python would print by itself (from a callback or a finaliser, where nothing can be raised) is held back too.
    """
    seen: list[int] = []
    if threading.current_thread() is not threading.main_thread():
        yield seen
        return

    def stop(number: int, _: FrameType | None) -> None:
        if not seen:  # a second press must not break the clearing up
            seen.append(number)
            raise Stopped(number)

    def unraisable(told: Any) -> None:
        if not seen:
            sys.__unraisablehook__(told)
        elif isinstance(told.exc_value, Stopped):
            _alarm_in(0.005)  # raised where nobody could catch it: once more, a moment later, when Python is out of here

    def again(_: int, __: FrameType | None) -> None:
        raise Stopped(seen[0])

    numbers = [signal.SIGINT, signal.SIGTERM]
    before = {number: signal.signal(number, stop) for number in numbers}
    if hasattr(signal, "SIGALRM"):
        before[signal.SIGALRM] = signal.signal(signal.SIGALRM, again)
    hook, sys.unraisablehook = sys.unraisablehook, unraisable
    try:
        yield seen
    finally:
        _alarm_in(0)
        for number, handler in before.items():
            signal.signal(number, handler)
        sys.unraisablehook = hook


def _alarm_in(seconds: float) -> None:
    """SIGALRM after so long, where there is such a clock; 0: no longer."""
    clock = getattr(signal, "setitimer", None)
    if clock is not None:
        clock(signal.ITIMER_REAL, seconds)


def last_signals_ignored() -> None:
    """The command has said its last word: while Python puts its things away, a late Ctrl-C has nothing left to stop."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, signal.SIG_IGN)


def reader_has_gone() -> int:
    """The other end of the pipe closed, as `| head` does: no more is written, and Python says nothing about it at its end."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 141
