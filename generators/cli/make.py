"""Commands that make the site: check, build, preview, and finished Markdown for another generator."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import click

from generators import layers, owned
from generators.cli.say import Whole
from generators.cli.shared import Asked, Refused, command, facts_of, older, write_json

_OUT = click.Path(path_type=Path)


@command("build", "the whole handbook, cards included", "almanac build --out site", region=True, json=True, stages={"facts": 1, "pages": 8, "site": 5})
@click.option("--out", type=_OUT, default=Path("site"), metavar="FOLDER", help="Where the site goes: new, empty, or made by an earlier build (default: site).")
@click.option("--base-url", metavar="ADDRESS", help="Where the site will be found, such as https://handbook.example: for pages, cards and their square codes.")
def build(asked: Asked, out: Path, base_url: str | None) -> None:
    """Build the site into --out; the last good site stays until the new one is whole."""
    from generators.site.build import SiteError
    from generators.site.build import build as build_site

    place = out if out.is_absolute() else asked.handbook / out
    if base_url and not re.match(r"https?://[^\s\"'<>]+$", base_url):
        raise Refused([f"--base-url: wanted an address that begins with https://; came {base_url!r}; write, for example, https://handbook.example/spray"])
    try:
        build_site(asked.handbook.resolve(), place, asked.region, base_url)
    except SiteError as error:
        raise Refused(getattr(error, "lines", None) or str(error).splitlines(), traces=getattr(error, "traces", ())) from error
    if asked.json:
        write_json({"built": str(place), "files": sum(path.is_file() for path in place.rglob("*")), "bytes": sum(path.stat().st_size for path in place.rglob("*") if path.is_file())})
    asked.say(f"built {place}")


@command("serve", "live preview, here and on a phone beside you; an error shows on the page", "almanac serve --here", region=True)
@click.option("--here", is_flag=True, help="For this machine only: no phone, and nobody else on the network.")
@click.option("--port", type=Whole(1, 65000), default=8000, metavar="NUMBER", help="Where it listens; the next free one if that is taken (default: 8000).")
def serve(asked: Asked, here: bool, port: int) -> None:
    """Live preview until stopped."""
    from generators.site.preview import serve as serve_site

    if not layers.there(asked.handbook, "mkdocs.yml"):
        raise Refused([f"{asked.handbook / 'mkdocs.yml'}:1: wanted the site's settings; came no file; run almanac in a handbook folder"])
    serve_site(asked.handbook.resolve(), asked.region, here, port, lambda line: print(line, flush=True) if not asked.quiet else None)


@command("check", "all that a build does but write: every problem at once", "almanac check", region=True, json=True, stages={"facts": 1, "pages": 8, "site": 4})
@click.option("--as-read", is_flag=True, help="Print how each figure of your tins, kits, cups and recipes was read, with its line.")
def check(asked: Asked, as_read: bool) -> None:
    """Do all that a build does but write; print every problem."""
    from generators.facts import as_read as readings
    from generators.facts import old_values
    from generators.site.checked import check as checked
    from generators.starter import starters_own

    if links := owned.links_that_lead_out(asked.handbook):
        raise Refused(links)
    read = list(readings.as_read(asked.handbook.resolve())) if as_read else []
    for line in [] if asked.json else read:
        print(line)
    found = checked(asked.handbook.resolve(), asked.region)
    if found.problems:
        if asked.json:
            write_json({"problems": [told_apart(line) for line in found.problems], "notes": []})
        raise Refused([*older(asked.handbook), *found.problems], traces=found.traces)
    facts = facts_of(asked)
    notes = [f"stop: {tin.name} ({slug}) counts as isocyanate: its words or codes say so, or it is a two-pack, or names polyurethane, and says no hardener; "
             "write hardener: amine, acid, other or none where its sheet says so" for slug, tin in facts.coatings.items() if tin.hardener == "isocyanate"]
    notes += [str(doubt) for doubt in facts.doubts if not doubt.signed]
    notes += [f"old: {line}; more than a year before this edition: check it again" for line in old_values(facts)]
    own = starters_own(asked.handbook)
    notes += own
    if asked.json:
        write_json({"problems": [], "notes": notes, "kits": len(facts.kits), "coatings": len(facts.coatings), "pages": found.pages, **({"as_read": read} if as_read else {})})
    for line in [] if asked.json else notes:
        print(line, file=sys.stderr)
    asked.say(f"no problems: {len(facts.kits)} kits, {len(facts.coatings)} coatings, {found.pages} pages" + (f"; {len(own)} lines are not yet yours" if own else ""))


def told_apart(line: str) -> dict[str, object]:
    """A problem as path, line and what it says."""
    found = re.match(r"(.+?):(\d+): (.*)", line)
    return {"path": found[1], "line": int(found[2]), "says": found[3]} if found else {"path": "", "line": 0, "says": line}


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
            target.write_text(text, encoding="utf-8", newline="\n")
    asked.say(f"wrote {len(made)} pages to {out}")


@command("publish", "all that a static host wants, looked at as a stranger would", "almanac publish --zip handbook.zip", region=True, json=True,
         stages={"facts": 1, "pages": 8, "site": 5, "looking": 6})
@click.option("--out", type=_OUT, default=Path("published"), metavar="FOLDER", help="Where the site goes (default: published).")
@click.option("--base-url", metavar="ADDRESS", help="Where it will be found (default: base_url in site_data/handbook.yaml).")
@click.option("--zip", "packed", type=_OUT, metavar="FILE", help="The same packed, for hosts that take a zip.")
@click.option("--workflow", type=_OUT, metavar="FILE", help="Write a workflow file for a host that builds the site itself, and nothing else.")
def publish(asked: Asked, out: Path, base_url: str | None, packed: Path | None, workflow: Path | None) -> None:
    """Build for the address, pack, and read the result from its first page on, as a stranger's browser does."""
    from generators.site import published
    from generators.site.build import SiteError

    address = (base_url or str(facts_of(asked).handbook.base_url)).rstrip("/")
    if wrong := published.wrong_address(address):
        where = "--base-url" if base_url else "site_data/handbook.yaml: base_url"
        raise Refused([f"{where}: wanted {wrong}; came {address}; write it there, or give it with --base-url"])
    if workflow:
        with owned.whole_file(workflow, asked.handbook, b"actions/deploy-pages@v4\n") as part:
            part.write_text(published.workflow(address), encoding="utf-8", newline="\n")
        asked.say(f"wrote {workflow}")
        return
    place = out if out.is_absolute() else asked.handbook / out
    try:
        made = published.publish(asked.handbook.resolve(), place, address, asked.region, packed)
    except SiteError as error:
        raise Refused(error.lines, traces=error.traces) from error
    problems = published.stranger(place, address)
    if asked.json:
        write_json({"published": str(place), "zip": str(packed) if packed else None, "address": address, "files": made.files, "bytes": made.size, "problems": problems})
    if problems:
        raise Refused([f"built {place}, and a stranger would stumble over:", *problems])
    asked.say(f"built {place}" + (f" and {packed}" if packed else "") + f": {made.files} files, {made.size / 1e6:.1f} MB, for {address}\n"
              "every page, link and file of the copy without signal answered; copy all that lies in that folder to your host, `_headers` and dot files too")


COMMANDS = (check, build, serve, publish, pages)
