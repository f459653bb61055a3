"""A line with open ends: its limits, and the same line by reflections."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas.gap import gap_impedance, gap_line
from models.formulas.open_line import filling_loss, open_line_impedance

LINE = gap_line(3e-3, 30e-3, 30e-3, 1.6e-3, 4.3)
F_HZ = np.geomspace(1e5, 3e9, 300)


@pytest.mark.parametrize("at_m", [0.0, 20e-3, 50e-3, 100e-3])
def test_without_loss_it_is_the_line_by_reflections(at_m: float) -> None:
    ends = (at_m, 100e-3 - at_m)
    z = open_line_impedance(2.0 * math.pi * F_HZ, LINE.capacitance_f_per_m, LINE.inductance_h_per_m, ends)
    assert z == pytest.approx(gap_impedance(F_HZ, LINE, 100e-3, at_m), rel=1e-6)


def test_far_below_resonance_it_is_its_capacitance_with_loss() -> None:
    z = open_line_impedance(
        np.array([10.0]), LINE.capacitance_f_per_m, LINE.inductance_h_per_m, (0.02, 0.08), tan_delta=0.01
    )
    assert z[0] == pytest.approx(1.0 / (10.0j * LINE.capacitance_f_per_m * 0.1 * (1.0 - 0.01j)), rel=1e-12)


def test_field_in_air_loses_nothing() -> None:
    assert filling_loss(4.3, 1.0, 0.02) == 0.0
    assert filling_loss(1.0, 1.0, 0.02) == 0.0
    assert filling_loss(4.3, 4.3, 0.02) == pytest.approx(0.02)
    # a third of the capacitance without a board lies where the board then is: 4 of 6 parts are lossy
    assert filling_loss(4.0, (2.0 + 4.0) / 3.0, 0.03) == pytest.approx(0.03 * 4.0 / 6.0)
