"""Impedances, transfers and currents against nodal analysis in 60-digit arithmetic."""

from __future__ import annotations

import cmath
import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.case.document import Candidate, Case
from models.network.grid import DC, point_grid
from models.network.solver import Solver
from models.parts.part import Part
from models.sources.source import Source
from models.sources.switch_node import SwitchNode
from tests.laws.strategies import OMEGA, RandomChoose, cases, parts, random_case
from tests.reference.elements import Element, case_elements, path_elements
from tests.reference.exact import Solved, driven_by_current, driven_by_voltage

GRID = point_grid((10.0, 1e3, 1e5, 3.7e6, 3.3e7, 2.1e8, 1e9))
pytestmark = pytest.mark.filterwarnings("error")


def agrees(found: complex, wanted: complex | None, scale: float = 0.0) -> bool:
    """Return whether a value is right to 1e-9 of itself, or to rounding of the scale that it differs from."""
    if wanted is None:
        return not cmath.isfinite(found)
    return abs(found - wanted) <= 1e-9 * abs(wanted) + 1e-13 * scale + 1e-50


def at_pair(solved: Solved | None) -> complex | None:
    return None if solved is None else solved.across("b", "a")


@given(part=parts())
def test_every_part_is_its_elements(part: Part) -> None:
    elements = tuple(path_elements(("a", "b"), (part,), "part"))
    found = part.impedance(OMEGA)
    for omega, z in zip(OMEGA[::4], found[::4], strict=True):
        assert agrees(complex(z), at_pair(driven_by_current(elements, float(omega), "a", "b")))
    assert agrees(part.dc_ohm(), at_pair(driven_by_current(elements, 0.0, "a", "b")))


def disagreements(case: Case, candidate: Candidate) -> list[str]:
    """Return where an impedance differs by more than 1e-9 from the reference, DC to 1 GHz."""
    solver, elements = Solver(), case_elements(case, candidate)
    found = [*solver.in_circuit(case, candidate, GRID), *solver.in_circuit(case, candidate, DC)]
    wrong = []
    for omega, z in zip([*GRID.omega, 0.0], found, strict=True):
        wanted = at_pair(driven_by_current(elements, float(omega), "a", "b"))
        if not agrees(complex(z), wanted):
            wrong.append(f"{omega:g} rad/s: {z}, not {wanted}")
    return wrong


@given(case=cases())
@settings(max_examples=30)
def test_impedance_in_circuit(case: Case) -> None:
    for candidate in case.candidates:
        assert disagreements(case, candidate) == []


@pytest.mark.parametrize("seed", range(200))
def test_impedance_in_circuit_of_many_networks(seed: int) -> None:
    case = random_case(RandomChoose(seed), sources=0)
    assert disagreements(case, case.candidates[1]) == []


@given(case=cases())
@settings(max_examples=30)
def test_bridge_alone(case: Case) -> None:
    candidate = case.candidates[1]
    across = tuple(branch for branch in candidate.branches if case.is_across(branch))
    elements = [
        element
        for number, branch in enumerate(across)
        for element in path_elements(case.ends_of(branch), branch.parts, f"branch {number}")
    ]
    found = [*Solver().bridge(case, candidate, GRID), *Solver().bridge(case, candidate, DC)]
    for omega, z in zip([*GRID.omega, 0.0], found, strict=True):
        wanted = at_pair(driven_by_current(tuple(elements), float(omega), "a", "b")) if elements else None
        assert agrees(complex(z), wanted)


def transfer(case: Case, candidate: Candidate, source: Source, omega: float) -> tuple[complex | None, float]:
    """Return v(b) − v(a) per unit of a source in the reference network, and the voltage at its own ends.

    The first is None where the source's current has no way back.
    """
    elements = case_elements(case, candidate)
    out_of, into = case.source_ends(source)
    if isinstance(source, SwitchNode):
        solved = driven_by_voltage(hot(case, elements, source), omega, out_of, "switch")
        own = 1.0
    else:
        solved = driven_by_current(elements, omega, out_of, into)
        own = 0.0 if solved is None else abs(solved.across(into, out_of) or 0.0)
    return (None if solved is None else solved.across("b", "a") or 0j), own


def hot(case: Case, elements: tuple[Element, ...], source: SwitchNode) -> tuple[Element, ...]:
    """Return the elements with the driven share of the transformer moved from its quiet end to the switch node."""
    transformer = case.transformer(source.through)
    whole, share = transformer.interwinding_capacitance_f, transformer.driven_fraction
    split = [
        Element(ends=("switch", transformer.between[1]), kind="C", value=share * whole),
        Element(ends=transformer.between, kind="C", value=(1.0 - share) * whole),
    ]
    place = case.transformers.index(transformer)
    return (*elements[:place], *split, *elements[place + 1 :])


@pytest.mark.parametrize("seed", range(60))
def test_transfer_of_every_source(seed: int) -> None:
    case = random_case(RandomChoose(1000 + seed), sources=3)
    for candidate in case.candidates:
        for source in case.sources:
            found = Solver().transfer(case, candidate, source, GRID)
            for omega, v in zip(GRID.omega, found, strict=True):
                assert agrees(complex(v), *transfer(case, candidate, source, float(omega))), source


@given(case=cases(), data=st.data())
@settings(max_examples=20)
def test_voltage_between_any_two_nodes(case: Case, data: st.DataObject) -> None:
    candidate = case.candidates[1]
    elements = case_elements(case, candidate)
    flow = Solver().flow(case, candidate, GRID)
    size = np.abs(Solver().in_circuit(case, candidate, GRID))
    place = data.draw(st.integers(0, len(GRID.omega) - 1))
    solved = driven_by_current(elements, float(GRID.omega[place]), "a", "b")
    nodes = sorted({end for edge in flow.edges for end in edge.ends})
    for upper, lower in itertools.product(nodes, repeat=2):
        wanted = None if solved is None else solved.across(upper, lower)
        if wanted is not None:
            assert agrees(complex(flow.voltage.rise(upper, lower)[place]), wanted, float(size[place])), (upper, lower)
