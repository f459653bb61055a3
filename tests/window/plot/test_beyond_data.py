from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from app.present.specs import AxisSpec, CurveSpec, Ink, PlotSpec
from app.qt.plot.stretches import split_curve
from app.qt.plot.view import PlotView
from app.qt.theme import Theme
from models.fitting.load import load_measurement

X = np.geomspace(1e3, 1e9, 61)


def curve(valid: tuple[float, float] | None) -> CurveSpec:
    z = np.asarray(10.0 + 1j * X * 1e-6, np.complex128)
    return CurveSpec(label="z", ink=Ink(slot=0), x=X, y=np.abs(z), strong=True, valid_x=valid, z_ohm=z)


def plot(*curves: CurveSpec) -> PlotSpec:
    x, y = AxisSpec(unit="Hz", log=True, low=1e3, high=1e9), AxisSpec(unit="Ω", log=True, low=1.0, high=1e4)
    return PlotSpec(title="Z", x=x, y=y, curves=curves)


def test_a_curve_is_split_where_its_data_ends_and_stays_joined() -> None:
    sure, beyond = split_curve(curve((1e5, 1e7)))
    assert beyond is not None
    in_data, out = X[np.isfinite(sure.y)], beyond.x[np.isfinite(beyond.y)]
    assert in_data == pytest.approx(X[(X >= 0.999e5) & (X <= 1.001e7)])
    assert len(set(in_data) & set(out)) == 2
    assert set(in_data) | set(out) == set(X)
    assert np.isnan(beyond.y).any()


def test_a_curve_without_a_range_is_whole_and_one_outside_its_range_is_all_beyond() -> None:
    assert split_curve(curve(None))[1] is None
    assert split_curve(curve((1.0, 1e12)))[1] is None
    sure, beyond = split_curve(curve((1e8, 1e4)))
    assert beyond is not None
    assert not np.isfinite(sure.y).any()
    assert np.isfinite(beyond.y).all()


def test_what_lies_beyond_is_drawn_fainter(qtbot: QtBot, theme: Theme) -> None:
    view = PlotView(theme)
    qtbot.addWidget(view)
    view.resize(500, 300)
    view.show()
    inked = []
    for valid in (None, (1e5, 1e7)):
        view.render(plot(curve(valid)))
        image = view.grab().toImage()
        color = theme.ink(Ink(slot=0)).rgb()
        inked.append(sum(image.pixel(x, y) == color for x in range(60, 480) for y in range(300)))
    assert inked[1] < 0.7 * inked[0]
    assert inked[1] > 0.2 * inked[0]


def test_the_impedance_goes_out_as_touchstone(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    view = PlotView(theme)
    qtbot.addWidget(view)
    view.render(plot(curve(None)))
    view.export(tmp_path / "z.s1p")
    assert load_measurement(tmp_path / "z.s1p").z_ohm == pytest.approx(10.0 + 1j * X * 1e-6, rel=1e-6)


def test_a_plot_of_something_else_says_that_it_has_none(qtbot: QtBot, theme: Theme, tmp_path: Path) -> None:
    view = PlotView(theme)
    qtbot.addWidget(view)
    view.render(plot(CurveSpec(label="v", ink=Ink(), x=X, y=X)))
    said: list[str] = []
    view.failed.connect(said.append)
    view.export(tmp_path / "z.s1p")
    assert "no impedance" in said[0]
    assert not (tmp_path / "z.s1p").exists()


def test_dots_stand_at_their_points(qtbot: QtBot, theme: Theme) -> None:
    view = PlotView(theme)
    qtbot.addWidget(view)
    view.resize(500, 300)
    view.show()
    view.render(plot(CurveSpec(label="p", ink=Ink(), x=np.array([1e6]), y=np.array([1e2]), dots=True)))
    frame = view.sheet().frame
    image = view.grab().toImage()
    at = round(frame.x.pixel(1e6)), round(frame.y.pixel(1e2))
    around = {image.pixel(at[0] + dx, at[1] + dy) for dx in (-3, -2, 2, 3) for dy in (-1, 0, 1)}
    assert theme.ink(Ink()).rgb() in around
