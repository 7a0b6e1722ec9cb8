"""Work in a second process beside this one: most machines have two cores, and half of a handbook can be made on each."""

from __future__ import annotations

import atexit
import contextlib
import multiprocessing
import os
import queue
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from io import FileIO
from multiprocessing.connection import Connection
from typing import Any

from generators import progress

_NO_MORE = sys.maxsize


class Beside:
    """Begins `work(give)` in a process of its own, which gives one thing after the other. `heard()` waits for the next of them; None where there is no second
    process, or it came to grief: then whoever asks makes it, and meets the same mistake where it can be told.

    `watched`: while somebody waits to hear, how far it has come is told here as if it were done here.
    """

    def __init__(self, work: Callable[[Callable[[Any], None]], None], watched: bool = False) -> None:
        def tell(line: Connection) -> None:
            with _Sending(line) as sending:
                if watched:
                    progress.told_to(sending.come)
                work(sending.give)

        self._line = part(tell)

    def heard(self, wait: bool = True) -> Any:
        """What the next one gave; where it is not to be waited for, None if nothing is there yet."""
        try:
            while self._line is not None and (wait or self._line.poll()):
                told = self._line.recv()
                if not isinstance(told, _Come):
                    return told
                progress.at(*told.so_far)
        except (EOFError, OSError):
            pass
        return None


@dataclass(frozen=True)
class _Come:
    """How far a second process has come."""

    so_far: tuple[str, int, int]


class Shared:
    """Things by number from 0, each done once: by this process, which asks of each in turn whether it is its own, or by a copy that begins at once. The copy first
    does those of `ahead`, which have numbers of their own."""

    def __init__(self, count: int, do: Callable[[int], Any], ahead: Sequence[int] = ()) -> None:
        self._line, self._next = _numbers(count) if can_part() else None, -1

        def theirs(give: Callable[[Any], None]) -> None:
            for number in ahead:
                give((number, do(number)))
            while (number := self._taken()) < count:
                give((number, do(number)))

        self._beside = Beside(theirs)

    def _taken(self) -> int:
        token = b"" if self._line is None else self._line.read(_TOKEN)
        return int.from_bytes(token) if len(token) == _TOKEN else _NO_MORE

    def mine(self, number: int) -> bool:
        """Whether this process is to do it, now. To be asked in rising order."""
        if self._line is None:
            return True
        if self._next < number:
            self._next = self._taken()
        return self._next == number

    def so_far(self) -> Iterator[tuple[int, Any]]:
        """What the copy has done since it was last asked for."""
        while heard := self._beside.heard(wait=False):
            yield heard

    def rest(self) -> Iterator[tuple[int, Any]]:
        """What else the copy has done, until it has done all. What is in nobody's hands then is still to be done: there was no copy, or it came to grief."""
        if self._line is not None:
            self._line.close()
        while heard := self._beside.heard():
            yield heard


_TOKEN = 4  # bytes of a number


def _numbers(count: int) -> FileIO:
    """A pipe that holds the numbers from 0: each is read once, by whichever process comes to it. What a small pipe has no room for is in nobody's hands."""
    line, tokens = os.pipe()
    os.set_blocking(tokens, False)
    with os.fdopen(tokens, "wb", buffering=0) as into:
        into.write(b"".join(number.to_bytes(_TOKEN) for number in range(count)))
    return FileIO(line)


class _Sending:
    """Hands things to a thread that sends them: whoever has made one makes the next, and does not wait until it is heard. There is no such thread before the first
    is made, since until then this process may part once more."""

    def __init__(self, line: Connection) -> None:
        self._line, self._waiting = line, queue.SimpleQueue[tuple[Any] | None]()
        self._thread: threading.Thread | None = None
        self._last = 0.0

    def __enter__(self) -> _Sending:
        return self

    def __exit__(self, *_: object) -> None:
        if self._thread is not None:
            self._waiting.put(None)
            self._thread.join()

    def _send(self) -> None:
        with contextlib.suppress(Exception):  # nobody hears any more, or it cannot be told: the end of the line says it
            while one := self._waiting.get():
                self._line.send(one[0])
        self._line.close()

    def give(self, one: Any) -> None:
        """Has it sent. BrokenPipeError where nobody hears any more: whoever makes things for nobody stops."""
        if self._thread is None:
            self._thread = threading.Thread(target=self._send, daemon=True)
            self._thread.start()
        if not self._thread.is_alive():
            raise BrokenPipeError
        self._waiting.put((one,))

    def come(self, stage: str, done: int, of: int) -> None:
        """Says how far this process has come, five times a second at most."""
        if time.monotonic() - self._last < 0.2:
            return
        self._last, one = time.monotonic(), _Come((stage, done, of))
        if self._thread is None:
            self._line.send(one)
        else:
            self._waiting.put((one,))


def part(work: Callable[[Connection], None]) -> Connection | None:
    """Begins `work(line)` in a copy of this process. The near end of its line, both ways; None where this process cannot be copied."""
    if not can_part():
        return None
    parts = multiprocessing.get_context("fork")
    near, far = parts.Pipe()
    process = parts.Process(target=_apart, args=(near, far, work))  # no daemon: it may part once more, while this process does something else
    process.start()
    atexit.register(process.terminate)  # what it makes after we end, nobody hears
    far.close()
    return near


_alone = False


def alone() -> None:
    """Said by a program that is a process of its own: in it no thread runs but those that Python knows. Elsewhere (in a test's worker, say) none can tell."""
    global _alone
    _alone = True


def threads() -> None:
    """Said where a library leaves threads of its own behind, such as the typesetter: a copy of this process would wait for them for ever."""
    global _alone
    _alone = False


def can_part() -> bool:
    """Whether this process can be copied as it stands: a second core, and no other thread that may hold what the copy would wait for. Not on macOS, whose own
    libraries do not outlive a copy, nor on Windows, which makes none: neither says how many cores it lends."""
    cores = getattr(os, "sched_getaffinity", None)
    others = [one for one in threading.enumerate() if one is not threading.current_thread() and one.name != progress.THREAD]
    return _alone and cores is not None and len(cores(0)) > 1 and not others


def _apart(near: Connection, far: Connection, work: Callable[[Connection], None]) -> None:
    with contextlib.suppress(BaseException):  # what went wrong is met again, and told, by whoever hears nothing; that we were stopped, by the first process
        for one in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK"):
            if hasattr(signal, one):
                signal.signal(getattr(signal, one), signal.SIG_DFL)
        progress.unseen()
        near.close()  # the first process's end: while we held it, its end would never be ours to see
        work(far)
    os._exit(0)  # nothing of the first process's ends here
