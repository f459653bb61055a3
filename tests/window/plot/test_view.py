from __future__ import annotations

from pathlib import Path

import attrs
import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.present.specs import PlotSpec
from app.qt.plot.cursor import readout_box
from app.qt.plot.geometry import View
from app.qt.plot.placing import Ground
from app.qt.plot.view import PlotView
from app.qt.theme import DARK, LIGHT, Theme
from tests.window import made_up
from tests.window.hands import drag, key, send

HOME: View = ((1.0, 9.0), (-3.0, 7.0))


@pytest.fixture
def plot(qtbot: QtBot, theme: Theme) -> PlotView:
    view = PlotView(theme)
    qtbot.addWidget(view)
    view.resize(760, 420)
    view.render(made_up.impedance())
    view.show()
    return view


def at(plot: PlotView, f_hz: float, y_part: float = 0.5) -> QPoint:
    frame = plot.sheet().frame
    return QPointF(frame.x.pixel(f_hz), frame.top + y_part * (frame.bottom - frame.top)).toPoint()


def wheel(plot: PlotView, place: QPoint, notches: int, held: Qt.KeyboardModifier) -> None:
    event = QWheelEvent(
        QPointF(place),
        QPointF(place),
        QPoint(),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        held,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(plot, event)


def moves(plot: PlotView) -> list[float]:
    told: list[float] = []
    plot.cursor_moved.connect(told.append)
    return told


def test_every_move_of_a_quick_drag_of_the_cursor_is_told(plot: PlotView) -> None:
    told = moves(plot)
    drag(plot, [at(plot, 1.2e6), *(at(plot, f) for f in np.logspace(6.2, 8.2, 60))])
    assert len(told) == 60
    assert told == sorted(told)
    assert told[-1] == pytest.approx(10**8.2, rel=0.03)
    assert plot.view() == HOME


def test_a_cursor_dragged_outside_stays_on_the_axis(plot: PlotView) -> None:
    told = moves(plot)
    drag(plot, [at(plot, 1.2e6), QPoint(5000, 100), QPoint(-5000, 100)])
    assert told == [1e9, 10.0]


def test_a_click_asks_for_the_cursor_there_but_moves_nothing_itself(plot: PlotView) -> None:
    told = moves(plot)
    drag(plot, [at(plot, 1e8)])
    assert told == pytest.approx([1e8], rel=0.03)
    assert plot.sheet().spec.cursor_x == 1.2e6


def test_a_plot_without_cursor_tells_none(plot: PlotView) -> None:
    told = moves(plot)
    plot.render(made_up.waveform())
    drag(plot, [QPoint(300, 100)])
    key(plot, Qt.Key.Key_Right)
    assert told == []


def test_arrow_keys_move_the_cursor(plot: PlotView) -> None:
    told = moves(plot)
    key(plot, Qt.Key.Key_Right)
    key(plot, Qt.Key.Key_Left)
    key(plot, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier)
    assert told[0] == pytest.approx(1.2e6 * 10 ** (8 / 60))
    assert told[1] == pytest.approx(1.2e6 / 10 ** (8 / 60))
    assert told[2] == pytest.approx(1.2e6 * 10 ** (8 / 6))


def test_the_wheel_zooms_x_about_the_pointer_and_shift_y(plot: PlotView) -> None:
    place = at(plot, 1e5)
    under = plot.sheet().frame.x.value(place.x())
    wheel(plot, place, 3, Qt.KeyboardModifier.NoModifier)
    (x_low, x_high), y = plot.view()
    assert x_high - x_low == pytest.approx(8 * 0.8**3)
    assert plot.sheet().frame.x.value(place.x()) == pytest.approx(under)
    assert y == HOME[1]
    wheel(plot, place, 1, Qt.KeyboardModifier.ShiftModifier)
    assert plot.view()[1][1] - plot.view()[1][0] == pytest.approx(8.0)


def test_zooming_out_stops_at_the_whole_plot(plot: PlotView) -> None:
    wheel(plot, at(plot, 1e5), -20, Qt.KeyboardModifier.NoModifier)
    assert plot.view()[0] == pytest.approx(HOME[0])


def test_zooming_in_has_an_end(plot: PlotView) -> None:
    for _ in range(100):
        wheel(plot, at(plot, 1.2e6), 5, Qt.KeyboardModifier.NoModifier)
    low, high = plot.view()[0]
    assert high - low == pytest.approx(8e-3)
    assert plot.grab().width() > 0


def test_zoomed_curves_are_reduced_anew(plot: PlotView) -> None:
    before = plot.inks()[0].points(plot.sheet().frame).x.copy()
    plot.set_view(((6.5, 8.5), (-3.0, 7.0)))
    after = plot.inks()[0].points(plot.sheet().frame).x
    assert before.tolist() != after.tolist()


def test_dragging_elsewhere_pans_and_double_click_shows_all(plot: PlotView) -> None:
    plot.set_view(((3.0, 6.0), (-3.0, 7.0)))
    start = at(plot, 1e4, 0.3)
    drag(plot, [start, start + QPoint(-10, 0), start + QPoint(-100, 0)])
    frame = plot.sheet().frame
    assert plot.view()[0][0] == pytest.approx(3.0 + 3.0 * 100 / (frame.right - frame.left))
    send(plot, QEvent.Type.MouseButtonDblClick, start)
    assert plot.view() == HOME


def test_shift_drag_zooms_to_a_box(plot: PlotView) -> None:
    frame = plot.sheet().frame
    upper, lower = QPoint(round(frame.x.pixel(1e3)), 60), QPoint(round(frame.x.pixel(1e5)), 200)
    expected_y = (np.log10(frame.y.value(200)), np.log10(frame.y.value(60)))
    drag(plot, [upper, QPoint(300, 150), lower], Qt.KeyboardModifier.ShiftModifier)
    assert plot.view()[0] == pytest.approx((3.0, 5.0), abs=0.02)
    assert plot.view()[1] == pytest.approx(expected_y)
    assert plot.sheet().zoom_box is None


def test_keys_zoom_about_the_cursor_and_home_shows_all(plot: PlotView) -> None:
    key(plot, Qt.Key.Key_Plus)
    low, high = plot.view()[0]
    assert (np.log10(1.2e6) - low) / (high - low) == pytest.approx((np.log10(1.2e6) - 1.0) / 8.0)
    key(plot, Qt.Key.Key_Minus)
    assert plot.view()[0] == pytest.approx(HOME[0])
    key(plot, Qt.Key.Key_Plus)
    key(plot, Qt.Key.Key_Home)
    assert plot.view() == HOME


def test_a_zoom_survives_new_values_but_not_another_quantity(plot: PlotView) -> None:
    zoomed: View = ((5.0, 7.0), (0.0, 4.0))
    plot.set_view(zoomed)
    plot.render(made_up.impedance(cursor_hz=2e6))
    assert np.allclose(plot.view(), zoomed)
    plot.render(made_up.spectrum())
    assert np.allclose(plot.view(), ((4.0, 9.0), (0.0, 140.0)))


def test_an_unzoomed_plot_follows_its_axes(plot: PlotView) -> None:
    spec = made_up.waveform()
    plot.render(spec)
    plot.render(attrs.evolve(spec, y=attrs.evolve(spec.y, high=9.0)))
    assert plot.view()[1] == pytest.approx((-2.6, 9.0))


def test_moving_the_cursor_recomputes_no_curve(plot: PlotView) -> None:
    spec = made_up.impedance()
    plot.render(spec)
    before = [ink.points(plot.sheet().frame) for ink in plot.inks()]
    plot.render(attrs.evolve(spec, cursor_x=5e6))
    assert [ink.points(plot.sheet().frame) for ink in plot.inks()] == before


def test_curves_come_and_go(plot: PlotView) -> None:
    spec = made_up.impedance()
    plot.render(attrs.evolve(spec, curves=spec.curves[:1]))
    assert len(plot.inks()) == 1
    plot.render(spec)
    assert len(plot.inks()) == 4


@pytest.mark.parametrize("width", [260, 420, 760])
def test_the_readout_never_covers_the_cursor_nor_leaves_the_plot(plot: PlotView, width: int) -> None:
    plot.resize(width, 320)
    for f_hz in np.logspace(1.0, 9.0, 60):
        spec = made_up.impedance(cursor_hz=float(f_hz))
        plot.render(spec)
        frame = plot.sheet().frame
        x = frame.x.pixel(float(f_hz))
        found = readout_box(frame, spec, Ground(frame, [ink.points(frame) for ink in plot.inks()]))
        assert found is not None
        box = found.place
        assert box.left() > x + 6 or box.right() < x - 6
        assert frame.left <= box.left()
        assert box.right() <= frame.right


@pytest.mark.parametrize("theme_shown", [LIGHT, DARK])
def test_strong_dim_and_empty_are_seen(plot: PlotView, theme_shown: Theme) -> None:
    plot.set_theme(theme_shown)
    current = plot.grab().toImage()
    plot.render(made_up.impedance(stale="Not computed: these are the last good curves."))
    stale = plot.grab().toImage()
    plot.render(made_up.impedance(empty="No candidate yet."))
    empty = plot.grab().toImage()
    assert current != stale
    assert stale != empty
    ink = theme_shown.inks[0]
    shades = {current.pixelColor(x, y).name() for x in range(0, 760, 2) for y in range(0, 420, 2)}
    assert ink.lower() in shades
    assert ink.lower() not in {empty.pixelColor(x, y).name() for x in range(0, 760, 2) for y in range(0, 420, 2)}


def test_assistive_tools_hear_title_and_readings(plot: PlotView) -> None:
    assert plot.accessibleName() == "Impedance between the regions"
    assert "Y-capacitor 2.2 nF 55.9 Ω" in plot.accessibleDescription()
    plot.render(made_up.impedance(stale="Last good curves."))
    assert plot.accessibleDescription().startswith("Last good curves.")


def test_the_ring_comes_with_the_keyboard(plot: PlotView, qtbot: QtBot) -> None:
    plot.activateWindow()
    qtbot.waitUntil(plot.isActiveWindow)
    plot.clearFocus()
    plot.setFocus(Qt.FocusReason.TabFocusReason)
    assert plot.sheet().focused
    plot.clearFocus()
    assert not plot.sheet().focused


def test_copies(plot: PlotView) -> None:
    control, shift = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
    key(plot, Qt.Key.Key_C, control)
    assert QGuiApplication.clipboard().image().width() >= 2 * plot.width()
    key(plot, Qt.Key.Key_C, control | shift)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0] == "frequency (Hz),Y-capacitor 2.2 nF (Ω),Bead 600 Ω (Ω),Copper (Ω),Nothing (Ω)"
    assert len(lines) == 802
    assert [float(v) for v in lines[1].split(",")] == [10.0, *(float(c.y[0]) for c in made_up.impedance_curves())]


