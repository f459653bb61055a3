"""A lesson window on a folder of its own."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.qt.lesson_view import LessonWindow
from app.qt.theme import Theme
from tests.app.lessons.shipped import LESSONS, TRUTHS


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
