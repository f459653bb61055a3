"""ValueSlider: a slider over physical values, log or linear, that can stand on 0 and step through standard values."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right

from attrs import frozen
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QWheelEvent
from PySide6.QtWidgets import QSlider, QWidget

from app.present.specs import FieldSpec
from app.qt.theme import Theme

_TRAVEL = 10_000
_KNOB = 7.0
_GROOVE = 3.0
_BIG = 0.1
_SMALL = 0.01
_DIGITS = 3
"""A dragged value is one a person could have typed: 2.19 nF, not 2.18734 nF."""


@frozen(kw_only=True)
class Travel:
    """How values lie along a slider: from 0 to 1, and back."""

    low: float
    high: float
    log: bool
    zero: bool
    steps: tuple[float, ...] = ()

    @classmethod
    def of(cls, spec: FieldSpec) -> Travel:
        """Return the travel of a field that has a slider."""
        low, high = spec.low or 0.0, spec.high or 1.0
        return cls(low=low, high=high, log=spec.log and low > 0.0, zero=spec.zero, steps=tuple(sorted(spec.steps)))

    def place(self, value: float | None) -> float:
        """Return where a value stands, at an end for what lies beyond it."""
        if value is None or value <= self.low:
            return 0.0
        if value >= self.high:
            return 1.0
        if self.log:
            return math.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)

    def value(self, place: float) -> float:
        """Return the value at a place; the lowest place is exactly 0 where the field has that."""
        if place <= 0.0:
            return 0.0 if self.zero else self.low
        if place >= 1.0:
            return self.high
        raw = self.low * (self.high / self.low) ** place if self.log else self.low + place * (self.high - self.low)
        return float(f"{raw:.{_DIGITS}g}")

    def snapped(self, place: float) -> float:
        """Return the standard value nearest to a place, or the plain value where there are none."""
        if place <= 0.0 or not self.steps:
            return self.value(place)
        return min(self.steps, key=lambda step: abs(self.place(step) - place))

    def beside(self, value: float | None, *, up: bool) -> float:
        """Return the next standard value, or a hundredth of the travel on where there are none."""
        if value is None or not self.steps:
            return self.value(self.place(value) + (_SMALL if up else -_SMALL))
        near = 1e-9 * abs(value)
        if up:
            index = bisect_right(self.steps, value + near)
            return self.steps[index] if index < len(self.steps) else value
        index = bisect_left(self.steps, value - near) - 1
        return self.steps[index] if index >= 0 else (0.0 if self.zero else value)


class ValueSlider(QSlider):
    """Tells the value under the hand while it moves; shows what it is told when no hand is on it."""

    moved = Signal(float)
    let_go = Signal()

    def __init__(self, theme: Theme, spec: FieldSpec, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.theme = theme
        self._spec: FieldSpec | None = None
        self._travel = Travel.of(spec)
        self._value = spec.value
        self.setRange(0, _TRAVEL)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.show_spec(spec)

    def show_spec(self, spec: FieldSpec) -> None:
        """Show a field's value; the knob stays under the hand that drags it."""
        place = round(Travel.of(spec).place(spec.value) * _TRAVEL)
        if (spec, spec.value) == (self._spec, self._value) and (self.isSliderDown() or self.value() == place):
            return
        self._spec, self._travel = spec, Travel.of(spec)
        self._value = spec.value
        if not self.isSliderDown():
            self.setValue(place)
        self.setAccessibleDescription(spec.text)
        self.update()

    def step(self, *, up: bool) -> None:
        """Go to the next standard value."""
        self._tell(self._travel.beside(self._value, up=up))
        self.let_go.emit()

    def sizeHint(self) -> QSize:
        """Return a slim height."""
        return QSize(160, 20)

    def minimumSizeHint(self) -> QSize:
        """Return the least length that can still be aimed at."""
        return QSize(80, 20)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the knob to the pointer."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.setSliderDown(True)
            self._drag(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag; with Shift from one standard value to the next."""
        if self.isSliderDown():
            self._drag(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go: the drag is one step."""
        if event.button() == Qt.MouseButton.LeftButton and self.isSliderDown():
            self.setSliderDown(False)
            self.let_go.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step by keys."""
        keys, place = Qt.Key, self._travel.place(self._value)
        match event.key():
            case keys.Key_Right | keys.Key_Up:
                self.step(up=True)
                return
            case keys.Key_Left | keys.Key_Down:
                self.step(up=False)
                return
            case keys.Key_PageUp:
                target = place + _BIG
            case keys.Key_PageDown:
                target = place - _BIG
            case keys.Key_Home:
                target = 0.0
            case keys.Key_End:
                target = 1.0
            case _:
                super().keyPressEvent(event)
                return
        self._tell(self._travel.value(target))
        self.let_go.emit()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page, which would otherwise change values while it scrolls."""
        event.ignore()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint groove, filled part and knob; the knob is hollow where the value is not set."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        middle, x = self.height() / 2, self.knob_x()
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.theme.color("track"))
        left, width = 1.0, self.width() - 2.0
        painter.drawRoundedRect(QRectF(left, middle - _GROOVE / 2, width, _GROOVE), 1.5, 1.5)
        accent = self.theme.color("accent" if self._value is not None and self.isEnabled() else "muted")
        if self._value is not None:
            painter.setBrush(accent)
            painter.drawRoundedRect(QRectF(left, middle - _GROOVE / 2, x - left, _GROOVE), 1.5, 1.5)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self.theme.color("focus"), 2.0))
            painter.drawEllipse(QPointF(x, middle), _KNOB + 1.5, _KNOB + 1.5)
        painter.setPen(QPen(accent, 2.0))
        painter.setBrush(accent if self.isSliderDown() else self.theme.color("panel"))
        painter.drawEllipse(QPointF(x, middle), _KNOB - 1.5, _KNOB - 1.5)
        painter.end()

    def knob_x(self) -> float:
        """Return where the middle of the knob stands."""
        margin = _KNOB + 2.0
        return margin + self.value() / _TRAVEL * (self.width() - 2 * margin)

    def _drag(self, event: QMouseEvent) -> None:
        margin = _KNOB + 2.0
        place = (event.position().x() - margin) / max(self.width() - 2 * margin, 1.0)
        snap = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        self._tell(self._travel.snapped(place) if snap else self._travel.value(place))

    def _tell(self, value: float) -> None:
        if value == self._value:
            return
        self._value = value
        self.setValue(round(self._travel.place(value) * _TRAVEL))
        self.moved.emit(value)
