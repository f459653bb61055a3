"""Requirements judged, one by one, with the working in a sentence.

Estimates for design, not a certification: where safety is concerned the current edition of the standard, local
codes and a qualified person decide.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np
from attrs import frozen

from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.network.edges import Edge, across_edges, branch_edges, islands, standing_edges
from models.network.grid import point_grid
from models.outcomes.evaluation import Evaluator, Outcome
from models.quantity import format_quantity


@frozen(kw_only=True)
class Verdict:
    """One requirement judged for one candidate.

    Attributes
    ----------
    requirement : its kind
    outcome : ``pass``, ``fail`` or ``not-applicable``
    value, limit, unit : what was found and what is allowed, SI; None where there is no number
    margin_db : 20·log10(limit/value), positive when there is room; None where it means nothing
    why : one sentence with the numbers in it
    """

    requirement: str
    outcome: str
    value: float | None
    limit: float | None
    unit: str | None
    margin_db: float | None
    why: str


def judge(evaluator: Evaluator, case: Case, outcome: Outcome) -> tuple[Verdict, ...]:
    """Return the verdict on every requirement of a case for one candidate."""
    return tuple(_JUDGES[each.kind](evaluator, case, outcome, each) for each in case.requirements)


def _against_limit(requirement: Requirement, value: float, why: str) -> Verdict:
    """Judge a value that has to stay at or below the requirement's limit."""
    limit = requirement.limit
    assert limit is not None
    passed = value <= limit
    shown = math.isfinite(value)
    margin = 20.0 * math.log10(limit / value) if shown and value > 0.0 and limit > 0.0 else None
    return Verdict(
        requirement=requirement.kind,
        outcome="pass" if passed else "fail",
        value=value if shown else None,
        limit=limit,
        unit=requirement.demand.unit,
        margin_db=margin,
        why=why,
    )


def _not_applicable(requirement: Requirement, why: str) -> Verdict:
    unit = requirement.demand.unit
    return Verdict(
        requirement=requirement.kind,
        outcome="not-applicable",
        value=None,
        limit=requirement.limit,
        unit=unit,
        margin_db=None,
        why=why,
    )


def _text(value: float, unit: str) -> str:
    return format_quantity(value, unit, digits=3)


def _blocks(edge: Edge) -> bool:
    return any(part.blocks_dc() for part in edge.parts)


def direct_path(case: Case, candidate: Candidate) -> bool:
    """Return whether DC can pass from one region of the pair to the other by any way, insulation left out."""
    conducting = tuple(edge for edge in (*standing_edges(case), *branch_edges(case, candidate)) if not _blocks(edge))
    island = islands(conducting)
    return case.pair.a in island and island[case.pair.a] == island.get(case.pair.b)


def _judge_blocks_dc(_: Evaluator, case: Case, outcome: Outcome, requirement: Requirement) -> Verdict:
    passes = direct_path(case, outcome.candidate)
    ohm = outcome.dc.in_circuit_ohm
    why = (
        f"direct current passes: {_text(ohm, 'ohm')} between the regions."
        if passes
        else "every path between the regions has a part that blocks DC; that alone is not separation."
    )
    return Verdict(
        requirement=requirement.kind,
        outcome="fail" if passes else "pass",
        value=ohm if passes and math.isfinite(ohm) else None,
        limit=None,
        unit="ohm",
        margin_db=None,
        why=why,
    )


def edge_withstand_v(edge: Edge) -> float:
    """Return what a path withstands: the best stated withstand voltage among its blocking parts, 0 where none is."""
    return max((part.rating.withstand_v or 0.0 for part in edge.parts if part.blocks_dc()), default=0.0)


def _judge_withstand(_: Evaluator, case: Case, outcome: Outcome, requirement: Requirement) -> Verdict:
    limit = requirement.limit
    assert limit is not None
    if direct_path(case, outcome.candidate):
        return _failed_withstand(requirement, "direct current passes, so nothing withstands a voltage.")
    paths = across_edges(case, outcome.candidate)
    weakest = min((edge_withstand_v(edge) for edge in paths), default=math.inf)
    if weakest == 0.0:
        return _failed_withstand(requirement, "a branch has no part with a stated withstand voltage.")
    if weakest == math.inf:
        why = "no part stands across the pair; spacing and barriers have to carry it, which this does not check."
        return Verdict(
            requirement=requirement.kind, outcome="pass", value=None, limit=limit, unit="V", margin_db=None, why=why
        )
    return Verdict(
        requirement=requirement.kind,
        outcome="pass" if weakest >= limit else "fail",
        value=weakest,
        limit=limit,
        unit="V",
        margin_db=20.0 * math.log10(weakest / limit) if limit > 0.0 else None,
        why=f"the weakest branch is stated to withstand {_text(weakest, 'V')}, {_text(limit, 'V')} is asked for.",
    )


