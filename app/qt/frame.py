"""One repaint for many changes: what is asked for within a frame is done once, at its end."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer

FRAME_MS = 16


class FrameTimer(QObject):
    """Coalesces requests: the first one starts the clock, the work runs once when it rings."""

    def __init__(self, work: Callable[[], None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(FRAME_MS)
        self._timer.timeout.connect(self._ring)

    def request(self) -> None:
        """Ask for the work at the end of this frame; asking again changes nothing."""
        if not self._timer.isActive():
            self._timer.start()

    def flush(self) -> None:
        """Do the work now if it was asked for."""
        if self._timer.isActive():
            self._timer.stop()
            self._work()

    def cancel(self) -> None:
        """Forget what was asked for."""
        self._timer.stop()

    def pending(self) -> bool:
        """Return whether work is waiting for the end of the frame."""
        return self._timer.isActive()

    def _ring(self) -> None:
        self._work()
