"""Sizing of the capacitor beside the window: what is asked, what comes of it, and the edit that takes a value."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
from attrs import frozen

from app.state import edits
from models.arrays import Real
from models.case.document import Branch, Candidate, Case
from models.decide.bounds import Problem
from models.decide.sizing import Curves, Sizing, curves, size
from models.decide.template import Template, template_of
from models.network.solver import Solver
from models.parts.capacitor import Capacitor
from models.parts.resistor import Resistor
from models.quantity import format_quantity

_POINTS = 40
_CHUNK = 8
_SPAN = 30.0
"""How far the curves reach to both sides of what is known, as a ratio."""


@frozen(kw_only=True)
class SizingRequest:
    """A case and which of its candidates the capacitor stands in."""

    case: Case
    candidate: int


@frozen(kw_only=True, eq=False)
class Sized:
    """What came of a request: the window, the curves over capacitance and the tightest limits, V and A rms."""

    request: SizingRequest
    template: Template
    sizing: Sizing
    curves: Curves
    limit_v: float | None
    limit_a: float | None


def run_sizing(request: SizingRequest, tell: Callable[[str], None]) -> Sized:
    """Size the capacitor of the chosen candidate, or the one that the case offers where it has none."""
    case, template = request.case, _template(request)
    problem = Problem(case=case, template=template, solver=Solver())
    tell("Finding the window …")
    sizing = size(case, solver=problem.solver, template=template)
    pieces = []
    farads = _points(sizing)
    for start in range(0, farads.size, _CHUNK):
        tell(f"Curves: {100 * start // farads.size} %")
        pieces.append(curves(problem, farads[start : start + _CHUNK]))
    return Sized(
        request=request,
        template=template,
        sizing=sizing,
        curves=_joined(pieces),
        limit_v=_tightest(problem, "common-mode-voltage"),
        limit_a=_tightest(problem, "touch-current"),
    )


def take_value(case: Case, sized: Sized, capacitance_f: float) -> Case:
    """Return the case with a value in the candidate that was sized, or in a new one where it has no capacitor."""
    candidate = own_candidate(sized)
    if candidate is None:
        return edits.add_candidate(case, _fresh(sized.template, capacitance_f))
    branches = case.candidates[candidate].branches
    number = next(
        k for k, branch in enumerate(branches) if case.is_across(branch) and branch.parts == sized.template.parts
    )
    place = sized.template.place
    part = branches[number].parts[place]
    assert isinstance(part, Capacitor)
    path = ("candidates", candidate, "branches", number, "parts", place, "capacitance_f")
    return edits.set_value(case, path, capacitance_f / part.count)


def own_candidate(sized: Sized) -> int | None:
    """Return the candidate that takes the value; None where the chosen one has no capacitor to take it."""
    request = sized.request
    names = [each.name for each in request.case.candidates]
    own = request.candidate < len(names) and names[request.candidate] == sized.template.origin
    return request.candidate if own else None


def _fresh(template: Template, capacitance_f: float) -> Candidate:
    parts = template.candidate(capacitance_f).branches[0].parts
    damped = ", damped" if any(isinstance(each, Resistor) for each in parts) else ""
    name = f"Y-capacitor {format_quantity(capacitance_f, 'F', digits=3)}{damped}"
    return Candidate(name=name, branches=(Branch(parts=parts),))


def _template(request: SizingRequest) -> Template:
    candidates = request.case.candidates
    if request.candidate < len(candidates):
        try:
            return template_of(request.case, candidates[request.candidate].name)
        except ValueError:
            pass
    return template_of(request.case)


def _tightest(problem: Problem, kind: str) -> float | None:
    return min((each.limit for each in problem.of_kind(kind) if each.limit is not None), default=None)


def _points(sizing: Sizing) -> Real:
    """Return even steps of log(C) around the window, its bounds and its standard values among them."""
    known = [farad for farad in (sizing.least_f, sizing.most_f) if farad]
    low, high = (min(known), max(known)) if known else (1e-9, 1e-9)
    spread = max(1.0, _SPAN / math.sqrt(high / low))
    even = np.geomspace(low / spread, high * spread, _POINTS)
    exact = [farad for farad in (*known, *sizing.standard_values_f) if even[0] <= farad <= even[-1]]
    return np.unique(np.concatenate([even, np.array(exact, np.float64)]))


def _joined(pieces: list[Curves]) -> Curves:
    def whole(name: str) -> Real | None:
        found = [getattr(piece, name) for piece in pieces]
        return None if any(each is None for each in found) else np.concatenate(found)

    return Curves(
        capacitance_f=np.concatenate([each.capacitance_f for each in pieces]),
        peak_v=np.concatenate([each.peak_v for each in pieces]),
        nominal_peak_v=np.concatenate([each.nominal_peak_v for each in pieces]),
        touch_a=whole("touch_a"),
        nominal_touch_a=whole("nominal_touch_a"),
        conducted_db=whole("conducted_db"),
    )
