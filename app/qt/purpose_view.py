"""Guided start: why are the grounds separate? Questions at the left, what has to hold at the right."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.present.purpose_form import PurposeSpec, QuestionSpec, purpose_spec
from app.qt.dress import boxes_palette
from app.qt.field import ChoiceBox
from app.qt.inspector import Inspector
from app.qt.look import Look
from app.qt.panel import Panel, Words
from app.qt.scrolled import scrolled
from app.qt.session import Session
from app.qt.theme import SPACE, Theme, ThemeName, Type, font, theme_named
from app.state.purpose import Draft, applied, as_case, begun, with_value
from app.state.typed import value_typed
from models.codec import KeyPath
from models.errors import IsthmusError

_UNANSWERED = "Not answered"


class QuestionView(QWidget):
    """One question: a list to choose from, or a box to tick for each answer where several hold."""

    def __init__(self, theme: Theme, spec: QuestionSpec, answer: Callable[[str, tuple[str, ...]], None]) -> None:
        super().__init__()
        self._spec = spec
        self._answer = answer
        self.boxes = [QCheckBox(text) for _, text in spec.options] if spec.several else []
        self.list = ChoiceBox(theme)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE.s)
        asked = QLabel(spec.text)
        asked.setFont(font(Type.STRONG))
        asked.setWordWrap(True)
        column.addWidget(asked)
        if spec.several:
            for box in self.boxes:
                box.clicked.connect(lambda *_: self._tell())
                column.addWidget(box)
        else:
            asked.setBuddy(self.list)
            self.list.setAccessibleName(spec.text)
            self.list.addItems([_UNANSWERED, *(text for _, text in spec.options)])
            self.list.activated.connect(lambda *_: self._tell())
            column.addWidget(self.list)
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self.list.theme = theme
        for box in self.boxes:
            box.setPalette(boxes_palette(box.palette(), theme))

    def render(self, spec: QuestionSpec) -> None:  # type: ignore[override]
        """Show which answers hold."""
        keys = [key for key, _ in spec.options]
        for key, box in zip(keys, self.boxes, strict=False):
            box.setChecked(key in spec.chosen)
        if not spec.several:
            self.list.setCurrentIndex(keys.index(spec.chosen[0]) + 1 if spec.chosen else 0)

    def _tell(self) -> None:
        keys = [key for key, _ in self._spec.options]
        if self._spec.several:
            chosen = tuple(key for key, box in zip(keys, self.boxes, strict=True) if box.isChecked())
        else:
            at = self.list.currentIndex()
            chosen = (keys[at - 1],) if at else ()
        self._answer(self._spec.key, chosen)


class PurposeView(QDialog):
    """Asks, shows what comes of the answers at once, and puts it into the case as one step."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._draft = begun(session.case)
        theme = theme_named(ThemeName(session.view.theme))
        asked = purpose_spec(self._draft, session.case).questions
        self.questions = {spec.key: QuestionView(theme, spec, self._answer) for spec in asked}
        self.form = Inspector(theme)
        self.intro, self.recommendation = Words(), Words("")
        self.warnings, self.caution = Words("caution"), Words("caution")
        self.message = Words("bad")
        self.apply, self.leave = QPushButton(), QPushButton("Cancel")
        self._cards = (Panel(theme), Panel(theme))
        self._lay_out()
        self._join()
        Look(self, session, self._dress)
        self._show()

    def draft(self) -> Draft:
        """Return what was answered and changed."""
        return self._draft

    def take(self) -> None:
        """Put what has to hold into the case, as one step, and close."""
        draft = self._draft
        if self.session.change("State the purpose", lambda case: applied(draft, case)):
            self.accept()

    def _lay_out(self) -> None:
        self.setWindowTitle("Why are the grounds separate?")
        self.setMinimumWidth(840)
        self.resize(960, 640)
        left, right = self._cards
        left.show_title("Why are the grounds separate?")
        left.add(self._page(), stretch=1)
        right.show_title("What comes of it")
        for widget in (self.warnings, self.intro, self.recommendation):
            right.add(widget)
        right.add(self.form, stretch=1)
        right.add(self.message)
        right.add(self.caution)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.leave)
        buttons.addWidget(self.apply)
        self.apply.setProperty("main", True)
        self.leave.setAutoDefault(False)
        self.apply.setAutoDefault(False)
        right.add_row(buttons)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        row.setSpacing(SPACE.m)
        row.addWidget(left, 1)
        row.addWidget(right, 1)

    def _page(self) -> QScrollArea:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, SPACE.m, 0)
        column.setSpacing(SPACE.l)
        for each in self.questions.values():
            column.addWidget(each)
        column.addStretch(1)
        return scrolled(page)

    def _join(self) -> None:
        # why the case refuses what has to hold is said here, not only in the window behind
        self.session.failed.connect(self.message.say)
        self.form.typed.connect(self._type)
        self.form.dragged.connect(lambda path, value: self._change(path, lambda: value))
        self.apply.clicked.connect(lambda *_: self.take())
        self.leave.clicked.connect(lambda *_: self.reject())

    def _answer(self, question: str, keys: tuple[str, ...]) -> None:
        self._draft = self._draft.answered(question, keys)
        self._show()

    def _type(self, path: KeyPath, text: str) -> None:
        self._change(path, lambda: value_typed(as_case(self._draft, self.session.case), path, text))

    def _change(self, path: KeyPath, value: Callable[[], object]) -> None:
        try:
            self._draft = with_value(self._draft, self.session.case, path, value())
        except IsthmusError as error:
            self.form.show_error(path, str(error))
            return
        self._show()

    def _show(self) -> None:
        spec: PurposeSpec = purpose_spec(self._draft, self.session.case)
        for each in spec.questions:
            self.questions[each.key].render(each)
        self.form.render(spec.form)
        self.message.say("")
        for words, text in (
            (self.intro, spec.intro),
            (self.recommendation, spec.recommendation),
            (self.warnings, "\n".join(spec.warnings)),
            (self.caution, spec.caution),
        ):
            words.say(text)
        self.apply.setText(spec.apply or "Nothing to add")
        self.apply.setEnabled(bool(spec.apply))

    def _dress(self, theme: Theme) -> None:
        self.form.set_theme(theme)
        for question in self.questions.values():
            question.set_theme(theme)
        for card in self._cards:
            card.set_theme(theme)
