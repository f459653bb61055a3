"""Parts by geometry: vias, gaps and overlaps against worked numbers and limits."""

from __future__ import annotations

import math

import numpy as np
import pytest

from models.errors import QuantityError
from models.parts.copper import Copper
from models.parts.plane_gap import PlaneGap
from models.parts.plane_overlap import PlaneOverlap
from models.parts.via import Via

F_HZ = np.geomspace(10.0, 3e9, 400)
OMEGA = 2.0 * math.pi * F_HZ


def gap(**changes: float) -> PlaneGap:
    return PlaneGap(**{"gap_m": 8e-3, "depth_m": 40e-3, "length_m": 60e-3, **changes})  # type: ignore[arg-type]


def test_bar_has_the_printed_resistance_and_inductance() -> None:
    bar = Copper(length_m=3e-3, width_m=5e-3, thickness_m=35e-6)
    z = bar.impedance(2.0 * math.pi * np.array([1e6, 100e6, 1e9]))
    assert bar.dc_ohm() == pytest.approx(0.2955e-3, abs=5e-8)
    assert z.real == pytest.approx([0.3056e-3, 0.8315e-3, 2.475e-3], rel=2e-4)
    assert z.imag / (2.0 * math.pi * np.array([1e6, 100e6, 1e9])) == pytest.approx(0.6801e-9, rel=0.01)


def test_via_has_the_printed_inductance() -> None:
    assert Via(length_m=1.6e-3, diameter_m=0.3e-3).inductance_h() == pytest.approx(0.5429e-9, abs=5e-14)
    pair = Via(length_m=1.6e-3, diameter_m=0.3e-3, spacing_m=1e-3)
    assert 2.0 * pair.inductance_h() == pytest.approx(1.199e-9, abs=5e-13)


def test_vias_in_parallel_share() -> None:
    one, four = Via(length_m=1.6e-3, diameter_m=0.3e-3), Via(length_m=1.6e-3, diameter_m=0.3e-3, count=4)
    assert four.impedance(OMEGA) == pytest.approx(0.25 * one.impedance(OMEGA))
    assert four.dc_ohm() == pytest.approx(0.25 * 1.724e-8 * 1.6e-3 / (math.pi * 0.275e-3 * 25e-6))


def test_resistance_of_a_via_rises_from_its_plating_to_its_skin() -> None:
    via = Via(length_m=1.6e-3, diameter_m=0.3e-3)
    resistance = via.impedance(OMEGA).real
    assert resistance[0] == pytest.approx(via.dc_ohm(), rel=1e-9)
    assert np.all(np.diff(resistance) > -1e-12)
    skin = math.sqrt(1.724e-8 / (math.pi * 3e9 * 4e-7 * math.pi))
    assert resistance[-1] == pytest.approx(1.724e-8 * 1.6e-3 / (math.pi * 0.275e-3 * skin), rel=1e-3)


@pytest.mark.parametrize("changes", [{"plating_m": 0.2e-3}, {"spacing_m": 0.2e-3}])
def test_a_via_that_cannot_be_is_refused(changes: dict[str, float]) -> None:
    with pytest.raises(QuantityError):
        Via(length_m=1.6e-3, diameter_m=0.3e-3, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("gap_mm", "depth_mm", "per_m"),
    [(1.0, 20.0, 48.44e-12), (3.0, 30.0, 35.57e-12), (6.0, 30.0, 27.63e-12), (8.0, 40.0, 26.29e-12)],
)
def test_gap_has_the_printed_capacitance(gap_mm: float, depth_mm: float, per_m: float) -> None:
    part = gap(gap_m=gap_mm * 1e-3, depth_m=depth_mm * 1e-3, length_m=1.0)
    assert part.capacitance_f() == pytest.approx(per_m, rel=2e-4)


def test_a_safety_gap_couples_little() -> None:
    assert gap().capacitance_f() == pytest.approx(1.577e-12, abs=5e-16)


def test_far_below_resonance_a_gap_is_its_capacitance_with_loss() -> None:
    low = OMEGA[F_HZ < 1e6]
    z = gap(feed=0.2).impedance(low)
    assert z.imag == pytest.approx(-1.0 / (low * gap().capacitance_f()), rel=1e-3)
    filling = 4.3 * (1.233 - 1.0) / (1.233 * 3.3)
    assert z.real / -z.imag == pytest.approx(np.full(low.shape, 0.02 * filling), rel=5e-3)


def test_a_gap_fed_in_the_middle_is_shorted_where_each_half_is_a_quarter_wave() -> None:
    part = gap(dissipation_factor=0.0)
    quarter_hz = 299_792_458.0 / (4.0 * 30e-3 * math.sqrt(1.233))
    f_hz = np.linspace(0.9, 1.1, 2001) * quarter_hz
    lowest = f_hz[np.argmin(np.abs(part.impedance(2.0 * math.pi * f_hz)))]
    assert lowest == pytest.approx(quarter_hz, rel=1e-3)


def test_a_gap_without_a_board_has_no_loss() -> None:
    assert np.all(np.abs(gap(permittivity=1.0).impedance(OMEGA[:200]).real) < 1e-6)


def test_overlap_has_the_printed_capacitance() -> None:
    part = PlaneOverlap(width_m=20e-3, length_m=10e-3, separation_m=0.4e-3)
    assert part.capacitance_f() == pytest.approx(21.39e-12, abs=5e-15)
    assert part.scaled(1.15).capacitance_f() == pytest.approx(1.15 * part.capacitance_f())


def test_overlap_is_inductive_only_far_up() -> None:
    part = PlaneOverlap(width_m=20e-3, length_m=10e-3, separation_m=0.4e-3)
    inductance_h = 4e-7 * math.pi * 0.4e-3 * 10e-3 / (3.0 * 20e-3)
    resonance = 1.0 / math.sqrt(inductance_h * part.capacitance_f())
    assert part.impedance(np.array([0.9 * resonance]))[0].imag < 0.0
    assert part.impedance(np.array([1.1 * resonance]))[0].imag > 0.0


def test_layers_of_an_overlap_stand_in_parallel() -> None:
    one = PlaneOverlap(width_m=20e-3, length_m=10e-3, separation_m=0.4e-3)
    three = PlaneOverlap(width_m=20e-3, length_m=10e-3, separation_m=0.4e-3, count=3)
    assert three.impedance(OMEGA) == pytest.approx(one.impedance(OMEGA) / 3.0, rel=1e-12)


def test_boards_lighter_than_air_are_refused() -> None:
    with pytest.raises(QuantityError, match="1 or more"):
        gap(permittivity=0.9)
    with pytest.raises(QuantityError, match="1 or more"):
        PlaneOverlap(width_m=1e-2, length_m=1e-2, separation_m=1e-4, permittivity=0.5)
    with pytest.raises(QuantityError, match="5 times"):
        PlaneOverlap(width_m=1e-4, length_m=1e-2, separation_m=1e-3)
