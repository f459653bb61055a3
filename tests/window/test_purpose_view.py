from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from app.qt.purpose_view import PurposeView
from app.qt.session import Session
from app.qt.theme import Theme
from models.case.document import Case, Coupling, Pair
from models.parts.capacitor import Capacitor
from tests.window.hands import click, key, type_text


@pytest.fixture
def case() -> Case:
    gap = Coupling(name="gap", between=("hot", "cold"), parts=(Capacitor(capacitance_f=1e-12),))
    return Case(pair=Pair(a="hot", b="cold"), couplings=(gap,))


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, session: Session) -> PurposeView:
    made = PurposeView(session)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def choose(view: PurposeView, question: str, down: int) -> None:
    box = view.questions[question].list
    box.setFocus()
    for _ in range(down):
        key(box, Qt.Key.Key_Down)


def tick(view: PurposeView, question: str, answer: int) -> None:
    box = view.questions[question].boxes[answer]
    box.setFocus()
    key(box, Qt.Key.Key_Space)


def limit_editor(view: PurposeView, number: int) -> QLineEdit:
    field = view.form.field(("requirements", number, "limit"))
    assert field is not None
    found = field.editor()
    assert isinstance(found, QLineEdit)
    return found


def test_keys_alone_answer_and_apply_as_one_step(view: PurposeView, session: Session) -> None:
    choose(view, "first", 1)
    tick(view, "apart", 0)
    choose(view, "touch", 2)
    assert view.apply.text() == "Add 3 requirements and mains"
    view.apply.setFocus()
    key(view.apply, Qt.Key.Key_Space)
    assert not view.isVisible()
    assert [each.kind for each in session.case.requirements] == ["separation", "withstand", "touch-current"]
    assert session.case.mains is not None
    session.store.undo()
    assert session.case.requirements == ()
    assert session.case.mains is None


def test_a_typed_limit_is_the_one_that_is_applied(view: PurposeView, session: Session) -> None:
    tick(view, "apart", 3)
    editor = limit_editor(view, 0)
    editor.setFocus()
    editor.selectAll()
    type_text(editor, "250 mV")
    key(editor, Qt.Key.Key_Return)
    click(view.apply)
    assert session.case.requirements[0].limit == 0.25


def test_a_mistake_is_told_beside_its_field_and_changes_nothing(view: PurposeView) -> None:
    tick(view, "apart", 3)
    before = view.draft()
    editor = limit_editor(view, 0)
    editor.setFocus()
    editor.selectAll()
    type_text(editor, "soon")
    key(editor, Qt.Key.Key_Return)
    assert editor.property("wrong")
    assert view.draft() == before
    assert view.isVisible()


def test_without_an_answer_there_is_nothing_to_apply(view: PurposeView) -> None:
    assert not view.apply.isEnabled()
    assert view.apply.text() == "Nothing to add"


def test_no_reason_left_recommends_copper(view: PurposeView, session: Session) -> None:
    choose(view, "first", 3)
    assert "continuous copper" in view.recommendation.text()
    click(view.apply)
    assert [each.name for each in session.case.candidates] == ["Copper"]


def test_escape_leaves_the_case_as_it_was(view: PurposeView, session: Session) -> None:
    before = session.case
    tick(view, "apart", 1)
    key(view, Qt.Key.Key_Escape)
    assert not view.isVisible()
    assert session.case is before


def test_what_the_case_refuses_is_told_in_the_dialog(qtbot: QtBot, theme: Theme) -> None:
    own = Session(Case(pair=Pair(a="hot", b="cold")))
    made = PurposeView(own)
    qtbot.addWidget(made)
    made.show()
    tick(made, "apart", 1)
    click(made.apply)
    assert made.isVisible()
    assert "nothing joins" in made.message.text()
    own.timer.cancel()
