"""The judge of what mains drive through the bridge and a person, in normal condition and with a single fault.

An estimate for design, not a certification: see `verdict.SAFETY_CAUTION`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from attrs import evolve, frozen

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.presets import origin_of
from models.decide.subject import Subject
from models.decide.verdict import SAFETY_CAUTION, Verdict, at_most, not_applicable, shown
from models.network.solver import Solver
from models.outcomes.touch import touch_current
from models.parts.copper import Copper
from models.parts.part import Part

_LET_GO_A = 10e-3
"""From about here muscles hold on to what they touch, rms at 50 and 60 Hz. Source: IEC 60479-1, believed."""


@frozen(kw_only=True)
class Fault:
    """One single fault: what fails, and the case and candidate that are left."""

    text: str
    case: Case
    candidate: Candidate


def judge_touch_current(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the worst touch current, and the worst with one of several capacitors in series shorted.

    Without a stated `fault_limit` the limit of normal condition holds for the fault as well.
    """
    case, touch, limit = subject.case, subject.touch, requirement.limit
    if touch is None or case.mains is None:
        return not_applicable(requirement, "No side of the pair is fed from the mains.")
    assert limit is not None
    value, nominal = touch.worst_unweighted_a, touch.unweighted_a
    fault, fault_a = worst_fault(subject.solver, case, subject.candidate, earth=requirement.fault_limit_a is not None)
    fault_limit = limit if requirement.fault_limit_a is None else requirement.fault_limit_a
    fault_fails = fault is not None and fault_a > fault_limit
    why = f"{shown(value, 'A')} rms flows through a person, {shown(nominal, 'A')} at nominal values."
    if fault is not None:
        why += f" With {fault.text} it is {shown(fault_a, 'A')}, against {shown(fault_limit, 'A')}."
    if max(value, fault_a) > _LET_GO_A:
        why += f" A hand may not let go of more than {shown(_LET_GO_A, 'A')}: it is a danger to life."
    by_fault = fault_fails and value <= limit
    judged = fault_a if by_fault else value
    verdict = at_most(
        evolve(requirement, limit=fault_limit) if by_fault else requirement,
        judged,
        why,
        # what a fault brings over the limit does not pass at nominal values either
        nominal=judged if fault_fails else nominal,
        equation=_equation(case, judged),
        assumed=tuple(_assumed(subject, requirement, fault)),
        source="IEC 60990, body network without filter: U1/500 Ω. Edition to be checked.",
        caution=SAFETY_CAUTION,
    )
    return verdict if by_fault else evolve(verdict, nominal=nominal)


def touch_ratio(solver: Solver, case: Case, candidate: Candidate, requirement: Requirement) -> float:
    """Return the worst touch current over its limit, or that with a single fault over its own, whichever is more.

    Parameters
    ----------
    solver, case, candidate : what is judged; without mains the ratio is 0
    requirement : of the kind ``touch-current``

    Returns
    -------
    at most 1 where the requirement is met; ``inf`` for a limit of 0
    """
    touch, limit = touch_current(solver, case, candidate), requirement.limit
    if touch is None or limit is None:
        return 0.0
    fault_limit = limit if requirement.fault_limit_a is None else requirement.fault_limit_a
    _, fault_a = worst_fault(solver, case, candidate, earth=requirement.fault_limit_a is not None)
    return max(_over(touch.worst_unweighted_a, limit), _over(fault_a, fault_limit))


def _over(value: float, limit: float) -> float:
    if limit == 0.0:
        return 0.0 if value == 0.0 else math.inf
    return value / limit


def worst_fault(solver: Solver, case: Case, candidate: Candidate, *, earth: bool) -> tuple[Fault | None, float]:
    """Return the single fault with the highest worst-case touch current, and that current in A.

    Parameters
    ----------
    solver, case, candidate : what is judged; the case has mains
    earth : whether an interrupted protective conductor counts as a fault

    Returns
    -------
    (None, 0) where no fault of these kinds is possible
    """
    worst: tuple[Fault | None, float] = (None, 0.0)
    for fault in faults(case, candidate, earth=earth):
        touch = touch_current(solver, fault.case, fault.candidate)
        assert touch is not None
        if worst[0] is None or touch.worst_unweighted_a > worst[1]:
            worst = fault, touch.worst_unweighted_a
    return worst


def faults(case: Case, candidate: Candidate, *, earth: bool) -> tuple[Fault, ...]:
    """Return every single fault that is judged: one of several capacitors in series shorted, and the earth lost."""
    return (*_shorted(case, candidate), *(_unearthed(case, candidate) if earth else ()))


def _shorted(case: Case, candidate: Candidate) -> Iterator[Fault]:
    """Give every case in which one of several blocking parts in series is shorted."""
    for number, branch in enumerate(candidate.branches):
        for left in _shorts(branch.parts):
            branches = (*candidate.branches[:number], evolve(branch, parts=left), *candidate.branches[number + 1 :])
            yield Fault(
                text=f"one capacitor of branch {number + 1} shorted",
                case=case,
                candidate=evolve(candidate, branches=branches),
            )
    for number, coupling in enumerate(case.couplings):
        for left in _shorts(coupling.parts):
            couplings = (*case.couplings[:number], evolve(coupling, parts=left), *case.couplings[number + 1 :])
            yield Fault(
                text=f"one capacitor of {coupling.name} shorted",
                case=evolve(case, couplings=couplings),
                candidate=candidate,
            )


def _shorts(parts: tuple[Part, ...]) -> Iterator[tuple[Part, ...]]:
    """Give the parts with one of several blocking parts shorted, each in its place."""
    blocking = [number for number, part in enumerate(parts) if part.blocks_dc()]
    if len(blocking) > 1:
        yield from ((*parts[:number], Copper(), *parts[number + 1 :]) for number in blocking)


def _unearthed(case: Case, candidate: Candidate) -> Iterator[Fault]:
    """Give the case whose touched region has lost its connection to earth, where it has one."""
    assert case.mains is not None
    ends = {case.mains.touched, case.surroundings.name}
    earths = [
        each
        for each in case.couplings
        if set(each.between) == ends and not any(part.blocks_dc() for part in each.parts)
    ]
    if earths:
        left = tuple(each for each in case.couplings if each not in earths)
        yield Fault(text="the protective conductor interrupted", case=evolve(case, couplings=left), candidate=candidate)


def _equation(case: Case, value: float) -> str:
    assert case.mains is not None
    volt = case.mains.voltage_v * (1.0 + case.mains.tolerance)
    farad = value / (math.tau * case.mains.frequency_hz * volt)
    return (
        f"I = 2π·{shown(case.mains.frequency_hz, 'Hz')}·{shown(farad, 'F')}·{shown(volt, 'V')} = {shown(value, 'A')}, "
        "the capacitance being what the network amounts to"
    )


def _assumed(subject: Subject, requirement: Requirement, fault: Fault | None) -> Iterator[str]:
    mains = subject.case.mains
    assert mains is not None
    yield f"Mains {shown(mains.tolerance * 100.0, '')} % above nominal, every capacitor at its upper tolerance."
    if fault is not None and requirement.fault_limit_a is None:
        yield "No limit for a single fault is stated, so the limit of normal condition holds for it."
    if fault is None:
        yield "No part is taken as failed; which insulation a single part may bridge, separation judges."
    origin = origin_of(requirement)
    if origin is not None:
        yield origin
