"""One result of a sweep over one or two values, as arrays that a family of curves or a contour map is drawn from."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from attrs import frozen

from app.sweep.address import Address
from app.sweep.columns import Row
from app.sweep.faults import SweepError
from app.sweep.plan import Plan
from models.arrays import Real
from models.case.document import Case
from models.declare import get_path


@frozen(kw_only=True, eq=False)
class Surface:
    """A result over the values of one or two axes.

    Attributes
    ----------
    outer, inner : what varies; outer is None where one value varies alone
    y : (M,) values of outer; one value of 0 where there is none
    x : (N,) values of inner, which varies fastest
    z : (M, N) result; nan where a point has none
    column : heading of the result
    """

    outer: Address | None
    inner: Address
    y: Real
    x: Real
    z: Real
    column: str

    def place_of(self, case: Case) -> tuple[float, float] | None:
        """Return the values that a case has of inner and outer; None where one of them lies outside."""
        assert self.outer is not None
        x, y = (float(get_path(case, each.path)) for each in (self.inner, self.outer))
        inside = self.x[0] <= x <= self.x[-1] and self.y[0] <= y <= self.y[-1]
        return (x, y) if inside else None


def surface(plan: Plan, rows: Iterable[Row], column: str, candidate: str) -> Surface:
    """Return one result of one candidate.

    Parameters
    ----------
    plan : of one or two axes of one value each, numbers
    rows : all that `run` gave, in any order
    column : heading of the result
    candidate : its name

    Raises
    ------
    SweepError
        for a plan of other axes, and a column or candidate that is not in it
    """
    axes = plan.axes
    if len(axes) not in (1, 2) or any(len(axis.addresses) != 1 or axis.addresses[0].unit is None for axis in axes):
        raise SweepError("the sweep", f"{len(plan.addresses)} values", "one or two that vary, both quantities")
    if column not in plan.headings:
        raise SweepError("the column", f'"{column}"', ", ".join(plan.headings))
    name, place = plan.headings.index("candidate"), plan.headings.index(column)
    z = np.full(plan.points, np.nan)
    for row in rows:
        if row[name] == candidate and isinstance(row[place], int | float):
            z[row[0]] = row[place]
    *outer, inner = (np.array([row[0] for row in axis.rows], np.float64) for axis in axes)
    return Surface(
        outer=axes[0].addresses[0] if outer else None,
        inner=axes[-1].addresses[0],
        y=outer[0] if outer else np.zeros(1),
        x=inner,
        z=z.reshape(-1, inner.size),
        column=column,
    )
