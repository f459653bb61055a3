"""What a person does with the card of consequences."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication, QToolButton

from app.qt.consequences import Consequences
from app.qt.session import Session
from app.qt.turns import Turns


def follow(card: Consequences, session: Session) -> None:
    """Show the card in every frame, as the window does."""
    turns = Turns()

    def show() -> None:
        session.catch_up()
        if not turns.run((card.piece(),), hurried=False):
            session.timer.request()

    session.frame.connect(show)
    card.destroyed.connect(lambda: session.frame.disconnect(show))
    show()


def settle(session: Session) -> None:
    """Show every frame that is asked for."""
    while session.timer.pending():
        session.timer.flush()
    QApplication.processEvents()


def mode_button(card: Consequences, mode: str) -> QToolButton:
    """Return the button of a mode."""
    return next(each for each in card.modes.switch.findChildren(QToolButton) if each.text() == mode)


def pick(card: Consequences, session: Session, name: str, words: str) -> None:
    """Choose an option of a choice over the plot from its menu."""
    button = next(each for each in card.choices if each.isVisible() and name in each.accessibleName())
    next(action for action in button.options().actions() if action.text() == words).trigger()
    settle(session)
