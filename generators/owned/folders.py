"""A folder that a command fills: checked, filled aside, and put in place whole."""

from __future__ import annotations

import ctypes
import glob
import os
import shutil
import signal
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from generators.owned.mark import MARK, OF_THE_SYSTEM, digest, entries, mark, mark_unfinished, marked, schemas, strangers
from generators.owned.sources import NotOurs, outside_sources, resolved

try:
    import fcntl
except ImportError:  # Windows: builds are then not kept apart
    fcntl = None  # type: ignore[assignment]

_AT_FDCWD, _EXCHANGE = -100, 2
_ASIDE = "-almanac-"  # a name that nobody gives to a folder of his own


def folder(target: Path, root: Path, command: str, own: Path | None = None) -> Path:
    """`target`, links followed, if `command` may fill it: new, empty, or its own and nothing else in it. NotOurs if not.

    `own` is the one folder inside the sources that this command owns: that of the schemas, known by what lies in it.
    """
    place = resolved(target)
    if not _is(place, own):
        outside_sources(target, root)
    if not os.path.lexists(place):
        if any(above.exists() and not above.is_dir() for above in place.parents):
            raise NotOurs(f"{target}: wanted a folder to write to; came a path through a file; name another folder")
        return place
    if not place.is_dir():
        raise NotOurs(f"{target}: wanted a folder to write to; came a file; name a folder")
    if not any(place.iterdir()):
        return place
    known = schemas(place) if _is(place, own) else marked(place)
    if known is None:
        first = sorted(path.name for path in place.iterdir())[0]
        raise NotOurs(f"{target}: wanted a new or an empty folder, or one that `almanac {command}` made; came one that holds {first!r} and bears no mark of it; name another folder")
    if known[0] != command:
        raise NotOurs(f"{target}: wanted a folder that `almanac {command}` made; came one of `almanac {known[0]}`; name another folder")
    foreign = strangers(place, known[1])
    if foreign:
        more = f" (and {len(foreign) - 1} more)" if len(foreign) > 1 else ""
        raise NotOurs(f"{target}: wanted only what `almanac {command}` made there; came {foreign[0]}{more}; move it out, or remove the folder yourself if you want none of it")
    return place


def _is(place: Path, own: Path | None) -> bool:
    return own is not None and place == own.resolve()


@contextmanager
def making(target: Path, root: Path, command: str, own: Path | None = None) -> Iterator[Path]:
    """A folder beside `target` to fill. When the block ends well it takes the place of `target`, whole; if not, nothing was touched."""
    place = folder(target, root, command, own)
    place.parent.mkdir(parents=True, exist_ok=True)
    with _alone(place):
        made = Path(tempfile.mkdtemp(prefix=f".{place.name}{_ASIDE}", dir=place.parent))
        try:
            mark_unfinished(made)
            yield made
            if _is(place, own):
                (made / MARK).unlink()
            else:
                mark(made, command)
            os.chmod(made, 0o755)
            folder(target, root, command, own)  # again: a file may have come while we worked
        except BaseException:
            shutil.rmtree(made, ignore_errors=True)
            raise
        _swap(made, place, schemas if _is(place, own) else marked)


@contextmanager
def _alone(place: Path) -> Iterator[None]:
    """One build at a time beside `place`; what a killed build left there is cleared away.

    The folder itself is locked, so that no lock file lies about; the system lets go of it even when we are killed.
    """
    lock = os.open(place.parent, os.O_RDONLY) if fcntl else None
    try:
        if fcntl and lock is not None:
            fcntl.flock(lock, fcntl.LOCK_EX)
            for left in sorted(place.parent.glob(f".{glob.escape(place.name)}{_ASIDE}*")):
                if left.is_dir() and not left.is_symlink():
                    _clear_leftover(left)
        yield
    finally:
        if lock is not None:
            os.close(lock)


def _clear_leftover(left: Path) -> None:
    """Take away what a killed build left: half made, or an old one that had already made way. Anything else stays."""
    known = marked(left)
    if (known and not known[0]) or [path.name for path in left.iterdir()] in ([], [MARK]):
        shutil.rmtree(left, ignore_errors=True)
    elif known:
        _clear(left, known[1])


def _clear(old: Path, files: dict[str, str | None], new: Path | None = None) -> bool:
    """Remove exactly what we made in `old`, and `old` itself if nothing else is in it; whether all is gone."""
    last = old / MARK  # goes last of all: killed on the way, what is left is still known for ours
    for path in [path for path in entries(old) if path != last]:
        name = path.relative_to(old).as_posix()
        if path.name in OF_THE_SYSTEM and name not in files:
            there = (new / name) if new else None
            if there is not None and there.parent.is_dir() and not there.exists():
                path.replace(there)
            else:
                path.unlink()
        elif name in files:
            _unlink(path, files[name])
    for here, _, _ in os.walk(old, topdown=False):
        if Path(here) == old and MARK in files:
            _unlink(last, files[MARK])
        try:
            os.rmdir(here)
        except OSError:
            continue  # holds something that is not ours
    return not old.exists()


def _unlink(path: Path, made: str | None) -> None:
    """Remove a file of ours that is as it was made."""
    if path.is_file() and not path.is_symlink() and made in (None, digest(path)):
        path.unlink()


def _swap(new: Path, old: Path, ours: Callable[[Path], tuple[str, dict[str, str | None]] | None]) -> None:
    """Put `new` where `old` is, in one step where the system can, and remove what we had made there."""
    with _in_one_piece():
        if not os.path.lexists(old):
            new.rename(old)
            return
        known = ours(old)
        aside = new
        if not _exchange(new, old):
            aside = new.with_name(f"{new.name}-old")
            old.rename(aside)
            new.rename(old)
        if not _clear(aside, known[1] if known else {}, old):
            kept = old.with_name(f"{old.name}-not-ours-{aside.name.rpartition('-')[2]}")
            aside.rename(kept)
            raise NotOurs(f"{old}: is built anew; something came while it was built, which no build made: it lies in {kept}")


def _exchange(one: Path, other: Path) -> bool:
    if sys.platform != "linux":
        return False
    change = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    return change is not None and change(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _EXCHANGE) == 0


@contextmanager
def _in_one_piece() -> Iterator[None]:
    """A wish to stop waits for these few steps to end."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
