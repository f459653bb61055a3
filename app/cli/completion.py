"""`isthmus completion`: a shell learns the commands and their options."""

from __future__ import annotations

import click
from click.shell_completion import get_completion_class

SHELLS = ("bash", "zsh", "fish")
_VARIABLE = "_ISTHMUS_COMPLETE"


@click.command(short_help="Print what a shell needs to complete commands.")
@click.argument("shell", type=click.Choice(SHELLS))
def completion(shell: str) -> None:
    """Print what SHELL has to run to complete the commands of isthmus.

    bash, in ~/.bashrc: eval "$(isthmus completion bash)". zsh the same in ~/.zshrc. fish: isthmus completion fish >
    ~/.config/fish/completions/isthmus.fish.
    """
    print(completion_text(shell))


def completion_text(shell: str) -> str:
    """Return the script of a shell."""
    from app.cli.main import commands

    kind = get_completion_class(shell)
    assert kind is not None
    return kind(commands, {}, "isthmus", _VARIABLE).source()
