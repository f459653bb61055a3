"""A sweep as a frozen plan: which case, which values, which results, in which order."""

from __future__ import annotations

import hashlib
import math
from typing import Any

from attrs import evolve, frozen

from app.present.origin import case_digest, version
from app.sweep.address import Address
from app.sweep.columns import Columns, Row
from app.sweep.faults import SweepError
from app.sweep.values import MOST_POINTS, Axis
from models.case.check import contradictions
from models.case.document import Case
from models.codec import KeyPath
from models.errors import QuantityError
from models.outcomes.evaluation import Evaluator

CHUNK = 100
"""Points computed together: the first of them solves what stands anew, the others only what differs."""
_CHEAPNESS = {"requirements": 0, "candidates": 1, "mains": 2, "sources": 3}
_DEAREST = 4


@frozen(kw_only=True)
class Plan:
    """A sweep to be run.

    Attributes
    ----------
    case : at the values that stay
    axes : every combination of their rows is a point; the last axis runs fastest
    candidates : indices of those that get a row
    columns : the results
    """

    case: Case
    axes: tuple[Axis, ...]
    candidates: tuple[int, ...]
    columns: Columns

    @property
    def points(self) -> int:
        """Number of points."""
        return math.prod(len(axis.rows) for axis in self.axes)

    @property
    def addresses(self) -> tuple[Address, ...]:
        """Every value that varies."""
        return tuple(address for axis in self.axes for address in axis.addresses)

    @property
    def headings(self) -> tuple[str, ...]:
        """Headings of the table."""
        varied = (address.heading for address in self.addresses)
        return ("point", *varied, "candidate", *self.columns.names(self.case), "problem")

    def values(self, point: int) -> tuple[Any, ...]:
        """Return the varied values of a point, in the order of the addresses."""
        rows: list[tuple[Any, ...]] = []
        for axis in reversed(self.axes):
            point, place = divmod(point, len(axis.rows))
            rows.append(axis.rows[place])
        return tuple(value for row in reversed(rows) for value in row)

    def chunk(self, start: int) -> Chunk:
        """Return the work on the points from one on."""
        stop = min(start + CHUNK, self.points)
        values = tuple(self.values(point) for point in range(start, stop))
        bare = evolve(self, axes=())
        return Chunk(plan=bare, addresses=self.addresses, start=start, values=values)

    def fingerprint(self) -> str:
        """Return what two sweeps share exactly when they write the same table."""
        told = (version(), case_digest(self.case), self.headings, self.candidates, self.columns, self.axes)
        return hashlib.sha256(repr(told).encode()).hexdigest()


@frozen(kw_only=True)
class Chunk:
    """Some points that follow each other; what one worker is given. Everything in it can be pickled."""

    plan: Plan
    addresses: tuple[Address, ...]
    start: int
    values: tuple[tuple[Any, ...], ...]

    @property
    def stop(self) -> int:
        """The first point after it."""
        return self.start + len(self.values)

    def rows(self) -> tuple[Row, ...]:
        """Compute the rows of all points."""
        evaluator = Evaluator()
        points = enumerate(self.values, start=self.start)
        return tuple(row for point, values in points for row in self._rows(evaluator, point, values))

    def _rows(self, evaluator: Evaluator, point: int, values: tuple[Any, ...]) -> list[Row]:
        plan = self.plan
        case = plan.case
        try:
            for address, value in zip(self.addresses, values, strict=True):
                case = address.put(case, value)
            problem = next((found.text() for _, found in contradictions(case)), "")
        except QuantityError as error:
            problem = str(error)
        if problem:
            blank = (None,) * len(plan.columns.names(plan.case))
            return [(point, *values, plan.case.candidates[index].name, *blank, problem) for index in plan.candidates]
        if not plan.columns.turns_itself(case):
            evaluator.solver.memo.turn()
        return [
            (point, *values, case.candidates[index].name, *plan.columns.row(evaluator, case, index), "")
            for index in plan.candidates
        ]


def compute(chunk: Chunk) -> tuple[Row, ...]:
    """Return the rows of a chunk; what an executor is asked to call."""
    return chunk.rows()


def make_plan(case: Case, axes: tuple[Axis, ...], columns: Columns, candidates: tuple[str, ...] = ()) -> Plan:
    """Return the plan of a sweep, ordered so that one point has as much as possible in common with the next.

    Parameters
    ----------
    case : at the values that stay
    axes : at least one
    columns : the results
    candidates : names of those that get a row; by default those that the varied values touch, or all where a value
        outside the candidates varies

    Raises
    ------
    SweepError
        for an unknown candidate, a value that varies twice, or more points than anyone can use
    """
    plan = Plan(
        case=case,
        axes=tuple(sorted(axes, key=_cost, reverse=True)),
        candidates=_chosen(case, axes, candidates),
        columns=columns,
    )
    _refuse_twice(plan)
    if not 1 <= plan.points <= MOST_POINTS:
        raise SweepError("the sweep", f"{plan.points} points", f"1 to {MOST_POINTS}")
    return plan


def _cost(axis: Axis) -> int:
    """Return how much has to be solved anew when this axis moves: the limit of a requirement least."""
    return max(_CHEAPNESS.get(str(address.path[0]), _DEAREST) for address in axis.addresses)


def _refuse_twice(plan: Plan) -> None:
    seen: set[KeyPath] = set()
    for address in plan.addresses:
        if address.path in seen:
            raise SweepError(address.text, "a value that varies twice", "each value on one axis")
        seen.add(address.path)


def _chosen(case: Case, axes: tuple[Axis, ...], names: tuple[str, ...]) -> tuple[int, ...]:
    known = [each.name for each in case.candidates]
    for name in names:
        if name not in known:
            listing = ", ".join(f'"{each}"' for each in known) or "none; the case has no candidate"
            raise SweepError("--candidate", f'"{name}"', listing)
    if not known:
        raise SweepError("the case", "no candidate", "a case with candidates")
    paths = [address.path for axis in axes for address in axis.addresses]
    inside = all(path[0] == "candidates" for path in paths)
    touched = {int(path[1]) for path in paths} if inside else set(range(len(known)))
    return tuple(index for index, name in enumerate(known) if (name in names if names else index in touched))
