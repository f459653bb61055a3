"""From data to pixels: the frame of a plot, and curves reduced to the points that a screen can show."""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen
from numpy.typing import NDArray
from PySide6.QtCore import QRectF

from app.present.specs import AxisSpec

Floats = NDArray[np.float64]
View = tuple[tuple[float, float], tuple[float, float]]
"""The x range and the y range that are seen, in what the axes are linear in."""
TOLERANCE_PX = 0.25
_BLOCK = 64
_NOISY_POINTS_PER_PX = 1.0
"""A curve that needs more points than pixels, simplified, is noise: thick pens on it cost a frame."""


@frozen(kw_only=True)
class Scale:
    """One axis: how data values stand on the screen. ``low`` and ``high`` are shown values (log10 on a log axis)."""

    log: bool
    low: float
    high: float
    start_px: float
    end_px: float

    def shown(self, values: Floats) -> Floats:
        """Return what the axis is linear in; NaN where the axis has no place for a value."""
        with np.errstate(divide="ignore", invalid="ignore"):
            shown = np.log10(values) if self.log else values
        return np.where(np.isfinite(shown), shown, np.nan)

    def pixels(self, values: Floats) -> Floats:
        """Return pixel positions of data values; NaN where there is none."""
        return self.start_px + (self.shown(values) - self.low) * self._px_per_unit()

    def pixel(self, value: float) -> float:
        """Return the pixel position of one data value; NaN where there is none."""
        if self.log:
            value = math.log10(value) if value > 0.0 else math.nan
        return self.start_px + (value - self.low) * self._px_per_unit()

    def value(self, pixel: float) -> float:
        """Return the data value at a pixel."""
        shown = self.low + (pixel - self.start_px) / self._px_per_unit()
        return float(10.0**shown) if self.log else shown

    def _px_per_unit(self) -> float:
        return (self.end_px - self.start_px) / (self.high - self.low)


@frozen(kw_only=True)
class Frame:
    """The rectangle of a plot and its two scales, in logical pixels of the widget or of a picture."""

    left: float
    top: float
    right: float
    bottom: float
    x: Scale
    y: Scale

    def rect(self) -> QRectF:
        """Return the rectangle that curves are clipped to."""
        return QRectF(self.left, self.top, self.right - self.left, self.bottom - self.top)


def home_range(axis: AxisSpec) -> tuple[float, float]:
    """Return the range an axis shows at first, in what it is linear in; a width of zero is opened."""
    low, high = axis.low, axis.high
    if axis.log:
        low, high = (math.log10(v) if v > 0.0 else 0.0 for v in (low, high))
    return (low, high) if high > low else (low - 0.5, low + 0.5)


def make_frame(rect: QRectF, x: AxisSpec, y: AxisSpec, view: View) -> Frame:
    """Return the frame that shows a view in a rectangle; y goes up."""
    (x_low, x_high), (y_low, y_high) = view
    return Frame(
        left=rect.left(),
        top=rect.top(),
        right=rect.right(),
        bottom=rect.bottom(),
        x=Scale(log=x.log, low=x_low, high=x_high, start_px=rect.left(), end_px=rect.right()),
        y=Scale(log=y.log, low=y_low, high=y_high, start_px=rect.bottom(), end_px=rect.top()),
    )


@frozen(kw_only=True, eq=False)
class Trace:
    """A curve as pixels, ready to draw; NaN is a gap."""

    x: Floats
    y: Floats
    noisy: bool = False

    @classmethod
    def nothing(cls) -> Trace:
        """Return a trace without a point."""
        return cls(x=np.empty(0), y=np.empty(0))


def trace(frame: Frame, x: Floats, y: Floats) -> Trace:
    """Return a curve reduced to what the frame can show: within 0.25 px, or min and max of each column if noisy."""
    x_px, y_px = _near(frame, frame.x.pixels(x), frame.y.pixels(y))
    width = max(frame.right - frame.left, 1.0)
    if x_px.size > 4.0 * width:
        x_px, y_px = column_extremes(x_px, y_px)
    x_thin, y_thin = simplify(x_px, y_px)
    if x_thin.size <= _NOISY_POINTS_PER_PX * width:
        return Trace(x=x_thin, y=y_thin)
    x_cols, y_cols = column_extremes(x_px, y_px)
    return Trace(x=x_cols, y=y_cols, noisy=True)


