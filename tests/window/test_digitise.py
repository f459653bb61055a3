"""A curve read off a picture with mouse and keys; the pictures are painted here."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from app.qt.digitise import DigitiseView
from app.qt.import_view import ImportView
from app.qt.session import Session
from app.qt.theme import Theme
from app.state.digitise import Tracing
from models.arrays import Real
from models.case.document import Candidate, Case, Pair
from models.fitting.data import Measurement
from models.parts.bead import Bead, Cell
from tests.models.fitting.test_picture import AXES, BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH
from tests.window.hands import click, key, type_text
from tests.window.now import Now

BEAD = Bead(rdc_ohm=0.5, cells=(Cell(resistance_ohm=600.0, inductance_h=1.5e-6, capacitance_f=0.6e-12),))
F_HZ: Real = np.geomspace(1.1e6, 0.95e9, 400)
MARKS = {"1 MHz": (LEFT, BOTTOM), "1 GHz": (RIGHT, BOTTOM), "1 ohm": (LEFT, BOTTOM), "10k": (LEFT, TOP)}
SHIFT = Qt.KeyboardModifier.ShiftModifier


def sheet(ground: str = "white") -> QImage:
    """Paint a plot as data sheets have them: a grid, a frame, a red curve."""
    image = QImage(WIDTH, HEIGHT, QImage.Format.Format_ARGB32)
    image.fill(QColor(ground))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor("#D8D8D8"), 1.0))
    for x in np.linspace(LEFT, RIGHT, 4):
        painter.drawLine(QPointF(x, TOP), QPointF(x, BOTTOM))
    painter.setPen(QPen(QColor("black"), 1.5))
    painter.drawRect(QRectF(LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP))
    places = AXES.places(F_HZ, np.abs(BEAD.impedance(2 * np.pi * F_HZ)))
    path = QPainterPath(QPointF(*places[0]))
    for place in places[1:]:
        path.lineTo(QPointF(*place))
    painter.setPen(QPen(QColor("#C23030"), 2.0))
    painter.drawPath(path)
    painter.end()
    return image


def on_curve(f_hz: float) -> tuple[float, float]:
    f = np.array([f_hz])
    x, y = AXES.places(f, np.abs(BEAD.impedance(2 * np.pi * f)))[0]
    return float(x), float(y)


@pytest.fixture
def view(qtbot: QtBot, theme: Theme) -> DigitiseView:
    made = DigitiseView(theme)
    qtbot.addWidget(made)
    made.resize(1080, 660)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    made.show_picture(sheet(), "sheet.png")
    return made


def click_at(view: DigitiseView, place: tuple[float, float]) -> None:
    click(view.picture, view.picture.point_of(place).toPoint())


def mark_axes(view: DigitiseView) -> None:
    """Mark all four points with the mouse and type what stands there."""
    for text, place in MARKS.items():
        click_at(view, place)
        editor = view.focusWidget()
        assert isinstance(editor, QLineEdit)
        type_text(editor, text)
        key(editor, Qt.Key.Key_Return)


def level_db(measurement: Measurement) -> Real:
    truth = np.abs(BEAD.impedance(2 * np.pi * measurement.f_hz))
    return np.asarray(20 * np.log10(np.abs(measurement.z_ohm) / truth), np.float64)


def test_without_a_picture_it_asks_for_one(qtbot: QtBot, theme: Theme) -> None:
    made = DigitiseView(theme)
    qtbot.addWidget(made)
    assert "Load a picture" in made.hint.text()
    assert not made.use.isEnabled()
    key(made.picture, Qt.Key.Key_Return)
    assert made.tracing() == Tracing()


def test_marks_follow_each_other_and_the_keys_go_to_their_values(view: DigitiseView) -> None:
    assert "a frequency stands" in view.hint.text()
    mark_axes(view)
    assert view.tracing().values == (1e6, 1e9, 1.0, 1e4)
    assert view.stages.choice() == "curve"
    assert "colour is followed" in view.hint.text()
    f_hz, z_ohm = view.tracing().calibration().values(np.array([on_curve(3e7)]))
    assert f_hz[0] == pytest.approx(3e7, rel=0.03)
    assert z_ohm[0] == pytest.approx(abs(BEAD.impedance(np.array([2 * np.pi * 3e7]))[0]), rel=0.05)


def test_a_click_on_the_curve_follows_it_and_hands_the_points_over(qtbot: QtBot, view: DigitiseView) -> None:
    mark_axes(view)
    click_at(view, on_curve(3e7))
    assert len(view.tracing().places) > 450
    assert "points from 1.09 MHz to 957 MHz" in view.hint.text()
    with qtbot.waitSignal(view.finished_points) as given:
        click(view.use)
    (measurement,) = given.args
    assert isinstance(measurement, Measurement)
    assert not measurement.has_phase
    assert np.sqrt(np.mean(level_db(measurement) ** 2)) < 0.2
    assert not view.isVisible()


def test_points_are_clicked_one_by_one_and_removed(view: DigitiseView) -> None:
    mark_axes(view)
    view.way.chosen.emit("point by point")
    for f_hz in (2e6, 1e7, 1e8, 5e8):
        click_at(view, on_curve(f_hz))
    assert len(view.tracing().places) == 4
    key(view.picture, Qt.Key.Key_Backspace)
    assert len(view.tracing().places) == 3
    measurement = view.tracing().measurement("sheet.png")
    assert measurement.f_hz == pytest.approx([2e6, 1e7, 1e8], rel=0.03)
    assert np.abs(level_db(measurement)).max() < 0.5


def test_everything_is_done_with_the_keys_alone(view: DigitiseView) -> None:
    picture = view.picture

    def go(place: tuple[float, float]) -> None:
        picture.setFocus()
        for axis, (less, more) in enumerate(((Qt.Key.Key_Left, Qt.Key.Key_Right), (Qt.Key.Key_Up, Qt.Key.Key_Down))):
            while abs(away := place[axis] - picture.crosshair()[axis]) > 0.51:
                far = abs(away) >= 10.0
                key(picture, more if away > 0 else less, SHIFT if far else Qt.KeyboardModifier.NoModifier)
        key(picture, Qt.Key.Key_Return)

    for text, place in MARKS.items():
        go(place)
        editor = view.focusWidget()
        assert isinstance(editor, QLineEdit)
        type_text(editor, text)
        key(editor, Qt.Key.Key_Return)
    go(on_curve(1e7))
    assert len(view.tracing().places) > 450
    assert np.sqrt(np.mean(level_db(view.tracing().measurement("sheet.png")) ** 2)) < 0.3


def test_every_step_is_undone_and_done_again(view: DigitiseView) -> None:
    mark_axes(view)
    click_at(view, on_curve(3e7))
    steps = [view.tracing()]
    control = Qt.KeyboardModifier.ControlModifier
    while view.history.can_undo:
        key(view, Qt.Key.Key_Z, control)
        steps.append(view.tracing())
    assert len(steps) == 10
    assert steps[-1] == Tracing()
    assert view.stages.choice() == "f 1"
    for before in steps[-2::-1]:
        click(view.redo)
        assert view.tracing() == before
    assert not view.redo.isEnabled()


def test_a_mark_is_placed_anew(view: DigitiseView) -> None:
    mark_axes(view)
    view.stages.chosen.emit("f 2")
    click_at(view, (300.0, BOTTOM))
    at = view.tracing().marks[1]
    assert at is not None
    assert at[0] == pytest.approx(300.0, abs=1.0)
    assert view.tracing().values[1] == 1e9
    assert view.stages.choice() == "curve"


def test_mistakes_are_said_where_they_are_made(view: DigitiseView) -> None:
    click_at(view, MARKS["1 MHz"])
    editor = view.focusWidget()
    assert isinstance(editor, QLineEdit)
    type_text(editor, "5 ohm")
    key(editor, Qt.Key.Key_Return)
    field = view.form.field(("x1",))
    assert field is not None
    assert "accepted" in field.error()
    assert view.tracing().values[0] is None
    view.stages.chosen.emit("curve")
    click_at(view, (300.0, 300.0))
    assert "no line there" in view.message.text()
    assert not view.use.isEnabled()


def test_axes_at_one_place_are_refused_in_words(view: DigitiseView) -> None:
    for text in MARKS:
        click_at(view, (200.0, 200.0))
        editor = view.focusWidget()
        assert isinstance(editor, QLineEdit)
        type_text(editor, text)
        key(editor, Qt.Key.Key_Return)
    view.way.chosen.emit("point by point")
    click_at(view, (250.0, 100.0))
    assert "two marks at one place" in view.hint.text()
    click(view.use)
    assert "two marks at one place" in view.message.text()
    assert view.isVisible()


def test_a_picture_comes_from_the_clipboard_from_a_file_or_not_at_all(view: DigitiseView, tmp_path: Path) -> None:
    QGuiApplication.clipboard().setImage(sheet())
    mark_axes(view)
    key(view, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    QGuiApplication.clipboard().clear()
    assert view.tracing() == Tracing()
    sheet("transparent").save(str(tmp_path / "clear.png"))
    view.open_picture(tmp_path / "clear.png")
    assert view.picture.image().pixelColor(5, 5) == QColor("white")
    (tmp_path / "text.png").write_text("no picture")
    view.open_picture(tmp_path / "text.png")
    assert "no picture that can be read" in view.message.text()


@pytest.mark.parametrize(("place", "right", "low"), [((100.0, 90.0), True, True), ((560.0, 330.0), False, False)])
def test_the_loupe_stands_in_the_far_corner(
    view: DigitiseView, place: tuple[float, float], right: bool, low: bool
) -> None:
    click_at(view, place)
    view.picture.setFocus()
    painted = view.picture.grab().toImage()
    red = QColor("#B3261E")

    def reds(x0: int, y0: int) -> int:
        return sum(painted.pixelColor(x0 + k, y0 + 66) == red for k in range(20, 120))

    corners = {
        (at_right, at_low): reds(
            view.picture.width() - 142 if at_right else 10, view.picture.height() - 142 if at_low else 10
        )
        for at_right in (False, True)
        for at_low in (False, True)
    }
    assert max(corners, key=lambda corner: corners[corner]) == (right, low)
    assert corners[right, low] > 80


def test_the_points_arrive_in_the_import_view(qtbot: QtBot, theme: Theme) -> None:
    session = Session(Case(pair=Pair(a="A", b="B"), candidates=(Candidate(name="Nothing"),)))
    importing = ImportView(session, None, Now())
    qtbot.addWidget(importing)
    importing.show()
    importing.read_picture()
    view = importing.findChild(DigitiseView)
    assert view is not None
    view.activateWindow()
    qtbot.waitUntil(view.isActiveWindow)
    view.show_picture(sheet(), "sheet.png")
    mark_axes(view)
    click_at(view, on_curve(3e7))
    click(view.use)
    imported = importing.imported()
    assert imported is not None
    assert imported.result.kind == "bead"
    ratio = np.abs(imported.part.impedance(2 * np.pi * F_HZ)) / np.abs(BEAD.impedance(2 * np.pi * F_HZ))
    assert np.sqrt(np.mean((20 * np.log10(ratio)) ** 2)) < 0.3
    session.timer.cancel()
