"""One page of a lesson."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QPushButton

from app.lessons.course import Course
from app.qt.lesson_view import LessonWindow
from app.qt.panel import Panel
from app.qt.theme import DARK
from tests.app.lessons.shipped import LESSONS
from tests.window.hands import key
from tests.window.lessons.hands import answer_by_mouse, focused, settle


@pytest.mark.parametrize("size", [(1440, 900), (1024, 700)])
def test_no_word_is_cut_off(make: Callable[[], LessonWindow], size: tuple[int, int]) -> None:
    window = make()
    window.resize(*size)
    window.open(0)
    for _ in range(2 * len(LESSONS[0].steps)):
        if window.course.asks_now:
            answer_by_mouse(window, well=False)
        settle(window)
        for _ in range(3):
            QApplication.sendPostedEvents()
        page = window.page
        for words in (page.heading, page.words, page.why, page.reply.words, page.caution):
            if words.isVisible():
                assert words.height() >= words.heightForWidth(words.width())
        for button in window.findChildren(QPushButton):
            if button.isVisible():
                assert button.width() >= button.fontMetrics().horizontalAdvance(button.text()) + 8
        assert (window.width(), window.height()) == size
        if not window.course.at_end or window.course.asks_now:
            window.forward()


def test_before_a_group_the_question_is_as_large_as_the_words(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.shelf.keep(window.course.forward().show().forward())
    window.open(0)
    ask = window.page.ask
    small = [words.font().pixelSize() for words in ask.findChildren(QLabel)]
    window.head.present_button.click()
    assert all(words.font().pixelSize() > 1.3 * was for words, was in zip(ask.findChildren(QLabel), small, strict=True))


def test_a_task_has_as_many_rows_as_requirements(make: Callable[[], LessonWindow]) -> None:
    window = make()
    for index in (7, 0):
        window.shelf.courses[index] = Course(lesson=LESSONS[index], at=len(LESSONS[index].steps) - 1)
        window.open(index)
        wanted = window.session.case.requirements
        assert len(window.page.checks) == len(wanted) > 0
        assert all(row.isVisible() for row in window.page.checks)
    window.page.back_button.click()
    assert window.page.checks == []


def test_a_question_comes_up_inside_the_window_and_takes_nothing_from_it(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    QApplication.processEvents()
    assert window.isActiveWindow()
    assert focused(window) is window.page.ask.options[0]


def test_the_answer_comes_into_sight_and_a_presenter_reads_on_by_keys(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.resize(1024, 700)
    window.open(0)
    window.forward()
    answer_by_mouse(window, well=False)
    window.forward()
    QApplication.processEvents()
    page = window.page
    view, bar = page._scroll.viewport(), page._scroll.verticalScrollBar()
    top = page.reply.mapTo(view, page.reply.rect().topLeft()).y()
    assert bar.maximum() > 0
    assert 0 <= top < view.height() / 2 or bar.value() == bar.maximum()
    window.back()
    assert bar.value() == 0
    key(window, Qt.Key.Key_F5)
    QApplication.processEvents()
    assert bar.maximum() > 0
    key(window, Qt.Key.Key_Down)
    down = bar.value()
    assert down > 0
    key(window, Qt.Key.Key_Up)
    assert bar.value() < down
    assert window.course.step.id == "welcome"


def test_before_a_group_nothing_tells_how_to_predict_by_hand(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    assert window.page.ask._hint.isVisible()
    small = window.page.caution.font().pixelSize()
    key(window, Qt.Key.Key_F5)
    assert not window.page.ask._hint.isVisible()
    assert window.page.caution.font().pixelSize() > 1.2 * small


def test_before_a_group_the_board_is_drawn_larger_where_there_is_room(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    page = window.page
    assert page.section.isVisible()
    assert not page.board.isVisible()
    window.resize(1920, 1080)
    key(window, Qt.Key.Key_F5)
    QApplication.processEvents()
    assert page.board.isVisible()
    assert not page.section.isVisible()
    assert page.board.scale > 1.3
    bright = page.board.grab().toImage()
    assert len({bright.pixel(x, y) for x in range(0, bright.width(), 7) for y in range(0, bright.height(), 7)}) > 4
    window.set_theme(DARK)
    assert page.board.grab().toImage() != bright
    window.resize(900, 700)
    QApplication.processEvents()
    assert page.board.scale == 1.0


def test_at_its_smallest_no_card_lies_on_another(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.shelf.courses[0] = Course(lesson=LESSONS[0], at=4, shown=frozenset(each.id for each in LESSONS[0].steps))
    window.open(0)
    window.resize(100, 100)
    QApplication.processEvents()
    assert (window.width(), window.height()) == (window.minimumWidth(), window.minimumHeight())
    cards = [card.geometry() for card in window.page.findChildren(Panel) if card.isVisible()]
    assert len(cards) == 3
    assert not any(one.intersects(other) for one in cards for other in cards if one is not other)
    assert all(window.page.rect().contains(card) for card in cards)
