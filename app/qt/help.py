"""Help beside the work: one small window for the keys, or for the field under the hand."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QDialog, QGridLayout, QLabel, QVBoxLayout, QWidget

from app.present.help import SHORTCUTS, HelpSpec, field_help
from app.qt.field import ValueField
from app.qt.panel import Words
from app.qt.theme import SPACE, Type, font
from models.case.document import Case

_WIDTH = 420


def open_help(case: Case, owner: QWidget) -> QDialog:
    """Open help on the field that has the focus, or the sheet of keys where none has."""
    field = focused_field(QApplication.focusWidget())
    return _opened(shortcut_sheet(owner) if field is None else help_page(field_help(case, field.spec()), owner))


def open_keys(owner: QWidget) -> QDialog:
    """Open the sheet of keys."""
    return _opened(shortcut_sheet(owner))


def focused_field(widget: QWidget | None) -> ValueField | None:
    """Return the field that a widget is a part of."""
    while widget is not None and not isinstance(widget, ValueField):
        widget = widget.parentWidget()
    return widget


def help_page(spec: HelpSpec, owner: QWidget) -> QDialog:
    """Return a window with a page of help."""
    dialog = QDialog(owner)
    dialog.setWindowTitle(f"Help: {spec.title}")
    dialog.setMinimumWidth(_WIDTH)
    column = QVBoxLayout(dialog)
    column.setContentsMargins(SPACE.l, SPACE.l, SPACE.l, SPACE.l)
    column.addWidget(_head(spec.title))
    for number, paragraph in enumerate(spec.paragraphs):
        words = Words("text" if number == 0 else "muted")
        column.addWidget(words)
        words.setText(paragraph)
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    dialog.setAccessibleDescription("\n".join(spec.paragraphs))
    return dialog


def shortcut_sheet(owner: QWidget) -> QDialog:
    """Return the window with every key and what it does."""
    dialog = QDialog(owner)
    dialog.setWindowTitle("Keys")
    grid = QGridLayout(dialog)
    grid.setContentsMargins(SPACE.l, SPACE.l, SPACE.l, SPACE.l)
    grid.setHorizontalSpacing(SPACE.l)
    for group in SHORTCUTS:
        grid.addWidget(_head(group.place), grid.rowCount(), 0, 1, 2)
        for key, work in group.keys:
            row = grid.rowCount()
            grid.addWidget(QLabel(key), row, 0)
            grid.addWidget(QLabel(work), row, 1)
    dialog.setAccessibleDescription("\n".join(f"{key}: {work}" for group in SHORTCUTS for key, work in group.keys))
    return dialog


def _opened(dialog: QDialog) -> QDialog:
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.show()
    return dialog


def _head(text: str) -> QLabel:
    label = QLabel(text)
    label.setFont(font(Type.TITLE))
    return label
