"""A result speaks the case file's keys and computes the impedance that they stand for."""

from __future__ import annotations

import numpy as np
import pytest

from models.fitting.foster import fit_bead
from models.fitting.result import errors, keys_of, vector_of
from tests.models.fitting.synthetic import ferrite, foster, measured

F = np.geomspace(1e6, 1e9, 101)


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        ("bead", [0.3, 600.0, 1e-6, 0.0, 50.0, 2e-6, 1e-12]),
        ("bead", [0.0, 600.0, 1e-6, 1e-12]),
        ("capacitor", [1e-9, 0.1, 1e-9, 0.02, np.inf]),
        ("capacitor", [1e-9, 0.0, 1e-9, 0.0, 1e9, 1e3, 1e-11]),
        ("inductor", [1e-6, 0.0, 1e-12, np.inf]),
    ],
)
def test_keys_and_values_go_both_ways(kind: str, values: list[float]) -> None:
    keys = keys_of(kind, np.array(values))
    np.testing.assert_array_equal(vector_of(kind, keys), values)
    assert all(value > 0 for value in keys.values() if isinstance(value, float))


def test_the_impedance_is_that_of_the_keys() -> None:
    fit = fit_bead(measured(F, ferrite(F)))
    cells = np.array([[cell["resistance"], cell["inductance"], cell["capacitance"]] for cell in fit.keys["cells"]])
    np.testing.assert_allclose(fit.impedance(F), foster(F, fit.keys.get("rdc", 0.0), cells), rtol=1e-9)
    assert fit.cells == len(cells)
    assert fit.range_hz == pytest.approx((1e6, 1e9))


def test_errors_count_each_decade_alike() -> None:
    """Data 1 dB and 10° off in the lowest of two decades only, in a sweep that has a tenth of its points there."""
    values = np.array([5.0, 600.0, 1e-6, 1e-12])
    f = np.linspace(1e6, 1e8, 5001)
    z = foster(f, 5.0, np.array([[600.0, 1e-6, 1e-12]]))
    z[f < 1e7] *= 10 ** (1 / 20) * np.exp(1j * np.radians(10))
    error_db, error_deg = errors("bead", values, measured(f, z))
    assert error_db == pytest.approx(np.sqrt(0.5), rel=0.01)
    assert error_deg == pytest.approx(10 * np.sqrt(0.5), rel=0.01)
