"""What is judged: a candidate in its case, with its outcomes computed when a judge asks for them, and not before."""

from __future__ import annotations

from functools import cached_property, partial

from attrs import evolve, frozen

from models.case.document import Candidate, Case
from models.decide.corners import weak_bridge
from models.network.solver import Solver
from models.outcomes.common_mode import CommonMode, common_mode
from models.outcomes.evaluation import Dc, Evaluator, Outcome, dc_outcome
from models.outcomes.touch import TouchCurrent, touch_current
from models.sources.source import Source


@frozen(kw_only=True, eq=False, slots=False)
class Subject:
    """A candidate under judgement; an outcome that is there already is not computed again."""

    solver: Solver
    case: Case
    candidate: Candidate
    outcome: Outcome | None = None

    @cached_property
    def scene(self) -> Case:
        """The case without what no outcome depends on, as a key to remember results by."""
        return self.case.scene()

    @cached_property
    def dc(self) -> Dc:
        """The bridge at DC."""
        return self.outcome.dc if self.outcome else dc_outcome(self.solver, self.case, self.candidate)

    @cached_property
    def touch(self) -> TouchCurrent | None:
        """The touch current, None without mains."""
        return self.outcome.touch if self.outcome else touch_current(self.solver, self.case, self.candidate)

    @cached_property
    def common_mode(self) -> tuple[CommonMode, ...]:
        """The voltage across the pair from each source, at nominal values."""
        if self.outcome:
            return self.outcome.common_mode
        return tuple(common_mode(self.solver, self.case, self.candidate, source) for source in self.case.sources)

    @cached_property
    def emission(self) -> Outcome:
        """The outcome with the currents of the cables and what they emit."""
        if self.outcome:
            return self.outcome
        alone = evolve(self.case, candidates=(self.candidate,), requirements=())
        return Evaluator(solver=self.solver).evaluate(alone).outcomes[0]

    @cached_property
    def worst_common_mode(self) -> tuple[CommonMode, ...]:
        """The voltage across the pair from each source, with the bridge as weak as its tolerances allow."""
        return tuple(
            self._worst(source, nominal) for source, nominal in zip(self.case.sources, self.common_mode, strict=True)
        )

    def _worst(self, source: Source, nominal: CommonMode) -> CommonMode:
        case, candidate = weak_bridge(self.case, self.candidate, source)
        if (case, candidate) == (self.case, self.candidate):
            return nominal
        compute = partial(common_mode, self.solver, case, candidate, source)
        corner = self.solver.memo.get(("weak", self.scene, self.candidate, source.name), compute)
        return corner if corner.peak_v > nominal.peak_v else nominal
