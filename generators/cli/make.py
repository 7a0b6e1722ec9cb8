"""Commands that make the site: check, build, preview, and finished Markdown for another generator."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from generators import owned
from generators.cli.shared import Asked, Refused, command, facts_of, write_json

_OUT = click.Path(path_type=Path)


@command("build", "the whole handbook, cards included", "almanac build --out site", region=True, json=True, stages={"facts": 1, "pages": 6, "tables": 4, "site": 8})
@click.option("--out", type=_OUT, default=Path("site"), metavar="FOLDER", help="Where the site goes: new, empty, or made by an earlier build (default: site).")
@click.option("--base-url", metavar="ADDRESS", help="Where the site will be found, such as https://handbook.example: for pages, cards and their square codes.")
def build(asked: Asked, out: Path, base_url: str | None) -> None:
    """Build the site into --out; the last good site stays until the new one is whole."""
    from generators.site.build import SiteError
    from generators.site.build import build as build_site

    place = out if out.is_absolute() else asked.handbook / out
    try:
        build_site(asked.handbook.resolve(), place, asked.region, base_url)
    except SiteError as error:
        raise Refused(getattr(error, "lines", None) or str(error).splitlines()) from error
    if asked.json:
        write_json({"built": str(place), "files": sum(path.is_file() for path in place.rglob("*")), "bytes": sum(path.stat().st_size for path in place.rglob("*") if path.is_file())})
    asked.say(f"built {place}")


@command("serve", "live preview; an error shows on the page", "almanac serve", region=True)
def serve(asked: Asked) -> None:
    """Live preview on this machine."""
    from generators.site.build import serve as serve_site

    serve_site(asked.handbook.resolve(), asked.region)


@command("check", "every problem in site_data and pages, and nothing written", "almanac check", region=True, json=True, stages={"facts": 1, "pages": 6})
def check(asked: Asked) -> None:
    """Read all facts and fill all pages; print every problem."""
    from generators.pages import PageError, build_pages

    facts = facts_of(asked)
    try:
        pages = build_pages(facts)
    except PageError as error:
        raise Refused(error.problems) from error
    from generators.facts import old_values

    notes = [f"stop: {tin.name} ({slug}) counts as isocyanate: its words or codes say so, or it is a two-pack, or names polyurethane, and says no hardener; "
             "write hardener: amine, acid, other or none where its sheet says so" for slug, tin in facts.coatings.items() if tin.hardener == "isocyanate"]
    notes += [str(doubt) for doubt in facts.doubts if not doubt.signed]
    notes += [f"old: {line}; more than a year before this edition: check it again" for line in old_values(facts)]
    if asked.json:
        write_json({"problems": [], "notes": notes, "kits": len(facts.kits), "coatings": len(facts.coatings), "pages": len(pages)})
    for line in [] if asked.json else notes:
        print(line, file=sys.stderr)
    asked.say(f"no problems: {len(facts.kits)} kits, {len(facts.coatings)} coatings, {len(pages)} pages")


@command("pages", "finished Markdown without the site", "almanac pages --out ../markdown", region=True, stages={"facts": 1, "pages": 6})
@click.option("--out", type=_OUT, required=True, metavar="FOLDER", help="Where the Markdown goes: new, empty, or made by an earlier run.")
def pages(asked: Asked, out: Path) -> None:
    """Write the finished Markdown for any generator of static sites."""
    owned.folder(out, asked.handbook, "pages")  # before the work, and again after it
    from generators.pages import PageError, build_pages

    try:
        made = build_pages(facts_of(asked))
    except PageError as error:
        raise Refused(error.problems) from error
    with owned.making(out, asked.handbook, "pages") as folder:
        for address, text in made.items():
            target = folder / address
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(text, encoding="utf-8")
    asked.say(f"wrote {len(made)} pages to {out}")


COMMANDS = (check, build, serve, pages)
