"""Commands for a crew's own folder: a new one, and what its editor needs."""

from __future__ import annotations

import json
from pathlib import Path

import click

from generators import owned
from generators.cli.shared import Asked, Refused, command

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
              "then put in your own kit and paints: handbook/reference/your-own.md says how")


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
            (folder / name).write_text(json.dumps(schema, ensure_ascii=False, indent=2) + "\n", encoding="utf-8")
    asked.say(f"wrote schemas to {out}")


COMMANDS = (new, schemas)
