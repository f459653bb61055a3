"""Work beside a dialog: its progress and a way to stop it in one row, and the end of it with Escape or the dialog."""

from __future__ import annotations

from concurrent.futures import Executor

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QHBoxLayout, QProgressBar, QPushButton, QWidget

from app.qt.worker import Work, Worker

_HEIGHT = 16


class WorkRow(QWidget):
    """Shown while work is under way. Escape stops that first; only with nothing under way it closes the dialog."""

    stopped = Signal()

    def __init__(self, dialog: QDialog, work: Work, executor: Executor | None = None) -> None:
        super().__init__(dialog)
        self.worker = Worker(work, executor, self)
        self.progress, self.stop = QProgressBar(), QPushButton("Stop")
        self.progress.setRange(0, 0)
        self.progress.setFixedHeight(_HEIGHT)
        self.progress.setAccessibleName("Progress")
        self.stop.setAutoDefault(False)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.progress, 1)
        row.addWidget(self.stop)
        self.worker.progressed.connect(self.progress.setFormat)
        for over in (self.worker.done, self.worker.failed):
            over.connect(lambda *_: self.hide())
        self.stop.clicked.connect(lambda *_: self.cancel())
        dialog.installEventFilter(self)
        dialog.finished.connect(self.worker.close)
        self.hide()

    @property
    def busy(self) -> bool:
        """Whether work is under way."""
        return self.worker.busy

    def ask(self, request: object) -> None:
        """Start on a request; one that is under way is given up."""
        self.progress.setFormat("")
        self.worker.ask(request)
        self.setVisible(self.busy)

    def cancel(self) -> None:
        """Give up what is under way and say so."""
        self.worker.cancel()
        self.hide()
        self.stopped.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stop with Escape while work is under way; give it up where the dialog is closed."""
        if event.type() == QEvent.Type.Close:
            self.worker.cancel()
        elif self.busy and _is_escape(event):
            self.cancel()
            return True
        return super().eventFilter(watched, event)


def _is_escape(event: QEvent) -> bool:
    return isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and event.key() == Qt.Key.Key_Escape
