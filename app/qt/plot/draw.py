"""How a plot is drawn: one function a layer, with a painter in logical pixels. Screen, picture and SVG use the same."""

from __future__ import annotations

import math

import pyqtgraph as pg
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen

from app.present.specs import BandSpec, CurveSpec, GuideSpec, MarkSpec, PlotSpec
from app.qt.paint import CENTER, LEFT, RIGHT, draw_text, draw_warning
from app.qt.plot.geometry import Frame, Trace, stick_tops, trace
from app.qt.plot.ticks import Tick, ticks
from app.qt.theme import Theme, Type, font

_ROOM_X_PX = 62.0
_ROOM_Y_PX = 34.0
_BOTTOM_PX = 24.0
_STALE_OPACITY = 0.35


def x_ticks(spec: PlotSpec, frame: Frame) -> tuple[Tick, ...]:
    """Return the marks under the plot."""
    low, high = frame.x.value(frame.left), frame.x.value(frame.right)
    return ticks(spec.x, low, high, room=int((frame.right - frame.left) / _ROOM_X_PX), terse=True)


def y_ticks(spec: PlotSpec, frame: Frame) -> tuple[Tick, ...]:
    """Return the marks left of the plot."""
    low, high = frame.y.value(frame.bottom), frame.y.value(frame.top)
    return ticks(spec.y, low, high, room=max(int((frame.bottom - frame.top) / _ROOM_Y_PX), 2), terse=False)


def inner_rect(outer: QRectF, texts: tuple[str, ...]) -> QRectF:
    """Return where the curves go inside a widget, with room for the axes' texts."""
    metrics = QFontMetricsF(font(Type.TINY))
    widest = max((metrics.horizontalAdvance(text) for text in texts), default=0.0)
    left = max(48.0, math.ceil((widest + 14.0) / 8.0) * 8.0)
    return outer.adjusted(left, 10.0, -20.0, -_BOTTOM_PX)


def draw_bands(painter: QPainter, theme: Theme, frame: Frame, bands: tuple[BandSpec, ...]) -> None:
    """Draw the named ranges behind everything, each with its name at the foot and its limit as a line."""
    for band in bands:
        left = max(frame.x.pixel(band.x_low), frame.left)
        right = min(frame.x.pixel(band.x_high), frame.right)
        if not right > left:
            continue
        rect = QRectF(left, frame.top, right - left, frame.bottom - frame.top)
        painter.fillRect(rect, theme.color("band"))
        name = rect.adjusted(6, rect.height() - 20, -6, -4)
        if name.width() > 40:
            draw_text(painter, name, band.label, face=font(Type.TINY), color=theme.color("muted"), align=CENTER)


def draw_limits(painter: QPainter, theme: Theme, frame: Frame, bands: tuple[BandSpec, ...]) -> None:
    """Draw the level that the curves should keep below inside each band."""
    painter.setPen(QPen(theme.color("bad"), 1.5, Qt.PenStyle.DashLine))
    for band in bands:
        left = max(frame.x.pixel(band.x_low), frame.left)
        right = min(frame.x.pixel(band.x_high), frame.right)
        y = math.nan if band.y_limit is None else frame.y.pixel(band.y_limit)
        if right > left and frame.top <= y <= frame.bottom:
            painter.drawLine(QLineF(left, y, right, y))


def draw_grid(painter: QPainter, theme: Theme, frame: Frame, spec: PlotSpec) -> None:
    """Draw the hairlines of the ticks, the minor ones fainter."""
    faint = theme.color("rule")
    faint.setAlphaF(0.45)
    for minor, color in ((True, faint), (False, theme.color("rule"))):
        painter.setPen(QPen(color, 1.0))
        xs = (_crisp(frame.x.pixel(t.at)) for t in x_ticks(spec, frame) if t.minor is minor)
        ys = (_crisp(frame.y.pixel(t.at)) for t in y_ticks(spec, frame) if t.minor is minor)
        lines = [QLineF(x, frame.top, x, frame.bottom) for x in xs]
        lines += [QLineF(frame.left, y, frame.right, y) for y in ys]
        painter.drawLines(lines)


def draw_axes(painter: QPainter, theme: Theme, frame: Frame, spec: PlotSpec, outer: QRectF) -> None:
    """Draw the texts of both axes, kept inside the widget."""
    face, color = font(Type.TINY), theme.color("muted")
    metrics = QFontMetricsF(face)
    edge = -math.inf
    for tick in x_ticks(spec, frame):
        width = metrics.horizontalAdvance(tick.text)
        left = min(max(frame.x.pixel(tick.at) - width / 2, outer.left()), outer.right() - width)
        if tick.text and left > edge:
            place = QRectF(left, frame.bottom + 6, width, 16)
            draw_text(painter, place, tick.text, face=face, color=color)
            edge = left + width + 6
    for tick in y_ticks(spec, frame):
        if tick.text:
            place = QRectF(outer.left(), frame.y.pixel(tick.at) - 8, frame.left - outer.left() - 8, 16)
            draw_text(painter, place, tick.text, face=face, color=color, align=RIGHT)


def draw_guides(painter: QPainter, theme: Theme, frame: Frame, guides: tuple[GuideSpec, ...]) -> None:
    """Draw the lines of constant L and C, each named along its line where it enters the plot from above or leaves it."""
    pen = QPen(theme.color("rule"), 1.0)
    pen.setDashPattern((4.0, 4.0))
    for guide in guides:
        line = _clipped(QLineF(*_guide_pixels(frame, guide)), frame)
        if line is None:
            continue
        painter.setPen(pen)
        painter.drawLine(line)
        _name_guide(painter, theme, line, guide.label)


