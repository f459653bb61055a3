"""Search: every bridge of the catalogue that meets all requirements, and one of them into the case."""

from __future__ import annotations

from concurrent.futures import Executor

from attrs import evolve
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.present.search_table import columns, search_spec, why_not
from app.present.specs import PlotSpec
from app.qt.look import Look
from app.qt.panel import Panel, Words
from app.qt.plot.view import PlotView
from app.qt.session import Session
from app.qt.theme import SPACE, Theme, ThemeName, theme_named
from app.qt.work_row import WorkRow
from app.state.search import add_found, catalogue_request, run_search
from models.case.document import Case
from models.decide.search import SearchResult

_COLUMN_LEAST = 92
_STALE = "The case has changed since. Search again to be sure."


class SearchView(QDialog):
    """Searches the present case in the background, once it is opened and whenever it is told to."""

    def __init__(self, session: Session, parent: QWidget | None = None, executor: Executor | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._searched: Case | None = None
        self._result: SearchResult | None = None
        theme = theme_named(ThemeName(session.view.theme))
        self.work = WorkRow(self, run_search, executor)
        self.plot, self.table = PlotView(theme), QTableWidget(0, len(columns(None)))
        self.summary, self.message, self.caution = Words(""), Words("bad"), Words("caution")
        self.added = Words()
        self._added_in: Case | None = None
        self.again, self.add = QPushButton("Search again"), QPushButton("Add as candidate")
        self._cards = (Panel(theme), Panel(theme))
        self._lay_out()
        self._join()
        Look(self, session, self._dress)
        self.start()

    def found(self) -> SearchResult | None:
        """Return what is shown, once it is found."""
        return self._result

    def start(self) -> None:
        """Search the present case; a search under way is given up."""
        self._searched = self.session.case
        self.added.say("")
        self.message.setText(why_not(self._searched))
        if not self.message.text():
            self.work.ask(catalogue_request(self._searched))
        self._show()

    def take(self) -> None:
        """Add the chosen bridge as a candidate, as one step, and select it."""
        row = self.table.currentRow()
        if self._result is None or not 0 <= row < len(self._result.found):
            return
        found = self._result.found[row]
        if self.session.add("Add candidate", lambda case: add_found(case, found)):
            self._added_in = self.session.case
            self.added.say(f"Added as “{self._added_in.candidates[-1].name}”. Undo takes it back.")

    def _lay_out(self) -> None:
        self.setWindowTitle("Search for bridges")
        self.resize(980, 660)
        upper, lower = self._cards
        upper.add(self.plot, stretch=1)
        lower.show_title("What meets every requirement")
        lower.add(self.summary)
        self._dress_table()
        lower.add(self.table, stretch=1)
        for words in (self.message, self.added, self.caution):
            lower.add(words)
        row = QHBoxLayout()
        self.add.setProperty("main", True)
        for button in (self.again, self.add):
            button.setAutoDefault(False)
        row.addWidget(self.work, 1)
        row.addStretch(1)
        row.addWidget(self.again)
        row.addWidget(self.add)
        lower.add_row(row)
        column = QVBoxLayout(self)
        column.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        column.setSpacing(SPACE.m)
        column.addWidget(upper, 2)
        column.addWidget(lower, 3)

    def _dress_table(self) -> None:
        table = self.table
        table.setAccessibleName("Bridges found")
        table.verticalHeader().hide()
        table.setShowGrid(False)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setTabKeyNavigation(False)
        header = table.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setMinimumSectionSize(_COLUMN_LEAST)
        self._head(columns(None))

    def _head(self, texts: tuple[str, ...]) -> None:
        for column, text in enumerate(texts):
            item = QTableWidgetItem(text)
            item.setTextAlignment(_side(column))
            self.table.setHorizontalHeaderItem(column, item)

    def _join(self) -> None:
        self.work.worker.done.connect(self._take_result)
        self.work.worker.failed.connect(self._tell)
        self.work.stopped.connect(lambda: self._tell("Stopped."))
        self.session.failed.connect(self._tell)
        self.session.frame.connect(self._check)
        self.again.clicked.connect(lambda *_: self.start())
        self.add.clicked.connect(lambda *_: self.take())
        self.table.itemActivated.connect(lambda *_: self.take())
        self.table.currentCellChanged.connect(lambda *_: self._show_plot())

    def _take_result(self, result: SearchResult) -> None:
        self._result = result
        self._fill()
        self._show()

    def _fill(self) -> None:
        assert self._result is not None
        spec = search_spec(self._result, 0)
        self.summary.setText(spec.summary)
        self._head(spec.columns)
        self.table.setRowCount(len(spec.rows))
        for row, texts in enumerate(spec.rows):
            for column, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setTextAlignment(_side(column))
                self.table.setItem(row, column, item)
        if spec.rows:
            self.table.setCurrentCell(0, 0)

    def _check(self) -> None:
        """Say where what was searched is not what there is now; further candidates change nothing."""
        case, searched = self.session.case, self._searched
        if case is not self._added_in:
            self.added.say("")
        if searched is not None and evolve(case, candidates=()) != evolve(searched, candidates=()):
            self._tell(_STALE)
        elif self.message.text() == _STALE:
            self._tell("")

    def _tell(self, text: str) -> None:
        self.message.setText(text)
        self._show()

    def _show(self) -> None:
        self.again.setVisible(not self.work.busy)
        for words in (self.message, self.summary):
            words.setVisible(bool(words.text()))
        self.add.setEnabled(self._result is not None and bool(self._result.found))
        self._show_plot()

    def _show_plot(self) -> None:
        if self._result is None:
            self.plot.render(PlotSpec(title="", empty="Nothing found yet."))
            self.caution.hide()
            return
        spec = search_spec(self._result, max(self.table.currentRow(), 0))
        self._cards[0].show_title(spec.plot.title, spec.plot.subtitle)
        self.plot.render(spec.plot)
        self.caution.setText(spec.caution)
        self.caution.show()

    def _dress(self, theme: Theme) -> None:
        self.plot.set_theme(theme)
        for card in self._cards:
            card.set_theme(theme)


def _side(column: int) -> Qt.AlignmentFlag:
    """Return where a column's texts stand: names at the left, numbers at the right."""
    side = Qt.AlignmentFlag.AlignLeft if column == 0 else Qt.AlignmentFlag.AlignRight
    return side | Qt.AlignmentFlag.AlignVCenter
