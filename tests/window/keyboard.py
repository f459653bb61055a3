"""A keyboard for the tests: keys go to whatever window has the hand, as the system would send them, and nothing else.

What waits for an answer before it returns, such as a menu or a file dialog, is answered by what was said before.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QKeyCombination, QPoint, Qt, QTimer
from PySide6.QtGui import QContextMenuEvent, QGuiApplication, QKeySequence, QWindow
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QFileDialog, QMenu, QWidget

_MOST_STOPS = 120
_MOST_WAITS = 2000

Answer = Callable[[], None]


def focused() -> QWidget:
    """Return what has the hand."""
    _window()
    widget = QApplication.focusWidget()
    assert widget is not None
    return widget


def name_of(widget: QWidget) -> str:
    """Return what a screen reader says of a control first."""
    return widget.accessibleName() or (widget.text().replace("&", "") if isinstance(widget, QAbstractButton) else "")


def press(*keys: str) -> None:
    """Press keys one after the other, each by its name, such as "Ctrl+S"."""
    for name in keys:
        sequence: Any = QKeySequence(name)
        combination: QKeyCombination = sequence[0]
        QTest.keyClick(_window(), combination.key(), combination.keyboardModifiers())
        QApplication.processEvents()


def type_text(text: str) -> None:
    """Type a text letter by letter."""
    for letter in text:
        key = Qt.Key(ord(letter.upper()))
        QTest.sendKeyEvent(QTest.KeyAction.Click, _window(), key, letter, Qt.KeyboardModifier.NoModifier)
    QApplication.processEvents()


def type_in(text: str) -> None:
    """Type a text over what the field holds, and confirm it."""
    press("Ctrl+A")
    type_text(text)
    press("Return")


def walk_to(name: str, *, key: str = "Tab") -> None:
    """Press Tab until the control of that name has the hand."""
    for _ in range(_MOST_STOPS):
        if name_of(focused()) == name:
            return
        press(key)
    raise AssertionError(f"Tab never reaches {name}")


def answer(work: Answer) -> list[BaseException]:
    """Let a menu or dialog that is about to open be answered; return a list that takes what goes wrong there."""
    wrong: list[BaseException] = []
    waits = [0]

    def look() -> None:
        waits[0] += 1
        if _open() is None and waits[0] < _MOST_WAITS:
            QTimer.singleShot(0, look)
            return
        try:
            work()
        except BaseException as error:
            wrong.append(error)
        while (left := _open()) is not None and waits[0] < _MOST_WAITS:
            waits[0] += 1
            left.close()

    QTimer.singleShot(0, look)
    return wrong


def press_and_answer(key: str, work: Answer) -> None:
    """Press a key that opens a menu or a dialog, and answer that."""
    do_and_answer(lambda: press(key), work)


def do_and_answer(deed: Callable[[], None], work: Answer) -> None:
    """Do what opens a menu or a dialog, and answer that."""
    wrong = answer(work)
    deed()
    QApplication.processEvents()
    _window()
    if wrong:
        raise wrong[0]


def choose(*names: str) -> None:
    """Choose from the open menu by going down to each name, into its menu, to the next."""
    for name in names:
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu)
        for _ in range(len(menu.actions()) + 1):
            action = menu.activeAction()
            if action is not None and action.text().replace("&", "") == name:
                break
            press("Down")
        else:
            raise AssertionError(f"no {name} in {[each.text() for each in menu.actions()]}")
        press("Right" if name is not names[-1] else "Return")


def context_menu() -> None:
    """Press the menu key; offscreen no platform turns it into the event."""
    widget = focused()
    middle = QPoint(widget.width() // 2, widget.height() // 2)
    event = QContextMenuEvent(QContextMenuEvent.Reason.Keyboard, middle, widget.mapToGlobal(middle))
    QApplication.sendEvent(widget, event)
    QApplication.processEvents()


def name_file(path: object) -> Answer:
    """Answer a file dialog with a path."""

    def work() -> None:
        assert isinstance(_open(), QFileDialog)
        type_in(str(path))

    return work


def _open() -> QWidget | None:
    return QApplication.activePopupWidget() or QApplication.activeModalWidget()


def _window() -> QWindow:
    """Return the window that has the hand; where one was closed the next below gets it, as on every desktop."""
    active = QApplication.activeWindow()
    if active is None or not active.isVisible() or QGuiApplication.focusWindow() is None:
        seen = [each for each in QApplication.topLevelWidgets() if each.isVisible() and each.isWindow()]
        next_below = next((each for each in seen if isinstance(each, QDialog)), seen[0])
        next_below.activateWindow()
        QApplication.processEvents()
    window = QGuiApplication.focusWindow()
    assert window is not None
    return window
