"""The Y-capacitor sized: the least that calms the pair, the most that a person may be given, and what lies between.

An estimate for design, not a certification: see `verdict.SAFETY_CAUTION`.
"""

from __future__ import annotations

import math

import numpy as np
from attrs import evolve, frozen

from models.arrays import Real
from models.case.document import Case
from models.decide.bounds import Problem, least_capacitance, most_capacitance
from models.decide.emission_judge import judge_conducted
from models.decide.lead_resonance import LeadResonance
from models.decide.opening import Opening
from models.decide.openings import openings
from models.decide.template import Template, template_of
from models.decide.verdict import SAFETY_CAUTION, listed, shown
from models.eseries import standard_values
from models.network.grid import point_grid
from models.network.solver import Solver
from models.outcomes.touch import touch_current

_SOLD_F = (10e-12, 100e-9)
"""Range in which Y-capacitors are sold; what a missing bound is replaced by in the list of values."""
_LISTED = 9


@frozen(kw_only=True)
class Sizing:
    """What came of sizing.

    Attributes
    ----------
    least_f : least capacitance that meets the requirements on noise, F; None for no such bound
    most_f : most capacitance that the touch-current requirement allows in the worst case, F; None for no such bound
    standard_values_f : standard values that meet both, each evaluated, F
    interwinding_f : interwinding capacitance across the pair, F; None without a transformer
    empty : whether no capacitance at all meets both
    why : the bounds in a sentence or two
    assumed : what was taken for granted
    openings : where the window is empty, what opens it and how much of each
    resonance : of the leads, at the first standard value or the least capacitance; None without lead inductance
    """

    least_f: float | None
    most_f: float | None
    standard_values_f: tuple[float, ...]
    interwinding_f: float | None
    empty: bool
    assumed: tuple[str, ...]
    openings: tuple[Opening, ...]
    resonance: LeadResonance | None
    why: str = ""
    caution: str = SAFETY_CAUTION

    @property
    def least_ratio(self) -> float | None:
        """The least capacitance in multiples of the interwinding capacitance, as the trade says it."""
        return self._ratio(self.least_f)

    @property
    def most_ratio(self) -> float | None:
        """The most capacitance in multiples of the interwinding capacitance."""
        return self._ratio(self.most_f)

    def _ratio(self, farad: float | None) -> float | None:
        return None if farad is None or self.interwinding_f is None else farad / self.interwinding_f


@frozen(kw_only=True, eq=False)
class Curves:
    """What a view draws over capacitance: worst case and nominal, (N,) each.

    Attributes
    ----------
    capacitance_f : F
    peak_v, nominal_peak_v : common-mode peak of the loudest source, V
    touch_a, nominal_touch_a : touch current, A rms; None without mains
    conducted_db : margin of the first conducted-emission requirement, dB; None without one, or without a lead
    """

    capacitance_f: Real
    peak_v: Real
    nominal_peak_v: Real
    touch_a: Real | None
    nominal_touch_a: Real | None
    conducted_db: Real | None


def size(case: Case, *, solver: Solver | None = None, template: Template | None = None, series: int = 6) -> Sizing:
    """Size a capacitor across the pair between the requirements on noise and on touch current.

    For a switch node over a transformer with nothing else the least is C = C_hot·U·max(d, 1 − d)/U_limit − C_ww, with
    U the swing and d the duty, and the most is C = I_limit/(2πfU_mains) − C_ww, each over (1 ± tolerance).

    Parameters
    ----------
    case : with its requirements
    solver : remembers the network; a new one by default
    template : the branch to be sized; by default what the case offers, see `template_of`
    series : E series of the values

    Returns
    -------
    Sizing

    Source: capacitive divider, IEC 60990; every value is evaluated with the whole network, not with the closed form.
    """
    problem = Problem(case=case, template=template or template_of(case), solver=solver or Solver())
    least, most = least_capacitance(problem), most_capacitance(problem)
    hopeless = least is None and problem.noise_ratio(0.0) > 1.0
    empty = hopeless or most == 0.0 or (least is not None and most is not None and least > most)
    values = () if empty else _standard_values(problem, least, most, series)
    sizing = Sizing(
        least_f=least,
        most_f=most,
        standard_values_f=values,
        interwinding_f=_interwinding_f(case),
        empty=empty,
        assumed=_assumed(problem),
        openings=openings(problem, least, most) if empty else (),
        resonance=lead_resonance(problem, values[0] if values else least or most or 1e-9),
    )
    return evolve(sizing, why=_why(problem, sizing, series))


def curves(problem: Problem, capacitance_f: Real) -> Curves:
    """Return the common-mode peak and the touch current over capacitance (N,) in F."""
    points = [float(farad) for farad in capacitance_f]
    touches = [touch_current(problem.solver, problem.case, problem.template.candidate(farad)) for farad in points]
    found = [touch for touch in touches if touch is not None]
    return Curves(
        capacitance_f=capacitance_f,
        peak_v=np.array([problem.peak_v(farad) for farad in points]),
        nominal_peak_v=np.array([problem.peak_v(farad, worst=False) for farad in points]),
        touch_a=np.array([touch.worst_unweighted_a for touch in found]) if found else None,
        nominal_touch_a=np.array([touch.unweighted_a for touch in found]) if found else None,
        conducted_db=_conducted_db(problem, points),
    )


def _conducted_db(problem: Problem, points: list[float]) -> Real | None:
    limits = problem.of_kind("conducted-emission")
    if not limits:
        return None
    margins = [judge_conducted(problem.subject(farad), limits[0]).margin_db for farad in points]
    return None if any(margin is None for margin in margins) else np.array(margins, np.float64)


