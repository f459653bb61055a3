"""The judge of a ground loop: what an offset between two earths sends over the bridge."""

from __future__ import annotations

import math
from collections.abc import Iterator

from attrs import evolve

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.bias import percent
from models.decide.corners import stiff
from models.decide.subject import Subject
from models.decide.verdict import Verdict, at_most, not_applicable, shown
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.common_mode import common_mode
from models.parts.bead import Bead
from models.sources.mains_offset import MainsOffset

_UNTOUCHED = 0.9


def judge_loop_current(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the largest current that any offset of the earths sends over the bridge, within tolerances."""
    case, candidate, solver = subject.case, subject.candidate, subject.solver
    offsets = tuple(each for each in case.sources if isinstance(each, MainsOffset))
    if not offsets:
        return not_applicable(requirement, "No source is an offset of the earths.")
    corner = stiff(case, candidate)
    worst = max(offsets, key=lambda each: loop_current(solver, *corner, each))
    value = loop_current(solver, *corner, worst)
    volt, ohm = _round(solver, *corner, worst)
    return at_most(
        requirement,
        value,
        f"{worst.name} sends {shown(value, 'A')} rms round the loop, over the bridge."
        if value
        else "No bridge joins the regions: no loop closes over it.",
        nominal=max(loop_current(solver, case, candidate, each) for each in offsets),
        equation=f"I = {shown(volt, 'V')}/{shown(ohm, 'ohm')} = {shown(value, 'A')} rms, round the whole loop"
        if value
        else "",
        assumed=(
            "Every part at the end of its tolerance where the regions are joined most firmly.",
            *_saturated(solver, *corner, worst.wave.frequency_hz, value),
        ),
        source="Ohm's law round the loop, with the bonds and earths of the case",
    )


def _saturated(solver: Solver, case: Case, candidate: Candidate, f_hz: float, current_a: float) -> Iterator[str]:
    """Yield what the crests of a loop current leave of the beads that carry it, where that is less than they have."""
    grid = point_grid((f_hz,))
    volt = current_a * abs(complex(solver.bridge(case, candidate, grid)[0])) if current_a else 0.0
    for number, branch in enumerate(candidate.branches, start=1):
        ohm = abs(sum(complex(part.impedance(grid.omega)[0]) for part in branch.parts))
        for part in branch.parts:
            if case.is_across(branch) and isinstance(part, Bead) and part.rated_current_a is not None and ohm > 0.0:
                left = evolve(part, bias_current_a=math.sqrt(2.0) * volt / ohm).inductance_left()
                if left < _UNTOUCHED * part.inductance_left():
                    yield (
                        f"Bead in branch {number}: the crests of the loop current leave {percent(left)} of its "
                        "inductance; no other result counts with that."
                    )


def loop_current(solver: Solver, case: Case, candidate: Candidate, source: MainsOffset) -> float:
    """Return what an offset of the earths sends over the branches across the pair, A rms; 0 where none is there.

    I = U/|Zopen + Zbridge|, U and Zopen being those of the pair without these branches, so that one of no impedance has
    its current too. Beside another join of no impedance nothing is left for it.
    """
    volt, ohm = _round(solver, case, candidate, source)
    return 0.0 if math.isinf(ohm) or ohm == 0.0 else volt / ohm


def _round(solver: Solver, case: Case, candidate: Candidate, source: MainsOffset) -> tuple[float, float]:
    """Return U, V rms, and |Zopen + Zbridge|, Ω."""
    bare = evolve(candidate, branches=tuple(each for each in candidate.branches if not case.is_across(each)))
    offset = common_mode(solver, case, bare, source)
    grid = point_grid((offset.frequency_hz,))
    bridge = complex(solver.bridge(case, candidate, grid)[0])
    return offset.total_rms_v, abs(complex(solver.in_circuit(case, bare, grid)[0]) + bridge)


def loops_said(subject: Subject) -> Iterator[str]:
    """Yield a sentence on the current of every offset of the earths, where a bridge carries it."""
    for source in subject.case.sources:
        if isinstance(source, MainsOffset):
            current_a = loop_current(subject.solver, subject.case, subject.candidate, source)
            if current_a > 0.0:
                yield f"{source.name} sends {shown(current_a, 'A')} rms round the loop, over the bridge."
