from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import copper
from models.formulas.constants import MU0, RHO_COPPER_OHM_M
from tests.reference.copper import bar_inductance_grover

LENGTH, WIDTH, FOIL = 3e-3, 5e-3, 35e-6


def bar_by_integration(length: float, width: float, thickness: float) -> float:
    """Average of the mutual inductance of filaments over the section, by its own quadrature."""
    step = (np.arange(800) + 0.5) / 800
    x = step**3  # crowds the points where filaments nearly touch
    weight = 6.0 * (1.0 - x) * step**2
    r = np.hypot(x[:, None] * width, x[None, :] * thickness)
    filament = np.arcsinh(length / r) - np.sqrt(1.0 + (r / length) ** 2) + r / length
    return MU0 * length / (2.0 * math.pi) * float(weight @ filament @ weight) / 800**2


@pytest.mark.parametrize("width", [0.1e-3, 1e-3, 10e-3, 30e-3])
def test_bar_inductance_of_thin_foil_agrees_with_integration(width: float) -> None:
    expected = bar_by_integration(10e-3, width, 1e-9)
    assert copper.bar_partial_inductance(10e-3, width) == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("width", "thickness", "error"),
    [(5e-3, 5e-3, 0.04), (1.25e-3, 1.25e-3, 0.0075), (0.1e-3, 0.1e-3, 0.001), (9e-3, 0.07e-3, 0.004)],
)
def test_bar_inductance_with_thickness_is_within_its_stated_error(width: float, thickness: float, error: float) -> None:
    expected = bar_by_integration(10e-3, width, thickness)
    assert expected < copper.bar_partial_inductance(10e-3, width, thickness) < expected * (1.0 + error)


@pytest.mark.parametrize("ratio", [1.0 - 1e-9, 1.0 + 1e-9, 300.0, 1e4, 1e6])
def test_bar_inductance_keeps_its_digits_at_any_length(ratio: float) -> None:
    inductance = copper.bar_partial_inductance(ratio * 1e-3, 1e-3)
    shorter = copper.bar_partial_inductance(ratio * (1.0 - 1e-7) * 1e-3, 1e-3)
    assert 0.0 < (inductance - shorter) / inductance < 3e-7
    if ratio > 100.0:
        long_form = 2e-7 * ratio * 1e-3 * (math.log(2.0 * ratio) + 0.5 + 1.0 / (3.0 * ratio))
        assert inductance == pytest.approx(long_form, rel=1e-5)


@pytest.mark.parametrize(("ratio", "error"), [(2.0, 0.03), (8.0, 0.005)])
def test_handbook_rule_is_low_by_its_stated_error(ratio: float, error: float) -> None:
    exact = copper.bar_partial_inductance(ratio * 1e-3, 1e-3)
    rule = bar_inductance_grover(ratio * 1e-3, 1e-3, 0.0)
    assert exact * (1.0 - error - 0.001) < rule < exact


def test_slab_is_its_sheet_resistance_at_dc_and_half_space_high_up() -> None:
    z = copper.slab_impedance([0.0, 1.0, 1e11], FOIL)
    assert z[0] == copper.sheet_resistance(FOIL)
    assert z[1] == pytest.approx(copper.sheet_resistance(FOIL), rel=1e-6)
    depth = copper.skin_depth(1e11)
    assert z[2] == pytest.approx((1.0 + 1.0j) * RHO_COPPER_OHM_M / depth, rel=1e-9)


def test_slab_inductance_low_down_is_a_third_of_the_thickness() -> None:
    z = complex(copper.slab_impedance(1e3, FOIL))
    assert z.imag / (2.0 * math.pi * 1e3) == pytest.approx(MU0 * FOIL / 3.0, rel=1e-4)


def test_bar_resistance_holds_at_dc_and_grows_as_root_of_frequency() -> None:
    r = copper.bar_ac_resistance([0.0, 1e10, 4e10], LENGTH, WIDTH, FOIL)
    assert r[0] == pytest.approx(copper.bar_dc_resistance(LENGTH, WIDTH, FOIL), rel=1e-12)
    assert r[2] / r[1] == pytest.approx(2.0, rel=1e-3)


@pytest.mark.parametrize("ratio", [2.5, 20.0])
def test_spreading_lies_between_the_two_axes_of_the_exact_flow(ratio: float) -> None:
    planes = copper.spreading_resistance(math.pi / 2.0, 1.0, ratio)
    assert math.acosh(2.0 * ratio) < planes < math.asinh(2.0 * ratio)
    assert planes == pytest.approx(math.acosh(2.0 * ratio), rel=0.01)


def test_mutual_inductance_is_that_of_neumann() -> None:
    length, spacing, count = 0.05, 0.0075, 400
    along = (np.arange(count) + 0.5) * length / count
    distance = np.hypot(along[:, None] - along[None, :], spacing)
    neumann = 1e-7 * np.sum(1.0 / distance) * (length / count) ** 2
    assert copper.wire_mutual_inductance(length, spacing) == pytest.approx(neumann, rel=1e-4)


def test_a_wire_has_the_mutual_inductance_of_its_surface_with_its_axis() -> None:
    assert copper.wire_mutual_inductance(0.1, 0.5e-3) == pytest.approx(
        copper.wire_partial_inductance(0.1, 1e-3), rel=2e-3
    )
