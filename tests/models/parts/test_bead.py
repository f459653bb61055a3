"""Beads under bias, against the worked table for a 0603 bead of 600 Ω; chokes beside them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.errors import QuantityError
from models.parts.bead import Bead, Cell
from models.parts.choke import CommonModeChoke

CELL = Cell(resistance_ohm=700.0, inductance_h=1.390e-6, capacitance_f=0.4554e-12)
TEST_OMEGA = 2.0 * math.pi * np.array([100e6])
SWEEP = 2.0 * math.pi * np.geomspace(1e6, 3e9, 4001)

# family, share of the rated current, L/L0, |Z| at 100 MHz over that without current, shift of the peak
TABLE = (
    ("power", 0.10, 0.862, 0.94, 1.08),
    ("power", 0.25, 0.500, 0.68, 1.41),
    ("power", 0.50, 0.200, 0.30, 2.24),
    ("power", 1.00, 0.0588, 0.087, 4.12),
    ("mid", 0.10, 0.881, 0.95, 1.07),
    ("mid", 0.25, 0.631, 0.80, 1.26),
    ("mid", 0.50, 0.361, 0.52, 1.66),
    ("mid", 1.00, 0.157, 0.23, 2.52),
    ("signal", 0.10, 0.990, 1.00, 1.00),
    ("signal", 0.25, 0.941, 0.98, 1.03),
    ("signal", 0.50, 0.800, 0.91, 1.12),
    ("signal", 1.00, 0.500, 0.68, 1.41),
)


def bead(**changes: object) -> Bead:
    return Bead(**{"cells": (CELL,), "rated_current_a": 0.5, **changes})  # type: ignore[arg-type]


def peak_hz(part: Bead) -> float:
    return float(SWEEP[np.argmax(np.abs(part.impedance(SWEEP)))] / (2.0 * math.pi))


@pytest.mark.parametrize(("family", "share", "left", "test_ratio", "shift"), TABLE)
def test_bias_takes_what_the_table_says(
    family: str, share: float, left: float, test_ratio: float, shift: float
) -> None:
    free, biased = bead(), bead(bias_current_a=0.5 * share, bias_family=family)
    assert biased.inductance_left() == pytest.approx(left, rel=1e-2)
    ratio = abs(biased.impedance(TEST_OMEGA)[0]) / abs(free.impedance(TEST_OMEGA)[0])
    assert ratio == pytest.approx(test_ratio, abs=0.006)
    assert peak_hz(biased) / peak_hz(free) == pytest.approx(shift, rel=0.01)


def test_bias_leaves_the_far_side_of_the_peak_alone() -> None:
    omega = 2.0 * math.pi * np.array([2e9])
    assert abs(bead(bias_current_a=0.05).impedance(omega)[0]) == pytest.approx(
        abs(bead().impedance(omega)[0]), rel=2e-3
    )


def test_the_family_is_between_power_and_signal_where_none_is_named() -> None:
    assert bead(bias_current_a=0.25) == bead(bias_current_a=0.25, bias_family="mid")


def test_without_a_bias_the_cells_are_used_as_given() -> None:
    assert np.array_equal(bead(bias_family="power").impedance(SWEEP), Bead(cells=(CELL,)).impedance(SWEEP))


def test_a_bias_without_a_rated_current_is_refused() -> None:
    with pytest.raises(QuantityError, match="rated_current"):
        bead(rated_current_a=None, bias_current_a=0.1)


def test_a_family_that_is_none_is_refused() -> None:
    with pytest.raises(QuantityError, match='"power" or "mid" or "signal"'):
        bead(bias_family="large")


def test_generic_bead_has_the_printed_impedances() -> None:
    part = Bead(rdc_ohm=0.30, cells=(CELL,))
    z = np.abs(part.impedance(2.0 * math.pi * np.array([1e6, 10e6, 30e6, 100e6, 300e6, 1e9])))
    assert z == pytest.approx([8.745, 86.94, 250.5, 600.3, 664.3, 323.1], rel=2e-3)


def test_a_choke_is_its_cells_and_the_ground_winding() -> None:
    choke = CommonModeChoke(rdc_ohm=0.1, cells=(CELL, CELL), rated_current_a=1.0)
    one = Bead(cells=(CELL,)).impedance(SWEEP)
    assert choke.impedance(SWEEP) == pytest.approx(0.1 + 2.0 * one)
    assert choke.dc_ohm() == 0.1
    assert not choke.blocks_dc()
