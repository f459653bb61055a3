"""The word that another program changed the file, with the choice between its version and the one in the window."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from app.qt.panel import Words
from app.qt.theme import SPACE


class OutsideBar(QWidget):
    """Tells that the file is another one now; hidden until then."""

    reload = Signal()
    keep = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._words = Words(parent=self)
        self.reload_button, self.keep_button = QPushButton("Reload"), QPushButton("Keep mine")
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.l, SPACE.s, SPACE.l, SPACE.s)
        row.addWidget(self._words, 1)
        row.addWidget(self.reload_button)
        row.addWidget(self.keep_button)
        for button, signal in ((self.reload_button, self.reload), (self.keep_button, self.keep)):
            button.clicked.connect(self.hide)
            button.clicked.connect(signal)
        self.hide()

    def tell(self, name: str, *, unsaved: bool) -> None:
        """Say which file was changed, and what reloading would cost."""
        cost = " Reloading gives up the changes that are not saved here." if unsaved else ""
        self._words.setText(f"{name} was changed by another program.{cost}")
        self.show()
