"""Which way the current takes from one region of the pair back to the other."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.network.grid import Grid
from models.network.solver import Solver


@frozen(kw_only=True, eq=False)
class PathShare:
    """The current through one branch, coupling or transformer per ampere that has to return.

    Attributes
    ----------
    name, role, ends : which path
    current : (F,) complex, A per A, counted from pair.b's side
    share : (F,) |current| over the sum of |currents| of all paths that leave pair.b
    leaves_b : whether the path leaves pair.b; the shares of those add up to one
    """

    name: str
    role: str
    ends: tuple[str, str]
    current: Complex
    share: Real
    leaves_b: bool


def path_shares(solver: Solver, case: Case, candidate: Candidate, grid: Grid) -> tuple[PathShare, ...]:
    """Return the share of every path for 1 A into pair.b and out of pair.a.

    The currents that leave pair.b add up to 1 A as phasors (Kirchhoff); near a parallel resonance each can exceed it.
    The share divides magnitudes, so that shares lie between 0 and 1 and those leaving pair.b add up to one.
    """
    flow = solver.flow(case, candidate, grid)
    b = case.pair.b
    outward = [
        current if edge.ends[0] == b else -current for edge, current in zip(flow.edges, flow.current, strict=True)
    ]
    leaving = [b in edge.ends for edge in flow.edges]
    total = sum(
        (np.abs(current) for current, leaves in zip(outward, leaving, strict=True) if leaves),
        start=np.zeros(grid.omega.shape),
    )
    return tuple(
        PathShare(
            name=edge.name,
            role=edge.role,
            ends=edge.ends,
            current=current,
            share=np.divide(np.abs(current), total, out=np.zeros(grid.omega.shape), where=total > 0.0),
            leaves_b=leaves,
        )
        for edge, current, leaves in zip(flow.edges, outward, leaving, strict=True)
    )
