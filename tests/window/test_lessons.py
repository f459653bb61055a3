"""The lesson window, played through as a person does: by mouse and by keyboard, right and wrong, left and resumed."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from app.lessons.course import Course
from app.lessons.document import Choose, Design, Drag, Draw
from app.lessons.predict import OFF, RIGHT, Dragged, Drawn, Picked, ends_of, fits, reply
from app.qt.documents import Documents
from app.qt.lesson_maker import LessonMaker
from app.qt.lesson_view import LessonWindow
from app.qt.session import Session
from app.qt.theme import DARK, LIGHT, Theme
from app.state import edits
from models.assets import CASES
from models.case.read import load_case
from tests.app.lessons.shipped import LESSONS, TRUTHS, right, wrong
from tests.window.hands import click, drag, key, type_text

each_lesson = pytest.mark.parametrize("index", range(len(LESSONS)), ids=[each.id for each in LESSONS])


@pytest.fixture
def make(qtbot: QtBot, theme: Theme, tmp_path: Path) -> Callable[[], LessonWindow]:
    def window() -> LessonWindow:
        made = LessonWindow(theme=theme, folder=tmp_path, lessons=LESSONS, truth_of=lambda lesson: TRUTHS[lesson.id])
        qtbot.addWidget(made)
        made.resize(1440, 900)
        made.show()
        made.activateWindow()
        qtbot.waitUntil(made.isActiveWindow)
        return made

    return window


def settle(window: LessonWindow) -> None:
    window.session.timer.flush()


def focused(window: LessonWindow) -> QWidget:
    widget = window.focusWidget()
    assert widget is not None
    return widget


def answer_by_mouse(window: LessonWindow, *, well: bool) -> None:
    """Predict with the mouse alone."""
    step, truth, page = window.course.step, window.truth, window.page
    assert isinstance(step, Choose | Drag | Draw)
    wanted = (right if well else wrong)(truth, step)
    if isinstance(step, Choose) and isinstance(wanted, Picked):
        click(page.ask.options[[each.id for each in step.options].index(wanted.option)])
        settle(window)
        if step.reasons:
            click(page.ask.reasons[[each.id for each in step.reasons].index(wanted.reason)])
    elif isinstance(wanted, Drawn):
        overlay = page.stage.overlay
        path = [overlay.place(f, z).toPoint() for f, z in wanted.points]
        drag(overlay, [QPoint(place.x(), max(place.y(), 12)) for place in path])
    elif isinstance(step, Drag) and isinstance(wanted, Dragged):
        slider = page.ask.slider
        assert slider is not None
        low, high = ends_of(truth, step)
        share = (wanted.value - low) / (high - low)
        if step.scale == "log":
            share = math.log(wanted.value / low) / math.log(high / low)
        drag(slider, [QPoint(9, 10), QPoint(9 + round(share * (slider.width() - 18)), 10)])
    settle(window)
    given = window.course.predictions[step.id]
    assert reply(truth, step, given).outcome == (RIGHT if well else OFF)


def answer_by_keys(window: LessonWindow) -> None:
    """Predict with the keyboard alone, from where the page has put the focus."""
    step = window.course.step
    held = focused(window)
    if isinstance(step, Choose):
        assert held is window.page.ask.options[0]
        key(held, Qt.Key.Key_Space)
        settle(window)
        for _ in step.options:
            key(focused(window), Qt.Key.Key_Down)
        if step.reasons:
            key(focused(window), Qt.Key.Key_Space)
    elif isinstance(step, Drag):
        assert held is window.page.ask.slider
        for _ in range(3):
            key(held, Qt.Key.Key_PageUp)
    else:
        assert held is window.page.stage.overlay
        for k in range(24):
            key(held, Qt.Key.Key_Up if k % 3 else Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
            key(held, Qt.Key.Key_Right)
    settle(window)


def solve(window: LessonWindow) -> None:
    """Put the task's solution into the circuit and select it."""
    step = window.course.step
    assert isinstance(step, Design)
    window.session.change("Add", lambda case: edits.add_candidate(case, step.solution))
    window.actions_on_parts.select(len(window.session.case.candidates) - 1)
    settle(window)


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
            assert window.open_lesson == index + 1


@each_lesson
def test_a_lesson_plays_through_by_keyboard_alone(make: Callable[[], LessonWindow], index: int) -> None:
    window = make()
    for _ in range(index):
        key(focused(window), Qt.Key.Key_Tab)
    key(focused(window), Qt.Key.Key_Space)
    assert window.open_lesson == index
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


def test_a_touched_circuit_is_followed_and_put_back(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window._keep(window.course.show())
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
    window.courses[8] = Course(lesson=LESSONS[8], at=len(LESSONS[8].steps) - 1)
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
    window.courses[1] = Course(lesson=LESSONS[1], at=2).show()
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


def test_dots_go_back_but_not_beyond_an_open_question(make: Callable[[], LessonWindow]) -> None:
    window = make()
    window.open(0)
    window.forward()
    dots = window.head.dots
    click(dots, dots.place(4).toPoint())
    assert window.course.step.id == "join"
    click(dots, dots.place(0).toPoint())
    assert window.course.step.id == "welcome"


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
    click(window.close_overview)
    assert window.list.isVisible()


def test_a_lesson_is_made_from_the_present_case_without_a_file_by_hand(
    qtbot: QtBot, theme: Theme, tmp_path: Path
) -> None:
    case = load_case(CASES / "sensor-board.toml")
    window = LessonWindow(theme=theme, folder=tmp_path, lessons=LESSONS[:1], present_case=lambda: case)
    qtbot.addWidget(window)
    window.show()
    click(window.list.make_button)
    maker = window.findChild(LessonMaker)
    assert maker is not None
    click(maker.make_button)
    assert "at least one question" in maker.message.text()
    maker.at.setText("ten")
    click(maker.add_button)
    assert "Frequency" in maker.message.text()
    maker.at.setText("10 MHz")
    type_text(maker.ask, "How many ohms?")
    click(maker.add_button)
    click(maker.make_button)
    assert [each.id for each in window.lessons][1:] == ["sensor-board-quiet-ground-behind-a-bead"]
    window.open(1)
    window.forward()
    assert isinstance(window.course.step, Drag)


def test_a_broken_lesson_of_ones_own_is_told_in_the_list(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    (tmp_path / "lessons" / "mine").mkdir(parents=True)
    (tmp_path / "lessons" / "mine" / "lesson.toml").write_text("lesson = 3\n", encoding="utf-8")
    window = LessonWindow(theme=theme, folder=tmp_path, lessons=LESSONS[:1])
    qtbot.addWidget(window)
    window.show()
    assert len(window.list.rows) == 1
    assert "mine/lesson.toml" in window.list._message.text()


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
