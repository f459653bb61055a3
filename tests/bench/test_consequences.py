"""What is not shown costs nothing, and a drag of the surroundings computes one transient a frame."""

from __future__ import annotations

import pytest

from app.state.view import View
from models.outcomes.event import KINDS
from tests.bench.consequences import STRAY, edit_cost, fourier_s, transient_s


def test_a_frame_of_a_drag_costs_about_one_transient_of_four() -> None:
    cost = edit_cost(STRAY, View(mode="event", candidate=3))
    assert cost.shown_s < 2.0 * transient_s("discharge")


@pytest.mark.parametrize("kind", KINDS)
def test_a_transient_costs_less_than_one_fourier_transform_of_a_million_points(kind: str) -> None:
    """That is some 50 ms: what a person who drags a slider does not see."""
    assert transient_s(kind) < fourier_s()


@pytest.mark.parametrize("mode", ["conducted", "radiated"])
def test_an_edit_with_its_emission_costs_less_than_a_quarter_of_that_transform(mode: str) -> None:
    """Results of four candidates and the emission that is shown: some 7 ms of 14."""
    cost = edit_cost(STRAY, View(mode=mode))
    assert cost.results_s + cost.shown_s < 0.25 * fourier_s()
