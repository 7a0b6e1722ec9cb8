"""Commands for a crew's own folder: a new one, and what its editor needs."""

from __future__ import annotations

import json
from pathlib import Path

import click

from generators import owned
from generators.cli.shared import Asked, Refused, command, write_json

_OUT = click.Path(path_type=Path)


def _quoted(path: Path) -> str:
    """A path as it can be typed, in each system's shell."""
    text = str(path)
    return f'"{text}"' if any(not (letter.isalnum() or letter in "-_./\\:") for letter in text) else text


@command("new", "a small handbook of your own, ready to build and to fill in", "almanac new my-handbook --region us", region=True)
@click.argument("folder", type=_OUT)
def new(asked: Asked, folder: Path) -> None:
    """Write a handbook folder that builds at once. A folder that holds anything is left alone."""
    from generators.starter import NotEmpty, UnknownRegion, write

    owned.outside_sources(folder, asked.handbook)
    try:
        count = write(folder, asked.region)
    except (NotEmpty, UnknownRegion) as error:
        raise Refused([str(error)]) from error
    asked.say(f"wrote {count} files to {folder}\nnext: cd {_quoted(folder)} && almanac build && almanac card\n"
              "then put in your own kit and paints: site/reference/your-own.html says how")


@command("schemas", "JSON Schemas that let an editor complete and check the YAML", "almanac schemas")
@click.option("--out", type=_OUT, metavar="FOLDER", help="Where they go (default: site_data/schemas).")
def schemas(asked: Asked, out: Path | None) -> None:
    """Write JSON Schemas."""
    own = asked.handbook / "site_data" / "schemas"
    out = out or own
    owned.folder(out, asked.handbook, "schemas", own)
    from generators.facts.schema import schemas as made

    with owned.making(out, asked.handbook, "schemas", own) as folder:
        for name, schema in made().items():
            (folder / name).write_text(json.dumps(schema, ensure_ascii=False, indent=2) + "\n", encoding="utf-8", newline="\n")
    asked.say(f"wrote schemas to {out}")


def _stock_names(_: click.Context, __: click.Parameter, typed: str) -> list[str]:
    from generators import layers

    base = layers.stock() / "handbook"
    return [name for path in sorted(base.rglob("*.md")) if (name := path.relative_to(base).with_suffix("").as_posix()).startswith(typed)]


@command("own", "take over a stock page, or entries of a stock file, to change them", "almanac own mix/thinning")
@click.argument("page", shell_complete=_stock_names)
@click.argument("entries", nargs=-1, metavar="[ENTRY]…")
def own(asked: Asked, page: str, entries: tuple[str, ...]) -> None:
    """Copy it into the crew's folder. Of a file of facts, only the entries named: `almanac own limits.yaml wind_go`."""
    from generators.starter import NoSuchPage, take_over

    try:
        name, said = take_over(asked.handbook, page, entries)
    except NoSuchPage as error:
        raise Refused(error.lines) from error
    asked.say(f"{asked.handbook / name}: {said}")


@command("upgrade", "carry the folder to this edition; what the stock and the law changed, and what that touches of yours", "almanac upgrade --look", json=True)
@click.option("--look", is_flag=True, help="Only say it; change nothing.")
def upgrade(asked: Asked, look: bool) -> None:
    """Carry the folder over. All that was there lies in before-upgrade; what is left to mend is told, and exit 1 then."""
    from generators import layers
    from generators.facts import FactsError
    from generators.formulas.own_cups import open_handbook
    from generators.starter import upgrade as carry

    if asked.handbook.resolve() == layers.stock().resolve():
        raise Refused([f"{asked.handbook}: wanted a crew's folder; came the stock itself; name a folder with --handbook"])
    if wrong := owned.links_that_lead_out(asked.handbook):
        raise Refused(wrong)
    told = carry(asked.handbook, write=not look)
    mend: list[str] = []
    if not look:
        try:
            open_handbook(asked.handbook.resolve())
        except FactsError as error:
            mend = [str(problem) for problem in error.problems]
    if asked.json:
        write_json(told.as_json() | {"problems": mend})
    else:
        for line in told.lines():
            print(line)
    if mend:
        raise Refused(["carried over; what this edition cannot read as it stands:", *mend])
    asked.say("nothing was changed (--look)" if look else "carried over; `almanac check` says whether all is well")


@command("take", "own kits and paints made on a phone, as files of site_data", "almanac take records-2026-11-26-1740.jsonl --source own-sheets")
@click.argument("file", type=_OUT)
@click.option("--source", default="", metavar="KEY", help="The entry of site_data/sources.yaml that paints from a data sheet name.")
def take(asked: Asked, file: Path, source: str) -> None:
    """Write what was made on phones as files of site_data, with its basis and day: all of it, or nothing. No file that is there is touched."""
    from generators.facts import FactsError
    from generators.facts.taken import take as taken

    try:
        written = taken(asked.handbook, file, source)
    except FactsError as error:
        raise Refused([str(problem) for problem in error.problems]) from error
    asked.say("\n".join([*(f"wrote {path}" for path in written), "read each against its tin, then: almanac check"]))


COMMANDS = (new, own, upgrade, schemas, take)
