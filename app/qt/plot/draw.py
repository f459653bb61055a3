"""How a plot is drawn: one function a layer, with a painter in logical pixels. Screen, picture and SVG use the same."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pyqtgraph as pg
from attrs import frozen
from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from app.present.specs import BandSpec, CurveSpec, LimitSpec, MarkSpec, PlotSpec
from app.qt.paint import CENTER, RIGHT, draw_text, draw_warning, text_width
from app.qt.plot.geometry import Floats, Frame, Trace, View, make_frame, stick_tops, trace, traces
from app.qt.plot.ticks import Tick, ticks
from app.qt.theme import Theme, Type, font

_ROOM_X_PX = 54.0
_ROOM_Y_PX = 26.0
_TOP_PX = 10.0
_BOTTOM_PX = 24.0
_RIGHT_PX = 20.0
_STALE_OPACITY = 0.35
_DOT_PX = 2.5
_BAND_OPACITY = 0.22
_UNWANTED_OPACITY = 0.05


@frozen(kw_only=True)
class Marks:
    """The ticks of both axes for one view."""

    x: tuple[Tick, ...]
    y: tuple[Tick, ...]


def lay_out(spec: PlotSpec, outer: QRectF, view: View) -> tuple[Frame, Marks]:
    """Return where the curves go in a widget, with room for the axes' texts, and the ticks of a view."""
    top, bottom = outer.top() + _TOP_PX, outer.bottom() - _BOTTOM_PX
    low, high = (10.0**v if spec.y.log else v for v in view[1])
    y = ticks(spec.y, low, high, room=max(int((bottom - top) / _ROOM_Y_PX), 2), terse=False)
    widest = max((text_width(tick.text, font(Type.TINY)) for tick in y), default=0.0)
    # in steps, so that the plot does not jump sideways for every digit that comes and goes
    left = outer.left() + max(spec.y.room_px, math.ceil((widest + 14.0) / 8.0) * 8.0)
    right = max(outer.right() - _RIGHT_PX, left + 40.0)
    frame = make_frame(QRectF(left, top, right - left, max(bottom - top, 20.0)), spec.x, spec.y, view)
    low, high = frame.x.value(frame.left), frame.x.value(frame.right)
    x = ticks(spec.x, low, high, room=max(int((right - left) / _ROOM_X_PX), 2), terse=True)
    return frame, Marks(x=x, y=y)


def draw_bands(painter: QPainter, theme: Theme, frame: Frame, bands: Sequence[BandSpec]) -> None:
    """Draw the named ranges behind everything; of one with a level, what lies over it and is not wanted."""
    for band in bands:
        color, rect = theme.color("band"), band_rect(frame, band)
        if band.y_limit is not None:
            color = theme.color("bad")
            color.setAlphaF(_UNWANTED_OPACITY)
            rect.setBottom(min(max(frame.y.pixel(band.y_limit), frame.top), frame.bottom))
        painter.fillRect(rect, color)


def draw_limits(painter: QPainter, theme: Theme, frame: Frame, bands: Sequence[BandSpec]) -> None:
    """Draw the level that the curves should keep below inside each band."""
    for band in bands:
        rect = band_rect(frame, band)
        y = math.nan if band.y_limit is None else frame.y.pixel(band.y_limit)
        if rect.width() > 0.0 and frame.top <= y <= frame.bottom:
            painter.setPen(QPen(theme.color("bad"), 1.5, Qt.PenStyle.DashLine))
            painter.drawLine(QLineF(rect.left(), y, rect.right(), y))


def band_rect(frame: Frame, band: BandSpec) -> QRectF:
    """Return what is seen of a band, as high as the plot; without width where none of it is seen."""
    left = max(frame.x.pixel(band.x_low), frame.left)
    right = min(frame.x.pixel(band.x_high), frame.right)
    return QRectF(left, frame.top, max(right - left, 0.0), frame.bottom - frame.top)


def draw_limit_lines(painter: QPainter, theme: Theme, frame: Frame, limits: Sequence[LimitSpec]) -> None:
    """Draw limit lines over the curves, the one that they are held against strong."""
    painter.save()
    painter.setClipRect(frame.rect())
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for limit in limits:
        color = theme.color("bad")
        color.setAlphaF(1.0 if limit.strong else 0.45)
        pen = QPen(color, 1.8 if limit.strong else 1.2)
        if not limit.strong:
            pen.setDashPattern((3.0, 3.0))
        painter.setPen(pen)
        painter.drawPath(polyline(frame.x.pixels(limit.x), frame.y.pixels(limit.y)))
    painter.restore()


def draw_grid(painter: QPainter, theme: Theme, frame: Frame, marks: Marks) -> None:
    """Draw the hairlines of the ticks, the minor ones fainter."""
    faint = theme.color("rule")
    faint.setAlphaF(0.45)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    for minor, color in ((True, faint), (False, theme.color("rule"))):
        painter.setPen(QPen(color, 1.0))
        xs = (_crisp(frame.x.pixel(t.at)) for t in marks.x if t.minor is minor)
        ys = (_crisp(frame.y.pixel(t.at)) for t in marks.y if t.minor is minor)
        lines = [QLineF(x, frame.top, x, frame.bottom) for x in xs]
        lines += [QLineF(frame.left, y, frame.right, y) for y in ys]
        painter.drawLines(lines)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)


