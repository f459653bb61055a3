"""Where words find room on a plot: the place that hides least of the curves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF

from app.qt.plot.geometry import Floats, Frame, Trace

_STEP_PX = 3.0
_NEAR_PX = 2.0
_GAPS_PX = (8.0, 20.0)
"""Distances from a point at which its words may stand, the usual one first."""


class Ground:
    """Curves as points a few pixels apart, to count how much of them a rectangle would hide."""

    def __init__(self, frame: Frame, traces: Iterable[Trace] = ()) -> None:
        columns = np.arange(frame.left, frame.right, _STEP_PX)
        heights = [_heights(columns, trace) for trace in traces]
        self._x = np.tile(columns, len(heights))
        self._y = np.concatenate(heights) if heights else columns[:0]

    def hidden(self, place: QRectF) -> int:
        """Return how many points of curves lie in a rectangle, or right beside it."""
        x, y = self._x, self._y
        inside = (x > place.left() - _NEAR_PX) & (x < place.right() + _NEAR_PX)
        inside &= (y > place.top() - _NEAR_PX) & (y < place.bottom() + _NEAR_PX)
        return int(np.count_nonzero(inside))


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


def _heights(columns: Floats, trace: Trace) -> Floats:
    """Return the height of a curve in each column; NaN where it has none."""
    if not trace.x.size:
        return np.full(columns.shape, np.nan)
    return np.interp(columns, trace.x, trace.y, left=np.nan, right=np.nan)
