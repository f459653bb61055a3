from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import damping
from models.formulas.resonance import characteristic_ohm, resonance_hz

BRIDGE = (2.2e-9, 20e-9, 100e-12)


def test_without_loss_the_gap_is_blocked_at_the_antiresonance() -> None:
    f = damping.antiresonance_hz(*BRIDGE)
    around = np.abs(damping.bridged_gap_impedance([0.99 * f, f * (1.0 + 1e-7), 1.01 * f], *BRIDGE))
    assert around[1] > 1e4 * max(around[0], around[2])


def test_low_down_both_capacitances_are_in_parallel_and_high_up_only_the_gap_is_left() -> None:
    z = damping.bridged_gap_impedance([1e3, 1e11], *BRIDGE)
    assert z[0].imag == pytest.approx(-1.0 / (2.0 * math.pi * 1e3 * 2.3e-9), rel=1e-6)
    assert z[1].imag == pytest.approx(-1.0 / (2.0 * math.pi * 1e11 * 100e-12), rel=1e-3)


def test_peak_of_little_resistance_follows_its_approximation() -> None:
    for resistance in (1e-6, 0.01):
        peak = damping.antiresonance_peak(*BRIDGE, resistance)
        assert peak == pytest.approx(20e-9 / (100e-12 * resistance) * 2.2 / 2.3, rel=1e-3)


@pytest.mark.parametrize("resistance", [0.1, 1.0, 5.0])
def test_peak_agrees_with_a_fine_sweep(resistance: float) -> None:
    f = np.geomspace(resonance_hz(20e-9, 2.2e-9), 1e9, 400_001)
    swept = np.max(np.abs(damping.bridged_gap_impedance(f, *BRIDGE, resistance)))
    assert damping.antiresonance_peak(*BRIDGE, resistance) == pytest.approx(swept, rel=1e-6)


def test_full_damping_leaves_little_of_the_peak_and_raises_the_floor() -> None:
    full = characteristic_ohm(20e-9, 100e-12)
    assert damping.antiresonance_peak(*BRIDGE, full) < 1.5 * full
    floor = abs(complex(damping.bridged_gap_impedance(resonance_hz(20e-9, 2.2e-9), *BRIDGE, full)))
    assert floor == pytest.approx(full, rel=0.05)
