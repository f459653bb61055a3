"""An evaluation as the JSON object that the contract fixes: full precision, null for what is infinite."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from app.present.as_json_more import events, paths, purpose, recommendation
from app.present.json_numbers import finite, pair
from app.present.strongest import strongest
from app.state.results import Desk, Results
from models.case.document import Candidate, Case
from models.decide.verdict import Verdict
from models.limits import DETECTORS
from models.network.grid import single
from models.network.load import BeadBias, LoadCurrent
from models.outcomes.cables import CableCurrent
from models.outcomes.common_mode import CommonMode
from models.outcomes.conducted import Conducted
from models.outcomes.evaluation import Evaluation, Evaluator, Outcome
from models.outcomes.radiated import DISTANCES_M, USUAL_ERROR_DB, Radiated
from models.outcomes.reading import Emission
from models.outcomes.touch import TouchCurrent


def evaluation_json(
    case: Case, at: tuple[float, ...] | None, extra: tuple[str, ...] = ()
) -> tuple[dict[str, Any], Iterator[dict[str, Any]]]:
    """Return everything that comes of a case; impedances at the given frequencies, or over the whole sweep.

    The object's list of candidates comes apart, one by one: a long spectrum of each makes them large.

    Parameters
    ----------
    case : checked
    at : frequencies of impedances and paths; None for the impedances of the whole sweep and no path
    extra : what takes longer and is wanted too, "events" or nothing
    """
    evaluator = Evaluator()
    evaluation = evaluator.evaluate(case)
    results = Results(evaluation=evaluation, desk=Desk(evaluator=evaluator))
    head = {
        "case": {"title": case.title, "pair": [case.pair.a, case.pair.b]},
        "warnings": list(case.warnings()),
        "purpose": purpose(case),
        "recommendation": recommendation(results),
    }
    candidates = (
        _candidate(evaluator, evaluation, outcome, verdicts, at) | _further(evaluator, case, outcome, at, extra)
        for outcome, verdicts in zip(evaluation.outcomes, results.verdicts, strict=True)
    )
    return head, candidates


def _further(
    evaluator: Evaluator, case: Case, outcome: Outcome, at: tuple[float, ...] | None, extra: tuple[str, ...]
) -> dict[str, Any]:
    solver = evaluator.solver
    found: dict[str, Any] = {"paths": paths(solver, case, outcome.candidate, at or ())}
    return found | ({"events": events(solver, case, outcome.candidate)} if "events" in extra else {})


def _candidate(
    evaluator: Evaluator,
    evaluation: Evaluation,
    outcome: Outcome,
    verdicts: tuple[Verdict, ...],
    at: tuple[float, ...] | None,
) -> dict[str, Any]:
    return {
        "name": outcome.name,
        "dc": {
            "bridge_resistance_ohm": finite(outcome.dc.bridge_ohm),
            "in_circuit_resistance_ohm": finite(outcome.dc.in_circuit_ohm),
            "blocks_dc": outcome.dc.blocks,
        },
        "load": [_load(each) for each in evaluator.solver.loads(evaluation.case, outcome.candidate)],
        "beads": [_bead(each) for each in evaluator.solver.bead_biases(evaluation.case, outcome.candidate)],
        "impedance": _impedances(evaluator, evaluation, outcome, at),
        "common_mode": [_common_mode(each) for each in outcome.common_mode],
        "cables": [_cable(each) for each in outcome.cables],
        "conducted": [_conducted(each) for each in outcome.conducted],
        "radiated": [_radiated(each) for each in outcome.radiated],
        "touch_current": _touch(outcome.touch),
        "verdicts": [_verdict(each) for each in verdicts],
    }


def _load(load: LoadCurrent) -> dict[str, Any]:
    """Return the direct current of all sources together through one branch."""
    return {
        "branch": load.branch,
        "between": list(load.ends),
        "current_a": finite(load.current_a),
        "drop_v": finite(load.drop_v),
    }


def _bead(bias: BeadBias) -> dict[str, Any]:
    """Return what a bias does to one bead: the one that is computed with, and the one that the load puts on it."""
    return {
        "branch": bias.branch,
        "part": bias.part,
        "bias_a": bias.bias_a,
        "bias_from": bias.by,
        "inductance_left": bias.left,
        "load_a": finite(bias.load_a),
        "inductance_left_by_load": bias.left_by_load,
    }


def _impedances(
    evaluator: Evaluator, evaluation: Evaluation, outcome: Outcome, at: tuple[float, ...] | None
) -> list[dict[str, Any]]:
    if at is None:
        rows = zip(evaluation.f_hz.tolist(), outcome.bridge_ohm, outcome.in_circuit_ohm, strict=True)
    else:
        rows = zip(at, *_at_points(evaluator, evaluation.case, outcome.candidate, at), strict=True)
    return [
        {"frequency_hz": f_hz, "bridge_ohm": pair(bridge), "in_circuit_ohm": pair(circuit)}
        for f_hz, bridge, circuit in rows
    ]


def _at_points(
    evaluator: Evaluator, case: Case, candidate: Candidate, at: tuple[float, ...]
) -> tuple[list[complex], list[complex]]:
    """Return bridge and in-circuit impedance at single frequencies, 0 Hz being DC."""
    solver = evaluator.solver
    grids = [single(f_hz) for f_hz in at]
    bridge = [complex(solver.bridge(case, candidate, grid)[0]) for grid in grids]
    circuit = [complex(solver.in_circuit(case, candidate, grid)[0]) for grid in grids]
    return bridge, circuit


def _common_mode(result: CommonMode) -> dict[str, Any]:
    f_hz = result.frequency_hz
    return {
        "source": result.source,
        "peak_v": finite(result.peak_v),
        "peak_to_peak_v": finite(result.peak_to_peak_v),
        "rms_v": finite(result.total_rms_v),
        "harmonics": [
            {"order": order, "frequency_hz": order * f_hz, "vrms": finite(vrms)}
            for order, vrms in enumerate(result.v_rms.tolist())
        ],
    }


def _cable(current: CableCurrent) -> dict[str, Any]:
    kept = [0, *(1 + strongest(current.largest_a_rms[1:])).tolist()]
    rows = zip(kept, current.a_rms[kept].tolist(), current.largest_a_rms[kept].tolist(), strict=True)
    return {
        "source": current.source,
        "cable": current.cable,
        "dc_a": finite(current.dc_a),
        "rms_a": finite(current.total_rms_a),
        "radiated_w": finite(current.radiated_w),
        "harmonics_in_all": len(current.a_rms),
        "harmonics": [
            {
                "order": order,
                "frequency_hz": order * current.frequency_hz,
                "input_a_rms": finite(into),
                "largest_a_rms": finite(largest),
            }
            for order, into, largest in rows
        ],
    }


def _conducted(conducted: Conducted) -> dict[str, Any]:
    return {"cable": conducted.cable, "sources": [_emission(each, "dbuv") for each in conducted.each]}


def _radiated(radiated: Radiated) -> dict[str, Any]:
    return {
        "source": radiated.source,
        "usual_error_db": USUAL_ERROR_DB,
        "fields": [
            {"distance_m": distance_m, **_emission(radiated.at(distance_m), "dbuv_per_m")} for distance_m in DISTANCES_M
        ],
    }


def _emission(emission: Emission, unit: str) -> dict[str, Any]:
    """Return the readings in dB at every line where something is read, of a long spectrum the strongest ones."""
    levels = {detector: emission.level_db(detector) for detector in DETECTORS}
    kept = strongest(levels["peak"], first=emission.first)
    readings = {f"{detector.replace('-', '_')}_{unit}": level[kept].tolist() for detector, level in levels.items()}
    return {
        "source": emission.source,
        "lines_in_all": len(emission.f_hz),
        "lines": [
            {
                "order": emission.first + int(kept[place]),
                "frequency_hz": f_hz,
                **{name: finite(read[place]) for name, read in readings.items()},
            }
            for place, f_hz in enumerate(emission.f_hz[kept].tolist())
            if any(math.isfinite(read[place]) for read in readings.values())
        ],
    }


def _touch(touch: TouchCurrent | None) -> dict[str, Any] | None:
    if touch is None:
        return None
    return {
        "unweighted_a_rms": touch.unweighted_a,
        "weighted_a_rms": touch.weighted_a,
        "worst_unweighted_a_rms": touch.worst_unweighted_a,
        "worst_weighted_a_rms": touch.worst_weighted_a,
    }


def _verdict(verdict: Verdict) -> dict[str, Any]:
    return {
        "requirement": verdict.requirement,
        "outcome": verdict.outcome,
        "value": verdict.value,
        "limit": verdict.limit,
        "unit": verdict.unit,
        "margin_db": verdict.margin_db,
        "nominal": None if verdict.nominal is None else finite(verdict.nominal),
        "why": verdict.why,
        "equation": verdict.equation,
        "assumed": list(verdict.assumed),
        "source": verdict.source,
        "caution": verdict.caution,
    }
