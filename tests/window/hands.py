"""Keys and mouse for the tests, as a person gives them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget

from app.qt.window import MainWindow

Opener = Callable[..., MainWindow]
"""What the fixture `open_window` gives: called with a file and a keeper, it opens a window."""

NONE = Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton


def settle(window: MainWindow) -> None:
    """Show what is due in a window, and let Qt lay it out."""
    window.session.timer.flush()
    QApplication.processEvents()


def key(widget: QWidget, pressed: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
    """Press and release a key."""
    QTest.keyClick(widget, pressed, held)


def type_text(widget: QWidget, text: str) -> None:
    """Type a text letter by letter."""
    QTest.keyClicks(widget, text)


def click(widget: QWidget, place: QPoint | None = None) -> None:
    """Click with the left button, in the middle unless told otherwise."""
    QTest.mouseClick(widget, LEFT, NONE, place if place is not None else widget.rect().center())


def click_entries(*names: str) -> None:
    """Click through the open menu and the menus in it, to the last name."""
    menu = QApplication.activePopupWidget()
    for name in names:
        assert isinstance(menu, QMenu)
        action = next(each for each in menu.actions() if each.text().replace("&", "") == name and each.isVisible())
        inner = action.menu()
        if isinstance(inner, QMenu):
            # what resting the pointer there does, without the wait that differs from system to system
            menu.setActiveAction(action)
            menu = inner
        else:
            click(menu, menu.actionGeometry(action).center())
    QApplication.processEvents()


def send(widget: QWidget, kind: QEvent.Type, place: QPoint, held: Qt.KeyboardModifier = NONE) -> None:
    """Send one mouse event."""
    where = QPointF(place)
    single = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else LEFT
    down = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseButtonRelease else LEFT
    QApplication.sendEvent(widget, QMouseEvent(kind, where, where, single, down, held))


def drag(widget: QWidget, path: list[QPoint], held: Qt.KeyboardModifier = NONE) -> None:
    """Press at the first place, move over the others, let go at the last."""
    send(widget, QEvent.Type.MouseButtonPress, path[0], held)
    for place in path[1:]:
        send(widget, QEvent.Type.MouseMove, place, held)
    send(widget, QEvent.Type.MouseButtonRelease, path[-1], held)
