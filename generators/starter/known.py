"""What any edition of the stock ever said, as digests of its files, entries, rows and notes: so that what a crew wrote itself is told from what was copied.

`known.txt` holds those of earlier editions (`python tests/known.py` writes it from the history); this edition's are worked out.
"""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from generators import layers
from generators.starter.pieces import pieces

_LIST = Path(__file__).parent / "known.txt"
SIZE = 10


@lru_cache(maxsize=1)
def known() -> frozenset[str]:
    """Digests of all that was ever stock."""
    found: set[str] = set()
    text = "".join(_LIST.read_text(encoding="utf-8").split())
    found |= {text[at : at + SIZE] for at in range(0, len(text), SIZE)}
    base = layers.stock()
    for place in [*(base / "handbook").rglob("*"), *(base / "site_data").rglob("*"), base / "mkdocs.yml", *(Path(__file__).parent / "own").rglob("*")]:
        if place.is_file() and place.suffix in (".md", ".yaml", ".yml", ".csv"):
            found |= pieces(place.name, place.read_text(encoding="utf-8"))
    return frozenset(found)
