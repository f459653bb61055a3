"""The keys of the lesson window: those of a reader, and before a group those of a presenter as well."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton

from app.qt.lesson_list import LessonRow

if TYPE_CHECKING:
    from app.qt.lesson_view import LessonWindow

_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_FORWARD = (*_ENTER, Qt.Key.Key_PageDown)


def take_key(window: LessonWindow, key: Qt.Key) -> bool:
    """Press the button that has the keys, leave, or step through the open lesson; return whether the key does any."""
    held = window.focusWidget()
    if key in _ENTER and isinstance(held, LessonRow | QPushButton):
        held.click()
    elif key == Qt.Key.Key_Escape:
        window.leave()
    else:
        return window.in_lesson and _step_by(window, key)
    return True


def _step_by(window: LessonWindow, key: Qt.Key) -> bool:
    keys, presents = Qt.Key, window.presenting
    if key in _FORWARD or (presents and key in (keys.Key_Right, keys.Key_Space)):
        window.forward()
    elif key == keys.Key_PageUp or (presents and key == keys.Key_Left):
        window.back()
    elif presents and key in (keys.Key_Up, keys.Key_Down):
        window.page.scroll_by(1 if key == keys.Key_Down else -1)
    elif presents and key == keys.Key_N:
        window.head.notes_button.toggle()
    elif key == keys.Key_F5:
        window.head.present_button.toggle()
    else:
        return False
    return True
