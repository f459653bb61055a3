"""SectionView: the board from the side with the current on it; things in it are pointed at, walked to and chosen."""

from __future__ import annotations

import math
from functools import cache
from typing import Protocol

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QScrollBar, QSizePolicy, QToolTip, QWidget

from app.present.section_specs import DrawingSpec, ItemKey, ItemSpec
from app.qt.paint import draw_focus
from app.qt.section_draw import draw_outline
from app.qt.section_layers import Layers
from app.qt.theme import Theme, Type, font

_LEAST = QSize(320, 150)
_BAR = 10
_STEPS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
_LEAPS = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
_EDITS = {
    (Qt.Key.Key_Delete, Qt.KeyboardModifier.NoModifier): "remove",
    (Qt.Key.Key_Backspace, Qt.KeyboardModifier.NoModifier): "remove",
    (Qt.Key.Key_Insert, Qt.KeyboardModifier.NoModifier): "add",
    (Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier): "duplicate",
    (Qt.Key.Key_Left, Qt.KeyboardModifier.ControlModifier): "earlier",
    (Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier): "later",
}


class Drawer(Protocol):
    """Lays the drawing out for a width and height; the chosen part is outlined."""

    def __call__(self, size: tuple[float, float], chosen: ItemKey | None) -> DrawingSpec:
        """Return the drawing."""


@cache
def text_width(text: str, face: str) -> float:
    """Return how wide a text stands in a face of the type scale."""
    return QFontMetricsF(font(Type(face))).horizontalAdvance(text)


