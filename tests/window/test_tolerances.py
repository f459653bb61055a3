from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
from attrs import evolve
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.present.answers import question
from app.qt.answers_menu import AnswersMenu
from app.qt.session import Session
from app.qt.theme import Theme
from app.qt.tolerances import NOTHING, Tolerances
from app.qt.window import MainWindow
from app.state.view import View
from models.case.document import Case, Pair
from tests.window.now import Later

CAPACITANCE = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")


@pytest.fixture
def later() -> Later:
    return Later()


@pytest.fixture
def tolerances(session: Session, later: Later) -> Iterator[Tolerances]:
    made = Tolerances(session, later)
    yield made
    made.close()


def draws(tolerances: Tolerances) -> int:
    return 0 if tolerances.study is None else tolerances.study.request.draws


def test_each_block_asks_for_the_next_until_all_are_drawn(tolerances: Tolerances, later: Later) -> None:
    seen = [draws(tolerances)]
    tolerances.settle()
    while later.waiting:
        later.work()
        seen.append(draws(tolerances))
    assert seen == [0, 16, 64, 1000]
    assert tolerances.said() == "tinted: 5 to 95 % of 1000 draws"
    assert not tolerances.worker.busy


def test_an_edit_takes_the_study_away_at_once_and_gives_up_what_is_under_way(
    tolerances: Tolerances, session: Session, later: Later
) -> None:
    tolerances.settle()
    later.work()
    session.type(CAPACITANCE, "1 nF")
    assert tolerances.study is None
    session.timer.flush()
    assert not tolerances.worker.busy
    later.work()
    assert tolerances.study is None
    tolerances.settle()
    later.work()
    assert tolerances.study is not None
    assert tolerances.study.request.case is session.case


def test_a_moved_cursor_keeps_what_is_drawn_and_waits(tolerances: Tolerances, session: Session, later: Later) -> None:
    tolerances.settle()
    later.work()
    session.views.change(cursor_hz=5e6)
    session.timer.flush()
    assert not tolerances.worker.busy
    assert draws(tolerances) == 16


def test_the_toggle_stops_it(tolerances: Tolerances, session: Session, later: Later) -> None:
    tolerances.settle()
    session.views.change(tolerances=False)
    session.timer.flush()
    later.work()
    tolerances.settle()
    assert not later.waiting
    assert (tolerances.study, tolerances.said()) == (None, "")


def test_the_toggle_is_carried_over_to_another_case(session: Session) -> None:
    session.views.change(tolerances=False, z_shows="phase")
    session.begin(session.case)
    assert session.view == View(tolerances=False, cursor_hz=session.view.cursor_hz)


def test_a_case_without_tolerances_says_so_and_draws_nothing(
    tolerances: Tolerances, session: Session, later: Later
) -> None:
    session.begin(Case(pair=Pair(a="A", b="B")))
    session.timer.flush()
    tolerances.settle()
    assert tolerances.said() == NOTHING
    assert not later.waiting


def test_the_worst_draw_is_a_case_that_says_where_it_is_from(
    tolerances: Tolerances, session: Session, later: Later
) -> None:
    assert tolerances.worst() is None
    tolerances.settle()
    later.work()
    found = tolerances.worst()
    assert found is not None
    assert len(found.candidates) == 1
    assert found.notes is not None
    assert "of 16 within the tolerances" in found.notes
    assert session.case.title in found.notes
    while later.waiting:
        later.work()
    settled = tolerances.worst()
    assert settled is not None
    assert settled.notes is not None
    assert "of 64 within the tolerances" in settled.notes  # as many as every value is known of


def test_no_worst_draw_where_nothing_is_judged(tolerances: Tolerances, session: Session, later: Later) -> None:
    session.begin(evolve(session.case, requirements=()))
    session.timer.flush()
    tolerances.settle()
    later.work()
    assert tolerances.study is not None
    assert tolerances.worst() is None


def test_the_window_shows_the_band_and_an_edit_removes_it_at_once(
    qtbot: QtBot, theme: Theme, session: Session, later: Later
) -> None:
    window = MainWindow(session, later)
    qtbot.addWidget(window)
    window.tolerances.settle()
    later.work()
    session.timer.flush()
    assert any(curve.low is not None for curve in window.impedance.plot.sheet().spec.curves)
    window.answers.grid().setCurrentIndex(window.answers.grid().model().index(3, 0))
    assert "of 16 draws meet it" in window.answers.working()
    session.drag(CAPACITANCE, 1.1e-9)
    session.timer.flush()
    assert all(curve.low is None for curve in window.impedance.plot.sheet().spec.curves)
    session.end_drag()
    session.store.mark_saved()
    window.close()


def test_the_menu_switches_the_band_and_begins_the_worst_draw(
    tolerances: Tolerances, session: Session, later: Later, qtbot: QtBot
) -> None:
    owner, begun = QWidget(), list[Case]()
    qtbot.addWidget(owner)
    band, worst = tolerances.actions(owner, begun.append)
    assert (band.isChecked(), worst.isEnabled()) == (True, False)
    tolerances.settle()
    later.work()
    assert "16 of 1000 draws" in band.text()
    worst.trigger()
    assert [len(case.candidates) for case in begun] == [1]
    band.trigger()
    session.timer.flush()
    assert (band.isChecked(), worst.isEnabled(), session.view.tolerances) == (False, False, False)


def test_each_answer_has_a_worst_draw_of_its_own(tolerances: Tolerances, session: Session, later: Later) -> None:
    tolerances.settle()
    later.work()
    assert tolerances.study is not None
    spreads = tolerances.study.candidates[0].spreads
    judged = [row for row, each in enumerate(spreads) if each.values.size and each.requirement.limit]
    for row in range(len(spreads)):
        found = tolerances.worst(0, row)
        assert (found is not None) is (row in judged)
        if found is not None and found.notes is not None:
            number = int(np.argmax(spreads[row].values)) + 1
            assert found.notes.startswith(f"Draw {number} of 16 ")
            assert question(session.case.requirements[row]) in found.notes
    assert tolerances.worst(1, judged[0]) != tolerances.worst(0, judged[0])


def test_the_menu_of_an_answer_opens_its_worst_draw(
    qtbot: QtBot, tolerances: Tolerances, session: Session, later: Later
) -> None:
    owner, begun, chosen = QWidget(), list[Case](), list[tuple[str, int]]()
    qtbot.addWidget(owner)
    made = AnswersMenu(session, tolerances, begun.append, lambda *subject: chosen.append(subject), owner)
    early = made.menu(3, 1, "said")
    assert not early.actions()[-1].isEnabled()
    tolerances.settle()
    later.work()
    menu = made.menu(3, 1, "said")
    offered = {action.text(): action for action in menu.actions()}
    for words in ("Open the worst draw as a case", "Change the requirement", "Copy the answer"):
        offered[words].trigger()
    offered[f"Select {session.case.candidates[1].name}"].trigger()
    assert begun == [tolerances.worst(1, 3)]
    assert chosen == [("requirement", 3), ("candidate", 1)]
    assert session.view.candidate == 1
    assert QGuiApplication.clipboard().text() == "said"
    of_fact = made.menu(len(session.case.requirements), 0, "said")
    assert "Change the requirement" not in [action.text() for action in of_fact.actions()]
