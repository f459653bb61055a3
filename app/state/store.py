"""The document and its history: every edit goes through here and can be undone."""

from __future__ import annotations

from collections.abc import Callable

from attrs import evolve, frozen

from models.case.check import contradictions
from models.case.document import Case
from models.codec import KeyPath
from models.errors import CaseError

MOST_STEPS = 20_000
"""Ten thousand steps take some 6 MB, as documents share what they do not change."""


@frozen(kw_only=True)
class Step:
    """A document and the name of the edit that led to it."""

    name: str
    case: Case


class Store:
    """One document, undo and redo. A drag is one step, whatever it passes through.

    Listeners are called after every change with no argument; they read what they need.
    """

    def __init__(self, case: Case, *, most_steps: int = MOST_STEPS) -> None:
        self._most_steps = most_steps
        self._past: list[Step] = []
        self._present = Step(name="", case=case)
        self._future: list[Step] = []
        self._saved = case
        self._drag_from: Step | None = None
        self._listeners: list[Callable[[], None]] = []

    @property
    def case(self) -> Case:
        """The present document."""
        return self._present.case

    @property
    def changed(self) -> bool:
        """Whether the document differs from what was last opened or saved."""
        return self.case != self._saved

    @property
    def dragging(self) -> bool:
        """Whether a drag is under way."""
        return self._drag_from is not None

    @property
    def undo_name(self) -> str | None:
        """Name of the edit that undo would take back."""
        return self._present.name if self._past else None

    @property
    def redo_name(self) -> str | None:
        """Name of the edit that redo would bring back."""
        return self._future[-1].name if self._future else None

    def listen(self, listener: Callable[[], None]) -> None:
        """Have a function called after every change."""
        self._listeners.append(listener)

    def edit(self, name: str, case: Case) -> None:
        """Make a new document the present one, as one step (or as part of the drag under way).

        Raises
        ------
        CaseError
            when the new document contradicts itself; the present one then stays
        """
        findings = contradictions(case)
        if findings:
            raise CaseError([evolve(problem, where=_place(case, path)) for path, problem in findings], source="")
        if case == self.case:
            return
        if self._drag_from is None:
            self._push(self._present)
        self._present = Step(name=name, case=case)
        self._future.clear()
        self._tell()

    def begin_drag(self) -> None:
        """Begin a drag: the edits until `end_drag` become one step."""
        if self._drag_from is None:
            self._drag_from = self._present

    def end_drag(self) -> None:
        """End the drag under way."""
        start, self._drag_from = self._drag_from, None
        if start is not None and start.case != self.case:
            self._push(start)
            self._tell()

    def undo(self) -> None:
        """Take the last edit back."""
        self.end_drag()
        if self._past:
            self._future.append(self._present)
            self._present = self._past.pop()
            self._tell()

    def redo(self) -> None:
        """Bring the last undone edit back."""
        self.end_drag()
        if self._future:
            self._past.append(self._present)
            self._present = self._future.pop()
            self._tell()

    def open(self, case: Case) -> None:
        """Begin anew with another document."""
        self._past.clear()
        self._future.clear()
        self._drag_from = None
        self._present = Step(name="", case=case)
        self._saved = case
        self._tell()

    def mark_saved(self) -> None:
        """Note that the present document is on disk."""
        self._saved = self.case
        self._tell()

    def _push(self, step: Step) -> None:
        self._past.append(step)
        del self._past[: -self._most_steps]

    def _tell(self) -> None:
        for listener in self._listeners:
            listener()


def _place(case: Case, path: KeyPath) -> str:
    """Return where a contradiction stands as a person at the window knows it; empty where its text tells that."""
    table, *inner = path
    if not inner or not isinstance(inner[0], int) or inner[-1] == "name":
        return ""
    name = getattr(getattr(case, f"{table}s")[inner[0]], "name", None)
    owner = f"{table} {inner[0] + 1}" if name is None else f"{table} “{name}”"
    return f"{str(inner[-1]).replace('_', ' ')} of {owner}"
