"""How much common-mode choke in a lead opens a window that emission closes."""

from __future__ import annotations

import math

import numpy as np
from attrs import evolve

from models.case.document import Cable, Case, Coupling
from models.decide.bounds import Problem, crossing
from models.decide.opening import Opening
from models.decide.verdict import shown
from models.formulas.resonance import resonance_hz
from models.parts.inductor import Inductor

CHANGE = "A common-mode choke"
WINDING_F = 10e-12
"""Capacitance across the winding of a usual choke in one section: 5 to 30 pF."""
_LEAST_H, _MOST_H = 1e-6, 0.1
_PER_DECADE = 4
_ROUNDED = 1.0 + 1e-6
"""What a root found to its last digit may lack."""


def choke_opening(problem: Problem, most: float | None) -> Opening | None:
    """Return the least common-mode inductance in one lead, between region and far end, that opens the window.

    A coarse scan finds the first step over which every requirement on noise comes to be met at the most capacitance;
    a root finder closes in on it. Of several leads that which needs least. Touch current knows nothing of it: it is
    taken without the leads.

    Parameters
    ----------
    problem : the case and the capacitor
    most : what touch current allows, F; None for no bound

    Returns
    -------
    Opening, ``needed`` in H; None without a lead

    Notes
    -----
    The inductance is ideal. A choke has its own capacitance, here taken as 10 pF: beyond f = 1/(2π√(LC)) it is no
    inductance any more, and the text says up to where, and whether the window stays open with it.
    """
    cables = problem.case.cables
    if not cables:
        return None
    found = [(needed, each) for each in cables if (needed := _least_inductance(problem, each, most)) is not None]
    if not found:
        return Opening(change=CHANGE, now=0.0, needed=None, unit="H", text=_useless(problem, most))
    needed, cable = min(found, key=lambda each: each[0])
    return Opening(change=CHANGE, now=0.0, needed=needed, unit="H", text=_text(problem, cable, needed, most))


def with_choke(case: Case, cable: Cable, inductance_h: float, winding_f: float = 0.0) -> Case:
    """Return the case with a choke between a cable and the region that it leaves.

    Parameters
    ----------
    case : the case
    cable : one of its cables
    inductance_h : common-mode inductance, H
    winding_f : capacitance across it, F
    """
    behind = f"{cable.name} behind its choke"
    choke = Coupling(
        name=f"choke of {cable.name}",
        between=(cable.region, behind),
        parts=(Inductor(inductance_h=inductance_h, capacitance_f=winding_f),),
    )
    return evolve(
        case,
        pair=evolve(case.pair, others=(*case.pair.others, behind)),
        couplings=(*case.couplings, choke),
        cables=tuple(evolve(each, region=behind) if each == cable else each for each in case.cables),
    )


def _ratio(problem: Problem, cable: Cable, inductance_h: float, most: float | None, winding_f: float = 0.0) -> float:
    changed = evolve(problem, case=with_choke(problem.case, cable, inductance_h, winding_f))
    return changed.best_noise(most)


def _least_inductance(problem: Problem, cable: Cable, most: float | None) -> float | None:
    if most == 0.0 and problem.touch_ratio(0.0) > 1.0:
        return None
    count = round(math.log10(_MOST_H / _LEAST_H)) * _PER_DECADE + 1
    before = _LEAST_H * 1e-3
    for henry in map(float, np.geomspace(_LEAST_H, _MOST_H, count)):
        if _ratio(problem, cable, henry, most) <= 1.0:
            return crossing(lambda each: _ratio(problem, cable, each, most), before, henry)
        before = henry
    return None


def _text(problem: Problem, cable: Cable, needed: float, most: float | None) -> str:
    self_hz = resonance_hz(needed, WINDING_F)
    still = _ratio(problem, cable, needed * _ROUNDED, most, WINDING_F) <= 1.0
    end = (
        "the window stays open with it"
        if still
        else "with it the window stays shut, so it takes less capacitance, or several chokes in series"
    )
    return (
        f'{CHANGE} in "{cable.name}": at least {shown(needed, "H")}. It is an inductance up to {shown(self_hz, "Hz")}, '
        f"where its own capacitance takes over ({shown(WINDING_F, 'F')} is usual): {end}."
    )


def _useless(problem: Problem, most: float | None) -> str:
    text = f"{CHANGE} in a lead: not even {shown(_MOST_H, 'H')} opens the window."
    if problem.best_noise(most, problem.emission_ratio) > 1.0:
        return text
    return f"{text} It lowers what leaves on that lead, hardly the voltage across the pair."
