"""A picture to mark: crosshair by mouse and keys, marks of the axes, points of the curve, and a loupe."""

from __future__ import annotations

import math
from itertools import pairwise

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QEnterEvent,
    QFocusEvent,
    QImage,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QWidget

from app.qt.paint import CENTER, draw_focus, draw_text
from app.qt.theme import Theme, Type, font
from app.state.digitise import MARKS, Tracing
from models.fitting.picture import Place

_LOUPE_PX, _LOUPE_TIMES = 132.0, 6.0
_FAR = 10.0
_POINTS, _MARKS = "#0072B2", "#B3261E"
"""On the paper of the picture, whatever the look of the window."""
_STEPS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, -1.0),
    Qt.Key.Key_Down: (0.0, 1.0),
}
_PLACE = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
_MANY = 120
"""From so many points on they are drawn as a line."""


class PictureView(QWidget):
    """Shows a picture to fit and tells where a person marks it, in pixels of the picture."""

    marked = Signal(object)
    removed = Signal()
    moved = Signal(object)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setMinimumSize(QSize(320, 240))
        self.setAccessibleName("Picture of the curve")
        self.setAccessibleDescription(
            "Arrow keys move the crosshair, with Shift by ten; Enter marks, Backspace removes."
        )
        self._theme = theme
        self._image = QImage()
        self._tracing = Tracing()
        self._labels: dict[str, str] = {}
        self._at: Place = (0.0, 0.0)
        self._crosshair = False
        self._empty = ""

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def show_image(self, image: QImage) -> None:
        """Show another picture, the crosshair in its middle."""
        self._image = image
        self._at = (math.floor(image.width() / 2) + 0.5, math.floor(image.height() / 2) + 0.5)
        self.update()

    def image(self) -> QImage:
        """Return the picture."""
        return self._image

    def render_tracing(self, tracing: Tracing, labels: dict[str, str], empty: str) -> None:
        """Show what was marked so far; without a picture, what to do."""
        self._tracing, self._labels, self._empty = tracing, labels, empty
        self.update()

    def place_of(self, at: QPointF) -> Place:
        """Return the place in the picture under a point of the widget."""
        target, scale = self._target()
        return (at.x() - target.left()) / scale, (at.y() - target.top()) / scale

    def point_of(self, place: Place) -> QPointF:
        """Return the point of the widget at a place in the picture."""
        target, scale = self._target()
        return QPointF(target.left() + place[0] * scale, target.top() + place[1] * scale)

    def crosshair(self) -> Place:
        """Return where the crosshair stands."""
        return self._at

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Take the crosshair along."""
        self._move(self.place_of(event.position()))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Mark."""
        if event.button() == Qt.MouseButton.LeftButton and not self._image.isNull():
            self._move(self.place_of(event.position()))
            self.marked.emit(self._at)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the crosshair, mark, remove the last point."""
        if event.key() in _STEPS:
            by = _FAR if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1.0
            dx, dy = _STEPS[Qt.Key(event.key())]
            self._move((self._at[0] + by * dx, self._at[1] + by * dy))
        elif event.key() in _PLACE and not self._image.isNull():
            self.marked.emit(self._at)
        elif event.key() in (Qt.Key.Key_Backspace, Qt.Key.Key_Delete):
            self.removed.emit()
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the crosshair."""
        self._show_crosshair(shown=True)
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the crosshair away unless the pointer is here."""
        self._show_crosshair(shown=self.underMouse())
        super().focusOutEvent(event)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Show the crosshair."""
        self._show_crosshair(shown=True)
        super().enterEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        """Take the crosshair away unless the keys go here."""
        self._show_crosshair(shown=self.hasFocus())
        super().leaveEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the picture and what was marked on it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        if self._image.isNull():
            painter.setFont(font(Type.BODY))
            painter.setPen(self._theme.color("muted"))
            painter.drawText(
                self.rect().adjusted(24, 12, -24, -12), int(CENTER) | int(Qt.TextFlag.TextWordWrap), self._empty
            )
        else:
            target, _ = self._target()
            painter.drawImage(target, self._image)
            self._paint_points(painter)
            self._paint_marks(painter)
            if self._crosshair:
                self._paint_crosshair(painter)
                self._paint_loupe(painter)
        if self.hasFocus():
            draw_focus(painter, self._theme, QRectF(self.rect()), 6.0)
        painter.end()

    def _target(self) -> tuple[QRectF, float]:
        """Return where the picture stands, as large as fits, and its scale."""
        width, height = max(self._image.width(), 1), max(self._image.height(), 1)
        scale = min((self.width() - 8) / width, (self.height() - 8) / height)
        size = QRectF(0, 0, width * scale, height * scale)
        size.moveCenter(QRectF(self.rect()).center())
        return size, scale

    def _move(self, at: Place) -> None:
        self._at = (
            min(max(at[0], 0.0), max(float(self._image.width()), 0.0)),
            min(max(at[1], 0.0), max(float(self._image.height()), 0.0)),
        )
        self.moved.emit(self._at)
        self.update()

    def _show_crosshair(self, *, shown: bool) -> None:
        self._crosshair = shown
        self.update()

    def _paint_points(self, painter: QPainter) -> None:
        points = [self.point_of(place) for place in self._tracing.places]
        color = QColor(_POINTS)
        if len(points) > _MANY:
            path = QPainterPath(points[0])
            for before, point in pairwise(points):
                # a step back is a new stretch
                path.lineTo(point) if point.x() >= before.x() else path.moveTo(point)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            for pen in (QPen(QColor("white"), 4.0), QPen(color, 2.0, Qt.PenStyle.DotLine)):
                painter.setPen(pen)
                painter.drawPath(path)
            return
        painter.setBrush(color)
        painter.setPen(QPen(QColor("white"), 1.0))
        for point in points:
            painter.drawEllipse(point, 3.5, 3.5)

    def _paint_marks(self, painter: QPainter) -> None:
        for name, place in zip(MARKS, self._tracing.marks, strict=True):
            if place is None:
                continue
            at = self.point_of(place)
            for pen in (QPen(QColor("white"), 4.0), QPen(QColor(_MARKS), 2.0)):
                painter.setPen(pen)
                painter.drawLine(at + QPointF(-8, 0), at + QPointF(8, 0))
                painter.drawLine(at + QPointF(0, -8), at + QPointF(0, 8))
            label = QRectF(min(at.x() + 8, self.width() - 46.0), max(at.y() - 22, 2.0), 40, 17)
            painter.fillRect(label, QColor(255, 255, 255, 220))
            draw_text(
                painter,
                label,
                self._labels.get(name, name),
                face=font(Type.TINY),
                color=QColor(_MARKS),
                align=CENTER,
            )

    def _paint_crosshair(self, painter: QPainter) -> None:
        at = self.point_of(self._at)
        painter.setPen(QPen(QColor(90, 90, 90, 150), 1.0))
        painter.drawLine(QPointF(at.x(), 0), QPointF(at.x(), self.height()))
        painter.drawLine(QPointF(0, at.y()), QPointF(self.width(), at.y()))

    def _paint_loupe(self, painter: QPainter) -> None:
        """Paint what lies around the crosshair enlarged, in the corner that is furthest from it."""
        at = self.point_of(self._at)
        left = 10.0 if at.x() > self.width() / 2 else self.width() - _LOUPE_PX - 10.0
        top = 10.0 if at.y() > self.height() / 2 else self.height() - _LOUPE_PX - 10.0
        glass = QRectF(left, top, _LOUPE_PX, _LOUPE_PX)
        around = _LOUPE_PX / _LOUPE_TIMES
        source = QRectF(self._at[0] - around / 2, self._at[1] - around / 2, around, around)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, on=False)
        painter.fillRect(glass, self._theme.color("panel"))
        seen = source.intersected(QRectF(self._image.rect()))
        shown = QRectF(
            glass.left() + (seen.left() - source.left()) * _LOUPE_TIMES,
            glass.top() + (seen.top() - source.top()) * _LOUPE_TIMES,
            seen.width() * _LOUPE_TIMES,
            seen.height() * _LOUPE_TIMES,
        )
        painter.drawImage(shown, self._image, seen)
        painter.setPen(QPen(QColor(_MARKS), 1.0))
        middle = QPointF(glass.center().toPoint()) + QPointF(0.5, 0.5)
        painter.drawLine(QPointF(middle.x(), glass.top()), QPointF(middle.x(), glass.bottom()))
        painter.drawLine(QPointF(glass.left(), middle.y()), QPointF(glass.right(), middle.y()))
        painter.setPen(QPen(self._theme.color("field_border"), 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(glass)
        painter.restore()
