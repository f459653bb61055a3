"""The command `isthmus`: which command is meant, and how errors leave the program."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import Any

import click
from click.shell_completion import CompletionItem

from app.cli.errors import CasesError
from app.cli.output import let_go_of_output, prepare_streams, reader_may_leave, say
from models.errors import CaseError, IsthmusError

_HELP = """Explore what should join two ground regions, from DC to a gigahertz, and what comes of it.

Without a command, opens the window on CASE, or on the demo case. Every number is an estimate for design decisions, not
a certification.
"""


_COMMANDS = {
    "window": ("app.cli.window", "window"),
    "evaluate": ("app.cli.evaluate", "evaluate"),
    "check": ("app.cli.check", "check"),
    "size": ("app.cli.size", "size_command"),
    "estimate": ("app.cli.estimate", "estimate"),
    "fit": ("app.cli.fit", "fit"),
    "parts": ("app.cli.parts", "parts"),
    "sweep": ("app.cli.sweep", "sweep"),
    "keys": ("app.cli.keys", "keys"),
    "export": ("app.cli.export", "export"),
    "report": ("app.cli.report", "report"),
    "manual": ("app.cli.manual", "manual"),
    "completion": ("app.cli.completion", "completion"),
    "desktop": ("app.cli.desktop", "desktop"),
}
"""Each command by its name: the module that has it, loaded when it is meant, and its name there."""


class _Commands(click.Group):
    """The commands, loaded when they are meant; what is not the name of one is the case to open."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click asks so
        """Return the names of all commands."""
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002 - click asks so
        """Return a command, None for a name that is not one."""
        if cmd_name not in _COMMANDS:
            return None
        return _loaded(*_COMMANDS[cmd_name])

    def shell_complete(self, ctx: click.Context, incomplete: str) -> list[CompletionItem]:
        """Return what the first word can be: a command, or a case to open."""
        return [*super().shell_complete(ctx, incomplete), CompletionItem(incomplete, type="file")]

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put the window in front of what names no command."""
        if ctx.resilient_parsing:
            # a shell asks what could stand here
            return super().parse_args(ctx, args)
        if not args or (args[0] not in _COMMANDS and args[0] not in ("--help", "-h", "--version")):
            _refuse_a_slip(args[:1])
            args = ["window", *args]
        return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; whoever reads no further than the head of what it prints has what was asked for."""
        with reader_may_leave():
            return super().invoke(ctx)
        return 0


def _refuse_a_slip(first: Sequence[str]) -> None:
    """Raise UsageError for a first word that looks like a command, and is neither one nor a file."""
    for word in first:
        if word.isalpha() and not os.path.lexists(word):
            accepted = f"a case file, or one of {', '.join(_COMMANDS)}"
            raise click.UsageError(f'found "{word}", neither a command nor a file; accepted: {accepted}')


def _loaded(module: str, attribute: str) -> click.Command:
    """Load a command, without looking for garbage meanwhile: what is loaded stays."""
    gc.disable()
    try:
        command: click.Command = getattr(import_module(module), attribute)
    finally:
        gc.enable()
    return command


@click.group(cls=_Commands, help=_HELP, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="isthmus", prog_name="isthmus")
def commands() -> None:
    """Stand for all commands."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command and return its exit status.

    0 done, 1 a requirement is not met, 2 bad usage or bad input, 130 stopped by Ctrl-C.
    """
    try:
        status = commands.main(None if arguments is None else list(arguments), standalone_mode=False)
    except click.exceptions.Abort:
        say("stopped")
        return 130
    except click.ClickException as error:
        say(" ".join(error.format_message().split()))
        return 2
    except IsthmusError as error:
        for line in _lines(error):
            say(line)
        return 2
    except OSError as error:
        say(f"{error.filename or 'standard output'}: found {error.strerror}; accepted: what can be used")
        let_go_of_output()
        return 2
    return status if isinstance(status, int) else 0


def _lines(error: IsthmusError) -> list[str]:
    """Return what an error says, one line a problem."""
    if isinstance(error, CasesError):
        return [line for each in error.errors for line in _lines(each)]
    if isinstance(error, CaseError):
        return [f"{error.source}: {problem.text()}" for problem in error.problems]
    return [str(error)]


def run() -> None:
    """Run as the installed command."""
    if getattr(sys, "frozen", False):
        # the workers of a sweep start here too, and go no further
        from multiprocessing import freeze_support

        freeze_support()
    # matrices here have a few rows: threads for them would only cost time, at the start and among workers
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    prepare_streams()
    status = main()
    # everything goes with the process now, without a last look for garbage
    gc.freeze()
    sys.exit(status)
