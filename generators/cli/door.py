"""The program: one group of commands, and what each exit code says."""

from __future__ import annotations

import gc
import sys
import traceback
from collections.abc import Sequence
from typing import Any

import click

from generators import beside, owned, terminal
from generators.cli import answers, completion, job, learn, make, own, paper
from generators.cli.say import Door, usage
from generators.cli.shared import Refused, group_options


def _version(context: click.Context, _: click.Parameter, wanted: bool) -> None:
    if wanted and not context.resilient_parsing:
        from generators.version import NUMBER

        print(f"almanac {NUMBER}")
        context.exit()


almanac = Door(
    "almanac", help="A field handbook for the mobile spray finisher.", subcommand_metavar="COMMAND …", no_args_is_help=True,
    params=[*group_options(), click.Option(["--version"], is_flag=True, expose_value=False, is_eager=True, callback=_version, help="The edition of the program and of its stock pages.")],
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
for _command in (*make.COMMANDS, *answers.COMMANDS, *job.COMMANDS, *paper.COMMANDS, *own.COMMANDS, *learn.COMMANDS, *completion.COMMANDS):
    almanac.add_command(_command)


@almanac.result_callback()
def _done(*_: Any, **__: Any) -> int:
    return 0


def understood(arguments: Sequence[str]) -> str:
    """The name of the command that these words would run; click.UsageError where they would not run."""
    with almanac.make_context("almanac", list(arguments)) as context:
        name, command, rest = almanac.resolve_command(context, [*context._protected_args, *context.args])
        assert name and command
        with command.make_context(name, rest, parent=context):
            return name


def _told(error: BaseException, lines: Sequence[str], arguments: Sequence[str]) -> None:
    if "--debug" in arguments:
        traceback.print_exception(error)
        for trace in [*getattr(error, "traces", ()), *getattr(error.__cause__, "traces", ())]:
            print(trace, file=sys.stderr)
    for line in lines:
        print(line, file=sys.stderr)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit code, as `say.EXITS` has it."""
    terminal.show_any_letter()
    words = list(sys.argv[1:] if arguments is None else arguments)
    stopped: list[int] = []
    try:
        with terminal.stopping_plainly() as stopped:
            code = almanac.main(args=words, prog_name="almanac", standalone_mode=False, windows_expand_args=False)
            sys.stdout.flush()
            return int(code or 0)
    except (Refused, owned.NotOurs) as refusal:
        if not stopped:
            _told(refusal, refusal.lines, words)
            return getattr(refusal, "code", 1)
    except click.ClickException as error:
        if not stopped:
            _told(error, usage(error), words)
            return 1
    except BrokenPipeError:
        return terminal.reader_has_gone()
    except OSError as error:
        if not stopped:
            held = "; where another program has it open, close that one" if isinstance(error, PermissionError) and sys.platform == "win32" else ""
            _told(error, [f"{error.filename or 'file'}: {error.strerror or error}{held}"], words)
            return 1
    except Exception as error:
        if not stopped:  # a stop may come out of other people's code as any error
            _told(error, [_ours(error)], words)
            return 3
    except BaseException:
        if not stopped:
            raise
    print("stopped before the end: nothing half made is left", file=sys.stderr)
    return 128 + stopped[0]


def _ours(error: Exception) -> str:
    """A mistake of the program, in one line."""
    frames = traceback.extract_tb(error.__traceback__)
    where = f" at {frames[-1].filename}:{frames[-1].lineno}" if frames else ""
    return f"a mistake in the program, not in your handbook: {type(error).__name__}: {' '.join(str(error).split())}{where}; `--debug` shows the way there"


def run() -> None:
    """The program: one command, and its exit code to the shell."""
    beside.alone()
    gc.set_threshold(100_000, 50, 100)  # facts and pages are held to the end: looking through them for rings a hundred times finds none
    code = main()
    terminal.last_signals_ignored()
    sys.exit(code)
