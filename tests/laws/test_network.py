"""What holds for every network: passivity, reciprocity, Kirchhoff, energy, shares, and memory without mistakes."""

from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from models.arrays import Complex
from models.case.document import Branch, Candidate, Case, Coupling, Mains, Pair
from models.network.edges import branch_edges, islands, standing_edges
from models.network.grid import DC, Grid, point_grid
from models.network.solver import Flow, Solver
from models.outcomes.evaluation import Evaluation, Evaluator
from models.outcomes.paths import PathShare, path_shares
from models.parts.copper import Copper
from models.parts.part import Part
from models.sources.current import ReturnCurrent
from models.sources.trapezoid import Trapezoid
from tests.laws.strategies import EARTH, cases, parts

GRID = point_grid((10.0, 1e3, 1e5, 3.7e6, 3.3e7, 2.1e8, 1e9))
TINY_OHM = 1e-50
"""Far below any impedance; a short is 0 in one sum and as good as 0 in another."""
WAVE = Trapezoid(frequency_hz=1e6, duty=0.5, rise_s=1e-9, fall_s=1e-9)
COPPER = Copper(resistance_ohm=1e-3, inductance_h=1e-9)
pytestmark = pytest.mark.filterwarnings("error")


def chosen(case: Case) -> Candidate:
    return case.candidates[-1]


def joined(case: Case) -> bool:
    """Return whether anything joins the two regions of the pair."""
    island = islands(edge.ends for edge in (*standing_edges(case), *branch_edges(case, chosen(case))))
    return "a" in island and island["a"] == island.get("b")


def solved(case: Case, grid: Grid = GRID) -> Complex:
    return Solver().in_circuit(case, chosen(case), grid)


def lossy(flow: Flow) -> bool:
    """Return whether every current is finite: no resonance without loss, no short in a short."""
    return all(bool(np.isfinite(current).all()) for current in flow.current)


@given(case=cases())
def test_no_network_makes_power(case: Case) -> None:
    z = solved(case)
    assume(np.isfinite(z).all())
    assert np.all(z.real >= -1e-9 * np.abs(z))


@given(case=cases())
def test_both_directions_are_the_same(case: Case) -> None:
    turned = evolve(case, pair=evolve(case.pair, a="b", b="a"))
    assert np.array_equal(np.abs(solved(turned)), np.abs(solved(case)))


@given(case=cases(), data=st.data())
def test_reciprocity(case: Case, data: st.DataObject) -> None:
    """A current between two nodes gives across two others what it gives when they change places."""
    one = data.draw(st.sampled_from(case.regions[2:] or ("a",)))
    other = data.draw(st.sampled_from(tuple(name for name in case.regions if name != one)))
    there = ReturnCurrent(name="there", between=(one, other), amplitude_a=1.0, wave=WAVE)
    back = ReturnCurrent(name="back", between=("a", "b"), amplitude_a=1.0, wave=WAVE)
    branches = tuple(evolve(branch, between=case.ends_of(branch)) for branch in chosen(case).branches)
    candidate = evolve(chosen(case), branches=branches)
    rest = tuple(name for name in case.regions if name not in (one, other))
    swapped = evolve(case, pair=Pair(a=one, b=other, others=rest))
    forth = Solver().transfer(case, candidate, there, GRID)
    return_ = Solver().transfer(swapped, candidate, back, GRID)
    assume(np.isfinite(forth).all() and np.isfinite(return_).all())
    scale = np.abs(solved(case)) + np.abs(Solver().in_circuit(swapped, candidate, GRID))
    assume(np.isfinite(scale).all())
    assert np.all(np.abs(forth - return_) <= 1e-9 * np.maximum(np.abs(forth), 1e-6 * scale))


@given(case=cases())
def test_currents_add_up_at_every_node(case: Case) -> None:
    flow = Solver().flow(case, chosen(case), GRID)
    assume(joined(case) and lossy(flow))
    sums: dict[str, Complex] = {}
    sizes: dict[str, Complex] = {}
    for edge, current in zip(flow.edges, flow.current, strict=True):
        for end, sign in zip(edge.ends, (1.0, -1.0), strict=True):
            sums[end] = sums.get(end, np.zeros(1, np.complex128)) + sign * current
            sizes[end] = sizes.get(end, np.zeros(1, np.complex128)) + np.abs(current)
    injected = {"a": -1.0, "b": 1.0}
    for node, total in sums.items():
        assert np.all(np.abs(total - injected.get(node, 0.0)) <= 1e-9 * np.maximum(1.0, sizes[node].real)), node


