from __future__ import annotations

import pytest
from attrs import evolve
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.qt.session import Session
from app.qt.sizing_view import SizingView
from app.qt.theme import Theme
from models.assets import CASES
from models.case.read import load_case
from tests.window.hands import click, key
from tests.window.now import Later, Now


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, session: Session) -> SizingView:
    made = SizingView(session, None, Now())
    qtbot.addWidget(made)
    made.show()
    return made


@pytest.fixture
def waiting(qtbot: QtBot, theme: Theme, session: Session) -> tuple[SizingView, Later]:
    later = Later()
    made = SizingView(session, None, later)
    qtbot.addWidget(made)
    made.show()
    return made, later


def test_the_value_becomes_one_step_that_undo_takes_back(view: SizingView, session: Session) -> None:
    before = session.case
    assert view.use.text() == "Use 1.5 nF"
    click(view.use)
    assert session.case.candidates[0].branches[0].parts == session.case.candidates[1].branches[0].parts
    session.store.undo()
    assert session.case == before


def test_a_candidate_that_was_added_is_selected_and_named(view: SizingView, session: Session) -> None:
    copper = [each.name for each in session.case.candidates].index("Copper")
    session.views.change(candidate=copper)
    view.refresh()
    assert view.use.text() == "Add as candidate"
    count = len(session.case.candidates)
    click(view.use)
    assert session.view.subject == ("candidate", count)
    assert f"is in “{session.case.candidates[count].name}”" in view.taken.text()
    session.timer.flush()
    assert view.taken.isVisible()
    assert view.use.text() == "Use 1.5 nF"
    session.store.undo()
    session.timer.flush()
    assert not view.taken.isVisible()


def test_the_words_on_the_button_are_whole(view: SizingView, session: Session) -> None:
    copper = [each.name for each in session.case.candidates].index("Copper")
    session.views.change(candidate=copper)
    view.refresh()
    QApplication.processEvents()
    words = view.use.fontMetrics().horizontalAdvance(view.use.text())
    assert view.use.width() > words


def test_without_mains_the_peak_has_all_the_room(view: SizingView, session: Session) -> None:
    assert view.touch.isVisible()
    session.change("Remove mains", lambda case: evolve(case, mains=None))
    view.refresh()
    assert not view.touch.isVisible()


def test_return_takes_the_value(view: SizingView, session: Session) -> None:
    before = session.case
    key(view, Qt.Key.Key_Return)
    assert session.case != before


def test_escape_shows_a_zoomed_plot_whole_and_then_closes(view: SizingView, qtbot: QtBot) -> None:
    view.activateWindow()
    qtbot.waitUntil(view.isActiveWindow)
    view.peak.setFocus()
    key(view.peak, Qt.Key.Key_Plus)
    assert not view.peak.shows_all()
    key(view.peak, Qt.Key.Key_Escape)
    assert view.peak.shows_all()
    assert view.isVisible()
    key(view.peak, Qt.Key.Key_Escape)
    assert not view.isVisible()


def test_another_case_is_sized_anew(view: SizingView, session: Session) -> None:
    mains = session.case.mains
    assert mains is not None
    session.change("Change mains", lambda case: evolve(case, mains=evolve(mains, voltage_v=120.0)))
    view.refresh()
    sized = view.sized()
    assert sized is not None
    assert sized.request.case is session.case
    assert view.value.count() == 3


def test_the_value_chosen_is_the_one_on_the_button(view: SizingView, session: Session) -> None:
    mains = session.case.mains
    assert mains is not None
    session.change("Change mains", lambda case: evolve(case, mains=evolve(mains, voltage_v=120.0)))
    view.refresh()
    view.value.setFocus()
    key(view.value, Qt.Key.Key_Home)
    assert view.use.text() == "Use 1.5 nF"
    view.touch.cursor_moved.emit(1e-6)
    assert view.use.text() == f"Use {view.value.itemText(2)}"


def test_until_it_is_computed_there_is_nothing_to_use(waiting: tuple[SizingView, Later]) -> None:
    view, later = waiting
    assert view.work.progress.isVisible()
    assert not view.use.isEnabled()
    later.work()
    assert not view.work.progress.isVisible()
    assert view.use.isEnabled()


def test_a_result_for_another_case_is_shown_but_not_used(waiting: tuple[SizingView, Later], session: Session) -> None:
    view, later = waiting
    later.work()
    session.views.change(candidate=1)
    view.refresh()
    assert not view.use.isEnabled()


def test_escape_stops_what_is_under_way_and_then_closes(waiting: tuple[SizingView, Later]) -> None:
    view, later = waiting
    key(view, Qt.Key.Key_Escape)
    assert view.isVisible()
    later.work()
    assert view.sized() is None
    assert view.message.text() == "Stopped."
    key(view, Qt.Key.Key_Escape)
    assert not view.isVisible()


def test_a_closed_view_asks_for_nothing_more(waiting: tuple[SizingView, Later], session: Session) -> None:
    view, later = waiting
    later.work()
    view.close()
    session.views.change(candidate=1)
    session.frame.emit()
    assert not view.work.worker.busy


def test_the_menu_opens_it(qtbot: QtBot, theme: Theme) -> None:
    from app.qt.documents import Documents

    own = Session(load_case(CASES / "sensor-board.toml"))
    made = SizingView(own, None, Later())
    qtbot.addWidget(made)
    texts = [action.text().replace("&", "") for action in Documents(own, made).menu().actions()]
    assert "Size the capacitor…" in texts
    own.timer.cancel()
