from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import capacitor, resonance
from models.parts.capacitor import Capacitor


def test_at_its_resonance_a_capacitor_is_its_resistance() -> None:
    f = resonance.resonance_hz(8e-9, 2.2e-9)
    part = Capacitor(capacitance_f=2.2e-9, esl_h=8e-9, metal_resistance_ohm=0.04, metal_corner_hz=10e6)
    z = complex(part.impedance(np.array([2.0 * math.pi * f]))[0])
    assert z == pytest.approx(0.04 * math.sqrt(1.0 + f / 10e6), rel=1e-9)
    assert resonance.characteristic_ohm(8e-9, 2.2e-9) == pytest.approx(2.0 * math.pi * f * 8e-9)


def test_leads_far_apart_tend_to_the_logarithm() -> None:
    far = capacitor.lead_pair_inductance(1e-3, 1.0, 0.6e-3)
    assert far == pytest.approx(4e-7 * 1e-3 * math.log(2.0 / 0.6e-3), rel=1e-6)


def test_a_large_part_is_promised_its_product_and_a_small_one_the_ceiling() -> None:
    assert capacitor.leak_resistance(1e-6) == pytest.approx(500e6)
    assert capacitor.leak_resistance(1e-12) == 10e9


def test_impulse_does_not_rise_below_a_microfarad() -> None:
    assert capacitor.impulse_voltage(1e-9) == capacitor.impulse_voltage(1e-6) == 5000.0
    assert capacitor.impulse_voltage(4e-6, 2500.0) == pytest.approx(1250.0)


def test_bias_counts_either_polarity() -> None:
    np.testing.assert_array_equal(capacitor.bias_ratio([-20.0, 0.0, 20.0], 20.0, 1.8), [0.5, 1.0, 0.5])
