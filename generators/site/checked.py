"""A build that writes nothing: every problem that a build could stop at, all at once, each at its own file and line."""

from __future__ import annotations

import re
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

import jinja2

from generators import layers
from generators.site.door import SiteError, placed, settings_of


@dataclass
class Checked:
    """What a check found: problems, traces of those in code, and how many pages were read."""

    problems: list[str] = field(default_factory=list)
    traces: list[str] = field(default_factory=list)
    pages: int = 0


def check(root: Path, region: str | None = None) -> Checked:
    """Facts, then pages and builders, then menu and links. Where facts cannot be read, pages and menu are read as far as they go without."""
    from generators.facts import FactsError
    from generators.pages import PageError
    from generators.site.finished import finished

    found = Checked()
    try:
        finished(root, region)
    except FactsError as error:
        found.problems = [str(problem) for problem in error.problems] + _unfilled(root)
    except PageError as error:
        found.problems, found.traces = list(error.problems), list(error.traces)
    found.problems += _menu(root)
    if not found.problems:
        found.problems, found.pages = _links(root, region)
    return found


def _unfilled(root: Path) -> list[str]:
    """Pages that no facts could fill: a bracket or a tag that is not closed."""
    found = []
    for path in layers.listed(root, "handbook", "**/*.md").values():
        try:
            jinja2.Environment().parse(path.read_text(encoding="utf-8-sig"))
        except jinja2.TemplateSyntaxError as error:
            found.append(f"{layers.shown(path, root)}:{error.lineno}: wanted a page that can be filled in; came {error.message}; mend the call on that line")
        except (OSError, ValueError):
            continue  # told where pages are read
    return found


def _menu(root: Path) -> list[str]:
    """Pages that the crew's own menu names, and neither the crew nor the stock's menu has. Those made from facts are left to the links."""
    path = root / "mkdocs.yml"
    if not path.is_file():
        return []
    found, stock = [], (layers.stock() / "mkdocs.yml").read_text(encoding="utf-8")
    for line, text in enumerate(path.read_text(encoding="utf-8-sig", errors="replace").splitlines(), 1):
        page = re.match(r"\s+-\s+(?:[^#]*:\s+)?([\w./-]+\.md)\s*(?:#.*)?$", text)
        if page and page[1] not in stock and not layers.there(root, f"handbook/{page[1]}") and page[1].split("/")[0] not in layers.THEIRS:
            found.append(f"mkdocs.yml:{line}: wanted a page that is there; came {page[1]}; mend the name, write that page, or take the line out")
    return found


def _links(root: Path, region: str | None) -> tuple[list[str], int]:
    """Menu and links, as MkDocs reads them; nothing is rendered or written."""
    from mkdocs.commands.build import _populate_page
    from mkdocs.exceptions import Abort, MkDocsException
    from mkdocs.structure.files import get_files, set_exclusions
    from mkdocs.structure.nav import get_navigation
    from mkdocs.structure.pages import Page

    with tempfile.TemporaryDirectory() as nowhere:
        try:
            with settings_of(root, Path(nowhere) / "site", region) as (config, told):
                config.plugins.on_startup(command="build", dirty=False)
                config = config.plugins.on_config(config)
                files = get_files(config)
                files = config.plugins.on_files(files, config=config)
                set_exclusions(files, config)
                config.plugins.on_nav(get_navigation(files, config), config=config, files=files)
                pages = list(files.documentation_pages())
                for file in pages:
                    if file.page is None:
                        Page(None, file, config)
                    _populate_page(file.page, config, files)  # type: ignore[arg-type]
                for file in pages:
                    file.page.validate_anchor_links(files=files, log_level=config.validation.links.anchors)  # type: ignore[union-attr]
                return [line for one in told.lines for line in placed(one, root)], len(pages)
        except SiteError as error:
            return error.lines, 0
        except (MkDocsException, Abort) as error:
            return [line for line in str(error).splitlines() if line.strip()], 0
