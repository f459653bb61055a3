"""The bench of a lesson: the solver with the lesson's cases on it, asked for one thing at a time."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from attrs import evolve, field, frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.fitting.data import Measurement
from models.network.grid import Grid, point_grid, single
from models.network.solver import Solver
from models.outcomes.common_mode import CommonMode, common_mode
from models.outcomes.evaluation import Evaluator, Outcome
from models.outcomes.paths import PathShare, path_shares
from models.outcomes.touch import TouchCurrent, touch_current


@frozen(kw_only=True, eq=False)
class Bench:
    """Solves what a lesson asks of its cases, and remembers it.

    Attributes
    ----------
    number : returns another number of the lesson by its name, for ratios
    measured : returns a measurement of the lesson by its name
    """

    number: Callable[[str], float]
    measured: Callable[[str], Measurement]
    solver: Solver = field(factory=Solver)
    _kept: dict[Any, Any] = field(factory=dict)

    def impedance(self, case: Case, candidate: Candidate, f_hz: float, *, alone: bool = False) -> complex:
        """Return the impedance between the regions, or of the bridge alone, at one frequency, 0 Hz being DC, Ω."""
        grid = single(f_hz)
        return complex(self._solve(case, candidate, grid, alone=alone)[0])

    def curve(self, case: Case, candidate: Candidate, f_hz: Real, *, alone: bool = False) -> Complex:
        """Return the impedance (F,) over frequencies (F,) above 0 Hz."""
        return self._solve(case, candidate, point_grid(f_hz.tolist()), alone=alone)

    def capacitance(self, case: Case, candidate: Candidate, f_hz: float) -> float:
        """Return the capacitance between the regions, as it is seen at a frequency, F."""
        y = 1.0 / self.impedance(case, candidate, f_hz)
        return y.imag / (math.tau * f_hz)

    def common_mode(self, case: Case, candidate: Candidate) -> tuple[CommonMode, ...]:
        """Return the voltage across the pair from each source."""
        compute = partial(self._modes, case, candidate)
        found: tuple[CommonMode, ...] = self._remember(("modes", case, candidate), compute)
        return found

    def paths(self, case: Case, candidate: Candidate, f_hz: Real) -> tuple[PathShare, ...]:
        """Return which way the current takes."""
        return path_shares(self.solver, case, candidate, point_grid(f_hz.tolist()))

    def touch(self, case: Case, candidate: Candidate) -> TouchCurrent | None:
        """Return the touch current, None without mains."""
        return touch_current(self.solver, case, candidate)

    def outcome(self, case: Case, candidate: Candidate) -> Outcome:
        """Return everything that comes of a candidate."""
        alone = evolve(case, candidates=(candidate,))
        found: Outcome = self._remember(
            ("outcome", case, candidate), lambda: Evaluator(solver=self.solver).evaluate(alone).outcomes[0]
        )
        return found

    def fitted(self, measurement: str, kind: str) -> Mapping[str, Any]:
        """Return the values of a part fitted to a measurement."""
        from models.fitting.fit import fit_part

        found: Mapping[str, Any] = self._remember(
            ("fit", measurement, kind), lambda: fit_part(self.measured(measurement), kind).keys
        )
        return found

    def _solve(self, case: Case, candidate: Candidate, grid: Grid, *, alone: bool) -> Complex:
        solve = self.solver.bridge if alone else self.solver.in_circuit
        return solve(case, candidate, grid)

    def _modes(self, case: Case, candidate: Candidate) -> tuple[CommonMode, ...]:
        return tuple(common_mode(self.solver, case, candidate, source) for source in case.sources)

    def _remember(self, key: Any, compute: Callable[[], Any]) -> Any:
        if key not in self._kept:
            self._kept[key] = compute()
        return self._kept[key]