@given(case=cases())
def test_power_put_in_is_power_taken_up(case: Case) -> None:
    """Tellegen: the sum of v·i* over all paths is what the test current feeds."""
    flow = Solver().flow(case, chosen(case), GRID)
    assume(joined(case) and lossy(flow))
    powers = [
        flow.voltage.rise(*edge.ends) * np.conj(current) for edge, current in zip(flow.edges, flow.current, strict=True)
    ]
    fed = solved(case)
    size = sum((np.abs(power) for power in powers), start=np.abs(fed))
    assert np.all(np.abs(sum(powers) - fed) <= 1e-9 * size + TINY_OHM)


@given(case=cases())
def test_shares_of_the_paths_that_leave_add_up_to_one(case: Case) -> None:
    assume(joined(case) and lossy(Solver().flow(case, chosen(case), GRID)))
    leaving = [path for path in path_shares(Solver(), case, chosen(case), GRID) if path.leaves_b]
    assert sum(path.share for path in leaving) == pytest.approx(1.0, abs=1e-12)
    assert sum(path.current for path in leaving) == pytest.approx(1.0, abs=1e-9 * _most(leaving))
    assert all(((path.share >= 0.0) & (path.share <= 1.0)).all() for path in leaving)


def _most(leaving: list[PathShare]) -> float:
    return max(1.0, *(float(np.abs(path.current).max()) for path in leaving))


def test_an_open_pair_carries_no_share() -> None:
    far = Coupling(name="far", between=("a", EARTH), parts=(COPPER,))
    near = Coupling(name="near", between=("b", "c"), parts=(COPPER,))
    case = Case(pair=Pair(a="a", b="b", others=("c",)), couplings=(far, near), candidates=(Candidate(name="none"),))
    for grid in (GRID, DC):
        paths = path_shares(Solver(), case, chosen(case), grid)
        assert all(not path.share.any() for path in paths)


@given(case=cases(), part=parts())
def test_one_more_branch_stands_in_parallel(case: Case, part: Part) -> None:
    before = solved(case)
    branch = Branch(parts=(part,))
    more = evolve(case, candidates=(evolve(chosen(case), branches=(*chosen(case).branches, branch)),))
    alone = part.impedance(GRID.omega)
    assume(np.isfinite(before).all() and np.isfinite(alone).all() and alone.all() and before.all())
    wanted = 1.0 / (1.0 / before + 1.0 / alone)
    room = 1e-12 * np.maximum(np.abs(wanted / before), np.abs(wanted / alone)) + 1e-12
    assert np.all(np.abs(solved(more) - wanted) <= room * np.abs(wanted))


@given(case=cases())
def test_dc_is_the_limit_of_low_frequency(case: Case) -> None:
    dc_ohm = complex(solved(case, DC)[0])
    low = complex(solved(case, point_grid((1e-18,)))[0])
    assert dc_ohm.imag == 0.0 or math.isinf(dc_ohm.real)
    if math.isfinite(dc_ohm.real):
        assert low.real == pytest.approx(dc_ohm.real, rel=1e-6, abs=1e-9)
    else:
        assert abs(low) > 1e15


def as_numbers(evaluation: Evaluation) -> str:
    """Return every number of an evaluation to the last digit; as a text, in which NaN is like NaN."""
    results = [
        (
            outcome.name,
            outcome.bridge_ohm.tolist(),
            outcome.in_circuit_ohm.tolist(),
            outcome.dc,
            outcome.touch,
            [(each.dc_v, each.coefficients.tolist()) for each in outcome.common_mode],
        )
        for outcome in evaluation.outcomes
    ]
    return repr(results)


@given(first=cases(sources=1, ratings=True), second=cases(sources=1), data=st.data())
@settings(max_examples=25)
def test_what_is_remembered_is_what_is_computed_anew(first: Case, second: Case, data: st.DataObject) -> None:
    """One evaluator through a chain of edits, each leaving most of the case as it was."""
    evaluator = Evaluator()
    evaluator.evaluate(first)
    case = first
    for _ in range(3):
        part = data.draw(st.sampled_from(("mains", "candidates", "couplings", "sweep")))
        case = evolve(case, **{part: getattr(second, part)})
        if {end for edge in _every_edge(case) for end in edge} - {*case.regions, EARTH}:
            case = evolve(case, pair=Pair(a="a", b="b", others=("c", "d")))
        case = evolve(case, mains=evolve(_mains(case), feeds="a", touched="b"))
        assert as_numbers(evaluator.evaluate(case)) == as_numbers(Evaluator().evaluate(case))


def _mains(case: Case) -> Mains:
    assert case.mains is not None
    return case.mains


def _every_edge(case: Case) -> list[tuple[str, str]]:
    edges = [edge.ends for edge in standing_edges(case)]
    return edges + [edge.ends for each in case.candidates for edge in branch_edges(case, each)]
