"""AnswersView: requirements down, candidates across; each cell with sign and number, and its working when chosen."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QLabel, QPushButton, QTableView, QVBoxLayout, QWidget

from app.present.specs import TableSpec
from app.qt.panel import ElidedLabel, Words
from app.qt.table_paint import ROW, AnswersModel, CellPainter, ColumnHead, RowHead
from app.qt.theme import SPACE, Theme, Type

_COLUMN_AT_LEAST = 128
_QUESTIONS_AT_LEAST = 150
_QUESTIONS_SHARE = 0.34
_ROWS_AT_LEAST = 2
_ALL = 1000
_WORKING_HEIGHT = 34
_PROMPT = "Choose an answer to see its working."
_CHANGE = " Choose a requirement to change it."
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


class _Grid(QTableView):
    """The table itself; Enter and Space do what a click does, F2 what a click on the row's question does."""

    entered_cell = Signal(int, int)
    entered_row = Signal(int)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open the current cell by key."""
        index = self.currentIndex()
        if event.key() in _ENTER and index.isValid():
            self.entered_cell.emit(index.row(), index.column())
        elif event.key() == Qt.Key.Key_F2 and index.isValid():
            self.entered_row.emit(index.row())
        else:
            super().keyPressEvent(event)


class AnswersView(QWidget):
    """Renders a TableSpec; tells which cell or candidate was chosen."""

    cell_activated = Signal(int, int)
    column_activated = Signal(int)
    menu_requested = Signal(int, int, str, QPoint)
    """Row, column, what the answer says with its working, and where on the screen."""
    requirement_activated = Signal(int)
    """Its place among the requirements."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._model = AnswersModel(self)
        self._laid_out: tuple[int, ...] = ()
        self._grid = _Grid(self)
        self._grid.setModel(self._model)
        self._columns, self._rows = ColumnHead(theme, self._grid), RowHead(theme, self._grid)
        self._cells = CellPainter(theme, self._grid)
        self._corner = ElidedLabel(Type.TITLE, parent=self._grid)
        self._corner.setAutoFillBackground(True)
        self._working = Words(parent=self)
        self.offer = QPushButton()
        self._empty = QLabel(self)
        self._set_up_grid()
        self._set_up_words()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(SPACE.s)
        column.addWidget(self._grid, _ALL)
        column.addWidget(self._empty, _ALL)
        column.addStretch(1)
        foot = QHBoxLayout()
        foot.addWidget(self._working, 1)
        foot.addWidget(self.offer)
        column.addLayout(foot)

    def render(self, spec: TableSpec) -> None:  # type: ignore[override]
        """Show answers; the cell that was current stays so."""
        self._model.show_spec(spec)
        self._corner.setText(spec.title)
        self.setAccessibleName(spec.title)
        self._grid.setAccessibleName(spec.title)
        self._grid.setVisible(not spec.empty)
        self._working.setVisible(not spec.empty)
        self.offer.setText(spec.offer)
        self.offer.setVisible(bool(spec.offer))
        self._empty.setVisible(bool(spec.empty))
        self._empty.setText(spec.empty)
        self._lay_out()
        self._show_working()

    def set_theme(self, theme: Theme) -> None:
        """Take on another look."""
        self._theme = theme
        for painter in (self._columns, self._rows, self._cells):
            painter.theme = theme
        self._grid.viewport().update()

    def grid(self) -> QTableView:
        """Return the table, for the keyboard and for tests."""
        return self._grid

    def working(self) -> str:
        """Return the working that is shown."""
        return self._working.text()

    def height_for_rows(self) -> int:
        """Return the height at which all rows are seen."""
        return self._height_beside_rows() + ROW * self._model.rowCount() + SPACE.s + _WORKING_HEIGHT

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the new width."""
        super().resizeEvent(event)
        self._lay_out()

    def _set_up_grid(self) -> None:
        grid = self._grid
        grid.setHorizontalHeader(self._columns)
        grid.setVerticalHeader(self._rows)
        grid.setItemDelegate(self._cells)
        grid.setShowGrid(False)
        grid.setFrameShape(QTableView.Shape.NoFrame)
        grid.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        grid.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        grid.setTabKeyNavigation(False)
        grid.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        grid.setCornerButtonEnabled(False)
        grid.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        grid.customContextMenuRequested.connect(self._ask_for_menu)
        grid.clicked.connect(lambda index: self.cell_activated.emit(index.row(), index.column()))
        grid.entered_cell.connect(self.cell_activated)
        grid.entered_row.connect(self._choose_row)
        grid.selectionModel().currentChanged.connect(self._show_working)
        self._columns.sectionClicked.connect(self.column_activated)
        self._rows.setSectionsClickable(True)
        self._rows.sectionClicked.connect(self._choose_row)
        grid.verticalScrollBar().rangeChanged.connect(lambda *_range: self._lay_out())

    def _ask_for_menu(self, at: QPoint) -> None:
        """Ask for the menu of the answer at a place of the table."""
        index = self._grid.indexAt(at)
        if index.isValid():
            self._grid.setCurrentIndex(index)
            place = self._grid.viewport().mapToGlobal(at)
            self.menu_requested.emit(index.row(), index.column(), self._model.working(index), place)

    def _set_up_words(self) -> None:
        self._working.setAccessibleName("Working of the chosen answer")
        self._empty.setProperty("role", "muted")
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._empty.setWordWrap(True)
        self._empty.hide()

    def _lay_out(self) -> None:
        count, bar = self._model.columnCount(), self._grid.verticalScrollBar()
        whole = self._grid.width() - (bar.sizeHint().width() if bar.maximum() > 0 else 0)
        questions = self._width_of_questions(whole, count)
        room = whole - questions
        key = (room, questions, count, self._model.rowCount(), self._whole_rows())
        if key == self._laid_out:
            return
        self._laid_out = key
        self._rows.setFixedWidth(questions)
        if count:
            self._columns.setDefaultSectionSize(max(room // count, _COLUMN_AT_LEAST))
        policy = Qt.ScrollBarPolicy
        # as needed alone, the bar of a narrower window stays where a wide one does not need it
        needed = count * _COLUMN_AT_LEAST > room
        self._grid.setHorizontalScrollBarPolicy(policy.ScrollBarAsNeeded if needed else policy.ScrollBarAlwaysOff)
        self._grid.setMaximumHeight(self._height_beside_rows() + ROW * self._whole_rows())
        self._corner.setGeometry(0, 0, questions, self._columns.sizeHint().height())

    def _width_of_questions(self, whole: int, count: int) -> int:
        """Return the width of the questions; where names would be cut, only requirements keep all of their words."""
        most = max(int(self.width() * _QUESTIONS_SHARE), _QUESTIONS_AT_LEAST)
        wanted = min(self._rows.wanted_width(), most)
        least = min(self._rows.wanted_width(facts=False), wanted)
        scrolled = count * _COLUMN_AT_LEAST > whole - wanted
        left = whole - count * self._columns.wanted_width()
        return wanted if scrolled else min(max(left, least), wanted)

    def _whole_rows(self) -> int:
        """Return how many rows have room: one that is cut in two is left to the scroll bar."""
        words = max(self._working.heightForWidth(self.width()), self._working.fontMetrics().lineSpacing())
        room = self.height() - words - SPACE.s - self._height_beside_rows()
        return min(max(room // ROW, _ROWS_AT_LEAST), self._model.rowCount())

    def _height_beside_rows(self) -> int:
        wide = self._columns.length() > self._grid.width() - self._rows.width()
        bar = self._grid.horizontalScrollBar().sizeHint().height() if wide else 0
        return self._columns.sizeHint().height() + bar + 2

    def _show_working(self, *_indexes: QModelIndex | QPersistentModelIndex) -> None:
        index = self._grid.currentIndex()
        spec = self._model.spec
        prompt = spec.note or _PROMPT + (_CHANGE if spec.requirements else "")
        self._working.setText(self._model.working(index) if index.isValid() else prompt)

    def _choose_row(self, row: int) -> None:
        if row < self._model.spec.requirements:
            self.requirement_activated.emit(row)
