"""Everything that comes of a case, candidate by candidate."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property, partial

from attrs import field, frozen

from models.arrays import Complex, Real
from models.case.document import Candidate, Case
from models.network.edges import across_edges
from models.network.grid import DC, Grid, sweep_grid
from models.network.response import Response
from models.network.solver import Solver
from models.outcomes.cables import CableCurrent, cable_currents
from models.outcomes.common_mode import CommonMode, common_mode
from models.outcomes.conducted import Conducted, conducted
from models.outcomes.lines import source_lines
from models.outcomes.radiated import Radiated, radiated
from models.outcomes.touch import TouchCurrent, touch_current
from models.sources.source import Source


@frozen(kw_only=True)
class Dc:
    """The bridge at DC.

    Attributes
    ----------
    bridge_ohm : resistance of the branches across the pair, insulation counted; ``inf`` for none
    in_circuit_ohm : resistance between the regions with everything else in place
    blocks : no DC path through the bridge when insulation resistances are left out
    """

    bridge_ohm: float
    in_circuit_ohm: float
    blocks: bool


@frozen(kw_only=True, eq=False, slots=False)
class Outcome:
    """What comes of one candidate; what no curve shows is computed when it is asked for."""

    candidate: Candidate
    bridge_ohm: Complex
    in_circuit_ohm: Complex
    common_mode: tuple[CommonMode, ...]
    direct: Callable[[], Dc]
    touched: Callable[[], TouchCurrent | None]
    cables: tuple[CableCurrent, ...] = ()
    """Current of every source in every cable, source by source."""
    conducted: tuple[Conducted, ...] = ()
    """One for every lead that ends in a LISN."""
    radiated: tuple[Radiated, ...] = ()
    """One for every source, where the case has cables."""

    @property
    def name(self) -> str:
        """Name of the candidate."""
        return self.candidate.name

    @cached_property
    def dc(self) -> Dc:
        """The bridge at DC."""
        return self.direct()

    @cached_property
    def touch(self) -> TouchCurrent | None:
        """The touch current; None for a case without mains."""
        return self.touched()

    def peak_v(self) -> float:
        """Return the largest peak that any single source drives across the pair, V; 0 without sources."""
        return max((each.peak_v for each in self.common_mode), default=0.0)

    def together_rms_v(self) -> float:
        """Return the rms voltage across the pair of all sources, powers added, V: for sources out of step."""
        return math.sqrt(sum(each.total_rms_v**2 for each in self.common_mode))

    def together_peak_v(self) -> float:
        """Return the sum of every source's peak across the pair, V: no moment of all together exceeds it."""
        return sum(each.peak_v for each in self.common_mode)


@frozen(kw_only=True, eq=False)
class Evaluation:
    """What comes of a case: the frequencies, and one outcome a candidate."""

    case: Case
    f_hz: Real
    outcomes: tuple[Outcome, ...]

    def outcome(self, name: str) -> Outcome:
        """Return the outcome of the candidate of that name."""
        return next(each for each in self.outcomes if each.name == name)


@frozen(kw_only=True, eq=False)
class Evaluator:
    """Evaluates cases one after the other; what did not change from one to the next is not computed again."""

    solver: Solver = field(factory=Solver)

    def evaluate(self, case: Case) -> Evaluation:
        """Return everything that comes of a case.

        Parameters
        ----------
        case : a checked case

        Returns
        -------
        Evaluation; impedances (F,) over the case's sweep
        """
        memo = self.solver.memo
        memo.turn()
        grid = memo.get(("sweep", case.sweep), lambda: sweep_grid(case.sweep))
        scene = case.scene()
        outcomes = tuple(
            memo.get(("outcome", scene, candidate), partial(self._outcome, case, candidate, grid))
            for candidate in case.candidates
        )
        return Evaluation(case=case, f_hz=memo.get(("f", grid), case.sweep.f_hz), outcomes=outcomes)

    def _outcome(self, case: Case, candidate: Candidate, grid: Grid) -> Outcome:
        solver = self.solver
        driven = [(source, self._response(case, candidate, source)) for source in case.sources]
        cables = tuple(
            current
            for source, response in driven
            for current in cable_currents(solver, case, candidate, source, response)
        )
        return Outcome(
            candidate=candidate,
            bridge_ohm=solver.bridge(case, candidate, grid),
            in_circuit_ohm=solver.in_circuit(case, candidate, grid),
            common_mode=tuple(common_mode(solver, case, candidate, *each) for each in driven),
            direct=partial(dc_outcome, solver, case, candidate),
            touched=partial(touch_current, solver, case, candidate),
            cables=cables,
            conducted=conducted(case, cables),
            radiated=radiated(solver, cables),
        )

    def _response(self, case: Case, candidate: Candidate, source: Source) -> Response | None:
        grid = source_lines(self.solver, case, source).grid
        return None if grid is None else self.solver.response(case, candidate, source, grid)


def dc_outcome(solver: Solver, case: Case, candidate: Candidate) -> Dc:
    """Return the bridge at DC."""
    across = across_edges(case, candidate)
    return Dc(
        bridge_ohm=float(solver.bridge(case, candidate, DC)[0].real),
        in_circuit_ohm=float(solver.in_circuit(case, candidate, DC)[0].real),
        blocks=all(any(part.blocks_dc() for part in edge.parts) for edge in across),
    )
