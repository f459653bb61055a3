"""Choosing a part: the catalogue with the curve of the highlighted part beside it, or a data sheet's few numbers."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.present.chooser import (
    FIRST_HZ,
    NO_PART,
    NO_SHEET,
    PartWords,
    choices,
    entry_words,
    families,
    part_plot,
    sheet_form,
    sheet_words,
)
from app.qt.field import ChoiceBox
from app.qt.inspector import Inspector
from app.qt.panel import ModeSwitch, Panel, Words
from app.qt.plot.view import PlotView
from app.qt.theme import SPACE, Theme
from app.state.sheet import BEAD, CAPACITOR, Sheet, part_of, typed
from models.catalogue.shelf import Catalogue, catalogue
from models.codec import KeyPath
from models.errors import IsthmusError
from models.parts.part import Part

_CATALOGUE, _SHEET = "catalogue", "data sheet"
_LIST_WIDTH = 380
_ID = Qt.ItemDataRole.UserRole
_LIST_KEYS = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)


class PartChooser(QDialog):
    """Offers a part and passes it on when it is taken."""

    def __init__(
        self,
        theme: Theme,
        take: Callable[[Part], object],
        parent: QWidget | None = None,
        shelf: Catalogue | None = None,
    ) -> None:
        super().__init__(parent)
        self._take = take
        self._shelf = shelf or catalogue()
        self._sheet = Sheet()
        self._part: Part | None = None
        self._words = PartWords(title="", ratings="", text="")
        self._cursor_hz = FIRST_HZ
        self.way = ModeSwitch("From", (_CATALOGUE, _SHEET))
        self.family = ChoiceBox(theme)
        self.search = QLineEdit()
        self.list = QListWidget()
        self.sheet_kind = ModeSwitch("Kind of part", (BEAD, CAPACITOR))
        self.form = Inspector(theme)
        self.plot = PlotView(theme)
        self.ratings, self.text, self.caution, self.message = Words("accent"), Words(), Words("caution"), Words("bad")
        self.use = QPushButton("Use this part")
        self._pages = QStackedWidget()
        self._cards = (Panel(theme), Panel(theme))
        self._lay_out()
        self._join()
        self._fill_list()
        self.search.setFocus()

    def part(self) -> Part | None:
        """Return the part that would be taken."""
        return self._part

    def highlight(self, id: str) -> None:
        """Highlight an entry of the list."""
        for row in range(self.list.count()):
            if self.list.item(row).data(_ID) == id:
                self.list.setCurrentRow(row)

    def take(self) -> None:
        """Pass the part on and close."""
        if self._part is not None:
            self._take(self._part)
            self.accept()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let the keys that walk a list walk it from the search as well."""
        if watched is self.search and isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress:
            if event.key() in _LIST_KEYS:
                self.list.keyPressEvent(event)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.take()
                return True
        return super().eventFilter(watched, event)

    def _lay_out(self) -> None:
        self.setWindowTitle("Choose a part")
        self.resize(1040, 660)
        left, right = self._cards
        left.show_title("Parts")
        left.setFixedWidth(_LIST_WIDTH)
        left.add_tool(self.way)
        self.way.show_choice(_CATALOGUE)
        self.sheet_kind.show_choice(self._sheet.kind)
        self.search.setPlaceholderText("Words, such as 0805 power")
        self.search.setAccessibleName("Words to look for")
        self.search.setClearButtonEnabled(False)
        self.family.setAccessibleName("Family of parts")
        self.list.setAccessibleName("Parts of the catalogue")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._pages.addWidget(_column(self.family, self.search, self.list))
        self._pages.addWidget(_column(self.sheet_kind, self.form))
        left.add(self._pages, stretch=1)
        right.add(self.plot, stretch=1)
        for words in (self.ratings, self.text, self.caution, self.message):
            right.add(words)
        self.use.setProperty("main", True)
        self.use.setAutoDefault(False)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(self.use)
        right.add_row(foot)
        row = QHBoxLayout(self)
        row.setContentsMargins(SPACE.m, SPACE.m, SPACE.m, SPACE.m)
        row.setSpacing(SPACE.m)
        row.addWidget(left)
        row.addWidget(right, 1)

    def _join(self) -> None:
        self.family.addItems(list(families(self._shelf)))
        self.family.currentTextChanged.connect(lambda *_: self._fill_list())
        self.search.textChanged.connect(lambda *_: self._fill_list())
        self.search.installEventFilter(self)
        self.list.currentItemChanged.connect(lambda *_: self._show_entry())
        self.list.itemActivated.connect(lambda *_: self.take())
        self.way.chosen.connect(self._choose_way)
        self.sheet_kind.chosen.connect(self._choose_kind)
        self.form.typed.connect(self._type)
        self.plot.cursor_moved.connect(self._move_cursor)
        self.plot.failed.connect(self.message.say)
        self.use.clicked.connect(self.take)

    def _fill_list(self) -> None:
        """Show what the filter leaves, the highlighted part kept where it is still among it."""
        item = self.list.currentItem()
        kept = None if item is None else item.data(_ID)
        rows = choices(self._shelf, self.family.currentText(), self.search.text())
        self.list.blockSignals(True)
        self.list.clear()
        for row in rows:
            entry = QListWidgetItem(f"{row.title}\n{row.note}")
            entry.setData(_ID, row.id)
            self.list.addItem(entry)
        self.list.setCurrentRow(next((k for k, row in enumerate(rows) if row.id == kept), 0))
        self.list.blockSignals(False)
        self._show_entry()

    def _show_entry(self) -> None:
        item = self.list.currentItem()
        if item is None:
            self._show_part(None, NO_PART)
            return
        entry = self._shelf.entries[item.data(_ID)]
        self._show_part(entry.part, entry_words(entry))

    def _choose_way(self, way: str) -> None:
        self.way.show_choice(way)
        self._pages.setCurrentIndex(0 if way == _CATALOGUE else 1)
        if way == _CATALOGUE:
            self._show_entry()
            self.search.setFocus()
        else:
            self._show_sheet()

    def _choose_kind(self, kind: str) -> None:
        self.sheet_kind.show_choice(kind)
        self._sheet = Sheet(kind=kind)
        self._show_sheet()

    def _type(self, path: KeyPath, text: str) -> None:
        try:
            self._sheet = typed(self._sheet, str(path[0]), text)
        except IsthmusError as error:
            self.form.show_error(path, str(error))
            return
        self._show_sheet()

    def _show_sheet(self) -> None:
        self.form.render(sheet_form(self._sheet))
        try:
            part, assumed = part_of(self._sheet)
        except IsthmusError as error:
            self._show_part(None, NO_SHEET)
            self.message.say(f"{str(error)[0].upper()}{str(error)[1:]}." if self._sheet.values else "")
            return
        self._show_part(part, sheet_words(part, assumed))

    def _show_part(self, part: Part | None, words: PartWords) -> None:
        self._part, self._words = part, words
        self.message.say("")
        said = "" if part is None else words.text
        for label, text in ((self.ratings, words.ratings), (self.text, said), (self.caution, words.caution)):
            label.say(text)
        self.use.setEnabled(part is not None)
        self._show_plot()

    def _show_plot(self) -> None:
        spec = part_plot(self._part, self._words, self._cursor_hz)
        self._cards[1].show_title(spec.title, spec.subtitle)
        self.plot.render(spec)

    def _move_cursor(self, f_hz: float) -> None:
        self._cursor_hz = f_hz
        self._show_plot()


def choose_part(owner: QWidget, theme: Theme, take: Callable[[Part], object]) -> PartChooser:
    """Let a person choose a part, and pass it on when it is taken."""
    chooser = PartChooser(theme, take, owner)
    chooser.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    chooser.setModal(True)
    chooser.show()
    return chooser


def _column(*widgets: QWidget) -> QWidget:
    page = QWidget()
    column = QVBoxLayout(page)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(SPACE.s)
    for widget in widgets:
        column.addWidget(widget, 1 if widget is widgets[-1] else 0)
    return page
