"""Touch current: what mains drive through the bridge and a person, with the body networks of IEC 60990.

An estimate for design, not a certification: the current edition of the applicable standard, local codes and a qualified
person decide.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from attrs import evolve, frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case, Mains
from models.formulas.bodynet import NETWORKS, Network, input_impedance, weighting
from models.network.edges import Edge, branch_edges, standing_edges
from models.network.grid import Grid, point_grid
from models.network.mesh import Mesh, admittance, reduce_to
from models.network.solver import Solver
from models.parts.part import Part

_NOMINAL, _WORST = 0, 1
"""Places in an array of admittances: nominal values, and capacitors at the upper end of their tolerance."""


@frozen(kw_only=True)
class TouchCurrent:
    """Rms touch current, at nominal values and at the worst of mains and capacitor tolerance, A."""

    unweighted_a: float
    weighted_a: float
    worst_unweighted_a: float
    worst_weighted_a: float


def touch_current(solver: Solver, case: Case, candidate: Candidate) -> TouchCurrent | None:
    """Return the touch current of a candidate, None for a case without mains.

    `[mains]` drives the fed region against the surroundings; the body network stands from the touched region to the
    surroundings. Cables and noise sources are left out.

    Source: IEC 60990, see `bodynet`.
    """
    mains = case.mains
    if mains is None:
        return None
    case, grid = evolve(case, cables=()), point_grid((mains.frequency_hz,))
    keep = (mains.feeds, mains.touched, case.surroundings.name)
    branches = branch_edges(case, solver.operating(case, candidate))
    terminals = frozenset(keep).union(*(edge.ends for edge in branches))
    standing = solver.memo.get(
        ("touch", case.transformers, case.couplings, grid, terminals),
        lambda: _joined(solver, Mesh(y={}, j={}), standing_edges(case), grid, terminals),
    )
    mesh = _joined(solver, standing, branches, grid, keep)
    unweighted, weighted = (
        np.broadcast_to(touched_siemens(mesh, mains, keep[-1], network), 2) * mains.voltage_v for network in NETWORKS
    )
    worst = 1.0 + mains.tolerance
    return TouchCurrent(
        unweighted_a=float(unweighted[_NOMINAL]),
        weighted_a=float(weighted[_NOMINAL]),
        worst_unweighted_a=worst * float(unweighted[_WORST]),
        worst_weighted_a=worst * float(weighted[_WORST]),
    )


def touched_siemens(mesh: Mesh, mains: Mains, earth: str, network: Network) -> Real:
    """Return U1/500 Ω or U2/500 Ω per volt of the mains, with the body from the touched region to earth, S.

    I/U = |y_feed/(y_feed + y_stray + 1/Z_body)·w/Z_body|

    Parameters
    ----------
    mesh : reduced to the fed region, the touched one and earth, at the frequency of the mains
    mains, earth : who feeds and who is touched; name of the surroundings
    network : which network stands for the body

    Returns
    -------
    of the shape of the mesh's admittances; one 0 where nothing leads from the fed region to the touched one
    """
    feed, stray = mesh.between(mains.feeds, mains.touched), mesh.between(mains.touched, earth)
    if feed is None:
        return np.zeros(1)
    body_ohm = complex(input_impedance(mains.frequency_hz, network))
    whole = feed + 1.0 / body_ohm + (0.0 if stray is None else stray)
    return np.abs(feed / whole * (complex(weighting(mains.frequency_hz, network)) / body_ohm))


def _joined(solver: Solver, mesh: Mesh, edges: Sequence[Edge], grid: Grid, keep: Iterable[str]) -> Mesh:
    """Return a mesh with more edges, each at nominal value and at upper tolerance, reduced to the nodes to keep."""
    return reduce_to(mesh.joined((frozenset(edge.ends), _admittances(solver, edge, grid)) for edge in edges), keep)[0]


def _admittances(solver: Solver, edge: Edge, grid: Grid) -> Complex:
    """Return the admittance (2,) of an edge, S: nominal, and with every capacitor at its upper tolerance."""

    def compute() -> Complex:
        ways, zero = (edge.parts, _upper_parts(edge.parts)), np.zeros(1, np.complex128)
        return admittance(
            np.concatenate([sum((part.impedance(grid.omega) for part in parts), start=zero) for parts in ways])
        )

    return solver.memo.get(("touched", edge.parts, grid), compute)


def _upper_parts(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    return tuple(part.scaled(1.0 + part.rating.tolerance) if part.blocks_dc() else part for part in parts)
