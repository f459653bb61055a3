"""Work out from geometry: a value of the case, the estimates that suit it, their dimensions, what comes of them."""

from __future__ import annotations

from collections.abc import Callable

from attrs import evolve
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.present.estimate_form import EstimateSpec, estimate_spec, step_name
from app.qt.field import ChoiceBox
from app.qt.inspector import Inspector
from app.qt.keys import add_keys
from app.qt.look import Look
from app.qt.panel import Panel, Words
from app.qt.scrolled import scrolled
from app.qt.section import text_width
from app.qt.session import Session
from app.qt.sketch import SketchView
from app.qt.theme import SPACE, Theme, ThemeName, Type, font, theme_named
from app.state.estimable import targets
from app.state.estimating import (
    Draft,
    amount_for,
    begun,
    taken,
    target_of,
    with_target,
    with_typed,
    with_value,
)
from models.codec import KeyPath
from models.errors import IsthmusError

_LIST_WIDTH, _SIDE_WIDTH = 268, 356


class EstimateView(QDialog):
    """Works out one value after the other; each that is used is one step of undo."""

    def __init__(self, session: Session, parent: QWidget | None = None, near: KeyPath = ()) -> None:
        super().__init__(parent)
        self.session = session
        self._draft = begun(session.case, near)
        theme = theme_named(ThemeName(session.view.theme))
        self.target, self.list = ChoiceBox(theme), QListWidget()
        self.form, self.drawing = Inspector(theme), SketchView(theme)
        self.name, self.value = Words(), QLabel()
        self.error, self.equation, self.working = Words(""), Words(""), Words()
        self.limits, self.judge, self.caution = Words(""), Words(), Words("caution")
        self.now, self.refused = Words(), Words("bad")
        self.use = QPushButton()
        self._cards = tuple(Panel(theme) for _ in range(3))
        self._lay_out()
        self._join()
        Look(self, session, self._dress)
        self.refresh()

    def draft(self) -> Draft:
        """Return what is worked out now."""
        return self._draft

    def spec(self) -> EstimateSpec:
        """Return what is shown."""
        return estimate_spec(self._draft, self.session.case, text_width)

    def refresh(self) -> None:
        """Show the draft against the present case."""
        spec = self.spec()
        self._show_offers(spec)
        self.form.render(spec.form)
        self.drawing.render(spec.drawing)
        self.name.setText(spec.name)
        self.value.setText(spec.value)
        for words, text in (
            (self.error, spec.error),
            (self.equation, spec.equation),
            (self.working, spec.working),
            (self.limits, spec.limits),
            (self.judge, spec.judge),
            (self.caution, spec.caution),
            (self.now, spec.now),
            (self.refused, spec.refused),
        ):
            words.say(text)
        self.use.setText(spec.use or "Use this value")
        self.use.setEnabled(bool(spec.use))

    def take(self) -> None:
        """Put the value into the case, as one step."""
        target = target_of(self._draft, self.session.case)
        if target is None:
            return
        value = amount_for(target, self._draft.result()).used()
        self.session.change(step_name(target), lambda case: taken(case, target, value))

    def _show_offers(self, spec: EstimateSpec) -> None:
        if [self.target.itemText(k) for k in range(self.target.count())] != list(spec.targets):
            self.target.clear()
            self.target.addItems(spec.targets)
        self.target.setCurrentIndex(spec.target)
        if [self.list.item(k).text() for k in range(self.list.count())] != list(spec.titles):
            self.list.clear()
            self.list.addItems(spec.titles)
        self.list.setCurrentRow(spec.chosen)

    def _choose_target(self, index: int) -> None:
        found = targets(self.session.case)
        self._take_draft(with_target(self._draft, found[index] if index < len(found) else None))

    def _choose(self, row: int) -> None:
        if row >= 0:
            self._take_draft(evolve(self._draft, name=self.spec().names[row]))

    def _type(self, path: KeyPath, text: str) -> None:
        self._try(path, lambda: with_typed(self._draft, path, text))

    def _drag(self, path: KeyPath, value: float) -> None:
        self._try(path, lambda: with_value(self._draft, path, value))

    def _try(self, path: KeyPath, change: Callable[[], Draft]) -> None:
        try:
            changed = change()
        except IsthmusError as error:
            self.form.show_error(path, str(error))
        else:
            self._take_draft(changed)

    def _take_draft(self, draft: Draft) -> None:
        self._draft = draft
        self.refresh()

    def _leave(self) -> None:
        self.session.frame.disconnect(self.refresh)

    def _join(self) -> None:
        self.finished.connect(self._leave)
        self.session.frame.connect(self.refresh)
        self.target.activated.connect(self._choose_target)
        self.list.currentRowChanged.connect(self._choose)
        self.form.typed.connect(self._type)
        self.form.dragged.connect(self._drag)
        self.use.clicked.connect(lambda *_: self.take())
        keys = QKeySequence.StandardKey
        add_keys(self, ((keys.Undo, self.session.store.undo), (keys.Redo, self.session.store.redo)))

    def _lay_out(self) -> None:
        self.setWindowTitle("Work out from geometry")
        self.resize(1000, 640)
        left, middle, right = self._cards
        left.setFixedWidth(_LIST_WIDTH)
        right.setFixedWidth(_SIDE_WIDTH)
        left.show_title("Value")
        self.target.setAccessibleName("Value of the case")
        self.list.setAccessibleName("Estimates that suit it")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        left.add(self.target)
        left.add(self.list, stretch=1)
        middle.add(self.form, stretch=1)
        right.add(self.drawing)
        for widget in (self.name, self.value, self.error):
            right.add(widget)
        self.value.setFont(font(Type.HEAD))
        right.add(self._words(), stretch=1)
        for widget in (self.caution, self.now, self.refused):
            right.add(widget)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.use)
        self.use.setProperty("main", True)
        self.use.setAutoDefault(False)
        right.add_row(buttons)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        row.setSpacing(SPACE.m)
        row.addWidget(left)
        row.addWidget(middle, 1)
        row.addWidget(right)

    def _words(self) -> QScrollArea:
        """Return the equation and what to judge it by, to be scrolled where the window is low."""
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, SPACE.s, 0)
        column.setSpacing(SPACE.s)
        for words in (self.equation, self.working, self.limits, self.judge):
            words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            column.addWidget(words)
        column.addStretch(1)
        return scrolled(page, "How it comes about")

    def _dress(self, theme: Theme) -> None:
        self.target.theme = theme
        self.form.set_theme(theme)
        self.drawing.set_theme(theme)
        for card in self._cards:
            card.set_theme(theme)


def open_estimates(session: Session, owner: QWidget, near: KeyPath = ()) -> EstimateView:
    """Open the view, at first for a value near a place of the case; it goes when it is closed."""
    view = EstimateView(session, owner, near)
    view.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    view.show()
    return view
