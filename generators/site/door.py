"""MkDocs' own door: the settings of one build, what it complains of, and each complaint at its file and line."""

from __future__ import annotations

import logging
import os
import re
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from generators import layers


class SiteError(Exception):
    """A build that failed; `lines` say why. The last good site is as it was."""

    def __init__(self, lines: list[str], traces: Sequence[str] = ()) -> None:
        self.lines, self.traces = lines, list(traces)
        super().__init__("\n".join(lines))


class Told(logging.Handler):
    """Warnings and errors of MkDocs, as they come."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.lines.append(record.getMessage())


@contextmanager
def environment(**values: str | None) -> Iterator[None]:
    """These settings inside, those of before after it."""
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


@contextmanager
def docs(root: Path) -> Iterator[Path]:
    """The crew's own pages; an empty folder where it has none, since MkDocs wants one."""
    own = root / "handbook"
    if own.is_dir() or layers.under(root) is None:
        yield own
        return
    with tempfile.TemporaryDirectory() as empty:
        yield Path(empty)


@contextmanager
def settings_of(root: Path, out: Path, region: str | None = None, base_url: str | None = None) -> Iterator[tuple[Any, Told]]:
    """(MkDocs' settings of a handbook, what it will complain of) for one build. SiteError where the settings cannot be read."""
    from mkdocs.config import load_config
    from mkdocs.exceptions import ConfigurationError

    file = layers.find(root, "mkdocs.yml")
    if not file.is_file():
        raise SiteError([f"{file}:1: wanted the site's settings; came no file; run almanac in a handbook folder"])
    told = Told()
    logger = logging.getLogger("mkdocs")
    logger.addHandler(told)
    try:
        with docs(root) as pages, environment(
            NO_MKDOCS_2_WARNING="1", ALMANAC_ROOT=str(root), ALMANAC_REGION=region, ALMANAC_BASE_URL=base_url, SOURCE_DATE_EPOCH=os.environ.get("SOURCE_DATE_EPOCH"),
        ):
            try:
                config = load_config(config_file=str(file), site_dir=str(out), docs_dir=str(pages), strict=True)
            except ConfigurationError as error:
                line = re.search(r"line (\d+)", str(error))
                raise SiteError([f"{layers.shown(file, root)}:{line[1] if line else 1}: wanted settings that MkDocs can read; came {' '.join(str(error).split())}; mend the file",
                                 *(one for one in told.lines if one not in str(error))]) from error
            yield config, told
    finally:
        logger.removeHandler(told)


def placed(told: str, root: Path) -> list[str]:
    """A complaint of MkDocs as lines of `path:line: wanted; came; mend`; one that names no page as it is."""
    if missing := re.match(r"A reference to '([^']+)' is included in the 'nav'", told):
        menu = layers.find(root, "mkdocs.yml")
        return [f"{layers.shown(menu, root)}:{_line(menu, missing[1])}: wanted a page that is there; came {missing[1]}; mend the name, write that page, or take the line out"]
    if told.startswith("The following pages exist"):
        return [f"handbook/{page}:1: wanted a place in the menu for each page; came none; name it in mkdocs.yml" for page in re.findall(r"^\s+- (\S+)$", told, re.MULTILINE)]
    found = re.match(r"Doc file '([^']+)' contains .*?link '([^']+)'", told)
    if not found:
        return [told]
    page, link = found[1], found[2]
    wanted = f"wanted a link to something that is there; came {link}; mend the address"
    path = layers.find(root, f"handbook/{page}")
    if path.is_file():
        return [f"{layers.shown(path, root)}:{_line(path, link)}: {wanted}"]
    return [f"{page}:1: {wanted}: that page is made from facts" if "/" in page else told]


def _line(path: Path, text: str) -> int:
    """The line that holds this text, the first where none does."""
    rows = path.read_text(encoding="utf-8", errors="replace").splitlines()
    return next((number for number, row in enumerate(rows, 1) if text in row), 1)
