"""Which pages a book holds, and in what order: the menu's, with what the menu reaches only from an index after that index."""

from __future__ import annotations

import difflib
import posixpath
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import yaml

from generators import layers
from generators.nearest import near


class _Menu(yaml.SafeLoader):
    """mkdocs.yml may hold tags of other programs: they are read as nothing."""


_Menu.add_multi_constructor("", lambda loader, suffix, node: None)


class BookError(Exception):
    """Why there is no book; `lines` tell it all."""

    def __init__(self, *lines: str) -> None:
        self.lines = list(lines)
        super().__init__("\n".join(lines))


def _leaves(entry: Any) -> list[str]:
    if isinstance(entry, str):
        return [entry] if entry.endswith(".md") else []
    if isinstance(entry, Mapping):
        return [leaf for value in entry.values() for leaf in _leaves(value)]
    return [leaf for value in entry or [] for leaf in _leaves(value)]


def _menu(root: Path, pages: Mapping[str, str]) -> list[tuple[str, list[str]]]:
    path = layers.find(root, "mkdocs.yml")
    try:
        nav = (yaml.load(path.read_text(encoding="utf-8"), _Menu) or {}).get("nav") if path.is_file() else None
    except (OSError, yaml.YAMLError, AttributeError) as error:
        raise BookError(f"{path}:1: wanted the menu; came {' '.join(str(error).split())}; mend the file") from None
    if not nav:
        folders = dict.fromkeys(posixpath.dirname(page) for page in pages)
        return [(folder.capitalize() or "Pages", [page for page in pages if posixpath.dirname(page) == folder]) for folder in folders]
    parts = []
    for entry in nav:
        title = next(iter(entry)) if isinstance(entry, Mapping) else ""
        parts.append((str(title), _leaves(entry)))
    return parts


def for_screen_only(page: str) -> bool:
    """A page whose front matter says `paper: false`."""
    front = re.match(r"\A---\r?\n(.*?)\r?\n---\r?\n", page, re.DOTALL)
    return bool(front and re.search(r"^paper:\s*(false|no)\s*$", front[1], re.MULTILINE))


def ordered(root: Path, pages: Mapping[str, str], part: str = "", chosen: Sequence[str] = ()) -> list[tuple[str, list[str]]]:
    """[(title of the part, its pages)]: all, those of one folder, or those chosen. BookError where nothing is left."""
    fit = {page: text for page, text in pages.items() if not for_screen_only(text)}
    asked = [one if one.endswith(".md") else re.sub(r"(\.html|/)?$", ".md", one, count=1) for one in chosen]
    if unknown := [one for one in asked if one not in fit]:
        raise BookError(*(f"wanted a page of the handbook that is for paper; came {one!r}" + _near(one, fit) for one in unknown))
    found, seen = [], set()
    for title, listed in _menu(root, pages):
        full = []
        for page in listed:
            full.append(page)
            folder = posixpath.dirname(page)
            if page.endswith("/index.md") and folder in ("kits", "coatings", "faults"):
                full += sorted(one for one in pages if posixpath.dirname(one) == folder and one != page)
            if page == "safety/ppe.md":
                full += sorted(one for one in pages if one.startswith("safety/ppe-"))
        kept = [page for page in dict.fromkeys(full) if page in fit and page not in seen and (not part or page.startswith(f"{part}/")) and (not asked or page in asked)]
        seen.update(kept)
        if kept:
            found.append((title, kept))
    left = [page for page in sorted(fit) if page not in seen and ((page in asked) if asked else not part and not _menu_known(root))]
    if left:
        found.append(("More", left))
    if not found:
        folders = sorted({page.partition("/")[0] for page in fit if "/" in page})
        raise BookError(f"wanted a part of the handbook ({', '.join(folders)}); came {part!r}; {near(part, folders)}")
    return found


def _menu_known(root: Path) -> bool:
    return (root / "mkdocs.yml").is_file()


def _near(one: str, pages: Mapping[str, str]) -> str:
    close = difflib.get_close_matches(one, list(pages), 1)
    return f"; did you mean {close[0]!r}?" if close else "; write its address, for example mix/thinning.md"
