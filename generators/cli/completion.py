"""Names completed by the Tab key: commands, options, kits, coatings, regions, formulas and readings."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

from generators.cli.say import OneOf
from generators.cli.shared import Asked, command

_HOW = {
    "bash": 'eval "$(almanac completion bash)"    in ~/.bashrc', "zsh": 'eval "$(almanac completion zsh)"    in ~/.zshrc',
    "fish": "almanac completion fish > ~/.config/fish/completions/almanac.fish",
}


@command("completion", "what a shell needs so that the Tab key completes names", "almanac completion bash")
@click.argument("shell", type=OneOf(["bash", "zsh", "fish"]))
def completion(asked: Asked, shell: str) -> None:
    """Print the script of that shell; it asks this program at each Tab."""
    from generators.cli.door import almanac

    kind = get_completion_class(shell)
    assert kind is not None
    print(f"# {_HOW[shell]}")
    print(kind(almanac, {}, "almanac", "_ALMANAC_COMPLETE").source())


COMMANDS = (completion,)
