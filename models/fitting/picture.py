"""A curve read off a picture: axes from marked points, and the line followed by its colour.

Places in a picture are (x, y) in pixels from its upper left corner, a pixel's middle at half a pixel.
"""

from __future__ import annotations

import math

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from models.arrays import Real
from models.errors import DataError, QuantityError
from models.fitting.data import Measurement, make_measurement

Place = tuple[float, float]
Image = NDArray[np.uint8]
"""(height, width, 3): red, green, blue."""

_LEAST_SPAN_PX = 5.0


@frozen(kw_only=True)
class AxisMarks:
    """Two marked points of an axis and what stands there."""

    first_px: Place
    second_px: Place
    first: float
    second: float
    log: bool = True

    def __attrs_post_init__(self) -> None:
        """Refuse points and values that make no axis."""
        if math.dist(self.first_px, self.second_px) < _LEAST_SPAN_PX:
            raise QuantityError("two marks at one place", f"marks at least {_LEAST_SPAN_PX:g} pixels apart")
        if self.first == self.second:
            raise QuantityError(f"{self.first:g} at both marks", "two different values")
        if self.log and min(self.first, self.second) <= 0.0:
            raise QuantityError(f"{min(self.first, self.second):g} on a log axis", "values above 0")

    def value(self, way: Real) -> Real:
        """Return the value (N,) at a share of the way from the first mark to the second (N,)."""
        if self.log:
            return np.asarray(self.first * (self.second / self.first) ** way, np.float64)
        return np.asarray(self.first + (self.second - self.first) * way, np.float64)

    def way(self, value: Real) -> Real:
        """Return the share of the way (N,) at which values (N,) stand."""
        if self.log:
            return np.asarray(np.log(value / self.first) / math.log(self.second / self.first), np.float64)
        return np.asarray((value - self.first) / (self.second - self.first), np.float64)


@frozen(kw_only=True)
class Calibration:
    """Both axes of a picture, which may be turned or skewed, as a photograph of a page is."""

    x: AxisMarks
    y: AxisMarks

    def __attrs_post_init__(self) -> None:
        """Refuse axes that run the same way."""
        axes = self._axes()
        lengths = np.linalg.norm(axes, axis=0)
        if abs(np.linalg.det(axes)) < 0.2 * lengths[0] * lengths[1]:
            raise QuantityError("axes that run nearly the same way", "marks along the one axis and along the other")

    def values(self, places: Real) -> tuple[Real, Real]:
        """Return what both axes say at places (N, 2): (N,), (N,).

        p = first + s·(second - first) + t·(along the other axis), for each axis
        """
        inverse = np.linalg.inv(self._axes())
        along_x = (places - np.array(self.x.first_px)) @ inverse[0]
        along_y = (places - np.array(self.y.first_px)) @ inverse[1]
        return self.x.value(along_x), self.y.value(along_y)

    def places(self, x: Real, y: Real) -> Real:
        """Return the places (N, 2) of values (N,), (N,)."""
        axes = self._axes()
        inverse = np.linalg.inv(axes)
        ways = np.stack([self.x.way(x), self.y.way(y)], axis=1)
        starts = np.array([inverse[0] @ np.array(self.x.first_px), inverse[1] @ np.array(self.y.first_px)])
        return np.asarray((ways + starts) @ axes.T, np.float64)

    def _axes(self) -> Real:
        """Return the steps from first to second mark as columns (2, 2)."""
        steps = [np.subtract(axis.second_px, axis.first_px) for axis in (self.x, self.y)]
        return np.asarray(np.stack(steps, axis=1), np.float64)


def picture_measurement(calibration: Calibration, places: Real, *, source: str) -> Measurement:
    """Return the magnitude over frequency that places on a picture stand for.

    Parameters
    ----------
    calibration : frequency in Hz along x, |Z| in Ω along y
    places : (N, 2) px
    source : name for messages

    Returns
    -------
    Measurement without phase

    Raises
    ------
    DataError
        Where a place stands for no frequency or no impedance.

    Notes
    -----
    A pixel of a curve that is 400 px wide over four decades is 2.3 % of frequency; half of it is a usual error.
    """
    f_hz, z_ohm = calibration.values(np.asarray(places, np.float64).reshape(-1, 2))
    good = (f_hz > 0.0) & (z_ohm > 0.0) & np.isfinite(f_hz) & np.isfinite(z_ohm)
    if not good.any():
        raise DataError(f"{source}: found no point above 0 on both axes; accepted: points on the curve")
    warnings = [f"{int((~good).sum())} points at or below 0 are left out"] if not good.all() else []
    return make_measurement(
        f_hz[good],
        z_ohm[good],
        source=source,
        has_phase=False,
        warnings=[*warnings, "read off a picture: the magnitude alone, to the width of its line"],
    )
