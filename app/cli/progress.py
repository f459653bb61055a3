"""How far a long command is, on standard error: one line that moves on a terminal, ten lines elsewhere."""

from __future__ import annotations

import sys
import time
from types import TracebackType
from typing import Self

_TENTHS = 10


class Progress:
    """Counts up to a total; use it as a context, so that the line is ended."""

    def __init__(self, total: int, done: int = 0) -> None:
        self._total = total
        self._first = done
        self._started = time.monotonic()
        self._live = sys.stderr.isatty()
        self._tenth = done * _TENTHS // total
        self._open = False

    def __enter__(self) -> Self:
        """Return the count."""
        return self

    def __exit__(self, *_: type[BaseException] | BaseException | TracebackType | None) -> None:
        """End the line."""
        self._end_line()

    def reached(self, done: int) -> None:
        """Show that so much is done."""
        tenth = done * _TENTHS // self._total
        if not self._live and tenth == self._tenth:
            return
        self._tenth = tenth
        text = f"isthmus: {done:,} of {self._total:,} points, {self._left(done)}"
        if self._live:
            print(f"\r\x1b[K{text}", end="", file=sys.stderr, flush=True)
            self._open = True
        else:
            print(text, file=sys.stderr, flush=True)

    def say(self, text: str) -> None:
        """Print a line of its own."""
        self._end_line()
        print(f"isthmus: {text}", file=sys.stderr)

    def _end_line(self) -> None:
        if self._open:
            print(file=sys.stderr)
            self._open = False

    def _left(self, done: int) -> str:
        spent = time.monotonic() - self._started
        if done >= self._total:
            return f"{_duration(spent)} in all"
        return f"{_duration(spent * (self._total - done) / max(done - self._first, 1))} left"


def _duration(seconds: float) -> str:
    if seconds < 90:
        return f"{seconds:.0f} s"
    return f"{seconds / 60:.0f} min" if seconds < 5400 else f"{seconds / 3600:.1f} h"