def lead_resonance(problem: Problem, capacitance_f: float) -> LeadResonance | None:
    """Return how the leads of a capacitance in F resonate with the rest of the pair, None without lead inductance."""
    low, high = point_grid((1e6,)), point_grid((1e9,))
    case, solver = problem.case, problem.solver
    branch = solver.bridge(case, problem.template.candidate(capacitance_f), high)[0]
    inductance = float(branch.imag + 1.0 / (high.omega[0] * capacitance_f)) / float(high.omega[0])
    rest = 1.0 / solver.in_circuit(case, problem.template.candidate(0.0), low)[0]
    gap = float(rest.imag / low.omega[0])
    # a hundredth of a nanohenry is what rounding leaves of no inductance at all
    if inductance < 1e-11 or gap <= 0.0:
        return None
    start = LeadResonance(
        inductance_h=inductance, capacitance_f=capacitance_f, gap_f=gap, resistance_ohm=float(branch.real)
    )
    there = solver.bridge(case, problem.template.candidate(capacitance_f), point_grid((start.anti_hz,)))[0]
    return LeadResonance(
        inductance_h=inductance, capacitance_f=capacitance_f, gap_f=gap, resistance_ohm=float(there.real)
    )


def _standard_values(problem: Problem, least: float | None, most: float | None, series: int) -> tuple[float, ...]:
    low = max(least or 0.0, _SOLD_F[0])
    high = max(_SOLD_F[1], 10.0 * low) if most is None else most
    if high < low:
        return ()
    values = standard_values(series, low, high)
    return tuple(farad for farad in values if problem.noise_ratio(farad) <= 1.0 and problem.touch_ratio(farad) <= 1.0)


def _interwinding_f(case: Case) -> float | None:
    across = [each.interwinding_capacitance_f for each in case.transformers if case.pair.is_joined_by(each.between)]
    return sum(across) if across else None


def _why(problem: Problem, sizing: Sizing, series: int) -> str:
    least, most, interwinding = sizing.least_f, sizing.most_f, sizing.interwinding_f
    sentences = [_least_text(problem, least), _most_text(problem, most)]
    if sizing.standard_values_f:
        sentences.append(_values_text(sizing, series))
    else:
        sentences.append("The window is empty." if sizing.empty else f"No E{series} value lies between.")
    times = [f"{ratio:.3g}" for ratio in (sizing.least_ratio, sizing.most_ratio) if ratio]
    if times and interwinding is not None:
        bounds = (" and " if sizing.empty else " to ").join(times)
        sentences.append(f"That is {bounds} times the interwinding capacitance of {shown(interwinding, 'F')}.")
    return " ".join(sentences)


def _values_text(sizing: Sizing, series: int) -> str:
    shorts = [shown(farad, "F") for farad in sizing.standard_values_f]
    values = listed(shorts) if len(shorts) <= _LISTED else f"{shorts[0]} to {shorts[-1]}"
    bounds = sum(1 for bound in (sizing.least_f, sizing.most_f) if bound)
    if bounds == 0:
        return f"So nothing here chooses among the E{series} values that are sold, {values}."
    return f"E{series} values that meet {'both' if bounds == 2 else 'it'}: {values}."


def _least_text(problem: Problem, least: float | None) -> str:
    asked = _asked_of_noise(problem)
    if not asked:
        return "No requirement on noise asks for a least capacitance."
    if not problem.case.sources:
        return "The case has no source, so no least capacitance."
    what = listed(asked)
    if least is None:
        return f"No capacitance keeps {what}.{_stranded_text(problem)}"
    if least == 0.0:
        return f"No capacitor is needed to keep {what}."
    return f"At least {shown(least, 'F')} keeps {what}."


def _stranded_text(problem: Problem) -> str:
    modes = problem.subject(_SOLD_F[1]).common_mode
    names = [mode.source for mode in modes if not math.isfinite(mode.dc_v)]
    return f" A capacitor passes no direct current, and that of {listed(names)} has no way back." if names else ""


def _asked_of_noise(problem: Problem) -> list[str]:
    limit = problem.peak_limit_v
    peak = [] if limit is None else [f"the common-mode peak under {shown(limit, 'V')} within tolerances"]
    return peak + [f"{each.kind.replace('-', ' ')} under {each.limit_line}" for each in problem.emission_limits]


def _most_text(problem: Problem, most: float | None) -> str:
    limits = [each.limit for each in problem.of_kind("touch-current") if each.limit is not None]
    mains = problem.case.mains
    if not limits:
        return "No touch-current requirement bounds it."
    if mains is None:
        return "No side of the pair is fed from the mains, so touch current does not bound it."
    limit = shown(min(limits), "A")
    if most is None:
        return f"No capacitance drives {limit} through a person."
    if most == 0.0:
        return f"The touch current exceeds {limit} without any capacitor."
    faults = [each.fault_limit_a for each in problem.of_kind("touch-current") if each.fault_limit_a is not None]
    fault = f", and under {shown(min(faults), 'A')} with a single fault," if faults else ""
    volt = shown(mains.voltage_v * (1.0 + mains.tolerance), "V")
    return (
        f"At most {shown(most, 'F')} keeps the touch current under {limit}{fault} at {volt}, "
        f"{shown(mains.frequency_hz, 'Hz')} and every capacitor at its upper tolerance."
    )


def _assumed(problem: Problem) -> tuple[str, ...]:
    tolerance = problem.template.tolerance
    said = f"Its tolerance is {shown(tolerance, '')}." if tolerance else "It is taken without tolerance."
    return (problem.template.text, said)
