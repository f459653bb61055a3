"""`python -m tests.bench`: how much faster the equivalent at the pair is than the plain ways, measured in one run."""

from __future__ import annotations

from tests.bench.plain_ways import CANDIDATES, CIRCUIT_POINTS, Times, bench_case, grid_of, measured


def report() -> str:
    """Return the times and ratios as a few lines."""
    times = measured()
    ways = (
        ("batched dense solve, a node a part", times.dense_s),
        ("batched dense solve, a node an element", times.nodal_s),
        ("scikit-rf circuit", times.circuit_s),
    )
    points = grid_of(bench_case()).size
    return "\n".join(
        (
            f"From an edit to results: {CANDIDATES} candidates, {points} frequencies and harmonics, peaks included.",
            f"  {'Isthmus, edit of one candidate':40}{1e3 * times.candidate_s:9.2f} ms",
            f"  {'Isthmus, edit of the surroundings':40}{1e3 * times.surroundings_s:9.2f} ms",
            *(_line(name, plain_s, times) for name, plain_s in ways),
            f"scikit-rf was timed at {CIRCUIT_POINTS} frequencies and one candidate, and scaled by their number.",
        )
    )


def _line(name: str, plain_s: float, times: Times) -> str:
    candidate, surroundings = times.ratios(plain_s)
    return f"  {name:40}{1e3 * plain_s:9.1f} ms, {candidate:.1f} and {surroundings:.1f} times as long"


if __name__ == "__main__":
    print(report())
