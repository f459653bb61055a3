"""Consequences: the card beside the impedance plot that shows, live, what comes of every candidate."""

from __future__ import annotations

from attrs import evolve
from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from app.present.consequences import Shown, consequence
from app.present.specs import BarsSpec, ChoiceSpec, ConsequenceSpec, PlotSpec
from app.qt.bars import BarsView
from app.qt.choice import ChoiceButton, Modes
from app.qt.panel import ElidedLabel, Panel, Words
from app.qt.plot.view import PlotView
from app.qt.session import Session
from app.qt.table import AnswersView
from app.qt.theme import NO_LIMIT_PX, SPACE, Theme, Type, font
from app.qt.turns import Piece
from app.state.chosen import MODES, change_of
from app.state.events import Events

_TIPS = (
    "The voltage across the pair over time",
    "The harmonics of that voltage",
    "What a LISN at the mains lead measures",
    "The field of the cables, and their currents",
    "What a discharge, burst or surge does",
)
_PLOT_LEAST, _PLOT_LEAST_WITH_CHOICES = 130, 96
_NOTE_LEAST = 120
"""Below this room a part of the note tells nothing."""
_UNDER_HEIGHT, _WORDS_HEIGHT = 26, 64


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
        self.modes = Modes(theme, "Consequence shown", MODES, tips=_TIPS)
        self.title = ElidedLabel(Type.TITLE)
        self.note = ElidedLabel(Type.SMALL, "muted")
        self.plot = PlotView(theme)
        self.plot.setMinimumHeight(_PLOT_LEAST)
        self.table = AnswersView(theme)
        self.table.setMinimumHeight(_PLOT_LEAST)
        self.bars = BarsView(theme)
        self.caution = Words("caution", at_most=3)
        self.choices: list[ChoiceButton] = []
        self._under_head, self._air = QWidget(), QWidget()
        self._offer, self._offered = QPushButton(), QWidget()
        self._least = (0, 0)
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
        self._show_choices(spec.choices)
        self._show_head()
        self.plot.setVisible(spec.table is None)
        self.table.setVisible(spec.table is not None)
        if spec.table is None:
            self.plot.render(spec.plot)
        else:
            self.table.render(spec.table)
        self.bars.setVisible(bool(spec.bars.title))
        self.bars.render(spec.bars)
        self.bars.let_choose(chooses=spec.bars_choose)
        self.caution.say(spec.caution)
        self._show_offer(spec)

    def _show_offer(self, spec: ConsequenceSpec) -> None:
        """Show what can be added right under the words that say what lacks."""
        for widget in (self._air, self._offered):
            widget.setVisible(spec.offer is not None)
        self.plot.setMaximumHeight(_WORDS_HEIGHT if spec.offer is not None else NO_LIMIT_PX)
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

    def minimumSizeHint(self) -> QSize:
        """Return the height of the fullest mode seen with as many candidates: no mode moves the cards around it."""
        least, count = super().minimumSizeHint(), len(self._session.case.candidates)
        seen = self._least[1] if self._least[0] == count else 0
        self._least = count, max(seen, least.height())
        return QSize(least.width(), self._least[1])

    def _show_head(self) -> None:
        """Show title and modes beside each other; a title without room there stands under them, with the note."""
        title, note, room = self._spec.title, self._spec.note, self.width() - 2 * SPACE.l
        wanted = QFontMetrics(font(Type.TITLE)).horizontalAdvance(title) + 1
        beside = self.modes.fit(room) >= wanted + 2 * SPACE.l or self.modes.folded
        chosen = sum(button.sizeHint().width() for button in self.choices if button.isVisibleTo(self))
        under = not beside and wanted + chosen + SPACE.m <= room
        self.show_title(title if beside else "", short=title.partition(" ")[0])
        self.setAccessibleName(title)
        self.title.setText(title)
        self.title.setVisible(under)
        left = room - chosen - (wanted + SPACE.m if under else 0)
        whole = QFontMetrics(font(Type.SMALL)).horizontalAdvance(note) <= left
        self.note.setText(note if whole or left >= _NOTE_LEAST else "")
        self._under_head.setVisible(bool(under or note or chosen))

    def _show_choices(self, specs: tuple[ChoiceSpec, ...]) -> None:
        while len(self.choices) < len(specs):
            button = ChoiceButton(self.theme())
            button.picked.connect(self._choose)
            self.choices.append(button)
            self._under_layout.addWidget(button)
        for number, button in enumerate(self.choices):
            button.setVisible(number < len(specs))
            if number < len(specs):
                button.render(specs[number])
        self.plot.setMinimumHeight(_PLOT_LEAST_WITH_CHOICES if specs else _PLOT_LEAST)

    def _choose(self, name: str, value: str) -> None:
        views = self._session.views
        views.change(**change_of(views.view, name, value))

    def _lay_out(self) -> None:
        self.add_tool(self.modes)
        self._under_layout = QHBoxLayout(self._under_head)
        self._under_layout.setContentsMargins(0, 0, 0, 0)
        self._under_layout.setSpacing(1)
        self.title.setContentsMargins(0, 0, SPACE.m, 0)
        self._under_layout.addWidget(self.title)
        self._under_layout.addWidget(self.note, 1)
        self.note.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._under_head.setMinimumHeight(_UNDER_HEIGHT)
        column = QVBoxLayout(self._offered)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._offer, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(1)
        for widget, stretch in (
            (self._under_head, 0),
            (self._air, 1),
            (self.plot, 1),
            (self.table, 1),
            (self._offered, 1),
            (self.bars, 0),
            (self.caution, 0),
        ):
            self.add(widget, stretch=stretch)
        self.table.hide()

    def _join(self) -> None:
        views = self._session.views
        self.modes.chosen.connect(lambda mode: views.change(mode=mode))
        self.plot.cursor_moved.connect(lambda f_hz: views.change(cursor_hz=f_hz))
        self.bars.bar_activated.connect(self.candidate_chosen)
        self._offer.clicked.connect(lambda: self.action.emit(self._offer.property("action")))
