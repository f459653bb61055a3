"""Lines of constant inductance and capacitance behind the curves, each with its name in a gap of the line."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QPainter, QPen

from app.present.specs import GuideSpec
from app.qt.paint import CENTER, draw_text, text_width
from app.qt.plot.geometry import Frame
from app.qt.plot.placing import Ground
from app.qt.theme import Theme, Type, font

_END_PX, _STEP_PX = 14.0, 36.0
_NAMES_APART_PX = 44.0
_HALF_PX = 8.0


def draw_guides(
    painter: QPainter, theme: Theme, frame: Frame, guides: Sequence[GuideSpec], starts: Sequence[float | None]
) -> None:
    """Draw guides; one without a place for its name is drawn whole."""
    pen = QPen(theme.color("rule"), 1.0)
    pen.setDashPattern((4.0, 4.0))
    for guide, start in zip(guides, starts, strict=True):
        line = guide_line(frame, guide)
        if line is not None:
            painter.setPen(pen)
            _draw_guide(painter, theme, line, guide.label, start)


def guide_starts(
    frame: Frame, guides: Sequence[GuideSpec], ground: Ground, taken: Sequence[QRectF]
) -> tuple[float | None, ...]:
    """Return where along its line each name begins: near the upper end, or as near to it as nothing is in the way."""
    names: list[QPointF] = []
    starts: list[float | None] = []
    for guide in guides:
        line = guide_line(frame, guide)
        start = None if line is None else _free_start(line, guide.label, ground, taken, names)
        if line is not None and start is not None:
            names.append(_middle(line, start, guide.label))
        starts.append(start)
    return tuple(starts)


def guide_line(frame: Frame, guide: GuideSpec) -> QLineF | None:
    """Return what is seen of a guide, from left to right; None where nothing is."""
    (x1, x2), (y1, y2) = guide.x, guide.y
    line = QLineF(frame.x.pixel(x1), frame.y.pixel(y1), frame.x.pixel(x2), frame.y.pixel(y2))
    return _clipped(line, frame)


def _free_start(
    line: QLineF, label: str, ground: Ground, taken: Sequence[QRectF], names: Sequence[QPointF]
) -> float | None:
    width, length = _name_width(label), line.length()
    room = length - width - _END_PX
    steps = range(int(max(room - _END_PX, 0.0) / 2 / _STEP_PX) + 1) if room >= _END_PX else ()
    for step in steps:
        start = _END_PX + step * _STEP_PX if line.dy() > 0 else room - step * _STEP_PX
        middle = _middle(line, start, label)
        crowded = any(QLineF(middle, other).length() < _NAMES_APART_PX for other in names)
        if not crowded and all(_is_free(place, ground, taken) for place in _places(line, start, width)):
            return start
    return None


def _is_free(place: QRectF, ground: Ground, taken: Sequence[QRectF]) -> bool:
    return not ground.hidden(place) and not any(place.intersects(other) for other in taken)


def _places(line: QLineF, start: float, width: float) -> Iterator[QRectF]:
    """Yield small squares along a name, which stands at a slant."""
    count, length = max(math.ceil(width / (2 * _HALF_PX)), 1), line.length()
    for k in range(count):
        at = line.pointAt((start + (k + 0.5) * width / count) / length)
        yield QRectF(at.x() - _HALF_PX, at.y() - _HALF_PX, 2 * _HALF_PX, 2 * _HALF_PX)


def _name_width(label: str) -> float:
    return text_width(label, font(Type.TINY)) + 6


def _middle(line: QLineF, start: float, label: str) -> QPointF:
    return line.pointAt((start + _name_width(label) / 2) / line.length())


def _draw_guide(painter: QPainter, theme: Theme, line: QLineF, label: str, start: float | None) -> None:
    painter.save()
    painter.translate(line.p1())
    painter.rotate(-line.angle())
    if start is None:
        painter.drawLine(QLineF(0, 0, line.length(), 0))
    else:
        width = _name_width(label)
        painter.drawLine(QLineF(0, 0, start, 0))
        painter.drawLine(QLineF(start + width, 0, line.length(), 0))
        place = QRectF(start, -8, width, 16)
        draw_text(painter, place, label, face=font(Type.TINY), color=theme.color("muted"), align=CENTER)
    painter.restore()


def _clipped(line: QLineF, frame: Frame) -> QLineF | None:
    """Return the part of a line inside the frame, from left to right; None where there is none."""
    start, end = 0.0, 1.0
    edges = (
        (-line.dx(), line.x1() - frame.left),
        (line.dx(), frame.right - line.x1()),
        (-line.dy(), line.y1() - frame.top),
        (line.dy(), frame.bottom - line.y1()),
    )
    for slope, room in edges:
        if slope == 0.0:
            if room < 0.0:
                return None
        elif slope < 0.0:
            start = max(start, room / slope)
        else:
            end = min(end, room / slope)
    return QLineF(line.pointAt(start), line.pointAt(end)) if end > start else None
