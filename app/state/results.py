"""Results of the present document: computed from it, kept until it changes."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property, partial

import numpy as np
from attrs import field, frozen

from models.arrays import Complex, Real
from models.case.document import Case
from models.decide.judges import judge
from models.decide.verdict import Verdict
from models.network.edges import across_edges, branch_edges
from models.network.grid import point_grid, single
from models.network.load import BeadBias, LoadCurrent
from models.network.memo import Memo
from models.outcomes.emitted import Asked, Emitted, emitted
from models.outcomes.evaluation import Evaluation, Evaluator, Outcome
from models.outcomes.lines import source_lines
from models.outcomes.paths import PathShare, path_shares
from models.outcomes.resonances import Maker, Resonance, makers, resonances


@frozen(kw_only=True, eq=False, slots=False)
class Reading:
    """One candidate at the cursor frequency: impedances in Ω, and where the current goes once that is asked for."""

    bridge_ohm: complex
    in_circuit_ohm: complex
    shares: Callable[[], tuple[PathShare, ...]]

    @cached_property
    def paths(self) -> tuple[PathShare, ...]:
        """Each path's share of the current across the pair."""
        return self.shares()


@frozen(kw_only=True, eq=False)
class Anatomy:
    """What stands behind one candidate's impedance: its branches one by one, and its resonances with their makers."""

    branches: tuple[tuple[str, Complex], ...]
    resonances: tuple[tuple[Resonance, tuple[Maker, ...]], ...]


@frozen(kw_only=True, eq=False, slots=False)
class Results:
    """Everything the window shows of one document; what is judged is judged when it is asked for.

    Attributes
    ----------
    evaluation : impedances and voltages of every candidate
    desk : what computed them, and computes the rest
    """

    evaluation: Evaluation
    desk: Desk

    @property
    def case(self) -> Case:
        """The document these are the results of."""
        return self.evaluation.case

    @cached_property
    def verdicts(self) -> tuple[tuple[Verdict, ...], ...]:
        """Verdicts per candidate, in the order of the case's requirements."""
        self.desk.judged.turn()
        return tuple(self.desk.verdicts(self.case, outcome) for outcome in self.evaluation.outcomes)

    @cached_property
    def loads(self) -> tuple[tuple[LoadCurrent, ...], ...]:
        """The direct current through each branch, per candidate; empty where no source has a mean."""
        return self.desk.loads(self.case)

    @cached_property
    def bead_biases(self) -> tuple[tuple[BeadBias, ...], ...]:
        """What the load current makes of the beads, per candidate."""
        return self.desk.bead_biases(self.case)


@frozen(kw_only=True, eq=False)
class Desk:
    """Computes results; one desk serves a window for its whole life, so that it remembers what did not change."""

    evaluator: Evaluator = field(factory=Evaluator)
    judged: Memo = field(factory=Memo)
    """Verdicts; they outlive many evaluations, since a drag judges at a slower beat."""

    def results(self, case: Case) -> Results:
        """Return the results of a document."""
        return Results(evaluation=self.evaluator.evaluate(case), desk=self)

    def emissions(self, results: Results, asked: Asked) -> tuple[Emitted | None, ...]:
        """Return what a receiver reads of every candidate; only what is asked for is computed."""
        memo = self.evaluator.solver.memo
        return tuple(
            memo.get(("emitted", outcome, asked), partial(emitted, outcome, asked))
            for outcome in results.evaluation.outcomes
        )

    def anatomy(self, results: Results, candidate: int, *, bridge_alone: bool) -> Anatomy:
        """Return what stands behind one candidate's impedance."""
        outcome = results.evaluation.outcomes[candidate]
        key = ("anatomy", outcome, bridge_alone)
        work = partial(self._anatomy, results.case, outcome, results.evaluation.f_hz, bridge_alone=bridge_alone)
        return self.evaluator.solver.memo.get(key, work)

    def _anatomy(self, case: Case, outcome: Outcome, f_hz: Real, *, bridge_alone: bool) -> Anatomy:
        solver = self.evaluator.solver
        candidate = solver.operating(case, outcome.candidate)
        edges = across_edges(case, candidate) if bridge_alone else branch_edges(case, candidate)
        omega = math.tau * f_hz
        found = resonances(f_hz, outcome.bridge_ohm if bridge_alone else outcome.in_circuit_ohm)
        return Anatomy(
            branches=tuple(
                (edge.name, np.sum([each.impedance(omega) for each in edge.parts], axis=0)) for edge in edges
            ),
            resonances=tuple(
                (each, makers(solver, case, candidate, each.f_hz, bridge_alone=bridge_alone)) for each in found
            ),
        )

    def verdicts(self, case: Case, outcome: Outcome) -> tuple[Verdict, ...]:
        """Judge a candidate, once for as long as neither its outcome nor the requirements change."""
        key = ("verdicts", outcome, case.requirements)
        return self.judged.get(key, lambda: judge(self.evaluator, case, outcome))

    def loads(self, case: Case) -> tuple[tuple[LoadCurrent, ...], ...]:
        """Return the direct current through each branch, per candidate; empty where no source has a mean."""
        solver = self.evaluator.solver
        if not any(source_lines(solver, case, each).mean for each in case.sources):
            return ()
        return tuple(solver.loads(case, each) for each in case.candidates)

    def bead_biases(self, case: Case) -> tuple[tuple[BeadBias, ...], ...]:
        """Return what the load current makes of the beads, per candidate."""
        return tuple(self.evaluator.solver.bead_biases(case, each) for each in case.candidates)

    def readings(self, case: Case, f_hz: float) -> tuple[Reading, ...]:
        """Return every candidate at one frequency, solved there rather than read off the sweep."""
        grid = point_grid((f_hz,))
        solver = self.evaluator.solver
        return tuple(
            Reading(
                bridge_ohm=complex(solver.bridge(case, candidate, grid)[0]),
                in_circuit_ohm=complex(solver.in_circuit(case, candidate, grid)[0]),
                shares=partial(path_shares, solver, case, candidate, grid),
            )
            for candidate in case.candidates
        )

    def impedances(self, case: Case, f_hz: float) -> tuple[complex, ...]:
        """Return every candidate's impedance in circuit at one frequency, 0 Hz being DC, Ω."""
        grid = single(f_hz)
        solver = self.evaluator.solver
        return tuple(complex(solver.in_circuit(case, each, grid)[0]) for each in case.candidates)
