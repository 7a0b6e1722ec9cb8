"""Building the site with MkDocs into a folder that takes the old one's place whole."""

from __future__ import annotations

import re
from pathlib import Path

from generators import layers, owned
from generators.site.door import SiteError, placed, settings_of
from generators.site.finished import Anew, ahead

__all__ = ["SiteError", "build"]

_NO_MORE_THAN_WHERE = re.compile(r"Error (?:reading|building) page '[^']*':\s*")  # MkDocs says it of a mistake that is told in full besides


def build(root: Path, out: Path, region: str | None = None, base_url: str | None = None) -> None:
    """Build the handbook at `root` into `out`. SiteError or owned.NotOurs if not; `out` changes only if all went well."""
    if not layers.there(root, "mkdocs.yml"):
        raise SiteError([f"{root / 'mkdocs.yml'}:1: wanted the site's settings; came no file; run almanac in a handbook folder"])
    out_of_it = owned.links_that_lead_out(root)
    if out_of_it:
        raise SiteError(out_of_it)
    with owned.making(out, root, "build") as folder:
        _build(root, folder, region, base_url)


def _build(root: Path, folder: Path, region: str | None, base_url: str | None) -> None:
    ahead(root, region, base_url)
    try:
        _built(root, folder, region, base_url)
    except Anew:
        _built(root, folder, region, base_url)


def _built(root: Path, folder: Path, region: str | None, base_url: str | None) -> None:
    from mkdocs.commands.build import build as mkdocs_build
    from mkdocs.exceptions import Abort, MkDocsException

    from generators.site.by_two import by_two

    with settings_of(root, folder, region, base_url) as (config, told):
        try:
            config.plugins.on_startup(command="build", dirty=False)
            with by_two(config):
                mkdocs_build(config)
        except (MkDocsException, Abort) as error:
            lines = [line for one in told.lines for line in placed(one, root)]
            lines.sort(key=lambda line: line.split(":")[0])  # two processes read the pages: whichever complained first
            lines = [line for line in lines if not _NO_MORE_THAN_WHERE.fullmatch(line)]
            lines += [line for line in str(error).splitlines() if not line.startswith("Aborted with")]
            raise SiteError([line for one in lines for line in one.splitlines() if line.strip()] or [str(error)], getattr(error.__cause__, "traces", ())) from error
        except SystemExit as error:
            raise SiteError(told.lines or [f"the site could not be built ({error.code})"]) from error
