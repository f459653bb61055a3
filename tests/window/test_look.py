"""Dialogs that stay open follow the look of the window."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot

from app.qt.import_view import ImportView
from app.qt.panel import Panel
from app.qt.purpose_view import PurposeView, QuestionView
from app.qt.report_view import ReportView
from app.qt.search_view import SearchView
from app.qt.session import Session
from app.qt.sizing_view import SizingView
from app.qt.sweep_view import SweepView
from app.qt.theme import Theme, ThemeName, theme_named
from app.report.wish import Wish
from tests.window.now import Later


@pytest.fixture(autouse=True)
def light(session: Session) -> None:
    session.views.change(theme="light")
    session.timer.flush()


@pytest.mark.parametrize(
    "make",
    [
        lambda session: SearchView(session, None, Later()),
        lambda session: SizingView(session, None, Later()),
        lambda session: ImportView(session, None, Later()),
        PurposeView,
        lambda session: SweepView(session, None, Later()),
        lambda session: ReportView(session, Wish(), None, Later()),
    ],
    ids=["search", "sizing", "import", "purpose", "sweep", "report"],
)
def test_an_open_dialog_follows_the_look(
    qtbot: QtBot, theme: Theme, session: Session, make: Callable[[Session], QDialog]
) -> None:
    view = make(session)
    qtbot.addWidget(view)
    panels = view.findChildren(Panel)
    assert panels
    for name in ("dark", "light"):
        session.views.change(theme=name)
        session.timer.flush()
        assert {panel.theme().name for panel in panels} == {ThemeName(name)}
        wanted = theme_named(ThemeName(name)).color("field")
        for question in view.findChildren(QuestionView):
            assert all(box.palette().base().color() == wanted for box in question.boxes)


def test_the_reading_of_a_picture_follows_as_well(qtbot: QtBot, theme: Theme, session: Session) -> None:
    over = ImportView(session, None, Later())
    qtbot.addWidget(over)
    over.read_picture()
    view = next(each for each in over.findChildren(QDialog))
    session.views.change(theme="dark")
    session.timer.flush()
    assert {panel.theme().name for panel in view.findChildren(Panel)} == {ThemeName("dark")}
