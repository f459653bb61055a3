"""What failed, in a sentence over the foot of the sheet."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QWidget

from app.qt.panel import Words
from app.qt.theme import SPACE

_WIDTH_PX = 760


class MessageBar(QFrame):
    """Lies over a widget, so that nothing moves for it; it goes with the next edit, or by its button."""

    def __init__(self, over: QWidget) -> None:
        super().__init__(over)
        self.setProperty("floating", "true")
        self._over = over
        self._words = Words("bad")
        self._words.setAlignment(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft)
        self.close_button = QPushButton("Close")
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.l, SPACE.s, SPACE.s, SPACE.s)
        row.setSpacing(SPACE.m)
        row.addWidget(self._words, 1)
        row.addWidget(self.close_button)
        self.close_button.clicked.connect(self.hide)
        over.installEventFilter(self)
        self.hide()

    def text(self) -> str:
        """Return what is said."""
        return self._words.text()

    def tell(self, text: str) -> None:
        """Say what failed; nothing to say hides it."""
        self._words.setText(text)
        self.setAccessibleName(text)
        self.setVisible(bool(text))
        self._place()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the place over the foot."""
        if event.type() == QEvent.Type.Resize:
            self._place()
        return super().eventFilter(watched, event)

    def _place(self) -> None:
        width = min(_WIDTH_PX, self._over.width() - 2 * SPACE.l)
        self.resize(width, self.heightForWidth(width))
        self.move((self._over.width() - width) // 2, self._over.height() - self.height() - SPACE.l)
        self.raise_()
