from __future__ import annotations

import pytest

from app.present.specs import AxisSpec
from app.qt.plot.ticks import quantity_text, ticks

HZ = AxisSpec(unit="Hz", log=True, low=10.0, high=1e9)
OHM = AxisSpec(unit="Ω", log=True, low=1e-3, high=1e7)


def texts(axis: AxisSpec, low: float, high: float, *, room: int, terse: bool) -> list[str]:
    return [t.text for t in ticks(axis, low, high, room=room, terse=terse) if t.text]


def test_a_terse_axis_names_the_unit_where_the_prefix_changes() -> None:
    expected = ["10 Hz", "100", "1 kHz", "10", "100", "1 MHz", "10", "100", "1 GHz"]
    assert texts(HZ, 10.0, 1e9, room=9, terse=True) == expected


def test_with_little_room_every_second_decade_has_a_text_with_its_unit() -> None:
    assert texts(HZ, 10.0, 1e9, room=5, terse=True) == ["10 Hz", "1 kHz", "100 kHz", "10 MHz", "1 GHz"]
    expected = ["1 mΩ", "100 mΩ", "10 Ω", "1 kΩ", "100 kΩ", "10 MΩ"]
    assert texts(OHM, 1e-3, 1e7, room=6, terse=False) == expected


def test_decades_without_text_keep_their_grid_line() -> None:
    marks = ticks(HZ, 10.0, 1e9, room=5, terse=True)
    assert [t.at for t in marks] == pytest.approx([10.0**e for e in range(1, 10)])


def test_zoomed_in_the_mantissas_appear() -> None:
    assert texts(HZ, 1.5e6, 9e6, room=8, terse=True) == ["2", "3", "4", "5", "6", "7", "8", "9 MHz"]
    assert texts(HZ, 0.9e6, 6e6, room=8, terse=True) == ["1 MHz", "2", "5"]
    assert any(t.minor for t in ticks(HZ, 1e6, 1e8, room=8, terse=True))


def test_a_sliver_of_a_decade_has_linear_ticks() -> None:
    assert texts(HZ, 1.00e6, 1.05e6, room=5, terse=False) == [
        "1 MHz", "1.01 MHz", "1.02 MHz", "1.03 MHz", "1.04 MHz", "1.05 MHz",
    ]  # fmt: skip


def test_linear_axes() -> None:
    volts = AxisSpec(unit="V", low=-2.6, high=2.6)
    assert texts(volts, -2.6, 2.6, room=5, terse=False) == ["−2 V", "0", "2 V"]
    seconds = AxisSpec(unit="s", low=0.0, high=31e-6)
    assert texts(seconds, 0.0, 31e-6, room=4, terse=True) == ["0", "10", "20", "30 µs"]
    millivolts = AxisSpec(unit="V", low=0.0, high=0.8)
    assert texts(millivolts, 0.0, 0.8, room=4, terse=False) == ["0", "200 mV", "400 mV", "600 mV", "800 mV"]


def test_decibels_take_no_prefix_and_say_their_unit_once() -> None:
    level = AxisSpec(unit="dBµV", low=0.0, high=140.0)
    expected = ["0", "20", "40", "60", "80", "100", "120", "140 dBµV"]
    assert texts(level, 0.0, 140.0, room=8, terse=False) == expected
    assert quantity_text(1000.0, "dBµV") == "1000 dBµV"


def test_an_empty_range_has_no_ticks() -> None:
    assert ticks(AxisSpec(unit="V"), 1.0, 1.0, room=5, terse=False) == ()


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [(4700.0, "Ω", "4.7 kΩ"), (1e-9, "F", "1 nF"), (-0.02, "V", "−20 mV"), (0.0, "V", "0 V"), (1e6, "Hz", "1 MHz")],
)
def test_quantity_text(value: float, unit: str, text: str) -> None:
    assert quantity_text(value, unit) == text


def test_few_decades_with_much_room_are_named_within() -> None:
    conducted = AxisSpec(unit="Hz", log=True, low=150e3, high=30e6)
    assert texts(conducted, 150e3, 30e6, room=6, terse=True) == ["300 kHz", "1 MHz", "3", "10", "30"]
    assert texts(conducted, 150e3, 30e6, room=8, terse=True)[:4] == ["200 kHz", "500", "1 MHz", "2"]
    assert texts(conducted, 150e3, 30e6, room=3, terse=True) == ["1 MHz", "10"]


def test_angles_have_steps_of_a_circle_and_no_space_before_the_sign() -> None:
    degrees = AxisSpec(unit="°", low=-97.0, high=97.0)
    assert texts(degrees, -97.0, 97.0, room=8, terse=False) == ["−90", "−60", "−30", "0", "30", "60", "90°"]
    assert texts(degrees, -97.0, 97.0, room=4, terse=False) == ["−90", "0", "90°"]
    assert texts(degrees, 0.0, 3.0, room=4, terse=False)[-1] == "3°"
