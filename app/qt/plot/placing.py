"""Where words find room on a plot: the place that hides least of the curves."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF

from app.qt.plot.geometry import Floats, Frame, Trace

_CELL_PX = 3.0
_NEAR_PX = 2.0
_BEYOND_PX = 6.0
"""How far outside the frame a curve is followed: far enough to leave it, and no further."""
_GAPS_PX = (8.0, 20.0)
"""Distances from a point at which its words may stand, the usual one first."""


class Ground:
    """How much of the curves stands where: their length in cells, summed so that a rectangle costs four look-ups."""

    def __init__(self, frame: Frame, traces: Iterable[Trace] = ()) -> None:
        self._left, self._top = frame.left, frame.top
        columns = max(math.ceil((frame.right - frame.left) / _CELL_PX), 1)
        rows = max(math.ceil((frame.bottom - frame.top) / _CELL_PX), 1)
        x, y = _points(frame, traces)
        across, down = np.floor((x - frame.left) / _CELL_PX), np.floor((y - frame.top) / _CELL_PX)
        inside = (across >= 0) & (across < columns) & (down >= 0) & (down < rows)
        cells = (down[inside] * columns + across[inside]).astype(np.intp)
        counts = np.bincount(cells, minlength=rows * columns).reshape(rows, columns)
        self._sums = np.zeros((rows + 1, columns + 1), np.intp)
        np.cumsum(np.cumsum(counts, axis=0), axis=1, out=self._sums[1:, 1:])
        self._rows, self._columns = rows, columns

    def hidden(self, place: QRectF) -> int:
        """Return how many cells' length of curves lies in a rectangle, or right beside it."""
        x, y = place.x() - self._left, place.y() - self._top
        left, right = _cell(x - _NEAR_PX, self._columns), _cell(x + place.width() + _NEAR_PX, self._columns)
        top, bottom = _cell(y - _NEAR_PX, self._rows), _cell(y + place.height() + _NEAR_PX, self._rows)
        at = self._sums.item
        return at(bottom, right) - at(top, right) - at(bottom, left) + at(top, left)


def around(at: QPointF, width: float, height: float, frame: Frame) -> list[QRectF]:
    """Return the places for words beside a point, the usual one first, all of them inside the frame."""
    places = []
    for gap in _GAPS_PX:
        right, left, centre = at.x() + gap, at.x() - gap - width, at.x() - width / 2
        above, below, level = at.y() - gap / 2 - height, at.y() + gap / 2, at.y() - height / 2
        corners = [(right, above), (left, above), (right, below), (left, below), (right, level), (left, level)]
        corners += [(centre, at.y() - gap - height), (centre, at.y() + gap)]
        places += [QRectF(x, y, width, height) for x, y in corners]
    return [place for place in places if frame.rect().contains(place)]


def freest(places: Sequence[QRectF], ground: Ground, taken: Sequence[QRectF]) -> QRectF | None:
    """Return the place that touches nothing that is taken and hides least of the curves; None where all touch."""
    free = [place for place in places if not any(place.intersects(other) for other in taken)]
    return min(free, key=ground.hidden, default=None)


def _cell(px: float, last: int) -> int:
    cell = round(px / _CELL_PX)
    return 0 if cell < 0 else last if cell > last else cell


def _points(frame: Frame, traces: Iterable[Trace]) -> tuple[Floats, Floats]:
    """Return points all along curves, about a cell apart however steep they are."""
    gap = np.array([np.nan])
    parts = [(each.x, np.clip(each.y, frame.top - _BEYOND_PX, frame.bottom + _BEYOND_PX)) for each in traces]
    if not parts:
        return gap[:0], gap[:0]
    x, y = (np.concatenate([part for each in parts for part in (each[axis], gap)]) for axis in (0, 1))
    dx, dy = np.diff(x), np.diff(y)
    length = np.nan_to_num(np.hypot(dx, dy))
    count = np.ceil(length / _CELL_PX).astype(np.intp)
    step = np.repeat(np.arange(count.size), count)
    nth = np.arange(step.size) - np.repeat(np.cumsum(count) - count, count)
    share = (nth + 0.5) / count[step]
    return x[step] + share * dx[step], y[step] + share * dy[step]
