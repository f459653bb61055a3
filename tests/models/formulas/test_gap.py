from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import gap
from models.formulas.constants import EPS0, LIGHT_M_PER_S
from models.formulas.gap import Bridge, GapLine

LINE = gap.gap_line(1e-3, 20e-3, 20e-3, 1.6e-3, 4.3)
F = np.array([1e6, 30e6, 300e6, 1e9])


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


def test_an_open_gap_is_its_capacitance_low_down() -> None:
    z = complex(gap.gap_impedance(1e3, LINE, 0.06, 0.02))
    assert z == pytest.approx(1.0 / (2j * math.pi * 1e3 * LINE.capacitance_f_per_m * 0.06), rel=1e-6)


def test_a_short_bridge_is_seen_through_its_stretch_of_line() -> None:
    short = Bridge(0.02, np.zeros(F.shape, complex))
    z = gap.gap_impedance(F, LINE, 0.06, 0.05, [short])
    k = 2.0 * math.pi * F * math.sqrt(LINE.permittivity) / LIGHT_M_PER_S
    admittance = 1.0 / (1j * LINE.impedance_ohm * np.tan(k * 0.03)) + 1j * np.tan(k * 0.01) / LINE.impedance_ohm
    np.testing.assert_allclose(z, 1.0 / admittance, rtol=1e-9)


def by_cells(line: GapLine, length_m: float, at_m: float, bridges: list[Bridge], count: int = 6000) -> np.ndarray:
    """Input impedance of the gap as a ladder of short cells, each side folded up from its open end."""
    step = length_m / count
    jw = 2j * math.pi * F
    series, shunt = jw * line.inductance_h_per_m * step, jw * line.capacitance_f_per_m * step
    placed = {round(b.position_m / step): 1.0 / np.asarray(b.impedance_ohm) for b in bridges}
    target = round(at_m / step)

    def folded(places: range) -> np.ndarray:
        y = np.zeros(F.shape, complex)
        for place in places:
            y = y + placed.get(place, 0.0) + shunt / 2.0
            y = y / (1.0 + series * y) + shunt / 2.0
        return y

    at = folded(range(target)) + folded(range(count, target, -1)) + placed.get(target, 0.0)
    return np.asarray(1.0 / at)


@pytest.mark.parametrize("at", [0.0, 0.02, 0.045, 0.06])
def test_bridges_along_the_gap_agree_with_a_ladder(at: float) -> None:
    bridges = [Bridge(0.05, 3.0 + 2j * math.pi * F * 2e-9), Bridge(0.02, 0.5 + 1.0 / (2j * math.pi * F * 1e-9))]
    np.testing.assert_allclose(
        gap.gap_impedance(F, LINE, 0.06, at, bridges), by_cells(LINE, 0.06, at, bridges), rtol=2e-3
    )


def test_no_bridge_and_an_open_one_are_alike() -> None:
    nothing = Bridge(0.02, np.full(F.shape, np.inf, complex))
    np.testing.assert_allclose(
        gap.gap_impedance(F, LINE, 0.06, 0.04, [nothing]), gap.gap_impedance(F, LINE, 0.06, 0.04), rtol=1e-12
    )


def test_a_bridge_at_the_very_point_is_in_parallel() -> None:
    shunt = 7.0 + 2j * math.pi * F * 3e-9
    z = gap.gap_impedance(F, LINE, 0.06, 0.02, [Bridge(0.02, shunt)])
    np.testing.assert_allclose(1.0 / z, 1.0 / shunt + 1.0 / gap.gap_impedance(F, LINE, 0.06, 0.02), rtol=1e-9)


def test_loss_keeps_a_resonance_finite() -> None:
    f = LIGHT_M_PER_S / math.sqrt(LINE.permittivity) / (2.0 * 0.06)
    z = complex(gap.gap_impedance(f, LINE, 0.06, 0.0, loss=0.02))
    assert z.real == pytest.approx(LINE.impedance_ohm / math.tanh(0.01 * math.pi), rel=1e-3)
