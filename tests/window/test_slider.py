from __future__ import annotations

import attrs
import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from pytestqt.qtbot import QtBot

from app.qt.slider import Travel, ValueSlider
from app.qt.theme import Theme
from tests.window import made_up
from tests.window.hands import drag, key, send


@pytest.fixture
def slider(qtbot: QtBot, theme: Theme) -> ValueSlider:
    made = ValueSlider(theme, made_up.capacitance())
    qtbot.addWidget(made)
    made.resize(318, 20)
    made.show()
    return made


def told(slider: ValueSlider) -> list[float]:
    values: list[float] = []
    slider.moved.connect(values.append)
    return values


def test_a_decade_is_a_decade_anywhere_on_a_log_travel() -> None:
    travel = Travel.of(made_up.capacitance())
    places = [travel.place(v) for v in (1e-11, 1e-10, 1e-9, 1e-8, 1e-7)]
    assert places == pytest.approx([0.0, 0.25, 0.5, 0.75, 1.0])
    assert travel.value(0.5) == pytest.approx(1e-9)


def test_values_beyond_the_travel_stand_at_its_ends() -> None:
    travel = Travel.of(made_up.capacitance())
    assert travel.place(1.0) == 1.0
    assert travel.place(1e-15) == 0.0
    assert travel.place(None) == 0.0


def test_the_lowest_place_is_exactly_zero_where_the_field_has_that() -> None:
    assert Travel.of(made_up.resistance()).value(0.0) == 0.0
    assert Travel.of(made_up.resistance()).place(0.0) == 0.0
    assert Travel.of(made_up.capacitance()).value(0.0) == 1e-11


def test_a_linear_travel() -> None:
    travel = Travel(low=-1.0, high=1.0, log=False, zero=False)
    assert travel.place(0.5) == pytest.approx(0.75)
    assert travel.value(0.25) == pytest.approx(-0.5)


def test_dragged_values_are_ones_a_person_could_have_typed() -> None:
    travel = Travel.of(made_up.capacitance())
    for k in range(1, 100):
        value = travel.value(k / 100)
        assert value == float(f"{value:.3g}")


def test_standard_values_follow_each_other() -> None:
    travel = Travel.of(made_up.capacitance())
    assert travel.beside(2.2e-9, up=True) == pytest.approx(3.3e-9)
    assert travel.beside(2.2e-9, up=False) == pytest.approx(1.5e-9)
    assert travel.beside(2.3e-9, up=False) == pytest.approx(2.2e-9)
    assert travel.beside(6.8e-8, up=True) == 6.8e-8


def test_a_drag_tells_every_value_and_its_end_once(slider: ValueSlider) -> None:
    values, ends = told(slider), []
    slider.let_go.connect(lambda: ends.append(1))
    drag(slider, [QPoint(x, 10) for x in range(20, 300, 4)])
    assert len(values) == 70
    assert values == sorted(values)
    assert ends == [1]


def test_with_shift_a_drag_goes_from_standard_value_to_standard_value(slider: ValueSlider) -> None:
    values = told(slider)
    drag(slider, [QPoint(x, 10) for x in range(20, 300, 2)], Qt.KeyboardModifier.ShiftModifier)
    assert set(values) <= set(made_up.capacitance().steps)
    assert len(values) > 15


def test_the_knob_stays_under_the_hand(slider: ValueSlider) -> None:
    send(slider, QEvent.Type.MouseButtonPress, QPoint(200, 10))
    held = slider.knob_x()
    slider.show_spec(attrs.evolve(made_up.capacitance(), value=1e-11))
    assert slider.knob_x() == held
    send(slider, QEvent.Type.MouseButtonRelease, QPoint(200, 10))
    slider.show_spec(attrs.evolve(made_up.capacitance(), value=1e-11))
    assert slider.knob_x() < 12.0


def test_showing_a_value_tells_nothing(slider: ValueSlider) -> None:
    values = told(slider)
    slider.show_spec(attrs.evolve(made_up.capacitance(), value=1e-8))
    slider.show_spec(attrs.evolve(made_up.capacitance(), value=5.0))
    assert values == []


def test_keys(slider: ValueSlider) -> None:
    values, ends = told(slider), []
    slider.let_go.connect(lambda: ends.append(1))
    keys = (Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Left, Qt.Key.Key_Home, Qt.Key.Key_End, Qt.Key.Key_PageDown)
    for pressed in keys:
        key(slider, pressed)
    assert values == pytest.approx([3.3e-9, 4.7e-9, 3.3e-9, 1e-11, 1e-7, 10**-7.4], rel=5e-3)
    assert len(ends) == len(keys)
