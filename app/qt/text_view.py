"""The case as the text of its file: to read, to copy, and to edit, with mistakes told by their line."""

from __future__ import annotations

from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import QDialog, QHBoxLayout, QMessageBox, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from app.qt.panel import Words
from app.qt.session import Session
from app.qt.theme import SPACE
from models.errors import IsthmusError


class CaseText(QDialog):
    """Shows the document's text; an edited text becomes the document as one step of undo."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._case = session.case
        self.text = QPlainTextEdit()
        self.message = Words("bad")
        self.copy_button, self.apply_button = QPushButton("Copy all"), QPushButton("Apply")
        self._lay_out()
        self.text.setPlainText(session.text())
        self.text.document().setModified(False)
        self.copy_button.clicked.connect(self._copy)
        self.apply_button.clicked.connect(self.apply)
        session.frame.connect(self._follow)

    def apply(self) -> None:
        """Make the text the document, or say where it is wrong; the document then stays."""
        try:
            self.session.take_text(self.text.toPlainText())
        except IsthmusError as error:
            self.message.setText(str(error))
            return
        self.message.setText("")
        self.text.document().setModified(False)
        self._case = self.session.case

    def reject(self) -> None:
        """Close, unless an edited text would be lost that a person wants to keep."""
        if self._may_leave():
            super().reject()

    def _may_leave(self) -> bool:
        if not self.text.document().isModified():
            return True
        buttons = QMessageBox.StandardButton
        answer = QMessageBox.question(
            self,
            "Text not applied",
            "The text has edits that the case has not.",
            buttons.Apply | buttons.Discard | buttons.Cancel,
            buttons.Apply,
        )
        if answer == buttons.Apply:
            self.apply()
            return not self.text.document().isModified()
        return answer == buttons.Discard

    def _follow(self) -> None:
        """Show the document as it is now, unless there is an edited text that would be lost."""
        if self.session.case is not self._case and not self.text.document().isModified():
            self._case = self.session.case
            self.text.setPlainText(self.session.text())
            self.text.document().setModified(False)

    def _copy(self) -> None:
        self.text.selectAll()
        self.text.copy()

    def _lay_out(self) -> None:
        self.setWindowTitle("Case as text")
        self.resize(720, 640)
        self.text.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.text.setAccessibleName("Text of the case")
        self.text.setTabChangesFocus(True)
        self.apply_button.setProperty("main", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        column.addWidget(self.text, 1)
        column.addWidget(self.message)
        row = QHBoxLayout()
        row.addStretch(1)
        for button in (self.copy_button, self.apply_button):
            button.setAutoDefault(False)
            row.addWidget(button)
        column.addLayout(row)
