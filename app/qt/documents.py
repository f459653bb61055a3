"""Opening and saving: file dialogs, the guard against losing changes, the menu of the document."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QFileDialog, QMenu, QMessageBox, QWidget

from app.qt.session import Session
from app.qt.tools import Tools
from app.state.files import can_be_imported, plain_name
from app.state.recent import recent_files, remember
from app.state.usual import BRIDGES
from models.assets import CASES
from models.case.document import BY_LOAD, Case, Pair
from models.errors import IsthmusError

_FILTER = "Isthmus case (*.toml)"


class Documents:
    """Opens, saves and closes the document of a session; its menu leads to the tools as well."""

    def __init__(self, session: Session, owner: QWidget) -> None:
        self._session = session
        self._owner = owner
        self.recent_folder: Path | None = None
        """Where the files opened last are remembered; None remembers none."""
        self.tools = Tools(session, owner)

    def menu(self, more: Sequence[QAction] = ()) -> QMenu:
        """Return the menu of the document, its shortcuts included, with more actions before the last."""
        menu, tools = QMenu(self._owner), self.tools
        self._add(menu, "&New", QKeySequence.StandardKey.New, self.new)
        self._add(menu, "&Open…", QKeySequence.StandardKey.Open, self.ask_open)
        examples = menu.addMenu("Open e&xample")
        for path in sorted(CASES.glob("*.toml")):
            examples.addAction(path.stem.replace("-", " ").capitalize(), partial(self.open_example, path))
        recent = menu.addMenu("Open &recent")
        menu.aboutToShow.connect(lambda: self._fill_recent(recent))
        menu.addSeparator()
        self._add(menu, "&Save", QKeySequence.StandardKey.Save, self.save)
        self._add(menu, "Save &as…", QKeySequence.StandardKey.SaveAs, self.ask_save)
        self._add(menu, "Re&port…", QKeySequence("Ctrl+R"), tools.write_report)
        menu.addSeparator()
        menu.addAction("Case as &text…", tools.show_text)
        menu.addAction("&Import measurement…", tools.import_measurement)
        menu.addAction("Check against the &board…", tools.check_board)
        menu.addAction("&Why separate?…", tools.ask_purpose)
        menu.addAction("Size the &capacitor…", tools.size_capacitor)
        menu.addAction("Searc&h for bridges…", tools.search_bridges)
        menu.addAction("Work out from &geometry…", tools.work_out)
        self._add(menu, "&Vary values…", QKeySequence("Ctrl+E"), tools.vary_values)
        menu.addAction("&Lessons…", tools.lessons)
        menu.addSeparator()
        menu.addActions(list(more))
        menu.addSeparator()
        self._add(menu, "Clos&e", QKeySequence.StandardKey.Quit, self._owner.close)
        return menu

    def new(self) -> None:
        """Begin an empty case: two regions, joined by copper or by nothing."""
        bridges = tuple(each for each in BRIDGES if each.name in ("Copper", "Nothing"))
        self.begin_other(Case(pair=Pair(a="A", b="B"), candidates=bridges, bead_bias=BY_LOAD))

    def ask_open(self) -> None:
        """Ask for a case file and open it."""
        if self.may_leave():
            name, _ = QFileDialog.getOpenFileName(self._owner, "Open a case", self._folder(), _FILTER)
            if name:
                self.open(Path(name))

    def open(self, path: Path) -> None:
        """Open a case file, or say why it cannot be opened; the present document then stays."""
        try:
            self._session.open(path)
        except IsthmusError as error:
            self._tell(str(error))
        else:
            self.remember(path)

    def open_other(self, path: Path) -> None:
        """Open a file that was dropped or opened before, unless changes would be lost; measured data is imported."""
        if can_be_imported(path):
            self.tools.import_measurement().open_file(path)
        elif self.may_leave():
            self.open(path)

    def begin_other(self, case: Case) -> None:
        """Begin a case that has no file yet, unless changes would be lost."""
        if self.may_leave():
            self._session.forget_file()
            self._session.begin(case)

    def reload(self) -> None:
        """Open the document's file again, giving up what is not saved."""
        if self._session.path is not None:
            self.open(self._session.path)

    def _fill_recent(self, menu: QMenu) -> None:
        menu.clear()
        paths = () if self.recent_folder is None else recent_files(self.recent_folder)
        for path in paths:
            menu.addAction(str(path), partial(self.open_other, path))
        menu.setEnabled(bool(paths))

    def remember(self, path: Path) -> None:
        """Remember a file among those opened last."""
        if self.recent_folder is not None:
            remember(self.recent_folder, path)

    def open_example(self, path: Path) -> None:
        """Open an example; saving it asks for a place of its own."""
        if self.may_leave():
            self._session.open(path, as_example=True)

    def save(self) -> bool:
        """Save to the document's file, asking for one where it has none; False where nothing was saved."""
        if self._session.path is None:
            return self.ask_save()
        return self._write(self._session.path)

    def ask_save(self) -> bool:
        """Ask for a file and save there."""
        name, _ = QFileDialog.getSaveFileName(self._owner, "Save the case", self._usual_file(), _FILTER)
        if not name:
            return False
        path = Path(name)
        if path.suffix.lower() != ".toml":
            # the dialog asked about the name without the ending
            path = path.with_name(f"{path.name}.toml")
            if not self._may_replace(path):
                return False
        return self._write(path)

    def may_leave(self) -> bool:
        """Return whether the document may be left, asking where changes would be lost."""
        if not self._session.store.changed:
            return True
        buttons = QMessageBox.StandardButton
        answer = QMessageBox.question(
            self._owner,
            "Unsaved changes",
            f"“{self._session.case.title}” has changes that are not saved.",
            buttons.Save | buttons.Discard | buttons.Cancel,
            buttons.Save,
        )
        return self.save() if answer == buttons.Save else answer == buttons.Discard

    def _may_replace(self, path: Path) -> bool:
        """Return whether a file may be written, asking where it would take the place of another than the document's."""
        if path == self._session.path or not path.exists():
            return True
        buttons = QMessageBox.StandardButton
        text = f"“{path.name}” is there already. Replace it?"
        return QMessageBox.question(self._owner, "Replace the file", text, buttons.Yes | buttons.No) == buttons.Yes

    def _write(self, path: Path) -> bool:
        try:
            self._session.save(path)
        except OSError as error:
            self._tell(f"{path.name}: not saved: {error.strerror}. The old file is untouched.")
            return False
        self.remember(path)
        return True

    def _folder(self) -> str:
        return str(self._session.path.parent) if self._session.path else str(Path.home())

    def _usual_file(self) -> str:
        """Return the file that a save begins with: the document's own, or one named as its title."""
        return str(self._session.path or Path(self._folder()) / f"{plain_name(self._session.case.title, 'case')}.toml")

    def _tell(self, text: str) -> None:
        self._session.failed.emit(text)

    def _add(
        self, menu: QMenu, text: str, key: QKeySequence | QKeySequence.StandardKey, work: Callable[[], object]
    ) -> None:
        action = QAction(text, self._owner)
        action.setShortcut(key)
        action.triggered.connect(lambda *_: work())
        self._owner.addAction(action)
        menu.addAction(action)
