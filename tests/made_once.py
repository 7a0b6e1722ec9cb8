"""Folders that tests share: made once for this very tree of files, kept for every worker and for the next run.

They lie in the machine's folder for temporary files under a digest of all that goes into a handbook: facts, pages, code,
checks, settings, versions of packages, and the file that says how the folder is made. A changed byte makes a new one.
"""

from __future__ import annotations

import contextlib
import fcntl
import functools
import hashlib
import os
import shutil
import sys
import tempfile
import time
from importlib import metadata
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
STORE = Path(tempfile.gettempdir()) / f"almanac-tests-{os.getuid()}"
INPUTS = ("generators", "handbook", "site_data", "tests/reference", "mkdocs.yml")
KEPT_FOR = 3600  # seconds: a folder that nobody used for so long is cleared away


def digest(*paths):
    """Hexadecimal digest of names and bytes of files and of all files in folders."""
    total = hashlib.sha256()
    for base in paths:
        for path in sorted(base.rglob("*")) if base.is_dir() else [base]:
            if path.is_file() and "__pycache__" not in path.parts:
                total.update(f"{path.relative_to(base.parent).as_posix()}\0".encode() + hashlib.sha256(path.read_bytes()).digest())
    return total.hexdigest()


@functools.cache
def _tree():
    versions = sorted(f"{one.metadata['Name']}={one.version}" for one in metadata.distributions())
    return f"{ROOT}|{sys.version}|{versions}|{digest(*(ROOT / name for name in INPUTS))}"


def made_once(name, make):
    """The folder that `make(folder)` fills, made by the first that asks; others wait for it. Nobody may change what is in it."""
    key = hashlib.sha256(f"{_tree()}|{digest(Path(make.__code__.co_filename))}".encode()).hexdigest()[:16]
    STORE.mkdir(exist_ok=True)
    folder, seal = STORE / f"{name}-{key}", STORE / f"{name}-{key}.sealed"
    with (STORE / f"{name}-{key}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (seal.exists() and folder.is_dir() and seal.read_text() == digest(folder)):
            seal.unlink(missing_ok=True)
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
            make(folder)
            seal.write_text(digest(folder))
            _clear_away()
        os.utime(seal)
    return folder


def _clear_away():
    """Folders of trees that are no more."""
    for seal in STORE.glob("*.sealed"):
        with contextlib.suppress(FileNotFoundError):  # another's run was quicker
            if time.time() - seal.stat().st_mtime > KEPT_FOR:
                seal.unlink()
                shutil.rmtree(seal.with_suffix(""), ignore_errors=True)
                seal.with_suffix(".lock").unlink(missing_ok=True)
