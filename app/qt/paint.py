"""Small things that several widgets paint alike: line samples, outcome signs, elided text, focus rings."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from app.present.specs import Ink
from app.qt.theme import Theme

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
CENTER = Qt.AlignmentFlag.AlignCenter
SAMPLE_WIDTH = 22.0
_SHORT_DASH = 2.0


@lru_cache(maxsize=4096)
def text_width(text: str, face: QFont) -> float:
    """Return how wide a text stands; remembered, since a frame asks for the same few hundred again and again."""
    return QFontMetricsF(face).horizontalAdvance(text)


def draw_sample(
    painter: QPainter, theme: Theme, ink: Ink, left: float, middle: float, *, width: float = SAMPLE_WIDTH
) -> None:
    """Draw a candidate's line, colour and dash, as it looks in the plots."""
    pen = theme.pen(ink, 2.0)
    dash = theme.dash(ink)
    if dash and dash[0] > _SHORT_DASH:
        # from the middle of a dash on, so that even the longest is seen to end
        pen.setDashOffset(dash[0] / 2)
    painter.setPen(pen)
    painter.drawLine(QPointF(left, middle), QPointF(left + width, middle))


def draw_text(
    painter: QPainter, rect: QRectF, text: str, *, face: QFont, color: QColor, align: Qt.AlignmentFlag = LEFT
) -> bool:
    """Draw one line of text, elided where it does not fit; return whether it was."""
    shown, room = text, rect.width() + 0.5
    if text_width(text, face) > room:
        shown = QFontMetricsF(face).elidedText(text, Qt.TextElideMode.ElideRight, room)
    painter.setFont(face)
    painter.setPen(color)
    painter.drawText(rect, int(align) | int(Qt.TextFlag.TextSingleLine), shown)
    return shown != text


def elided_name(name: str, face: QFont, room: float) -> str:
    """Return as much of a candidate's name as fits, with its end: names often differ there, in a value."""
    if text_width(name, face) <= room + 0.5:
        return name
    metrics = QFontMetricsF(face)
    for kept in range(len(name) - 1, 3, -1):
        head = max(kept // 4, 1)
        shown = f"{name[:head].rstrip()}…{name[len(name) - kept + head :].lstrip()}"
        if metrics.horizontalAdvance(shown) <= room:
            return shown
    return metrics.elidedText(name, Qt.TextElideMode.ElideRight, room)


def draw_outcome(painter: QPainter, theme: Theme, outcome: str, center: QPointF) -> None:
    """Draw a check, a cross or a dash; each has a shape of its own. A note has no sign."""
    shapes = {"pass": (_check(), "good"), "fail": (_cross(), "bad"), "not-applicable": (_dash(), "muted")}
    if outcome not in shapes:
        return
    path, role = shapes[outcome]
    pen = QPen(theme.color(role), 2.0)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(path.translated(center))


def draw_warning(painter: QPainter, color: QColor, center: QPointF) -> None:
    """Draw a small triangle with a bar in it: look here."""
    triangle = QPainterPath(QPointF(0, -5.5))
    triangle.lineTo(6, 5)
    triangle.lineTo(-6, 5)
    triangle.closeSubpath()
    pen = QPen(color, 1.5)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(triangle.translated(center))
    painter.drawLine(center + QPointF(0, -1.5), center + QPointF(0, 1.0))
    painter.drawPoint(center + QPointF(0, 3.2))


def draw_focus(painter: QPainter, theme: Theme, rect: QRectF, radius: float) -> None:
    """Draw the ring that says the keys go here."""
    painter.setPen(QPen(theme.color("focus"), 2.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), radius, radius)


def _check() -> QPainterPath:
    path = QPainterPath(QPointF(-5, 0.5))
    path.lineTo(-1.5, 4)
    path.lineTo(5.5, -4)
    return path


def _cross() -> QPainterPath:
    path = QPainterPath(QPointF(-4, -4))
    path.lineTo(4, 4)
    path.moveTo(4, -4)
    path.lineTo(-4, 4)
    return path


def _dash() -> QPainterPath:
    path = QPainterPath(QPointF(-4.5, 0))
    path.lineTo(4.5, 0)
    return path