def stick_tops(frame: Frame, x: Floats, y: Floats) -> Trace:
    """Return the highest stick of each pixel column, for a spectrum of lines."""
    x_px, y_px = _near(frame, frame.x.pixels(x), frame.y.pixels(y))
    good = np.isfinite(x_px) & np.isfinite(y_px)
    x_px, y_px = x_px[good], y_px[good]
    if x_px.size == 0:
        return Trace(x=x_px, y=y_px)
    starts = _column_starts(x_px)
    return Trace(x=x_px[starts], y=np.minimum.reduceat(y_px, starts))


def simplify(x_px: Floats, y_px: Floats, tolerance_px: float = TOLERANCE_PX) -> tuple[Floats, Floats]:
    """Return fewer points such that the polyline through them stays within the tolerance of every left-out point.

    Blocks of points that lie on their chord become that chord; others are halved and tried again. Gaps stay.
    """
    count = x_px.size
    if count < 3:
        return x_px, y_px
    keep = np.zeros(count, dtype=bool)
    keep[-1] = True
    keep[_gap_edges(y_px)] = True
    starts = np.arange(0, count - 1, _BLOCK)
    block = _BLOCK
    while block > 1 and starts.size:
        flat = _deviation(x_px, y_px, starts, block) <= tolerance_px
        keep[starts[flat]] = True
        starts = np.concatenate((starts[~flat], starts[~flat] + block // 2))
        starts = starts[starts < count - 1]
        block //= 2
    keep[starts] = True
    return x_px[keep], y_px[keep]


def column_extremes(x_px: Floats, y_px: Floats) -> tuple[Floats, Floats]:
    """Return, for each pixel column, its lowest and highest point in the order in which the curve meets them."""
    good = np.isfinite(x_px) & np.isfinite(y_px)
    x_px, y_px = x_px[good], y_px[good]
    if x_px.size == 0:
        return x_px, y_px
    starts = _column_starts(x_px)
    ends = np.append(starts[1:], y_px.size) - 1
    low, high = np.minimum.reduceat(y_px, starts), np.maximum.reduceat(y_px, starts)
    rising = y_px[ends] >= y_px[starts]
    y = np.column_stack((np.where(rising, low, high), np.where(rising, high, low))).ravel()
    return np.repeat(x_px[starts], 2), y


def _near(frame: Frame, x_px: Floats, y_px: Floats) -> tuple[Floats, Floats]:
    """Return the part that is seen, one point more on either side; far values are pulled in so that Qt can draw."""
    placed = np.isfinite(x_px)
    if not placed.all():
        x_px, y_px = x_px[placed], y_px[placed]
    first = max(int(np.searchsorted(x_px, frame.left)) - 1, 0)
    last = int(np.searchsorted(x_px, frame.right, side="right")) + 1
    height = frame.bottom - frame.top
    return x_px[first:last], np.clip(y_px[first:last], frame.top - 20.0 * height, frame.bottom + 20.0 * height)


def _column_starts(x_px: Floats) -> NDArray[np.intp]:
    columns = np.floor(x_px)
    return np.flatnonzero(np.append(True, columns[1:] != columns[:-1]))


def _gap_edges(y_px: Floats) -> NDArray[np.intp]:
    missing = ~np.isfinite(y_px)
    if not missing.any():
        return np.array([], dtype=np.intp)
    edge = missing.copy()
    edge[1:] |= missing[:-1]
    edge[:-1] |= missing[1:]
    return np.flatnonzero(edge)


def _deviation(x_px: Floats, y_px: Floats, starts: NDArray[np.intp], block: int) -> Floats:
    """Return how far each block's points lie from its chord, at most; a block with a gap lies infinitely far.

    Counted upright, which is never less than the distance and takes half the time.
    """
    index = np.minimum(starts[:, None] + np.arange(block + 1), x_px.size - 1)
    x, y = x_px[index], y_px[index]
    dx, dy = x - x[:, :1], y - y[:, :1]
    width = dx[:, -1:]
    slope = np.divide(dy[:, -1:], width, out=np.zeros_like(width), where=width > 0.0)
    result = np.abs(dy - slope * dx).max(axis=1)
    return np.where(np.isfinite(result), result, np.inf)
