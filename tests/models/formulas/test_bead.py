from __future__ import annotations

import math

import numpy as np
import pytest

from models.errors import QuantityError
from models.formulas import bead, bead_cell
from models.formulas.bead_cell import Cell
from models.formulas.impedance import parallel_rlc

CELL = Cell(700.0, 1.39e-6, 0.455e-12)


def peak_hz(cell: Cell) -> float:
    return 1.0 / (2.0 * math.pi * math.sqrt(cell.inductance_h * cell.capacitance_f))


def impedance(f_hz: float, cell: Cell) -> complex:
    z = parallel_rlc(np.array([2.0 * math.pi * f_hz]), 1.0 / cell.resistance_ohm, cell.inductance_h, cell.capacitance_f)
    return complex(z[0])


@pytest.mark.parametrize("test_hz", [10e6, 100e6, 500e6])
def test_every_way_in_finds_the_cell_again(test_hz: float) -> None:
    test, peak, crossing = abs(impedance(test_hz, CELL)), peak_hz(CELL), bead_cell.crossover_hz(CELL)
    by_peak = bead_cell.cell_from_peak(test, 700.3, peak, test_hz=test_hz, rdc_ohm=0.3)
    by_crossing = bead_cell.cell_from_crossover(test, crossing, peak, test_hz=test_hz)
    by_both = bead_cell.cell_from_peak_and_crossover(700.3, peak, crossing, rdc_ohm=0.3)
    for found in (by_peak, by_crossing, by_both):
        assert found == pytest.approx(CELL, rel=1e-9)


def test_at_the_crossover_resistance_and_reactance_are_equal() -> None:
    z = impedance(bead_cell.crossover_hz(CELL), CELL)
    assert z.real == pytest.approx(z.imag, rel=1e-9)
    assert bead_cell.crossover_hz(CELL._replace(capacitance_f=0.0)) == pytest.approx(700.0 / (2.0 * math.pi * 1.39e-6))


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


def test_bias_counts_in_either_direction() -> None:
    np.testing.assert_array_equal(bead.bias_ratio([-1.0, 0.0, 1.0], 1.0, 2.0), [0.5, 1.0, 0.5])
