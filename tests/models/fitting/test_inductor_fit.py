"""Inductors: values come back, what the data does not show is left out."""

from __future__ import annotations

import numpy as np
import pytest

from models.fitting.data import make_measurement
from models.fitting.elements import coil
from models.fitting.inductor_fit import fit_inductor
from tests.models.fitting.synthetic import measured, noisy, rms_db

F = np.geomspace(1e3, 1e9, 601)
W = 2 * np.pi * F
KEYS = ("inductance", "rdc", "capacitance", "parallel_resistance")


@pytest.mark.parametrize(
    "truth", [(1e-6, 0.05, 1e-12, 5e3), (1e-5, 0.3, 5e-12, 2e4), (1e-7, 0.01, 0.3e-12, 2e3), (1e-3, 2.0, 10e-12, 1e5)]
)
def test_finds_the_values(truth: tuple[float, ...]) -> None:
    fit = fit_inductor(measured(F, noisy(coil(np.array(truth), W)[0], np.random.default_rng(1))))
    for key, value in zip(KEYS, truth, strict=True):
        assert fit.keys[key] == pytest.approx(value, rel=0.05)
    assert fit.rms_error_db < 0.02
    assert rms_db(fit.impedance(F), coil(np.array(truth), W)[0]) < 0.01


def test_leaves_out_what_the_data_does_not_show() -> None:
    f = np.geomspace(1e5, 1e6, 51)
    fit = fit_inductor(
        measured(f, noisy(coil(np.array([1e-6, 0.0, 0.0, np.inf]), 2 * np.pi * f)[0], np.random.default_rng(2), 0.1))
    )
    assert set(fit.keys) == {"inductance"}
    assert fit.impedance(np.array([0.0]))[0] == 0


def test_known_dc_resistance_is_kept() -> None:
    z = coil(np.array([1e-6, 0.05, 1e-12, 5e3]), W)[0]
    assert fit_inductor(measured(F, z), rdc_ohm=0.07).keys["rdc"] == pytest.approx(0.07)


def test_dc_is_the_winding_beside_the_loss() -> None:
    fit = fit_inductor(measured(F, coil(np.array([1e-6, 0.05, 1e-12, 5e3]), W)[0]))
    assert fit.impedance(np.array([0.0]))[0].real == pytest.approx(0.05, rel=1e-3)


def test_magnitude_alone_is_enough_for_a_resonance() -> None:
    z = coil(np.array([1e-6, 0.05, 1e-12, 5e3]), W)[0]
    fit = fit_inductor(make_measurement(F, np.abs(z), source="x", has_phase=False))
    for key, value in zip(KEYS, (1e-6, 0.05, 1e-12, 5e3), strict=True):
        assert fit.keys[key] == pytest.approx(value, rel=0.01)
