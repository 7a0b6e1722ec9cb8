"""Building the site into a folder beside the old one, and swapping the two in one step."""

from __future__ import annotations

import ctypes
import logging
import os
import re
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

try:
    import fcntl
except ImportError:  # Windows: builds are then not kept apart
    fcntl = None  # type: ignore[assignment]

_AT_FDCWD, _EXCHANGE = -100, 2


class SiteError(Exception):
    """A build that failed; `lines` say why. The last good site is as it was."""

    def __init__(self, lines: list[str]) -> None:
        self.lines = lines
        super().__init__("\n".join(lines))


class _Collect(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


@contextmanager
def _environment(**values: str | None) -> Iterator[None]:
    before = {name: os.environ.get(name) for name in values}
    os.environ.update({name: value for name, value in values.items() if value is not None})
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def swap(new: Path, old: Path) -> None:
    """Put `new` where `old` is, in one step where the system can, and remove what was there."""
    if not old.exists():
        new.rename(old)
        return
    libc = ctypes.CDLL(None, use_errno=True)
    exchange = getattr(libc, "renameat2", None)
    if (
        exchange is not None
        and exchange(_AT_FDCWD, os.fsencode(new), _AT_FDCWD, os.fsencode(old), _EXCHANGE) == 0
    ):
        shutil.rmtree(new)
        return
    aside = old.with_name(f".{old.name}-old")
    old.rename(aside)
    new.rename(old)
    shutil.rmtree(aside)


def _placed(line: str, root: Path) -> str:
    """A warning about a link as `path:line: …` where the page lies in handbook/; any other line as it is."""
    found = re.match(r"Doc file '([^']+)' contains .*?link '([^']+)'", line)
    page = root / "handbook" / found.group(1) if found else None
    if not found or page is None or not page.is_file():
        return line
    rows = page.read_text(encoding="utf-8").splitlines()
    row = next((number for number, text in enumerate(rows, 1) if found.group(2) in text), 1)
    where = page.relative_to(root)
    return f"{where}:{row}: wanted a link to something that is there; came {found.group(2)}; mend the address"


def build(root: Path, out: Path, region: str | None = None, base_url: str | None = None) -> None:
    """Build the handbook at `root` into `out`. SiteError if not; `out` changes only if all went well."""
    config_file = root / "mkdocs.yml"
    if not config_file.is_file():
        raise SiteError(
            [f"{config_file}:1: wanted the site's settings; came no file; run almanac in a handbook folder"]
        )
    out.parent.mkdir(parents=True, exist_ok=True)
    with _alone(out):
        _build(root, out, region, base_url, config_file)


@contextmanager
def _alone(out: Path) -> Iterator[None]:
    """One build at a time beside `out`; what a killed build left there is cleared away.

    The folder itself is locked, so that no lock file lies about; the system lets go of it even when we are killed.
    """
    place = os.open(out.parent, os.O_RDONLY) if fcntl else None
    try:
        if fcntl and place is not None:
            fcntl.flock(place, fcntl.LOCK_EX)
            for left in out.parent.glob(f".{out.name}-*"):
                if left.is_dir() and not left.is_symlink():
                    shutil.rmtree(left, ignore_errors=True)
        yield
    finally:
        if place is not None:
            os.close(place)


def _build(root: Path, out: Path, region: str | None, base_url: str | None, config_file: Path) -> None:
    from mkdocs.commands.build import build as mkdocs_build
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, MkDocsException

    collected = _Collect()
    logger = logging.getLogger("mkdocs")
    logger.addHandler(collected)
    temporary = Path(tempfile.mkdtemp(prefix=f".{out.name}-", dir=out.parent))
    try:
        with _environment(
            NO_MKDOCS_2_WARNING="1",
            ALMANAC_REGION=region,
            SOURCE_DATE_EPOCH=os.environ.get("SOURCE_DATE_EPOCH"),
        ):
            settings: dict[str, Any] = {"site_dir": str(temporary), "strict": True} | (
                {"site_url": base_url} if base_url else {}
            )
            config = load_config(config_file=str(config_file), **settings)
            config.plugins.on_startup(command="build", dirty=False)
            mkdocs_build(config)
        os.chmod(temporary, 0o755)
        swap(temporary, out)
    except (MkDocsException, Abort) as error:
        lines = [line for told in collected.lines for line in told.splitlines()]
        lines += [line for line in str(error).splitlines() if not line.startswith("Aborted with")]
        raise SiteError([_placed(line, root) for line in lines if line.strip()] or [str(error)]) from None
    except SystemExit as error:
        raise SiteError(collected.lines or [f"the site could not be built ({error.code})"]) from None
    finally:
        logger.removeHandler(collected)
        shutil.rmtree(temporary, ignore_errors=True)


def serve(root: Path, region: str | None = None) -> None:
    """Live preview on this machine until stopped."""
    from mkdocs.commands.serve import serve as mkdocs_serve

    logging.basicConfig(level=logging.INFO, format="%(message)s")
    with _environment(NO_MKDOCS_2_WARNING="1", ALMANAC_REGION=region):
        mkdocs_serve(str(root / "mkdocs.yml"), strict=False)
