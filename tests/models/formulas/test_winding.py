from __future__ import annotations

import numpy as np
import pytest

from models.formulas import winding


def test_one_layer_faces_with_half_whichever_end_is_near() -> None:
    assert winding.layered_share(1, "hot") == winding.layered_share(1, "cold") == winding.single_layer_share() == 0.5


def test_facing_turns_that_swing_alike_carry_no_noise() -> None:
    assert winding.single_layer_share(1.0) == 0.0
    assert winding.single_layer_share(1.5) < 0.0


@pytest.mark.parametrize("layers", [1, 2, 5])
def test_the_two_arrangements_share_out_the_whole(layers: int) -> None:
    assert winding.layered_share(layers, "hot") + winding.layered_share(layers, "cold") == pytest.approx(1.0)


def test_a_capacitor_as_bridge_agrees_with_the_divider() -> None:
    f = np.array([1e3, 1e6])
    voltage = winding.bridged_gap_voltage(f, 400.0, 40e-12, 60e-12, 1.0 / (2j * np.pi * f * 1e-9))
    np.testing.assert_allclose(voltage, winding.gap_voltage(400.0, 40e-12, 60e-12, 1e-9), rtol=1e-12)


def test_a_short_leaves_nothing() -> None:
    assert complex(winding.bridged_gap_voltage(1e6, 400.0, 40e-12, 60e-12, 0.0)) == 0.0


def test_the_least_capacitor_gives_the_wanted_voltage() -> None:
    least = winding.least_bridge_capacitance(400.0, 3.0, 40e-12, 60e-12, 5e-12)
    assert winding.gap_voltage(400.0, 40e-12, 60e-12, least, 5e-12) == pytest.approx(3.0)


def test_no_capacitor_where_the_wish_is_met_without() -> None:
    assert winding.least_bridge_capacitance(400.0, 200.0, 40e-12, 60e-12) == 0.0


def test_ends_that_swing_oppositely_cancel_in_one_layer_only() -> None:
    assert winding.two_ended_share(1) == 0.0
    assert winding.two_ended_share(2) == pytest.approx(winding.driven_share((0.0, 1.0)))


def test_uneven_halves_are_weighed_at_their_potentials() -> None:
    halves = ((0.55, (0.0, 1.0)), (0.45, (-1.0, 0.0)))
    assert winding.uneven_share(0.1) == pytest.approx(sum(part * winding.driven_share(ends) for part, ends in halves))
