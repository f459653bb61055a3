"""Import of a measurement: data and fit over each other, and ways to take the part into the case."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor
from pathlib import Path

from attrs import evolve
from PySide6.QtCore import Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFileDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QWidget,
)

from app.present.import_form import changed, import_form
from app.present.import_plot import MODES, SIZE, fit_plot, import_words, middle_hz, residual_plot
from app.present.specs import PlotSpec
from app.qt.field import ChoiceBox
from app.qt.import_values import ValueTable
from app.qt.inspector import Inspector
from app.qt.look import Look
from app.qt.panel import ModeSwitch, Panel, Words
from app.qt.plot.view import PlotView
from app.qt.session import Session
from app.qt.theme import SPACE, Theme, ThemeName, theme_named
from app.qt.work_row import WorkRow
from app.state.files import is_picture
from app.state.importing import Imported, ImportRequest, first_connection, measured_part, run_import
from app.state.own_catalogue import keep_part
from app.state.targets import Target, part_targets
from models.codec import KeyPath
from models.errors import IsthmusError
from models.fitting.data import Measurement
from models.parts.part import Part

_FILES = "Measurements (*.s1p *.s2p *.ts *.y1p *.z1p *.csv *.txt *.dat);;All files (*)"
_SIDE_WIDTH = 330
_FITTED, _DATA = "the fitted part", "the data, its fit beyond"
_EMPTY = "Choose a measurement, drop one here, or read a curve from a picture."


class ImportView(QDialog):
    """Reads a measurement, fits it in the background and offers the part."""

    def __init__(self, session: Session, parent: QWidget | None = None, executor: Executor | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._request: ImportRequest | None = None
        self._imported: Imported | None = None
        self._cursor_hz: float | None = None
        self._targets: tuple[Target, ...] = ()
        theme = theme_named(ThemeName(session.view.theme))
        self.work = WorkRow(self, run_import, executor)
        self.plot, self.residual = PlotView(theme), PlotView(theme)
        self.form, self.values = Inspector(theme), ValueTable()
        self.mode = ModeSwitch("Shown", MODES)
        self.warnings, self.summary, self.message = Words("caution"), Words(), Words("bad")
        self.target, self.what = ChoiceBox(theme), ChoiceBox(theme)
        self.use = _button("Use as part", self.take)
        self.keep = _button("Keep in my catalogue", self.keep_in_catalogue)
        self._cards = (Panel(theme), Panel(theme))
        self._lay_out()
        self._join()
        Look(self, session, self._dress)
        self._show()

    def open_file(self, path: Path) -> None:
        """Read and fit a file; the curve of a picture is read in a view of its own first."""
        if is_picture(path):
            self.read_picture(path)
            return
        self.ask(ImportRequest(source=path, connection=first_connection(path)))

    def open_points(self, measurement: Measurement) -> None:
        """Fit points that were read elsewhere, such as from a picture."""
        self.ask(ImportRequest(source=measurement))

    def ask(self, request: ImportRequest) -> None:
        """Start on a request; what is shown stays until it is done."""
        if self._request is None or request.source is not self._request.source:
            self._imported = self._cursor_hz = None
        self._request = request
        self.message.setText("")
        self.work.ask(request)
        self._show()

    def imported(self) -> Imported | None:
        """Return what is shown, once it is fitted."""
        return self._imported

    def part(self) -> Part:
        """Return the part that would be taken: the fitted one, or the data itself.

        Raises
        ------
        IsthmusError
            where there is none
        """
        if self._imported is None:
            raise IsthmusError("found no fit yet; accepted: a measurement that was fitted")
        if self.what.currentText() == _DATA:
            path = self.session.path
            return measured_part(self._imported, None if path is None else path.parent)
        return self._imported.part

    def take(self) -> None:
        """Put the part where it was told to go, as one step."""
        target = self._targets[max(self.target.currentIndex(), 0)]
        try:
            part = self.part()
        except IsthmusError as error:
            self._say(str(error), bad=True)
            return
        if self.session.add(target.step, lambda case: target.edit(case, part)):
            self._say(f"Done: {target.label[0].lower()}{target.label[1:]}. Undo takes it back.")
            self._show_targets()

    def keep_in_catalogue(self) -> None:
        """Keep the fitted part in the person's own catalogue."""
        if self._imported is None:
            return
        name = Path(self._imported.measurement.source).stem
        note = f"Fitted to {self._imported.measurement.source}. {import_words(self._imported).summary}"
        try:
            id = keep_part(self._imported.part, name, note)
        except IsthmusError as error:
            self._say(str(error), bad=True)
            return
        self._say(f"Kept as “{id}”.")

    def choose_file(self) -> None:
        """Ask for a file."""
        name, _ = QFileDialog.getOpenFileName(self, "Import a measurement", "", _FILES)
        if name:
            self.open_file(Path(name))

    def read_picture(self, path: Path | None = None) -> None:
        """Open the view that reads a curve from a picture, the one of a file or none yet; its points come here."""
        from app.qt.digitise import DigitiseView

        view = DigitiseView(self._cards[0].theme(), self)
        view.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        view.finished_points.connect(self.open_points)
        Look(view, self.session, view.set_theme)
        view.show()
        if path is not None:
            view.open_picture(path)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a file that is dragged over the view."""
        if event.mimeData().hasUrls() and event.mimeData().urls()[0].isLocalFile():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Read the file that was dropped."""
        self.open_file(Path(event.mimeData().urls()[0].toLocalFile()))

    def _lay_out(self) -> None:
        self.setWindowTitle("Import a measurement")
        self.setAcceptDrops(True)
        self.resize(1080, 660)
        plots, side = self._cards
        plots.add(self.plot, stretch=3)
        plots.add(self.residual, stretch=1)
        plots.add_tool(self.mode)
        self.mode.show_choice(SIZE)
        side.setFixedWidth(_SIDE_WIDTH)
        files = QHBoxLayout()
        for text, work in (("Choose a file…", self.choose_file), ("From a picture…", self.read_picture)):
            files.addWidget(_button(text, work))
        files.addStretch(1)
        side.add_row(files)
        side.add(self.form)
        for widget in (self.summary, self.warnings):
            side.add(widget)
        side.add(self.values, stretch=1)
        side.add(self.work)
        side.add(self.message)
        side.add_row(self._way_out())
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        row.setSpacing(SPACE.m)
        row.addWidget(plots, 1)
        row.addWidget(side)

    def _way_out(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(SPACE.s)
        for place, (label, box) in enumerate((("Take", self.what), ("Put it", self.target))):
            name = QLabel(label)
            name.setProperty("role", "muted")
            name.setBuddy(box)
            box.setAccessibleName(label)
            grid.addWidget(name, place, 0)
            grid.addWidget(box, place, 1)
        self.use.setProperty("main", True)
        self.use.setDefault(True)
        buttons = QHBoxLayout()
        buttons.addWidget(self.keep)
        buttons.addStretch(1)
        buttons.addWidget(self.use)
        grid.addLayout(buttons, 2, 0, 1, 2)
        grid.setColumnStretch(1, 1)
        return grid

    def _join(self) -> None:
        self.work.worker.done.connect(self._take_result)
        self.work.worker.failed.connect(self._fail)
        self.work.stopped.connect(self._say_stopped)
        self.form.typed.connect(self._type)
        self.mode.chosen.connect(self._choose_mode)
        self.plot.cursor_moved.connect(self._move_cursor)
        for plot in (self.plot, self.residual):
            plot.failed.connect(lambda text: self._say(text, bad=True))
        self.session.frame.connect(self._show_targets)

    def _type(self, path: KeyPath, text: str) -> None:
        if self._request is None:
            return
        try:
            request = changed(self._request, str(path[0]), text)
        except IsthmusError as error:
            self.form.show_error(path, str(error))
            return
        self.ask(request)

    def _take_result(self, imported: Imported) -> None:
        self._imported = imported
        if self._cursor_hz is None:
            self._cursor_hz = middle_hz(imported.measurement)
        self._show()

    def _fail(self, text: str) -> None:
        self._imported = None
        self._say(text, bad=True)
        self._show()

    def _say_stopped(self) -> None:
        """Go back to the request whose fit is shown."""
        if self._imported is not None:
            self._request = self._imported.request
        self._say("Stopped.")
        self._show()

    def _choose_mode(self, mode: str) -> None:
        self.mode.show_choice(mode)
        self._show_plots()

    def _move_cursor(self, f_hz: float) -> None:
        self._cursor_hz = f_hz
        self._show_plots()

    def _show(self) -> None:
        busy, done = self.work.busy, self._imported is not None
        form = import_form(self._request)
        self.form.render(form)
        self.form.setVisible(self._request is not None)
        for button in (self.use, self.keep):
            button.setEnabled(done and not busy)
        self._show_words()
        self._show_targets()
        self._show_plots()

    def _show_words(self) -> None:
        words = None if self._imported is None else import_words(self._imported)
        self._cards[1].show_title("Measurement" if words is None else words.title)
        self.summary.setText("" if words is None else words.summary)
        self.warnings.setText("" if words is None else "\n".join(words.warnings))
        self.warnings.setVisible(words is not None and bool(words.warnings))
        self.values.render(() if words is None else words.values)
        self.message.setVisible(bool(self.message.text()))

    def _show_targets(self) -> None:
        case, chosen = self.session.case, self.target.currentIndex()
        self._targets = part_targets(case, self.session.view.candidate)
        _fill(self.target, tuple(each.label for each in self._targets), chosen)
        from_file = self._imported is not None and self._imported.file is not None
        _fill(self.what, (_FITTED, _DATA) if from_file else (_FITTED,), self.what.currentIndex())

    def _show_plots(self) -> None:
        if self._imported is None:
            plot = PlotSpec(title="Data and fit", empty=_EMPTY if self._request is None else "No fit yet.")
            residual = PlotSpec(title="What the fit leaves", empty=" ")
        else:
            mode = self.mode.choice()
            plot = fit_plot(self._imported, mode, self._cursor_hz)
            residual = evolve(residual_plot(self._imported, mode), cursor_x=self._cursor_hz)
        self.residual.setVisible(self._imported is not None)
        self._cards[0].show_title(plot.title, plot.subtitle)
        self.plot.render(plot)
        self.residual.render(residual)

    def _say(self, text: str, *, bad: bool = False) -> None:
        self.message.setProperty("role", "bad" if bad else "muted")
        self.message.say(text)
        self.message.style().polish(self.message)

    def _dress(self, theme: Theme) -> None:
        for box in (self.target, self.what):
            box.theme = theme
        for part in (self.plot, self.residual, self.form, *self._cards):
            part.set_theme(theme)


def _button(text: str, work: Callable[[], object]) -> QPushButton:
    button = QPushButton(text)
    button.setAutoDefault(False)
    button.clicked.connect(lambda *_: work())
    return button


def _fill(box: QComboBox, options: tuple[str, ...], chosen: int) -> None:
    """Offer options, keeping the place of the choice, without telling anyone."""
    if tuple(box.itemText(k) for k in range(box.count())) != options:
        box.clear()
        box.addItems(list(options))
        box.setCurrentIndex(min(max(chosen, 0), len(options) - 1))
