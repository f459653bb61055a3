from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from app.qt.matters import Matters
from app.qt.session import Session
from app.qt.theme import DARK, Theme


@pytest.fixture
def matters(qtbot: QtBot, theme: Theme, session: Session) -> Matters:
    made = Matters(theme, session)
    qtbot.addWidget(made)
    made.show()
    return made


def test_a_moving_cursor_waits_and_a_resting_one_is_answered(matters: Matters, session: Session) -> None:
    before = matters.spec()
    for f_hz in (2e6, 5e6, 60e6):
        session.views.change(cursor_hz=f_hz)
        session.timer.flush()
    assert matters.waits()
    assert matters.spec() is before
    matters.settle()
    assert not matters.waits()
    assert matters.spec().note.startswith("at 60 MHz")


def test_an_edit_is_taken_up(matters: Matters, session: Session) -> None:
    session.views.change(cursor_hz=60e6)
    matters.settle()
    before = matters.spec().rows
    session.type(("candidates", 0, "branches", 0, "parts", 0, "esl_h"), "20 nH")
    matters.settle()
    assert matters.spec().rows != before


def test_something_that_it_does_not_depend_on_starts_nothing(matters: Matters, session: Session) -> None:
    before = matters.spec()
    session.views.change(bridge_alone=True)
    session.timer.flush()
    assert not matters.waits()
    matters.settle()
    assert matters.spec() is before


def test_it_goes_where_something_else_is_selected(matters: Matters, session: Session) -> None:
    session.views.change(subject=("source", 0))
    session.timer.flush()
    assert not matters.isVisible()
    session.views.change(subject=("candidate", 0))
    session.timer.flush()
    assert matters.isVisible()


def test_it_reads_aloud_and_paints_in_both_looks(matters: Matters) -> None:
    row = matters.spec().rows[0]
    assert f"{row.text} ({row.owner}): {row.change}" in matters.accessibleDescription()
    light = matters.grab().toImage()
    matters.set_theme(DARK)
    assert matters.grab().toImage() != light
