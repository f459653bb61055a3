"""How the touch current changes with every value of a case.

An estimate for design, not a certification: see `ruling.SAFETY_CAUTION`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

import numpy as np
from attrs import frozen

from models.case.document import Candidate, Case
from models.decide.parameters import Parameter
from models.decide.slopes import slope
from models.formulas.bodynet import input_impedance
from models.formulas.impedance import Complex, Real
from models.network.edges import Edge, branch_edges, standing_edges
from models.network.mesh import Ends, Mesh, admittance, differences, impedance, reduce_to
from models.network.solver import Solver
from models.outcomes.touch import touch_current


@frozen(kw_only=True, eq=False)
class _Loop:
    """The mains, the network and the body: voltages across every edge for 1 V of mains, and for 1 A into the person."""

    driven: Mapping[tuple[str, str], complex]
    tested: Mapping[tuple[str, str], complex]
    touched_v: complex


def touch_slopes(
    solver: Solver, case: Case, candidate: Candidate, parameters: Iterable[Parameter]
) -> tuple[float, Mapping[Parameter, float]]:
    """Return the unweighted touch current at nominal values, A, and how it changes with every parameter.

    With v_e the voltage across an edge that the mains drive, and v'_e the one that 1 A into the touched region drives
    with the mains shorted: ∂V_touched/∂y_e = −v_e·v'_e, and ∂I/I = Re(∂V/V).

    Parameters
    ----------
    solver, case, candidate : what is solved; the case has mains
    parameters : of the network and of the mains; those of cables do not count here

    Returns
    -------
    (I in A rms, parameter → ∂I/∂p)

    Source: reciprocity, as in `adjoint`.
    """
    mains, touch = case.mains, touch_current(solver, case, candidate)
    assert mains is not None
    assert touch is not None
    omega = np.array([2.0 * math.pi * mains.frequency_hz])
    edges = (*standing_edges(case), *branch_edges(case, candidate))
    loop = _solved(case, edges, omega)
    found = {}
    for parameter in parameters:
        if parameter.owner == "mains":
            found[parameter] = touch.unweighted_a / mains.voltage_v
            continue
        edge = next((each for each in edges if (each.role, each.name) == parameter.edge), None)
        if edge is not None and loop.touched_v != 0.0:
            change = -loop.driven[edge.ends] * loop.tested[edge.ends] * _siemens_slope(edge, parameter, omega)
            found[parameter] = touch.unweighted_a * (change / loop.touched_v).real
    return touch.unweighted_a, found


def _siemens_slope(edge: Edge, parameter: Parameter, omega: Real) -> complex:
    if edge.role == "transformer":
        return 1j * omega[0] if parameter.key == "interwinding_capacitance_f" else 0.0
    y = _siemens(edge, omega)
    return complex(-(y[0] ** 2) * slope(edge.parts[parameter.part], parameter.within_part, omega)[0])


def _solved(case: Case, edges: Iterable[Edge], omega: Real) -> _Loop:
    """Solve with the fed region merged into the surroundings; 1 V of mains becomes the currents that it injects."""
    mains, earth = case.mains, case.surroundings.name
    assert mains is not None
    carried: dict[tuple[str, str], Complex] = {}
    joined: list[tuple[Ends, Complex]] = []
    for edge in edges:
        y = _siemens(edge, omega)
        ends = frozenset(earth if node == mains.feeds else node for node in edge.ends)
        if len(ends) == 2:
            joined.append((ends, y))
            if mains.feeds in edge.ends:
                key = (earth, next(iter(ends - {earth})))
                carried[key] = carried[key] + y if key in carried else y
    body_ohm = complex(input_impedance(mains.frequency_hz, "unweighted"))
    joined.append((frozenset((mains.touched, earth)), np.array([1.0 / body_ohm])))
    driven = _voltages(Mesh(y={}, j=carried).joined(joined), mains.touched, earth)
    tested = _voltages(
        Mesh(y={}, j={(earth, mains.touched): np.ones(1, np.complex128)}).joined(joined), mains.touched, earth
    )
    nodes = {node for edge in edges for node in edge.ends} - {earth, mains.feeds}
    driven_v = {mains.feeds: 1.0 + 0j, earth: 0j} | {node: complex(driven[node, earth][0]) for node in nodes}
    tested_v = {mains.feeds: 0j, earth: 0j} | {node: complex(tested[node, earth][0]) for node in nodes}
    return _Loop(driven=_rises(driven_v), tested=_rises(tested_v), touched_v=driven_v[mains.touched])


def _siemens(edge: Edge, omega: Real) -> Complex:
    return admittance(sum((part.impedance(omega) for part in edge.parts), start=np.zeros(1, np.complex128)))


def _rises(volts: Mapping[str, complex]) -> Mapping[tuple[str, str], complex]:
    return {(one, other): volts[one] - volts[other] for one in volts for other in volts}


def _voltages(mesh: Mesh, touched: str, earth: str) -> Mapping[tuple[str, str], Complex]:
    reduced, steps = reduce_to(mesh, (earth, touched))
    y, current = reduced.between(touched, earth), reduced.carried(earth, touched)
    assert y is not None
    v = np.zeros(1, np.complex128) if current is None else current * impedance(y)
    return differences(steps, earth, touched, v)
