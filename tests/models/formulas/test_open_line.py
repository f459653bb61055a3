"""A line with open ends: its limits, the same line by reflections, and as a ladder of short cells."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.arrays import Complex
from models.formulas.constants import LIGHT_M_PER_S
from models.formulas.gap import gap_line
from models.formulas.open_line import filling_loss, open_line_impedance

LINE = gap_line(3e-3, 30e-3, 30e-3, 1.6e-3, 4.3)
LENGTH_M = 100e-3
F_HZ = np.geomspace(1e5, 3e9, 300)


def found(f_hz: object, at_m: float, tan_delta: float = 0.0) -> Complex:
    omega = 2.0 * math.pi * np.asarray(f_hz, np.float64)
    ends = (at_m, LENGTH_M - at_m)
    return open_line_impedance(omega, LINE.capacitance_f_per_m, LINE.inductance_h_per_m, ends, tan_delta=tan_delta)


@pytest.mark.parametrize("at_m", [0.0, 20e-3, 50e-3, 100e-3])
def test_without_loss_it_is_the_line_by_reflections(at_m: float) -> None:
    """Z = Z0·(1 + Γ1)(1 + Γ2)/(2(1 − Γ1Γ2)), each end open: Γ = e^(−2jkx)."""
    wave_number = 2.0 * math.pi * F_HZ * math.sqrt(LINE.permittivity) / LIGHT_M_PER_S
    left, right = np.exp(-2j * wave_number * at_m), np.exp(-2j * wave_number * (LENGTH_M - at_m))
    by_reflections = LINE.impedance_ohm * (1.0 + left) * (1.0 + right) / (2.0 * (1.0 - left * right))
    assert found(F_HZ, at_m) == pytest.approx(by_reflections, rel=1e-6)


@pytest.mark.parametrize("at_m", [0.0, 20e-3, 75e-3])
def test_it_is_a_ladder_of_short_cells(at_m: float) -> None:
    f, count = np.array([1e6, 30e6, 300e6, 1e9]), 6000
    step, jw = LENGTH_M / count, 2j * math.pi * f
    series, shunt = jw * LINE.inductance_h_per_m * step, jw * LINE.capacitance_f_per_m * step

    def folded(cells: int) -> Complex:
        y = np.zeros(f.shape, np.complex128)
        for _ in range(cells):
            y = y + shunt / 2.0
            y = y / (1.0 + series * y) + shunt / 2.0
        return y

    at = round(at_m / step)
    np.testing.assert_allclose(found(f, at_m), 1.0 / (folded(at) + folded(count - at)), rtol=2e-3)


def test_far_below_resonance_it_is_its_capacitance_with_loss() -> None:
    z = found([10.0 / (2.0 * math.pi)], 0.02, tan_delta=0.01)
    assert z[0] == pytest.approx(1.0 / (10.0j * LINE.capacitance_f_per_m * LENGTH_M * (1.0 - 0.01j)), rel=1e-12)


def test_loss_keeps_a_resonance_finite() -> None:
    """Half a wave long, from its end: Z0/tanh(αl) with α = k·tanδ/2."""
    f = LIGHT_M_PER_S / math.sqrt(LINE.permittivity) / (2.0 * LENGTH_M)
    z = complex(found([f], 0.0, tan_delta=0.02)[0])
    assert z.real == pytest.approx(LINE.impedance_ohm / math.tanh(0.01 * math.pi), rel=1e-3)


def test_field_in_air_loses_nothing() -> None:
    assert filling_loss(4.3, 1.0, 0.02) == 0.0
    assert filling_loss(1.0, 1.0, 0.02) == 0.0
    assert filling_loss(4.3, 4.3, 0.02) == pytest.approx(0.02)
    # a third of the capacitance without a board lies where the board then is: 4 of 6 parts are lossy
    assert filling_loss(4.0, (2.0 + 4.0) / 3.0, 0.03) == pytest.approx(0.03 * 4.0 / 6.0)
