from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QRectF

from app.present.specs import AxisSpec
from app.qt.plot.geometry import Floats, Frame, column_extremes, kept, make_frame, stick_tops, trace
from tests.window import made_up


def frame(width: float = 800.0) -> Frame:
    x, y = AxisSpec(unit="Hz", log=True), AxisSpec(unit="Ω", log=True)
    return make_frame(QRectF(50.0, 10.0, width, 400.0), x, y, ((1.0, 9.0), (-3.0, 7.0)))


def distance(px: float, py: float, x: Floats, y: Floats) -> float:
    """Distance of a point to a polyline, segment by segment."""
    ax, ay, bx, by = x[:-1], y[:-1], x[1:], y[1:]
    squared = (bx - ax) ** 2 + (by - ay) ** 2
    along = np.clip(((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / np.where(squared > 0, squared, 1.0), 0.0, 1.0)
    return float(np.hypot(px - ax - along * (bx - ax), py - ay - along * (by - ay)).min())


def test_data_and_pixels_there_and_back() -> None:
    view = frame()
    assert view.x.pixel(10.0) == pytest.approx(50.0)
    assert view.x.pixel(1e9) == pytest.approx(850.0)
    assert view.y.pixel(1e-3) == pytest.approx(410.0)
    assert view.y.pixel(1e7) == pytest.approx(10.0)
    assert view.x.value(view.x.pixel(1.2e6)) == pytest.approx(1.2e6)
    assert np.isnan(view.y.pixel(0.0))


def test_the_curves_of_a_plot_need_few_points() -> None:
    for curve in made_up.impedance_curves():
        thin = trace(frame(), curve.x, curve.y)
        assert thin.x.size < 110
        assert not thin.noisy


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    count=st.integers(2, 700),
    roughness=st.sampled_from([0.0, 0.05, 1.0, 30.0]),
    pace=st.sampled_from([0.0, 0.01, 1.0]),
)
def test_no_left_out_point_lies_further_than_a_quarter_pixel(
    seed: int, count: int, roughness: float, pace: float
) -> None:
    random = np.random.default_rng(seed)
    x = np.cumsum(random.uniform(0.0, pace, count))
    y = 100.0 * np.sin(np.linspace(0.0, 9.0, count)) + roughness * random.standard_normal(count)
    keep = kept(x, y)
    thin_x, thin_y = x[keep], y[keep]
    assert (thin_x[0], thin_y[0], thin_x[-1], thin_y[-1]) == (x[0], y[0], x[-1], y[-1])
    assert max(distance(px, py, thin_x, thin_y) for px, py in zip(x, y, strict=True)) <= 0.25 + 1e-9


def test_a_spike_on_one_column_is_kept() -> None:
    x = np.array([0.0, 10.0, 10.0, 10.0, 20.0])
    y = np.array([0.0, 0.0, 80.0, 0.0, 0.0])
    assert 80.0 in y[kept(x, y)]


def test_gaps_stay_gaps() -> None:
    x = np.arange(300.0)
    y = np.zeros(300)
    y[100:110] = np.nan
    keep = kept(x, y)
    thin_x, thin_y = x[keep], y[keep]
    assert {99.0, 110.0} <= set(thin_x.tolist())
    assert np.isnan(thin_y).any()
    assert thin_x.size < 30


def test_infinite_and_zero_values_are_gaps_and_dc_is_left_out() -> None:
    f_hz = np.array([0.0, 1e2, 1e3, 1e4, 1e5])
    points = trace(frame(), f_hz, np.array([1.0, 10.0, np.inf, 0.0, 10.0]))
    assert np.isfinite(points.x).all()
    assert np.isnan(points.y).sum() >= 1
    assert np.nanmax(points.y) <= 410.0


def test_noise_becomes_min_and_max_of_each_column() -> None:
    random = np.random.default_rng(1)
    f_hz = np.logspace(1, 9, 20_000)
    points = trace(frame(200.0), f_hz, 10.0 ** random.uniform(-2, 2, f_hz.size))
    assert points.noisy
    assert points.x.size <= 2 * 203


def test_column_extremes_keep_the_peaks_in_order() -> None:
    x, y = column_extremes(np.array([0.1, 0.4, 0.9, 1.2]), np.array([1.0, 5.0, 3.0, 2.0]))
    assert x.tolist() == [0.1, 0.1, 1.2, 1.2]
    assert y.tolist() == [1.0, 5.0, 2.0, 2.0]


def test_sticks_keep_the_highest_of_a_column() -> None:
    f_hz = np.linspace(1e6, 1.0001e6, 50)
    levels = np.ones(50)
    levels[20] = 1e4
    tops = stick_tops(frame(), f_hz, levels)
    assert tops.x.size <= 2
    assert tops.y.min() == pytest.approx(frame().y.pixel(1e4))
