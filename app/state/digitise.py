"""A curve being read off a picture: marks, values, points, and every step of it undone. No Qt."""

from __future__ import annotations

from typing import Any

import numpy as np
from attrs import evolve, frozen

from models.arrays import Real
from models.errors import QuantityError
from models.fitting.data import Measurement
from models.fitting.picture import AxisMarks, Calibration, Place, picture_measurement
from models.quantity import parse_quantity

MARKS = ("x1", "x2", "y1", "y2")
CURVE = "curve"
STAGES = (*MARKS, CURVE)
UNITS = {"x1": "Hz", "x2": "Hz", "y1": "ohm", "y2": "ohm"}
LOG, LINEAR = "log", "linear"
_NAMES = {"x1": "first frequency", "x2": "second frequency", "y1": "first impedance", "y2": "second impedance"}


@frozen(kw_only=True)
class Tracing:
    """Everything that was marked and typed."""

    marks: tuple[Place | None, ...] = (None, None, None, None)
    values: tuple[float | None, ...] = (None, None, None, None)
    log_x: bool = True
    log_y: bool = True
    places: tuple[Place, ...] = ()
    """Points of the curve, px."""

    def next_stage(self) -> str:
        """Return what is to be marked next."""
        return next((name for name, at in zip(MARKS, self.marks, strict=True) if at is None), CURVE)

    def missing(self) -> str:
        """Return what is still needed, in a few words; empty where nothing is."""
        for name, at, value in zip(MARKS, self.marks, self.values, strict=True):
            if at is None:
                return f"a mark at the {_NAMES[name]}"
            if value is None:
                return f"the value of the {_NAMES[name]}"
        return "" if self.places else "points on the curve"

    def calibration(self) -> Calibration:
        """Return the axes.

        Raises
        ------
        QuantityError
            where marks or values are missing, or make no axes
        """
        (x1, x2, y1, y2), (f1, f2, z1, z2) = self.marks, self.values
        given: Any = (x1, x2, y1, y2, f1, f2, z1, z2)
        if any(each is None for each in given):
            raise QuantityError("marks or values missing", self.missing())
        x1, x2, y1, y2, f1, f2, z1, z2 = given
        return Calibration(
            x=AxisMarks(first_px=x1, second_px=x2, first=f1, second=f2, log=self.log_x),
            y=AxisMarks(first_px=y1, second_px=y2, first=z1, second=z2, log=self.log_y),
        )

    def measurement(self, source: str) -> Measurement:
        """Return the points as a measurement; raises IsthmusError where that cannot be."""
        return picture_measurement(self.calibration(), np.array(self.places, np.float64), source=source)


def mark(tracing: Tracing, stage: str, at: Place) -> Tracing:
    """Return the tracing with a mark placed, or a point of the curve added."""
    if stage == CURVE:
        return evolve(tracing, places=(*tracing.places, at))
    marks = list(tracing.marks)
    marks[MARKS.index(stage)] = at
    return evolve(tracing, marks=tuple(marks))


def value_typed(tracing: Tracing, field: str, text: str) -> Tracing:
    """Return the tracing with what was typed or chosen in a field.

    Raises
    ------
    QuantityError
        saying what was found and what is accepted
    """
    if field in ("log_x", "log_y"):
        return evolve(tracing, **{field: text == LOG})  # type: ignore[arg-type]
    values = list(tracing.values)
    values[MARKS.index(field)] = parse_quantity(text, UNITS[field]) if text.strip() else None
    return evolve(tracing, values=tuple(values))


def with_line(tracing: Tracing, line: Real) -> Tracing:
    """Return the tracing with a followed line (N, 2); points elsewhere along the curve stay."""
    first, last = float(line[0, 0]), float(line[-1, 0])
    others = [at for at in tracing.places if not first <= at[0] <= last]
    followed = [(float(x), float(y)) for x, y in line]
    return evolve(tracing, places=tuple(sorted((*others, *followed))))


def without_last(tracing: Tracing) -> Tracing:
    """Return the tracing without its last point."""
    return evolve(tracing, places=tracing.places[:-1])


class History:
    """Tracings that came before and after the present one."""

    def __init__(self) -> None:
        self._past: list[Tracing] = []
        self._future: list[Tracing] = []
        self.present = Tracing()

    def do(self, tracing: Tracing) -> None:
        """Make another tracing the present one."""
        if tracing != self.present:
            self._past.append(self.present)
            self._future.clear()
            self.present = tracing

    def undo(self) -> None:
        """Take the last step back."""
        if self._past:
            self._future.append(self.present)
            self.present = self._past.pop()

    def redo(self) -> None:
        """Bring the last step back that was undone."""
        if self._future:
            self._past.append(self.present)
            self.present = self._future.pop()

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return bool(self._past)

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to bring back."""
        return bool(self._future)
