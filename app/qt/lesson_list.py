"""The list of lessons, and the overview of what was predicted."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.present.lesson_specs import CourseSpec, LessonItemSpec
from app.qt.paint import RIGHT, draw_focus, draw_outcome, draw_text
from app.qt.panel import ElidedLabel, Panel, Words
from app.qt.theme import SPACE, Theme, Type, font

_ROW_HEIGHT = 38
_WIDTH = 640


class LessonRow(QAbstractButton):
    """One lesson of the list."""

    def __init__(self, theme: Theme, spec: LessonItemSpec, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._spec = spec
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumHeight(_ROW_HEIGHT)
        self.render(spec)

    def render(self, spec: LessonItemSpec) -> None:  # type: ignore[override]
        """Show a lesson."""
        self._spec = spec
        self.setText(spec.title)
        self.setAccessibleName(f"{spec.title}, {spec.note}")
        self.update()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self.update()

    def sizeHint(self) -> QSize:
        """Return the size of a row."""
        return QSize(400, _ROW_HEIGHT)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint title and state."""
        painter, theme = QPainter(self), self._theme
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.underMouse():
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.color("tint"))
            painter.drawRoundedRect(QRectF(self.rect()), 6, 6)
        middle = self.height() / 2
        if self._spec.state == "finished":
            draw_outcome(painter, theme, "pass", QPointF(18, middle))
        else:
            painter.setPen(QPen(theme.color("accent" if self._spec.state == "begun" else "muted"), 1.5))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(QPointF(18, middle), 5, 5)
        words = QRectF(36, 0, self.width() - 200, self.height())
        draw_text(painter, words, self._spec.title, face=font(Type.BODY), color=theme.color("text"))
        note = QRectF(self.width() - 160, 0, 148, self.height())
        draw_text(painter, note, self._spec.note, face=font(Type.SMALL), color=theme.color("muted"), align=RIGHT)
        if self.hasFocus():
            draw_focus(painter, theme, QRectF(self.rect()), 6)
        painter.end()


class LessonList(QWidget):
    """Renders a CourseSpec; tells which lesson a person opens."""

    chosen = Signal(int)

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self.rows: list[LessonRow] = []
        self.overview_button = QPushButton("What I predicted")
        self.make_button = QPushButton("Make a lesson…")
        self._card = Panel(theme)
        self._note = ElidedLabel(Type.SMALL, "muted")
        self._inside = QWidget()
        self._column = QVBoxLayout(self._inside)
        self._column.setContentsMargins(0, 0, SPACE.s, 0)
        self._column.setSpacing(2)
        self._column.addStretch(1)
        self._scroll = QScrollArea()
        self._scroll.setWidget(self._inside)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._card.add(self._scroll, stretch=1)
        foot = QWidget()
        buttons = QHBoxLayout(foot)
        buttons.setContentsMargins(0, 0, 0, 0)
        buttons.addWidget(self._note)
        buttons.addStretch(1)
        buttons.addWidget(self.make_button)
        buttons.addWidget(self.overview_button)
        self._message = Words("bad", self)
        self._card.add(self._message)
        self._card.add(foot)
        self.show_message("")
        self._card.setMaximumWidth(_WIDTH)
        across = QHBoxLayout(self)
        across.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        across.addStretch(1)
        across.addWidget(self._card, 10)
        across.addStretch(1)

    def render(self, spec: CourseSpec) -> None:  # type: ignore[override]
        """Show the lessons."""
        self._card.show_title(spec.title, "predict, then see, then know why")
        self._note.setText(spec.note)
        while len(self.rows) > len(spec.items):
            row = self.rows.pop()
            row.hide()
            row.deleteLater()
        for row, item in zip(self.rows, spec.items, strict=False):
            row.render(item)
        for index in range(len(self.rows), len(spec.items)):
            row = LessonRow(self._theme, spec.items[index], self._inside)
            row.clicked.connect(partial(self.chosen.emit, index))
            self.rows.append(row)
            self._column.insertWidget(index, row)

    def focus_row(self, index: int) -> None:
        """Put a row under the keys and into sight."""
        if self.rows:
            self.rows[index].setFocus()
            self._scroll.ensureWidgetVisible(self.rows[index], 0, SPACE.s)

    def show_message(self, text: str) -> None:
        """Say what is wrong with lessons of one's own."""
        self._message.say(text)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        self._card.set_theme(theme)
        for row in self.rows:
            row.set_theme(theme)
