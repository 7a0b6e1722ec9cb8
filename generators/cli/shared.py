"""What all commands share: the same options in the same places, refusals, and reading a handbook's facts."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from generators import layers, owned, progress, terminal
from generators.cli.say import Command
from generators.nearest import near


class Refused(Exception):
    """A command that cannot go on: lines to print, and the exit code: 1 where the input is at fault, 2 where there is no answer."""

    def __init__(self, lines: Sequence[str], code: int = 1, traces: Sequence[str] = ()) -> None:
        self.lines, self.code, self.traces = list(lines), code, list(traces)
        super().__init__("\n".join(self.lines))


@dataclass(frozen=True)
class Asked:
    """What every command is asked with."""

    handbook: Path
    quiet: bool = False
    debug: bool = False
    region: str | None = None
    json: bool = False

    def say(self, line: str) -> None:
        """What was done, for a person: not with --quiet, and not where JSON is read."""
        if not self.quiet and not self.json:
            print(line)


def _files(folder: str) -> Callable[..., list[str]]:
    """Completion from the names of files, the last one of a list with commas."""
    def found(context: click.Context, _: click.Parameter, typed: str) -> list[str]:
        root = Path(context.params.get("handbook") or (context.parent.params.get("handbook") if context.parent else None) or ".")
        before, comma, last = typed.rpartition(",")
        names = [path.stem for path in layers.listed(root, f"site_data/{folder}", "*.yaml").values()]
        return [before + comma + name for name in names if name.startswith(last)]

    return found


def complete_formulas(_: click.Context, __: click.Parameter, typed: str) -> list[str]:
    """Names of formulas and verdicts."""
    from generators.formulas import DECLARED
    from generators.verdicts import DECLARED as verdicts

    return [name for name in sorted({*DECLARED, *verdicts}) if name.startswith(typed)]


def complete_readings(_: click.Context, __: click.Parameter, typed: str) -> list[str]:
    """Names of readings, each with its equals sign."""
    from generators.situation import READINGS

    return [f"{name}=" for name in READINGS if name.startswith(typed)]


complete_kits, complete_coatings, complete_regions, complete_templates = _files("kits"), _files("coatings"), _files("regions"), _files("templates")

_HANDBOOK = click.Option(["--handbook"], type=click.Path(path_type=Path), metavar="FOLDER", help="The folder with site_data and handbook (default: here).")
_REGION = click.Option(["--region"], metavar="NAME", shell_complete=complete_regions,
                       help="Whose law, words and units come first: uk, eu, ie, us, ca, au, nz, or a file of yours in site_data/regions.")
_JSON = click.Option(["--json", "as_json"], is_flag=True, help="The same as data, for another program.")
_QUIET = click.Option(["--quiet"], is_flag=True, help="Say nothing but what was asked for, and problems.")
_DEBUG = click.Option(["--debug"], is_flag=True, help="With a problem, show where in the program it came up.")


def command(name: str, summary: str, example: str, *, region: bool = False, json: bool = False, stages: dict[str, float] | None = None) -> Callable[[Callable[..., Any]], click.Command]:
    """A command of `almanac`: its own options first, then those that are the same everywhere.

    The function gets an Asked and its own parameters. `stages` are what a terminal is told while it runs.
    """
    def made(work: Callable[..., Any]) -> click.Command:
        @functools.wraps(work)
        def run(**given: Any) -> Any:
            context = click.get_current_context()
            above = context.parent.params if context.parent else {}
            asked = Asked(given.pop("handbook") or above.get("handbook") or Path("."), given.pop("quiet") or bool(above.get("quiet")),
                          given.pop("debug") or bool(above.get("debug")), given.pop("region") if region else None, given.pop("as_json") if json else False)
            with progress.shown(stages or {}, quiet=asked.quiet):
                return work(asked, **given)

        own = list(reversed(getattr(run, "__click_params__", [])))
        shared = [*([_REGION] if region else []), *([_JSON] if json else []), _HANDBOOK, _QUIET, _DEBUG]
        return Command(name, callback=run, params=[*own, *shared], help=f"{summary[0].upper()}{summary[1:]}.", short_help=summary, example=example)

    return made


def group_options() -> list[click.Parameter]:
    """The options that may also stand before the command."""
    return [_HANDBOOK, _QUIET, _DEBUG]


def facts_of(asked: Asked) -> Any:
    """The handbook's facts, or every problem in them."""
    from generators.facts import FactsError
    from generators.formulas.own_cups import open_handbook

    links = owned.links_that_lead_out(asked.handbook)
    if links:
        raise Refused(links)
    try:
        return open_handbook(asked.handbook.resolve(), asked.region)
    except FactsError as error:
        raise Refused([*older(asked.handbook), *map(str, error.problems)]) from error


def older(root: Path) -> list[str]:
    """How to go on with a folder that an earlier edition made."""
    if layers.under(root) is None and (root / "site_data" / "handbook.yaml").is_file() and root.resolve() != layers.stock().resolve():
        return [f"{root}: wanted a folder of format {layers.FORMAT}; came one of an earlier edition, with its own copy of everything; `almanac upgrade` carries it over and loses nothing"]
    return []


def catalogue_of(asked: Asked) -> Any:
    """The formulas as this handbook's facts complete them."""
    from generators import formulas

    return formulas.catalogue(facts_of(asked))


def one_of(names: str, wanted: str, known: Iterable[str]) -> list[str]:
    """Names with commas, each a known one; all problems at once."""
    there, asked = list(known), [name.strip() for name in names.split(",") if name.strip()]
    if wrong := [f"wanted {wanted}; came {name!r}; {near(name, there)}" for name in asked if name not in there]:
        raise Refused(wrong)
    return asked


def pairs(texts: Sequence[str], wanted: str, example: str) -> list[tuple[str, str]]:
    """NAME=VALUE texts as pairs."""
    wrong = [f"wanted {wanted}; came {text!r}; write, for example, {example}" for text in texts if "=" not in text]
    if wrong:
        raise Refused(wrong)
    return [(name, value) for name, _, value in (text.partition("=") for text in texts)]


def write_json(value: Any) -> None:
    """One line of JSON."""
    print(terminal.as_json(value))
