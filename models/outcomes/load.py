"""What direct current does to the bridge: which branch carries it, what it drops, and how it biases a bead."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from attrs import evolve, frozen

from models.case.document import Branch, Candidate, Case
from models.network.grid import DC
from models.network.mesh import admittance
from models.network.solver import Solver
from models.outcomes.lines import source_lines
from models.parts.part import Part


@frozen(kw_only=True)
class LoadCurrent:
    """The direct current through one branch of a candidate, all sources together.

    Attributes
    ----------
    branch : its place in the candidate
    ends : the regions it joins
    current_a : from the first to the second, A; ``nan`` where a direct current has no way back
    drop_v : v(first) − v(second), V
    """

    branch: int
    ends: tuple[str, str]
    current_a: float
    drop_v: float


def load_currents(solver: Solver, case: Case, candidate: Candidate) -> tuple[LoadCurrent, ...]:
    """Return the direct current through every branch of a candidate: I = Σ_sources mean·(v1 − v2)/R at DC.

    Parameters
    ----------
    solver : remembers the network between calls
    case, candidate : what is solved
    """
    drives = [(source, source_lines(solver, case, source).mean) for source in case.sources]
    responses = [(mean, solver.response(case, candidate, source, DC)) for source, mean in drives if mean]
    found = []
    for place, branch in enumerate(candidate.branches):
        ends = case.ends_of(branch)
        drop_v = sum(mean * float(response.rise(*ends)[0].real) for mean, response in responses)
        siemens = float(admittance(np.array([branch_dc_ohm(branch)], np.complex128))[0].real)
        current_a = drop_v * siemens if math.isfinite(drop_v) else math.nan
        found.append(LoadCurrent(branch=place, ends=ends, current_a=current_a, drop_v=drop_v))
    return tuple(found)


def branch_dc_ohm(branch: Branch) -> float:
    """Return the resistance of a branch at DC, Ω; ``inf`` where a part blocks."""
    return sum(part.dc_ohm() for part in branch.parts)


def biased(solver: Solver, case: Case, candidate: Candidate) -> Candidate:
    """Return a candidate with the bias that the load current puts on its beads.

    Bias changes the inductance of a bead and not its DC resistance, which alone divides the direct current: solving DC
    first is therefore exact, and nothing has to be repeated. A bead whose bias is stated keeps it; one without a rated
    current stays as it is, since nobody can say what a bias does to it.

    Parameters
    ----------
    solver : remembers the network between calls
    case, candidate : what is solved

    Returns
    -------
    Candidate; the same object where no bead is biased
    """
    currents = load_currents(solver, case, candidate)
    branches = tuple(
        evolve(branch, parts=tuple(_biased(part, abs(load.current_a)) for part in branch.parts))
        for branch, load in zip(candidate.branches, currents, strict=True)
    )
    return candidate if branches == candidate.branches else evolve(candidate, branches=branches)


def _biased(part: Part, current_a: float) -> Part:
    """Return a part under a direct current, for the kinds that know what it does to them."""
    owner: Any = part
    rated = getattr(part, "rated_current_a", None)
    if getattr(part, "bias_current_a", None) != 0.0 or rated is None or not current_a > 0.0:
        return part
    under: Part = evolve(owner, bias_current_a=current_a)
    return under
