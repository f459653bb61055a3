"""The check against the built board: a measurement over the case, unknown values fitted and taken as one step."""

from __future__ import annotations

from concurrent.futures import Executor
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.present.board_check import about_text, fit_text, likely_unknown, unknown_label
from app.qt.panel import Words
from app.qt.session import Session
from app.qt.theme import SPACE
from app.qt.work_row import WorkRow
from app.state.board_check import BoardFound, BoardRequest, run_board_fit
from models.decide.board_fit import unknowns
from models.decide.parameters import Parameter
from models.errors import IsthmusError
from models.fitting.load import load_measurement

_FILES = "Measurements (*.s1p *.s2p *.ts *.csv *.txt *.dat);;All files (*)"
_STEP = "Accept measured values"


class BoardCheck(QDialog):
    """Offers the unknowns of the selected candidate, fits them to a measurement and takes them into the case.

    The fit runs in the background. The measurement is drawn over the impedances in the window until it is removed or
    the case is closed.
    """

    def __init__(self, session: Session, parent: QWidget | None = None, executor: Executor | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.work = WorkRow(self, run_board_fit, executor)
        self._found: BoardFound | None = None
        self._offered: tuple[Parameter, ...] = ()
        self.list = QListWidget()
        self.about, self.findings, self.message = Words(), Words("text"), Words("bad")
        self.choose, self.remove_button = QPushButton("Choose a measurement…"), QPushButton("Remove")
        self.fit_button, self.accept_button = QPushButton("Fit"), QPushButton("Accept into the case")
        self._lay_out()
        self._join()
        self._refresh()

    def open_file(self, path: Path) -> None:
        """Read a measurement of the pair and lay it over the plot; one that cannot be read changes nothing."""
        try:
            measured = load_measurement(path)
        except IsthmusError as error:
            self.message.setText(str(error))
            return
        self.message.setText("")
        self.session.views.change(measured=measured, bridge_alone=False)
        self._refresh()

    def fit(self) -> None:
        """Fit the values that are ticked."""
        measured, case = self.session.view.measured, self.session.case
        if measured is None:
            return
        rows = (self.list.item(row) for row in range(self.list.count()))
        ticked = [item.checkState() == Qt.CheckState.Checked for item in rows]
        free = tuple(each for each, wanted in zip(self._offered, ticked, strict=True) if wanted)
        self.message.setText("")
        self.work.ask(BoardRequest(case=case, candidate=self.session.view.candidate, measured=measured, free=free))
        self._refresh()

    def remove(self) -> None:
        """Draw the measurement no more."""
        self.session.views.change(measured=None)
        self._refresh()

    def take(self) -> None:
        """Take the fitted values into the case, as one step of undo."""
        if self._found is not None and self._found.request.case is self.session.case:
            fitted = self._found.accepted()
            self.session.change(_STEP, lambda _: fitted)

    def _join(self) -> None:
        self.work.worker.done.connect(self._take_found)
        self.work.worker.failed.connect(self._tell)
        self.work.stopped.connect(lambda: self._tell("Stopped."))
        self.session.frame.connect(self._refresh)
        self.choose.clicked.connect(self._ask_file)
        self.remove_button.clicked.connect(self.remove)
        self.fit_button.clicked.connect(self.fit)
        self.accept_button.clicked.connect(self.take)

    def _take_found(self, found: BoardFound) -> None:
        self._found = found
        self.findings.setText(fit_text(found.fit))
        self._refresh()

    def _tell(self, text: str) -> None:
        self.message.setText(text)
        self._refresh()

    def _refresh(self) -> None:
        """Offer what can be unknown now; a fit of another document counts no more."""
        view, case = self.session.view, self.session.case
        candidate = case.candidates[view.candidate] if case.candidates else None
        self._offer(() if candidate is None else unknowns(case, candidate))
        self.about.setText(about_text(case, view.candidate, view.measured))
        busy, found = self.work.busy, self._found
        self.remove_button.setEnabled(not busy and view.measured is not None)
        self.fit_button.setEnabled(not busy and view.measured is not None and bool(self._offered))
        self.accept_button.setEnabled(not busy and found is not None and found.request.case is case and found.tells)

    def _offer(self, offered: tuple[Parameter, ...]) -> None:
        if offered == self._offered:
            return
        same = [each.path for each in offered] == [each.path for each in self._offered]
        self._offered = offered
        if not same:
            self.list.clear()
            for likely in likely_unknown(offered):
                item = QListWidgetItem(self.list)
                item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
                item.setCheckState(Qt.CheckState.Checked if likely else Qt.CheckState.Unchecked)
        for row, each in enumerate(offered):
            self.list.item(row).setText(unknown_label(each))

    def _ask_file(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self, "A measurement of the built pair", "", _FILES)
        if name:
            self.open_file(Path(name))

    def _lay_out(self) -> None:
        self.setWindowTitle("Check against the board")
        self.resize(520, 560)
        self.list.setAccessibleName("Values that are unknown")
        self.accept_button.setProperty("main", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        column.setSpacing(SPACE.s)
        files, row = QHBoxLayout(), QHBoxLayout()
        files.addWidget(self.choose, 1)
        files.addWidget(self.remove_button)
        column.addLayout(files)
        for widget in (self.about, self.list, self.findings, self.message):
            column.addWidget(widget, 1 if widget is self.list else 0)
        for button in (self.choose, self.remove_button, self.fit_button, self.accept_button):
            button.setAutoDefault(False)
        row.addWidget(self.work, 1)
        row.addStretch(1)
        row.addWidget(self.fit_button)
        row.addWidget(self.accept_button)
        column.addLayout(row)
        self._stand_aside()

    def _stand_aside(self) -> None:
        """Stand at the right of the window, whose plot at the left shows the measurement."""
        owner = self.parentWidget()
        if owner is not None:
            place = owner.frameGeometry()
            self.move(place.right() - self.width() - SPACE.m, place.center().y() - self.height() // 2)
