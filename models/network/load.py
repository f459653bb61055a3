"""What direct current does to the bridge: which branch carries it, what it drops, and how it biases a bead."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from attrs import evolve, frozen

from models.case.document import AS_STATED, BY_LOAD, Branch, Candidate, Case
from models.network.grid import DC
from models.network.mesh import admittance
from models.parts.bead import Bead
from models.parts.part import Part

if TYPE_CHECKING:
    from models.network.solver import Solver

_ALIKE = 0.1


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
    free = case if case.bead_bias == AS_STATED else evolve(case, bead_bias=AS_STATED)
    responses = [
        (mean, solver.response(free, candidate, source, DC)) for source in case.sources if (mean := solver.mean(source))
    ]
    found = []
    for place, branch in enumerate(candidate.branches):
        ends = case.ends_of(branch)
        drop_v = sum(mean * float(response.rise(*ends)[0].real) for mean, response in responses)
        siemens = float(admittance(np.array([branch_dc_ohm(branch)], np.complex128))[0].real)
        current_a = drop_v * siemens if math.isfinite(drop_v) else math.nan
        found.append(LoadCurrent(branch=place, ends=ends, current_a=current_a, drop_v=drop_v))
    return tuple(found)


@frozen(kw_only=True)
class BeadBias:
    """A bead that carries load current or states a bias: what the load makes of it, and what is computed with.

    Attributes
    ----------
    branch, part : its place in the candidate
    load_a : its share of the load current, A; ``nan`` where a direct current has no way back
    bias_a : the bias that every result counts with, A
    left : share of its inductance that `bias_a` leaves
    left_by_load : share that `load_a` would leave; None where that cannot be said
    by : where `bias_a` comes from: ``part``, ``load``, or ``nothing``
    rated_a : rated current, a rating of temperature, A; None where none is stated
    """

    branch: int
    part: int
    load_a: float
    bias_a: float
    left: float
    left_by_load: float | None
    by: str
    rated_a: float | None

    @property
    def overloaded(self) -> bool:
        """Whether the load current is more than the bead is rated for."""
        return self.rated_a is not None and self.load_a > self.rated_a

    @property
    def unlike_stated(self) -> bool:
        """Whether a bias is stated that the load current differs from by more than a tenth."""
        unlike = abs(self.load_a - self.bias_a) > _ALIKE * self.bias_a
        return self.by == "part" and math.isfinite(self.load_a) and unlike


def bead_biases(case: Case, candidate: Candidate, loads: Sequence[LoadCurrent]) -> tuple[BeadBias, ...]:
    """Return every bead of a candidate that carries load current or states a bias.

    Parameters
    ----------
    case, candidate : as the file has them
    loads : the direct current through each branch, as of `load_currents`
    """
    return tuple(
        _bead_bias(case, part, load, place)
        for branch, load in zip(candidate.branches, loads, strict=True)
        for place, part in enumerate(branch.parts)
        if isinstance(part, Bead) and (load.current_a or part.bias_current_a)
    )


def has_bead(candidate: Candidate) -> bool:
    """Return whether a bead is among the parts of a candidate."""
    return any(isinstance(part, Bead) for branch in candidate.branches for part in branch.parts)


def _bead_bias(case: Case, bead: Bead, load: LoadCurrent, place: int) -> BeadBias:
    load_a = abs(load.current_a)
    loaded = under_load(evolve(bead, bias_current_a=0.0), load_a)
    counted = under_load(bead, load_a) if case.bead_bias == BY_LOAD else bead
    known = bead.rated_current_a is not None and math.isfinite(load_a)
    return BeadBias(
        branch=load.branch,
        part=place,
        load_a=load_a,
        bias_a=counted.bias_current_a,
        left=counted.inductance_left(),
        left_by_load=loaded.inductance_left() if known else None,
        by="part" if bead.bias_current_a else "load" if counted.bias_current_a else "nothing",
        rated_a=bead.rated_current_a,
    )


def branch_dc_ohm(branch: Branch) -> float:
    """Return the resistance of a branch at DC, Ω; ``inf`` where a part blocks."""
    return sum(part.dc_ohm() for part in branch.parts)


def biased(candidate: Candidate, loads: Sequence[LoadCurrent]) -> Candidate:
    """Return a candidate with the bias that the load current puts on its beads.

    Bias changes the inductance of a bead and not its DC resistance, which alone divides the direct current: solving DC
    first is therefore exact, and nothing has to be repeated. A bead whose bias is stated keeps it; one without a rated
    current stays as it is, since nobody can say what a bias does to it.

    Parameters
    ----------
    candidate : as the case has it
    loads : the direct current through each of its branches

    Returns
    -------
    Candidate; the same object where no bead is biased
    """
    branches = tuple(
        evolve(branch, parts=tuple(_loaded(part, abs(load.current_a)) for part in branch.parts))
        for branch, load in zip(candidate.branches, loads, strict=True)
    )
    return candidate if branches == candidate.branches else evolve(candidate, branches=branches)


def _loaded(part: Part, current_a: float) -> Part:
    return under_load(part, current_a) if isinstance(part, Bead) else part


def under_load(bead: Bead, current_a: float) -> Bead:
    """Return a bead under a direct current; one whose bias is stated keeps it, one without a rating stays as it is."""
    if bead.bias_current_a or bead.rated_current_a is None or not current_a > 0.0:
        return bead
    return evolve(bead, bias_current_a=current_a)
