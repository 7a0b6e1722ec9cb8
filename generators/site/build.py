"""Building the site with MkDocs into a folder that takes the old one's place whole."""

from __future__ import annotations

import logging
import os
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from generators import owned


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
    """Build the handbook at `root` into `out`. SiteError or owned.NotOurs if not; `out` changes only if all went well."""
    config_file = root / "mkdocs.yml"
    if not config_file.is_file():
        raise SiteError(
            [f"{config_file}:1: wanted the site's settings; came no file; run almanac in a handbook folder"]
        )
    out_of_it = owned.links_that_lead_out(root)
    if out_of_it:
        raise SiteError(out_of_it)
    with owned.making(out, root, "build") as folder:
        _build(root, folder, region, base_url, config_file)


def _build(root: Path, folder: Path, region: str | None, base_url: str | None, config_file: Path) -> None:
    from mkdocs.commands.build import build as mkdocs_build
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, MkDocsException

    collected = _Collect()
    logger = logging.getLogger("mkdocs")
    logger.addHandler(collected)
    try:
        with _environment(
            NO_MKDOCS_2_WARNING="1",
            ALMANAC_REGION=region,
            SOURCE_DATE_EPOCH=os.environ.get("SOURCE_DATE_EPOCH"),
        ):
            settings: dict[str, Any] = {"site_dir": str(folder), "strict": True} | (
                {"site_url": base_url} if base_url else {}
            )
            config = load_config(config_file=str(config_file), **settings)
            config.plugins.on_startup(command="build", dirty=False)
            mkdocs_build(config)
    except (MkDocsException, Abort) as error:
        lines = [line for told in collected.lines for line in told.splitlines()]
        lines += [line for line in str(error).splitlines() if not line.startswith("Aborted with")]
        raise SiteError([_placed(line, root) for line in lines if line.strip()] or [str(error)]) from None
    except SystemExit as error:
        raise SiteError(collected.lines or [f"the site could not be built ({error.code})"]) from None
    finally:
        logger.removeHandler(collected)


def serve(root: Path, region: str | None = None) -> None:
    """Live preview on this machine until stopped."""
    from mkdocs.commands.serve import serve as mkdocs_serve

    logging.basicConfig(level=logging.INFO, format="%(message)s")
    with _environment(NO_MKDOCS_2_WARNING="1", ALMANAC_REGION=region):
        mkdocs_serve(str(root / "mkdocs.yml"), strict=False)
