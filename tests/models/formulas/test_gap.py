from __future__ import annotations

import math

import pytest

from models.formulas import gap
from models.formulas.constants import EPS0


def elliptic_k(k: float) -> float:
    """Complete elliptic integral by the arithmetic-geometric mean."""
    a, b = 1.0, math.sqrt(1.0 - k * k)
    while abs(a - b) > 1e-15:
        a, b = 0.5 * (a + b), math.sqrt(a * b)
    return math.pi / (2.0 * a)


@pytest.mark.parametrize(("g", "depth"), [(1e-3, 20e-3), (8e-3, 40e-3)])
def test_equal_depths_agree_with_the_text_book_forms(g: float, depth: float) -> None:
    k = g / (g + 2.0 * depth)
    air = EPS0 * elliptic_k(math.sqrt(1.0 - k * k)) / elliptic_k(k)
    assert gap.gap_air_capacitance(g, depth, depth) == pytest.approx(air, rel=1e-10)
    board = 1.6e-3
    k1 = math.tanh(math.pi * g / (4.0 * board)) / math.tanh(math.pi * (g / 2.0 + depth) / (2.0 * board))
    added = EPS0 * 3.3 / 2.0 * elliptic_k(math.sqrt(1.0 - k1 * k1)) / elliptic_k(k1)
    assert gap.gap_board_capacitance(g, depth, depth, board, 4.3) == pytest.approx(added, rel=1e-6)


def test_a_very_thick_board_fills_half_of_the_space() -> None:
    thick = gap.gap_board_capacitance(3e-3, 20e-3, 35e-3, 100.0, 4.3)
    assert thick == pytest.approx(3.3 / 2.0 * gap.gap_air_capacitance(3e-3, 20e-3, 35e-3), rel=1e-5)


def test_a_very_thin_board_adds_nothing_and_overflows_nowhere() -> None:
    assert 0.0 <= gap.gap_board_capacitance(8e-3, 0.3, 0.3, 1e-5, 4.3) < 1e-3 * EPS0
    assert gap.gap_line(8e-3, 0.3, 0.3).permittivity == 1.0


@pytest.mark.parametrize(
    ("g", "depth", "board", "by_field_solution"),
    [(3e-3, 12e-3, 1.6e-3, 33.00e-12), (1e-3, 10e-3, 1.6e-3, 47.21e-12), (6e-3, 20e-3, 0.8e-3, 23.99e-12)],
)
def test_capacitance_is_low_by_its_stated_error(g: float, depth: float, board: float, by_field_solution: float) -> None:
    found = gap.gap_line(g, depth, depth, board, 4.3).capacitance_f_per_m
    assert 0.92 < found / by_field_solution < 0.95


def test_planes_can_be_exchanged() -> None:
    assert gap.gap_line(1e-3, 5e-3, 50e-3, 1.6e-3, 4.3) == pytest.approx(
        gap.gap_line(1e-3, 50e-3, 5e-3, 1.6e-3, 4.3), rel=1e-12
    )
