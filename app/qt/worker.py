"""Long work beside the window: a frozen request at a time, the newest wins, and it stops when told."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from typing import Any

from PySide6.QtCore import QObject, Signal

from models.errors import IsthmusError


class Stopped(Exception):
    """Raised inside work that nobody waits for any more."""


Tell = Callable[[str], None]
"""Says how far the work is, and raises Stopped where it need not go on."""
Work = Callable[[Any, Tell], Any]


class Worker(QObject):
    """Runs requests away from the window. The work sees its request and `Tell`, no store and no widget."""

    done = Signal(object)
    failed = Signal(str)
    progressed = Signal(str)
    _arrived = Signal(int, str, object)

    def __init__(self, work: Work, executor: Executor | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._executor = executor or ThreadPoolExecutor(max_workers=1, thread_name_prefix="isthmus-work")
        self._number = 0
        self._stop = threading.Event()
        self._busy = False
        self._arrived.connect(self._take)

    @property
    def busy(self) -> bool:
        """Whether a request is under way."""
        return self._busy

    def ask(self, request: object) -> None:
        """Start on a request; one that is under way is given up."""
        self.cancel()
        self._number += 1
        self._stop = threading.Event()
        self._busy = True
        self._executor.submit(self._run, self._number, request, self._stop)

    def cancel(self) -> None:
        """Give up what is under way; nothing of it arrives."""
        self._stop.set()
        self._number += 1
        self._busy = False

    def close(self) -> None:
        """Give up and let the thread end."""
        self.cancel()
        self._executor.shutdown(wait=False, cancel_futures=True)

    def _run(self, number: int, request: object, stop: threading.Event) -> None:
        """Do the work in the other thread and hand over what came of it."""

        def tell(text: str) -> None:
            if stop.is_set():
                raise Stopped
            self._arrived.emit(number, "progress", text)

        try:
            tell("")
            self._arrived.emit(number, "done", self._work(request, tell))
        except Stopped:
            return
        except IsthmusError as error:
            self._arrived.emit(number, "failed", str(error))
        except Exception as error:  # the one place where background work hands over
            self._arrived.emit(number, "failed", f"{type(error).__name__}: {error}")

    def _take(self, number: int, what: str, content: object) -> None:
        if number != self._number:
            return
        if what == "progress":
            self.progressed.emit(content)
            return
        self._busy = False
        (self.done if what == "done" else self.failed).emit(content)
