from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import lisn, winding


def test_network_is_its_series_resistance_at_dc_and_the_port_high_up() -> None:
    z = lisn.network_impedance([0.0, 1e9], 50e-6, 5.0)
    assert z[0] == pytest.approx(5.0 * 50.0 / 55.0)
    assert z[1] == pytest.approx(50.0, rel=1e-3)
    assert complex(lisn.network_impedance(0.0)) == 0.0


def test_both_lines_are_half_of_one() -> None:
    f = np.geomspace(9e3, 30e6, 7)
    np.testing.assert_allclose(lisn.common_mode_impedance(f, 5e-6), 0.5 * lisn.network_impedance(f, 5e-6))


def test_current_and_voltage_are_each_other_s_inverse() -> None:
    z = lisn.common_mode_impedance(150e3)
    assert lisn.line_current(lisn.line_voltage(7e-6, z), z) == pytest.approx(7e-6)


def test_current_through_the_loop_agrees_with_the_gap_voltage_over_it() -> None:
    f, loop = 1e6, 25.0 + 40j
    current = complex(lisn.winding_current(f, 3.0, 40e-12, 100e-12, loop))
    gap = complex(winding.bridged_gap_voltage(f, 3.0, 40e-12, 60e-12, loop))
    assert current * loop == pytest.approx(gap, rel=1e-12)


def test_above_its_corner_a_bridge_halves_the_power_in_the_loop() -> None:
    f = lisn.bridge_corner_hz(2.2e-9)
    with_bridge = abs(complex(lisn.winding_current(f, 1.0, 40e-12, 2.2e-9, 25.0)))
    assert with_bridge / (2.0 * math.pi * f * 40e-12) == pytest.approx(math.sqrt(0.5))


def test_artificial_hand_is_resistive_high_up() -> None:
    assert complex(lisn.artificial_hand_impedance(1e9)) == pytest.approx(510.0, abs=1.0)
