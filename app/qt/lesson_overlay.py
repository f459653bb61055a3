"""A curve drawn by hand over the plot, or a value dragged up and down, by mouse and by keys."""

from __future__ import annotations

import math

from PySide6.QtCore import QEvent, QObject, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from app.present.lesson_scene import GUESS
from app.present.lesson_specs import AskSpec
from app.qt.paint import CENTER, draw_focus, draw_text
from app.qt.plot.geometry import Frame
from app.qt.plot.view import PlotView
from app.qt.theme import Theme, Type, font

_STEP_DECADES, _BIG_DECADES = 0.1, 0.5
_RING = 8.0

Points = dict[int, float]
"""Knot → value."""


class Overlay(QWidget):
    """Lies over the plot while a question is open: takes a curve drawn by hand, or a value dragged up and down."""

    drawn = Signal(object)
    """The points drawn, as a tuple of (Hz, Ω)."""
    dragged = Signal(float)

    def __init__(self, theme: Theme, plot: PlotView) -> None:
        super().__init__(plot)
        self._theme = theme
        self._plot = plot
        self._spec: AskSpec | None = None
        self._points: Points = {}
        self._knot = 0
        self._last: QPointF | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.CrossCursor)
        plot.installEventFilter(self)
        self.hide()

    def render(self, spec: AskSpec | None) -> None:  # type: ignore[override]
        """Take a prediction, or step aside."""
        wanted = spec is not None and spec.open and (spec.kind == "draw" or spec.at_hz is not None)
        self._spec = spec if wanted else None
        if wanted and spec is not None:
            self._take_over(spec)
        self.setGeometry(self._plot.rect())
        self.setVisible(wanted)
        self._plot.setFocusPolicy(Qt.FocusPolicy.NoFocus if wanted else Qt.FocusPolicy.StrongFocus)
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        """Keep the size of the plot."""
        if event.type() == QEvent.Type.Resize:
            self.setGeometry(self._plot.rect())
        return False

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin to draw."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._last = event.position()
            self._put(event.position())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Draw on."""
        if self._last is not None:
            self._put(event.position())
            self._last = event.position()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Hand over what was drawn."""
        if event.button() == Qt.MouseButton.LeftButton and self._last is not None:
            self._last = None
            self._tell()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose a frequency, move the curve there, clear."""
        if self._spec is None or not self._key(Qt.Key(event.key()), event.modifiers()):
            super().keyPressEvent(event)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what was drawn so far."""
        if self._spec is None:
            return
        painter, theme, frame = QPainter(self), self._theme, self._frame()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._spec.kind == "draw":
            self._paint_curve(painter, frame)
        else:
            self._paint_handle(painter, frame)
        if self.hasFocus():
            draw_focus(painter, theme, QRectF(self.rect()), 6)
        painter.end()

    def place(self, f_hz: float, value: float) -> QPointF:
        """Return where a point of the plot stands, in pixels."""
        frame = self._frame()
        return QPointF(frame.x.pixel(f_hz), frame.y.pixel(value))

    def _take_over(self, spec: AskSpec) -> None:
        if self._last is None:
            index = {f: k for k, f in enumerate(spec.knots_hz)}
            self._points = {index[f]: z for f, z in spec.drawn if f in index}
            if spec.value is not None and spec.value.value is not None:
                self._points = {0: spec.value.value}
        name = "Your curve, drawn by hand" if spec.kind == "draw" else "Your guess on the plot"
        self.setAccessibleName(name)
        self.setAccessibleDescription(spec.hint)

    def _frame(self) -> Frame:
        return self._plot.sheet().frame

    def _knots(self) -> tuple[float, ...]:
        assert self._spec is not None
        return self._spec.knots_hz if self._spec.kind == "draw" else (self._spec.at_hz or 1.0,)

    def _put(self, at: QPointF) -> None:
        """Set every knot between the last place and this one; a single touch sets the nearest."""
        if self._spec is None:
            return
        frame, knots = self._frame(), self._knots()
        pixels = [frame.x.pixel(f) for f in knots]
        last = at if self._last is None else self._last
        low, high = sorted((last.x(), at.x()))
        between = [k for k, x in enumerate(pixels) if low <= x <= high]
        for knot in between or [min(range(len(knots)), key=lambda k: abs(pixels[k] - at.x()))]:
            share = (pixels[knot] - last.x()) / (at.x() - last.x()) if between and at.x() != last.x() else 1.0
            self._set(knot, frame.y.value(last.y() + share * (at.y() - last.y())))
            self._knot = knot
        if self._spec.kind == "value":
            self._tell()
        self.update()

    def _set(self, knot: int, value: float) -> None:
        axis = self._plot.sheet().spec.y
        self._points[knot] = min(max(value, axis.low), axis.high)

    def _key(self, key: Qt.Key, held: Qt.KeyboardModifier) -> bool:
        keys = Qt.Key
        count = len(self._knots())
        step = _BIG_DECADES if held & Qt.KeyboardModifier.ShiftModifier else _STEP_DECADES
        match key:
            case keys.Key_Left | keys.Key_Right:
                self._lift(0.0)
                self._knot = min(max(self._knot + (1 if key == keys.Key_Right else -1), 0), count - 1)
                self._lift(0.0)
            case keys.Key_Up | keys.Key_Down:
                self._lift(step if key == keys.Key_Up else -step)
            case keys.Key_PageUp | keys.Key_PageDown if held & Qt.KeyboardModifier.ShiftModifier:
                self._lift(_BIG_DECADES if key == keys.Key_PageUp else -_BIG_DECADES)
            case keys.Key_Delete | keys.Key_Backspace:
                self._points.clear()
            case _:
                return False
        self._tell()
        self.update()
        return True

    def _lift(self, decades: float) -> None:
        """Move the curve at the present knot; a knot that is not drawn yet begins where its neighbour stands."""
        if self._knot in self._points:
            self._set(self._knot, self._points[self._knot] * 10.0**decades)
            return
        near = min(self._points, key=lambda k: abs(k - self._knot), default=None)
        axis = self._plot.sheet().spec.y
        start = math.sqrt(axis.low * axis.high) if near is None else self._points[near]
        self._set(self._knot, start * 10.0**decades)

    def _tell(self) -> None:
        if self._spec is None:
            return
        if self._spec.kind == "draw":
            knots = self._knots()
            self.drawn.emit(tuple((knots[k], self._points[k]) for k in sorted(self._points)))
        elif 0 in self._points:
            self.dragged.emit(float(f"{self._points[0]:.3g}"))

    def _paint_curve(self, painter: QPainter, frame: Frame) -> None:
        theme, knots = self._theme, self._knots()
        if not self._points:
            # the room above the curves, which every plot keeps free
            row = QRectF(frame.left, frame.top + 4, frame.right - frame.left, 24)
            draw_text(
                painter, row, "Draw your curve here", face=font(Type.TITLE), color=theme.color("muted"), align=CENTER
            )
        line = QPolygonF([self.place(knots[k], self._points[k]) for k in sorted(self._points)])
        painter.setPen(QPen(theme.ink(GUESS), 2.5))
        painter.drawPolyline(line)
        painter.setBrush(theme.color("panel"))
        for k in sorted(self._points):
            painter.drawEllipse(self.place(knots[k], self._points[k]), 3.0, 3.0)
        if self.hasFocus():
            x = frame.x.pixel(knots[self._knot])
            painter.setPen(QPen(theme.color("focus"), 1.0, Qt.PenStyle.DashLine))
            painter.drawLine(QPointF(x, frame.top), QPointF(x, frame.bottom))

    def _paint_handle(self, painter: QPainter, frame: Frame) -> None:
        theme, at_hz = self._theme, self._knots()[0]
        x = frame.x.pixel(at_hz)
        value = self._points.get(0)
        y = (frame.top + frame.bottom) / 2 if value is None else frame.y.pixel(value)
        y = min(max(y, frame.top), frame.bottom)
        painter.setPen(QPen(theme.ink(GUESS), 1.0, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, frame.top), QPointF(x, frame.bottom))
        painter.setPen(QPen(theme.ink(GUESS), 2.5))
        painter.setBrush(theme.ink(GUESS) if value is not None else theme.color("panel"))
        painter.drawEllipse(QPointF(x, y), _RING, _RING)
