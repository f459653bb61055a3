"""Files as a person meets them: recent, dropped, changed elsewhere, as text."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QFileDialog, QMenu, QMessageBox

from app.qt.digitise import DigitiseView
from app.qt.import_view import ImportView
from app.qt.text_view import CaseText
from app.qt.window import MainWindow
from app.state.recent import recent_files
from models.assets import DEMO_CASE
from tests.window.hands import Opener, click, key


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "mine.toml"
    path.write_text(DEMO_CASE.read_text(encoding="utf-8"), encoding="utf-8")
    return path


@pytest.fixture
def window(open_window: Opener, file: Path) -> MainWindow:
    return open_window(file)


def renamed(window: MainWindow, title: str) -> None:
    window.session.change("Rename", lambda case: evolve(case, title=title))


def test_files_that_were_opened_are_offered_again(window: MainWindow, file: Path, tmp_path: Path) -> None:
    window.documents.recent_folder = tmp_path / "state"
    window.documents.open(file)
    assert recent_files(tmp_path / "state") == (file.resolve(),)
    menu = window.header.menu_button.menu()
    menu.aboutToShow.emit()
    recent = next(each for each in menu.findChildren(QMenu) if each.title() == "Open &recent")
    assert [each.text() for each in recent.actions()] == [str(file.resolve())]


def drop(window: MainWindow, file: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(file))])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(300, 300), copy, data, left, none)
    QApplication.sendEvent(window, enter)
    assert enter.isAccepted()
    QApplication.sendEvent(window, QDropEvent(QPointF(300, 300), copy, data, left, none))


def test_a_dropped_case_is_opened(window: MainWindow, tmp_path: Path) -> None:
    other = tmp_path / "other.toml"
    other.write_text(DEMO_CASE.read_text(encoding="utf-8").replace("Cold-store", "Dropped"), encoding="utf-8")
    drop(window, other)
    assert window.session.case.title.startswith("Dropped")
    assert window.session.path == other


@pytest.mark.parametrize("name", ["part.s1p", "part.S2P", "part.csv"])
def test_dropped_measured_data_is_imported_and_the_case_stays(window: MainWindow, tmp_path: Path, name: str) -> None:
    renamed(window, "Changed")
    drop(window, tmp_path / name)
    (view,) = window.findChildren(ImportView)
    assert view.isVisible()
    assert view.work.busy
    assert window.session.case.title == "Changed"
    view.close()


def test_a_dropped_picture_is_read_as_a_curve(window: MainWindow, tmp_path: Path) -> None:
    image = QImage(40, 30, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.white)
    assert image.save(str(tmp_path / "curve.png"))
    drop(window, tmp_path / "curve.png")
    (view,) = window.findChildren(ImportView)
    (picture,) = view.findChildren(DigitiseView)
    assert picture.isVisible()
    assert picture.picture.image().width() == 40
    picture.close()
    view.close()


def test_a_change_by_another_program_is_told_and_can_be_loaded(window: MainWindow, file: Path) -> None:
    window.look_at_file()
    assert not window.outside.isVisible()
    file.write_text(file.read_text(encoding="utf-8").replace("Cold-store gateway", "Elsewhere"), encoding="utf-8")
    window.look_at_file()
    assert window.outside.isVisible()
    click(window.outside.reload_button)
    assert window.session.case.title.startswith("Elsewhere")
    window.look_at_file()
    assert not window.outside.isVisible()


def test_a_change_by_another_program_can_be_left_alone(window: MainWindow, file: Path) -> None:
    renamed(window, "Mine")
    file.write_text(file.read_text(encoding="utf-8") + "# elsewhere\n", encoding="utf-8")
    window.look_at_file()
    click(window.outside.keep_button)
    window.look_at_file()
    assert not window.outside.isVisible()
    assert window.session.case.title == "Mine"
    window.session.save(file)
    window.look_at_file()
    assert not window.outside.isVisible()


def test_the_case_as_text_follows_and_is_edited_as_one_step(window: MainWindow) -> None:
    view: CaseText = window.documents.tools.show_text()
    before = window.session.case
    renamed(window, "Renamed")
    window.session.timer.flush()
    assert "Renamed" in view.text.toPlainText()
    window.session.store.undo()
    window.session.timer.flush()
    view.text.setPlainText(view.text.toPlainText().replace('"2.2 nF"', '"4.7 nF"', 1))
    click(view.apply_button)
    assert window.session.case != before
    assert window.session.store.undo_name == "Edit as text"
    window.session.store.undo()
    assert window.session.case == before
    view.close()


def test_a_mistake_in_the_text_is_told_by_its_line_and_changes_nothing(window: MainWindow) -> None:
    view = window.documents.tools.show_text()
    before = window.session.case
    view.text.setPlainText(view.text.toPlainText().replace('"2.2 nF"', '"2.2 nH"', 1))
    click(view.apply_button)
    assert "line" in view.message.text()
    assert window.session.case is before
    view.close()


def test_a_first_save_offers_the_title_as_the_name_of_the_file(
    window: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    offered: list[str] = []

    def asked(_owner: object, _title: str, start: str, _kinds: str) -> tuple[str, str]:
        offered.append(start)
        return str(tmp_path / "chosen"), ""

    monkeypatch.setattr(QFileDialog, "getSaveFileName", asked)
    window.session.forget_file()
    renamed(window, "24 V supply: isolated?")
    assert window.documents.save()
    assert Path(offered[0]).name == "24-v-supply-isolated.toml"
    assert window.documents.ask_save()
    assert Path(offered[1]) == tmp_path / "chosen.toml"


@pytest.mark.parametrize(
    ("answer", "text", "closes"),
    [
        ("Cancel", '"4.7 nF"', False),
        ("Discard", '"4.7 nF"', True),
        ("Apply", '"4.7 nF"', True),
        ("Apply", '"4.7 nH"', False),
    ],
)
def test_an_edited_text_is_not_lost_unasked(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, answer: str, text: str, closes: bool
) -> None:
    view = window.documents.tools.show_text()
    before = window.session.case
    view.text.setPlainText(view.text.toPlainText().replace('"2.2 nF"', text, 1))
    view.text.document().setModified(True)
    monkeypatch.setattr(QMessageBox, "question", lambda *_: QMessageBox.StandardButton[answer])
    key(view, Qt.Key.Key_Escape)
    assert view.isVisible() is not closes
    assert (window.session.case != before) is (answer == "Apply" and closes)
    view.text.document().setModified(False)
    view.close()


@pytest.mark.parametrize(("typed", "answer"), [("mine", "No"), ("mine", "Yes"), ("board v1.2", None)])
def test_a_name_without_the_ending_gets_it_and_replaces_no_file_unasked(
    window: MainWindow, file: Path, monkeypatch: pytest.MonkeyPatch, typed: str, answer: str | None
) -> None:
    before = file.read_text(encoding="utf-8")
    asked: list[str] = []

    def question(_owner: object, _title: str, text: str, *_: object) -> QMessageBox.StandardButton:
        asked.append(text)
        return QMessageBox.StandardButton[answer or "No"]

    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file.with_name(typed)), ""))
    monkeypatch.setattr(QMessageBox, "question", question)
    window.session.forget_file()
    renamed(window, "Another")
    assert window.documents.ask_save() is (answer != "No")
    assert len(asked) == (answer is not None)
    assert (file.read_text(encoding="utf-8") != before) is (answer == "Yes")
    assert file.with_name("board v1.2.toml").exists() is (answer is None)
    window.session.store.mark_saved()
