"""The check against the built board, from a file to one step of undo."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from attrs import evolve
from PySide6.QtCore import Qt

from app.present.board_check import likely_unknown
from app.present.impedance_plot import MEASURED
from app.qt.board_check import BoardCheck
from app.qt.session import Session
from app.qt.theme import Theme
from app.qt.window import MainWindow
from models.assets import DEMO_CASE
from models.case.read import load_case
from models.decide.board_fit import unknowns
from models.declare import set_path
from models.fitting.export import write_touchstone
from models.network.grid import point_grid
from models.network.solver import Solver
from tests.window.hands import click, key
from tests.window.now import Later, Now

TRUE_F = 83e-12
PATH = ("transformers", 0, "interwinding_capacitance_f")


@pytest.fixture
def check(theme: Theme) -> Iterator[BoardCheck]:
    session = Session(load_case(DEMO_CASE))
    view = BoardCheck(session, None, Now())
    view.show()
    yield view
    session.timer.cancel()
    view.close()
    view.deleteLater()


def built(folder: Path) -> Path:
    case = set_path(load_case(DEMO_CASE), PATH, TRUE_F)
    f_hz = np.geomspace(1e5, 500e6, 160)
    z = Solver().in_circuit(case, case.candidates[0], point_grid(f_hz.tolist()))
    write_touchstone(folder / "built.s1p", f_hz, z)
    return folder / "built.s1p"


def tick_only(check: BoardCheck, *words: str) -> None:
    for row in range(check.list.count()):
        item = check.list.item(row)
        wanted = any(each in item.text() for each in words)
        item.setCheckState(Qt.CheckState.Checked if wanted else Qt.CheckState.Unchecked)


def test_a_measurement_is_overlaid_fitted_and_accepted_as_one_step(check: BoardCheck, tmp_path: Path) -> None:
    session = check.session
    before = session.case
    assert not check.fit_button.isEnabled()
    check.open_file(built(tmp_path))
    assert session.view.measured is not None
    tick_only(check, "T1")
    click(check.fit_button)
    assert "between" in check.findings.text()
    assert session.case is before
    click(check.accept_button)
    assert session.case.transformers[0].interwinding_capacitance_f == pytest.approx(TRUE_F, rel=1e-3)
    assert session.store.undo_name == "Accept measured values"
    session.store.undo()
    assert session.case == before


def test_what_the_measurement_does_not_tell_stays(check: BoardCheck, tmp_path: Path) -> None:
    before = check.session.case
    check.open_file(built(tmp_path))
    tick_only(check, "T1", "plane gap", "inductance")
    click(check.fit_button)
    assert "does not tell it; it stays" in check.findings.text()
    assert "act alike" in check.findings.text()
    click(check.accept_button)
    assert (check.session.case.transformers, check.session.case.couplings) == (before.transformers, before.couplings)


def test_what_is_ticked_to_begin_with_is_found(check: BoardCheck, tmp_path: Path) -> None:
    assert "“Y-capacitor 2.2 nF”" in check.about.text()
    check.open_file(built(tmp_path))
    assert "“Y-capacitor 2.2 nF”" in check.about.text()
    click(check.fit_button)
    assert "does not tell" not in check.findings.text()
    click(check.accept_button)
    found = check.session.case.transformers[0].interwinding_capacitance_f
    assert found == pytest.approx(TRUE_F, rel=0.02)
    assert found == float(f"{found:.4g}")


def test_without_windings_and_leads_the_strays_are_ticked() -> None:
    case = load_case(DEMO_CASE)
    offered = unknowns(case, case.candidates[0])
    assert {each.key for each, likely in zip(offered, likely_unknown(offered), strict=True) if likely} == {
        "interwinding_capacitance_f",
        "esl_h",
    }
    plain = tuple(each for each in offered if each.key == "capacitance_f")
    ticked = [each.owner for each, likely in zip(plain, likely_unknown(plain), strict=True) if likely]
    assert len(ticked) == len(case.couplings)


def test_a_fit_that_tells_nothing_is_not_offered(check: BoardCheck, tmp_path: Path) -> None:
    check.open_file(built(tmp_path))
    tick_only(check, "stray of the")
    click(check.fit_button)
    assert "does not tell it" in check.findings.text()
    assert not check.accept_button.isEnabled()


def test_a_fit_under_way_says_how_far_it_is_and_stops_when_told(theme: Theme, tmp_path: Path) -> None:
    later = Later()
    check = BoardCheck(Session(load_case(DEMO_CASE)), None, later)
    check.show()
    check.open_file(built(tmp_path))
    tick_only(check, "T1")
    click(check.fit_button)
    assert check.work.progress.isVisible()
    assert not check.fit_button.isEnabled()
    key(check, Qt.Key.Key_Escape)
    assert check.isVisible()
    assert not check.work.stop.isVisible()
    assert check.message.text() == "Stopped."
    later.work()
    assert not check.accept_button.isEnabled()
    heard: list[str] = []
    check.work.worker.progressed.connect(heard.append)
    click(check.fit_button)
    later.work()
    assert check.accept_button.isEnabled()
    assert any(text.startswith("Try 3: ") and text.endswith("dB left") for text in heard)
    key(check, Qt.Key.Key_Escape)
    assert not check.isVisible()
    check.session.timer.cancel()
    check.deleteLater()


def test_a_fit_that_cannot_be_is_told(check: BoardCheck, tmp_path: Path) -> None:
    check.open_file(built(tmp_path))
    tick_only(check, "no such thing")
    click(check.fit_button)
    assert check.message.text()
    assert not check.accept_button.isEnabled()


def test_a_fit_of_another_document_is_not_taken(check: BoardCheck, tmp_path: Path) -> None:
    check.open_file(built(tmp_path))
    tick_only(check, "T1")
    click(check.fit_button)
    check.session.change("Change", lambda case: set_path(case, PATH, 50e-12))
    check.take()
    assert check.session.case.transformers[0].interwinding_capacitance_f == 50e-12
    check.session.timer.flush()
    assert not check.accept_button.isEnabled()


def test_a_file_that_is_no_measurement_is_told(check: BoardCheck, tmp_path: Path) -> None:
    (tmp_path / "bad.s1p").write_text("nothing\n", encoding="utf-8")
    check.open_file(tmp_path / "bad.s1p")
    assert check.message.text()
    assert check.session.view.measured is None


def test_the_measured_curve_is_named_in_the_plot(check: BoardCheck, tmp_path: Path) -> None:
    from app.present.impedance_plot import impedance_plot

    check.open_file(built(tmp_path))
    session = check.session
    plot = impedance_plot(session.results, session.readings, session.view)
    assert [curve.label for curve in plot.curves if curve.dots] == [MEASURED]


def test_a_measurement_is_drawn_until_it_is_removed(check: BoardCheck, tmp_path: Path) -> None:
    assert not check.remove_button.isEnabled()
    check.open_file(built(tmp_path))
    click(check.remove_button)
    assert check.session.view.measured is None
    assert not check.remove_button.isEnabled()
    assert not check.fit_button.isEnabled()


def test_the_check_leaves_the_plot_in_sight(window: MainWindow) -> None:
    window.move(0, 0)
    check = window.documents.tools.check_board()
    plot = window.impedance.plot
    assert check.geometry().left() > plot.mapToGlobal(plot.rect().bottomRight()).x()
    check.close()


def test_without_a_candidate_the_way_on_is_said(check: BoardCheck) -> None:
    check.session.change("Remove", lambda case: evolve(case, candidates=()))
    check.session.timer.flush()
    assert "no candidate yet" in check.about.text()
    assert check.list.count() == 0
