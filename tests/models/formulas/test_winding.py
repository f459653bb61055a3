from __future__ import annotations

import pytest

from models.formulas import winding


def test_one_layer_faces_with_half_whichever_end_is_near() -> None:
    assert winding.layered_share(1, "hot") == winding.layered_share(1, "cold") == 0.5


def test_facing_turns_that_swing_alike_carry_no_noise() -> None:
    assert winding.driven_share((0.0, 1.0), (0.0, 1.0)) == 0.0
    assert winding.driven_share((0.0, 1.0), (0.0, 1.5)) < 0.0


@pytest.mark.parametrize("layers", [1, 2, 5])
def test_the_two_arrangements_share_out_the_whole(layers: int) -> None:
    assert winding.layered_share(layers, "hot") + winding.layered_share(layers, "cold") == pytest.approx(1.0)


def test_ends_that_swing_oppositely_cancel_in_one_layer_only() -> None:
    assert winding.two_ended_share(1) == 0.0
    assert winding.two_ended_share(2) == pytest.approx(winding.driven_share((0.0, 1.0)))


def test_uneven_halves_are_weighed_at_their_potentials() -> None:
    halves = ((0.55, (0.0, 1.0)), (0.45, (-1.0, 0.0)))
    assert winding.uneven_share(0.1) == pytest.approx(sum(part * winding.driven_share(ends) for part, ends in halves))