def _failed_withstand(requirement: Requirement, why: str) -> Verdict:
    return Verdict(
        requirement=requirement.kind,
        outcome="fail",
        value=0.0,
        limit=requirement.limit,
        unit="V",
        margin_db=None,
        why=why,
    )


def _judge_return_impedance(evaluator: Evaluator, case: Case, outcome: Outcome, requirement: Requirement) -> Verdict:
    band = requirement.band_hz
    assert band is not None
    inside = case.sweep.f_hz()
    inside = inside[(inside > band[0]) & (inside < band[1])]
    grid = point_grid((band[0], *inside.tolist(), band[1]))
    magnitude = np.abs(evaluator.solver.in_circuit(case, outcome.candidate, grid))
    worst = int(np.argmax(magnitude))
    value = float(magnitude[worst])
    at = _text(float(grid.f_hz[worst]), "Hz")
    why = (
        f"the highest impedance in circuit between {_text(band[0], 'Hz')} and {_text(band[1], 'Hz')} is "
        f"{_text(value, 'ohm')}, at {at}."
        if math.isfinite(value)
        else "nothing joins the regions."
    )
    return _against_limit(requirement, value, why)


def _judge_common_mode(_: Evaluator, __: Case, outcome: Outcome, requirement: Requirement) -> Verdict:
    if not outcome.common_mode:
        return _not_applicable(requirement, "the case has no source.")
    worst = max(outcome.common_mode, key=lambda each: each.peak_v)
    why = (
        f"{worst.source} drives {_text(worst.peak_v, 'V')} peak across the pair; {_text(worst.total_rms_v, 'V')} rms."
        if math.isfinite(worst.peak_v)
        else f"the direct current of {worst.source} has no way back."
    )
    return _against_limit(requirement, worst.peak_v, why)


def _judge_touch_current(_: Evaluator, case: Case, outcome: Outcome, requirement: Requirement) -> Verdict:
    if outcome.touch is None or case.mains is None:
        return _not_applicable(requirement, "no side of the pair is fed from the mains.")
    value = outcome.touch.worst_unweighted_a
    mains = case.mains.voltage_v * (1.0 + case.mains.tolerance)
    why = (
        f"{_text(value, 'A')} rms through the body network at {_text(mains, 'V')} and every capacitor at its upper "
        f"tolerance; {_text(outcome.touch.unweighted_a, 'A')} at nominal values."
    )
    return _against_limit(requirement, value, why)


def _judge_dc_drop(_: Evaluator, __: Case, outcome: Outcome, requirement: Requirement) -> Verdict:
    if not outcome.common_mode:
        return _not_applicable(requirement, "the case has no source.")
    worst = max(outcome.common_mode, key=lambda each: abs(each.dc_v))
    value = abs(worst.dc_v)
    why = (
        f"the mean of {worst.source} drops {_text(value, 'V')} over {_text(outcome.dc.in_circuit_ohm, 'ohm')}."
        if math.isfinite(value) and math.isfinite(outcome.dc.in_circuit_ohm)
        else "no source drives a direct current over the pair."
        if value == 0.0
        else f"the direct current of {worst.source} has no way back."
    )
    return _against_limit(requirement, value, why)


_TO_ONE_PERCENT = math.log(100.0)


def _judge_static_bleed(evaluator: Evaluator, case: Case, outcome: Outcome, requirement: Requirement) -> Verdict:
    ohm = outcome.dc.in_circuit_ohm
    if not math.isfinite(ohm):
        return _against_limit(requirement, math.inf, "no DC path between the regions: a charge stays.")
    low = point_grid((1e-3,))
    y = 1.0 / evaluator.solver.in_circuit(case, outcome.candidate, low)[0] if ohm > 0.0 else 0j
    farad = max(0.0, float(y.imag / low.omega[0]))
    value = _TO_ONE_PERCENT * ohm * farad
    why = f"{_text(ohm, 'ohm')} and {_text(farad, 'F')} fall to 1 % in {_text(value, 's')}."
    return _against_limit(requirement, value, why)


def _judge_emission(_: Evaluator, __: Case, ___: Outcome, requirement: Requirement) -> Verdict:
    return _not_applicable(requirement, "emission is not computed for this case.")


_JUDGES: Mapping[str, Callable[[Evaluator, Case, Outcome, Requirement], Verdict]] = MappingProxyType(
    {
        "blocks-dc": _judge_blocks_dc,
        "withstand": _judge_withstand,
        "return-impedance": _judge_return_impedance,
        "common-mode-voltage": _judge_common_mode,
        "touch-current": _judge_touch_current,
        "dc-drop": _judge_dc_drop,
        "static-bleed": _judge_static_bleed,
        "conducted-emission": _judge_emission,
        "radiated-emission": _judge_emission,
    }
)
