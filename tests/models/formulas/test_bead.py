from __future__ import annotations

import math

import numpy as np
import pytest

from models.errors import QuantityError
from models.formulas import bead, bead_cell
from models.formulas.bead_cell import Cell

CELL = Cell(700.0, 1.39e-6, 0.455e-12)


def peak_hz(cell: Cell) -> float:
    return 1.0 / (2.0 * math.pi * math.sqrt(cell.inductance_h * cell.capacitance_f))


def size(f_hz: float, cell: Cell) -> float:
    return abs(complex(bead.single_cell_impedance(f_hz, cell)))


@pytest.mark.parametrize("test_hz", [10e6, 100e6, 500e6])
def test_every_way_in_finds_the_cell_again(test_hz: float) -> None:
    test, peak, crossing = size(test_hz, CELL), peak_hz(CELL), bead_cell.crossover_hz(CELL)
    by_peak = bead_cell.cell_from_peak(test, 700.3, peak, test_hz=test_hz, rdc_ohm=0.3)
    by_crossing = bead_cell.cell_from_crossover(test, crossing, peak, test_hz=test_hz)
    by_both = bead_cell.cell_from_peak_and_crossover(700.3, peak, crossing, rdc_ohm=0.3)
    for found in (by_peak, by_crossing, by_both):
        assert found == pytest.approx(CELL, rel=1e-9)


@pytest.mark.parametrize("prior", ["general", "gigahertz"])
def test_a_single_point_is_met(prior: str) -> None:
    kind = "general" if prior == "general" else "gigahertz"
    cell = bead_cell.cell_from_test_point(220.0, rdc_ohm=0.5, prior=kind)  # type: ignore[arg-type]
    assert size(100e6, cell) == pytest.approx(220.0, rel=1e-9)
    assert peak_hz(cell) == pytest.approx(bead_cell.PRIORS[prior].peak_hz)


def test_what_is_known_of_the_peak_goes_before_the_prior() -> None:
    assert peak_hz(bead_cell.cell_from_test_point(220.0, peak_hz=300e6)) == pytest.approx(300e6)
    assert bead_cell.cell_from_test_point(220.0, peak_ohm=400.0).resistance_ohm == 400.0


def test_at_the_crossover_resistance_and_reactance_are_equal() -> None:
    z = complex(bead.single_cell_impedance(bead_cell.crossover_hz(CELL), CELL))
    assert z.real == pytest.approx(z.imag, rel=1e-9)
    assert bead_cell.crossover_hz(CELL._replace(capacitance_f=0.0)) == pytest.approx(700.0 / (2.0 * math.pi * 1.39e-6))


def test_a_bead_is_its_dc_resistance_at_dc_and_a_capacitor_at_the_top() -> None:
    z = bead.single_cell_impedance([0.0, 1e12], CELL, 0.3)
    assert z[0] == 0.3
    assert z[1].imag == pytest.approx(-1.0 / (2.0 * math.pi * 1e12 * CELL.capacitance_f), rel=1e-4)


@pytest.mark.parametrize(
    ("peak_ohm", "place_hz"),
    [(600.0, 200e6), (700.0, 100e6)],
    ids=["no peak above the test point", "peak on the test frequency"],
)
def test_numbers_that_make_no_cell_are_refused(peak_ohm: float, place_hz: float) -> None:
    with pytest.raises(QuantityError):
        bead_cell.cell_from_peak(600.0, peak_ohm, place_hz)


def test_a_crossover_past_the_peak_is_refused() -> None:
    with pytest.raises(QuantityError, match="below the peak"):
        bead_cell.cell_from_crossover(600.0, 300e6, 200e6)
    with pytest.raises(QuantityError, match="DC resistance"):
        bead_cell.cell_from_peak_and_crossover(0.2, 200e6, 70e6, rdc_ohm=0.3)


def test_one_relaxation_is_a_resistance_across_an_inductance() -> None:
    f = np.geomspace(1e4, 1e10, 25)
    cell = Cell(bead.debye_resistance(1e-6, 50e6), 1e-6, 0.0)
    np.testing.assert_allclose(bead.debye_impedance(f, 1e-6, 50e6), bead.single_cell_impedance(f, cell), rtol=1e-12)


def test_a_chain_of_one_is_the_single_cell() -> None:
    f = np.array([0.0, 1e6, 1e8, 1e9])
    chain = bead.foster_impedance(
        f, [CELL.resistance_ohm], [CELL.inductance_h], shunt_f=CELL.capacitance_f, rdc_ohm=0.3
    )
    np.testing.assert_allclose(chain, bead.single_cell_impedance(f, CELL, 0.3), rtol=1e-12)


def test_bias_counts_either_direction_and_moves_the_peak_up() -> None:
    left = bead.bias_ratio([-1.0, 0.0, 1.0], 1.0, 2.0)
    np.testing.assert_array_equal(left, [0.5, 1.0, 0.5])
    assert peak_hz(bead.biased_cell(CELL, 0.25)) == pytest.approx(2.0 * peak_hz(CELL))
