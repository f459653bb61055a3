"""Long work beside the window: a frozen request at a time, the newest wins, and it stops when told."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import suppress
from typing import Any

from PySide6.QtCore import QObject, Signal

from models.errors import IsthmusError


class Stopped(Exception):
    """Raised inside work that nobody waits for any more."""


Tell = Callable[[str], None]
"""Says how far the work is, and raises Stopped where it need not go on."""
Work = Callable[[Any, Tell], Any]


class _Gate:
    """Lets what the newest request has to say pass, whole, and nothing of one that was given up."""

    def __init__(self) -> None:
        # work that an executor does at once says what came of it to whoever asks for the next
        self._lock = threading.RLock()
        self.number = 0

    def shut(self) -> None:
        """Let nothing more of any request pass; what is passing is through when this returns."""
        with self._lock:
            self.number += 1

    def hand_over(self, number: int, say: Callable[[], object]) -> None:
        """Say something of a request; raise Stopped where it was given up."""
        with self._lock:
            if number != self.number:
                raise Stopped
            say()


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
        self._gate = _Gate()
        self._busy = False
        self._arrived.connect(self._take)
        # the thread may outlive this object, which must not be spoken to then
        self.destroyed.connect(self._gate.shut)

    @property
    def busy(self) -> bool:
        """Whether a request is under way."""
        return self._busy

    def ask(self, request: object) -> None:
        """Start on a request; one that is under way is given up."""
        self.cancel()
        self._busy = True
        self._executor.submit(self._run, self._gate.number, request)

    def cancel(self) -> None:
        """Give up what is under way; nothing of it arrives."""
        self._gate.shut()
        self._busy = False

    def close(self) -> None:
        """Give up and let the thread end."""
        self.cancel()
        self._executor.shutdown(wait=False, cancel_futures=True)

    def _run(self, number: int, request: object) -> None:
        """Do the work in the other thread and hand over what came of it."""

        def say(what: str, content: object) -> None:
            self._gate.hand_over(number, lambda: self._arrived.emit(number, what, content))

        with suppress(Stopped):
            say("progress", "")
            say(*self._come_of(request, lambda text: say("progress", text)))

    def _come_of(self, request: object, tell: Tell) -> tuple[str, object]:
        try:
            return "done", self._work(request, tell)
        except Stopped:
            raise
        except IsthmusError as error:
            return "failed", str(error)
        except Exception as error:  # the one place where background work hands over
            logging.getLogger(__name__).exception("work beside the window")
            return "failed", f"{type(error).__name__}: {error}"

    def _take(self, number: int, what: str, content: object) -> None:
        if number != self._gate.number:
            return
        if what == "progress":
            self.progressed.emit(content)
            return
        self._busy = False
        (self.done if what == "done" else self.failed).emit(content)
