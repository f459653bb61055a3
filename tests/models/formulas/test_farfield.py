from __future__ import annotations

import math

import pytest

from models.formulas import farfield, wire
from models.formulas.constants import ETA0, LIGHT_M_PER_S


def test_a_match_takes_the_most() -> None:
    matched = farfield.delivered_power(1.0, 70.0 + 30j, 70.0 - 30j)
    assert matched == pytest.approx(1.0 / (4.0 * 70.0))
    assert farfield.delivered_power(1.0, 70.0 + 30j, 90.0 - 30j) < matched


def test_power_and_current_give_one_field_of_a_half_wave() -> None:
    dipole = complex(wire.dipole_impedance(LIGHT_M_PER_S, 0.5, 1e-4))
    power = abs(1e-3 / dipole) ** 2 * dipole.real
    by_power = farfield.field_of_power(power, 3.0, farfield.wire_directivity(0.5))
    assert by_power == pytest.approx(farfield.half_wave_field(abs(1e-3 / dipole), 3.0), rel=1e-3)


def test_directivity_times_resistance_is_the_greatest_field() -> None:
    for waves in (0.1, 0.5, 1.0):
        resistance = float(wire.radiation_resistance(2.0 * math.pi * waves))
        broadside = ETA0 / math.pi * (1.0 - math.cos(math.pi * waves)) ** 2
        assert farfield.wire_directivity(waves) == pytest.approx(broadside / resistance, rel=1e-6)


@pytest.mark.parametrize("waves", [1.5, 2.0, 7.3])
def test_long_wires_have_more_than_their_broadside(waves: float) -> None:
    resistance = float(wire.radiation_resistance(2.0 * math.pi * waves))
    broadside = ETA0 / math.pi * (1.0 - math.cos(math.pi * waves)) ** 2 / resistance
    assert farfield.wire_directivity(waves) > broadside


def test_ground_in_phase_doubles_the_field() -> None:
    assert farfield.field_of_power(1e-6, 3.0, 1.64, 2.0) == 2.0 * farfield.field_of_power(1e-6, 3.0, 1.64)
