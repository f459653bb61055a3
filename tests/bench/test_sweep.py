from __future__ import annotations

from tests.bench.sweep import measured


def test_a_point_of_a_sweep_costs_less_than_an_evaluation_of_its_own() -> None:
    assert measured().ratio > 1.3
