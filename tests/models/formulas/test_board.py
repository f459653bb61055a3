from __future__ import annotations

import math

import numpy as np
import pytest

from models.formulas import overlap, plane, return_plane, via
from models.formulas.constants import EPS0, ETA0, MU0


def test_via_far_longer_than_wide_is_a_wire_with_a_half_more() -> None:
    long = via.via_partial_inductance(1.0, 1e-4)
    assert long == pytest.approx(2e-7 * (math.log(4.0 / 1e-4) - 1.5), rel=1e-4)


def test_strip_forms_meet_where_width_is_height_and_tend_to_the_plate() -> None:
    narrow = plane.strip_over_plane_inductance(1e-3, 1e-3)
    wide = plane.strip_over_plane_inductance(1.000001e-3, 1e-3)
    assert narrow == pytest.approx(wide, rel=0.005)
    assert plane.strip_over_plane_inductance(1.0, 1e-3) == pytest.approx(MU0 * 1e-3, rel=0.01)


def test_plane_net_inductance_in_the_middle_and_at_the_edge() -> None:
    middle = return_plane.plane_net_inductance(50e-3, 0.2e-3)
    assert middle == pytest.approx(2e-7 * math.asinh(2.0 * 0.2 / 50.0), rel=1e-9)
    left, right = (return_plane.plane_net_inductance(50e-3, 0.2e-3, x) for x in (-24e-3, 24e-3))
    assert left == pytest.approx(right, rel=1e-9)
    assert left > 3.0 * middle


def test_plane_net_inductance_agrees_with_the_flux_of_a_current_sheet() -> None:
    """Solve for the return current that makes the flux along the plane even, and read the flux left over."""
    count, width, height, offset = 400, 10e-3, 1e-3, 2e-3
    edges = -0.5 * width * np.cos(np.linspace(0.0, math.pi, count + 1))
    x, step = 0.5 * (edges[1:] + edges[:-1]), np.diff(edges)
    distance = np.abs(x[:, None] - x[None, :])
    np.fill_diagonal(distance, step * math.exp(-1.5))
    mutual = -2e-7 * np.log(distance)
    trace = -2e-7 * np.log(np.hypot(x - offset, height))
    # the flux is even over the plane, and the return current adds up to minus the trace's
    system = np.block([[mutual, -np.ones((count, 1))], [np.ones((1, count)), np.zeros((1, 1))]])
    solution = np.linalg.solve(system, np.append(-trace, -1.0))
    # far from both, the flux of the pair vanishes: what is left on the plane is its net flux
    assert abs(solution[-1]) == pytest.approx(return_plane.plane_net_inductance(width, height, offset), rel=0.01)


def test_slot_bridged_at_one_end_resonates_at_half_the_frequency() -> None:
    whole = return_plane.slot_resonance_hz(0.1, 1.5)
    assert return_plane.slot_resonance_hz(0.1, 1.5, "open-closed") == pytest.approx(0.5 * whole)


def test_slot_and_dipole_of_half_the_wave_impedance_are_alike() -> None:
    assert return_plane.slot_impedance(ETA0 / 2.0) == pytest.approx(ETA0 / 2.0)


def test_triangle_harmonics_add_up_to_the_triangle() -> None:
    assert sum(return_plane.triangle_harmonic(2.0, n) for n in range(1, 4001)) == pytest.approx(1.0, abs=3e-4)
    assert return_plane.triangle_harmonic(2.0, 2) == 0.0


def test_crossing_with_bridges_on_both_sides_is_half_of_one() -> None:
    one = return_plane.crossing_impedance([1e6, 1e8], 1.0 + 1j, 0.4e-6, 0.02)
    both = return_plane.crossing_impedance([1e6, 1e8], 1.0 + 1j, 0.4e-6, 0.02, 2)
    np.testing.assert_allclose(both, one / 2.0)


def test_overlap_tends_to_the_plate_and_its_inductance_to_a_third_of_the_line() -> None:
    plate = overlap.plate_capacitance(1.0, 1.0, 1e-4, 4.3)
    assert plate == pytest.approx(EPS0 * 4.3e4)
    assert overlap.overlap_capacitance(1.0, 1.0, 1e-4, 4.3) == pytest.approx(plate, rel=2e-3)
    assert overlap.overlap_inductance(20e-3, 10e-3, 0.4e-3) == pytest.approx(MU0 * 0.4e-3 * 0.5 / 3.0)