class SectionView(QWidget):
    """Paints a DrawingSpec and says what a person chose, asked for or wants done."""

    chosen = Signal(str, int)
    """A subject of the inspector: its kind and index."""
    part_chosen = Signal(int, int)
    """A part of the selected candidate: branch and place; −1 for the whole branch."""
    menu_requested = Signal(str, int, int, QPoint)
    """Kind, index, part (−1 for none) and where on the screen."""
    edit_requested = Signal(str, int, int)
    """add, remove, duplicate, earlier or later, by key; with branch and part."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._drawer: Drawer | None = None
        self._spec = DrawingSpec(width=0.0, height=0.0)
        self._layers = Layers()
        self._wanted = _LEAST.height()
        self._at: ItemKey | None = None
        self._hovered: ItemKey | None = None
        self._part: ItemKey | None = None
        self._bar = QScrollBar(Qt.Orientation.Vertical, self)
        self._bar.hide()
        self._bar.valueChanged.connect(lambda _value: self.update())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.setAccessibleName("Section of the board")

    def render(self, drawer: Drawer, wanted_height: float) -> None:  # type: ignore[override]
        """Show what a drawer draws, now and at every other size."""
        self._drawer = drawer
        if math.ceil(wanted_height) != self._wanted:
            self._wanted = math.ceil(wanted_height)
            self.updateGeometry()
        self._draw()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def spec(self) -> DrawingSpec:
        """Return what is shown."""
        return self._spec

    def current(self) -> ItemSpec | None:
        """Return the item that the keys are at."""
        return self._find(self._at)

    def place_of(self, item: ItemSpec) -> QPoint:
        """Return the middle of an item in the widget."""
        x, y = item.box.middle
        return QPoint(round(x), round(y) - self._bar.value())

    def sizeHint(self) -> QSize:
        """Return the size at which the drawing is at ease."""
        return QSize(900, self._wanted)

    def minimumSizeHint(self) -> QSize:
        """Return the least that can be read; what is higher scrolls."""
        return _LEAST

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the drawing out for the new size."""
        super().resizeEvent(event)
        self._bar.setGeometry(self.width() - _BAR, 0, _BAR, self.height())
        self._draw()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the drawing, and the frames of what is selected, pointed at and walked to."""
        painter = QPainter(self)
        painter.translate(0, -self._bar.value())
        self._layers.paint(painter, self._theme, self._spec)
        for item in self._spec.items:
            if item.selected:
                draw_outline(painter, self._theme, item, "accent", 1.5)
            elif item.key == self._hovered and not self.hasFocus():
                draw_outline(painter, self._theme, item, "field_border", 1.0)
        if self.hasFocus():
            at = self.current()
            if at is None:
                painter.translate(0, self._bar.value())
                draw_focus(painter, self._theme, QRectF(self.rect()), 6.0)
            else:
                draw_outline(painter, self._theme, at, "focus", 2.0)
        painter.end()

    def event(self, event: QEvent) -> bool:
        """Show the card of the item under the pointer."""
        if isinstance(event, QHelpEvent):
            item = self.item_at(event.pos())
            QToolTip.showText(event.globalPos(), item.card() if item else "", self)
            return True
        return super().event(event)

    def item_at(self, place: QPoint | QPointF) -> ItemSpec | None:
        """Return the smallest item at a place of the widget."""
        x, y = place.x(), place.y() + self._bar.value()
        found = [item for item in self._spec.items if item.box.holds(x, y)]
        return min(found, key=lambda item: item.box.width * item.box.height, default=None)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Frame the item under the pointer."""
        item = self.item_at(event.position())
        self._hover(item.key if item else None)

    def leaveEvent(self, event: QEvent) -> None:
        """Frame nothing any more."""
        self._hover(None)
        super().leaveEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Choose the item under the pointer."""
        item = self.item_at(event.position())
        if event.button() == Qt.MouseButton.LeftButton and item is not None:
            self._go_to(item)
            self._choose(item)
        else:
            super().mousePressEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Ask for the menu of an item, by mouse or by key."""
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        item = self.current() if by_key else self.item_at(event.pos())
        if item is None:
            event.ignore()
            return
        self._go_to(item)
        self._ask(item, self.mapToGlobal(self.place_of(item)) if by_key else event.globalPos())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll a drawing that is higher than the widget."""
        if self._bar.isVisible():
            self._bar.setValue(self._bar.value() - event.angleDelta().y() // 2)
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Begin at the first item when the keys come in."""
        super().focusInEvent(event)
        if self.current() is None and self._spec.items:
            self._go_to(next((item for item in self._spec.items if item.selected), self._spec.items[0]))
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk the items, choose one, or ask for an edit."""
        key, item = Qt.Key(event.key()), self.current()
        edit = _EDITS.get((key, event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier))
        if edit is not None:
            self._edit(edit, item)
        elif key in _STEPS and self._spec.items:
            self._step(_STEPS[key])
        elif key in _LEAPS and item is not None:
            self._leap(item, _LEAPS[key])
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End) and self._spec.items:
            self._go_to(self._spec.items[0 if key == Qt.Key.Key_Home else -1])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and item is not None:
            self._choose(item)
        else:
            super().keyPressEvent(event)

    def _draw(self) -> None:
        if self._drawer is None or self.width() < 1:
            return
        scrolls = not self._bar.isHidden()
        spec = self._drafted(self._drawer, scrolls=scrolls)
        if (round(spec.height) > self.height()) != scrolls:
            spec = self._drafted(self._drawer, scrolls=not scrolls)
        if spec.ink != self._spec.ink and self._part is not None:
            # a part of one candidate is none of another
            self._part = None
            spec = self._drafted(self._drawer, scrolls=round(spec.height) > self.height())
        over = round(spec.height) - self.height()
        self._spec = spec
        self._bar.setRange(0, max(over, 0))
        self._bar.setPageStep(self.height())
        self._bar.setVisible(over > 0)
        self._describe()
        self.update()

    def _drafted(self, drawer: Drawer, *, scrolls: bool) -> DrawingSpec:
        """Return the drawing for the present size, with or without room for the bar."""
        return drawer((float(self.width() - (_BAR + 2 if scrolls else 0)), float(self.height())), self._part)

    def _describe(self) -> None:
        at = self.current()
        self.setAccessibleDescription(at.name if at is not None and self.hasFocus() else self._spec.summary)

    def _find(self, key: ItemKey | None) -> ItemSpec | None:
        return next((item for item in self._spec.items if item.key == key), None)

    def _hover(self, key: ItemKey | None) -> None:
        if key != self._hovered:
            self._hovered = key
            self.setCursor(Qt.CursorShape.PointingHandCursor if key else Qt.CursorShape.ArrowCursor)
            self.update()

    def _step(self, by: int) -> None:
        keys = [item.key for item in self._spec.items]
        at = keys.index(self._at) + by if self._at in keys else 0
        self._go_to(self._spec.items[at % len(keys)])

    def _leap(self, item: ItemSpec, way: int) -> None:
        """Go to the nearest item above or below."""
        x, y = item.box.middle
        beyond = [each for each in self._spec.items if (each.box.middle[1] - y) * way > 2.0]
        nearest = min(
            beyond,
            key=lambda each: abs(each.box.middle[1] - y) * 2 + abs(each.box.middle[0] - x),
            default=None,
        )
        if nearest is not None:
            self._go_to(nearest)

    def _go_to(self, item: ItemSpec) -> None:
        self._at = item.key
        if self._bar.isVisible():
            low, high = item.box.bottom + 6 - self.height(), item.box.top - 6
            self._bar.setValue(round(min(max(self._bar.value(), low), high)))
        self._describe()
        self.update()

    def _choose(self, item: ItemSpec) -> None:
        key = item.key
        self._part = key if key.kind == "branch" else None
        if key.kind == "branch":
            self.part_chosen.emit(key.index, key.part)
        elif key.kind == "gap":
            self._ask(item, self.mapToGlobal(self.place_of(item)))
        else:
            self.chosen.emit(key.kind, key.index)
        self._draw()

    def _ask(self, item: ItemSpec, at: QPoint) -> None:
        self.menu_requested.emit(item.key.kind, item.key.index, item.key.part, at)

    def _edit(self, name: str, item: ItemSpec | None) -> None:
        if item is not None and item.key.kind in ("branch", "gap"):
            self.edit_requested.emit(name, item.key.index, item.key.part)
