from __future__ import annotations

import pytest
from attrs import evolve
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.qt import search_view
from app.qt.search_view import SearchView
from app.qt.session import Session
from app.qt.theme import Theme
from app.state.search import SearchRequest
from models.case.document import Case
from models.decide.structures import Offer
from models.parts.resistor import Resistor
from tests.window.hands import click, key
from tests.window.now import Later, Now


def few(case: Case) -> SearchRequest:
    kept = case.candidates[1].branches[0].parts[0]
    offers = (Offer(name="1.5 nF", part=kept), Offer(name="4.7 Ω", part=Resistor(resistance_ohm=4.7)))
    return SearchRequest(case=case, offers=offers)


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, session: Session, monkeypatch: pytest.MonkeyPatch) -> SearchView:
    monkeypatch.setattr(search_view, "catalogue_request", few)
    made = SearchView(session, None, Now())
    qtbot.addWidget(made)
    made.show()
    return made


def test_one_click_adds_the_chosen_bridge_and_selects_it(view: SearchView, session: Session) -> None:
    before = session.case
    view.table.setCurrentCell(1, 0)
    click(view.add)
    found = view.found()
    assert found is not None
    assert session.case.candidates[:-1] == before.candidates
    assert session.case.candidates[-1].branches == found.found[1].candidate.branches
    assert session.view.candidate == len(before.candidates)
    assert session.case.candidates[-1].name in view.added.text()
    assert view.added.isVisible()
    session.store.undo()
    session.timer.flush()
    assert session.case == before
    assert not view.added.isVisible()


def test_the_table_is_walked_with_keys(view: SearchView) -> None:
    view.table.setFocus()
    key(view.table, Qt.Key.Key_Down)
    assert view.table.currentRow() == 1


def test_another_requirement_makes_it_stale_and_a_further_candidate_does_not(
    view: SearchView, session: Session
) -> None:
    view.take()
    session.timer.flush()
    assert view.message.text() == ""
    session.change("Remove mains", lambda case: evolve(case, mains=None))
    session.timer.flush()
    assert "Search again" in view.message.text()
    click(view.again)
    assert view.message.text() == ""


def test_a_case_without_requirements_is_not_searched(qtbot: QtBot, theme: Theme, session: Session) -> None:
    session.change("Remove", lambda case: evolve(case, requirements=()))
    later = Later()
    made = SearchView(session, None, later)
    qtbot.addWidget(made)
    assert later.waiting == []
    assert "no requirement" in made.message.text()
    assert not made.add.isEnabled()


def test_escape_stops_the_search_and_then_closes(qtbot: QtBot, theme: Theme, session: Session) -> None:
    later = Later()
    made = SearchView(session, None, later)
    qtbot.addWidget(made)
    made.show()
    assert made.work.progress.isVisible()
    key(made, Qt.Key.Key_Escape)
    later.work()
    assert made.found() is None
    assert made.message.text() == "Stopped."
    assert made.again.isVisible()
    key(made, Qt.Key.Key_Escape)
    assert not made.isVisible()
