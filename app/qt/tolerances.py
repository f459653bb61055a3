"""What tolerances do to the case: drawn beside the window once the pointer rests, in ever larger blocks."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor

from attrs import frozen
from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QWidget

from app.present.tolerance_overlay import band_words
from app.present.worst_draw import judged, worst_draw
from app.qt.session import Session
from app.qt.worker import Tell, Worker
from models.case.document import Case
from models.decide.tolerance import CandidateSpread, Request, Study, study
from models.decide.toleranced import candidate_toleranced, standing_toleranced
from models.network.solver import Solver

_REST_MS = 400
_BLOCKS = (16, 64, 1000)
"""Draws of one block after another; each begins with those of the one before, so that numbers settle, not jump."""
_PEAKS = 64
NOTHING = "No value states a tolerance. Give a part one in the inspector."


@frozen(kw_only=True, eq=False)
class _Block:
    request: Request
    solver: Solver


class Tolerances(QObject):
    """Keeps the newest study of the case; any edit gives up what is under way, and rest begins it again."""

    changed = Signal()

    def __init__(self, session: Session, executor: Executor | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._study: Study | None = None
        self._error = ""
        self._seen: tuple[object, ...] = ()
        self._solver = Solver()
        self._drawn = False
        self.worker = Worker(_draw, executor, self)
        self.worker.done.connect(self._take)
        self.worker.failed.connect(self._fail)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(_REST_MS)
        self._rest.timeout.connect(self.settle)
        session.frame.connect(self.refresh)
        self.refresh()

    @property
    def study(self) -> Study | None:
        """The newest study of the present document, None where there is none or none is wanted."""
        found = self._study
        wanted = self._session.view.tolerances and found is not None and found.request.case is self._session.case
        return found if wanted else None

    def said(self) -> str:
        """Return in a few words how far it is, and then what the band holds."""
        if not self._session.view.tolerances:
            return ""
        if not self._drawn:
            return NOTHING
        count = 0 if self.study is None else self.study.request.draws
        if self._error:
            return f"tolerance: {self._error}"
        if count < _BLOCKS[-1]:
            return f"tolerance: {count} of {_BLOCKS[-1]} draws" if count or self.worker.busy else ""
        return band_words(count)

    def refresh(self) -> None:
        """Give up what is under way where anything changed, and wait for the pointer to rest."""
        case, view = self._session.case, self._session.view
        if self._seen and self._seen[0] is case and self._seen[1] == view:
            return
        if not self._seen or self._seen[0] is not case:
            self._solver, self._error, self._drawn = Solver(), "", _states_any(case)
        self._seen = (case, view)
        self.worker.cancel()
        self._rest.stop()
        if self._next() is not None:
            self._rest.start()

    def settle(self) -> None:
        """Begin the next block now."""
        self._rest.stop()
        draws = self._next()
        if draws is not None:
            request = Request(case=self._session.case, draws=draws, peaks=min(draws, _PEAKS))
            self.worker.ask(_Block(request=request, solver=self._solver))
            self.changed.emit()

    def worst(self, candidate: int | None = None, requirement: int | None = None) -> Case | None:
        """Return the worst draw of a candidate as a case of its own; None where nothing was judged.

        Without a candidate it is that of the selected one; without a requirement, the worst of all that are asked.
        """
        spread = self._spread(candidate)
        return None if spread is None else worst_draw(self._session.case, spread, requirement)

    def actions(self, owner: QWidget, begin: Callable[[Case], None]) -> tuple[QAction, ...]:
        """Return what a menu offers: the band on or off, and the worst draw to begin with as a case."""
        band, worst = QAction(owner), QAction("Open the worst draw as a case", owner)
        band.setCheckable(True)
        band.setShortcut(QKeySequence("Ctrl+T"))
        owner.addAction(band)
        band.triggered.connect(lambda on: self._session.views.change(tolerances=on))
        worst.triggered.connect(lambda: begin(found) if (found := self.worst()) is not None else None)

        def show() -> None:
            band.setChecked(self._session.view.tolerances)
            said = self.said()
            band.setText("Tolerance ban&d" + (f" ({said.removeprefix('tolerance: ')})" if said else ""))
            spread = self._spread()
            worst.setEnabled(spread is not None and bool(judged(spread)))

        self._session.frame.connect(show)
        self.changed.connect(show)
        show()
        return band, worst

    def close(self) -> None:
        """Give up and let the thread end."""
        self._rest.stop()
        self.worker.close()

    def _spread(self, candidate: int | None = None) -> CandidateSpread | None:
        """Return a candidate over the draws, without one the selected; None where it was not drawn."""
        found = self.study
        place = self._session.view.candidate if candidate is None else candidate
        return found.candidates[place] if found is not None and place < len(found.candidates) else None

    def _next(self) -> int | None:
        """Return how many draws come next; None where nothing is left to do."""
        if not self._session.view.tolerances or not self._drawn or self._error:
            return None
        done = 0 if self.study is None else self.study.request.draws
        return next((draws for draws in _BLOCKS if draws > done), None)

    def _take(self, found: Study) -> None:
        self._study = found
        self.changed.emit()
        self.settle()

    def _fail(self, error: str) -> None:
        self._error = error
        self.changed.emit()


def _draw(block: _Block, tell: Tell) -> Study | None:
    """Do one block; telling raises where nobody waits for it any more."""

    def cancelled() -> bool:
        tell("")
        return False

    return study(block.request, solver=block.solver, cancelled=cancelled)


def _states_any(case: Case) -> bool:
    return bool(standing_toleranced(case)) or any(candidate_toleranced(case, each) for each in case.candidates)
