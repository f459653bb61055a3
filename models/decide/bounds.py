"""What a capacitance across the pair does to the requirements, and where it crosses their limits."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from attrs import frozen

from models.case.document import Case
from models.case.requirement import Requirement
from models.decide.emission_judge import closest
from models.decide.subject import Subject
from models.decide.template import Template
from models.decide.touch_judge import touch_ratio
from models.formulas.root import root
from models.network.solver import Solver

SMALLEST_F, LARGEST_F = 1e-14, 1e-3
_PER_DECADE = 4
_SOLD_F = (1e-11, 1e-10, 1e-9, 1e-8, 1e-7)


@frozen(kw_only=True)
class Problem:
    """A case, a capacitor to be sized in it, and a solver of its own that remembers the network between the tries."""

    case: Case
    template: Template
    solver: Solver

    def of_kind(self, kind: str) -> tuple[Requirement, ...]:
        """Return the requirements of a kind."""
        return tuple(each for each in self.case.requirements if each.kind == kind)

    @property
    def peak_limit_v(self) -> float | None:
        """The tightest limit of the common-mode peak, V; None where no requirement sets one."""
        return min((each.limit for each in self.of_kind("common-mode-voltage") if each.limit is not None), default=None)

    @property
    def emission_limits(self) -> tuple[Requirement, ...]:
        """The requirements that hold an emission against a limit line, in a case that has leads to emit from."""
        return tuple(each for each in self.case.requirements if each.limit_line) if self.case.cables else ()

    def subject(self, capacitance_f: float) -> Subject:
        """Return the candidate with this capacitance, ready to be judged."""
        # every try is new to the memory; without a turn it would keep them all, and evaluating emission turns it itself
        if not self.emission_limits:
            self.solver.memo.turn()
        return Subject(solver=self.solver, case=self.case, candidate=self.template.candidate(capacitance_f))

    def peak_v(self, capacitance_f: float, *, worst: bool = True) -> float:
        """Return the highest common-mode peak of any source, V, within tolerances or at nominal values."""
        subject = self.subject(capacitance_f)
        modes = subject.worst_common_mode if worst else subject.common_mode
        return max((each.peak_v for each in modes), default=0.0)

    def noise_ratio(self, capacitance_f: float) -> float:
        """Return the common-mode peak, or an emission, over its tightest limit; 0 without such a requirement."""
        return max(self._peak_ratio(capacitance_f), self.emission_ratio(capacitance_f))

    def best_noise(self, most: float | None, noise: Callable[[float], float] | None = None) -> float:
        """Return the lowest noise ratio that can be had: at the most capacitance that touch current allows.

        Without such a bound it is the lowest of five decades of capacitance, within which Y-capacitors are sold.

        Parameters
        ----------
        most : F; None for no bound
        noise : another function of the capacitance to be lowest, by default `noise_ratio`
        """
        tried = _SOLD_F if most is None else (max(most, SMALLEST_F),)
        return min(map(noise or self.noise_ratio, tried))

    def _peak_ratio(self, capacitance_f: float) -> float:
        limit = self.peak_limit_v
        if limit is None:
            return 0.0
        return self.peak_v(capacitance_f) / limit if limit > 0.0 else math.inf

    def emission_ratio(self, capacitance_f: float) -> float:
        """Return the emission that comes closest to its limit line over that limit, nominal; 0 without such a line."""
        if not self.emission_limits:
            return 0.0
        subject = self.subject(capacitance_f)
        found = [closest(subject, each) for each in self.emission_limits]
        return max((10.0 ** (-each.margin_db / 20.0) for each in found if each is not None), default=0.0)

    def touch_ratio(self, capacitance_f: float) -> float:
        """Return the touch current over its limit, the tightest of all; 0 without such a requirement or mains."""
        candidate = self.template.candidate(capacitance_f)
        return max(
            (touch_ratio(self.solver, self.case, candidate, each) for each in self.of_kind("touch-current")),
            default=0.0,
        )


def least_capacitance(problem: Problem) -> float | None:
    """Return the least capacitance that meets every requirement on noise, F.

    Those are the common-mode peak within tolerances, and emissions against their limit lines at nominal values.

    A coarse scan finds the first step over which the requirement comes to be met; a root finder closes in on it.

    Returns
    -------
    F; 0 where it is met without any; None where there is no such requirement, or none is enough
    """
    if (problem.peak_limit_v is None and not problem.emission_limits) or not problem.case.sources:
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

    Source: see `root`.
    """

    def excess(log_value: float) -> float:
        return math.log(min(max(ratio(math.exp(log_value)), 1e-30), 1e30))

    return math.exp(root(excess, math.log(low), math.log(high), within=1e-11))


def _scan() -> list[float]:
    count = round(math.log10(LARGEST_F / SMALLEST_F)) * _PER_DECADE + 1
    return [float(farad) for farad in np.geomspace(SMALLEST_F, LARGEST_F, count)]
