"""Keys that go further than the control under the hand: from card to card, to the menu, to the sheet of keys."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QApplication, QMenu, QWidget

Key = QKeySequence.StandardKey | str
"""A key by what it is for on each system, or by its name."""


def add_keys(owner: QWidget, keys: Sequence[tuple[Key, Callable[[], object]]]) -> None:
    """Let keys do something wherever the hand is in a window."""
    for key, work in keys:
        action = QAction(owner)
        if isinstance(key, str):
            action.setShortcut(QKeySequence(key))
        else:
            action.setShortcuts(key)
        action.triggered.connect(lambda _=False, work=work: work())
        owner.addAction(action)


def go_to_card(cards: Sequence[QWidget], by: int) -> None:
    """Take the hand to the next or previous card that is seen, to the first thing there that takes keys."""
    seen = [card for card in cards if card.isVisible() and first_control(card) is not None]
    if not seen:
        return
    held = QApplication.focusWidget()
    at = next((k for k, card in enumerate(seen) if held is not None and card.isAncestorOf(held)), None)
    start = -1 if by > 0 else 0
    target = first_control(seen[((start if at is None else at) + by) % len(seen)])
    if target is not None:
        target.setFocus(Qt.FocusReason.TabFocusReason)


def first_control(card: QWidget) -> QWidget | None:
    """Return the first thing in a card that Tab would reach."""
    at = card.nextInFocusChain()
    while at is not None and at is not card and card.isAncestorOf(at):
        if takes_keys(at):
            return at
        at = at.nextInFocusChain()
    return next((each for each in card.findChildren(QWidget) if takes_keys(each)), None)


def takes_keys(widget: QWidget) -> bool:
    """Return whether Tab stops at a widget."""
    tab = widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    return bool(tab) and widget.isVisible() and widget.isEnabled() and widget.focusProxy() is None


def pop_up_at(menu: QMenu, widget: QWidget) -> None:
    """Open a menu under the widget that asked for it, with its first entry ready for Enter."""
    menu.popup(widget.mapToGlobal(QPoint(0, widget.height())))
    if menu.actions():
        menu.setActiveAction(menu.actions()[0])
