"""What is not shown costs nothing, and a drag of the surroundings computes one transient a frame."""

from __future__ import annotations

from app.state.view import View
from tests.bench.consequences import STRAY, edit_cost, transient_s


def test_a_frame_of_a_drag_costs_about_one_transient_of_four() -> None:
    cost = edit_cost(STRAY, View(mode="event", candidate=3))
    assert cost.shown_s < 2.0 * transient_s("discharge")


def test_emission_that_is_shown_costs_less_than_the_results_it_comes_from() -> None:
    for mode in ("conducted", "radiated"):
        cost = edit_cost(STRAY, View(mode=mode))
        assert cost.shown_s < cost.results_s
