"""A value under the hand is followed in every frame, the rest of the window in turns, and nothing is left behind."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication

from app.present.answers import answers_table
from app.qt.window import MainWindow
from models.codec import KeyPath
from tests.window.hands import Opener, settle

CAPACITANCE = ("candidates", 0, "branches", 0, "parts", 0, "capacitance_f")
STRAY = ("couplings", 0, "parts", 0, "capacitance_f")
SETTLED_FRAMES = 9


@pytest.fixture
def window(open_window: Opener) -> MainWindow:
    window = open_window()
    window.resize(1200, 860)
    QApplication.processEvents()
    settle(window)
    return window


def shown(window: MainWindow) -> tuple[object, ...]:
    """What stands in the window, as values that can be compared."""
    plots = (window.impedance.plot, window.consequences.plot)
    curves = tuple(curve.y.tolist() for plot in plots for curve in plot.sheet().spec.curves)
    readouts = tuple(each.text for each in window.impedance.plot.sheet().spec.readouts)
    section = tuple(text.text for text in window.section.spec().texts)
    badges = tuple(badge.text for badge in window.section.spec().badges)
    bars = window.consequences.bars.accessibleDescription()
    model = window.answers.grid().model()
    rows, columns = range(model.rowCount()), range(model.columnCount())
    answers = tuple(str(model.data(model.index(row, column))) for row in rows for column in columns)
    return curves, readouts, section, badges, bars, answers


def frames_until_settled(window: MainWindow) -> int:
    frames = 0
    while window.session.timer.pending():
        window.session.timer.flush()
        frames += 1
        assert frames <= SETTLED_FRAMES
    return frames


@pytest.mark.parametrize("path", [CAPACITANCE, STRAY])
def test_a_hand_that_rests_sees_all_of_the_present_document(
    open_window: Opener, window: MainWindow, path: KeyPath
) -> None:
    for step in range(9):
        window.session.drag(path, (1.0 + step) * (1e-10 if path == CAPACITANCE else 1e-12))
        window.session.timer.flush()
    assert window.session.store.dragging
    assert frames_until_settled(window) >= 1
    assert window.session.moment.case is window.session.case
    resting = shown(window)
    window.session.end_drag()
    fresh = open_window()
    fresh.resize(window.size())
    QApplication.processEvents()
    fresh.session.change("The same", lambda _: window.session.case)
    settle(fresh)
    assert resting == shown(fresh)


def test_the_value_under_the_hand_is_followed_in_every_frame(window: MainWindow) -> None:
    field = window.inspector.field(CAPACITANCE)
    assert field is not None
    for value, text in ((1e-9, "1 nF"), (1.5e-9, "1.5 nF"), (1.8e-9, "1.8 nF"), (2e-9, "2 nF")):
        window.session.drag(CAPACITANCE, value)
        window.session.timer.flush()
        assert field.spec().text == text


def test_every_part_of_the_window_gets_its_turn_during_a_drag(window: MainWindow) -> None:
    seen: dict[str, set[object]] = {"impedance": set(), "waveform": set(), "section": set()}
    for step in range(24):
        window.session.drag(CAPACITANCE, (1.0 + 0.1 * step) * 1e-9)
        window.session.timer.flush()
        seen["impedance"].add(float(np.nanmin(window.impedance.plot.sheet().spec.curves[0].y)))
        seen["waveform"].add(float(window.consequences.plot.sheet().spec.curves[0].y.max()))
        seen["section"].add(next(text.text for text in window.section.spec().texts if text.text.startswith(("1", "2"))))
    assert len(seen["impedance"]) >= 6
    assert all(len(each) >= 3 for each in seen.values())


def test_letting_go_shows_the_last_value_in_one_frame(window: MainWindow) -> None:
    for step in range(4):
        window.session.drag(STRAY, (1.0 + step) * 1e-12)
        window.session.timer.flush()
    window.session.end_drag()
    window.session.timer.request()
    window.session.timer.flush()
    assert not window.session.timer.pending()
    expected = answers_table(window.session.results, 0)
    model = window.answers.grid().model()
    cells = [[cell.text for cell in row] for _, row in expected.rows]
    assert [
        [str(model.data(model.index(row, column))) for column in range(model.columnCount())]
        for row in range(model.rowCount())
    ] == cells
