"""A lesson of one's own, made in the window."""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from app.lessons.document import Drag
from app.qt.lesson_maker import LessonMaker
from app.qt.lesson_view import LessonWindow
from app.qt.theme import Theme
from models.assets import CASES
from models.case.read import load_case
from tests.app.lessons.shipped import LESSONS
from tests.window.hands import click, type_text


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
    assert [each.id for each in window.shelf.lessons][1:] == ["sensor-board-quiet-ground-behind-a-bead"]
    window.open(1)
    window.forward()
    assert isinstance(window.course.step, Drag)
