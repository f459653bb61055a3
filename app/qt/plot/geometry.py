"""From data to pixels: the frame of a plot, and curves reduced to the points that a screen can show."""

from __future__ import annotations

import math
from collections.abc import Sequence

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
_CROWD = 4.0
"""Points a pixel column from which on a curve is thinned before it is looked at."""
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

    def values(self, pixels: Floats) -> Floats:
        """Return the data values at pixels."""
        shown = self.low + (pixels - self.start_px) / self._px_per_unit()
        return np.asarray(10.0**shown if self.log else shown)

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

    @classmethod
    def joined(cls, parts: Sequence[Trace]) -> Trace:
        """Return traces as one, with gaps between them; one alone, or with empty ones, as it is."""
        some = [part for part in parts if part.x.size]
        if len(some) < 2:
            return some[0] if some else parts[0]
        gap = np.array([np.nan])
        x = np.concatenate([each for part in some for each in (part.x, gap)])
        y = np.concatenate([each for part in some for each in (part.y, gap)])
        return cls(x=x, y=y, noisy=any(part.noisy for part in some))


def trace(frame: Frame, x: Floats, y: Floats) -> Trace:
    """Return a curve reduced to what the frame can show: within 0.25 px, or min and max of each column if noisy."""
    return traces(frame, ((x, y),))[0]


def traces(frame: Frame, curves: Sequence[tuple[Floats, Floats]]) -> list[Trace]:
    """Return curves reduced to what the frame can show, all in one go: many short curves cost what one does."""
    if not curves:
        return []
    pixels = [_shown(frame, x, y) for x, y in curves]
    gap = np.array([np.nan])
    x_px, y_px = (np.concatenate([part for each in pixels for part in (each[axis], gap)]) for axis in (0, 1))
    keep = kept(x_px, y_px)
    ends = np.cumsum([each[0].size + 1 for each in pixels]).tolist()
    masks = (keep[end - 1 - each[0].size : end - 1] for each, end in zip(pixels, ends, strict=True))
    return [_reduced(frame, *each, these) for each, these in zip(pixels, masks, strict=True)]


def _shown(frame: Frame, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Return the pixels of what is seen of a curve."""
    x, y = _seen(frame, x, y)
    if x.size > _CROWD * max(frame.right - frame.left, 1.0):
        x, y = _thinned(frame, x, y)
    return _placed(frame, x, y)


def _reduced(frame: Frame, x_px: Floats, y_px: Floats, keep: NDArray[np.bool_]) -> Trace:
    if np.count_nonzero(keep) <= _NOISY_POINTS_PER_PX * max(frame.right - frame.left, 1.0):
        return Trace(x=x_px[keep], y=y_px[keep])
    x_cols, y_cols = column_extremes(x_px, y_px)
    return Trace(x=x_cols, y=y_cols, noisy=True)


def stick_tops(frame: Frame, x: Floats, y: Floats) -> Trace:
    """Return the highest stick of each pixel column, for a spectrum of lines."""
    x, y = _seen(frame, x, y)
    good = np.isfinite(y) if not frame.x.log else np.isfinite(y) & (x > 0.0)
    if not good.all():
        x, y = x[good], y[good]
    if x.size:
        starts = _columns(frame, x)
        x, y = x[starts], np.maximum.reduceat(y, starts)
    x_px, y_px = _placed(frame, x, y)
    tall = np.isfinite(y_px)
    return Trace(x=x_px[tall], y=y_px[tall])


def kept(x_px: Floats, y_px: Floats, tolerance_px: float = TOLERANCE_PX) -> NDArray[np.bool_]:
    """Return which points to keep so that the polyline through them stays within the tolerance of all left-out ones.

    From pairs of intervals upwards: the middle of a block goes where the block lies flat on its chord. How far a block
    lies from its chord is at most what its middle does and what its halves do from theirs. Gaps stay.
    """
    count = x_px.size
    if count < 3:
        return np.ones(count, dtype=bool)
    short = -(count - 1) % _BLOCK
    x, y = (np.append(each, np.full(short, each[-1])) for each in (x_px, y_px))
    keep = np.ones(x.size, dtype=bool)
    off = np.zeros(x.size - 1)
    half = 1
    while half < _BLOCK:
        off = _bend(x, y, half) + np.maximum(off[::2], off[1::2])
        # a gap is NaN, and no NaN lies flat
        keep[half :: 2 * half] = ~(off <= tolerance_px)
        half *= 2
    keep[count - 1] = True
    return keep[:count]


def column_extremes(x_px: Floats, y_px: Floats) -> tuple[Floats, Floats]:
    """Return, for each pixel column, its lowest and highest point in the order in which the curve meets them."""
    good = np.isfinite(x_px) & np.isfinite(y_px)
    x_px, y_px = x_px[good], y_px[good]
    return _extremes(x_px, y_px, _column_starts(x_px)) if x_px.size else (x_px, y_px)


def _extremes(x: Floats, y: Floats, starts: NDArray[np.intp]) -> tuple[Floats, Floats]:
    ends = np.append(starts[1:], y.size) - 1
    low, high = np.minimum.reduceat(y, starts), np.maximum.reduceat(y, starts)
    rising = y[ends] >= y[starts]
    both = np.column_stack((np.where(rising, low, high), np.where(rising, high, low))).ravel()
    return np.repeat(x[starts], 2), both


def _seen(frame: Frame, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Return the part that is seen, one point more on either side."""
    first = max(int(np.searchsorted(x, frame.x.value(frame.left))) - 1, 0)
    last = int(np.searchsorted(x, frame.x.value(frame.right), side="right")) + 1
    return x[first:last], y[first:last]


def _thinned(frame: Frame, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Return min and max of each pixel column of a crowd of points, before any of them is turned into pixels."""
    good = np.isfinite(y) & (y > 0.0) if frame.y.log else np.isfinite(y)
    if not good.all():
        x, y = x[good], y[good]
    return _extremes(x, y, _columns(frame, x)) if x.size else (x, y)


def _columns(frame: Frame, x: Floats) -> NDArray[np.intp]:
    """Return where each pixel column begins among points in order."""
    edges = frame.x.values(np.arange(math.floor(frame.left), math.ceil(frame.right) + 1.0))
    starts = np.append(0, np.searchsorted(x, edges))
    return starts[np.append(starts[1:] != starts[:-1], True) & (starts < x.size)]


def _placed(frame: Frame, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Return pixels of what has a place on the x axis; far values are pulled in so that Qt can draw."""
    x_px, y_px = frame.x.pixels(x), frame.y.pixels(y)
    placed = np.isfinite(x_px)
    if not placed.all():
        x_px, y_px = x_px[placed], y_px[placed]
    height = frame.bottom - frame.top
    return x_px, np.clip(y_px, frame.top - 20.0 * height, frame.bottom + 20.0 * height)


def _bend(x: Floats, y: Floats, half: int) -> Floats:
    """Return how far the middle of each block of twice a half lies from its chord.

    Counted upright, which is never less than the distance and takes half the time.
    """
    step = 2 * half
    x_from, x_to, y_from = x[:-1:step], x[step::step], y[:-1:step]
    width = x_to - x_from
    along = np.divide(x[half::step] - x_from, width, out=np.zeros_like(width), where=width > 0.0)
    return np.abs(y_from + along * (y[step::step] - y_from) - y[half::step])


def _column_starts(x_px: Floats) -> NDArray[np.intp]:
    columns = np.floor(x_px)
    return np.flatnonzero(np.append(True, columns[1:] != columns[:-1]))
