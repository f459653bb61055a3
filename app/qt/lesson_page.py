"""One page of a lesson: words, question, answer and task at the left, the plot and the parts beside it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app.present.lesson_specs import LessonSpec
from app.qt.inspector import Inspector
from app.qt.lesson_ask import AskView, Verdict
from app.qt.lesson_board import BigBoard
from app.qt.lesson_head import NARROW, push_button
from app.qt.lesson_stage import Stage
from app.qt.lesson_words import LARGE, CheckRow, rich_words, show_html
from app.qt.panel import Panel
from app.qt.pills import PillRow
from app.qt.section import SectionView
from app.qt.theme import NO_LIMIT_PX, SPACE, Theme, Type

_WORDS_WIDTH, _PARTS_WIDTH = 430, 290
_NARROW_WORDS, _NARROW_PARTS = 340, 284
_LEAST_WORDS = 250
_ROOM_CAUTION = 1.3
"""A caution is read from the back of a room as well."""
_READING, _NARROW_READING = 1.15, 1.04
"""A lesson is read from start to end: its type is larger than that of labels."""


class LessonPage(QWidget):
    """Renders a LessonSpec; tells what a person does with it."""

    back = Signal()
    forward = Signal()
    skipped = Signal()
    put_back = Signal()
    pointed = Signal(str, bool)
    """A link under the hand, or chosen (True): ``curve:Copper``; empty when the hand leaves it."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._large = False
        self._explores = False
        self._answer_wanted = False
        self.heading = rich_words()
        self.words = rich_words()
        self.ask = AskView(theme)
        self.reply = Verdict(theme)
        self.why = rich_words()
        self.check_line = rich_words()
        self.checks: list[CheckRow] = []
        self._check_rows = QVBoxLayout()
        self._check_rows.setSpacing(SPACE.s)
        self.remember = Verdict(theme)
        self.notes = Verdict(theme)
        self.changed = rich_words("muted")
        self.caution = rich_words("muted")
        self.stage = Stage(theme)
        self.section = SectionView(theme)
        self.board = BigBoard(theme)
        self.inspector = Inspector(theme)
        self.pills = PillRow(theme)
        self.back_button = push_button("Back")
        self.skip_button = push_button("Show without a guess")
        self.forward_button = push_button("Next", main=True)
        self.put_back_button = push_button("Put it back")
        self.add_button = push_button("Add a bridge")
        self.undo_button, self.redo_button = push_button("Undo"), push_button("Redo")
        self._text_card, self._plot_card, self._parts_card = (Panel(theme) for _ in range(3))
        self._scroll = QScrollArea()
        self._lay_out()
        self._join()

    def render(self, spec: LessonSpec, *, large: bool, explores: bool, notes: bool) -> None:  # type: ignore[override]
        """Show a page.

        Parameters
        ----------
        spec : the page
        large : before a group: large type, one plot, no parts
        explores : whether the parts stand beside it on pages that are no task
        notes : whether the notes for the one who teaches are shown
        """
        scale = LARGE if large else _NARROW_READING if self.width() < NARROW else _READING
        self._large, self._explores = large, explores
        for words, html, kind, larger in (
            (self.heading, spec.heading, Type.HEAD, scale),
            (self.words, spec.words_html, Type.BODY, scale),
            (self.why, spec.why_html, Type.BODY, scale),
            (self.check_line, spec.check_headline, Type.STRONG, scale),
            (self.changed, spec.changed, Type.SMALL, 1.0),
            (self.caution, spec.caution, Type.SMALL, _ROOM_CAUTION if large else 1.0),
        ):
            show_html(words, html, kind, larger)
        self.ask.render(spec.ask, scale, hints=not large)
        self._show_boxes(spec, scale, notes=notes)
        self._show_buttons(spec)
        self._show_stage(spec)
        self._fit()

    def show_history(self, undo: str | None, redo: str | None) -> None:
        """Show what undo and redo would do."""
        for button, verb, step in ((self.undo_button, "Undo", undo), (self.redo_button, "Redo", redo)):
            button.setEnabled(bool(step))
            button.setAccessibleName(f"{verb} {step or ''}".strip())

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        for box in (self.ask, self.reply, self.remember, self.notes):
            box.set_theme(theme)
        for card in (self._text_card, self._plot_card, self._parts_card):
            card.set_theme(theme)
        for part in (self.stage, self.section, self.board, self.inspector, self.pills):
            part.set_theme(theme)
        for row in self.checks:
            row.set_theme(theme)

    def scroll_to_answer(self) -> None:
        """Bring the answer into sight, now and when the page has found its height."""
        self._answer_wanted = True
        self._bring_answer()

    def scroll_to_top(self) -> None:
        """Begin the page at its head."""
        self._answer_wanted = False
        self._scroll.verticalScrollBar().setValue(0)

    def scroll_by(self, half_pages: int) -> None:
        """Move the words up or down."""
        self._answer_wanted = False
        bar = self._scroll.verticalScrollBar()
        bar.setValue(bar.value() + half_pages * bar.pageStep() // 2)

    def resizeEvent(self, event: object) -> None:
        """Share the width anew."""
        super().resizeEvent(event)  # type: ignore[arg-type]
        self._fit()

    def _bring_answer(self) -> None:
        if self._answer_wanted and self.reply.isVisible():
            self._scroll.verticalScrollBar().setValue(self.reply.y() - SPACE.m)

    def _show_boxes(self, spec: LessonSpec, scale: float, *, notes: bool) -> None:
        reply = spec.reply
        self.reply.setVisible(reply is not None)
        if reply is not None:
            self.reply.show_reply(reply.outcome, reply.headline, reply.words_html, scale)
        self.remember.setVisible(bool(spec.remember_html))
        self.remember.show_reply("right", "To remember", spec.remember_html, scale)
        self.notes.setVisible(notes and bool(spec.notes_html))
        self.notes.show_reply("", "For the one who teaches", spec.notes_html, 1.0)
        self._fit_checks(len(spec.checks))
        for row, check in zip(self.checks, spec.checks, strict=True):
            row.render(check, scale)

    def _fit_checks(self, count: int) -> None:
        """Have as many rows as there are requirements."""
        while len(self.checks) > count:
            row = self.checks.pop()
            row.hide()
            row.deleteLater()
        while len(self.checks) < count:
            self.checks.append(CheckRow(self._theme))
            self._check_rows.addWidget(self.checks[-1])
            self.checks[-1].show()

    def _show_buttons(self, spec: LessonSpec) -> None:
        self.back_button.setEnabled(spec.back)
        self.skip_button.setVisible(spec.skip)
        self.forward_button.setText(spec.forward)
        self.forward_button.setEnabled(spec.forward_ready)
        self.put_back_button.setVisible(spec.put_back)

    def _show_stage(self, spec: LessonSpec) -> None:
        self._plot_card.setVisible(spec.plot is not None or spec.board)
        self.stage.setVisible(spec.plot is not None)
        if spec.board:
            self._plot_card.show_title("" if self._large else "The board from the side")
        if spec.plot is not None:
            large = self._large
            self._plot_card.show_title("" if large else spec.plot.title, "" if large else spec.plot.subtitle)
            self.stage.render(spec.plot, spec.ask, large=large)
        parts = (spec.designs or self._explores) and not self._large
        self._parts_card.setVisible(parts)
        self.pills.setVisible(parts)
        self.section.setVisible(parts or (spec.board and not self._large))
        self.board.setVisible(spec.board and self._large)

    def _fit(self) -> None:
        """Give the words their width; without a plot they stand alone, in lines that can still be read."""
        narrow = self.width() < NARROW
        alone = self._plot_card.isHidden()
        self._text_card.setMinimumWidth(0)
        self._text_card.setMaximumWidth(NO_LIMIT_PX)
        if self._large:
            self._text_card.setFixedWidth(round(self.width() * (0.8 if alone else 0.42)))
        elif alone:
            self._text_card.setFixedWidth(min(self.width() - 2 * SPACE.m, 640))
        else:
            beside = self._plot_card.minimumSizeHint().width() + 4 * SPACE.m
            beside += 0 if self._parts_card.isHidden() else _NARROW_PARTS
            words = max(min(_NARROW_WORDS, self.width() - beside), _LEAST_WORDS)
            self._text_card.setFixedWidth(words if narrow else _WORDS_WIDTH)
        self._parts_card.setFixedWidth(_NARROW_PARTS if narrow else _PARTS_WIDTH)

    def _lay_out(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, SPACE.m, 0)
        column.setSpacing(SPACE.s)
        above: tuple[QWidget, ...] = (self.heading, self.words, self.ask, self.check_line)
        below: tuple[QWidget, ...] = (self.reply, self.why, self.remember, self.notes)
        for widget in above:
            column.addWidget(widget)
        column.addLayout(self._check_rows)
        for widget in below:
            column.addWidget(widget)
        column.addStretch(1)
        column.addWidget(self.caution)
        self._scroll.setWidget(page)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._text_card.add(self._scroll, stretch=1)
        self._text_card.add(self.changed)
        foot = _row(self.back_button, self.put_back_button, None, self.skip_button, self.forward_button)
        self._text_card.add(foot)
        self._plot_card.add(self.pills)
        self._plot_card.add(self.section, stretch=1)
        self._plot_card.add(self.board, stretch=1)
        self._plot_card.add(self.stage, stretch=2)
        self._parts_card.add(_row(self.add_button, None, self.undo_button, self.redo_button))
        self._parts_card.add(self.inspector, stretch=1)
        body = QHBoxLayout(self)
        body.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        body.setSpacing(SPACE.m)
        body.addWidget(self._text_card)
        body.addWidget(self._plot_card, 1)
        body.addWidget(self._parts_card)

    def _join(self) -> None:
        self.back_button.clicked.connect(self.back)
        self.forward_button.clicked.connect(self.forward)
        self.skip_button.clicked.connect(self.skipped)
        self._scroll.verticalScrollBar().rangeChanged.connect(self._bring_answer)
        self.put_back_button.clicked.connect(self.put_back)
        for words in (self.words, self.why, self.reply.words):
            words.linkHovered.connect(lambda link: self.pointed.emit(link, False))
            words.linkActivated.connect(lambda link: self.pointed.emit(link, True))


def _row(*widgets: QWidget | None) -> QWidget:
    """Return widgets beside each other; None is room that stretches."""
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(SPACE.s)
    for widget in widgets:
        if widget is None:
            row.addStretch(1)
        else:
            row.addWidget(widget)
    return holder
