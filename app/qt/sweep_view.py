"""Vary values: one or two values of the case over a range, what comes of it, and a point of it into the case."""

from __future__ import annotations

from concurrent.futures import Executor

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPushButton, QWidget

from app.present.answers import cautions
from app.qt.field import ChoiceBox
from app.qt.look import Look
from app.qt.panel import Panel, Words
from app.qt.session import Session
from app.qt.sweep_axis import AxisForm, muted
from app.qt.sweep_plots import SweepPlots
from app.qt.theme import SPACE, Theme, ThemeName, theme_named
from app.qt.work_row import WorkRow
from app.sweep.address import Address
from app.sweep.map import Mapped, MapRequest, csv_text, run_map
from app.sweep.offered import named, results, usual_span, values, with_values
from app.sweep.values import Axis, axis
from models.errors import IsthmusError
from models.quantity import format_quantity

_SIDE_WIDTH = 340
_ALONE = "nothing else"
_POINTS = "25"
_MOST = 2500
_STALE = "The case has changed since. Compute again to be sure."


class SweepView(QDialog):
    """Varies one or two values in the background; a point that is clicked or typed goes into the case as one step."""

    def __init__(self, session: Session, parent: QWidget | None = None, executor: Executor | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._mapped: Mapped | None = None
        self._candidate = session.view.candidate
        theme = theme_named(ThemeName(session.view.theme))
        self.work = WorkRow(self, run_map, executor)
        self.plots, self._side = SweepPlots(theme), Panel(theme)
        case = session.case
        offered = tuple((each, named(case, each)) for each in values(case, self._candidate))
        self.first = AxisForm(theme, "Vary", offered, _POINTS)
        self.second = AxisForm(theme, "and", ((None, _ALONE), *offered), _POINTS)
        self.shows = ChoiceBox(theme)
        self._results = results(case, session.view.cursor_hz)
        self.message, self.caution = Words("bad"), Words("caution")
        self.copy_data = QPushButton("Copy data")
        self.compute, self.use = QPushButton("Compute"), QPushButton("Use these values")
        self._lay_out()
        self._preselect(offered)
        self._join()
        Look(self, session, self._dress)
        self._show()

    def mapped(self) -> Mapped | None:
        """Return what is shown, once it is computed."""
        return self._mapped

    def start(self) -> None:
        """Compute, or say beside a field why that cannot be."""
        axes = [found for form in self._forms() if (found := self._axis(form)) is not None]
        if len(axes) < len(self._forms()):
            return
        points = len(axes[0].rows) * (len(axes[1].rows) if len(axes) > 1 else 1)
        if points > _MOST:
            self._forms()[-1].tell(f"Found {points} points; accepted: up to {_MOST} here, any number by isthmus sweep.")
            return
        case, view = self.session.case, self.session.view
        request = MapRequest(
            case=case,
            candidate=case.candidates[self._candidate].name,
            axes=tuple(axes),
            result=self._results[self.shows.currentIndex()],
            at_hz=view.cursor_hz,
        )
        self.message.setText("")
        self.work.ask(request)
        self._show()

    def take(self) -> None:
        """Put the chosen values into the case, as one step."""
        pairs = tuple((form.address(), form.at.text()) for form in self._forms())
        chosen = tuple((address, text) for address, text in pairs if address is not None)
        if self.session.change("Use values of the map", lambda case: with_values(case, chosen)):
            self._tell("")

    def copy(self) -> None:
        """Put every point on the clipboard as CSV; the plots copy themselves as pictures."""
        if self._mapped is not None:
            QGuiApplication.clipboard().setText(csv_text(self._mapped))

    def choose(self, x: float, y: float) -> None:
        """Choose a point of the plot."""
        if self._mapped is None:
            return
        found = self._mapped.surface
        for form in self._forms():
            address = form.address()
            if address is not None and address.path == found.inner.path:
                form.at.setText(format_quantity(x, address.unit or "", digits=3))
            elif address is not None and found.outer is not None and address.path == found.outer.path:
                form.at.setText(format_quantity(y, address.unit or "", digits=3))
        self._show()

    def _forms(self) -> tuple[AxisForm, ...]:
        return (self.first,) if self.second.address() is None else (self.first, self.second)

    def _axis(self, form: AxisForm) -> Axis | None:
        form.tell("")
        try:
            return axis(self.session.case, form.text())
        except IsthmusError as error:
            form.tell(form.fault(error))
            return None

    def _preselect(self, offered: tuple[tuple[Address, str], ...]) -> None:
        """Begin with a value of what the inspector shows."""
        kind, index = self.session.view.subject
        owner = (f"{kind}s", index)
        self.first.value.setCurrentIndex(
            next((k for k, (address, _) in enumerate(offered) if tuple(address.path[:2]) == owner), 0)
        )
        self.shows.addItems([each.label for each in self._results])
        for form in (self.first, self.second):
            self._begin(form)

    def _begin(self, form: AxisForm) -> None:
        address = form.address()
        if address is None:
            form.show_fields()
            return
        low, high, log = usual_span(self.session.case, address)
        form.begin(low, high, log=log)

    def _lay_out(self) -> None:
        self.setWindowTitle("Vary values")
        self.resize(1000, 640)
        side = self._side
        side.setFixedWidth(_SIDE_WIDTH)
        name = self.session.case.candidates[self._candidate].name if self.session.case.candidates else ""
        side.show_title("Vary values", name)
        shown = QHBoxLayout()
        shown.setSpacing(SPACE.s)
        shown.addWidget(muted("Show"))
        shown.addWidget(self.shows, 1)
        self.shows.setAccessibleName("Result that is shown")
        for form in (self.first, self.second):
            side.add(form)
        side.add_row(shown)
        side.add(QWidget(), stretch=1)
        side.add(self.message)
        side.add(self.caution)
        self.caution.say(" ".join(cautions(self.session.case)))
        side.add_row(self._foot())
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        row.setSpacing(SPACE.m)
        row.addWidget(self.plots, 1)
        row.addWidget(side)

    def _foot(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(SPACE.s)
        self.compute.setProperty("main", True)
        self.compute.setDefault(True)
        for button in (self.use, self.copy_data):
            button.setAutoDefault(False)
        row.addWidget(self.work, 1)
        row.addWidget(self.copy_data)
        row.addStretch(1)
        row.addWidget(self.use)
        row.addWidget(self.compute)
        return row

    def _join(self) -> None:
        self.finished.connect(self._leave)
        self.work.worker.done.connect(self._take_result)
        self.work.worker.failed.connect(self._tell)
        self.work.stopped.connect(lambda: self._tell("Stopped."))
        self.session.failed.connect(self._tell)
        self.session.frame.connect(self._check)
        self.compute.clicked.connect(lambda *_: self.start())
        self.copy_data.clicked.connect(lambda *_: self.copy())
        self.use.clicked.connect(lambda *_: self.take())
        self.first.value.activated.connect(lambda *_: self._begin(self.first))
        self.second.value.activated.connect(lambda *_: self._begin(self.second))
        self.shows.activated.connect(lambda *_: self.start())
        for form in (self.first, self.second):
            form.at.editingFinished.connect(self._show)
        self.plots.picked.connect(self.choose)
        self.plots.failed.connect(self._tell)

    def _dress(self, theme: Theme) -> None:
        for box in (self.shows, *(box for form in (self.first, self.second) for box in (form.value, form.spacing))):
            box.theme = theme
        self.plots.set_theme(theme)
        self._side.set_theme(theme)

    def _leave(self) -> None:
        self.session.frame.disconnect(self._check)

    def _take_result(self, mapped: Mapped) -> None:
        self._mapped = mapped
        self._tell(mapped.problem)

    def _check(self) -> None:
        if self._mapped is not None and self.session.case != self._mapped.request.case:
            self._tell(_STALE)
        elif self.message.text() == _STALE:
            self._tell("")

    def _tell(self, text: str) -> None:
        self.message.setText(text)
        self._show()

    def _show(self) -> None:
        busy = self.work.busy
        self.message.setVisible(bool(self.message.text()))
        self.compute.setVisible(not busy)
        self.use.setVisible(not busy)
        self.copy_data.setVisible(not busy)
        self.copy_data.setEnabled(self._mapped is not None)
        self.use.setEnabled(all(form.at.text().strip() for form in self._forms()))
        self.plots.render(self._mapped, self.session.case, None if self._mapped is None else self._at(self._mapped))

    def _at(self, mapped: Mapped) -> tuple[float, float] | None:
        """Return the chosen point; None where none is chosen, or not all of it."""
        found = mapped.surface
        typed = {form.address(): form.at.text() for form in self._forms()}
        place = []
        for address in (found.inner, found.outer):
            text = next((text for each, text in typed.items() if each and address and each.path == address.path), "")
            try:
                place.append(float(address.read(text)) if address is not None and text else None)
            except IsthmusError:
                place.append(None)
        x, y = place
        if x is None or (found.outer is not None and y is None):
            return None
        return x, 0.0 if y is None else y
