"""The run of a sweep: chunks handed to an executor, a few ahead, and taken back in order."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Generator
from typing import Any, Protocol

from attrs import frozen

from app.sweep.columns import Row
from app.sweep.plan import CHUNK, Chunk, Plan, compute


class Promise(Protocol):
    """What an executor returns for a call: the future of `concurrent.futures`, or of a cluster."""

    def result(self) -> Any:
        """Wait for the value and return it."""

    def cancel(self) -> Any:
        """Give up on it."""


class Executor(Protocol):
    """Calls functions somewhere: any executor of `concurrent.futures`, or one that a cluster offers."""

    def submit(self, fn: Callable[..., Any], /, *args: Any) -> Promise:
        """Have a function called."""


@frozen(kw_only=True)
class Done:
    """The rows of some points, and the first point after them."""

    rows: tuple[Row, ...]
    stop: int


def run(plan: Plan, executor: Executor, *, start: int = 0, ahead: int = 4) -> Generator[Done]:
    """Yield the rows of a sweep in order; closing the iterator cancels what is not computed yet.

    Parameters
    ----------
    plan : what is to be run
    executor : where it is computed
    start : the first point, where an earlier run got to
    ahead : chunks in hand at a time, which bounds the memory; two for every worker keep them busy
    """
    starts = iter(range(start, plan.points, CHUNK))
    waiting: deque[tuple[Chunk, Promise]] = deque()
    try:
        while True:
            while len(waiting) < ahead and (at := next(starts, None)) is not None:
                chunk = plan.chunk(at)
                waiting.append((chunk, executor.submit(compute, chunk)))
            if not waiting:
                return
            chunk, promise = waiting[0]
            rows = promise.result()
            waiting.popleft()
            yield Done(rows=rows, stop=chunk.stop)
    finally:
        for _, promise in waiting:
            promise.cancel()
