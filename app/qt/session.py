"""The one loop of the window: store and view in, specs out, once a frame."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from app.qt.frame import FrameTimer
from app.state import edits
from app.state.files import write_whole
from app.state.recovery import Keeper, Unsaved
from app.state.results import Desk, Reading, Results
from app.state.store import Store
from app.state.typed import value_typed
from app.state.view import View, ViewStore
from models.case.document import Case
from models.case.read import HERE, CaseFile, parse_case, read_case_file
from models.case.relocate import case_in
from models.case.write import case_text
from models.codec import KeyPath
from models.errors import IsthmusError
from models.toml_text import read_text

_KEEP_MS = 2000
"""How long an edit waits until it is kept: what a kill can cost."""


class Session(QObject):
    """The document, the view, the results, and the file that the document came from.

    `frame` is emitted once a frame in which anything changed, when results and readings are up to date.
    """

    frame = Signal()
    refused = Signal(tuple, str)
    """A path of the document and why what was typed there cannot be."""
    failed = Signal(str)
    """A computation or a file that failed, in one sentence."""

    def __init__(
        self, case: Case, desk: Desk | None = None, keeper: Keeper | None = None, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.store = Store(case)
        self.views = ViewStore()
        self.path: Path | None = None
        self._text: str | None = None
        self._saved_text: str | None = None
        self._kept_against: str | None = None
        self._desk = desk or Desk()
        self._results: Results | None = None
        self._tried: Case | None = None
        self.trouble = ""
        self._moment: Results | None = None
        self._readings: tuple[float, Case, tuple[Reading, ...]] | None = None
        self.timer = FrameTimer(self._work, self)
        self._keeper = keeper
        self._keep_timer = QTimer(self)
        self._keep_timer.setSingleShot(True)
        self._keep_timer.setInterval(_KEEP_MS)
        self._keep_timer.timeout.connect(self.keep)
        self.store.listen(self._changed)
        self.views.listen(self.timer.request)

    @property
    def case(self) -> Case:
        """The present document."""
        return self.store.case

    @property
    def view(self) -> View:
        """The present view."""
        return self.views.view

    @property
    def desk(self) -> Desk:
        """What computes the results."""
        return self._desk

    @property
    def results(self) -> Results:
        """Results of the present document; the last good ones where it could not be computed, and `trouble` says so."""
        if self._results is None or self._tried is not self.case:
            self._results, self.trouble = self._computed(self._results)
            self._tried = self.case
            if self.trouble:
                self.failed.emit(self.trouble)
        return self._results

    def _computed(self, before: Results | None) -> tuple[Results, str]:
        try:
            return self._desk.results(self.case), ""
        except Exception as error:  # where the document hands over to what computes it, as a worker's request does
            if before is None:
                raise
            logging.getLogger(__name__).exception("a document that could not be computed")
            return before, f"Not computed ({type(error).__name__}: {error}). What is shown is from before this edit."

    @property
    def moment(self) -> Results:
        """What the window shows: results of the present document; while a hand drags, of a moment ago."""
        if self._moment is None or not self.store.dragging:
            self._moment = self.results
        return self._moment

    def catch_up(self) -> bool:
        """Let the window show the present document although a hand drags; True, as of a part that is up to date."""
        self._moment = self.results
        return True

    @property
    def readings(self) -> tuple[Reading, ...]:
        """Every candidate of the moment that is shown, at the cursor."""
        case, f_hz = self.moment.case, self.view.cursor_hz
        if self._readings is None or self._readings[0] != f_hz or self._readings[1] is not case:
            self._readings = (f_hz, case, self._desk.readings(case, f_hz))
        return self._readings[2]

    def open(self, path: Path, *, as_example: bool = False) -> None:
        """Open a case file; an example opens without a file of its own, so that saving asks for one.

        Raises
        ------
        CaseError
            when the file cannot be used; the present document stays
        """
        self.take_file(read_case_file(path), as_example=as_example)

    def take_file(self, file: CaseFile, *, as_example: bool = False) -> None:
        """Begin with a file that was read; an example begins without a file of its own."""
        self._text = self._saved_text = file.text
        self.path = None if as_example else file.path
        self.begin(file.case)

    def forget_file(self) -> None:
        """Let the next document begin without a file."""
        self.path = self._text = None

    def begin(self, case: Case) -> None:
        """Begin with another document, the view at its start."""
        start = View()
        cursor_hz = min(max(start.cursor_hz, case.sweep.start_hz), case.sweep.stop_hz)
        self.views.replace(View(theme=self.view.theme, tolerances=self.view.tolerances, cursor_hz=cursor_hz))
        self.store.open(case)

    def save(self, path: Path) -> None:
        """Write the document, keeping the comments of the file it came from.

        Raises
        ------
        OSError
            when the file cannot be written; the old one is then untouched
        """
        text = case_text(case_in(self.case, path.parent), self._text)
        write_whole(path, text)
        self._text, self.path = text, path
        self._saved_text = text
        self.store.mark_saved()
        self.keep()

    def text(self) -> str:
        """Return the document as its file would hold it, with the comments of the file it came from."""
        return case_text(self._placed(), self._text)

    def take_text(self, text: str) -> None:
        """Make a text the document, as one step of undo.

        Raises
        ------
        CaseError
            where it cannot be used; the present document stays
        """
        folder = HERE if self.path is None else self.path.parent
        self.store.edit("Edit as text", parse_case(text, folder=folder))
        self._text = text

    def changed_outside(self) -> bool:
        """Return whether the file holds something else than what was opened or saved, and nobody chose to keep."""
        found = self._on_disk()
        return found is not None and found not in (self._saved_text, self._kept_against)

    def keep_against_file(self) -> None:
        """Keep the document although the file is another one now; that version is not told again."""
        self._kept_against = self._on_disk()

    def _on_disk(self) -> str | None:
        try:
            return None if self.path is None else read_text(self.path)
        except IsthmusError:
            return None

    def _placed(self) -> Case:
        return self.case if self.path is None else case_in(self.case, self.path.parent)

    def recover(self, unsaved: Unsaved) -> None:
        """Take up work that was left unsaved; it counts as changed until it is saved."""
        self._text, self.path = unsaved.text, unsaved.path
        self._saved_text = unsaved.text
        folder = HERE if unsaved.path is None else unsaved.path.parent
        original = unsaved.case if unsaved.text is None else parse_case(unsaved.text, folder=folder)
        self.begin(original)
        self.store.edit("Recover unsaved work", unsaved.case)

    def keep(self) -> None:
        """Keep unsaved work where a kill does not reach it; forget it where everything is saved."""
        if self._keeper is None:
            return
        if self.store.changed:
            self._keeper.keep(self.case, self._text, self.path)
        else:
            self._keeper.clear()

    def leave(self) -> None:
        """End the session: what is unsaved now was given up."""
        self.timer.cancel()
        self._keep_timer.stop()
        if self._keeper is not None:
            self._keeper.clear()

    def type(self, path: KeyPath, text: str) -> None:
        """Take what was typed into a field; what cannot be is refused beside the field and changes nothing."""
        self._edit(path, lambda: value_typed(self.case, path, text))

    def drag(self, path: KeyPath, value: float) -> None:
        """Take a value while it is dragged; the drag becomes one step."""
        self.store.begin_drag()
        self._edit(path, lambda: value)

    def end_drag(self) -> None:
        """End the drag under way."""
        self.store.end_drag()

    def change(self, name: str, edit: Callable[[Case], Case]) -> bool:
        """Make a named edit; False, and a message, where the document refuses it."""
        try:
            self.store.edit(name, edit(self.case))
        except IsthmusError as error:
            self.failed.emit(str(error))
            return False
        return True

    def add(self, name: str, edit: Callable[[Case], Case]) -> bool:
        """Make a named edit, and select the candidate that it adds, if it adds one."""
        before = len(self.case.candidates)
        done = self.change(name, edit)
        if done and len(self.case.candidates) > before:
            self.select(before)
        return done

    def select(self, candidate: int) -> None:
        """Select a candidate and show it in the inspector."""
        self.views.change(candidate=candidate, subject=("candidate", candidate))

    def _edit(self, path: KeyPath, value: Callable[[], object]) -> None:
        try:
            changed = edits.set_value(self.case, path, value())
            self.store.edit(f"Change {str(path[-1]).rsplit('_', 1)[0].replace('_', ' ')}", changed)
        except IsthmusError as error:
            self.refused.emit(path, str(error))

    def _changed(self) -> None:
        count = len(self.case.candidates)
        if self.view.candidate >= count:
            self.select(max(0, count - 1))
        self._keep_soon()
        self.timer.request()

    def _keep_soon(self) -> None:
        if self._keeper is not None and not self._keep_timer.isActive():
            self._keep_timer.start()

    def _work(self) -> None:
        self.frame.emit()
