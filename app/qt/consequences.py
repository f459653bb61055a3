"""Consequences: the card beside the impedance plot that shows, live, what comes of every candidate."""

from __future__ import annotations

from attrs import evolve
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from app.present.consequences import Shown, consequence
from app.present.specs import BarsSpec, ChoiceSpec, ConsequenceSpec, PlotSpec
from app.qt.bars import BarsView
from app.qt.choice import ChoiceButton, Modes
from app.qt.panel import ElidedLabel, Panel
from app.qt.plot.view import PlotView
from app.qt.session import Session
from app.qt.table import AnswersView
from app.qt.theme import SPACE, Theme, Type, font
from app.qt.turns import Piece
from app.state.chosen import MODES, change_of
from app.state.events import Events

_PLOT_LEAST, _PLOT_LEAST_WITH_CHOICES = 130, 100


class Consequences(Panel):
    """Waveform, spectrum, conducted and radiated noise, or an event: one plot, and a bar for each candidate."""

    candidate_chosen = Signal(int)
    action = Signal(str)
    """What was offered where there is nothing to show, by its action id."""

    def __init__(self, theme: Theme, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(theme, parent=parent)
        self._session = session
        self._events = Events(session.desk.evaluator.solver)
        self._spec = ConsequenceSpec(mode=MODES[0], title="", note="", plot=PlotSpec(title=""), bars=BarsSpec(title=""))
        self.modes = Modes(theme, "Consequence shown", MODES)
        self.note = ElidedLabel(Type.SMALL, "muted")
        self.plot = PlotView(theme)
        self.plot.setMinimumHeight(_PLOT_LEAST)
        self.table = AnswersView(theme)
        self.table.setMinimumHeight(_PLOT_LEAST)
        self.bars = BarsView(theme)
        self.caution = ElidedLabel(Type.SMALL, "caution")
        self.choices: list[ChoiceButton] = []
        self._choice_row = QWidget()
        self._offer, self._offered = QPushButton(), QWidget()
        self._lay_out()
        self._join()

    def piece(self) -> Piece:
        """Return the card as a part of the window."""
        return Piece(name="consequences", key=self._key, render=self.refresh)

    def refresh(self) -> bool:
        """Show what comes of the document; return whether all of it is up to date."""
        session = self._session
        shown = Shown(desk=session.desk, events=self._events, results=session.moment, view=session.view)
        spec, whole = consequence(shown)
        self.render(evolve(spec, plot=evolve(spec.plot, stale=session.trouble)))
        return whole

    def _key(self) -> tuple[object, ...]:
        view = self._session.view
        on_axis = view.cursor_hz if view.mode not in ("waveform", "event") else None
        looked_at = (view.mode, view.source, view.radiated_shows, view.cable, view.detector)
        lines = (view.conducted_line, view.radiated_line, view.distance_m)
        return (self._session.moment, self._session.trouble, view.candidate, *looked_at, *lines, view.event, on_axis)

    def render(self, spec: ConsequenceSpec) -> None:  # type: ignore[override]
        """Show a consequence."""
        self._spec = spec
        self.modes.show_choice(spec.mode)
        self._show_head()
        self._show_choices(spec.choices)
        self.plot.setVisible(spec.table is None)
        self.table.setVisible(spec.table is not None)
        if spec.table is None:
            self.plot.render(spec.plot)
        else:
            self.table.render(spec.table)
        self.bars.setVisible(bool(spec.bars.title))
        self.bars.render(spec.bars)
        self.caution.setText(spec.caution)
        self.caution.setVisible(bool(spec.caution))
        self._offered.setVisible(spec.offer is not None)
        if spec.offer is not None:
            self._offer.setText(spec.offer[1])
            self._offer.setProperty("action", spec.offer[0])

    def set_theme(self, theme: Theme) -> None:
        """Take on another look, with all that is inside."""
        super().set_theme(theme)
        parts: tuple[Modes | PlotView | AnswersView | BarsView | ChoiceButton, ...]
        parts = (self.modes, self.plot, self.table, self.bars, *self.choices)
        for part in parts:
            part.set_theme(theme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the head line anew."""
        self._show_head()
        super().resizeEvent(event)

    def _show_head(self) -> None:
        """Show title and modes beside each other; a title without room for all of it begins the note instead."""
        title, note = self._spec.title, self._spec.note
        left = self.modes.fit(self.width() - 2 * SPACE.l)
        beside = self.modes.folded or left >= QFontMetrics(font(Type.TITLE)).horizontalAdvance(title) + 2 * SPACE.l
        self.show_title(title if beside else "")
        self.setAccessibleName(title)
        self.note.setText(f"{title}: {note}" if note and not beside else note)
        self.note.setVisible(bool(note))

    def _show_choices(self, specs: tuple[ChoiceSpec, ...]) -> None:
        while len(self.choices) < len(specs):
            button = ChoiceButton(self.theme())
            button.picked.connect(self._choose)
            self.choices.append(button)
            self._choice_layout.insertWidget(len(self.choices) - 1, button)
        for number, button in enumerate(self.choices):
            button.setVisible(number < len(specs))
            if number < len(specs):
                button.render(specs[number])
        self._choice_row.setVisible(bool(specs))
        self.plot.setMinimumHeight(_PLOT_LEAST_WITH_CHOICES if specs else _PLOT_LEAST)

    def _choose_bar(self, row: int) -> None:
        if self._spec.bars_choose:
            self.candidate_chosen.emit(row)

    def _choose(self, name: str, value: str) -> None:
        views = self._session.views
        views.change(**change_of(views.view, name, value))

    def _lay_out(self) -> None:
        self.add_tool(self.modes)
        self._choice_layout = QHBoxLayout(self._choice_row)
        self._choice_layout.setContentsMargins(0, 0, 0, 0)
        self._choice_layout.setSpacing(1)
        self._choice_layout.addStretch(1)
        self._offered.hide()
        column = QVBoxLayout(self._offered)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._offer, 0, Qt.AlignmentFlag.AlignCenter)
        for widget, stretch in (
            (self._choice_row, 0),
            (self.note, 0),
            (self.plot, 1),
            (self.table, 1),
            (self._offered, 0),
            (self.bars, 0),
            (self.caution, 0),
        ):
            self.add(widget, stretch=stretch)
        self.table.hide()

    def _join(self) -> None:
        views = self._session.views
        self.modes.chosen.connect(lambda mode: views.change(mode=mode))
        self.plot.cursor_moved.connect(lambda f_hz: views.change(cursor_hz=f_hz))
        self.bars.bar_activated.connect(self._choose_bar)
        self._offer.clicked.connect(lambda: self.action.emit(self._offer.property("action")))
