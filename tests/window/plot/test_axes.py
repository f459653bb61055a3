"""The ends of the axes typed as values."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from app.present.specs import AxisSpec, CurveSpec, Ink, PlotSpec
from app.qt.plot.view import PlotView
from app.qt.theme import Theme

X = np.geomspace(10.0, 1e9, 50)


@pytest.fixture
def plot(qapp: QApplication, theme: Theme) -> PlotView:
    view = PlotView(theme)
    view.render(
        PlotSpec(
            title="Plot",
            x=AxisSpec(unit="Hz", log=True, low=10.0, high=1e9),
            y=AxisSpec(unit="Ω", log=True, low=1e-3, high=1e6),
            curves=(CurveSpec(label="curve", ink=Ink(), x=X, y=X / 1e3),),
        )
    )
    view.resize(500, 300)
    return view


def test_typed_ends_are_shown_exactly(plot: PlotView) -> None:
    dialog = plot.ask_axes()
    assert dialog.edits[1].text() == "1 GHz"
    for edit, text in zip(dialog.edits, ("150 kHz", "30M", "0.1", "4k7"), strict=True):
        edit.setText(text)
    dialog.accept()
    (x_low, x_high), (y_low, y_high) = plot.view()
    assert [10.0**each for each in (x_low, x_high, y_low, y_high)] == pytest.approx([150e3, 30e6, 0.1, 4700.0])


@pytest.mark.parametrize(("place", "text"), [(0, "0"), (0, "fast"), (1, "1 Hz"), (2, "5 nF"), (3, "-3")])
def test_a_mistake_is_told_and_the_view_stays(plot: PlotView, place: int, text: str) -> None:
    before = plot.view()
    dialog = plot.ask_axes()
    dialog.edits[place].setText(text)
    dialog.accept()
    assert "accepted" in dialog.message.text()
    assert plot.view() == before
    dialog.reject()
