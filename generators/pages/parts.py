"""What a site holds, part by part: each is made in one go, by whichever process comes to it first."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

from generators import layers

CHECKS = "reference/checks.md"
LISTS = ("kits/index", "coatings/index", "reference/formulas", "reference/verdicts", "reference/sources")  # pages of a template of ours, one of each


@dataclass(frozen=True)
class Part:
    """Something that is made in one go, by the name that `only` is asked with: a page by its address, a table or a script by the name of a piece, what is drawn by
    its address. `slug`: the kit or coating that it is about, where it is about one."""

    name: str
    kind: Literal["page", "table", "script", "drawn"]
    per: Literal["handbook", "kit", "coating"] = "handbook"
    slug: str = ""


def page_parts(facts: Any) -> list[Part]:
    """Every page of a handbook."""
    own: list[tuple[str, Literal["kit", "coating"]]] = [(slug, "kit") for slug in facts.kits] + [(slug, "coating") for slug in facts.coatings]
    named = [f"faults/{key}.md" for key in facts.faults] + [f"safety/ppe-{key}.md" for key in facts.protection] + [f"train/day-{day}.md" for day in sorted({one.day for one in facts.drills.values()})]
    pages = {name: Part(name, "page") for name in (*handbook_pages(facts.root), *named, *(f"{name}.md" for name in LISTS), CHECKS)}
    return list({**pages, **{(name := f"{kind}s/{slug}.md"): Part(name, "page", kind, slug) for slug, kind in own}}.values())


def handbook_pages(root: Path) -> dict[str, Path]:
    """Every Markdown page under handbook/, by its address."""
    return layers.listed(root, "handbook", "**/*.md")
