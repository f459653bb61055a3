from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import ArrayLike

from models.arrays import Real
from models.formulas import burst, discharge, pulse, surge

WAVES: list[Callable[[ArrayLike], Real]] = [
    lambda t: discharge.contact_current(t, 4e3),
    lambda t: burst.burst_pulse(t, 2e3),
    lambda t: surge.surge_voltage(t, 1e3),
]


@pytest.mark.parametrize("wave", WAVES)
def test_nothing_before_the_start_and_nothing_long_after(wave: Callable[[ArrayLike], Real]) -> None:
    np.testing.assert_array_equal(wave([-1e-6, 0.0]), 0.0)
    assert abs(float(wave(0.01))) < 1e-12


def test_discharge_meets_the_targets_of_the_standard() -> None:
    t = np.linspace(0.0, 10e-9, 100_001)
    for level in (2e3, 8e3):
        kilovolts = level / 1e3
        assert np.max(discharge.contact_current(t, level)) == pytest.approx(3.75 * kilovolts, rel=0.15)
        assert discharge.contact_current(30e-9, level) == pytest.approx(2.0 * kilovolts, rel=0.3)
        assert discharge.contact_current(60e-9, level) == pytest.approx(1.0 * kilovolts, rel=0.3)


def test_steepest_slope_is_that_of_the_current() -> None:
    t = np.linspace(0.0, 3e-9, 300_001)
    slope = np.max(np.gradient(discharge.contact_current(t, 6e3), t))
    assert discharge.fast_voltage(6e3, 5e-9) == pytest.approx(5e-9 * slope, rel=5e-4)


def test_the_surge_agrees_with_two_exponentials() -> None:
    """The text-book form for closed solutions, 1.037·(e^(−t/68.22 µs) − e^(−t/0.4074 µs))."""
    t = np.array([2e-6, 10e-6, 50e-6])
    exponentials = 1037.0 * (np.exp(-t / 68.22e-6) - np.exp(-t / 0.4074e-6))
    np.testing.assert_allclose(surge.surge_voltage(t, 1e3), exponentials, rtol=0.05)


def test_charge_is_kept() -> None:
    shared = discharge.shared_voltage(8e3, 1e-9)
    assert shared * (1e-9 + discharge.GUN_F) == pytest.approx(discharge.gun_charge(8e3))
    assert pulse.capacitive_share(10.0, 1e-9, 1e-9) == 5.0


def test_bleeding_to_the_share_takes_the_stated_time() -> None:
    time = discharge.bleed_time(1e6, 1e-9, 0.2)
    assert np.exp(-time / (1e6 * 1e-9)) == pytest.approx(0.2)
