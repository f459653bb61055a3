"""What a person does with a lesson, by mouse and by keyboard."""

from __future__ import annotations

import math

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QWidget

from app.lessons.document import Choose, Design, Drag, Draw
from app.lessons.predict import OFF, RIGHT, Dragged, Drawn, Picked, ends_of, reply
from app.qt.lesson_view import LessonWindow
from app.state import edits
from tests.app.lessons.shipped import right, wrong
from tests.window.hands import click, drag, key


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
    window.parts.actions.select(len(window.session.case.candidates) - 1)
    settle(window)
