from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from pytestqt.qtbot import QtBot

from app.qt.documents import Documents
from app.qt.report_view import ReportView, wish_for
from app.qt.session import Session
from app.qt.theme import Theme
from app.report.wish import Wish
from models.assets import DEMO_CASE
from models.case.document import Case
from models.case.read import load_case
from tests.app.report.pdf_text import Pdf
from tests.window.hands import click, key, type_text
from tests.window.now import Later, Now

QUICK = Wish(sections=("case",))


@pytest.fixture
def case() -> Case:
    return load_case(DEMO_CASE)


@pytest.fixture
def view(qtbot: QtBot, theme: Theme, session: Session, tmp_path: Path) -> ReportView:
    made = ReportView(session, QUICK, None, Now())
    qtbot.addWidget(made)
    made.file.setText(str(tmp_path / "mine.pdf"))
    made.show()
    return made


def test_a_report_is_written_as_it_is_asked_for(view: ReportView, tmp_path: Path) -> None:
    type_text(view.title, "Review in March")
    view.notes.setPlainText("Own words.")
    view.paper.setCurrentText("Letter")
    click(view.write)
    assert view.outcome.full_text() == f"Written to {tmp_path / 'mine.pdf'}"
    raw = (tmp_path / "mine.pdf").read_bytes()
    assert b"612" in raw[raw.index(b"/MediaBox") :][:40], "Letter is 8.5 in wide"
    text = Pdf(raw).text()
    assert "Review in March" in text
    assert "Own words." in text
    assert "Conducted noise" not in text


def test_the_name_says_the_format(view: ReportView, tmp_path: Path) -> None:
    view.file.setText(str(tmp_path / "mine.html"))
    assert not view.paper.isEnabled()
    click(view.write)
    assert (tmp_path / "mine.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert "takes the place" in view.file_note.text()


def test_what_cannot_be_written_is_told_beside_the_field(view: ReportView, tmp_path: Path) -> None:
    for file, told in (
        ("", "no file"),
        ("mine.docx", ".pdf or .html"),
        (str(tmp_path / "nowhere" / "mine.pdf"), "no folder"),
    ):
        view.file.setText(file)
        click(view.write)
        assert told in view.file_note.text()
        assert view.file.property("wrong")
    assert list(tmp_path.iterdir()) == []
    view.file.setText(str(tmp_path / "mine.pdf"))
    assert not view.file.property("wrong")


def test_a_failure_while_writing_is_told_beside_the_field(
    view: ReportView, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.qt.report_view.fault", lambda _file: "")
    view.file.setText(str(tmp_path / "gone" / "mine.pdf"))
    click(view.write)
    assert "No such file" in view.file_note.text()
    assert not view.open_it.isVisible()


def test_it_is_opened_by_what_opens_such_files(
    view: ReportView, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[QUrl] = []

    def refuse(url: QUrl) -> bool:
        opened.append(url)
        return False

    assert not view.open_it.isVisible()
    click(view.write)
    monkeypatch.setattr(QDesktopServices, "openUrl", refuse)
    click(view.open_it)
    assert opened == [QUrl.fromLocalFile(str(tmp_path / "mine.pdf"))]
    assert view.outcome.full_text() == "Nothing here opens mine.pdf."


def test_escape_stops_and_writes_nothing(qtbot: QtBot, theme: Theme, session: Session, tmp_path: Path) -> None:
    later = Later()
    made = ReportView(session, Wish(file=str(tmp_path / "mine.pdf"), sections=()), None, later)
    qtbot.addWidget(made)
    made.show()
    made.start()
    assert made.work.progress.isVisible()
    key(made, Qt.Key.Key_Escape)
    later.work()
    assert made.isVisible()
    assert "Stopped" in made.outcome.full_text()
    assert list(tmp_path.iterdir()) == []
    key(made, Qt.Key.Key_Escape)
    assert not made.isVisible()


def test_all_sections_and_none(view: ReportView) -> None:
    click(view.every)
    assert len(view.wish().sections) == len(view.boxes)
    click(view.every)
    assert view.wish().sections == ()


def test_the_wish_is_kept_for_the_session(qtbot: QtBot, theme: Theme, session: Session) -> None:
    from PySide6.QtWidgets import QWidget

    owner = QWidget()
    qtbot.addWidget(owner)
    documents = Documents(session, owner)
    first = documents.tools.write_report()
    first.boxes["case"].setChecked(False)
    first.notes.setPlainText("Kept.")
    first.file.setText(str(Path(first.file.text()).with_suffix(".html")))
    first.close()
    again = documents.tools.write_report().wish()
    assert again.notes == "Kept."
    assert "case" not in again.sections
    assert again.file.endswith(".html")


def test_the_file_is_named_after_the_case(session: Session, tmp_path: Path) -> None:
    assert wish_for(session, None).file.endswith("cold-store-gateway-mains-to-5-v-isolated.pdf")
    session.path = tmp_path / "box.toml"
    assert wish_for(session, None).file == str(tmp_path / "box.pdf")
