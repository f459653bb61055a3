"""What can be done with one answer: choose its candidate, change what is asked, take it along, open its worst draw."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QMenu, QWidget

from app.qt.session import Session
from app.qt.tolerances import Tolerances
from models.case.document import Case


class AnswersMenu:
    """Offers and carries out what can be done with an answer."""

    def __init__(
        self,
        session: Session,
        tolerances: Tolerances,
        begin: Callable[[Case], None],
        choose: Callable[[str, int], None],
        owner: QWidget,
    ) -> None:
        self._session, self._tolerances = session, tolerances
        self._begin, self._choose = begin, choose
        self._owner = owner

    def show(self, row: int, column: int, said: str, at: QPoint) -> None:
        """Pop up the menu of an answer, of which is known what it says."""
        menu = self.menu(row, column, said)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(at)

    def menu(self, row: int, column: int, said: str) -> QMenu:
        """Return the menu of an answer."""
        case, menu = self._session.case, QMenu(self._owner)
        choose = menu.addAction(f"Select {case.candidates[column].name}")
        choose.triggered.connect(partial(self._select, column))
        if row < len(case.requirements):
            change = menu.addAction("Change the requirement")
            change.triggered.connect(partial(self._choose, "requirement", row))
        menu.addAction("Copy the answer", partial(QGuiApplication.clipboard().setText, said))
        if row < len(case.requirements):
            menu.addSeparator()
            worst = menu.addAction("Open the worst draw as a case", partial(self._open_worst, row, column))
            worst.setEnabled(self._tolerances.worst(column, row) is not None)
        return menu

    def _select(self, column: int) -> None:
        self._session.views.change(candidate=column)
        self._choose("candidate", column)

    def _open_worst(self, row: int, column: int) -> None:
        found = self._tolerances.worst(column, row)
        if found is not None:
            self._begin(found)
