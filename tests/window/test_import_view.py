from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from app.qt.import_view import ImportView
from app.qt.session import Session
from app.qt.theme import Theme
from app.qt.worker import Worker
from app.state.importing import Imported
from models.arrays import Real
from models.case.document import Branch, Candidate, Case, Pair
from models.catalogue.shelf import catalogue
from models.errors import DataError
from models.fitting.data import make_measurement
from models.fitting.export import write_touchstone
from models.parts.bead import Bead, Cell
from models.parts.copper import Copper
from models.parts.measured import Measured
from tests.window.hands import click, key, type_text
from tests.window.now import Later, Now

F_HZ: Real = np.geomspace(1e6, 1e9, 91)
BEAD = Bead(rdc_ohm=0.3, cells=(Cell(resistance_ohm=700.0, inductance_h=1.39e-6, capacitance_f=0.455e-12),))
CASE = Case(
    pair=Pair(a="A", b="B"),
    candidates=(Candidate(name="Copper", branches=(Branch(parts=(Copper(inductance_h=1e-9),)),)),),
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ISTHMUS_CATALOGUE", str(tmp_path / "mine"))
    write_touchstone(tmp_path / "bead.s1p", F_HZ, BEAD.impedance(2 * np.pi * F_HZ))
    return tmp_path


@pytest.fixture
def case() -> Case:
    return CASE


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, session: Session) -> ImportView:
    made = ImportView(session, None, Now())
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitUntil(made.isActiveWindow)
    return made


def shown(view: ImportView) -> Imported:
    imported = view.imported()
    assert imported is not None
    return imported


def editor(view: ImportView, name: str) -> QLineEdit:
    field = view.form.field((name,))
    assert field is not None
    found = field.editor()
    assert isinstance(found, QLineEdit)
    return found


def choose(view: ImportView, name: str, text: str) -> None:
    field = view.form.field((name,))
    assert field is not None
    box = field.editor()
    assert isinstance(box, QComboBox)
    box.setFocus()
    while box.currentText() != text:
        before = box.currentIndex()
        key(box, Qt.Key.Key_Down)
        assert box.currentIndex() != before


def test_it_begins_empty_and_asks_for_a_file(view: ImportView) -> None:
    assert "drop one here" in view.plot.sheet().spec.empty
    assert not view.use.isEnabled()
    assert not view.form.isVisible()


def test_a_file_is_fitted_and_shown_over_its_data(view: ImportView, folder: Path) -> None:
    view.open_file(folder / "bead.s1p")
    spec = view.plot.sheet().spec
    assert [curve.label for curve in spec.curves] == ["data", "fit"]
    assert spec.curves[1].y.max() == pytest.approx(700.0, rel=0.01)
    assert [readout.label for readout in spec.readouts] == ["data", "fit"]
    assert "Differs from the data by" in view.summary.text()
    assert "1 MHz to 1 GHz, 91 points" in view.summary.text()
    assert any(text.startswith("Cell 1, resistance 700 Ω") for text in view.values.texts())
    assert np.abs(view.residual.sheet().spec.curves[0].y).max() < 0.05


def test_a_dropped_file_is_read(view: ImportView, folder: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(folder / "bead.s1p"))])
    left = Qt.MouseButton.LeftButton
    view.dropEvent(QDropEvent(QPointF(5, 5), Qt.DropAction.CopyAction, data, left, Qt.KeyboardModifier.NoModifier))
    assert shown(view).result.kind == "bead"


def test_phase_and_parts_are_shown_on_demand(view: ImportView, folder: Path) -> None:
    view.open_file(folder / "bead.s1p")
    view.mode.chosen.emit("phase")
    assert view.plot.sheet().spec.y.unit == "°"
    assert view.residual.sheet().spec.y.unit == "°"
    view.mode.chosen.emit("R and X")
    assert len(view.plot.sheet().spec.curves) == 4


def test_a_range_that_is_typed_is_fitted_and_marked(view: ImportView, folder: Path) -> None:
    view.open_file(folder / "bead.s1p")
    field = editor(view, "from_hz")
    field.setFocus()
    type_text(field, "10M")
    key(field, Qt.Key.Key_Return)
    assert shown(view).result.range_hz[0] >= 10e6
    assert [band.label for band in view.plot.sheet().spec.bands] == ["used for the fit"]
    assert view.plot.sheet().spec.curves[1].valid_x == shown(view).result.range_hz


def test_a_mistake_is_told_beside_its_field_and_changes_nothing(view: ImportView, folder: Path) -> None:
    view.open_file(folder / "bead.s1p")
    before = view.imported()
    field = editor(view, "to_hz")
    field.setFocus()
    type_text(field, "10 ohm")
    key(field, Qt.Key.Key_Return)
    beside = view.form.field(("to_hz",))
    assert beside is not None
    assert "accepted" in beside.error()
    assert view.imported() is before


def test_another_kind_is_fitted_and_doubted(view: ImportView, folder: Path) -> None:
    view.open_file(folder / "bead.s1p")
    choose(view, "kind", "capacitor")
    assert shown(view).result.kind == "capacitor"
    assert "looks like a bead" in view.warnings.text()
    assert view.warnings.isVisible()


