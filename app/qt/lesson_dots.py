"""The steps of a lesson as a row of dots, for the hand and for the keys."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from app.present.lesson_specs import DotSpec
from app.qt.paint import draw_focus
from app.qt.theme import Theme

_DOT, _DOT_STEP = 5.0, 18.0
_STATES = {"done": "done", "here": "this one", "open": "open", "shut": "opens with the answers before it"}


class Dots(QWidget):
    """The steps of a lesson as dots; a click goes to one that is open, and so does Enter."""

    chosen = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._dots: tuple[DotSpec, ...] = ()
        self._at = 0
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setMouseTracking(True)

    def render(self, dots: tuple[DotSpec, ...]) -> None:  # type: ignore[override]
        """Show the steps; the keys begin at the present one."""
        self._dots = dots
        if not self.hasFocus() or self._at >= len(dots):
            self._go(next((k for k, each in enumerate(dots) if each.state == "here"), 0))
        self.updateGeometry()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Return room for all dots."""
        return QSize(round(_DOT_STEP * max(len(self._dots), 1)) + 2, 24)

    def place(self, index: int) -> QPointF:
        """Return the middle of a dot."""
        return QPointF((index + 0.5) * _DOT_STEP, self.height() / 2)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Name the step under the pointer."""
        index = self._index(event)
        self.setToolTip("" if index is None else self._name(index))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Go to the step under the pointer."""
        index = self._index(event)
        if index is not None:
            self.chosen.emit(index)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose a step with the arrow keys; Enter or Space goes there."""
        keys, last = Qt.Key, len(self._dots) - 1
        match event.key():
            case keys.Key_Left | keys.Key_Up:
                self._go(max(self._at - 1, 0))
            case keys.Key_Right | keys.Key_Down:
                self._go(min(self._at + 1, last))
            case keys.Key_Home:
                self._go(0)
            case keys.Key_End:
                self._go(last)
            case keys.Key_Return | keys.Key_Enter | keys.Key_Space:
                self.chosen.emit(self._at)
            case _:
                super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keys are."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Let the keys begin at the present step again."""
        super().focusOutEvent(event)
        self.render(self._dots)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint: filled for done, a ring for the present one, a small dot for what is to come."""
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for index, dot in enumerate(self._dots):
            at = self.place(index)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.color("accent" if dot.state == "done" else "track"))
            if dot.state == "here":
                painter.setPen(QPen(theme.color("accent"), 2.0))
                painter.setBrush(theme.color("panel"))
            radius = _DOT if dot.state in ("here", "done") else _DOT * 0.65
            painter.drawEllipse(at, radius, radius)
        if self.hasFocus():
            half = QPointF(_DOT_STEP / 2, _DOT_STEP / 2)
            draw_focus(painter, theme, QRectF(self.place(self._at) - half, self.place(self._at) + half), 6)
        painter.end()

    def _go(self, index: int) -> None:
        self._at = index
        self.setAccessibleName(self._name(index) if self._dots else "Steps of the lesson")
        self.update()

    def _name(self, index: int) -> str:
        dot = self._dots[index]
        return f"Step {index + 1} of {len(self._dots)}: {dot.title}, {_STATES[dot.state]}"

    def _index(self, event: QMouseEvent) -> int | None:
        index = int(event.position().x() // _DOT_STEP)
        return index if 0 <= index < len(self._dots) else None
