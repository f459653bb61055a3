"""The board from the side before a group: the same drawing, enlarged as far as its words keep their room."""

from __future__ import annotations

from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.qt.lesson_words import LARGE
from app.qt.section import Drawer
from app.qt.section_draw import draw_section
from app.qt.theme import Theme

_ROOM_FOR_WORDS = 700.0


class BigBoard(QWidget):
    """The board for a whole room; nothing on it to touch."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._drawer: Drawer | None = None
        self.setAccessibleName("Section of the board")

    def render(self, drawer: Drawer) -> None:  # type: ignore[override]
        """Show what a drawer draws."""
        self._drawer = drawer
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    @property
    def scale(self) -> float:
        """How much larger the board is drawn."""
        return min(max(self.width() / _ROOM_FOR_WORDS, 1.0), LARGE)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint it with the functions of the screen, enlarged."""
        if self._drawer is None:
            return
        painter, scale = QPainter(self), self.scale
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(scale, scale)
        draw_section(painter, self._theme, self._drawer((self.width() / scale, self.height() / scale), None))
        painter.end()
