"""What a plot is painted from: the back, curves that remember their pixels, and what stands before them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPainterPath, QPen

from app.present.specs import CurveSpec, PlotSpec
from app.qt.paint import draw_focus
from app.qt.plot.cursor import draw_cursor
from app.qt.plot.draw import (
    Marks,
    band_path,
    curve_traces,
    draw_axes,
    draw_band,
    draw_bands,
    draw_curve,
    draw_empty,
    draw_grid,
    draw_limit_lines,
    draw_limits,
    draw_marks,
    draw_stale,
    trace_path,
)
from app.qt.plot.geometry import Frame, Trace
from app.qt.plot.guides import draw_guides
from app.qt.plot.names import Names, draw_names, place_names
from app.qt.plot.stretches import beyond_pen, curve_pen, stretches, thin_pen
from app.qt.theme import Theme


class Sheet:
    """What every part of one plot reads: the spec, where it stands, how it looks."""

    def __init__(self, theme: Theme, spec: PlotSpec, outer: QRectF, frame: Frame, marks: Marks) -> None:
        self.theme = theme
        self.spec = spec
        self.outer = outer
        self.frame = frame
        self.marks = marks
        self.names = Names()
        self.focused = False
        self.zoom_box: QRectF | None = None


def back_key(sheet: Sheet) -> tuple[object, ...]:
    """Return all that the back shows, to tell whether its picture is still right."""
    spec = sheet.spec
    bands = tuple((b.x_low, b.x_high, b.y_limit) for b in spec.bands)
    guides = tuple((g.label, g.x, g.y) for g in spec.guides)
    return sheet.theme.name, sheet.frame, sheet.marks, spec.empty, bands, guides, sheet.names.guides


class CurveInk:
    """One curve, reduced to pixels anew only when its data, the view or the size change."""

    def __init__(self, curve: CurveSpec) -> None:
        self.curve = curve
        self._points = Trace.nothing()
        self._path = QPainterPath()
        self._thin, self._beyond = QPainterPath(), QPainterPath()
        self._band = QPainterPath()
        self._frame: Frame | None = None

    def show(self, curve: CurveSpec) -> None:
        """Show another curve; the same arrays keep what was computed for them."""
        if not _same_data(self.curve, curve):
            self._frame = None
        self.curve = curve

    def points(self, frame: Frame) -> Trace:
        """Return the pixels of the curve in a frame."""
        reduce_curves((self,), frame)
        return self._points

    def late(self, frame: Frame) -> bool:
        """Return whether the curve is not yet reduced to the pixels of a frame."""
        return self._frame != frame

    def take(self, frame: Frame, whole: Trace, thin: Trace, beyond: Trace) -> None:
        """Take the pixels of a frame: of what rests on data, thick and thin, and of what goes on beyond."""
        self._points, self._frame = Trace.joined((whole, thin)), frame
        self._path, self._thin, self._beyond = (trace_path(frame, self.curve, each) for each in (whole, thin, beyond))
        self._band = band_path(frame, self.curve)

    def draw_band(self, painter: QPainter, sheet: Sheet) -> None:
        """Draw the band around the curve, if it has one."""
        self.points(sheet.frame)
        if not self._band.isEmpty():
            ink, stale = sheet.theme.ink(self.curve.ink), bool(sheet.spec.stale)
            draw_band(painter, sheet.frame, ink, self._band, stale=stale)

    def draw(self, painter: QPainter, sheet: Sheet) -> None:
        """Draw the curve."""
        points, stale = self.points(sheet.frame), bool(sheet.spec.stale)
        pen = curve_pen(sheet.theme, self.curve, noisy=points.noisy)
        draw_curve(painter, sheet.frame, pen, self._path, stale=stale)
        for path, other in ((self._thin, thin_pen), (self._beyond, beyond_pen)):
            if not path.isEmpty():
                draw_curve(painter, sheet.frame, other(pen), path, stale=stale)


def reduce_curves(inks: Sequence[CurveInk], frame: Frame) -> None:
    """Reduce to pixels, all in one go, what is not yet."""
    late = [ink for ink in inks if ink.late(frame)]
    parts = [stretches(ink.curve) for ink in late]
    found = iter(curve_traces(frame, [part for each in parts for part in each if part is not None]))
    for ink, each in zip(late, parts, strict=True):
        ink.take(frame, *(Trace.nothing() if part is None else next(found) for part in each))


def draw_curves(painter: QPainter, sheet: Sheet, inks: Sequence[CurveInk]) -> None:
    """Draw all bands, then the curves, those behind first: no band stands over another one's curve."""
    if not sheet.spec.empty:
        ordered = sorted(inks, key=lambda each: curve_depth(each.curve))
        for ink in ordered:
            ink.draw_band(painter, sheet)
        for ink in ordered:
            ink.draw(painter, sheet)


def place_all(sheet: Sheet, inks: Sequence[CurveInk]) -> None:
    """Place all words of a plot anew, where they hide least of its curves."""
    frame = sheet.frame
    sheet.names = place_names(frame, sheet.spec, [ink.points(frame) for ink in inks if not ink.curve.faint])


def draw_back(painter: QPainter, sheet: Sheet) -> None:
    """Draw what stands behind the curves: bands, grid, guides, the axes' texts; or the words of an empty plot."""
    if sheet.spec.empty:
        draw_empty(painter, sheet.theme, sheet.outer, sheet.spec.empty)
        return
    draw_bands(painter, sheet.theme, sheet.frame, sheet.spec.bands)
    draw_grid(painter, sheet.theme, sheet.frame, sheet.marks)
    draw_guides(painter, sheet.theme, sheet.frame, sheet.spec.guides, sheet.names.guides)
    draw_axes(painter, sheet.theme, sheet.frame, sheet.marks, sheet.outer)


def draw_top(painter: QPainter, sheet: Sheet) -> None:
    """Draw what stands before the curves: limits, marks, names, cursor, the box of a zoom, the focus ring."""
    theme, frame, spec = sheet.theme, sheet.frame, sheet.spec
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if not spec.empty:
        draw_limits(painter, theme, frame, spec.bands)
        draw_limit_lines(painter, theme, frame, spec.limits)
        draw_marks(painter, theme, frame, spec.marks)
        draw_names(painter, theme, sheet.names.texts)
        draw_cursor(painter, theme, frame, spec, sheet.names.box)
    if spec.stale:
        draw_stale(painter, theme, frame, spec.stale)
    if sheet.zoom_box is not None:
        _draw_zoom_box(painter, theme, sheet.zoom_box)
    if sheet.focused:
        draw_focus(painter, theme, sheet.outer, 6.0)


def curve_depth(curve: CurveSpec) -> float:
    """Return how far in front a curve stands: faint ones and sticks behind, the strong one before all."""
    return 1.0 if curve.faint or curve.sticks else 3.0 if curve.strong else 2.0


def _draw_zoom_box(painter: QPainter, theme: Theme, box: QRectF) -> None:
    color = theme.color("accent")
    painter.setPen(QPen(color, 1.0))
    color.setAlphaF(0.12)
    painter.setBrush(color)
    painter.drawRect(box)


def _same_data(a: CurveSpec, b: CurveSpec) -> bool:
    drawn_alike = (a.sticks, a.tops, a.dots, a.valid_x) == (b.sticks, b.tops, b.dots, b.valid_x) and a.thin is b.thin
    return a.x is b.x and a.y is b.y and a.low is b.low and a.high is b.high and drawn_alike
