from __future__ import annotations

import pytest

from models.formulas import winding
from tests.reference.round_wires import wires_against_foil


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


@pytest.mark.parametrize("wire", [0.5, 1.0, 1.5, 3.0, 5.0])
def test_round_wire_has_less_than_foil_by_the_rule(wire: float) -> None:
    rule = winding.facing_capacitance(1.0, 1.0, 1.0, 1.0, wire_m=wire) / winding.facing_capacitance(1.0, 1.0, 1.0, 1.0)
    assert rule == pytest.approx(wires_against_foil(wire, 1.0, 1.03 * wire), rel=0.04)


def test_the_line_charges_come_to_the_foil_for_thin_wire() -> None:
    assert wires_against_foil(0.05, 1.0, 0.051) == pytest.approx(1.0, abs=0.01)
