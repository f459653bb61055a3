"""The offer to take up work that an earlier window left unsaved."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from app.qt.panel import Words
from app.qt.theme import SPACE
from app.state.recovery import Unsaved


class RecoveryBar(QWidget):
    """Offers pieces of unsaved work one after the other; hidden when none is left."""

    recover = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._left: list[Unsaved] = []
        self._words = Words(parent=self)
        self.take_button, self.discard_button = QPushButton("Recover"), QPushButton("Discard")
        self.take_button.setProperty("main", "true")
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.l, SPACE.s, SPACE.l, SPACE.s)
        row.addWidget(self._words, 1)
        row.addWidget(self.take_button)
        row.addWidget(self.discard_button)
        self.take_button.clicked.connect(self._take)
        self.discard_button.clicked.connect(self._next)
        self.hide()

    def offer(self, left: tuple[Unsaved, ...]) -> None:
        """Offer what was left behind, newest first."""
        self._left = list(left)
        self._show()

    def _take(self) -> None:
        self.recover.emit(self._left[0])
        self._next()

    def _next(self) -> None:
        self._left.pop(0).kept.unlink(missing_ok=True)
        self._show()

    def _show(self) -> None:
        self.setVisible(bool(self._left))
        if self._left:
            where = self._left[0].path.name if self._left[0].path else "not saved to a file yet"
            self._words.setText(f"“{self._left[0].case.title}” ({where}) has changes that were not saved.")
