"""The pages that a lesson window turns: the list of lessons, the open lesson, and what was predicted."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from app.qt.lesson_head import LessonHead, push_button
from app.qt.lesson_list import LessonList
from app.qt.lesson_page import LessonPage
from app.qt.table import AnswersView
from app.qt.theme import Theme


class LessonPages(QStackedWidget):
    """One page at a time."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.list = LessonList(theme)
        self.head = LessonHead(theme)
        self.page = LessonPage(theme)
        self.predictions = AnswersView(theme)
        self.close_overview = push_button("All lessons")
        self._lesson, self._overview = QWidget(), QWidget()
        self._lay_out()

    @property
    def in_lesson(self) -> bool:
        """Whether the open lesson is what is seen."""
        return self.currentWidget() is self._lesson

    @property
    def in_list(self) -> bool:
        """Whether the list of lessons is what is seen."""
        return self.currentWidget() is self.list

    def turn_to_list(self, row: int) -> None:
        """Show the list, with a row of it under the keys."""
        self.setCurrentWidget(self.list)
        self.list.focus_row(row)

    def turn_to_lesson(self) -> None:
        """Show the open lesson."""
        self.setCurrentWidget(self._lesson)

    def turn_to_overview(self) -> None:
        """Show what was predicted."""
        self.setCurrentWidget(self._overview)
        self.close_overview.setFocus()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        for each in (self.list, self.head, self.page, self.predictions):
            each.set_theme(theme)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self._lesson)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.head)
        column.addWidget(self.page, 1)
        beside = QVBoxLayout(self._overview)
        beside.addWidget(self.close_overview, 0, Qt.AlignmentFlag.AlignLeft)
        beside.addWidget(self.predictions, 1)
        for each in (self.list, self._lesson, self._overview):
            self.addWidget(each)
