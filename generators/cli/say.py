"""How the command line speaks: what is wrong in one line, the nearest name, help with an example."""

from __future__ import annotations

from typing import Any

import click

from generators.nearest import near

EXITS = (
    ("0", "done"),
    ("1", "the input is at fault: every problem is told on the error stream, and nothing that was there is touched"),
    ("2", "no answer: the input is sound, and lies outside what is known"),
    ("3", "the program is at fault; --debug shows where"),
    ("130", "stopped by Ctrl-C (143: by a polite kill); nothing half made is left"),
)


class OneOf(click.Choice[str]):
    """One of a few words; another is refused as every other name is."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        known = [str(choice) for choice in self.choices]
        if value in known:
            return str(value)
        raise click.UsageError(f"{param.opts[0] if param else 'value'}: wanted one of {', '.join(known)}; came {value!r}; {near(str(value), known)}", ctx)


class Whole(click.IntRange):
    """A whole number between two ends."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        try:
            if self.min <= int(value) <= self.max:  # type: ignore[operator]
                return int(value)
        except ValueError:
            pass
        raise click.UsageError(f"{param.opts[0] if param else 'value'}: wanted a whole number from {self.min} to {self.max}; came {value!r}; write one of them", ctx)


class Command(click.Command):
    """A command whose help ends with one that can be typed as it stands."""

    def __init__(self, *arguments: Any, example: str = "", **more: Any) -> None:
        super().__init__(*arguments, **more)
        self.example = example

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The example."""
        if self.example:
            with formatter.section("Example"):
                formatter.write(f"  {self.example}\n")


class Door(click.Group):
    """The program itself: its help ends with the exit codes."""

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """An example, and what the exit codes say."""
        with formatter.section("Example"):
            formatter.write("  almanac today kit=my-kit air-temperature=18C\n")
        with formatter.section("Exit codes"):
            formatter.write_dl(list(EXITS))

    def list_commands(self, ctx: click.Context) -> list[str]:
        """As they stand in the house, not by the alphabet."""
        return list(self.commands)


def usage(error: click.ClickException) -> list[str]:
    """What was typed wrongly, as one line: what was wanted, what came, how to mend it."""
    if isinstance(error, click.exceptions.NoArgsIsHelpError):
        return error.format_message().splitlines()
    context = getattr(error, "ctx", None)
    name = context.command_path.removeprefix("almanac").strip() if context else ""
    about = f"almanac {name}".strip()
    if isinstance(error, click.NoSuchOption):
        known = sorted({option for param in context.command.params for option in param.opts if option.startswith("--")} | {"--help"}) if context else []
        return [f"{about}: wanted an option of this command; came {error.option_name!r}; {near(error.option_name, known)}"]
    if isinstance(error, click.exceptions.NoSuchCommand):
        return [f"almanac: wanted a command; came {error.command_name!r}; {near(error.command_name, context.command.commands if context else ())}"]
    if isinstance(error, click.MissingParameter):
        missing = error.param.human_readable_name if error.param else "a value"
        wanted = error.param.opts[0] if error.param and error.param.param_type_name == "option" else missing.upper()
        return [f"{about}: wanted {wanted}; came none; write, for example: {getattr(context.command, 'example', '') if context else ''}"]
    text = " ".join(error.format_message().split())
    return [text if "wanted" in text else f"{about}: {text[:1].lower()}{text[1:].rstrip('.')}; `{about} --help` shows what it takes"]
