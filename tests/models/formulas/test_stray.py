from __future__ import annotations

import math

import pytest

from models.formulas import stray
from models.formulas.constants import EPS0
from tests.reference.moments import box_capacitance

SPHERE = 4.0 * math.pi * EPS0


@pytest.mark.parametrize(("sides", "known"), [((1.0, 1.0, 1.0), 0.6607), ((1.0, 1.0, 0.0), 0.3667)])
def test_the_moments_agree_with_the_known_cube_and_square(sides: tuple[float, float, float], known: float) -> None:
    assert box_capacitance(sides) / SPHERE == pytest.approx(known, rel=0.01)


def test_the_moments_over_a_near_plane_are_those_of_two_plates() -> None:
    # Kirchhoff's edge for a disc of the same area, which a square exceeds by little
    near, radius = 0.02, 1.0 / math.sqrt(math.pi)
    disc = EPS0 * (1.0 / near + 2.0 * radius * (math.log(8.0 * math.pi * radius / near) - 1.0))
    assert box_capacitance((1.0, 1.0, 0.0), near, cells=14) == pytest.approx(disc, rel=0.02)


def test_a_disc_has_a_tenth_less_than_the_sphere_of_its_surface() -> None:
    side = math.sqrt(math.pi)  # the square of a disc of 1 m radius
    assert stray.free_body_capacitance(side, side) / (8.0 * EPS0) == pytest.approx(1.11, abs=0.005)


@pytest.mark.parametrize("sides", [(1.0, 1.0, 1.0), (3.0, 2.0, 1.0), (1.0, 1.0, 0.0), (2.0, 1.0, 0.2), (4.0, 1.0, 0.0)])
def test_a_free_body_is_the_sphere_within_a_tenth(sides: tuple[float, float, float]) -> None:
    assert stray.free_body_capacitance(*sides) == pytest.approx(box_capacitance(sides), rel=0.1)


@pytest.mark.parametrize("height", [0.05, 0.3, 1.0, 5.0])
@pytest.mark.parametrize("sides", [(1.0, 1.0, 0.0), (1.0, 1.0, 1.0), (2.0, 1.0, 0.3), (4.0, 1.0, 0.0), (1.0, 1.0, 3.0)])
def test_a_body_over_a_plane_is_within_a_tenth_at_every_height(
    sides: tuple[float, float, float], height: float
) -> None:
    exact = box_capacitance(sides, height, cells=12 if 0.0 in sides else 8)
    assert stray.body_over_plane_capacitance(*sides, height) == pytest.approx(exact, rel=0.1)


def test_far_up_the_plane_counts_no_more() -> None:
    free = stray.free_body_capacitance(0.2, 0.1, 0.05)
    assert stray.body_over_plane_capacitance(0.2, 0.1, 0.05, 100.0) == pytest.approx(free, rel=1e-3)
