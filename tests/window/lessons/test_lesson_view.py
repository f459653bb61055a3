"""The lesson window: left and resumed, before a group, in another look, beside the main window."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from app.lessons.course import Course
from app.qt.documents import Documents
from app.qt.lesson_view import LessonWindow
from app.qt.session import Session
from app.qt.theme import DARK, LIGHT, Theme
from models.assets import CASES
from models.case.read import load_case
from tests.app.lessons.shipped import LESSONS
from tests.window.hands import click, key
from tests.window.lessons.hands import answer_by_mouse, focused, settle, solve


def test_a_lesson_is_left_and_resumed(make: Callable[[], LessonWindow]) -> None:
    first = make()
    first.open(0)
    first.forward()
    answer_by_mouse(first, well=False)
    first.show_answer()
    first.forward()
    first.close()
    second = make()
    assert second.list.rows[0].accessibleName() == "1. Why separate at all?, step 3 of 5"
    second.open(0)
    assert second.course.step.id == "how-much"
    click(second.page.back_button)
    assert second.page.reply.isVisible()


def test_a_page_can_be_shown_without_a_guess(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    assert window.page.skip_button.isVisible()
    click(window.page.skip_button)
    assert window.page.reply.headline.text().startswith("The answer: Copper")
    assert not window.page.skip_button.isVisible()


def test_words_point_at_curves_and_frequencies(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(1)
    window.shelf.courses[1] = Course(lesson=LESSONS[1], at=2).show()
    window.open(1)
    window.page.pointed.emit("curve:Copper", False)
    settle(window)
    strong = [curve.label for curve in window.spec().plot.curves if curve.strong]  # type: ignore[union-attr]
    assert strong == ["Copper"]
    window.page.pointed.emit("", False)
    window.page.pointed.emit("at:1 GHz", True)
    settle(window)
    plot = window.spec().plot
    assert plot is not None
    assert plot.cursor_x == 1e9
    assert [curve.label for curve in plot.curves if curve.strong] == ["Bead"]


def test_a_presenter_steps_by_keys_in_large_type(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    key(window, Qt.Key.Key_F5)
    assert window.presenting
    small = window.page.words.font().pixelSize()
    assert small > 20
    for pressed in (Qt.Key.Key_Right, Qt.Key.Key_Space, Qt.Key.Key_PageDown):
        key(window, pressed)
    assert window.course.step.id == "how-much"
    assert "join" in window.course.shown
    assert window.page.stage.big.isVisible()
    assert not window.page.notes.isVisible()
    key(window, Qt.Key.Key_N)
    assert window.page.notes.isVisible()
    key(window, Qt.Key.Key_Left)
    assert window.course.step.id == "join"
    key(window, Qt.Key.Key_Escape)
    assert not window.presenting
    assert window.page.words.font().pixelSize() < small
    key(window, Qt.Key.Key_Escape)
    assert window.list.isVisible()


def test_predictions_and_handout(make: Callable[[], LessonWindow], tmp_path: Path) -> None:
    window = make()
    window.open(0)
    window.forward()
    answer_by_mouse(window, well=True)
    window.show_answer()
    window.save_handout(tmp_path / "one.html")
    assert "Your first guess" in (tmp_path / "one.html").read_text(encoding="utf-8")
    window.show_list()
    click(window.list.overview_button)
    assert window.predictions.isVisible()
    grid = window.predictions.grid()
    click(grid.viewport(), grid.visualRect(grid.model().index(0, 1)).center())
    assert "Current runs in loops" in window.predictions.working()
    click(window.close_overview)
    assert window.list.isVisible()


def test_a_broken_lesson_of_ones_own_is_told_in_the_list(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    (tmp_path / "lessons" / "mine").mkdir(parents=True)
    (tmp_path / "lessons" / "mine" / "lesson.toml").write_text("lesson = 3\n", encoding="utf-8")
    window = LessonWindow(theme=theme, folder=tmp_path, lessons=LESSONS[:1])
    qtbot.addWidget(window)
    window.show()
    assert len(window.list.rows) == 1
    assert "mine/lesson.toml" in window.list._message.text()


def test_another_look_reaches_every_part(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    window.set_theme(DARK)
    dark = window.grab().toImage()
    window.set_theme(LIGHT)
    assert window.grab().toImage() != dark


def test_the_main_windows_menu_opens_the_lessons_once_and_they_follow_its_look(
    qtbot: QtBot, theme: Theme, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    owner = QWidget()
    qtbot.addWidget(owner)
    session = Session(load_case(CASES / "gateway.toml"))
    entry = next(each for each in Documents(session, owner).menu().actions() if each.text() == "&Lessons…")
    entry.trigger()
    entry.trigger()
    (window,) = owner.findChildren(LessonWindow)
    assert window.isVisible()
    assert window.list.make_button.isVisible()
    before = session.case
    window.open(0)
    bright = window.grab().toImage()
    session.views.change(theme="dark")
    assert window.grab().toImage() != bright
    assert session.case is before
    session.timer.cancel()
    window.close()


def test_a_task_is_found_as_it_was_left_and_begins_anew_with_its_lesson(make: Callable[[], LessonWindow]) -> None:
    window = make()
    lesson = LESSONS[0]
    window.shelf.courses[0] = Course(lesson=lesson, shown=frozenset(each.id for each in lesson.steps))
    window.open(0)
    window.head.dots.chosen.emit(4)
    solve(window)
    made = window.session.case
    assert made != lesson.cases["task"]
    click(window.page.back_button)
    assert window.session.case == lesson.cases["mains"]
    window.forward()
    assert window.session.case == made
    window.open(1)
    window.open(0)
    assert window.session.case == made
    window.begin_again()
    window.shelf.keep(Course(lesson=lesson, shown=frozenset(each.id for each in lesson.steps)))
    window.head.dots.chosen.emit(4)
    assert window.session.case == lesson.cases["task"]


def test_undo_takes_back_what_was_done_to_a_task(make: Callable[[], LessonWindow]) -> None:
    window = make()
    lesson = LESSONS[0]
    window.shelf.courses[0] = Course(lesson=lesson, at=4, shown=frozenset(each.id for each in lesson.steps))
    window.open(0)
    assert not window.page.undo_button.isEnabled()
    solve(window)
    assert window.course.finished
    click(window.page.undo_button)
    settle(window)
    assert window.session.case == lesson.cases["task"]
    key(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    settle(window)
    assert len(window.session.case.candidates) == 2
    key(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    settle(window)
    assert window.session.case == lesson.cases["task"]


def test_enter_opens_the_lesson_under_the_keys_and_other_keys_leave_the_lessons_alone(
    make: Callable[[], LessonWindow],
) -> None:
    window = make()
    for _ in range(2):
        key(focused(window), Qt.Key.Key_Down)
    key(focused(window), Qt.Key.Key_PageDown)
    assert window.list.isVisible()
    assert [each.at for each in window.shelf.courses[:3]] == [0, 0, 0]
    key(focused(window), Qt.Key.Key_Return)
    assert window.shelf.at == 2
    assert not window.list.isVisible()
    assert window.course.at == 0


def test_enter_presses_the_button_that_has_the_keys(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    key(focused(window), Qt.Key.Key_Return)
    assert window.course.at == 1
    window.page.back_button.setFocus()
    key(window.page.back_button, Qt.Key.Key_Return)
    assert window.course.at == 0
    window.head.list_button.setFocus()
    key(window.head.list_button, Qt.Key.Key_Enter)
    assert window.list.isVisible()


def test_the_list_comes_back_with_the_lesson_that_was_left_in_sight(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.resize(1024, 700)
    last = len(LESSONS) - 1
    for index in (last, 0):
        window.open(index)
        key(focused(window), Qt.Key.Key_Escape)
        QApplication.processEvents()
        row = window.list.rows[index]
        assert focused(window) is row
        assert row.visibleRegion().boundingRect() == row.rect()
