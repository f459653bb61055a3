from __future__ import annotations

import math

import pytest

from models.formulas import overlap, plane, via
from models.formulas.constants import EPS0, MU0


def test_via_far_longer_than_wide_is_a_wire_with_a_half_more() -> None:
    long = via.via_partial_inductance(1.0, 1e-4)
    assert long == pytest.approx(2e-7 * (math.log(4.0 / 1e-4) - 1.5), rel=1e-4)


def test_strip_forms_meet_where_width_is_height_and_tend_to_the_plate() -> None:
    narrow = plane.strip_over_plane_inductance(1e-3, 1e-3)
    wide = plane.strip_over_plane_inductance(1.000001e-3, 1e-3)
    assert narrow == pytest.approx(wide, rel=0.005)
    assert plane.strip_over_plane_inductance(1.0, 1e-3) == pytest.approx(MU0 * 1e-3, rel=0.01)


def test_overlap_tends_to_the_plate_and_its_inductance_to_a_third_of_the_line() -> None:
    plate = overlap.plate_capacitance(1.0, 1.0, 1e-4, 4.3)
    assert plate == pytest.approx(EPS0 * 4.3e4)
    assert overlap.overlap_capacitance(1.0, 1.0, 1e-4, 4.3) == pytest.approx(plate, rel=2e-3)
    assert overlap.overlap_inductance(20e-3, 10e-3, 0.4e-3) == pytest.approx(MU0 * 0.4e-3 * 0.5 / 3.0)