def draw_axes(painter: QPainter, theme: Theme, frame: Frame, marks: Marks, outer: QRectF) -> None:
    """Draw the texts of both axes, kept inside the widget."""
    face, color = font(Type.TINY), theme.color("muted")
    edge = -math.inf
    for tick in marks.x:
        width = text_width(tick.text, face)
        left = min(max(frame.x.pixel(tick.at) - width / 2, outer.left()), outer.right() - width)
        if tick.text and left > edge:
            place = QRectF(left, frame.bottom + 6, width, 16)
            draw_text(painter, place, tick.text, face=face, color=color)
            edge = left + width + 6
    for tick in marks.y:
        if tick.text:
            place = QRectF(outer.left(), frame.y.pixel(tick.at) - 8, frame.left - outer.left() - 8, 16)
            draw_text(painter, place, tick.text, face=face, color=color, align=RIGHT)


def curve_traces(frame: Frame, curves: Sequence[CurveSpec]) -> list[Trace]:
    """Return curves, or spectra of lines, as pixels of the frame."""
    plain = [curve for curve in curves if not (curve.dots or curve.sticks or curve.tops)]
    reduced = iter(traces(frame, [(curve.x, curve.y) for curve in plain]))
    return [next(reduced) if curve in plain else _points(frame, curve) for curve in curves]


def _points(frame: Frame, curve: CurveSpec) -> Trace:
    if curve.dots:
        return Trace(x=frame.x.pixels(curve.x), y=frame.y.pixels(curve.y))
    return stick_tops(frame, curve.x, curve.y)


def trace_path(frame: Frame, curve: CurveSpec, points: Trace) -> QPainterPath:
    """Return what is stroked for a curve."""
    if curve.dots:
        return _dots(points)
    if not curve.sticks:
        return polyline(points.x, points.y)
    path = QPainterPath()
    for x, y in zip(points.x.tolist(), points.y.tolist(), strict=True):
        if y < frame.bottom:
            path.moveTo(_crisp(x), frame.bottom)
            path.lineTo(_crisp(x), y)
    return path


def polyline(x: Floats, y: Floats) -> QPainterPath:
    """Return the line through points, broken where one is missing."""
    return QPainterPath(pg.functions.arrayToQPath(x, y, connect="finite"))


def _dots(points: Trace) -> QPainterPath:
    path = QPainterPath()
    for x, y in zip(points.x.tolist(), points.y.tolist(), strict=True):
        if math.isfinite(y):
            path.addEllipse(QPointF(x, y), _DOT_PX, _DOT_PX)
    return path


def band_path(frame: Frame, curve: CurveSpec) -> QPainterPath:
    """Return the band around a curve as one polygon: up along its upper edge, back along its lower one."""
    if curve.low is None or curve.high is None:
        return QPainterPath()
    sure = np.isfinite(curve.low) & np.isfinite(curve.high)
    x = curve.x[sure]
    edge = stick_tops if curve.sticks or curve.tops else trace
    high, low = (edge(frame, x, each[sure]) for each in (curve.high, curve.low))
    if high.x.size < 2 or low.x.size < 2:
        return QPainterPath()
    xs, ys = np.concatenate((high.x, low.x[::-1])), np.concatenate((high.y, low.y[::-1]))
    path = polyline(xs, ys)
    path.closeSubpath()
    return path


def draw_band(painter: QPainter, frame: Frame, color: QColor, path: QPainterPath, *, stale: bool = False) -> None:
    """Fill the band around a curve, clipped to the frame."""
    painter.save()
    painter.setClipRect(frame.rect())
    painter.setOpacity(_BAND_OPACITY * (_STALE_OPACITY if stale else 1.0))
    painter.fillPath(path, color)
    painter.restore()


def draw_curve(painter: QPainter, frame: Frame, pen: QPen, path: QPainterPath, *, stale: bool = False) -> None:
    """Draw one curve, clipped to the frame; the last good one of a failed computation is dimmed."""
    painter.save()
    painter.setClipRect(frame.rect().adjusted(0, -1, 0, 1))
    painter.setOpacity(_STALE_OPACITY if stale else 1.0)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen)
    painter.drawPath(path)
    painter.restore()


def mark_pixels(frame: Frame, marks: Sequence[MarkSpec]) -> list[tuple[MarkSpec, QPointF]]:
    """Return the marks that are seen, with where they stand."""
    placed = ((mark, QPointF(frame.x.pixel(mark.x), frame.y.pixel(mark.y))) for mark in marks)
    return [(mark, at) for mark, at in placed if frame.rect().contains(at)]


def draw_marks(painter: QPainter, theme: Theme, frame: Frame, marks: Sequence[MarkSpec]) -> None:
    """Draw named points on curves."""
    for mark, at in mark_pixels(frame, marks):
        painter.setPen(QPen(theme.ink(mark.ink), 1.5))
        painter.setBrush(theme.color("panel"))
        painter.drawPolygon([at + QPointF(*d) for d in ((0, -4), (4, 0), (0, 4), (-4, 0))])


def draw_stale(painter: QPainter, theme: Theme, frame: Frame, reason: str) -> None:
    """Draw the line that says why these are the last good curves."""
    face = font(Type.SMALL)
    width = min(text_width(reason, face) + 40, frame.rect().width() - 16)
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
