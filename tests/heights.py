"""heights.py: how many screens each page takes on a phone, closed, as it is first shown. Prints every page; a page of the bench has four.

    python tests/heights.py [--site FOLDER] [--width 360] [--height 800] [--over]

Exit 1 where fewer than nine of ten pages of the bench keep their budget. Reference pages, the answers, and records are counted apart.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

BUDGET = 4.0
# What people read at the bench, by folder. The rest is looked up at a desk.
BENCH = ("index.html", "survey/", "mix/", "gun/", "film/", "air/", "faults/", "clean/", "safety/", "kits/", "coatings/", "card.html", "rules.html")
MOST = 0.9


def addresses(site: Path) -> list[str]:
    """Every page of a finished site."""
    return [path.relative_to(site).as_posix() for path in sorted(site.rglob("*.html")) if path.name != "404.html"]


def screens(page: Any, site: Path, pages: list[str]) -> dict[str, float]:
    """How many screens of its own viewport each page takes, opened as a file."""
    found: dict[str, float] = {}
    for address in pages:
        page.goto((site / address).as_uri(), wait_until="load")
        if page.locator(".alm-form, .alm-lesson").count():
            page.wait_for_timeout(400)  # a record draws itself once the page is there
        found[address] = page.evaluate("document.documentElement.scrollHeight / innerHeight")
    return found


def heights(site: Path, width: int, height: int) -> dict[str, float]:
    """Screens by address, in a browser of its own."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"])
        found = screens(browser.new_page(viewport={"width": width, "height": height}), site, addresses(site))
        browser.close()
    return found


def kept(found: dict[str, float]) -> float:
    """The share of the bench's pages that keep the budget."""
    bench = [much for address, much in found.items() if address.startswith(BENCH)]
    return sum(much <= BUDGET for much in bench) / len(bench)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--site", type=Path, default=Path("site"))
    parser.add_argument("--width", type=int, default=360)
    parser.add_argument("--height", type=int, default=800)
    parser.add_argument("--over", action="store_true", help="only the pages over the budget")
    args = parser.parse_args()
    args.site = args.site.resolve()
    if not (args.site / "index.html").is_file():
        print(f"{args.site}: wanted a built site; came none; run almanac build first", file=sys.stderr)
        return 1
    found = heights(args.site, args.width, args.height)
    bench = {address: much for address, much in found.items() if address.startswith(BENCH)}
    for title, pages in (("the bench", bench), ("reference, records, training", {address: much for address, much in found.items() if address not in bench})):
        print(f"# {title}")
        for address, much in sorted(pages.items(), key=lambda one: -one[1]):
            if not args.over or much > BUDGET:
                print(f"{much:6.1f} {'△' if much > BUDGET else ' '} {address}")
    print(f"{sum(much <= BUDGET for much in found.values()) / len(found):.0%} of all {len(found)} pages within {BUDGET:g} screens")
    print(f"{kept(found):.0%} of {len(bench)} pages of the bench within {BUDGET:g} screens of {args.height} px at {args.width} px (goal {MOST:.0%})")
    return 0 if kept(found) >= MOST else 1


if __name__ == "__main__":
    sys.exit(main())
