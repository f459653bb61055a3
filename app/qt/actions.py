"""What the inspector's buttons and the menus do to the document, by action id."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from attrs import evolve
from PySide6.QtCore import QPoint
from PySide6.QtGui import QCursor
from PySide6.QtWidgets import QMenu, QWidget

from app.qt.adding import Adding
from app.qt.session import Session
from app.qt.theme import ThemeName, theme_named
from app.state import edits
from app.state.additions import ADDITIONS
from app.state.usual import BRIDGES, PARTS, bridge_of
from models.case.document import Candidate, Case
from models.codec import KeyPath
from models.parts.part import Part

if TYPE_CHECKING:
    from app.qt.chooser import PartChooser


class Actions:
    """Carries out actions on the candidates of a session."""

    def __init__(self, session: Session, owner: QWidget) -> None:
        self._session = session
        self._owner = owner
        self.adding = Adding(session, owner)

    def run(self, action: str) -> None:
        """Carry out an action of the inspector, such as ``remove-part:0:1``."""
        name, *numbers = action.split(":")
        at = tuple(int(number) for number in numbers if number.isdecimal())
        index = self._session.view.candidate
        if name in ("more", "fewer"):
            self._session.views.change(everything=name == "more")
        elif name == "duplicate":
            self.duplicate()
        elif name == "remove":
            self._session.change("Remove candidate", lambda case: edits.remove_at(case, ("candidates", index)))
        elif name == "remove-subject":
            self.remove_subject(numbers[0], at[0])
        elif name == "remove-part":
            self._session.change("Remove part", lambda case: edits.remove_part(case, index, at[0], at[1]))
        elif name == "add-part":
            self.choose_part("Add part", lambda case, part: edits.add_part(case, index, at[0], part))
        elif name == "add-branch":
            self.choose_part("Add branch", lambda case, part: edits.add_branch(case, index, part))
        elif name == "work-out":
            self.work_out(tuple(int(each) if each.isdecimal() else each for each in numbers))
        elif name == "wound-as":
            self.construction_menu(at[0]).popup(QCursor.pos())
        elif name in ADDITIONS:
            self.adding.add(name)
        elif name == "remove-mains":
            self._session.change("Remove mains", lambda case: evolve(case, mains=None))
        elif name == "remove-region":
            self._session.change("Remove region", lambda case: edits.remove_region(case, case.pair.others[at[0]]))

    def remove_subject(self, kind: str, index: int) -> None:
        """Remove a coupling, source or requirement, and show the candidate instead."""
        if self._session.change(f"Remove {kind}", lambda case: edits.remove_at(case, (f"{kind}s", index))):
            self.select(self._session.view.candidate)

    def work_out(self, place: KeyPath) -> None:
        """Work out from geometry what stands at a place of the case."""
        from app.qt.estimate_view import open_estimates

        open_estimates(self._session, self._owner, place)

    def construction_menu(self, index: int) -> QMenu:
        """Return the menu of ways to wind a transformer; choosing one takes its values, as one step."""
        from app.present.chooser import constructions
        from models.catalogue.entry import Construction
        from models.catalogue.shelf import catalogue

        shelf, menu = catalogue(), QMenu(self._owner)
        menu.setToolTipsVisible(True)
        for row in constructions(shelf):
            entry = shelf.entries[row.id]
            assert isinstance(entry.subject, Construction)
            edit = partial(edits.wound_as, index=index, construction=entry.subject)
            action = menu.addAction(f"{row.title}\t{row.note}", partial(self._session.change, "Take a winding", edit))
            action.setToolTip(entry.note)
        return menu

    def duplicate(self) -> None:
        """Put a copy of the selected candidate beside it and select the copy."""
        index = self._session.view.candidate
        if self._session.change(
            "Duplicate candidate", lambda case: edits.add_candidate(case, case.candidates[index], index + 1)
        ):
            self.select(index + 1)

    def select(self, index: int) -> None:
        """Select a candidate and show it in the inspector."""
        self._session.select(index)

    def show_candidate_menu(self, index: int, at: QPoint) -> None:
        """Offer what can be done with a candidate."""
        self.select(index)
        menu = QMenu(self._owner)
        menu.addAction("Duplicate", self.duplicate)
        menu.addAction("Move left", lambda: self.move(-1)).setEnabled(index > 0)
        menu.addAction("Move right", lambda: self.move(1)).setEnabled(index < len(self._session.case.candidates) - 1)
        menu.addSeparator()
        reference = menu.addAction("Compare the others with this", partial(self.compare, index))
        reference.setCheckable(True)
        reference.setChecked(self._session.view.reference == self._session.case.candidates[index].name)
        menu.addSeparator()
        menu.addAction("Remove", lambda: self.run("remove"))
        menu.popup(at)

    def compare(self, index: int) -> None:
        """Make a candidate the one that the others are compared with; asked again, compare no more."""
        name = self._session.case.candidates[index].name
        self._session.views.change(reference=None if self._session.view.reference == name else name)

    def move(self, by: int) -> None:
        """Move the selected candidate among the others."""
        index = self._session.view.candidate
        target = min(max(index + by, 0), len(self._session.case.candidates) - 1)
        if self._session.change("Move candidate", lambda case: edits.move_at(case, ("candidates", index), by)):
            self.select(target)

    def bridge_menu(self) -> QMenu:
        """Return the menu of usual bridges; choosing one adds it as a candidate."""
        menu = QMenu(self._owner)
        for candidate in BRIDGES:
            menu.addAction(candidate.name, partial(self.add, candidate))
        menu.addSeparator()
        menu.addAction("From the catalogue…", lambda: self.open_chooser(lambda part: self.add(bridge_of(part))))
        return menu

    def add(self, candidate: Candidate) -> None:
        """Add a candidate at the end and select it."""
        self._session.add("Add candidate", lambda case: edits.add_candidate(case, candidate))

    def part_menu(self, take: Callable[[Part], object]) -> QMenu:
        """Return the menu of usual parts; choosing one passes it on."""
        menu = QMenu(self._owner)
        for name, part in PARTS.items():
            menu.addAction(name, partial(take, part))
        menu.addSeparator()
        menu.addAction("From the catalogue…", lambda: self.open_chooser(take))
        return menu

    def open_chooser(self, take: Callable[[Part], object]) -> PartChooser:
        """Let a person choose a part by its curve, and pass it on."""
        from app.qt.chooser import choose_part

        return choose_part(self._owner, theme_named(ThemeName(self._session.view.theme)), take)

    def choose_part(self, name: str, edit: Callable[[Case, Part], Case]) -> None:
        """Ask for a part, then make the edit with it."""
        self.open_chooser(lambda part: self._take(name, edit, part))

    def _take(self, name: str, edit: Callable[[Case, Part], Case], part: Part) -> None:
        self.change_candidate(name, lambda case: edit(case, part))

    def change_candidate(self, name: str, edit: Callable[[Case], Case]) -> None:
        """Make an edit of the selected candidate, and show it in the inspector."""
        if self._session.change(name, edit):
            self.select(self._session.view.candidate)
