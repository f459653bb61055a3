"""The menu of what can be added to the case besides bridges; what was added is shown in the inspector."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QFileDialog, QMenu, QToolButton, QWidget

from app.qt.session import Session
from app.state.additions import ADDITIONS, Subject, measured_spectrum, measured_waveform, offered
from models.case.document import Case

_TABLES = "Tables of numbers (*.csv *.txt *.tsv);;All files (*)"
_MEASURED: tuple[tuple[str, Callable[[Case, Path], tuple[Case, Subject]]], ...] = (
    ("Measured waveform…", measured_waveform),
    ("Measured spectrum…", measured_spectrum),
)


class Adding:
    """Offers additions and carries them out, each as one step of undo."""

    def __init__(self, session: Session, owner: QWidget) -> None:
        self._session = session
        self._owner = owner

    def menu(self, title: str = "Add") -> QMenu:
        """Return the menu of everything that can be added, by group."""
        menu = QMenu(title, self._owner)
        groups: dict[str, QMenu] = {}
        actions: dict[str, QAction] = {}
        for name, each in ADDITIONS.items():
            if each.group and each.group not in groups:
                groups[each.group] = menu.addMenu(each.group)
            place = groups[each.group] if each.group else menu
            actions[name] = place.addAction(each.label, partial(self.add, name))
        for label, edit in _MEASURED:
            groups["Source"].addAction(label, partial(self._ask_measured, label, edit))
        menu.aboutToShow.connect(lambda: self._show_offered(actions))
        return menu

    def button(self) -> QToolButton:
        """Return the button that opens the menu."""
        button = QToolButton()
        button.setText("+ Add")
        button.setProperty("quiet", True)
        button.setAccessibleName("Add to the case")
        button.setToolTip("Add a source, a coupling, a cable, a requirement …")
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setMenu(self.menu())
        return button

    def add(self, name: str) -> None:
        """Add one thing by its action id, and select it."""
        addition = ADDITIONS[name]
        words = f"{addition.group} {addition.label}".strip()
        self.carry_out(f"Add {words[0].lower()}{words[1:]}", addition.edit)

    def carry_out(self, step: str, edit: Callable[[Case], tuple[Case, Subject]]) -> None:
        """Make an edit that adds something, and show it in the inspector."""
        subject: list[Subject] = []

        def change(case: Case) -> Case:
            changed, what = edit(case)
            subject.append(what)
            return changed

        if self._session.change(step, change):
            shown = {"source": subject[0][1]} if subject[0][0] == "source" else {}
            self._session.views.change(subject=subject[0], **shown)

    def _show_offered(self, actions: Mapping[str, QAction]) -> None:
        there = offered(self._session.case)
        for name, action in actions.items():
            action.setVisible(name in there)

    def _ask_measured(self, label: str, edit: Callable[[Case, Path], tuple[Case, Subject]]) -> None:
        name, _ = QFileDialog.getOpenFileName(self._owner, label.rstrip("…"), "", _TABLES)
        if name:
            self.carry_out(f"Add {label.rstrip('…').lower()}", lambda case: edit(case, Path(name)))
