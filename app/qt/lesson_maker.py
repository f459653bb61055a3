"""A lesson made from the present case: a title, a few questions, one sentence to remember."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.lessons.make import Question, askable, folder_name, lesson_from_case
from app.lessons.read import load_lesson
from app.lessons.write import write_lesson
from app.qt.panel import Words
from app.qt.theme import SPACE
from models.case.document import Case
from models.errors import IsthmusError
from models.quantity import parse_quantity

_KINDS = {"Drag a value": "value", "Draw a curve": "draw", "Pick a bridge": "choose"}
_ABOUT = (
    "The lesson is about the case as it stands now. Each question is answered by the solver; write {answer} where the "
    "words should say the number. At the end the learner has to meet the case’s requirements."
)


class LessonMaker(QDialog):
    """Asks for a lesson's words and writes it into a folder; tells when it is made."""

    made = Signal(str)
    """Name of the folder."""

    def __init__(self, case: Case, folder: Path, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._case = case
        self._folder = folder
        self.questions: list[Question] = []
        self.setWindowTitle("Make a lesson from this case")
        self.title, self.remember = QLineEdit(case.title), QLineEdit()
        self.intro, self.ask, self.why = (QPlainTextEdit() for _ in range(3))
        self.kind, self.candidate, self.quantity = (QComboBox() for _ in range(3))
        self.at = QLineEdit("1 MHz")
        self.list = QListWidget()
        self.message = Words("bad", self)
        self.add_button, self.make_button = QPushButton("Add this question"), QPushButton("Make the lesson")
        self.remove_button = QPushButton("Remove the selected one")
        self.make_button.setProperty("main", True)
        self._lay_out()
        self.add_button.clicked.connect(self.add_question)
        self.remove_button.clicked.connect(self.remove_question)
        self.make_button.clicked.connect(self.make)

    def add_question(self) -> None:
        """Take the question as it is written."""
        try:
            question = Question(
                kind=_KINDS[self.kind.currentText()],
                ask=self.ask.toPlainText().strip() or "What do you think?",
                why=self.why.toPlainText().strip() or "It is {answer}.",
                candidate=self.candidate.currentText(),
                quantity=self.quantity.currentText(),
                at_hz=parse_quantity(self.at.text(), "Hz"),
            )
        except IsthmusError as error:
            self.message.say(f"Frequency: {error}")
            return
        self.questions.append(question)
        self.list.addItem(f"{self.kind.currentText()}: {question.candidate}, {question.quantity}")
        self.ask.clear()
        self.why.clear()
        self.message.say("")

    def remove_question(self) -> None:
        """Take the selected question away."""
        row = self.list.currentRow()
        if row >= 0:
            self.list.takeItem(row)
            del self.questions[row]

    def make(self) -> None:
        """Make the lesson and write it, or say what is missing."""
        if not self.questions:
            self.message.say("Add at least one question.")
            return
        try:
            lesson = lesson_from_case(
                self._case,
                id=folder_name(self.title.text(), (each.name for each in self._folder.glob("*"))),
                title=self.title.text().strip() or "A lesson",
                intro=self.intro.toPlainText().strip() or self._case.notes or self._case.title,
                questions=tuple(self.questions),
                remember=self.remember.text().strip() or "What did you not expect?",
            )
            with TemporaryDirectory() as trial:
                load_lesson(write_lesson(lesson, Path(trial)))
            write_lesson(lesson, self._folder)
        except (IsthmusError, OSError) as error:
            self.message.say(str(error))
            return
        self.made.emit(lesson.id)
        self.accept()

    def _lay_out(self) -> None:
        for name in _KINDS:
            self.kind.addItem(name)
        for each in self._case.candidates:
            self.candidate.addItem(each.name)
        self.quantity.addItems(askable(self._case))
        self.quantity.setCurrentText("in-circuit")
        form = QFormLayout()
        about = Words(parent=self)
        about.setText(_ABOUT)
        for label, field in (
            ("Title", self.title),
            ("What it is about", self.intro),
            ("Question", self.kind),
            ("Bridge", self.candidate),
            ("Quantity", self.quantity),
            ("Frequency", self.at),
            ("Ask", self.ask),
            ("Why it is so", self.why),
            ("", self.add_button),
            ("Questions", self.list),
            ("", self.remove_button),
            ("To remember", self.remember),
        ):
            form.addRow(label, field)
            if label:
                field.setAccessibleName(label)
        for text in (self.intro, self.ask, self.why):
            text.setFixedHeight(62)
            text.setTabChangesFocus(True)
        self.list.setFixedHeight(80)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self.make_button)
        column = QVBoxLayout(self)
        column.setSpacing(SPACE.m)
        column.addWidget(about)
        column.addLayout(form)
        column.addWidget(self.message)
        column.addLayout(foot)
        self.message.say("")
        self.resize(560, 640)
