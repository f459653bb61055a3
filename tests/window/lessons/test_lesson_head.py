"""The line above a page."""

from __future__ import annotations

from collections.abc import Callable

from app.qt.lesson_view import LessonWindow
from tests.window.hands import click


def test_dots_go_back_but_not_beyond_an_open_question(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    dots = window.head.dots
    click(dots, dots.place(4).toPoint())
    assert window.course.step.id == "join"
    click(dots, dots.place(0).toPoint())
    assert window.course.step.id == "welcome"
