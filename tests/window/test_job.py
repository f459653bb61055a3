"""The whole job in one sitting: new, describe, bridges, values, answers, a measurement, save, reopen."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QDialog, QToolButton
from pytestqt.qtbot import QtBot

from app.qt.board_check import BoardCheck
from app.qt.window import MainWindow
from app.state.additions import ADDITIONS
from app.state.usual import BRIDGES
from models.case.document import Case, Pair
from models.codec import KeyPath
from models.declare import get_path, set_path
from models.fitting.export import write_touchstone
from models.network.grid import point_grid
from models.network.solver import Solver
from tests.window.hands import click, click_entries, drag, settle
from tests.window.keyboard import choose, do_and_answer, focused, name_file, press, press_and_answer, type_in, walk_to

BRIDGE = "Y-capacitor 2.2 nF"
CAPACITANCE = ("candidates", 2, "branches", 0, "parts", 0, "capacitance_f")
WINDINGS = ("transformers", 0, "interwinding_capacitance_f")
BUILT_F = 87e-12
_FIT_MS = 30_000
"""A first fit loads what it computes with, and the machine may be busy."""


@pytest.fixture
def measured(tmp_path: Path) -> Path:
    """Return a measurement of the board that the job describes, as it was built."""
    bridges = {each.name: each for each in BRIDGES}
    chosen = tuple(bridges[name] for name in ("Copper", "Nothing", BRIDGE))
    case = Case(pair=Pair(a="A", b="B"), candidates=chosen)
    case = set_path(ADDITIONS["add-switch-node"].edit(case)[0], WINDINGS, BUILT_F)
    f_hz = np.geomspace(1e5, 300e6, 120)
    z_ohm = Solver().in_circuit(case, case.candidates[2], point_grid(f_hz.tolist()))
    write_touchstone(tmp_path / "built.s1p", f_hz, z_ohm)
    return tmp_path / "built.s1p"


def value(window: MainWindow, path: KeyPath) -> float:
    found = get_path(window.session.case, path)
    assert isinstance(found, float)
    return found


def dialogs(window: MainWindow) -> list[QDialog]:
    return [each for each in window.findChildren(QDialog) if each.isVisible()]


def test_the_whole_job_by_keyboard_alone(window: MainWindow, measured: Path, tmp_path: Path, qtbot: QtBot) -> None:
    session = window.session
    press("Ctrl+N")
    settle(window)
    assert [each.name for each in session.case.candidates] == ["Copper", "Nothing"]

    describe_by_keys(window)
    for name in (BRIDGE, "Bead 600 Ω"):
        walk_to("Add a candidate")
        press("Space")
        choose(name)
        settle(window)
    assert [each.name for each in session.case.candidates] == ["Copper", "Nothing", BRIDGE, "Bead 600 Ω"]
    walk_to("Bead 600 Ω")
    press("Left")
    settle(window)
    assert session.view.candidate == 2
    walk_to("Capacitance, slider")
    press("Up", "Up")
    settle(window)
    dragged = value(window, CAPACITANCE)
    assert dragged > 2.2e-9
    press("Ctrl+Z", "Ctrl+Z", "Ctrl+Shift+Z", "Ctrl+Shift+Z")
    settle(window)
    assert value(window, CAPACITANCE) == dragged

    press("Shift+F6")
    press("Home", "Right", "Right", "Return")
    settle(window)
    assert focused().accessibleName() == "What the separation is for"
    assert "5 V" in window.answers.working()

    walk_to("Capacitance")
    type_in("2n2")
    settle(window)
    check_by_keys(window, measured, qtbot)
    assert value(window, WINDINGS) == pytest.approx(BUILT_F, rel=1e-3)
    press("Escape")
    assert dialogs(window) == []

    file = tmp_path / "job.toml"
    press_and_answer("Ctrl+S", name_file(file))
    assert not session.store.changed
    saved = session.case
    press("Ctrl+N")
    assert session.path is None
    press_and_answer("Ctrl+O", name_file(file))
    settle(window)
    assert session.path == file
    assert session.case == saved


def test_the_whole_job_by_mouse_and_keys(window: MainWindow, measured: Path, tmp_path: Path, qtbot: QtBot) -> None:
    session, header = window.session, window.header
    do_and_answer(lambda: click(header.menu_button), lambda: click_entries("New"))
    settle(window)

    describe_by_mouse(window)
    for name in (BRIDGE, "Bead 600 Ω"):
        click(header.add_button)
        click_entries(name)
        settle(window)
    click(header.pill_row.pills()[2])
    settle(window)

    field = window.inspector.field(CAPACITANCE)
    slider = field.slider() if field is not None else None
    assert slider is not None
    y, x = slider.height() // 2, round(slider.knob_x())
    before = session.results.evaluation.outcomes[2].peak_v()
    drag(slider, [QPoint(x + step, y) for step in (0, 8, 16, 24)])
    settle(window)
    assert value(window, CAPACITANCE) > 2.2e-9
    assert session.results.evaluation.outcomes[2].peak_v() < before
    click(header.undo_button)
    assert value(window, CAPACITANCE) == 2.2e-9

    grid = window.answers.grid()
    click(grid.viewport(), grid.visualRect(grid.model().index(0, 2)).center())
    assert "5 V" in window.answers.working()
    change_a_requirement_by_mouse(window)

    do_and_answer(lambda: click(header.menu_button), lambda: click_entries("Check against the board…"))
    (check,) = dialogs(window)
    assert isinstance(check, BoardCheck)
    do_and_answer(lambda: click(check.choose), name_file(measured))
    settle(window)
    for row in range(check.list.count()):
        item = check.list.item(row)
        if (item.checkState().value > 0) != ("T1" in item.text()):
            box = check.list.visualItemRect(item)
            click(check.list.viewport(), QPoint(box.left() + 20, box.center().y()))
    click(check.fit_button)
    qtbot.waitUntil(check.accept_button.isEnabled, timeout=_FIT_MS)
    click(check.accept_button)
    check.close()
    assert value(window, WINDINGS) == pytest.approx(BUILT_F, rel=1e-3)

    file, saved = tmp_path / "job.toml", session.case
    do_and_answer(lambda: click(header.menu_button), lambda: file_entry("Save", file))
    assert not session.store.changed
    do_and_answer(lambda: click(header.menu_button), lambda: click_entries("New"))
    assert session.path is None
    do_and_answer(lambda: click(header.menu_button), lambda: file_entry("Open…", file))
    settle(window)
    assert session.path == file
    assert session.case == saved


def file_entry(name: str, file: Path) -> None:
    """Click an entry of the menu that asks for a file, and give it one."""
    do_and_answer(lambda: click_entries(name), name_file(file))


def fill(window: MainWindow, path: KeyPath, text: str) -> None:
    field = window.inspector.field(path)
    assert field is not None
    click(field.editor())
    assert focused() is field.editor()
    type_in(text)
    settle(window)


def describe_by_keys(window: MainWindow) -> None:
    session = window.session
    walk_to("Add to the case")
    press_and_answer("Space", lambda: choose("Source", "Switch node"))
    settle(window)
    assert session.case.sources[0].name == "switch node"
    walk_to("Amplitude")
    press("F1")
    assert dialogs(window)[0].windowTitle() == "Help: Amplitude"
    press("Escape")
    type_in("400 V")
    settle(window)
    assert value(window, ("sources", 0, "amplitude_v")) == 400.0
    walk_to("Add to the case", key="Shift+Tab")
    press_and_answer("Space", lambda: choose("Requirement", "Common-mode voltage"))
    settle(window)
    walk_to("Limit")
    type_in("5 V")
    settle(window)


def describe_by_mouse(window: MainWindow) -> None:
    add = next(each for each in window.findChildren(QToolButton) if each.accessibleName() == "Add to the case")
    do_and_answer(lambda: click(add), lambda: click_entries("Source", "Switch node"))
    settle(window)
    fill(window, ("sources", 0, "amplitude_v"), "400 V")
    do_and_answer(lambda: click(add), lambda: click_entries("Requirement", "Common-mode voltage"))
    settle(window)
    fill(window, ("requirements", 0, "limit"), "5 V")


def change_a_requirement_by_mouse(window: MainWindow) -> None:
    grid = window.answers.grid()
    assert window.inspector.field(("requirements", 0, "limit")) is None
    click(grid.verticalHeader().viewport(), QPoint(20, grid.visualRect(grid.model().index(0, 0)).center().y()))
    settle(window)
    fill(window, ("requirements", 0, "limit"), "4 V")
    assert window.session.case.requirements[0].limit == 4.0
    click(window.header.undo_button)
    settle(window)


def check_by_keys(window: MainWindow, measured: Path, qtbot: QtBot) -> None:
    press_and_answer("F10", lambda: press("b"))
    (check,) = dialogs(window)
    assert isinstance(check, BoardCheck)
    walk_to("Choose a measurement…")
    press_and_answer("Space", name_file(measured))
    settle(window)
    walk_to("Values that are unknown")
    for row in range(check.list.count()):
        wanted = "T1" in check.list.item(row).text()
        if (check.list.item(row).checkState().value > 0) != wanted:
            press("Space")
        press("Down")
    walk_to("Fit")
    press("Space")
    qtbot.waitUntil(check.accept_button.isEnabled, timeout=_FIT_MS)
    walk_to("Accept into the case")
    press("Space")
    settle(window)
