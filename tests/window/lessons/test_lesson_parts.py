"""The circuit of a lesson, touched, followed and put back."""

from __future__ import annotations

from collections.abc import Callable

from app.lessons.course import Course
from app.qt.lesson_view import LessonWindow
from app.state import edits
from tests.app.lessons.shipped import LESSONS
from tests.window.hands import click
from tests.window.lessons.hands import settle


def test_a_touched_circuit_is_followed_and_put_back(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.shelf.keep(window.course.show())
    for _ in range(2):
        window.forward()
        window.show_answer()
    assert not window.page.put_back_button.isVisible()
    window.head.explore_button.click()
    window.session.type(("candidates", 0, "branches", 0, "parts", 0, "inductance_h"), "20 nH")
    settle(window)
    assert "You have changed the circuit" in window.page.changed.text()
    click(window.page.put_back_button)
    assert not window.page.put_back_button.isVisible()
    assert window.session.case == window.course.lesson.cases["case"]
    window.session.change("Remove", lambda case: edits.remove_at(case, ("candidates", 1)))
    settle(window)
    assert "no longer in the circuit" in window.page.changed.text()
    window.forward()
    assert window.session.case == window.course.lesson.case_of(window.course.step)


def test_the_board_is_drawn_and_its_parts_can_be_chosen(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(8)
    assert window.page.section.isVisible()
    assert not window.page.stage.isVisible()
    window.shelf.courses[8] = Course(lesson=LESSONS[8], at=len(LESSONS[8].steps) - 1)
    window.open(8)
    assert window.page.stage.isVisible()
    window.page.section.chosen.emit("transformer", 0)
    settle(window)
    path = ("transformers", 0, "driven_fraction")
    assert window.page.inspector.field(path) is not None
    window.page.inspector.typed.emit(path, "0.03")
    settle(window)
    assert window.course.solved
    click(window.page.undo_button)
    settle(window)
    assert window.session.case == LESSONS[8].cases["task"]
