from __future__ import annotations

import math

import pytest

from models.formulas import line
from models.formulas.constants import LIGHT_M_PER_S

WIRE = line.wire_over_plane(1e-3, 0.8)


def test_wire_over_plane_carries_waves_at_the_speed_of_light() -> None:
    assert 1.0 / math.sqrt(WIRE.inductance_h_per_m * WIRE.capacitance_f_per_m) == pytest.approx(LIGHT_M_PER_S)
    assert math.sqrt(WIRE.inductance_h_per_m / WIRE.capacitance_f_per_m) == pytest.approx(WIRE.impedance_ohm)
    assert pytest.approx(60.0 * math.log(1600.0), rel=1e-3) == WIRE.impedance_ohm
