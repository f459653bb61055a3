from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.qt.session import Session
from app.qt.sweep_view import SweepView
from app.qt.theme import Theme
from app.sweep.offered import values
from models.assets import DEMO_CASE
from models.case.document import Case
from models.case.read import load_case
from models.declare import get_path
from tests.window.hands import click, key
from tests.window.now import Later, Now

C = ("candidates", 1, "branches", 0, "parts", 0, "capacitance_f")


@pytest.fixture
def case() -> Case:
    return load_case(DEMO_CASE)


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, session: Session) -> SweepView:
    session.views.change(candidate=1, subject=("candidate", 1))
    made = SweepView(session, None, Now())
    qtbot.addWidget(made)
    made.first.points.setText("5")
    made.second.points.setText("4")
    made.show()
    return made


def vary_mains(view: SweepView) -> None:
    addresses = values(view.session.case, 1)
    view.second.value.setCurrentIndex(1 + [each.text for each in addresses].index("mains.voltage"))
    view.second.value.activated.emit(view.second.value.currentIndex())
    view.second.points.setText("4")


def test_the_value_that_the_inspector_shows_is_varied_first(view: SweepView) -> None:
    address = view.first.address()
    assert address is not None
    assert address.path == C
    assert (view.first.low.text(), view.first.high.text()) == ("100 pF", "10 nF")


def test_one_value_gives_the_result_over_it_and_impedances(view: SweepView) -> None:
    click(view.compute)
    mapped = view.mapped()
    assert mapped is not None
    assert mapped.surface.x == pytest.approx([1e-10, 10**-9.5, 1e-9, 10**-8.5, 1e-8])
    assert [curve.value for curve in mapped.curves] == pytest.approx(mapped.surface.x.tolist())
    assert view.plots.curves.isVisible()


def test_two_values_give_a_map_and_a_click_goes_into_the_case_as_one_step(view: SweepView, session: Session) -> None:
    vary_mains(view)
    view.shows.setCurrentText("Touch current, worst")
    click(view.compute)
    spec = view.plots.plot.sheet().spec
    assert "present case" in [curve.label for curve in spec.curves]
    assert any("µA" in mark.label for mark in spec.marks)
    assert not view.use.isEnabled()
    frame = view.plots.plot.sheet().frame
    place = QPointF(frame.x.pixel(3e-9), frame.y.pixel(200.0)).toPoint()
    QTest.mouseClick(view.windowHandle(), Qt.MouseButton.LeftButton, pos=view.plots.plot.mapTo(view, place))
    assert view.use.isEnabled()
    view.choose(3e-9, 200.0)
    before = session.case
    click(view.use)
    assert get_path(session.case, C) == pytest.approx(3e-9)
    assert get_path(session.case, ("mains", "voltage_v")) == pytest.approx(200.0)
    session.store.undo()
    assert session.case == before


def test_what_stands_against_some_points_is_told(view: SweepView, session: Session) -> None:
    place = [each.text for each in values(session.case, 1)].index("source[0].duty")
    view.first.value.setCurrentIndex(place)
    view.first.value.activated.emit(place)
    view.first.low.setText("0.2")
    view.first.high.setText("1.2")
    click(view.compute)
    assert "of 5 points have no result: found duty 1" in view.message.text()
    assert view.message.isVisible()
    assert view.plots.plot.sheet().spec.curves
    view.first.high.setText("0.8")
    click(view.compute)
    assert view.message.text() == ""


def test_the_points_are_copied(view: SweepView) -> None:
    click(view.compute)
    click(view.copy_data)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0] == "candidate[1].branch[0].parts[0].capacitance (F),Impedance in circuit at 1 MHz (Ω)"
    assert len(lines) == 6


def test_a_wrong_range_is_told_beside_its_field(view: SweepView) -> None:
    view.first.low.setText("1 furlong")
    click(view.compute)
    assert "furlong" in view.first.message.text()
    assert view.mapped() is None
    view.first.low.setText("20n")
    click(view.compute)
    assert (
        view.first.message.text() == "Found 20n to 10 nF in 5 points; accepted: values that rise, in 2 points or more."
    )
    view.first.low.setText("1n")
    view.first.points.setText("9000")
    click(view.compute)
    assert "2500" in view.first.message.text()


def test_from_0_over_a_logarithm_is_told_in_the_words_of_the_fields(view: SweepView, session: Session) -> None:
    place = [each.text for each in values(session.case, 1)].index("transformer[0].driven_fraction")
    view.first.value.setCurrentIndex(place)
    view.first.value.activated.emit(place)
    view.first.low.setText("0")
    view.first.spacing.setCurrentText("evenly over the logarithm")
    click(view.compute)
    assert view.first.message.text().endswith("accepted: values above 0, or evenly spaced ones.")


def test_escape_stops_and_then_closes(qtbot: QtBot, theme: Theme, session: Session) -> None:
    later = Later()
    made = SweepView(session, None, later)
    qtbot.addWidget(made)
    made.show()
    made.start()
    assert made.work.progress.isVisible()
    key(made, Qt.Key.Key_Escape)
    later.work()
    assert made.mapped() is None
    assert made.message.text() == "Stopped."
    key(made, Qt.Key.Key_Escape)
    assert not made.isVisible()
