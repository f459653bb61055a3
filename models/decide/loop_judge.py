"""The judge of a ground loop: what an offset between two earths sends over the bridge."""

from __future__ import annotations

import math
from collections.abc import Iterator

from attrs import evolve, frozen

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.bias import percent
from models.decide.corners import stiff
from models.decide.subject import Subject
from models.decide.verdict import Verdict, at_most, not_applicable, shown
from models.network.grid import point_grid
from models.network.solver import Solver
from models.parts.bead import Bead
from models.sources.mains_offset import MainsOffset

_UNTOUCHED = 0.9
"""A bead that keeps this share of its inductance is not spoken of."""


@frozen(kw_only=True)
class Loop:
    """A ground loop that one offset of the earths drives over the branches across the pair.

    Attributes
    ----------
    source : the offset
    volt : what it drives across the pair without these branches, V rms
    ohm : |Zopen + Zbridge|, the pair without these branches and they alone, Ω; ``inf`` where no loop closes
    """

    source: MainsOffset
    volt: float
    ohm: float

    @property
    def current_a(self) -> float:
        """I = U/|Zopen + Zbridge|, A rms; 0 where no loop closes, ``inf`` where nothing in it limits the current."""
        if math.isinf(self.ohm) or self.volt == 0.0:
            return 0.0
        return self.volt / self.ohm if self.ohm else math.inf

    @property
    def said(self) -> str:
        """The current in a sentence."""
        if self.current_a == 0.0:
            return "No offset of the earths drives a current over a bridge: no loop closes there."
        if math.isinf(self.current_a):
            return f"{self.source.name}: nothing in the loop has an impedance that limits its current."
        return f"{self.source.name} sends {shown(self.current_a, 'A')} rms round the loop, over the bridge."


def judge_loop_current(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the largest current that any offset of the earths sends over the bridge, within tolerances."""
    loops = tuple(_loops(subject.solver, subject.case, subject.candidate))
    if not loops:
        return not_applicable(requirement, "No source is an offset of the earths.")
    corner = stiff(subject.case, subject.candidate)
    worst = max(_loops(subject.solver, *corner), key=lambda each: each.current_a)
    return at_most(
        requirement,
        worst.current_a,
        worst.said,
        nominal=max(each.current_a for each in loops),
        equation=_equation(worst),
        assumed=(
            "Every part at the end of its tolerance where the regions are joined most firmly.",
            *_saturated(subject.solver, *corner, worst),
        ),
        source="Ohm's law round the loop, with the bonds and earths of the case",
    )


def loops_said(subject: Subject) -> Iterator[str]:
    """Yield a sentence on the current of every offset of the earths, where a bridge carries it."""
    return (each.said for each in _loops(subject.solver, subject.case, subject.candidate) if each.current_a > 0.0)


def _loops(solver: Solver, case: Case, candidate: Candidate) -> Iterator[Loop]:
    """Yield the loop of every offset; split at the bridge, one of no impedance has its current too."""
    bare = evolve(candidate, branches=tuple(each for each in candidate.branches if not case.is_across(each)))
    for source in case.sources:
        if isinstance(source, MainsOffset):
            grid = point_grid((source.wave.frequency_hz,))
            volt = source.level() * abs(complex(solver.transfer(case, bare, source, grid)[0]))
            around, bridge = solver.in_circuit(case, bare, grid)[0], solver.bridge(case, candidate, grid)[0]
            yield Loop(source=source, volt=volt, ohm=abs(complex(around) + complex(bridge)))


def _equation(loop: Loop) -> str:
    if not 0.0 < loop.current_a < math.inf:
        return ""
    ratio = f"{shown(loop.volt, 'V')}/{shown(loop.ohm, 'ohm')}"
    return f"I = {ratio} = {shown(loop.current_a, 'A')} rms, round the whole loop"


def _saturated(solver: Solver, case: Case, candidate: Candidate, loop: Loop) -> Iterator[str]:
    """Yield what the crests of a loop current, on top of any bias, leave of beads, where it is less than they have."""
    if not 0.0 < loop.current_a < math.inf:
        return
    grid = point_grid((loop.source.wave.frequency_hz,))
    crest_v = math.sqrt(2.0) * loop.current_a * abs(complex(solver.bridge(case, candidate, grid)[0]))
    for number, branch in enumerate(solver.operating(case, candidate).branches, start=1):
        ohm = abs(sum(complex(part.impedance(grid.omega)[0]) for part in branch.parts))
        for part in branch.parts:
            if case.is_across(branch) and isinstance(part, Bead) and part.rated_current_a is not None and ohm > 0.0:
                left = evolve(part, bias_current_a=part.bias_current_a + crest_v / ohm).inductance_left()
                if left < _UNTOUCHED * part.inductance_left():
                    yield (
                        f"Bead in branch {number}: the crests of the loop current leave {percent(left)} of its "
                        "inductance; no other result counts with that."
                    )
