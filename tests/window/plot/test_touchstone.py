"""The impedance plot taken to another program and read back."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PySide6.QtWidgets import QApplication

from app.present.impedance_plot import impedance_plot
from app.qt.plot.view import PlotView
from app.qt.theme import Theme
from app.state.results import Desk
from app.state.view import View
from models.assets import DEMO_CASE
from models.case.read import load_case
from models.fitting.load import load_measurement


def test_the_selected_candidate_goes_out_as_touchstone_and_comes_back(
    qapp: QApplication, theme: Theme, tmp_path: Path
) -> None:
    desk = Desk()
    results = desk.results(load_case(DEMO_CASE))
    plot = PlotView(theme)
    shown = View(candidate=1, z_shows="phase")
    plot.render(impedance_plot(results, (), shown, desk.anatomy(results, 1, bridge_alone=False)))
    plot.export(tmp_path / "bridge.s1p")
    back = load_measurement(tmp_path / "bridge.s1p")
    wanted = results.evaluation.outcomes[1].in_circuit_ohm
    assert np.allclose(back.f_hz, results.evaluation.f_hz, rtol=1e-6)
    inside = (np.abs(wanted) > 1e-2) & (np.abs(wanted) < 1e5)
    assert np.allclose(back.z_ohm[inside], wanted[inside], rtol=1e-3)
