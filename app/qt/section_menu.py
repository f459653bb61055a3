"""What can be done in the section drawing itself: parts and branches added, duplicated, moved and removed."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QMenu, QWidget

from app.qt.actions import Actions
from app.qt.session import Session
from app.state import edits
from models.case.document import Case
from models.codec import KeyPath
from models.declare import get_path
from models.parts.part import Part


class SectionMenu:
    """Offers and carries out what can be done with a part, a branch or the gap of the selected candidate."""

    def __init__(self, session: Session, actions: Actions, owner: QWidget) -> None:
        self._session = session
        self._actions = actions
        self._owner = owner

    def show(self, kind: str, branch: int, part: int, at: QPoint) -> None:
        """Pop up the menu of a thing, where there is one."""
        menu = self.menu(kind, branch, part)
        if menu is not None:
            menu.popup(at)

    def menu(self, kind: str, branch: int, part: int) -> QMenu | None:
        """Return the menu of a thing; None where nothing can be done with it."""
        if kind not in ("gap", "branch"):
            return self._of_subject(kind, branch)
        if not self._session.case.candidates:
            return self._actions.adding.menu()
        if kind == "gap":
            menu = self._branches("Add branch")
            menu.addSeparator()
            menu.addMenu(self._actions.adding.menu("Add to the case"))
            return menu
        menu = QMenu(self._owner)
        if part >= 0:
            self._fill(menu, branch, part, "part", ("Move left", "Move right"))
            menu.addSeparator()
        series = self._actions.part_menu(lambda kind: self._add_in_series(branch, part, kind))
        series.setTitle("Add in series")
        menu.addMenu(series)
        menu.addSeparator()
        self._fill(menu, branch, -1, "branch", ("Move up", "Move down"))
        menu.addMenu(self._branches("Add branch"))
        return menu

    def _of_subject(self, kind: str, index: int) -> QMenu:
        """Return the menu of a coupling, cable, source, transformer or region."""
        menu = QMenu(self._owner)
        if kind != "case":
            menu.addAction(f"Remove {kind}", lambda: self._actions.remove_subject(kind, index))
            menu.addSeparator()
        menu.addMenu(self._actions.adding.menu("Add to the case"))
        return menu

    def edit(self, name: str, branch: int, part: int) -> None:
        """Carry out an edit: add, remove, duplicate, earlier or later."""
        if name == "add" and self._session.case.candidates:
            candidate = self._session.view.candidate
            self._actions.choose_part("Add branch", lambda case, kind: edits.add_branch(case, candidate, kind))
            return
        if not self._has(branch, part):
            return
        noun = "part" if part >= 0 else "branch"
        works: dict[str, tuple[str, Callable[[Case], Case]]] = {
            "remove": (f"Remove {noun}", lambda case: self._removed(case, branch, part)),
            "duplicate": (f"Duplicate {noun}", lambda case: _duplicated(case, self._path(branch, part))),
            "earlier": (f"Move {noun}", lambda case: edits.move_at(case, self._path(branch, part), -1)),
            "later": (f"Move {noun}", lambda case: edits.move_at(case, self._path(branch, part), 1)),
        }
        if name in works:
            self._session.change(*works[name])

    def _fill(self, menu: QMenu, branch: int, part: int, noun: str, moves: tuple[str, str]) -> None:
        """Put in what can be done with a part or a branch; what would change nothing is greyed."""
        place = part if part >= 0 else branch
        last = len(get_path(self._session.case, self._path(branch, part)[:-1])) - 1
        for label, name, possible in (
            (moves[0], "earlier", place > 0),
            (moves[1], "later", place < last),
            (f"Duplicate {noun}", "duplicate", True),
            (f"Remove {noun}", "remove", True),
        ):
            action = menu.addAction(label)
            action.triggered.connect(lambda _=False, name=name: self.edit(name, branch, part))
            action.setEnabled(possible)

    def _branches(self, title: str) -> QMenu:
        candidate = self._session.view.candidate

        def add(part: Part) -> None:
            self._actions.change_candidate(title, lambda case: edits.add_branch(case, candidate, part))

        menu = self._actions.part_menu(add)
        menu.setTitle(title)
        return menu

    def _add_in_series(self, branch: int, place: int, part: Part) -> None:
        """Add a part after the one that was pointed at, or at the end."""
        candidate = self._session.view.candidate
        parts = self._path(branch, 0)[:-1]

        def edit(case: Case) -> Case:
            longer = edits.add_part(case, candidate, branch, part)
            last = len(get_path(longer, parts)) - 1
            return longer if place < 0 else edits.move_at(longer, (*parts, last), place + 1 - last)

        self._actions.change_candidate("Add part", edit)

    def _removed(self, case: Case, branch: int, part: int) -> Case:
        if part < 0:
            return edits.remove_at(case, self._path(branch, part))
        return edits.remove_part(case, self._session.view.candidate, branch, part)

    def _path(self, branch: int, part: int) -> KeyPath:
        path: KeyPath = ("candidates", self._session.view.candidate, "branches", branch)
        return (*path, "parts", part) if part >= 0 else path

    def _has(self, branch: int, part: int) -> bool:
        candidates, at = self._session.case.candidates, self._session.view.candidate
        branches = candidates[at].branches if at < len(candidates) else ()
        return branch < len(branches) and part < len(branches[branch].parts)


def _duplicated(case: Case, path: KeyPath) -> Case:
    """Return the case with a copy of a list entry behind it."""
    *owner, index = path
    assert isinstance(index, int)
    longer = edits.append_at(case, tuple(owner), get_path(case, path))
    last = len(get_path(longer, tuple(owner))) - 1
    return edits.move_at(longer, (*owner, last), index + 1 - last)
