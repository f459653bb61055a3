"""The line above a page: its dots by mouse and by keys, its menu under its button."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from app.qt.lesson_view import LessonWindow
from tests.app.lessons.shipped import LESSONS
from tests.window.hands import click, key

SHUT = "opens with the answers before it"


def test_dots_go_back_but_not_beyond_an_open_question(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    dots = window.head.dots
    click(dots, dots.place(4).toPoint())
    assert window.course.step.id == "join"
    click(dots, dots.place(0).toPoint())
    assert window.course.step.id == "welcome"


def test_dots_take_the_keys_and_say_which_step_they_stand_on(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    dots, steps = window.head.dots, window.course.lesson.steps
    assert dots.focusPolicy() & Qt.FocusPolicy.TabFocus
    QApplication.processEvents()
    assert dots.width() > dots.place(len(steps) - 1).x()
    dots.setFocus()
    bare = dots.grab().toImage()
    assert dots.accessibleName() == f"Step 2 of {len(steps)}: {steps[1].title}, this one"
    key(dots, Qt.Key.Key_End)
    assert dots.accessibleName() == f"Step {len(steps)} of {len(steps)}: {steps[-1].title}, {SHUT}"
    assert dots.grab().toImage() != bare
    key(dots, Qt.Key.Key_Return)
    assert window.course.step.id == "join"
    key(dots, Qt.Key.Key_Home)
    key(dots, Qt.Key.Key_Return)
    assert window.course.step.id == "welcome"
    assert not dots.hasFocus()


def test_menus_open_under_their_buttons(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.head.explore_button.click()
    for button in (window.head.more_button, window.page.add_button):
        click(button)
        menu = QApplication.activePopupWidget()
        assert menu is not None
        below = button.mapToGlobal(QPoint(0, button.height()))
        assert menu.y() == below.y()
        assert menu.x() == min(below.x(), menu.screen().geometry().right() + 1 - menu.width())
        key(menu, Qt.Key.Key_Escape)


@pytest.mark.parametrize("index", range(len(LESSONS)), ids=[each.id for each in LESSONS])
def test_a_narrow_window_still_shows_the_whole_title(make: Callable[[], LessonWindow], index: int) -> None:
    window = make()
    window.resize(1024, 700)
    window.open(index)
    QApplication.processEvents()
    for label in (window.head.title, window.head.place):
        assert label.width() >= label.fontMetrics().horizontalAdvance(label.full_text())
    assert window.head.place.full_text() == f"{index + 1} of {len(LESSONS)}"
    window.resize(1440, 900)
    QApplication.processEvents()
    assert "minutes" in window.head.place.full_text()


def test_the_parts_wait_for_the_answer(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(4)
    click(window.head.explore_button)
    assert window.page.pills.isVisible()
    window.forward()
    assert window.course.asks_now
    assert not window.head.explore_button.isEnabled()
    assert not window.page.pills.isVisible()
    assert not window.page.section.isVisible()
    window.show_answer()
    assert window.head.explore_button.isEnabled()
    assert window.page.pills.isVisible()
