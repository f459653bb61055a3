"""The cursor: a line with a knob, a ring on each curve, and a box of read-outs that never covers the line."""

from __future__ import annotations

import math

from attrs import evolve, frozen
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from app.present.specs import PlotSpec, ReadoutSpec
from app.qt.paint import RIGHT, SAMPLE_WIDTH, draw_sample, draw_text, text_width
from app.qt.plot.geometry import Frame
from app.qt.plot.placing import Ground
from app.qt.theme import Theme, Type, font

KNOB_RADIUS = 6.0
RING_RADIUS = 4.5
_ROW = 19.0
_AWAY = 14.0
_EDGE = 4.0
_HEIGHTS = 5
_LABEL_AT_MOST = 130.0
_ROOM_FOR_NAMES = 420.0
_IS_WORTH = 10.0
"""Cells of curves that may be hidden before the box gives up its names, and again before it gives up its notes."""
_IS_USUAL = 1.5
"""Cells of curves that may be hidden before the box leaves its usual height, for each step further."""


def cursor_pixel(frame: Frame, spec: PlotSpec) -> float | None:
    """Return where the cursor stands; None where there is none, or where it is out of sight."""
    if spec.cursor_x is None:
        return None
    pixel = frame.x.pixel(spec.cursor_x)
    return pixel if frame.left - 0.5 <= pixel <= frame.right + 0.5 else None


@frozen(kw_only=True)
class Box:
    """Where the read-outs stand, and how much of them: the name before the number, the note behind it."""

    place: QRectF
    named: bool
    noted: bool
    tight: bool = False
    """In a narrow plot: short samples and little air, so that the box finds room beside the curves."""
    steps: int = 0
    """How far below its usual height it stands."""

    @property
    def pad(self) -> float:
        """The air inside."""
        return 6.0 if self.tight else 10.0

    @property
    def sample(self) -> float:
        """How long the samples of the lines are."""
        return 14.0 if self.tight else SAMPLE_WIDTH


def draw_cursor(painter: QPainter, theme: Theme, frame: Frame, spec: PlotSpec, box: Box | None) -> None:
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
    if box is not None:
        _draw_box(painter, theme, spec, box)


def readout_box(frame: Frame, spec: PlotSpec, ground: Ground) -> Box | None:
    """Return the box of read-outs beside the cursor, where it hides least of the curves; None for nothing to read."""
    x = cursor_pixel(frame, spec)
    if x is None or not (spec.readouts or spec.cursor_text):
        return None
    wide = frame.right - frame.left >= _ROOM_FOR_NAMES
    kinds = ((True, True), (False, True), (False, False)) if wide else ((False, False),)
    offered = [each for kind in kinds for each in _boxes(frame, spec, x, kind, tight=not wide)]
    marks = [QPointF(frame.x.pixel(mark.x), frame.y.pixel(mark.y)) for mark in spec.marks]

    def loss(box: Box) -> float:
        """Return what is lost with a box: curves and marks behind it, names and notes that it does not tell."""
        covered = sum(box.place.contains(mark) for mark in marks)
        told = _IS_WORTH * (2 * covered + 2 - box.named - box.noted)
        return ground.hidden(box.place) + told + _IS_USUAL * box.steps

    return min(offered, key=loss)


def _boxes(frame: Frame, spec: PlotSpec, cursor_px: float, kind: tuple[bool, bool], *, tight: bool) -> list[Box]:
    """Return the boxes that have room: right of the cursor and left of it, from high to low; the usual one first."""
    rows = len(spec.readouts) + (1 if spec.cursor_text else 0)
    away, edge = (8.0, 2.0) if tight else (_AWAY, _EDGE)
    rooms = {True: frame.right - cursor_px - away - edge, False: cursor_px - frame.left - away - edge}
    model = Box(place=QRectF(), named=kind[0], noted=kind[1], tight=tight)
    wanted, height = _box_width(spec, model), rows * _ROW + model.pad
    sides = [right for right, room in rooms.items() if room >= wanted] or [max(rooms, key=lambda each: rooms[each])]
    # below the line that says why curves are stale, and above the knob
    top, low = frame.top + (42.0 if spec.stale else 6.0), frame.bottom - 14.0 - height
    found = []
    for right in sides:
        width = min(wanted, max(rooms[right], 40.0))
        left = cursor_px + away if right else cursor_px - away - width
        for step in range(_HEIGHTS if low > top else 1):
            place = QRectF(left, top + (low - top) * step / (_HEIGHTS - 1), width, height)
            found.append(evolve(model, place=place, steps=step))
    return found


def _value(readout: ReadoutSpec, *, noted: bool) -> str:
    return f"{readout.text}  {readout.note}".rstrip() if noted else readout.text


def _box_width(spec: PlotSpec, box: Box) -> float:
    small, strong = font(Type.SMALL), font(Type.STRONG)
    labels = max((text_width(r.label, small) for r in spec.readouts), default=0.0) if box.named else 0.0
    numbers = max((text_width(_value(r, noted=box.noted), strong) for r in spec.readouts), default=0.0)
    body = box.sample + 8 + (min(labels, _LABEL_AT_MOST) + 16 if labels else 4) + max(numbers, 40.0)
    return max(body, text_width(spec.cursor_text, strong)) + 2 * box.pad


def _draw_ring(painter: QPainter, theme: Theme, frame: Frame, x: float, readout: ReadoutSpec) -> None:
    y = math.nan if readout.y is None else frame.y.pixel(readout.y)
    if frame.top <= y <= frame.bottom:
        painter.setPen(QPen(theme.ink(readout.ink), 2.0))
        painter.setBrush(theme.color("panel"))
        painter.drawEllipse(QPointF(x, y), RING_RADIUS, RING_RADIUS)


def _draw_box(painter: QPainter, theme: Theme, spec: PlotSpec, found: Box) -> None:
    box = found.place
    painter.setPen(QPen(theme.color("field_border"), 1.0))
    painter.setBrush(theme.color("panel"))
    painter.drawRoundedRect(box, 6, 6)
    row = QRectF(box.left() + found.pad, box.top() + found.pad / 2, box.width() - 2 * found.pad, _ROW)
    if spec.cursor_text:
        draw_text(painter, row, spec.cursor_text, face=font(Type.SMALL), color=theme.color("muted"))
        row.translate(0, _ROW)
    for readout in spec.readouts:
        draw_sample(painter, theme, readout.ink, row.left(), row.center().y(), width=found.sample)
        number = text_width(_value(readout, noted=found.noted), font(Type.STRONG))
        if found.named:
            name = row.adjusted(found.sample + 8, 0, -number - 12, 0)
            draw_text(painter, name, readout.label, face=font(Type.SMALL), color=theme.color("text"))
        value = row.adjusted(found.sample + 4, 0, 0, 0)
        draw_text(
            painter,
            value,
            _value(readout, noted=found.noted),
            face=font(Type.STRONG),
            color=theme.color("text"),
            align=RIGHT,
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
