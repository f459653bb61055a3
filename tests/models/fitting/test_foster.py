"""Beads: exact networks come back, dispersive ferrites come close, and faults do not lead astray."""

from __future__ import annotations

import numpy as np
import pytest

from models.errors import DataError
from models.fitting.data import make_measurement
from models.fitting.foster import fit_bead
from models.fitting.refine import FLOOR_NEPER
from tests.models.fitting.synthetic import ferrite, foster, measured, noisy, random_ferrite, rms_db

F = np.geomspace(1e6, 1e9, 301)


@pytest.mark.parametrize("seed", range(12))
def test_recovers_an_exact_network(seed: int) -> None:
    rng = np.random.default_rng(seed)
    count = 1 + seed % 4
    f = np.geomspace((1e5, 1e6)[seed % 2], 1e9, (61, 201, 801)[seed % 3])
    resonance = np.exp(rng.uniform(np.log(2e6), np.log(8e8), count))
    quality = np.exp(rng.uniform(np.log(0.2), np.log(5), count))
    r = np.exp(rng.uniform(np.log(50), np.log(1000), count))
    cells = np.stack([r, r / (2 * np.pi * resonance * quality), quality / (2 * np.pi * resonance * r)], axis=1)
    z = foster(f, 0.3, cells)
    fit = fit_bead(measured(f, z))
    assert rms_db(fit.impedance(f), z) < 0.02
    assert fit.rms_error_db < 0.02


@pytest.mark.parametrize("seed", range(6))
def test_describes_dispersive_ferrite(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    f = np.geomspace(1e6, 1e8, 201) if seed % 2 else np.linspace(1e6, 1e8, 1001)
    m = measured(f, noisy(random_ferrite(f, rng), rng))
    three, four = fit_bead(m, max_cells=3), fit_bead(m, max_cells=4)
    assert three.cells <= 3
    assert three.rms_error_db < 0.3
    assert three.rms_error_deg < 3
    assert four.rms_error_db < 0.15
    assert four.rms_error_deg < 1.5


def test_takes_no_more_cells_than_the_data_supports() -> None:
    rng = np.random.default_rng(1)
    z = foster(F, 0.3, np.array([[600, 1.4e-6, 0.5e-12]]))
    assert fit_bead(measured(F, z)).cells == 1
    assert fit_bead(measured(F, noisy(z, rng, 0.3))).cells == 1
    two = foster(F, 0.3, np.array([[600, 0.5e-6, 0.5e-12], [100, 3e-6, 3e-12]]))
    assert fit_bead(measured(F, noisy(two, rng, 0.1))).cells == 2


def test_finds_the_values_of_a_cell_within_their_confidence() -> None:
    truth = {"rdc": 0.3, "cells[0].resistance": 600, "cells[0].inductance": 1.4e-6, "cells[0].capacitance": 0.5e-12}
    z = foster(F, 0.3, np.array([[600, 1.4e-6, 0.5e-12]]))
    inside = 0
    for seed in range(20):
        fit = fit_bead(measured(F, noisy(z, np.random.default_rng(seed), 0.2)), max_cells=1)
        for name, value in truth.items():
            low, high = fit.confidence[name]
            inside += low < value < high
            assert high / low < (10 if name == "rdc" else 1.05)
    assert inside >= 70  # 76 of 80 expected


def test_same_data_same_answer() -> None:
    m = measured(F, noisy(ferrite(F), np.random.default_rng(3), 0.1))
    assert fit_bead(m) == fit_bead(m)


def test_outliers_hardly_matter() -> None:
    rng = np.random.default_rng(4)
    z = noisy(ferrite(F), rng)
    spoiled = z.copy()
    bad = rng.choice(F.size, 12, replace=False)
    spoiled[bad] *= 10 ** rng.uniform(-1, 1, bad.size)
    fit = fit_bead(measured(F, spoiled))
    assert rms_db(fit.impedance(F), ferrite(F)) < 0.06
    assert any("far off the rest" in said for said in fit.warnings)


def test_noise_averages_out() -> None:
    fit = fit_bead(measured(F, noisy(ferrite(F), np.random.default_rng(5), 0.5)))
    assert rms_db(fit.impedance(F), ferrite(F)) < 0.15


def test_few_points_and_no_phase() -> None:
    few = np.geomspace(1e6, 1e9, 15)
    fit = fit_bead(measured(few, ferrite(few)))
    assert rms_db(fit.impedance(F), ferrite(F)) < 0.1
    some = np.geomspace(1e6, 1e9, 40)
    blind = fit_bead(make_measurement(some, np.abs(ferrite(some)), source="x", has_phase=False))
    assert rms_db(blind.impedance(F), ferrite(F)) < 0.1
    assert blind.rms_error_deg == 0.0


def test_a_hundred_thousand_points_keep_their_shape() -> None:
    f = np.linspace(1e5, 1e9, 100_000)
    fit = fit_bead(measured(f, noisy(ferrite(f), np.random.default_rng(6))))
    assert rms_db(fit.impedance(f), ferrite(f)) < 0.1


def test_passive_everywhere_and_given_in_positive_values() -> None:
    fit = fit_bead(measured(F, noisy(ferrite(F) - 1.0, np.random.default_rng(7), 0.3)))
    far = np.geomspace(1.0, 1e12, 500)
    assert (fit.impedance(far).real > -1e-9 * np.abs(fit.impedance(far))).all()
    for cell in fit.keys["cells"]:
        assert cell["resistance"] > 0
        assert cell["inductance"] > 0
        assert cell["capacitance"] >= 0


def test_known_dc_resistance_is_kept() -> None:
    fit = fit_bead(measured(F, ferrite(F)), rdc_ohm=0.123)
    assert fit.keys["rdc"] == pytest.approx(0.123)
    assert fit.confidence["rdc"] == pytest.approx((0.123, 0.123))
    assert fit.impedance(np.array([0.0]))[0] == pytest.approx(0.123)
    from_point = fit_bead(measured(np.append(F, 0.0), np.append(ferrite(F), 0.2)))
    assert from_point.keys["rdc"] == pytest.approx(0.2)


def test_says_when_the_dc_resistance_is_not_seen() -> None:
    f = np.geomspace(1e7, 1e9, 201)
    fit = fit_bead(measured(f, ferrite(f, rdc_ohm=1e-4)))
    assert any("does not show the DC resistance" in said for said in fit.warnings)


def test_scaling_the_data_scales_the_part() -> None:
    z = foster(F, 0.3, np.array([[600, 1.4e-6, 0.5e-12], [100, 3e-6, 3e-12]]))
    once, thrice = fit_bead(measured(F, z)), fit_bead(measured(F, 3 * z))
    np.testing.assert_allclose(thrice.impedance(F), 3 * once.impedance(F), rtol=10 * FLOOR_NEPER)


def test_a_plain_resistance_is_no_trouble() -> None:
    fit = fit_bead(measured(F, np.full(F.size, 10.0 + 0j)))
    np.testing.assert_allclose(fit.impedance(F), 10.0, rtol=0.01)


def test_refuses_three_points() -> None:
    with pytest.raises(DataError, match="found 3 usable points; accepted: 4 points or more"):
        fit_bead(measured(F[:3], ferrite(F[:3])))
