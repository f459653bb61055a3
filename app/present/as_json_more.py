"""What the window shows beyond the contract's object, as JSON: purpose, recommendation, paths, events."""

from __future__ import annotations

from typing import Any

from app.present.answers import question
from app.present.json_numbers import finite, pair
from app.present.recommendation import recommend
from app.state.results import Results
from app.state.view import EventChoice
from models.case.document import Candidate, Case
from models.case.requirement import Requirement
from models.network.grid import single
from models.network.solver import Solver
from models.outcomes.event import KINDS, Event
from models.outcomes.paths import path_shares
from models.outcomes.transient import Transient, transient


def purpose(case: Case) -> list[dict[str, Any]]:
    """Return what is asked for, in the order of the verdicts."""
    return [_requirement(each) for each in case.requirements]


def _requirement(requirement: Requirement) -> dict[str, Any]:
    return {
        "requirement": requirement.kind,
        "question": question(requirement),
        "note": requirement.note or "",
    }


def recommendation(results: Results) -> dict[str, Any]:
    """Return the candidate to take, or the one that comes closest, and why."""
    found = recommend(results)
    name = None if found.candidate is None else results.case.candidates[found.candidate].name
    return {"candidate": name, "meets_everything": found.meets, "why": list(found.sentences)}


def paths(solver: Solver, case: Case, candidate: Candidate, at_hz: tuple[float, ...]) -> list[dict[str, Any]]:
    """Return where 1 A into pair.b and out of pair.a flows at some frequencies, 0 Hz being DC."""
    return [
        {
            "frequency_hz": f_hz,
            "paths": [
                {
                    "name": each.name,
                    "role": each.role,
                    "between": list(each.ends),
                    "current_a": pair(complex(each.current[0])),
                    "share": finite(float(each.share[0])),
                    "leaves_b": each.leaves_b,
                }
                for each in path_shares(solver, case, candidate, single(f_hz))
            ],
        }
        for f_hz in at_hz
    ]


def events(solver: Solver, case: Case, candidate: Candidate) -> list[dict[str, Any]]:
    """Return what a discharge, a burst and a surge into the second region of the pair do, at the level first shown."""
    level_v = EventChoice().level_v
    return [
        _event(transient(solver, case, candidate, Event(kind=kind, into=case.pair.b, level_v=level_v)))
        for kind in KINDS
    ]


def _event(found: Transient) -> dict[str, Any]:
    settled = found.settled
    return {
        "kind": found.event.kind,
        "into": found.event.into,
        "level_v": found.event.level_v,
        "peak_v": finite(found.peak_v),
        "peak_s": finite(found.peak_s),
        "paths": [{"name": each.name, "role": each.role, "peak_a": finite(each.peak_a)} for each in found.currents],
        "ratings": [
            {
                "path": each.path,
                "part": each.number,
                "rating": each.rating,
                "decides": each.decides,
                "peak_v": finite(each.peak_v),
                "rating_v": each.rating_v,
            }
            for each in found.checks
        ],
        "left": {
            "pair_v": finite(settled.pair_v),
            "region_v": finite(settled.region_v),
            "charge_c": finite(settled.charge_c),
            "pair_bleed_s": finite(settled.pair_bleed_s),
            "region_bleed_s": finite(settled.region_bleed_s),
        },
        "notes": list(found.notes),
        "caution": found.caution,
    }
