from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QToolButton
from pytestqt.qtbot import QtBot

from app.qt.documents import Documents
from app.qt.estimate_view import EstimateView
from app.qt.session import Session
from app.qt.theme import Theme
from models.assets import CASES
from models.declare import get_path
from models.estimate.registry import ESTIMATES
from tests.window.hands import Opener, click, drag, key, settle, type_text

STRAY = ("couplings", 1, "parts", 0)


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, session: Session) -> EstimateView:
    made = EstimateView(session, None, STRAY)
    qtbot.addWidget(made)
    made.show()
    QApplication.processEvents()
    return made


def line_of(view: EstimateView, name: str) -> QLineEdit:
    field = view.form.field((name,))
    assert field is not None
    line = field.editor()
    assert isinstance(line, QLineEdit)
    return line


def typed(view: EstimateView, name: str, text: str) -> None:
    line = line_of(view, name)
    line.setFocus()
    line.selectAll()
    type_text(line, text)
    key(line, Qt.Key.Key_Return)


def test_the_value_becomes_one_step_that_undo_takes_back(view: EstimateView, session: Session) -> None:
    before = session.case
    assert view.use.text() == "Use 13.9 pF"
    click(view.use)
    assert get_path(session.case, (*STRAY, "capacitance_f")) == 13.9e-12
    assert session.store.undo_name == "Work out output stray, capacitance"
    assert view.isVisible()
    session.store.undo()
    assert session.case == before


def test_undo_and_redo_reach_the_case_from_inside(qtbot: QtBot, view: EstimateView, session: Session) -> None:
    view.activateWindow()
    qtbot.waitUntil(view.isActiveWindow)
    before = session.case
    click(view.use)
    key(line_of(view, "height_m"), Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.case == before
    QTest.keySequence(view, QKeySequence.StandardKey.Redo)
    assert get_path(session.case, (*STRAY, "capacitance_f")) == 13.9e-12


def test_the_result_follows_what_is_typed(view: EstimateView) -> None:
    typed(view, "height_m", "2cm")
    assert line_of(view, "height_m").text() == "20 mm"
    assert view.value.text() == "27.9 pF"
    assert view.use.text() == "Use 27.9 pF"


def test_return_in_a_field_does_not_use_the_value(view: EstimateView, session: Session) -> None:
    before = session.case
    typed(view, "height_m", "3 cm")
    assert session.case is before


def test_the_result_follows_the_slider(view: EstimateView) -> None:
    field = view.form.field(("length_m",))
    assert field is not None
    slider = field.slider()
    assert slider is not None
    before = view.value.text()
    middle = slider.height() // 2
    drag(slider, [QPoint(slider.width() // 2, middle), QPoint(slider.width() - 12, middle)])
    assert view.value.text() != before


def test_a_mistake_stands_beside_its_field_and_changes_nothing(view: EstimateView) -> None:
    typed(view, "height_m", "high")
    field = view.form.field(("height_m",))
    assert field is not None
    assert 'found "high"' in field.error()
    assert view.value.text() == "13.9 pF"
    key(field.editor(), Qt.Key.Key_Escape)
    assert line_of(view, "height_m").text() == "100 mm"
    assert view.isVisible()


def test_the_list_is_walked_with_the_keys(view: EstimateView) -> None:
    view.list.setFocus()
    key(view.list, Qt.Key.Key_Down)
    assert view.draft().name == "free-body"
    key(view.list, Qt.Key.Key_End)
    assert view.draft().name == "lead-to-lead"
    assert view.form.field(("diameter_m",)) is not None


def test_another_value_brings_its_own_estimates(view: EstimateView) -> None:
    view.target.setFocus()
    key(view.target, Qt.Key.Key_Home)
    assert view.draft().name == "interwinding"
    assert view.list.count() == 1
    assert view.caution.isVisible()
    key(view.target, Qt.Key.Key_End)
    assert view.list.count() == len(ESTIMATES)
    assert not view.use.isEnabled()


def test_each_choice_acts_at_once(view: EstimateView) -> None:
    view.target.setFocus()
    key(view.target, Qt.Key.Key_Home)
    key(view.target, Qt.Key.Key_Down)
    field = view.form.field(("swing",))
    assert field is not None
    assert view.value.text() == "50 %"
    key(field.editor(), Qt.Key.Key_Down)
    assert view.value.text() == "5 %"


def test_it_follows_the_case(view: EstimateView, session: Session) -> None:
    click(view.use)
    session.timer.flush()
    assert "is 13.9 pF in the case" in view.now.text()
    assert not view.use.isEnabled()
    session.store.undo()
    session.timer.flush()
    assert view.use.isEnabled()


def test_the_drawing_tells_assistive_tools_what_it_shows(view: EstimateView) -> None:
    assert view.drawing.accessibleDescription() == "Body over a plane: l 200 mm, w 150 mm, t 50 mm, h 100 mm"


def test_a_closed_view_follows_no_more(view: EstimateView, session: Session) -> None:
    view.close()
    shown = view.now.text()
    session.type((*STRAY, "capacitance_f"), "33 pF")
    session.frame.emit()
    assert view.now.text() == shown


def test_it_fits_a_small_screen(view: EstimateView) -> None:
    assert view.minimumSizeHint().width() <= 1000
    assert view.minimumSizeHint().height() <= 660


def test_the_menu_opens_it(qtbot: QtBot, view: EstimateView, session: Session) -> None:
    texts = [action.text().replace("&", "") for action in Documents(session, view).menu().actions()]
    assert "Work out from geometry…" in texts


@pytest.mark.parametrize(
    ("subject", "button", "value"),
    [
        (("transformer", 0), "Geometry…: Values", "T1, interwinding capacitance"),
        (("coupling", 1), "From geometry…: Capacitor", "output stray, capacitance"),
    ],
)
def test_the_inspector_opens_it_for_what_is_selected(
    open_window: Opener, subject: tuple[str, int], button: str, value: str
) -> None:
    window = open_window(CASES / "class-ii-supply.toml")
    window.session.views.change(subject=subject)
    settle(window)
    click(next(each for each in window.inspector.findChildren(QToolButton) if each.accessibleName() == button))
    (view,) = window.findChildren(EstimateView)
    assert view.isVisible()
    assert view.target.currentText() == value
    view.close()
