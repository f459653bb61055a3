"""The stretches of a curve and their lines: what rests on data, what of it is thin, what goes on beyond."""

from __future__ import annotations

import numpy as np
from attrs import evolve
from numpy.typing import NDArray
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

from app.present.specs import CurveSpec
from app.qt.theme import Theme

_BEYOND_DASH = (1.5, 3.0)


def stretches(curve: CurveSpec) -> tuple[CurveSpec, CurveSpec | None, CurveSpec | None]:
    """Return the parts of a curve that are drawn alike: what rests on data, what of it is thin, what is beyond."""
    sure, beyond = split_curve(curve)
    return *split_thin(sure), beyond


def split_curve(curve: CurveSpec) -> tuple[CurveSpec, CurveSpec | None]:
    """Return the part of a curve that rests on data, and the rest where there is one; both meet at the border."""
    if curve.valid_x is None:
        return curve, None
    first = int(np.searchsorted(curve.x, curve.valid_x[0], side="left"))
    last = int(np.searchsorted(curve.x, curve.valid_x[1], side="right"))
    if first >= last:
        return evolve(curve, y=np.full(curve.y.size, np.nan)), curve
    stretches = [part for part in (slice(0, first + 1), slice(last - 1, curve.x.size)) if part.stop - part.start > 1]
    index = np.arange(curve.x.size)
    sure = evolve(curve, y=np.where((index >= first) & (index < last), curve.y, np.nan))
    if not stretches:
        return sure, None
    x, y = ([np.append(values[part], np.nan) for part in stretches] for values in (curve.x, curve.y))
    # the gap between the stretches needs a place of its own on the axis
    x = [np.append(part[:-1], part[-2]) for part in x]
    return sure, evolve(curve, x=np.concatenate(x), y=np.concatenate(y))


def split_thin(curve: CurveSpec) -> tuple[CurveSpec, CurveSpec | None]:
    """Return a curve without its thin stretches, and those where it has any; they reach on to the next point."""
    thin = curve.thin
    if thin is None or not thin.any():
        return curve, None
    reaching = thin.copy()
    reaching[1:] |= thin[:-1]
    reaching[:-1] |= thin[1:]
    return _only(curve, ~thin), _only(curve, reaching)


def _only(curve: CurveSpec, wanted: NDArray[np.bool_]) -> CurveSpec:
    """Return the wanted points of a curve, with one missing point for each gap between them."""
    kept = wanted | np.append(False, wanted[:-1] & ~wanted[1:])
    return evolve(curve, x=curve.x[kept], y=np.where(wanted, curve.y, np.nan)[kept])


def thin_pen(pen: QPen) -> QPen:
    """Return the line of a thin stretch: its curve's own, narrower and paler."""
    thin, color = QPen(pen), QColor(pen.color())
    thin.setWidthF(0.6 * pen.widthF())
    thin.setDashPattern([each / 0.6 for each in pen.dashPattern()])
    color.setAlphaF(0.75)
    thin.setColor(color)
    return thin


def beyond_pen(pen: QPen) -> QPen:
    """Return the line of what goes on beyond the data: thin and dotted, in the colour of its curve."""
    thin = QPen(pen)
    thin.setWidthF(1.1)
    thin.setDashPattern(_BEYOND_DASH)
    return thin


def curve_pen(theme: Theme, curve: CurveSpec, *, noisy: bool) -> QPen:
    """Return the line of a curve: the strong one wider, noise and sticks thin and undashed."""
    thin = noisy or curve.sticks or curve.faint
    pen = theme.pen(curve.ink, 1.0 if thin else 2.0 if curve.strong else 1.4)
    if noisy or curve.sticks or curve.dots:
        pen.setStyle(Qt.PenStyle.SolidLine)
    if curve.faint:
        color = QColor(pen.color())
        color.setAlphaF(0.4)
        pen.setColor(color)
    return pen
