"""An executor that works at once, and one that works when told, in place of threads."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor, Future
from typing import Any


class Now(Executor):
    """Does what it is given before it returns."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Future[Any] = Future()
        future.set_result(fn(*args, **kwargs))
        return future


class Later(Executor):
    """Keeps what it is given until told to work."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], Any]] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.waiting.append(lambda: fn(*args, **kwargs))
        return Future()

    def work(self) -> None:
        """Do all that waits."""
        waiting, self.waiting = self.waiting, []
        for each in waiting:
            each()
