"""Every lesson played through as a person does, right and wrong."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt

from app.lessons.document import Choose, Design, Drag, Draw
from app.lessons.predict import fits
from app.qt.lesson_view import LessonWindow
from tests.app.lessons.shipped import LESSONS
from tests.window.hands import click, key
from tests.window.lessons.hands import answer_by_keys, answer_by_mouse, focused, solve

each_lesson = pytest.mark.parametrize("index", range(len(LESSONS)), ids=[each.id for each in LESSONS])


@each_lesson
def test_a_lesson_plays_through_by_mouse_with_every_answer_wrong_and_then_right(
    make: Callable[[], LessonWindow], index: int
) -> None:
    window = make()
    for well in (False, True):
        window.open(index)
        window.begin_again()
        while not window.course.at_end:
            step = window.course.step
            if isinstance(step, Choose | Drag | Draw):
                assert not window.page.forward_button.isEnabled()
                answer_by_mouse(window, well=well)
                assert fits(window.course.lesson, step, window.course.predictions[step.id])
                click(window.page.forward_button)
                assert window.page.reply.isVisible()
                assert window.page.why.isVisible()
            click(window.page.forward_button)
        assert not window.course.finished
        assert window.page.checks[0].isVisible()
        solve(window)
        assert window.course.finished
        assert window.page.remember.isVisible()
        if index + 1 < len(LESSONS):
            click(window.page.forward_button)
            assert window.shelf.at == index + 1


@each_lesson
def test_a_lesson_plays_through_by_keyboard_alone(make: Callable[[], LessonWindow], index: int) -> None:
    window = make()
    for _ in range(index):
        key(focused(window), Qt.Key.Key_Tab)
    key(focused(window), Qt.Key.Key_Space)
    assert window.shelf.at == index
    while not window.course.at_end:
        step = window.course.step
        if isinstance(step, Choose | Drag | Draw):
            answer_by_keys(window)
            assert fits(window.course.lesson, step, window.course.predictions[step.id])
            key(focused(window), Qt.Key.Key_Return)
            assert step.id in window.course.shown
        key(window.page.forward_button, Qt.Key.Key_Space)
    assert isinstance(window.course.step, Design)
    key(window.page.forward_button, Qt.Key.Key_PageUp)
    assert not window.course.at_end
