"""Report: which file, which sections, whose words; written beside the window."""

from __future__ import annotations

from concurrent.futures import Executor
from pathlib import Path

from attrs import evolve
from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QFileDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.qt.dress import boxes_palette
from app.qt.field import ChoiceBox
from app.qt.look import Look
from app.qt.panel import ElidedLabel, Panel, Words
from app.qt.session import Session
from app.qt.theme import SPACE, Theme, ThemeName, Type, theme_named
from app.qt.work_row import WorkRow
from app.report.options import PAPERS, SECTIONS
from app.report.wish import Wish, fault, form_of, usual_file
from app.report.write import ReportRequest, run_report

_FILTER = "PDF (*.pdf);;HTML (*.html)"
_CAUTION = (
    "An estimate for design, not a certification. The current edition of the standard and local codes decide; "
    "qualified people check safety insulation and protective parts."
)
_NOTES_LINES = 3


class ReportView(QDialog):
    """Asks what a report is to be, and writes it in the background."""

    def __init__(
        self, session: Session, wish: Wish, parent: QWidget | None = None, executor: Executor | None = None
    ) -> None:
        super().__init__(parent)
        self.session = session
        self.work = WorkRow(self, run_report, executor)
        theme = theme_named(ThemeName(session.view.theme))
        self._card = Panel(theme)
        self._written: Path | None = None
        self.file, self.title, self.author = QLineEdit(), QLineEdit(), QLineEdit()
        self.notes = QPlainTextEdit()
        self.paper = ChoiceBox(theme)
        self.boxes = {name: QCheckBox(text) for name, text in SECTIONS.items()}
        self.file_note, self.outcome = Words(), ElidedLabel(Type.SMALL)
        self.choose, self.every = QPushButton("Choose…"), QPushButton()
        self.open_it, self.write = QPushButton("Open"), QPushButton("Write report")
        self._lay_out()
        self._fill(wish)
        self._join()
        self._dress(theme)
        Look(self, session, self._dress)
        self._check_file()

    def wish(self) -> Wish:
        """Return what is asked for at present."""
        return Wish(
            file=self.file.text(),
            title=self.title.text(),
            author=self.author.text(),
            notes=self.notes.toPlainText(),
            sections=tuple(name for name, box in self.boxes.items() if box.isChecked()),
            paper=list(PAPERS)[self.paper.currentIndex()],
        )

    def start(self) -> None:
        """Write the report, or say beside the file why it cannot be written there."""
        wish = self.wish()
        if why := fault(wish.file):
            self._note(why, wrong=True)
            self.file.setFocus()
            return
        path = Path(wish.file.strip()).expanduser().absolute()
        self._written = None
        self._tell("")
        self.work.ask(ReportRequest(case=self.session.case, path=path, options=wish.options(self.session.text())))
        self._show()

    def ask_file(self) -> None:
        """Ask for the file."""
        name, kind = QFileDialog.getSaveFileName(self, "Write the report", self.file.text(), _FILTER)
        if name:
            path = Path(name)
            ending = ".html" if kind.startswith("HTML") else ".pdf"
            self.file.setText(str(path if path.suffix else path.with_suffix(ending)))

    def _fill(self, wish: Wish) -> None:
        self.file.setText(wish.file)
        self.title.setText(wish.title)
        self.title.setPlaceholderText(self.session.case.title)
        self.author.setText(wish.author)
        self.notes.setPlainText(wish.notes)
        for name, box in self.boxes.items():
            box.setChecked(name in wish.sections)
        self.paper.addItems(list(PAPERS.values()))
        self.paper.setCurrentIndex(list(PAPERS).index(wish.paper))

    def _lay_out(self) -> None:
        self.setWindowTitle("Report")
        self.resize(620, 560)
        card = self._card
        card.show_title("Report for the design review")
        grid = QGridLayout()
        grid.setHorizontalSpacing(SPACE.m)
        grid.setVerticalSpacing(SPACE.s)
        grid.setColumnStretch(1, 1)
        line = QHBoxLayout()
        line.setSpacing(SPACE.s)
        line.addWidget(self.file, 1)
        line.addWidget(self.choose)
        grid.addWidget(_named("File", self.file), 0, 0)
        grid.addLayout(line, 0, 1)
        grid.addWidget(self.file_note, 1, 1)
        grid.addWidget(_named("Title", self.title), 2, 0)
        grid.addWidget(self.title, 2, 1)
        grid.addWidget(_named("By", self.author), 3, 0)
        grid.addWidget(self.author, 3, 1)
        grid.addWidget(_named("Notes", self.notes), 4, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self.notes, 4, 1)
        grid.addWidget(_named("Paper", self.paper), 5, 0)
        grid.addWidget(self.paper, 5, 1, Qt.AlignmentFlag.AlignLeft)
        heading = ElidedLabel(Type.STRONG)
        heading.setText("After the first page")
        grid.addWidget(heading, 6, 0, 1, 2)
        grid.addLayout(self._sections(), 7, 0, 1, 2)
        self.author.setPlaceholderText("Who answers for it; stands under the title")
        self.notes.setFixedHeight(self.notes.fontMetrics().lineSpacing() * _NOTES_LINES + 18)
        self.notes.setTabChangesFocus(True)
        self.notes.setPlaceholderText("Your own words for the first page; an empty line parts paragraphs")
        caution = Words("caution")
        caution.setText(_CAUTION)
        card.add_row(grid)
        card.add(QWidget(), stretch=1)
        card.add(caution)
        card.add_row(self._foot())
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        column.addWidget(card)

    def _sections(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(SPACE.xl)
        grid.setVerticalSpacing(SPACE.s)
        rows = -(-len(self.boxes) // 2)
        for number, box in enumerate(self.boxes.values()):
            grid.addWidget(box, number % rows, number // rows)
        grid.setColumnStretch(2, 1)
        grid.addWidget(self.every, rows, 0, Qt.AlignmentFlag.AlignLeft)
        return grid

    def _foot(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(SPACE.s)
        self.write.setProperty("main", True)
        self.write.setDefault(True)
        for button in (self.choose, self.every, self.open_it):
            button.setAutoDefault(False)
        row.addWidget(self.work, 1)
        row.addWidget(self.outcome, 1)
        for button in (self.open_it, self.write):
            row.addWidget(button)
        for widget, name in (
            (self.file, "File of the report"),
            (self.title, "Title of the report"),
            (self.author, "Who answers for the report"),
            (self.notes, "Notes for the first page"),
            (self.paper, "Paper"),
        ):
            widget.setAccessibleName(name)
        return row

    def _join(self) -> None:
        self.work.worker.done.connect(self._take_result)
        self.work.worker.failed.connect(self._fail)
        self.work.stopped.connect(lambda: self._tell("Stopped; nothing was written."))
        self.file.textChanged.connect(lambda *_: self._check_file())
        self.choose.clicked.connect(lambda *_: self.ask_file())
        self.every.clicked.connect(lambda *_: self._switch_all())
        self.open_it.clicked.connect(lambda *_: self._open_file())
        self.write.clicked.connect(lambda *_: self.start())
        for box in self.boxes.values():
            box.toggled.connect(lambda *_: self._show())

    def _switch_all(self) -> None:
        wanted = not all(box.isChecked() for box in self.boxes.values())
        for box in self.boxes.values():
            box.setChecked(wanted)

    def _open_file(self) -> None:
        if self._written is not None and not QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._written))):
            self._tell(f"Nothing here opens {self._written.name}.")

    def _check_file(self) -> None:
        file = self.file.text()
        why = fault(file)
        self._note(why or form_of(file), wrong=bool(why))
        self._show()

    def _take_result(self, path: Path) -> None:
        self._written = path
        self._check_file()
        self._tell(f"Written to {path}")

    def _fail(self, text: str) -> None:
        self._show()
        self._note(text, wrong=True)

    def _tell(self, text: str) -> None:
        self.outcome.setText(text)
        self._show()

    def _note(self, text: str, *, wrong: bool) -> None:
        self.file_note.setText(text)
        self.file_note.setProperty("role", "bad" if wrong else "muted")
        self.file.setProperty("wrong", wrong)
        self.file.setAccessibleDescription(text)
        for widget in (self.file_note, self.file):
            widget.style().unpolish(widget)
            widget.style().polish(widget)

    def _dress(self, theme: Theme) -> None:
        self._card.set_theme(theme)
        self.paper.theme = theme
        for box in self.boxes.values():
            box.setPalette(boxes_palette(box.palette(), theme))

    def _show(self) -> None:
        busy = self.work.busy
        self.paper.setEnabled(not self.file.text().lower().endswith(".html"))
        self.every.setText("None of them" if all(box.isChecked() for box in self.boxes.values()) else "All of them")
        self.outcome.setVisible(not busy)
        self.open_it.setVisible(self._written is not None and not busy)
        self.write.setEnabled(not busy)


def wish_for(session: Session, last: Wish | None) -> Wish:
    """Return what to ask for at first: as last time, under the name of the present case."""
    folder = session.path.parent if session.path else Path(last.file).parent if last else Path.home()
    file = str(usual_file(folder, session.path.stem if session.path else session.case.title))
    if last is None:
        return Wish(file=file)
    return evolve(last, file=str(Path(file).with_suffix(Path(last.file).suffix or ".pdf")))


def _named(text: str, buddy: QWidget) -> QLabel:
    label = QLabel(text)
    label.setProperty("role", "muted")
    label.setBuddy(buddy)
    return label