def curve_trace(frame: Frame, curve: CurveSpec) -> Trace:
    """Return a curve, or a spectrum of lines, as pixels of the frame."""
    return (stick_tops if curve.sticks else trace)(frame, curve.x, curve.y)


def trace_path(frame: Frame, curve: CurveSpec, points: Trace) -> QPainterPath:
    """Return what is stroked for a curve."""
    if not curve.sticks:
        return QPainterPath(pg.functions.arrayToQPath(points.x, points.y, connect="finite"))
    path = QPainterPath()
    for x, y in zip(points.x.tolist(), points.y.tolist(), strict=True):
        if y < frame.bottom:
            path.moveTo(x, frame.bottom)
            path.lineTo(x, y)
    return path


def curve_pen(theme: Theme, curve: CurveSpec, *, noisy: bool) -> QPen:
    """Return the line of a curve: strong ones twice as wide, noisy and stick ones thin and undashed."""
    pen = theme.pen(curve.ink, 2.0 if curve.strong and not noisy else 1.0)
    if noisy or curve.sticks:
        pen.setStyle(Qt.PenStyle.SolidLine)
    if curve.faint:
        color = QColor(pen.color())
        color.setAlphaF(0.4)
        pen.setColor(color)
    return pen


def draw_curve(
    painter: QPainter, theme: Theme, frame: Frame, pen: QPen, path: QPainterPath, *, stale: bool = False
) -> None:
    """Draw one curve, clipped to the frame; the last good one of a failed computation is dimmed."""
    painter.save()
    painter.setClipRect(frame.rect().adjusted(0, -1, 0, 1))
    painter.setOpacity(_STALE_OPACITY if stale else 1.0)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen)
    painter.drawPath(path)
    painter.restore()


def draw_marks(painter: QPainter, theme: Theme, frame: Frame, marks: tuple[MarkSpec, ...]) -> None:
    """Draw named points on curves; a name that would stand on another is left to the read-out."""
    face = font(Type.TINY)
    metrics = QFontMetricsF(face)
    taken: list[QRectF] = []
    for mark in marks:
        at = QPointF(frame.x.pixel(mark.x), frame.y.pixel(mark.y))
        if not frame.rect().contains(at):
            continue
        painter.setPen(QPen(theme.ink(mark.ink), 1.5))
        painter.setBrush(theme.color("panel"))
        painter.drawPolygon([at + QPointF(*d) for d in ((0, -4), (4, 0), (0, 4), (-4, 0))])
        place = _beside(at, metrics.horizontalAdvance(mark.label), frame)
        if not any(place.intersects(other) for other in taken):
            draw_text(painter, place, mark.label, face=face, color=theme.color("text"))
            taken.append(place)


def draw_stale(painter: QPainter, theme: Theme, frame: Frame, reason: str) -> None:
    """Draw the line that says why these are the last good curves."""
    face = font(Type.SMALL)
    width = min(QFontMetricsF(face).horizontalAdvance(reason) + 40, frame.rect().width() - 16)
    box = QRectF(frame.left + 8, frame.top + 8, width, 26)
    _box(painter, theme, box)
    draw_warning(painter, theme.color("caution"), QPointF(box.left() + 15, box.center().y()))
    draw_text(painter, box.adjusted(28, 0, -8, 0), reason, face=face, color=theme.color("text"))


def draw_empty(painter: QPainter, theme: Theme, rect: QRectF, text: str) -> None:
    """Draw what to say where there is nothing to show."""
    painter.setFont(font(Type.BODY))
    painter.setPen(theme.color("muted"))
    painter.drawText(rect.adjusted(24, 12, -24, -12), int(CENTER) | int(Qt.TextFlag.TextWordWrap), text)


def _box(painter: QPainter, theme: Theme, rect: QRectF) -> None:
    painter.setPen(QPen(theme.color("field_border"), 1.0))
    painter.setBrush(theme.color("panel"))
    painter.drawRoundedRect(rect, 6, 6)


def _crisp(pixel: float) -> float:
    return math.floor(pixel) + 0.5


def _beside(at: QPointF, width: float, frame: Frame) -> QRectF:
    left = at.x() + 8 if at.x() + 8 + width < frame.right else at.x() - 8 - width
    top = max(at.y() - 16, frame.top)
    return QRectF(left, top, width + 1, 14)


def _guide_pixels(frame: Frame, guide: GuideSpec) -> tuple[float, float, float, float]:
    (x1, x2), (y1, y2) = guide.x, guide.y
    return frame.x.pixel(x1), frame.y.pixel(y1), frame.x.pixel(x2), frame.y.pixel(y2)


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


def _name_guide(painter: QPainter, theme: Theme, line: QLineF, label: str) -> None:
    face = font(Type.TINY)
    width = QFontMetricsF(face).horizontalAdvance(label) + 6
    if line.length() < width + 24:
        return
    descending = line.dy() > 0
    painter.save()
    painter.translate(line.pointAt(10 / line.length()) if descending else line.pointAt(1 - (10 + width) / line.length()))
    painter.rotate(-line.angle() if not descending else 360.0 - line.angle())
    place = QRectF(0, -8, width, 16)
    painter.fillRect(place, theme.color("panel"))
    draw_text(painter, place, label, face=face, color=theme.color("muted"), align=LEFT | Qt.AlignmentFlag.AlignHCenter)
    painter.restore()
