from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import capacitor, resonance


def test_at_its_resonance_a_capacitor_is_its_esr() -> None:
    f = resonance.resonance_hz(8e-9, 2.2e-9)
    z = complex(capacitor.impedance(f, 2.2e-9, esl_h=8e-9, metal_ohm=0.04, skin_hz=10e6))
    assert z == pytest.approx(0.04 * math.sqrt(1.0 + f / 10e6), rel=1e-9)
    assert resonance.characteristic_ohm(8e-9, 2.2e-9) == pytest.approx(2.0 * math.pi * f * 8e-9)


def test_leakage_takes_over_far_down() -> None:
    z = complex(capacitor.impedance(1e-6, 1e-9, leak_ohm=10e9))
    assert z.real == pytest.approx(10e9, rel=1e-2)


def test_constant_phase_has_the_stated_loss_at_every_frequency() -> None:
    z = capacitor.constant_phase_impedance(np.geomspace(1.0, 1e9, 10), 2.2e-9, 0.025)
    np.testing.assert_allclose(-z.real / z.imag, 0.025, rtol=1e-9)


def test_constant_phase_is_the_capacitance_at_its_reference() -> None:
    z = complex(capacitor.constant_phase_impedance(1e3, 2.2e-9, 0.025))
    assert abs(z) == pytest.approx(1.0 / (2.0 * math.pi * 1e3 * 2.2e-9), rel=1e-9)
    lossless = complex(capacitor.constant_phase_impedance(1e6, 2.2e-9, 0.0))
    assert lossless == pytest.approx(complex(capacitor.impedance(1e6, 2.2e-9)))


def test_leads_far_apart_tend_to_the_logarithm() -> None:
    far = capacitor.lead_pair_inductance(1e-3, 1.0, 0.6e-3)
    assert far == pytest.approx(4e-7 * 1e-3 * math.log(2.0 / 0.6e-3), rel=1e-6)


def test_a_large_part_is_promised_its_product_and_a_small_one_the_ceiling() -> None:
    assert capacitor.leak_resistance(1e-6) == pytest.approx(500e6)
    assert capacitor.leak_resistance(1e-12) == 10e9


def test_impulse_does_not_rise_below_a_microfarad() -> None:
    assert capacitor.impulse_voltage(1e-9) == capacitor.impulse_voltage(1e-6) == 5000.0
    assert capacitor.impulse_voltage(4e-6, 2500.0) == pytest.approx(1250.0)


def test_bounds_take_tolerance_temperature_and_bias_to_their_worse_side() -> None:
    low, high = capacitor.capacitance_bounds(1e-9, 0.2, capacitor.TEMPERATURE_SPANS["Y5U"], 0.8)
    assert low == pytest.approx(1e-9 * 0.8 * 0.44 * 0.8)
    assert high == pytest.approx(1e-9 * 1.2 * 1.22)


def test_bias_counts_either_polarity() -> None:
    np.testing.assert_array_equal(capacitor.bias_ratio([-20.0, 0.0, 20.0], 20.0, 1.8), [0.5, 1.0, 0.5])
