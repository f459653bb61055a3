"""What a capacitance across the pair does to the requirements, and where it crosses their limits."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from attrs import frozen

from models.case.document import Case
from models.case.requirement import Requirement
from models.decide.people import touch_ratio
from models.decide.subject import Subject
from models.decide.template import Template
from models.network.solver import Solver

SMALLEST_F, LARGEST_F = 1e-14, 1e-3
_PER_DECADE = 4


@frozen(kw_only=True)
class Problem:
    """A case, a capacitor to be sized in it, and a solver of its own that remembers the network between the tries."""

    case: Case
    template: Template
    solver: Solver

    def of_kind(self, kind: str) -> tuple[Requirement, ...]:
        """Return the requirements of a kind."""
        return tuple(each for each in self.case.requirements if each.kind == kind)

    def subject(self, capacitance_f: float) -> Subject:
        """Return the candidate with this capacitance, ready to be judged."""
        # every try is new to the memory; without a turn it would keep them all
        self.solver.memo.turn()
        return Subject(solver=self.solver, case=self.case, candidate=self.template.candidate(capacitance_f))

    def peak_v(self, capacitance_f: float, *, worst: bool = True) -> float:
        """Return the highest common-mode peak of any source, V, within tolerances or at nominal values."""
        subject = self.subject(capacitance_f)
        modes = subject.worst_common_mode if worst else subject.common_mode
        return max((each.peak_v for each in modes), default=0.0)

    def noise_ratio(self, capacitance_f: float) -> float:
        """Return the common-mode peak over the tightest limit; 0 without such a requirement."""
        limits = [each.limit for each in self.of_kind("common-mode-voltage") if each.limit is not None]
        if not limits:
            return 0.0
        return self.peak_v(capacitance_f) / min(limits) if min(limits) > 0.0 else math.inf

    def touch_ratio(self, capacitance_f: float) -> float:
        """Return the touch current over its limit, the tightest of all; 0 without such a requirement or mains."""
        candidate = self.template.candidate(capacitance_f)
        return max(
            (touch_ratio(self.solver, self.case, candidate, each) for each in self.of_kind("touch-current")),
            default=0.0,
        )


def least_capacitance(problem: Problem) -> float | None:
    """Return the least capacitance that meets every common-mode requirement within tolerances, F.

    A coarse scan finds the first step over which the requirement comes to be met; a root finder closes in on it.

    Returns
    -------
    F; 0 where it is met without any; None where there is no such requirement, or none is enough
    """
    if not problem.of_kind("common-mode-voltage") or not problem.case.sources:
        return None
    if problem.noise_ratio(0.0) <= 1.0:
        return 0.0
    before: float | None = None
    for farad in _scan():
        if problem.noise_ratio(farad) <= 1.0:
            return farad if before is None else crossing(problem.noise_ratio, before, farad)
        before = farad
    return None


def most_capacitance(problem: Problem) -> float | None:
    """Return the most capacitance that every touch-current requirement allows in the worst case, F.

    Returns
    -------
    F; 0 where not even none is allowed; None where there is no such requirement, no mains, or no bound
    """
    if not problem.of_kind("touch-current") or problem.case.mains is None:
        return None
    if problem.touch_ratio(0.0) > 1.0:
        return 0.0
    if problem.touch_ratio(LARGEST_F) <= 1.0:
        return None
    if problem.touch_ratio(SMALLEST_F) > 1.0:
        return SMALLEST_F
    return crossing(problem.touch_ratio, SMALLEST_F, LARGEST_F)


def crossing(ratio: Callable[[float], float], low: float, high: float) -> float:
    """Return where a ratio crosses 1 between two values, one on each side of it.

    The root is found in log(value) of log(ratio), where a capacitive divider is all but straight; an infinite ratio
    counts as a very large one. Relative error 1e-9.

    Parameters
    ----------
    ratio : function of the value
    low, high : above 0; the ratio lies above 1 at one of them and not above 1 at the other

    Source: R. Brent, *Algorithms for Minimization without Derivatives*.
    """
    from scipy.optimize import brentq

    def excess(log_value: float) -> float:
        return math.log(min(max(ratio(math.exp(log_value)), 1e-30), 1e30))

    return math.exp(float(brentq(excess, math.log(low), math.log(high), xtol=1e-10, rtol=1e-12)))


def _scan() -> list[float]:
    count = round(math.log10(LARGEST_F / SMALLEST_F)) * _PER_DECADE + 1
    return [float(farad) for farad in np.geomspace(SMALLEST_F, LARGEST_F, count)]
