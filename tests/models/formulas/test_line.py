from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import line
from models.formulas.constants import LIGHT_M_PER_S

F = np.array([1e3, 1e6, 30e6, 300e6])
WIRE = line.wire_over_plane(1e-3, 0.8)
GAMMA, Z0 = line.lossy_line(
    F,
    WIRE.inductance_h_per_m,
    WIRE.capacitance_f_per_m,
    resistance_ohm_per_m=0.02 * np.sqrt(F / 1e6),
    tan_delta=0.01,
)


def test_wire_over_plane_carries_waves_at_the_speed_of_light() -> None:
    assert 1.0 / math.sqrt(WIRE.inductance_h_per_m * WIRE.capacitance_f_per_m) == pytest.approx(LIGHT_M_PER_S)
    assert math.sqrt(WIRE.inductance_h_per_m / WIRE.capacitance_f_per_m) == pytest.approx(WIRE.impedance_ohm)
    assert pytest.approx(60.0 * math.log(1600.0), rel=1e-3) == WIRE.impedance_ohm


def test_losses_attenuate() -> None:
    assert np.all(GAMMA.real > 0.0)
    assert np.all(GAMMA.imag > 0.0)
    ideal, z0 = line.lossy_line(F, WIRE.inductance_h_per_m, WIRE.capacitance_f_per_m)
    np.testing.assert_allclose(ideal, 2j * math.pi * F / LIGHT_M_PER_S, rtol=1e-12, atol=1e-15)
    np.testing.assert_allclose(z0, WIRE.impedance_ohm, rtol=1e-12)


def test_chain_of_two_halves_is_the_whole() -> None:
    half, whole = line.chain_matrix(GAMMA, Z0, 0.75), line.chain_matrix(GAMMA, Z0, 1.5)
    np.testing.assert_allclose(half @ half, whole, rtol=1e-9)
    np.testing.assert_allclose(np.linalg.det(whole), 1.0, rtol=1e-9)


def test_admittance_and_chain_describe_one_line() -> None:
    y, chain = line.admittance_matrix(GAMMA, Z0, 1.5), line.chain_matrix(GAMMA, Z0, 1.5)
    np.testing.assert_allclose(y[:, 0, 0], chain[:, 1, 1] / chain[:, 0, 1], rtol=1e-9)
    np.testing.assert_allclose(y[:, 1, 0], -1.0 / chain[:, 0, 1], rtol=1e-9)
    power = 0.5 * (y + np.conj(np.swapaxes(y, 1, 2)))
    assert np.all(np.linalg.eigvalsh(power) >= -1e-12)


@pytest.mark.parametrize("load", [0.0, 25.0 + 3j, np.inf])
def test_input_impedance_agrees_with_the_admittance_matrix(load: complex) -> None:
    y = line.admittance_matrix(GAMMA, Z0, 1.5)
    far = 0.0 if np.isinf(load) else 1.0 / load if load else np.inf
    through = 0.0 if np.isinf(far) else y[:, 0, 1] * y[:, 1, 0] / (y[:, 1, 1] + far)
    np.testing.assert_allclose(line.input_impedance(GAMMA, Z0, 1.5, load), 1.0 / (y[:, 0, 0] - through), rtol=1e-6)


def test_a_matched_line_is_its_wave_impedance() -> None:
    np.testing.assert_allclose(line.input_impedance(GAMMA, Z0, 1.5, Z0), Z0, rtol=1e-12)
