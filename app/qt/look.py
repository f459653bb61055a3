"""The look of a dialog that stays open: it follows the window's."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QDialog

from app.qt.session import Session
from app.qt.theme import Theme, ThemeName, theme_named


class Look(QObject):
    """Tells a dialog to dress anew in the first frame after another look was chosen."""

    def __init__(self, dialog: QDialog, session: Session, dress: Callable[[Theme], None]) -> None:
        super().__init__(dialog)
        self._session, self._dress = session, dress
        self._name = session.view.theme
        session.frame.connect(self._follow)

    def _follow(self) -> None:
        if self._session.view.theme != self._name:
            self._name = self._session.view.theme
            self._dress(theme_named(ThemeName(self._name)))
