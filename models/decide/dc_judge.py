"""Judges of direct current between the regions: what it drops, and how fast a charge bleeds away."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.decide.corners import slow, weak
from models.decide.subject import Subject
from models.decide.verdict import Verdict, at_most, listed, not_applicable, shown
from models.formulas.discharge import bleed_time
from models.network.edges import branch_edges, islands, standing_edges
from models.network.grid import DC, point_grid
from models.network.solver import Solver
from models.outcomes.common_mode import mean_v
from models.sources.current import CrossingSignal
from models.sources.source import Source

SLOW_HZ = 1e-3
"""Low enough that what is read there is the capacitance alone, with leads and losses of no account."""
_OTHERS_HOLD = "One capacitance through one resistance: what another region holds may take longer."


def judge_dc_drop(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge the mean voltage that the direct currents of all sources together drop between the regions."""
    sources = subject.case.sources
    if not sources:
        return not_applicable(requirement, "The case has no source.")
    solver, corner = subject.solver, weak(subject.case, subject.candidate)
    means = [mean_v(solver, subject.case, subject.candidate, source) for source in sources]
    together = dropping(means)
    value = sum(
        abs(means[place]) * _gain_ratio(solver, (subject.case, subject.candidate), corner, sources[place])
        for place in together
    )
    ohm = float(solver.in_circuit(*corner, DC)[0].real)
    endless = [place for place in together if not math.isfinite(means[place])]
    why, equation = _drop_text([sources[place].name for place in endless or together], value, ohm)
    return at_most(
        requirement,
        value,
        why,
        nominal=sum(abs(means[place]) for place in together),
        equation=equation,
        assumed=(
            *_opposed(source.name for place, source in enumerate(sources) if means[place] and place not in together),
            *_signals(sources[place] for place in together),
        ),
        source="Ohm's law with the resistances at DC",
    )


def dropping(means_v: Sequence[float]) -> tuple[int, ...]:
    """Return which sources drop most together: those of one direction, since those of the other may be off.

    Parameters
    ----------
    means_v : the mean that each source alone drops across the pair, with its sign, V
    """
    ways = [tuple(place for place, mean in enumerate(means_v) if sign * mean > 0.0) for sign in (1.0, -1.0)]
    return max(ways, key=lambda way: sum(abs(means_v[place]) for place in way))


def _gain_ratio(solver: Solver, now: tuple[Case, Candidate], then: tuple[Case, Candidate], source: Source) -> float:
    """Return how much more a direct current drops in one corner than at nominal values."""
    if now == then:
        return 1.0
    before, after = (abs(float(solver.transfer(*each, source, DC)[0].real)) for each in (now, then))
    return after / before if 0.0 < before < math.inf else 1.0


def _drop_text(names: Sequence[str], value: float, ohm: float) -> tuple[str, str]:
    if not names:
        return "No source drives a direct current over the pair.", ""
    if not math.isfinite(value):
        return f"The direct current of {listed(names)} has no way back.", ""
    drops = f"The mean of {names[0]} drops" if len(names) == 1 else f"The means of {listed(names)} together drop"
    if not math.isfinite(ohm) or ohm == 0.0:
        return f"{drops} {shown(value, 'V')}.", ""
    return (
        f"{drops} {shown(value, 'V')} over {shown(ohm, 'ohm')}.",
        f"{shown(value / ohm, 'A')}·{shown(ohm, 'ohm')} = {shown(value, 'V')}",
    )


def _opposed(names: Iterable[str]) -> tuple[str, ...]:
    against = tuple(names)
    return (f"The direct current of {listed(against)} goes the other way and is not counted on.",) if against else ()


def _signals(sources: Iterable[Source]) -> tuple[str, ...]:
    names = [source.name for source in sources if isinstance(source, CrossingSignal)]
    if not names:
        return ()
    said = (
        f"{listed(names)}: the current flows as long as a line is high, as into a resistor at its far end; a line "
        "matched at its driver alone carries none between its edges."
    )
    return (said,)


def judge_static_bleed(subject: Subject, requirement: Requirement) -> Verdict:
    """Judge how long a charge between the regions takes to fall to 1 %: t = ln(100)·R·C.

    Insulation resistance is a least value: what bleeds through it alone bleeds no faster than computed, and is not
    counted on.
    """
    value, ohm, farad = _bleed_s(subject.solver, *slow(subject.case, subject.candidate))
    if not math.isfinite(value):
        return at_most(requirement, math.inf, "There is no DC path between the regions: a charge stays.")
    if not bleeds(subject.case, subject.candidate):
        return at_most(requirement, math.inf, _insulated_text(value, ohm, farad))
    nominal, _, _ = _bleed_s(subject.solver, subject.case, subject.candidate)
    return at_most(
        requirement,
        value,
        f"{shown(ohm, 'ohm')} and {shown(farad, 'F')} let a charge fall to 1 % in {shown(value, 's')}."
        if farad
        else f"The regions are joined by {shown(ohm, 'ohm')}: a charge leaves at once.",
        nominal=nominal,
        equation=f"t = ln(100)·{shown(ohm, 'ohm')}·{shown(farad, 'F')} = {shown(value, 's')}" if farad else "",
        assumed=(
            "Resistance and capacitance at the upper end of their tolerances; insulation resistance as stated.",
            *((_OTHERS_HOLD,) if subject.case.pair.others else ()),
        ),
        source="Discharge of one capacitance through one resistance",
    )


def bleeds(case: Case, candidate: Candidate) -> bool:
    """Return whether a direct current passes between the regions with insulation resistances left out."""
    edges = (*standing_edges(case), *branch_edges(case, candidate))
    island = islands(edge.ends for edge in edges if not any(part.blocks_dc() for part in edge.parts))
    return island.get(case.pair.a, case.pair.a) == island.get(case.pair.b, case.pair.b)


def _insulated_text(seconds: float, ohm: float, farad: float) -> str:
    return (
        f"Only insulation resistance leads between the regions: {shown(ohm, 'ohm')} and {shown(farad, 'F')} take "
        f"{shown(seconds, 's')} to 1 %, or longer, since insulation is promised as a least value."
    )


def _bleed_s(solver: Solver, case: Case, candidate: Candidate) -> tuple[float, float, float]:
    """Return the time to 1 %, the resistance and the capacitance between the regions."""
    ohm = float(solver.in_circuit(case, candidate, DC)[0].real)
    if ohm == 0.0 or not math.isfinite(ohm):
        return ohm, ohm, 0.0
    grid = point_grid((SLOW_HZ,))
    y = 1.0 / solver.in_circuit(case, candidate, grid)[0]
    farad = max(0.0, float(y.imag / grid.omega[0]))
    return float(bleed_time(ohm, farad)), ohm, farad
