"""The comparisons; they agree first, and then only ratios are judged, with slack for a busy machine."""

from __future__ import annotations

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from models.network.grid import point_grid
from models.network.solver import Solver
from tests.bench.plain_ways import (
    Edits,
    bench_case,
    circuit_impedance,
    circuit_points,
    dense_results,
    grid_of,
    measured,
)


def test_all_ways_come_to_the_same() -> None:
    case = bench_case()
    evaluation = Edits(surroundings=False).evaluator.evaluate(case)
    for outcome, (z, lines, peak_v) in zip(evaluation.outcomes, dense_results(case), strict=True):
        assert (
            np.abs(outcome.in_circuit_ohm / z - 1.0).max() < 1e-4
        )  # dense matrices lose what stray capacitance is beside copper
        assert np.abs(outcome.common_mode[0].coefficients - lines).max() < 1e-6 * np.abs(lines).max()
        assert outcome.peak_v() == pytest.approx(peak_v, rel=0.01)
    points = circuit_points()
    for candidate in case.candidates:
        found = Solver().in_circuit(case, candidate, point_grid(points.tolist()))
        assert np.abs(circuit_impedance(case, candidate, points) / found - 1.0).max() < 1e-4


def test_the_job_has_the_size_that_was_promised() -> None:
    case = bench_case()
    assert len(case.candidates) == 4
    assert case.sweep.f_hz().size == 801
    assert grid_of(case).size == 10_801


@pytest.mark.benchmark(group="edit to results")
def test_edit_of_one_candidate(benchmark: BenchmarkFixture) -> None:
    assert len(benchmark(Edits(surroundings=False).results).outcomes) == 4


@pytest.mark.benchmark(group="edit to results")
def test_edit_of_the_surroundings(benchmark: BenchmarkFixture) -> None:
    assert len(benchmark(Edits(surroundings=True).results).outcomes) == 4


@pytest.mark.benchmark(group="edit to results")
def test_batched_dense_solve(benchmark: BenchmarkFixture) -> None:
    case = bench_case()
    assert len(benchmark(lambda: dense_results(case))) == 4


@pytest.mark.benchmark(group="one candidate, 51 frequencies")
def test_circuit_of_scikit_rf(benchmark: BenchmarkFixture) -> None:
    case, points = bench_case(), circuit_points()
    assert benchmark(lambda: circuit_impedance(case, case.candidates[0], points)).shape == points.shape


def test_the_equivalent_at_the_pair_is_worth_it() -> None:
    """The aims are 10 and 100 times on a quiet machine; `python -m tests.bench` prints what they are here."""
    times = measured()
    for plain_s, least in ((times.dense_s, 2.0), (times.nodal_s, 3.0), (times.circuit_s, 30.0)):
        candidate, surroundings = times.ratios(plain_s)
        assert candidate > 2.0 * least
        assert surroundings > least
