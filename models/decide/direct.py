"""Judges of direct current between the regions: what it drops, and how fast a charge bleeds away."""

from __future__ import annotations

import math

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.corners import slow, weak
from models.decide.ruling import Verdict, at_most, not_applicable, shown
from models.decide.subject import Subject
from models.network.grid import DC, point_grid
from models.network.solver import Solver
from models.sources.registry import Source

_TO_ONE_PERCENT = math.log(100.0)
_SLOW_HZ = 1e-3
"""Low enough that what is read there is the capacitance alone, with leads and losses of no account."""


def judge_dc_drop(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the mean voltage that a source's direct current drops between the regions."""
    if not subject.case.sources:
        return not_applicable(requirement, "The case has no source.")
    solver, corner = subject.solver, weak(subject.case, subject.candidate)
    nominal = [abs(each.dc_v) for each in subject.common_mode]
    drops = [
        0.0 if drop == 0.0 else drop * _gain_ratio(solver, (subject.case, subject.candidate), corner, source)
        for drop, source in zip(nominal, subject.case.sources, strict=True)
    ]
    value = max(drops)
    ohm = float(solver.in_circuit(*corner, DC)[0].real)
    why, equation = _drop_text(subject.case.sources[drops.index(value)].name, value, ohm)
    return at_most(
        requirement,
        value,
        why,
        nominal=max(nominal),
        equation=equation,
        source="Ohm's law with the resistances at DC",
    )


def _gain_ratio(solver: Solver, now: tuple[Case, Candidate], then: tuple[Case, Candidate], source: Source) -> float:
    """Return how much more a direct current drops in one corner than at nominal values."""
    if now == then:
        return 1.0
    before, after = (abs(float(solver.transfer(*each, source, DC)[0].real)) for each in (now, then))
    return after / before if 0.0 < before < math.inf else 1.0


def _drop_text(source: str, value: float, ohm: float) -> tuple[str, str]:
    if value == 0.0:
        return "No source drives a direct current over the pair.", ""
    if not math.isfinite(value):
        return f"The direct current of {source} has no way back.", ""
    if not math.isfinite(ohm) or ohm == 0.0:
        return f"The mean of {source} drops {shown(value, 'V')}.", ""
    return (
        f"The mean of {source} drops {shown(value, 'V')} over {shown(ohm, 'ohm')}.",
        f"{shown(value / ohm, 'A')}·{shown(ohm, 'ohm')} = {shown(value, 'V')}",
    )


def judge_static_bleed(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge how long a charge between the regions takes to fall to 1 %: t = ln(100)·R·C."""
    value, ohm, farad = _bleed_s(subject.solver, *slow(subject.case, subject.candidate))
    if not math.isfinite(value):
        return at_most(requirement, math.inf, "There is no DC path between the regions: a charge stays.")
    nominal, _, _ = _bleed_s(subject.solver, subject.case, subject.candidate)
    return at_most(
        requirement,
        value,
        f"{shown(ohm, 'ohm')} and {shown(farad, 'F')} let a charge fall to 1 % in {shown(value, 's')}.",
        nominal=nominal,
        equation=f"t = ln(100)·{shown(ohm, 'ohm')}·{shown(farad, 'F')} = {shown(value, 's')}",
        assumed=("Resistance and capacitance at the upper end of their tolerances; insulation resistance as stated.",),
        source="Discharge of one capacitance through one resistance",
    )


def _bleed_s(solver: Solver, case: Case, candidate: Candidate) -> tuple[float, float, float]:
    """Return the time to 1 %, the resistance and the capacitance between the regions."""
    ohm = float(solver.in_circuit(case, candidate, DC)[0].real)
    if ohm == 0.0 or not math.isfinite(ohm):
        return ohm, ohm, 0.0
    grid = point_grid((_SLOW_HZ,))
    y = 1.0 / solver.in_circuit(case, candidate, grid)[0]
    farad = max(0.0, float(y.imag / grid.omega[0]))
    return _TO_ONE_PERCENT * ohm * farad, ohm, farad
