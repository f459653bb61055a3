"""The line above a page of a lesson: where the learner is, and what else can be done."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from app.present.lesson_specs import LessonSpec
from app.qt.lesson_dots import Dots
from app.qt.panel import ElidedLabel
from app.qt.theme import SPACE, Theme, Type

NARROW = 1200
"""Below this width a lesson has to save room."""


def push_button(text: str, *, main: bool = False) -> QPushButton:
    """Return a button in the style of the lessons; the main one is filled."""
    button = QPushButton(text)
    button.setProperty("main", main)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button


class LessonHead(QWidget):
    """The line above a page: back to the list, which lesson this is, its steps as dots, and what else can be done."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._places = ("", "")
        self.list_button = push_button("All lessons")
        self.title = ElidedLabel(Type.HEAD, keep_px=120)
        self.place = ElidedLabel(Type.SMALL, "muted")
        self.dots = Dots(theme)
        self.explore_button = push_button("Explore")
        self.explore_button.setCheckable(True)
        self.notes_button = push_button("Notes")
        self.notes_button.setCheckable(True)
        self.present_button = push_button("Present")
        self.present_button.setCheckable(True)
        self.more_button = push_button("More…")
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.l, SPACE.s, SPACE.m, 0)
        row.setSpacing(SPACE.s)
        for widget in (self.list_button, self.title, self.place):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.dots)
        row.addStretch(1)
        for widget in (self.explore_button, self.notes_button, self.present_button, self.more_button):
            row.addWidget(widget)

    def render(self, spec: LessonSpec) -> None:  # type: ignore[override]
        """Show where the learner is."""
        self.title.setText(spec.title)
        self._places = (spec.place, spec.place_short)
        self._fit()
        self.dots.render(spec.dots)
        self.explore_button.setEnabled(spec.explore)
        self.explore_button.setToolTip("" if spec.explore else "The parts come with the answer.")

    @property
    def explores(self) -> bool:
        """Whether the parts are to stand beside the page."""
        return self.explore_button.isChecked() and self.explore_button.isEnabled()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the title the room that it needs."""
        super().resizeEvent(event)
        self._fit()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self.dots.set_theme(theme)

    def _fit(self) -> None:
        self.place.setText(self._places[self.width() < NARROW])
