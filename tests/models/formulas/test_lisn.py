from __future__ import annotations

import numpy as np
import pytest

from models.formulas import lisn


def test_network_is_its_series_resistance_at_dc_and_the_port_high_up() -> None:
    z = lisn.network_impedance([0.0, 1e9], 50e-6, 5.0)
    assert z[0] == pytest.approx(5.0 * 50.0 / 55.0)
    assert z[1] == pytest.approx(50.0, rel=1e-3)
    assert complex(lisn.network_impedance(0.0)) == 0.0


def test_both_lines_are_half_of_one() -> None:
    f = np.geomspace(9e3, 30e6, 7)
    np.testing.assert_allclose(lisn.common_mode_impedance(f, 5e-6), 0.5 * lisn.network_impedance(f, 5e-6))