def test_a_wrong_connection_is_said_and_the_way_back_works(view: ImportView, folder: Path) -> None:
    view.open_file(folder / "bead.s1p")
    choose(view, "connection", "series-thru")
    assert "one port" in view.message.text()
    assert view.imported() is None
    assert not view.use.isEnabled()
    field = view.form.field(("connection",))
    assert field is not None
    key(field.editor(), Qt.Key.Key_Up)
    assert shown(view).result.kind == "bead"
    assert view.message.text() == ""


def test_the_fitted_part_takes_a_place_as_one_step(view: ImportView, folder: Path, session: Session) -> None:
    view.open_file(folder / "bead.s1p")
    assert view.target.currentText() == "In place of copper in branch 1"
    click(view.use)
    (part,) = session.case.candidates[0].branches[0].parts
    assert isinstance(part, Bead)
    assert part.cells[0].resistance_ohm == pytest.approx(700.0, rel=1e-3)
    assert session.store.undo_name == "Replace part"
    session.store.undo()
    assert session.case == CASE


def test_the_data_itself_takes_a_place(view: ImportView, folder: Path, session: Session) -> None:
    session.path = folder / "case.toml"
    view.open_file(folder / "bead.s1p")
    view.what.setFocus()
    key(view.what, Qt.Key.Key_Down)
    view.target.setFocus()
    key(view.target, Qt.Key.Key_End)
    assert view.target.currentText() == "As a new candidate"
    click(view.use)
    assert session.view.subject == ("candidate", 1)
    assert session.view.candidate == 1
    part = session.case.candidates[1].branches[0].parts[0]
    assert isinstance(part, Measured)
    assert part.file == "bead.s1p"
    assert session.results.evaluation.outcomes[1].dc.bridge_ohm == pytest.approx(0.3, rel=0.05)


def test_a_part_is_kept_in_ones_own_catalogue_and_found_again(view: ImportView, folder: Path) -> None:
    view.open_file(folder / "bead.s1p")
    click(view.keep)
    click(view.keep)
    entries = catalogue(folder / "mine").entries
    assert entries["bead"].own
    assert "Fitted to bead.s1p" in entries["bead"].note
    assert entries["bead-2"].kind == "bead"
    assert "bead-2" in view.message.text()


def test_a_broken_catalogue_of_ones_own_is_left_alone(view: ImportView, folder: Path) -> None:
    (folder / "mine").mkdir()
    (folder / "mine" / "my-parts.toml").write_text("not toml")
    view.open_file(folder / "bead.s1p")
    click(view.keep)
    assert "broken TOML" in view.message.text()
    assert (folder / "mine" / "my-parts.toml").read_text() == "not toml"


def test_points_without_a_file_offer_the_fit_alone(view: ImportView) -> None:
    z = np.abs(BEAD.impedance(2 * np.pi * F_HZ))
    view.open_points(make_measurement(F_HZ, z, source="sheet.png", has_phase=False))
    assert [view.what.itemText(k) for k in range(view.what.count())] == ["the fitted part"]
    assert view.form.field(("connection",)) is None
    view.mode.chosen.emit("phase")
    assert [curve.label for curve in view.plot.sheet().spec.curves] == ["fit"]
    assert view.residual.sheet().spec.empty == "The data has no phase."


def test_the_newest_request_wins_and_stop_stops(qtbot: QtBot, theme: Theme, session: Session, folder: Path) -> None:
    later = Later()
    view = ImportView(session, None, later)
    qtbot.addWidget(view)
    view.show()
    view.open_file(folder / "lost.s1p")
    view.open_file(folder / "bead.s1p")
    assert view.work.progress.isVisible()
    later.work()
    assert view.message.text() == ""
    assert shown(view).file == folder / "bead.s1p"
    assert not view.work.progress.isVisible()
    before = view.imported()
    choose(view, "kind", "inductor")
    key(view, Qt.Key.Key_Escape)
    later.work()
    assert view.imported() is before
    assert view.isVisible()
    assert view.message.text() == "Stopped."
    key(view, Qt.Key.Key_Escape)
    assert not view.isVisible()


def test_a_hundred_thousand_points_come_from_another_thread(
    qtbot: QtBot, theme: Theme, session: Session, tmp_path: Path
) -> None:
    f_hz = np.geomspace(1e5, 1e9, 100_000)
    write_touchstone(tmp_path / "long.s1p", f_hz, BEAD.impedance(2 * np.pi * f_hz))
    view = ImportView(session)
    qtbot.addWidget(view)
    view.show()
    frames = []
    session.frame.connect(lambda: frames.append(view.work.worker.busy))
    view.open_file(tmp_path / "long.s1p")

    def fitted() -> bool:
        session.timer.request()
        return view.imported() is not None

    qtbot.waitUntil(fitted, timeout=20_000)
    # work on the window's own thread would leave none; how many fit in is the machine's affair
    assert frames.count(True) > 1
    assert shown(view).measurement.f_hz.size == 100_000
    view.close()


def test_a_worker_tells_what_fails_in_one_sentence(qtbot: QtBot) -> None:
    def work(request: object, _tell: object) -> object:
        raise DataError("nothing") if request else ZeroDivisionError("oh")

    worker = Worker(work, Now())
    said: list[str] = []
    worker.failed.connect(said.append)
    worker.ask(1)
    worker.ask(0)
    assert said == ["nothing", "ZeroDivisionError: oh"]
    assert not worker.busy
