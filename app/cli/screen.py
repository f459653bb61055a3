"""The console that tables are printed on."""

from __future__ import annotations

from rich.console import Console


class Screen(Console):
    """A console that leaves it to `main` what becomes of a command whose reader has gone."""

    def on_broken_pipe(self) -> None:
        """Pass on the error that is being handled."""
        raise BrokenPipeError
