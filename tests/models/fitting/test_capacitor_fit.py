"""Capacitors: values come back, dispersive dielectrics are followed by slow branches, all passive."""

from __future__ import annotations

import numpy as np
import pytest

from models.fitting.capacitor_fit import fit_capacitor
from models.fitting.data import make_measurement
from models.fitting.elements import condenser
from tests.models.fitting.synthetic import dielectric, measured, noisy, rms_db

F = np.geomspace(1e4, 1e9, 601)
W = 2 * np.pi * F
CHIP = {"capacitance_f": 100e-9, "loss": 0.02, "resistance_ohm": 0.01, "skin_hz": 1e7, "inductance_h": 0.6e-9}
DISC = {"capacitance_f": 2.2e-9, "loss": 0.025, "resistance_ohm": 0.04, "skin_hz": 1e7, "inductance_h": 9e-9}
COG = {"capacitance_f": 1e-9, "loss": 5e-4, "resistance_ohm": 0.02, "skin_hz": 1e7, "inductance_h": 0.6e-9}


@pytest.mark.parametrize("part", [CHIP, DISC, COG], ids=["chip", "disc", "low loss"])
@pytest.mark.parametrize("band", [(1e4, 1e9), (1e5, 3e8), (1e6, 1e8)])
def test_describes_real_capacitors(part: dict[str, float], band: tuple[float, float]) -> None:
    z = noisy(dielectric(F, **part), np.random.default_rng(1))
    fit = fit_capacitor(measured(F, z).within(*band))
    assert fit.rms_error_db < 0.2
    assert fit.rms_error_deg < 2
    assert sum([fit.keys["capacitance"], *(b["capacitance"] for b in fit.keys.get("branches", []))]) == pytest.approx(
        part["capacitance_f"], rel=0.2
    )
    assert fit.keys["esl"] == pytest.approx(part["inductance_h"], rel=0.05)


def test_finds_the_values_of_the_plain_model() -> None:
    truth = np.array([2.2e-9, 0.2, 9e-9, 0.02, np.inf])
    fit = fit_capacitor(measured(F, noisy(condenser(truth, W)[0], np.random.default_rng(2))))
    assert fit.cells == 0
    assert "insulation_resistance" not in fit.keys
    for key, value in zip(("capacitance", "esr", "esl", "dissipation_factor"), truth, strict=False):
        low, high = fit.confidence[key]
        assert fit.keys[key] == pytest.approx(value, rel=0.01)
        assert low < value * 1.01
        assert high > value * 0.99


def test_finds_a_leak_where_it_shows() -> None:
    f = np.geomspace(1.0, 1e8, 401)
    truth = np.array([1e-6, 0.05, 1e-9, 0.005, 1e5])
    fit = fit_capacitor(measured(f, condenser(truth, 2 * np.pi * f)[0]))
    assert fit.keys["insulation_resistance"] == pytest.approx(1e5, rel=0.02)
    assert fit.impedance(np.array([0.0]))[0].real == pytest.approx(1e5, rel=0.02)


def test_blocks_dc_without_a_leak() -> None:
    fit = fit_capacitor(measured(F, condenser(np.array([2.2e-9, 0.2, 9e-9, 0.02, np.inf]), W)[0]))
    assert np.isinf(fit.impedance(np.array([0.0]))[0])


def test_leaves_out_what_the_data_does_not_show() -> None:
    f = np.geomspace(1e3, 1e5, 101)
    fit = fit_capacitor(
        measured(
            f,
            noisy(condenser(np.array([1e-9, 0.0, 0.0, 0.0, np.inf]), 2 * np.pi * f)[0], np.random.default_rng(3), 0.1),
        )
    )
    assert set(fit.keys) == {"capacitance"}


def test_branches_are_passive_and_causal() -> None:
    fit = fit_capacitor(measured(F, dielectric(F, **DISC)))
    assert 1 <= fit.cells <= 4
    assert "dissipation_factor" not in fit.keys
    far = np.geomspace(1, 1e12, 400)
    assert (fit.impedance(far).real > 0).all()
    assert all(value > 0 for branch in fit.keys["branches"] for value in branch.values())


def test_branches_can_be_forbidden() -> None:
    assert fit_capacitor(measured(F, dielectric(F, **DISC)), max_branches=0).cells == 0


def test_magnitude_alone_gives_capacitance_inductance_and_resistance() -> None:
    z = condenser(np.array([2.2e-9, 0.2, 9e-9, 0.0, np.inf]), W)[0]
    fit = fit_capacitor(make_measurement(F, np.abs(z), source="x", has_phase=False))
    assert fit.keys["capacitance"] == pytest.approx(2.2e-9, rel=1e-3)
    assert fit.keys["esl"] == pytest.approx(9e-9, rel=1e-3)
    assert fit.keys["esr"] == pytest.approx(0.2, rel=1e-2)


def test_a_narrow_resonance_in_many_points_is_kept() -> None:
    f = np.geomspace(1e4, 1e9, 100_000)
    truth = np.array([1e-9, 0.02, 1e-9, 1e-4, np.inf])
    z = condenser(truth, 2 * np.pi * f)[0]
    fit = fit_capacitor(measured(f, z))
    assert fit.keys["esr"] == pytest.approx(0.02, rel=0.05)
    assert rms_db(fit.impedance(f), z) < 0.05


def test_same_data_same_answer() -> None:
    m = measured(F, noisy(dielectric(F, **DISC), np.random.default_rng(4)))
    assert fit_capacitor(m) == fit_capacitor(m)
