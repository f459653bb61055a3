"""Size of the capacitor: what it does to the pair and to a person over one axis, and the value into the case."""

from __future__ import annotations

from concurrent.futures import Executor

from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.present.numbers import reading
from app.present.sizing_plot import SizingSpec, sizing_spec
from app.present.specs import PlotSpec
from app.qt.field import ChoiceBox
from app.qt.look import Look
from app.qt.panel import ElidedLabel, Panel, Words
from app.qt.plot.view import PlotView
from app.qt.scrolled import scrolled
from app.qt.session import Session
from app.qt.theme import SPACE, Theme, ThemeName, Type, theme_named
from app.qt.work_row import WorkRow
from app.state.sizing import Sized, SizingRequest, run_sizing, take_value
from models.case.document import Case

_SIDE_WIDTH = 340
_EMPTY = "Nothing computed yet."


class SizingView(QDialog):
    """Sizes the capacitor of the selected candidate in the background, and anew with every change of the case."""

    def __init__(self, session: Session, parent: QWidget | None = None, executor: Executor | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._request: SizingRequest | None = None
        self._sized: Sized | None = None
        self._wanted_f: float | None = None
        theme = theme_named(ThemeName(session.view.theme))
        self.work = WorkRow(self, run_sizing, executor)
        self.peak, self.touch = PlotView(theme), PlotView(theme)
        self._cards = tuple(Panel(theme) for _ in range(3))
        self.why, self.at_value, self.openings, self.resonance = Words(""), Words(""), Words(""), Words()
        self.assumed, self.caution, self.message = Words(), Words("caution"), Words("bad")
        self.taken = Words()
        self._taken_in: Case | None = None
        self._openings_head, self._resonance_head = ElidedLabel(Type.STRONG), ElidedLabel(Type.STRONG)
        self.value = ChoiceBox(theme)
        self.use = QPushButton()
        self._lay_out()
        self._join()
        Look(self, session, self._dress)
        self.refresh()

    def sized(self) -> Sized | None:
        """Return what is shown, once it is computed."""
        return self._sized

    def refresh(self) -> None:
        """Size anew where the case or the selected candidate is another; what is shown stays until it is done."""
        if self.session.case is not self._taken_in:
            self.taken.say("")
        request = SizingRequest(case=self.session.case, candidate=self.session.view.candidate)
        if request != self._request:
            self._request = request
            self.message.setText("")
            self.work.ask(request)
            self._show()

    def take(self) -> None:
        """Put the chosen value into the case, as one step."""
        sized, farad = self._sized, self._chosen()
        if sized is None or farad is None:
            return
        if self.session.add("Size the capacitor", lambda case: take_value(case, sized, farad)):
            self._taken_in = self.session.case
            self.taken.say(f"{reading(farad, 'F')} is in “{self._selected()}”. Undo takes it back.")

    def _selected(self) -> str:
        return self.session.case.candidates[self.session.view.candidate].name

    def _leave(self) -> None:
        """Ask for nothing more once the view is closed."""
        self.session.frame.disconnect(self.refresh)

    def _chosen(self) -> float | None:
        return None if self._sized is None else sizing_spec(self._sized, self._wanted_f).chosen

    def _lay_out(self) -> None:
        self.setWindowTitle("Size the capacitor")
        self.resize(1000, 640)
        upper, lower, side = self._cards
        upper.add(self.peak, stretch=1)
        lower.add(self.touch, stretch=1)
        side.setFixedWidth(_SIDE_WIDTH)
        side.add(self._words(), stretch=1)
        for widget in (self.work, self.message, self.taken, self.caution):
            side.add(widget)
        side.add_row(self._value_row())
        plots = QVBoxLayout()
        plots.setSpacing(SPACE.m)
        plots.addWidget(upper, 1)
        plots.addWidget(lower, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        row.setSpacing(SPACE.m)
        row.addLayout(plots, 1)
        row.addWidget(side)

    def _words(self) -> QScrollArea:
        """Return all that is said, to be scrolled where the window is low."""
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(0, 0, SPACE.s, 0)
        column.setSpacing(SPACE.m)
        self._openings_head.setText("What would open the window")
        self._resonance_head.setText("Leads and damping")
        for widget in (
            self.why,
            self.at_value,
            self._openings_head,
            self.openings,
            self._resonance_head,
            self.resonance,
            self.assumed,
        ):
            column.addWidget(widget)
        column.addStretch(1)
        return scrolled(page, "About the size")

    def _value_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        name = QLabel("Value")
        name.setProperty("role", "muted")
        name.setBuddy(self.value)
        self.value.setAccessibleName("Value")
        self.use.setProperty("main", True)
        self.use.setDefault(True)
        row.addWidget(name)
        row.addWidget(self.value, 1)
        row.addWidget(self.use)
        return row

    def _join(self) -> None:
        self.finished.connect(self._leave)
        self.work.worker.done.connect(self._take_result)
        self.work.worker.failed.connect(self._fail)
        self.work.stopped.connect(lambda: self._fail("Stopped."))
        self.session.frame.connect(self.refresh)
        self.use.clicked.connect(lambda *_: self.take())
        self.value.activated.connect(self._choose)
        for plot in (self.peak, self.touch):
            plot.cursor_moved.connect(self._want)
            plot.failed.connect(self._fail)

    def _choose(self, index: int) -> None:
        if self._sized is not None:
            self._want(self._sized.sizing.standard_values_f[index])

    def _want(self, farad: float) -> None:
        self._wanted_f = farad
        self._show()

    def _take_result(self, sized: Sized) -> None:
        self._sized = sized
        self._show()

    def _fail(self, text: str) -> None:
        self.message.setText(text)
        self._show()

    def _show(self) -> None:
        self.message.setVisible(bool(self.message.text()))
        if self._sized is None:
            for plot in (self.peak, self.touch):
                plot.render(PlotSpec(title="", empty=_EMPTY))
            self.use.setText("Use")
            self.use.setEnabled(False)
            self._hide_unsaid()
            return
        spec = sizing_spec(self._sized, self._wanted_f)
        self._show_plots(spec)
        self._show_words(spec)
        self._show_values(spec)
        self.use.setEnabled(spec.chosen is not None and self._sized.request == self._request)

    def _show_plots(self, spec: SizingSpec) -> None:
        for card, view, plot in zip(self._cards, (self.peak, self.touch), (spec.peak, spec.touch), strict=False):
            card.show_title(plot.title, plot.subtitle)
            view.render(plot)
        self._cards[1].setVisible(not spec.touch.empty)

    def _show_words(self, spec: SizingSpec) -> None:
        self._cards[2].show_title(spec.title)
        self.why.setText(spec.why)
        self.at_value.setText(spec.at_value)
        self.openings.setText("\n".join(spec.openings))
        self.resonance.setText(spec.resonance)
        self.assumed.setText(spec.assumed)
        self.caution.setText(spec.caution)
        self._hide_unsaid()

    def _hide_unsaid(self) -> None:
        for words in (self.why, self.at_value, self.openings, self.resonance, self.assumed, self.caution):
            words.setVisible(bool(words.text()))
        self._openings_head.setVisible(bool(self.openings.text()))
        self._resonance_head.setVisible(bool(self.resonance.text()))

    def _show_values(self, spec: SizingSpec) -> None:
        texts = [text for _, text in spec.values]
        if texts != [self.value.itemText(k) for k in range(self.value.count())]:
            self.value.clear()
            self.value.addItems(texts)
        self.value.setCurrentIndex(next((k for k, (farad, _) in enumerate(spec.values) if farad == spec.chosen), -1))
        self.value.setEnabled(bool(texts))
        self.use.setText(spec.use)

    def _dress(self, theme: Theme) -> None:
        self.value.theme = theme
        for plot in (self.peak, self.touch):
            plot.set_theme(theme)
        for card in self._cards:
            card.set_theme(theme)
