"""Stretches of a curve that are drawn thin, such as the magnitude of what is negative there."""

from __future__ import annotations

import numpy as np

from app.present.specs import CurveSpec, Ink
from app.qt.plot.items import CurveInk, reduce_curves
from app.qt.plot.stretches import split_thin, thin_pen
from app.qt.theme import LIGHT
from tests.window.plot.test_placing import frame_of

F_HZ = np.geomspace(10.0, 1e9, 1601)
X_OHM = 2 * np.pi * F_HZ * 10e-9 - 1.0 / (2 * np.pi * F_HZ * 1e-9)


def reactance() -> CurveSpec:
    return CurveSpec(label="X", ink=Ink(slot=1), x=F_HZ, y=np.abs(X_OHM), thin=X_OHM < 0.0)


def test_the_parts_hold_all_points_and_meet() -> None:
    thick, thin = split_thin(reactance())
    assert thin is not None
    held = np.union1d(thick.x[np.isfinite(thick.y)], thin.x[np.isfinite(thin.y)])
    assert np.array_equal(held, F_HZ)
    assert thick.x[np.isfinite(thick.y)].min() == thin.x[np.isfinite(thin.y)].max()


def test_a_curve_without_thin_stretches_is_whole() -> None:
    curve = CurveSpec(label="X", ink=Ink(), x=F_HZ, y=np.abs(X_OHM), thin=np.zeros(F_HZ.size, np.bool_))
    assert split_thin(curve) == (curve, None)


def test_thin_stretches_make_no_noise_of_a_curve() -> None:
    ink, frame = CurveInk(reactance()), frame_of(500.0)
    reduce_curves([ink], frame)
    assert not ink.points(frame).noisy


def test_a_thin_line_keeps_colour_and_rhythm() -> None:
    pen = LIGHT.pen(Ink(slot=1), 2.0)
    thin = thin_pen(pen)
    assert thin.widthF() < pen.widthF()
    assert thin.color().rgb() == pen.color().rgb()
    usual, slim = ([each * line.widthF() for each in line.dashPattern()] for line in (pen, thin))
    np.testing.assert_allclose(slim, usual)
