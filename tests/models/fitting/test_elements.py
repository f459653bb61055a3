"""The fitted shapes give worked numbers, and their slopes are those of finite differences."""

from __future__ import annotations

import numpy as np
import pytest

from models.arrays import Real
from models.fitting.elements import Shape, coil, condenser, foster
from models.parts.bead import Bead, Cell
from models.parts.capacitor import Capacitor, SlowBranch
from models.parts.inductor import Inductor
from models.parts.part import Part

OMEGA = 2 * np.pi * np.geomspace(1e4, 1e9, 41)
CASES = {
    "foster": (foster, np.array([0.3, 200, 0.8e-6, 1e-12, 300, 0.35e-6, 0.0])),
    "coil": (coil, np.array([1e-6, 0.2, 2e-12, 5e3])),
    "condenser": (condenser, np.array([2.2e-9, 0.1, 8e-9, 0.02, 1e7, 1e4, 1e-10, 300, 2e-10])),
}


PARTS: dict[str, Part] = {
    "foster": Bead(
        rdc_ohm=0.3,
        cells=(
            Cell(resistance_ohm=200.0, inductance_h=0.8e-6, capacitance_f=1e-12),
            Cell(resistance_ohm=300.0, inductance_h=0.35e-6),
        ),
    ),
    "coil": Inductor(inductance_h=1e-6, rdc_ohm=0.2, capacitance_f=2e-12, parallel_resistance_ohm=5e3),
    "condenser": Capacitor(
        capacitance_f=2.2e-9,
        esr_ohm=0.1,
        esl_h=8e-9,
        dissipation_factor=0.02,
        insulation_resistance_ohm=1e7,
        branches=(
            SlowBranch(resistance_ohm=1e4, capacitance_f=1e-10),
            SlowBranch(resistance_ohm=300.0, capacitance_f=2e-10),
        ),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_what_is_fitted_is_what_the_part_states(name: str) -> None:
    shape, values = CASES[name]
    np.testing.assert_allclose(shape(values, OMEGA)[0], PARTS[name].impedance(OMEGA), rtol=1e-12)


@pytest.mark.parametrize("name", CASES)
def test_slopes_are_those_of_differences(name: str) -> None:
    shape, values = CASES[name]
    _, slopes = shape(values, OMEGA)
    np.testing.assert_allclose(slopes, _differences(shape, values), rtol=1e-5, atol=1e-6 * np.abs(slopes).max())


def _differences(shape: Shape, values: Real) -> Real:
    step = 1e-6
    columns = []
    for place in range(values.size):
        above, below = values.copy(), values.copy()
        above[place] *= np.exp(step)
        below[place] *= np.exp(-step)
        columns.append((shape(above, OMEGA)[0] - shape(below, OMEGA)[0]) / (2 * step))
    return np.stack(columns, axis=1)


def test_one_debye_relaxation_is_r_parallel_l() -> None:
    """1 µH relaxing at 50 MHz is 251.3 + j125.7 Ω at 100 MHz."""
    relaxation = 2 * np.pi * 50e6 * 1e-6
    z, _ = foster(np.array([0.0, relaxation, 1e-6, 0.0]), np.array([2 * np.pi * 100e6]))
    assert z[0] == pytest.approx(251.3 + 125.7j, rel=3e-4)


def test_loss_of_a_capacitor_is_tan_delta_over_omega_c() -> None:
    """tanδ 0.025 of 2.2 nF at 1 MHz is 1.809 Ω in parallel form, (1 + tan²δ) less in series."""
    z, _ = condenser(np.array([2.2e-9, 0.0, 0.0, 0.025, np.inf]), np.array([2 * np.pi * 1e6]))
    assert z[0].real * (1 + 0.025**2) == pytest.approx(1.809, rel=3e-4)


def test_coil_at_its_resonance_is_its_parallel_resistance() -> None:
    values = np.array([1e-6, 0.0, 1e-12, 4e3])
    z, _ = coil(values, np.array([1 / np.sqrt(1e-18)]))
    assert z[0] == pytest.approx(4e3, rel=1e-9)