@pytest.mark.parametrize("ending", ["png", "svg", "csv"])
def test_exports(plot: PlotView, tmp_path: Path, ending: str) -> None:
    path = tmp_path / f"plot.{ending}"
    plot.export(path)
    head = path.read_bytes()[:200]
    assert {"png": b"PNG", "svg": b"<?xml", "csv": b"frequency (Hz)"}[ending] in head
    if ending == "svg":
        assert "Impedance between the regions" in path.read_text(encoding="utf-8")


def test_an_export_that_fails_says_so(plot: PlotView, tmp_path: Path) -> None:
    said: list[str] = []
    plot.failed.connect(said.append)
    plot.export(tmp_path / "missing" / "plot.csv")
    plot.export(tmp_path / "missing" / "plot.svg")
    plot.export(tmp_path / "plot.doc")
    assert len(said) == 3
    assert ".png, .svg and .csv" in said[2]


def test_the_menu_offers_what_the_keys_do(plot: PlotView) -> None:
    texts = [action.text().split("\t")[0] for action in plot.menu().actions() if not action.isSeparator()]
    assert texts == ["Copy picture", "Copy data", "Export…", "Axes…", "Show all"]


def test_a_plot_of_nothing_is_drawn(plot: PlotView) -> None:
    plot.render(PlotSpec(title="nothing"))
    assert not plot.grab().isNull()
