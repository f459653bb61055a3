from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import wire
from models.formulas.constants import ETA0, LIGHT_M_PER_S


def test_series_and_closed_form_of_the_resistance_meet() -> None:
    below, above = wire.radiation_resistance([0.3 - 1e-12, 0.3 + 1e-12])
    assert below == pytest.approx(above, rel=1e-8)


def test_resistance_agrees_with_the_far_field_of_the_current() -> None:
    for kl in (0.05, 0.4, 2.0, math.pi, 9.0):
        cosine, weight = np.polynomial.legendre.leggauss(80)
        pattern = (np.cos(0.5 * kl * cosine) - math.cos(0.5 * kl)) ** 2 / (1.0 - cosine**2)
        assert wire.radiation_resistance(kl) == pytest.approx(ETA0 / (2.0 * math.pi) * (weight @ pattern), rel=1e-7)


def test_a_short_dipole_has_the_resistance_of_a_triangular_current() -> None:
    z = complex(wire.dipole_impedance(1e3, 2.0, 1e-3))
    assert z.real == pytest.approx(ETA0 / (24.0 * math.pi) * (2.0 * math.pi * 1e3 / LIGHT_M_PER_S * 2.0) ** 2, rel=1e-6)
    assert z.imag < -1e6


def test_arm_tends_to_the_dipole_s_resistance_low_down() -> None:
    arm, dipole = wire.arm_impedance(1e4, 1.0, 1e-3), wire.dipole_impedance(1e4, 2.0, 1e-3)
    assert arm.real == pytest.approx(dipole.real, rel=1e-3)
    assert arm.imag == pytest.approx(dipole.imag, rel=0.12)


def test_arm_is_finite_and_passive_from_ten_hertz_to_ten_gigahertz() -> None:
    z = wire.arm_impedance(np.geomspace(10.0, 1e10, 4000), 1.0, 1e-3)
    assert np.all(np.isfinite(z))
    assert np.all(z.real > 0.0)


def test_loss_adds_to_the_resistance_at_resonance() -> None:
    f = LIGHT_M_PER_S / 4.0
    lossy, ideal = wire.arm_impedance(f, 1.0, 1e-3, 5.0), wire.arm_impedance(f, 1.0, 1e-3)
    assert (lossy - ideal).real == pytest.approx(5.0, rel=0.02)


def test_two_like_arms_are_the_dipole() -> None:
    f = np.array([30e6, 200e6])
    np.testing.assert_allclose(wire.pair_impedance(f, (1.0, 1e-3), (1.0, 1e-3)), wire.arm_impedance(f, 1.0, 1e-3))


def test_permitted_current_makes_just_the_field() -> None:
    current = wire.permitted_current(100e-6, [30e6, 88e6], 1.0, 3.0)
    np.testing.assert_allclose(wire.short_wire_field(current, [30e6, 88e6], 1.0, 3.0), 100e-6)
