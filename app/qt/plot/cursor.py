"""The cursor: a line with a knob, a ring on each curve, and a box of read-outs that never covers the line."""

from __future__ import annotations

import math

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.present.specs import PlotSpec, ReadoutSpec
from app.qt.paint import RIGHT, SAMPLE_WIDTH, draw_sample, draw_text, text_width
from app.qt.plot.geometry import Frame
from app.qt.theme import Theme, Type, font

KNOB_RADIUS = 6.0
RING_RADIUS = 4.5
_ROW = 19.0
_PAD = 10.0
_AWAY = 14.0
_LABEL_AT_MOST = 130.0
_ROOM_FOR_LABELS = 420.0


def cursor_pixel(frame: Frame, spec: PlotSpec) -> float | None:
    """Return where the cursor stands; None where there is none, or where it is out of sight."""
    if spec.cursor_x is None:
        return None
    pixel = frame.x.pixel(spec.cursor_x)
    return pixel if frame.left - 0.5 <= pixel <= frame.right + 0.5 else None


def draw_cursor(painter: QPainter, theme: Theme, frame: Frame, spec: PlotSpec) -> None:
    """Draw the cursor with all that it reads."""
    x = cursor_pixel(frame, spec)
    if x is None:
        return
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(theme.color("text"), 1.5))
    painter.drawLine(QLineF(x, frame.top, x, frame.bottom))
    painter.setPen(QPen(theme.color("panel"), 1.5))
    painter.setBrush(theme.color("text"))
    painter.drawEllipse(QPointF(x, frame.bottom), KNOB_RADIUS, KNOB_RADIUS)
    for readout in spec.readouts:
        _draw_ring(painter, theme, frame, x, readout)
    if spec.readouts or spec.cursor_text:
        _draw_box(painter, theme, frame, spec, readout_rect(frame, spec, x))


def readout_rect(frame: Frame, spec: PlotSpec, cursor_px: float) -> QRectF:
    """Return the box of read-outs: right of the cursor, or left of it where the right side has no room."""
    rows = len(spec.readouts) + (1 if spec.cursor_text else 0)
    right_room, left_room = frame.right - cursor_px - _AWAY - 4, cursor_px - frame.left - _AWAY - 4
    width = _box_width(frame, spec)
    on_right = right_room >= width or right_room >= left_room
    width = min(width, max(right_room if on_right else left_room, 40.0))
    left = cursor_px + _AWAY if on_right else cursor_px - _AWAY - width
    # below the names of the bands, and below the line that says why curves are stale
    top = frame.top + (42.0 if spec.stale else 24.0)
    return QRectF(left, top, width, rows * _ROW + _PAD)


def _labels_shown(frame: Frame) -> bool:
    return frame.right - frame.left >= _ROOM_FOR_LABELS


def _value(frame: Frame, readout: ReadoutSpec) -> str:
    """Return what is read: the note behind the number only where there is room for it."""
    return f"{readout.text}  {readout.note}".rstrip() if _labels_shown(frame) else readout.text


def _box_width(frame: Frame, spec: PlotSpec) -> float:
    small, strong = font(Type.SMALL), font(Type.STRONG)
    labels = max((text_width(r.label, small) for r in spec.readouts), default=0.0) if _labels_shown(frame) else 0.0
    numbers = max((text_width(_value(frame, r), strong) for r in spec.readouts), default=0.0)
    body = SAMPLE_WIDTH + 8 + (min(labels, _LABEL_AT_MOST) + 16 if labels else 8) + max(numbers, 40.0)
    return max(body, text_width(spec.cursor_text, strong)) + 2 * _PAD


def _draw_ring(painter: QPainter, theme: Theme, frame: Frame, x: float, readout: ReadoutSpec) -> None:
    y = math.nan if readout.y is None else frame.y.pixel(readout.y)
    if frame.top <= y <= frame.bottom:
        painter.setPen(QPen(theme.ink(readout.ink), 2.0))
        painter.setBrush(theme.color("panel"))
        painter.drawEllipse(QPointF(x, y), RING_RADIUS, RING_RADIUS)


def _draw_box(painter: QPainter, theme: Theme, frame: Frame, spec: PlotSpec, box: QRectF) -> None:
    painter.setPen(QPen(theme.color("field_border"), 1.0))
    painter.setBrush(theme.color("panel"))
    painter.drawRoundedRect(box, 6, 6)
    row = QRectF(box.left() + _PAD, box.top() + _PAD / 2, box.width() - 2 * _PAD, _ROW)
    if spec.cursor_text:
        draw_text(painter, row, spec.cursor_text, face=font(Type.SMALL), color=theme.color("muted"))
        row.translate(0, _ROW)
    for readout in spec.readouts:
        draw_sample(painter, theme, readout.ink, row.left(), row.center().y())
        number = text_width(_value(frame, readout), font(Type.STRONG))
        if _labels_shown(frame):
            name = row.adjusted(SAMPLE_WIDTH + 8, 0, -number - 12, 0)
            draw_text(painter, name, readout.label, face=font(Type.SMALL), color=theme.color("text"))
        value = row.adjusted(SAMPLE_WIDTH + 4, 0, 0, 0)
        draw_text(
            painter, value, _value(frame, readout), face=font(Type.STRONG), color=theme.color("text"), align=RIGHT
        )
        row.translate(0, _ROW)


def cursor_hit(frame: Frame, spec: PlotSpec, at: QPointF, reach: float = 8.0) -> bool:
    """Return whether a press at a point takes the cursor."""
    x = cursor_pixel(frame, spec)
    inside = frame.top <= at.y() <= frame.bottom + KNOB_RADIUS + 4
    return x is not None and inside and abs(at.x() - x) <= reach


def pointer_shape(frame: Frame, spec: PlotSpec, at: QPointF) -> Qt.CursorShape:
    """Return the pointer that tells what a press would do."""
    if cursor_hit(frame, spec, at):
        return Qt.CursorShape.SizeHorCursor
    return Qt.CursorShape.CrossCursor if frame.rect().contains(at) else Qt.CursorShape.ArrowCursor
