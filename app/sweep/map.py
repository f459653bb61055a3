"""A map in the background: one or two values of a case varied, and one result read."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from typing import Any

import numpy as np
from attrs import evolve, frozen

from app.sweep.columns import Row
from app.sweep.here import Here
from app.sweep.offered import Result, columns_of
from app.sweep.plan import make_plan
from app.sweep.run import run
from app.sweep.surface import Surface, surface
from app.sweep.values import Axis
from models.arrays import Real
from models.case.document import Case
from models.outcomes.evaluation import Evaluator

CURVES = 6
"""Most impedance curves that are told apart."""


@frozen(kw_only=True)
class MapRequest:
    """What is varied and what is read, as a worker is given it."""

    case: Case
    candidate: str
    axes: tuple[Axis, ...]
    result: Result
    at_hz: float


@frozen(kw_only=True, eq=False)
class Curve:
    """Magnitude of the impedance in circuit over frequency at one of the values."""

    value: float
    z_ohm: Real


@frozen(kw_only=True, eq=False)
class Mapped:
    """What came of a request; curves only where one value varies; in words, what stands against some of the points."""

    request: MapRequest
    surface: Surface
    f_hz: Real
    curves: tuple[Curve, ...]
    problem: str


def run_map(request: MapRequest, tell: Callable[[str], None]) -> Mapped:
    """Compute a map; whoever listens may raise, and it goes no further."""
    plan = make_plan(request.case, request.axes, columns_of(request.result, request.at_hz), (request.candidate,))
    rows: list[Row] = []
    for done in run(plan, Here(), ahead=1):
        tell(f"{done.stop} of {plan.points} points")
        rows += done.rows
    parts = [surface(plan, rows, name, request.candidate) for name in request.result.columns]
    whole = parts[0].z if len(parts) == 1 else np.hypot(parts[0].z, parts[1].z)
    sound = [row[1] for row in rows if not row[-1]]
    f_hz, curves = _curves(request, sound, tell) if len(request.axes) == 1 else (np.zeros(0), ())
    return Mapped(
        request=request,
        surface=evolve(parts[0], z=whole, column=request.result.label),
        f_hz=f_hz,
        curves=curves,
        problem=_problem([row[-1] for row in rows]),
    )


def _problem(found: list[str]) -> str:
    """Return how many points have no result, and what is wrong with the first of them."""
    wrong = [each for each in found if each]
    return f"{len(wrong)} of {len(found)} points have no result: {wrong[0]}" if wrong else ""


def _curves(request: MapRequest, values: list[Any], tell: Callable[[str], None]) -> tuple[Real, tuple[Curve, ...]]:
    """Return the impedance over the whole sweep at a few of the values that can be, evenly chosen."""
    (axis,) = request.axes
    shown = np.unique(np.linspace(0, len(values) - 1, min(len(values), CURVES)).round().astype(int)).tolist()
    evaluator = Evaluator()
    f_hz: Real = np.zeros(0)
    curves = []
    for value in (values[place] for place in shown):
        tell("Impedance over frequency")
        case = axis.addresses[0].put(request.case, value)
        own = tuple(each for each in case.candidates if each.name == request.candidate)
        evaluation = evaluator.evaluate(evolve(case, candidates=own))
        f_hz = evaluation.f_hz
        curves.append(Curve(value=value, z_ohm=np.abs(evaluation.outcomes[0].in_circuit_ohm)))
    return f_hz, tuple(curves)


def csv_text(mapped: Mapped) -> str:
    """Return the points of a map as CSV: the values that vary, and the result."""
    found, result = mapped.surface, mapped.request.result
    outer = [] if found.outer is None else [found.outer.heading]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*outer, found.inner.heading, f"{result.label} ({result.unit})"])
    for y, row in zip(found.y.tolist(), found.z.tolist(), strict=True):
        for x, z in zip(found.x.tolist(), row, strict=True):
            writer.writerow([*([repr(y)] if outer else []), repr(x), repr(z) if math.isfinite(z) else ""])
    return out.getvalue()
