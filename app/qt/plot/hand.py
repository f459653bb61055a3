"""What the hand does on a plot: the mouse takes the cursor, pans or draws a zoom box; keys do the same without it."""

from __future__ import annotations

import math
from typing import Protocol
from weakref import proxy

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QCursor, QKeyEvent, QMouseEvent

from app.qt.plot.cursor import cursor_hit, pointer_shape
from app.qt.plot.geometry import View
from app.qt.plot.items import Sheet

_STEP = 1 / 60
_BIG_STEP = 1 / 6
_ZOOM_A_KEY = 0.7
_CLICK_PX = 4.0
_LEAST_BOX_PX = 8.0


class Plot(Protocol):
    """What a hand can ask of a plot."""

    def view(self) -> View:
        """Return the ranges that are seen."""

    def set_view(self, view: View) -> None:
        """Show other ranges."""

    def reset_view(self) -> None:
        """Show all."""

    def shows_all(self) -> bool:
        """Return whether all is shown."""

    def zoom(self, factor: float, *, x_at: float | None = None, y_at: float | None = None) -> None:
        """Scale the view about a place."""

    def move_cursor(self, x: float) -> None:
        """Ask for the cursor at a place."""

    def repaint_sheet(self) -> None:
        """Paint again."""

    def copy_picture(self) -> None:
        """Copy as a picture."""

    def copy_data(self) -> None:
        """Copy as data."""

    def setCursor(self, cursor: QCursor | Qt.CursorShape, /) -> None:
        """Set the shape of the pointer."""


class Hand:
    """Turns mouse and keys into cursor moves, pans and zooms of one plot."""

    def __init__(self, plot: Plot, sheet: Sheet) -> None:
        self._plot: Plot = proxy(plot)
        self._sheet = sheet
        self._doing = ""
        self._pressed_at = QPointF()
        self._pressed_view: View = ((0.0, 1.0), (0.0, 1.0))

    def mouse(self, event: QMouseEvent) -> None:
        """Take a mouse event."""
        kind = event.type()
        if kind == QEvent.Type.MouseMove:
            self._move(event.position())
        elif kind == QEvent.Type.MouseButtonPress and event.button() == Qt.MouseButton.LeftButton:
            self._press(event)
        elif kind == QEvent.Type.MouseButtonRelease and event.button() == Qt.MouseButton.LeftButton:
            self._release(event.position())
        elif kind == QEvent.Type.MouseButtonDblClick:
            self._doing = ""
            self._plot.reset_view()

    def key(self, event: QKeyEvent) -> bool:
        """Take a key; return whether it meant something here."""
        held = event.modifiers()
        control = bool(held & Qt.KeyboardModifier.ControlModifier)
        shift = bool(held & Qt.KeyboardModifier.ShiftModifier)
        step = _BIG_STEP if control or shift else _STEP
        keys = Qt.Key
        match event.key():
            case keys.Key_Left | keys.Key_Right:
                self._step(step if event.key() == keys.Key_Right else -step)
            case keys.Key_Plus | keys.Key_Equal | keys.Key_Up:
                self._zoom(_ZOOM_A_KEY)
            case keys.Key_Minus | keys.Key_Down:
                self._zoom(1 / _ZOOM_A_KEY)
            case keys.Key_Home:
                self._plot.reset_view()
            case keys.Key_Escape if not self._plot.shows_all():
                self._plot.reset_view()
            case keys.Key_C if control:
                (self._plot.copy_data if shift else self._plot.copy_picture)()
            case _:
                return False
        return True

    def _press(self, event: QMouseEvent) -> None:
        self._pressed_at, self._pressed_view = event.position(), self._plot.view()
        if cursor_hit(self._sheet.frame, self._sheet.spec, event.position()):
            self._doing = "cursor"
        elif self._sheet.frame.rect().contains(event.position()):
            boxed = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            self._doing = "box" if boxed else "click"

    def _move(self, at: QPointF) -> None:
        if self._doing == "click" and (at - self._pressed_at).manhattanLength() > _CLICK_PX:
            self._doing = "pan"
        if self._doing == "cursor":
            self._plot.move_cursor(self._sheet.frame.x.value(at.x()))
        elif self._doing == "pan":
            self._pan(at - self._pressed_at)
        elif self._doing == "box":
            self._sheet.zoom_box = QRectF(self._pressed_at, at).normalized().intersected(self._sheet.frame.rect())
            self._plot.repaint_sheet()
        elif not self._doing:
            self._plot.setCursor(pointer_shape(self._sheet.frame, self._sheet.spec, at))

    def _release(self, at: QPointF) -> None:
        doing, self._doing = self._doing, ""
        if doing == "click":
            self._plot.move_cursor(self._sheet.frame.x.value(at.x()))
        box, self._sheet.zoom_box = self._sheet.zoom_box, None
        if doing == "box" and box is not None:
            self._plot.repaint_sheet()
            self._zoom_to(box)

    def _pan(self, by: QPointF) -> None:
        (x_low, x_high), (y_low, y_high) = self._pressed_view
        frame = self._sheet.frame
        x = -by.x() / (frame.right - frame.left) * (x_high - x_low)
        y = by.y() / (frame.bottom - frame.top) * (y_high - y_low)
        self._plot.set_view(((x_low + x, x_high + x), (y_low + y, y_high + y)))

    def _zoom_to(self, box: QRectF) -> None:
        """Show what is in the box; a flat or narrow box zooms the other axis alone."""
        x, y = self._plot.view()
        frame = self._sheet.frame
        if box.width() >= _LEAST_BOX_PX:
            x = (
                _part(x, box.left() - frame.left, frame.rect().width()),
                _part(x, box.right() - frame.left, frame.rect().width()),
            )
        if box.height() >= _LEAST_BOX_PX:
            y = (
                _part(y, frame.bottom - box.bottom(), frame.rect().height()),
                _part(y, frame.bottom - box.top(), frame.rect().height()),
            )
        self._plot.set_view((x, y))

    def _step(self, part: float) -> None:
        """Move the cursor by a part of what is seen."""
        spec = self._sheet.spec
        if spec.cursor_x is None:
            return
        (low, high), _ = self._plot.view()
        by = part * (high - low)
        self._plot.move_cursor(spec.cursor_x * 10.0**by if spec.x.log else spec.cursor_x + by)

    def _zoom(self, factor: float) -> None:
        """Zoom x about the cursor, or about the middle where there is none."""
        spec, ((low, high), _) = self._sheet.spec, self._plot.view()
        at = (low + high) / 2
        if spec.cursor_x is not None and spec.cursor_x > 0.0:
            shown = math.log10(spec.cursor_x) if spec.x.log else spec.cursor_x
            at = shown if low <= shown <= high else at
        self._plot.zoom(factor, x_at=at)


def _part(seen: tuple[float, float], px: float, size_px: float) -> float:
    return seen[0] + px / size_px * (seen[1] - seen[0])
